//! The bar that says which colour is which number.

use crate::canvas::Canvas;
use crate::plot::panel::Panel;
use crate::plot::scale::{Range, Ticks};
use crate::style::Rgb;

/// Height of a step of the bar \[px\].
const STEP: f64 = 2.0;

/// Draws `colours` of shares 0..1 upward in the panel, with ticks at its right.
pub(super) fn colour_bar(
    canvas: &Canvas,
    panel: &Panel,
    colours: fn(f64) -> Rgb,
    text: impl Fn(&Ticks, f64) -> String,
) {
    let bar = Panel { x: Range { low: 0.0, high: 1.0 }, ..*panel };
    let step = STEP / (bar.bottom - bar.top);
    let height = |share: f64| bar.y.low + share * bar.y.span();
    let mut boxes = Vec::new();
    let mut share = 1.0;
    while share > 0.0 {
        let below = f64::max(share - step, 0.0);
        boxes.push(([(0.0, height(share)), (1.0, height(below))], colours(share)));
        share -= step;
    }
    bar.boxes(canvas, boxes);
    let ticks = Ticks::in_range(bar.y, 6);
    bar.y_axis_right(canvas, &ticks.values, |value| text(&ticks, value));
}

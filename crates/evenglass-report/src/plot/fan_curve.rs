//! The fans' curve at each speed against what the air passes.

use evenglass_simulation::ventilation::sizing::{Sized, State, Step};

use crate::canvas::Canvas;
use crate::lettering::{Anchor, Lettering, width};
use crate::plot::panel::{Curve, LEFT, Panel, title};
use crate::plot::scale::{Range, Ticks};
use crate::sizing::{SizeReport, name, share};
use crate::style::{BLUE, INK, Rgb, VERMILION, size};
use crate::text::short;
use crate::wording::plain;

/// Room at the right of the curves \[px\].
const RIGHT: f64 = 60.0;

/// Distance between two lines of the list \[px\].
const ROW: f64 = 32.0;

/// So near to the axis a steep curve leaves no room above its points, but at their right \[px\].
const NARROW: f64 = 140.0;

/// Pressure over flow: fans at full speed and, by the fan laws, at each step; the system's
/// curve; where they balance.
pub(crate) fn fan_curve(report: &SizeReport) -> Canvas {
    let canvas = Canvas::new(1600, 1000);
    let Some(system) = report.sizing.systems.first() else { return canvas };
    let what = format!("Fan curve – {}", short(&report.scenario.title, 200));
    let subtitle = format!(
        "{}; flow of all fans together, in air of {} kg/m³",
        name(&system.system.arrangement),
        (report.sizing.air.density * 100.0).round() / 100.0
    );
    title(&canvas, &what, &subtitle);
    let fan = scaled(&system.fan_curve, 1.0);
    let largest = |pick: fn(&(f64, f64)) -> f64| fan.iter().map(pick).fold(0.0, f64::max);
    let x = Range { low: 0.0, high: 1.05 * largest(|point| point.0).max(1e-3) };
    let y = Range { low: 0.0, high: 1.08 * largest(|point| point.1).max(1e-3) };
    let right = canvas.size().0 - RIGHT;
    let panel = Panel { left: LEFT, top: 175.0, right, bottom: 880.0, x, y };
    let (across, up) = (Ticks::in_range(x, 9), Ticks::in_range(y, 8));
    panel.columns(&canvas, &across);
    panel.grid(&canvas, &up, |v| up.text(v));
    panel.x_axis(&canvas, &across.values, |v| across.text(v));
    panel.x_name(&canvas, "flow, L/s");
    panel.heading(&canvas, "Pressure", "Pa");
    draw(&canvas, &panel, system);
    canvas
}

fn draw(canvas: &Canvas, panel: &Panel, system: &Sized) {
    let balanced: Vec<&Step> = system.steps.iter().filter(|step| balances(step)).collect();
    let full = system.steps.first().map_or(1.0, |step| step.running).max(1e-9);
    for step in balanced.iter().rev() {
        let speed = step.running / full;
        let curve = Curve::new("", of_speed(speed), scaled(&system.fan_curve, speed));
        panel.curves(canvas, &[curve]);
    }
    if balanced.is_empty() {
        panel.curves(canvas, &[Curve::new("", BLUE, scaled(&system.fan_curve, 1.0))]);
        let middle = (f64::midpoint(panel.left, panel.right), panel.top + 60.0);
        let lettering = Lettering::new(size::LABEL, INK).anchored(Anchor::Middle);
        canvas.words_beside("the fans move no air at any of these speeds", middle, lettering);
    }
    let resistance = inside(&scaled(&system.system_curve, 1.0), panel);
    panel.curves(canvas, &[Curve::new("", VERMILION, resistance.clone())]);
    // Below the list of balances, left of where the curve is at that height.
    let below_list = panel.top + 190.0;
    let spots = || resistance.iter().map(|&point| panel.spot(point));
    let beside = spots().find(|spot| spot.1 <= below_list).or_else(|| spots().next_back());
    if let Some((x, y)) = beside {
        let words = "what the air passes asks for";
        let lettering = Lettering::new(size::LABEL, VERMILION);
        if x - 30.0 - width(words, lettering) > panel.left {
            canvas.words_beside(words, (x - 30.0, y), lettering.anchored(Anchor::Right));
        } else if let Some((x, y)) = spots().next_back() {
            // Steep, at the left: its upper end is free on the other side.
            canvas.words_beside(words, (x + 16.0, y + 16.0), lettering);
        }
    }
    name_points(canvas, panel, &balanced);
}

/// A dot with its share of full speed at each balance, and a list of what they are where
/// both curves leave room: at the top, right of the fans' curve.
fn name_points(canvas: &Canvas, panel: &Panel, balanced: &[&Step]) {
    let places: Vec<(f64, f64)> = balanced
        .iter()
        .map(|step| (1e3 * step.operating.flow, step.operating.fan_pressure))
        .collect();
    let lettering = Lettering::new(size::LABEL, INK).anchored(Anchor::Middle);
    for (step, place) in balanced.iter().zip(&places) {
        let words = share(step.asked);
        let (x, y) = panel.spot(*place);
        if x < panel.left + NARROW {
            canvas.words_beside(&words, (x + 14.0, y - 14.0), lettering.anchored(Anchor::Left));
            continue;
        }
        let (half, middle) = (0.5 * width(&words, lettering) + 3.0, y - 27.0);
        let corner = (x - half, middle - 0.5 * size::LABEL);
        canvas.rectangle(corner, (x + half, middle + 0.5 * size::LABEL), Rgb(255, 255, 255));
        canvas.words_beside(&words, (x, middle), lettering);
    }
    panel.dots(canvas, &places, 7.5, INK);
    let left = f64::midpoint(panel.left, panel.right) + 40.0;
    let mut y = panel.top + 24.0;
    for (step, place) in balanced.iter().zip(&places) {
        let stalls = if step.operating.state == State::Stalling { ", stalls" } else { "" };
        let flow = format!("{} L/s at {} Pa{stalls}", plain(place.0), plain(place.1));
        let lettering = Lettering::new(size::LABEL, INK);
        let long = width(&flow, lettering);
        let corner = (left - 6.0, y - 0.5 * ROW);
        canvas.rectangle(corner, (left + 76.0 + long, y + 0.5 * ROW), Rgb(255, 255, 255));
        canvas.words_beside(&share(step.asked), (left, y), lettering.bold());
        canvas.words_beside(&flow, (left + 70.0, y), lettering);
        y += ROW;
    }
}

fn balances(step: &Step) -> bool {
    matches!(step.operating.state, State::Running | State::Stalling)
}

/// A slower fan is drawn fainter.
fn of_speed(share: f64) -> Rgb {
    BLUE.tint((0.3 + 0.7 * share).clamp(0.3, 1.0))
}

/// In L/s and Pa, at another speed by the fan laws: flow with it, pressure with its square.
fn scaled(curve: &[(f64, f64)], speed: f64) -> Vec<(f64, f64)> {
    curve.iter().map(|&(flow, pressure)| (1e3 * flow * speed, pressure * speed * speed)).collect()
}

/// The curve from its start up to where it leaves the panel.
fn inside(curve: &[(f64, f64)], panel: &Panel) -> Vec<(f64, f64)> {
    let mut kept: Vec<(f64, f64)> = Vec::new();
    for &(x, y) in curve {
        if x <= panel.x.high && y <= panel.y.high {
            kept.push((x, y));
            continue;
        }
        if let Some(&(from_x, from_y)) = kept.last() {
            let across = (panel.x.high - from_x) / (x - from_x).max(1e-12);
            let up = (panel.y.high - from_y) / (y - from_y).max(1e-12);
            let part = across.min(up).clamp(0.0, 1.0);
            kept.push((from_x + part * (x - from_x), from_y + part * (y - from_y)));
        }
        break;
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn half_the_speed_is_half_the_flow_and_a_quarter_of_the_pressure() {
        assert_eq!(scaled(&[(0.02, 40.0)], 0.5), [(10.0, 10.0)]);
    }

    #[test]
    fn a_curve_ends_on_the_border_it_would_cross() {
        let range = Range { low: 0.0, high: 10.0 };
        let panel = Panel { left: 0.0, top: 0.0, right: 100.0, bottom: 100.0, x: range, y: range };
        let kept = inside(&[(0.0, 0.0), (8.0, 8.0), (12.0, 16.0), (20.0, 40.0)], &panel);
        assert_eq!(kept, [(0.0, 0.0), (8.0, 8.0), (9.0, 10.0)]);
    }
}

//! How every picture looks: colours, type sizes, line widths.

use plotters::style::RGBColor;
use plotters_backend::BackendColor;

/// A colour, opaque unless drawn otherwise.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Rgb(pub(crate) u8, pub(crate) u8, pub(crate) u8);

impl Rgb {
    /// The colour mixed with white: 1 leaves it, 0 is white.
    pub(crate) fn tint(self, strength: f64) -> Self {
        let mix = |c: u8| channel(255.0 - (255.0 - f64::from(c)) * strength);
        Self(mix(self.0), mix(self.1), mix(self.2))
    }

    /// The colour, darkened where it would be too faint for words on white.
    pub(crate) fn for_words(self) -> Self {
        let keep = if self.is_light() { 0.72 } else { 1.0 };
        let dim = |c: u8| channel(f64::from(c) * keep);
        Self(dim(self.0), dim(self.1), dim(self.2))
    }

    /// Whether dark writing is easier to read on it than white.
    pub(crate) fn is_light(self) -> bool {
        0.299 * f64::from(self.0) + 0.587 * f64::from(self.1) + 0.114 * f64::from(self.2) > 140.0
    }
}

impl From<Rgb> for RGBColor {
    fn from(colour: Rgb) -> Self {
        Self(colour.0, colour.1, colour.2)
    }
}

impl From<Rgb> for BackendColor {
    fn from(colour: Rgb) -> Self {
        Self { alpha: 1.0, rgb: (colour.0, colour.1, colour.2) }
    }
}

/// `value` as a colour channel.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "rounded and clamped to 0..=255"
)]
pub(crate) fn channel(value: f64) -> u8 {
    value.round().clamp(0.0, 255.0) as u8
}

/// Titles and the marks that matter.
pub(crate) const INK: Rgb = Rgb(0x26, 0x26, 0x2b);
/// Tick labels, subtitles.
pub(crate) const QUIET: Rgb = Rgb(0x66, 0x68, 0x70);
/// Grid lines.
pub(crate) const GRID: Rgb = Rgb(0xe4, 0xe5, 0xe9);
/// Axis lines and event marks.
pub(crate) const AXIS: Rgb = Rgb(0xa6, 0xa8, 0xb0);

/// The good state.
pub(crate) const GOOD: Rgb = GREEN;

// M. Okabe and K. Ito, "Color Universal Design" (2008): distinguishable with every common
// form of colour blindness. Recalled, not looked up. Yellow is left out: too faint on white.
/// Okabe-Ito blue.
pub(crate) const BLUE: Rgb = Rgb(0x00, 0x72, 0xb2);
/// Okabe-Ito vermilion.
pub(crate) const VERMILION: Rgb = Rgb(0xd5, 0x5e, 0x00);
/// Okabe-Ito bluish green.
pub(crate) const GREEN: Rgb = Rgb(0x00, 0x9e, 0x73);
/// Okabe-Ito reddish purple.
pub(crate) const PURPLE: Rgb = Rgb(0xcc, 0x79, 0xa7);
/// Okabe-Ito orange.
pub(crate) const ORANGE: Rgb = Rgb(0xe6, 0x9f, 0x00);
/// Okabe-Ito sky blue.
pub(crate) const SKY: Rgb = Rgb(0x56, 0xb4, 0xe9);

/// Colours of curves in the order they are used.
pub(crate) const SERIES: [Rgb; 7] = [BLUE, VERMILION, GREEN, PURPLE, ORANGE, SKY, INK];

/// Type sizes \[px\].
pub(crate) mod size {
    pub(crate) const TITLE: f64 = 36.0;
    pub(crate) const SUBTITLE: f64 = 22.0;
    pub(crate) const HEADING: f64 = 23.0;
    pub(crate) const LABEL: f64 = 21.0;
    pub(crate) const TICK: f64 = 20.0;
    pub(crate) const SMALL: f64 = 18.0;
}

/// Width of a curve \[px\].
pub(crate) const CURVE: f64 = 3.2;

/// Colour of a share 0..1 on a perceptually uniform scale, cold to warm.
///
/// The scale's near-black and near-white ends are left out: they would swallow
/// the isotherms and the paper.
pub(crate) fn warmth(share: f64) -> Rgb {
    let share = if share.is_finite() { share.clamp(0.0, 1.0) } else { 0.5 };
    let colour = colorous::INFERNO.eval_continuous(0.14 + 0.78 * share);
    Rgb(colour.r, colour.g, colour.b)
}

/// Colour of a share 0..1 of something wanted: pale is none, deep is most.
pub(crate) fn benefit(share: f64) -> Rgb {
    let share = if share.is_finite() { share.clamp(0.0, 1.0) } else { 0.0 };
    let colour = colorous::VIRIDIS.eval_continuous(0.05 + 0.93 * share);
    Rgb(colour.r, colour.g, colour.b)
}

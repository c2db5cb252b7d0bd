//! A surface as a curve over the radius, refocused: what an optician draws.
//!
//! Fit and means are the ones behind the numbers of the history (eqs. I-2 to I-5 of
//! docs/physics/image.md), so that a picture and the tables agree.

use evenglass_simulation::result::Surface;

/// Five Gauss–Legendre points on −1 to 1 and their weights: exact to degree 9, and squares of
/// parabolas times the radius have degree 5.
const GAUSS: [(f64, f64); 5] = [
    (-0.906_179_845_938_664, 0.236_926_885_056_189_1),
    (-0.538_469_310_105_683, 0.478_628_670_499_366_5),
    (0.0, 0.568_888_888_888_888_9),
    (0.538_469_310_105_683, 0.478_628_670_499_366_5),
    (0.906_179_845_938_664, 0.236_926_885_056_189_1),
];

/// Points drawn for each piece of the surface.
const DRAWN: u32 = 8;

/// Directions around the axis in which the extremes are looked for.
const AROUND: u32 = 72;

/// A surface without the piston and the (r/a)² of its best fit, and without tilt.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Profile {
    /// From hole or axis to rim \[m\].
    pub(super) radii: Vec<f64>,
    /// Mean around the axis \[m\].
    pub(super) round: Vec<f64>,
    /// (Order, cosine part, sine part \[m\]) of what varies around it.
    lopsided: Vec<(u32, Vec<f64>, Vec<f64>)>,
    /// RMS over the area, all orders \[m\].
    pub(super) rms_m: f64,
    /// The same of the mean around the axis.
    pub(super) round_rms_m: f64,
    /// Highest minus lowest anywhere \[m\].
    pub(super) pv_m: f64,
}

impl Profile {
    /// Heights at the radii in one direction around the axis \[m\].
    pub(super) fn towards(&self, angle: f64) -> Vec<f64> {
        let mut heights = self.round.clone();
        for (order, cosine, sine) in &self.lopsided {
            let (s, c) = (f64::from(*order) * angle).sin_cos();
            for ((height, even), odd) in heights.iter_mut().zip(cosine).zip(sine) {
                *height += c * even + s * odd;
            }
        }
        heights
    }

    /// Whether it varies around the axis by more than any picture shows.
    pub(super) fn is_lopsided(&self) -> bool {
        self.rms_m - self.round_rms_m > 1e-3 * self.rms_m
    }

    /// The diameter, as one of its two directions, on which the surface is worst; 0 of a round
    /// one.
    pub(super) fn worst_direction(&self) -> f64 {
        let square = |heights: Vec<f64>| -> f64 {
            heights.iter().zip(&self.radii).map(|(h, r)| h * h * r).sum()
        };
        let along = |angle: f64| {
            square(self.towards(angle)) + square(self.towards(angle + std::f64::consts::PI))
        };
        let half = directions().take(AROUND as usize / 2);
        let found = half.map(|angle| (angle, along(angle)));
        found.fold((0.0, 0.0), |best, next| if next.1 > best.1 { next } else { best }).0
    }

    /// The largest height or depth \[m\].
    pub(super) fn reach(&self) -> f64 {
        let (low, high) = self.extremes();
        high.max(-low)
    }

    /// Lowest and highest anywhere \[m\].
    fn extremes(&self) -> (f64, f64) {
        let angles = directions().take(if self.lopsided.is_empty() { 1 } else { usize::MAX });
        let heights = angles.flat_map(|angle| self.towards(angle));
        heights.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(v), h.max(v)))
    }
}

/// Directions all around the axis \[rad\].
fn directions() -> impl Iterator<Item = f64> {
    (0..AROUND).map(|step| std::f64::consts::TAU * f64::from(step) / f64::from(AROUND))
}

/// A surface at best focus; `None` where none was computed.
pub(super) fn refocused(surface: &Surface) -> Option<Profile> {
    let radii = &surface.radius_m;
    let rim = *radii.last().filter(|_| radii.len() >= 3 && radii.len() % 2 == 1)?;
    let lengths = surface.orders.iter().flat_map(|(_, c, s)| [c.len(), s.len()]);
    if !lengths.chain([surface.round_m.len()]).all(|length| length == radii.len()) {
        return None;
    }
    let grid = Grid::of(radii);
    let square = |r: f64| (r / rim).powi(2);
    let centre = grid.mean(|_, r| square(r));
    let spread = grid.mean(|_, r| (square(r) - centre).powi(2));
    let values = |nodes: &[f64]| grid.values(nodes);
    let round = values(&surface.round_m);
    let piston = grid.mean(|i, _| round[i]);
    let focus = grid.mean(|i, r| round[i] * (square(r) - centre)) / spread;
    let fitted = |r: f64| piston + focus * (square(r) - centre);
    let round_square = grid.mean(|i, r| (round[i] - fitted(r)).powi(2));
    let radii_drawn = along(radii, radii);
    let mut square = round_square;
    let mut lopsided = Vec::new();
    for (order, cosine, sine) in &surface.orders {
        let [cosine, sine] = [cosine, sine].map(|nodes| {
            let part = values(nodes);
            let tilts = f64::from(u8::from(*order == 1));
            let tilt = tilts * grid.mean(|i, r| part[i] * r) / grid.mean(|_, r| r * r);
            // A squared cosine or sine is a half in the mean.
            square += 0.5 * grid.mean(|i, r| (part[i] - tilt * r).powi(2));
            without(along(radii, nodes), &radii_drawn, |r| tilt * r)
        });
        lopsided.push((u32::try_from(*order).ok()?, cosine, sine));
    }
    let profile = Profile {
        round: without(along(radii, &surface.round_m), &radii_drawn, fitted),
        radii: radii_drawn,
        lopsided,
        rms_m: square.sqrt(),
        round_rms_m: round_square.sqrt(),
        pv_m: f64::NAN,
    };
    let (low, high) = profile.extremes();
    let pv_m = high - low;
    (pv_m.is_finite() && square.is_finite()).then_some(Profile { pv_m, ..profile })
}

/// Heights less what a fit has at the same radii.
fn without(mut heights: Vec<f64>, radii: &[f64], fit: impl Fn(f64) -> f64) -> Vec<f64> {
    for (height, &r) in heights.iter_mut().zip(radii) {
        *height -= fit(r);
    }
    heights
}

/// Where means over the area are taken.
struct Grid {
    /// (First node of the piece, place within it −1 to 1, radius, share of the area).
    points: Vec<(usize, f64, f64, f64)>,
}

impl Grid {
    fn of(radii: &[f64]) -> Self {
        let mut points = Vec::new();
        for first in (0..radii.len() - 1).step_by(2) {
            let (start, end) = (radii[first], radii[first + 2]);
            for (place, weight) in GAUSS {
                let r = 0.5 * (start + end) + 0.5 * place * (end - start);
                points.push((first, place, r, weight * r * (end - start)));
            }
        }
        let whole: f64 = points.iter().map(|p| p.3).sum();
        for point in &mut points {
            point.3 /= whole;
        }
        Self { points }
    }

    /// Values at the points of what is given at the nodes.
    fn values(&self, nodes: &[f64]) -> Vec<f64> {
        let at = |&(first, place, ..): &(usize, f64, f64, f64)| parabola(nodes, first, place);
        self.points.iter().map(at).collect()
    }

    fn mean(&self, value: impl Fn(usize, f64) -> f64) -> f64 {
        self.points.iter().enumerate().map(|(i, p)| p.3 * value(i, p.2)).sum()
    }
}

/// Between three nodes, the middle one half-way.
fn parabola(nodes: &[f64], first: usize, place: f64) -> f64 {
    let (a, b, c) = (nodes[first], nodes[first + 1], nodes[first + 2]);
    b + 0.5 * place * (c - a) + 0.5 * place * place * (a - 2.0 * b + c)
}

/// What is given at the nodes, at the radii drawn.
fn along(radii: &[f64], nodes: &[f64]) -> Vec<f64> {
    let mut line = Vec::with_capacity(radii.len() * DRAWN as usize / 2 + 1);
    for first in (0..radii.len() - 1).step_by(2) {
        for piece in 0..DRAWN {
            let place = 2.0 * f64::from(piece) / f64::from(DRAWN) - 1.0;
            line.push(parabola(nodes, first, place));
        }
    }
    line.extend(nodes.last());
    line
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use evenglass_simulation::{Resolution, scenario, simulate};

    use super::*;

    /// A disc of 0.2 m with a surface given as a function of r/a.
    fn surface(round: impl Fn(f64) -> f64) -> Surface {
        let radius_m: Vec<f64> = (0..97).map(|i| 0.2 * f64::from(i) / 96.0).collect();
        let round_m = radius_m.iter().map(|r| round(r / 0.2)).collect();
        Surface { radius_m, round_m, orders: vec![] }
    }

    #[test]
    fn focus_and_piston_leave_nothing() {
        let profile = refocused(&surface(|x| 3e-6 - 7e-6 * x * x)).unwrap();
        assert!(profile.rms_m < 1e-18 && profile.pv_m < 1e-17, "{profile:?}");
    }

    /// r⁴ at best focus is x⁴ − x² + 1/6: RMS 1/√180, PV 1/4, by calculus.
    #[test]
    fn spherical_aberration_keeps_what_no_focus_can_mend() {
        let profile = refocused(&surface(|x| 1e-6 * x.powi(4))).unwrap();
        assert!((profile.rms_m - 1e-6 / 180_f64.sqrt()).abs() < 1e-12, "{}", profile.rms_m);
        assert!((profile.pv_m - 0.25e-6).abs() < 1e-10, "{}", profile.pv_m);
        assert!((profile.round[0] - 1e-6 / 6.0).abs() < 1e-11, "{}", profile.round[0]);
    }

    /// x² cos 2θ has RMS 1/√6; a tilt is no error at all.
    #[test]
    fn lopsided_orders_count_and_tilt_does_not() {
        let mut bent = surface(|_| 0.0);
        let squares: Vec<f64> = bent.radius_m.iter().map(|r| 1e-7 * (r / 0.2).powi(2)).collect();
        let tilt: Vec<f64> = bent.radius_m.iter().map(|r| 4e-6 * r).collect();
        let none = vec![0.0; squares.len()];
        bent.orders = vec![(1, tilt, none.clone()), (2, none, squares)];
        let profile = refocused(&bent).unwrap();
        assert!((profile.rms_m - 1e-7 / 6_f64.sqrt()).abs() < 1e-13, "{}", profile.rms_m);
        assert!((profile.pv_m - 2e-7).abs() < 1e-12, "{}", profile.pv_m);
        assert!((profile.reach() - 1e-7).abs() < 1e-12, "{}", profile.reach());
        assert!(profile.is_lopsided());
        // A sine of 2θ is highest at 45° and lowest at 135°, as large either way.
        let worst = profile.worst_direction().to_degrees() % 90.0;
        assert!((worst - 45.0).abs() < 1e-9, "{worst}");
    }

    /// The solver reads its own surfaces; the drawn one is fitted here once more.
    #[test]
    fn picture_and_tables_agree_on_the_figure() {
        let text = "[mirror]\ndiameter = '300 mm'\nedge_thickness = '35 mm'\nfocal_ratio = 5\n\
                    glass = 'soda-lime'\n[night]\nstart = '20:00'\nduration = '1 h'\n\
                    glass_temperature = '20 degC'\n\
                    air = { kind = 'steady', temperature = '10 degC' }\n\
                    [output]\nfields_at = ['30 min']";
        let scenario = scenario::parse("t.toml", text, Path::new(""), &[]).unwrap();
        let night = simulate(&scenario, &Resolution::default()).unwrap();
        let field = night.fields.iter().find(|f| (f.time_s - 1800.0).abs() < 1e-3).unwrap();
        let row = night.history.iter().find(|r| (r.time_s - 1800.0).abs() < 1e-3).unwrap();
        let profile = refocused(&field.surface).unwrap();
        let rms = row.image.total_rms_m;
        assert!((profile.rms_m / rms - 1.0).abs() < 1e-9, "{} {rms}", profile.rms_m);
        // Eight points a piece may miss the very top of its parabola.
        let pv = row.image.figure_pv_m;
        assert!((profile.pv_m / pv - 1.0).abs() < 2e-3, "{} {pv}", profile.pv_m);
    }

    #[test]
    fn what_was_not_computed_has_no_profile() {
        let empty = Surface { radius_m: vec![], round_m: vec![], orders: vec![] };
        assert!(refocused(&empty).is_none());
        assert!(refocused(&surface(|_| f64::NAN)).is_none());
    }
}

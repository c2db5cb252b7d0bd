//! A surface as a curve over the radius, refocused: what an optician draws.
//!
//! The fits are those behind the numbers of the history, so that a picture and the tables agree.

use evenglass_simulation::image::Front;
use evenglass_simulation::result::Surface;

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
    let front = Front::new(radii);
    let drawn = drawn(radii);
    let without = |nodes: &[f64], fitted: &dyn Fn(f64) -> f64| -> Vec<f64> {
        drawn.iter().map(|&r| front.at(nodes, r) - fitted(r)).collect()
    };
    let fit = front.round(&surface.round_m);
    let mut square = fit.rms_m.powi(2);
    let mut lopsided = Vec::new();
    for (order, cosine, sine) in &surface.orders {
        let [cosine, sine] = [cosine, sine].map(|nodes| {
            let fit = front.lopsided(*order, nodes);
            square += fit.rms_m.powi(2);
            // Noll's tilt is 2 r/a.
            without(nodes, &|r| 2.0 * fit.tilt_m * r / rim)
        });
        lopsided.push((u32::try_from(*order).ok()?, cosine, sine));
    }
    let profile = Profile {
        round: without(&surface.round_m, &|r| fit.piston_m + fit.defocus_m * (r / rim).powi(2)),
        radii: drawn.clone(),
        lopsided,
        rms_m: square.sqrt(),
        round_rms_m: fit.rms_m,
        pv_m: f64::NAN,
    };
    let (low, high) = profile.extremes();
    let pv_m = high - low;
    (pv_m.is_finite() && square.is_finite()).then_some(Profile { pv_m, ..profile })
}

/// Radii at which a surface given at the nodes is drawn \[m\].
fn drawn(radii: &[f64]) -> Vec<f64> {
    let pieces = radii.windows(3).step_by(2).flat_map(|piece| {
        let place = |n: u32| f64::from(n) / f64::from(DRAWN);
        (0..DRAWN).map(move |n| piece[0] + place(n) * (piece[2] - piece[0]))
    });
    pieces.chain(radii.last().copied()).collect()
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

//! What the light makes of a toy's glass: spherical error and defocus that follow its
//! unevenness, shimmer that follows its front, astigmatism and coma as asked for.

use std::f64::consts::{PI, TAU};

use evenglass_simulation::image::{Blur, Image, Lopsided};
use evenglass_simulation::result::{
    Criterion, Ending, GoodInterval, Moment, Occasion, Passing, Record, Surface,
};
use evenglass_simulation::scenario::Scenario;

/// Spherical error of the surface by the toy's unevenness [m/K]; a cold rim over-corrects.
const SPHERICAL: f64 = -60e-9;
/// Defocus by the same [m/K].
const DEFOCUS: f64 = -400e-9;
/// Wavelength \[m\].
const WAVELENGTH: f64 = 550e-9;
/// Steps from hole or axis to rim.
const STEPS: u32 = 48;

/// The optics of a mirror.
#[derive(Debug, Clone, Copy)]
pub(super) struct Light {
    inner: f64,
    outer: f64,
    focal_ratio: Option<f64>,
    tube: Option<f64>,
    /// Of the figure, RMS \[m\].
    limit: f64,
    /// Astigmatism, and half as much coma, over the spherical error [-].
    lopsided: f64,
}

impl Light {
    pub(super) fn of(scenario: &Scenario, lopsided: f64) -> Self {
        let mirror = &scenario.mirror;
        let telescope = scenario.telescope.as_ref();
        Self {
            inner: mirror.hole_diameter.map_or(0.0, |hole| hole.metres() / 2.0),
            outer: mirror.diameter.metres() / 2.0,
            focal_ratio: mirror.focal_ratio,
            tube: telescope.and_then(|t| t.expansion).map(evenglass_units::Expansion::per_kelvin),
            limit: scenario.good.figure_rms.metres(),
            lopsided,
        }
    }

    fn pairs(&self, bump: f64) -> [Lopsided; 2] {
        let size = self.lopsided * (SPHERICAL * bump).abs();
        [
            Lopsided { size_m: size, angle: PI / 2.0 },
            Lopsided { size_m: 0.5 * size, angle: 3.0 * PI / 2.0 },
        ]
    }

    /// * `bump` — unevenness of the glass \[K\]
    /// * `front` — front minus air \[K\]
    /// * `tube_warming` — since the start \[K\]
    pub(super) fn image(&self, bump: f64, front: f64, tube_warming: f64) -> Image {
        let spherical_m = SPHERICAL * bump;
        let defocus_m = DEFOCUS * bump;
        let [astigmatism, coma] = self.pairs(bump);
        let rms = spherical_m.abs();
        let total_rms_m = rms.hypot(astigmatism.size_m).hypot(coma.size_m);
        let phase_variance = (2.0 * TAU * total_rms_m / WAVELENGTH).powi(2);
        let value = 0.4 * front.max(0.0).powf(1.2);
        let air_variance = 0.3 * value.powi(2);
        let strehl = (-phase_variance - air_variance).exp();
        let by_focus = |of: fn(f64) -> f64| self.focal_ratio.map_or(f64::NAN, of);
        let radii = by_focus(|ratio| 16.0 * ratio * ratio);
        let parabola = self.outer / (by_focus(|ratio| 64.0 * ratio.powi(3)) * 48.0 * 5f64.sqrt());
        let focal_length = by_focus(|ratio| ratio) * 2.0 * self.outer;
        Image {
            defocus_m,
            focus_shift_m: -defocus_m * radii,
            tube_focus_m: self.tube.map_or(f64::NAN, |e| -e * focal_length * tube_warming),
            refocus_s: f64::NAN,
            figure_pv_m: 1.5 * 5f64.sqrt() * rms,
            figure_rms_m: rms,
            total_rms_m,
            // What is left of r⁴ after refocusing goes with the fourth power of the aperture.
            good_aperture_m: 2.0 * self.outer * (self.limit / total_rms_m).min(1.0).powf(0.25),
            spherical_m,
            correction: -spherical_m / parabola,
            coma,
            astigmatism,
            trefoil: Lopsided { size_m: 0.0, angle: 0.0 },
            phase_variance,
            air_variance,
            strehl: if strehl < 0.3 { f64::NAN } else { strehl },
            seeing: Blur { value, low: 0.5 * value, high: 1.5 * value },
        }
    }

    pub(super) fn surface(&self, bump: f64) -> Surface {
        let share = |step: u32| f64::from(step) / f64::from(STEPS);
        let radius = |step: u32| self.inner + (self.outer - self.inner) * share(step);
        let radius_m: Vec<f64> = (0..=STEPS).map(radius).collect();
        let of = |shape: fn(f64) -> f64, size: f64| -> Vec<f64> {
            radius_m.iter().map(|r| size * shape(r / self.outer)).collect()
        };
        let noll_11 = |x: f64| 5f64.sqrt() * (6.0 * x.powi(4) - 6.0 * x * x + 1.0);
        let spherical = of(noll_11, SPHERICAL * bump);
        let round_m = spherical.iter().zip(of(|x| x * x, DEFOCUS * bump)).map(|(s, d)| s + d);
        let round_m = round_m.collect();
        let [astigmatism, coma] = self.pairs(bump);
        let pair = |order: usize, shape: fn(f64) -> f64, pair: Lopsided| {
            let turn = f64::from(u32::try_from(order).unwrap()) * pair.angle;
            let part = |share: f64| of(shape, share * pair.size_m);
            (order, part(turn.cos()), part(turn.sin()))
        };
        let orders = vec![
            pair(1, |x| 8f64.sqrt() * (3.0 * x.powi(3) - 2.0 * x), coma),
            pair(2, |x| 6f64.sqrt() * x * x, astigmatism),
        ];
        Surface { radius_m, round_m, orders }
    }

    /// Fills in how long a focus lasts, from row to row.
    pub(super) fn rate(&self, history: &mut [Record]) {
        let Some(ratio) = self.focal_ratio else { return };
        let depth = 2.0 * WAVELENGTH * ratio * ratio;
        let focus = |r: &Record| {
            r.image.focus_shift_m
                + Some(r.image.tube_focus_m).filter(|t| t.is_finite()).unwrap_or(0.0)
        };
        for i in 0..history.len() {
            let (a, b) = (i.saturating_sub(1), (i + 1).min(history.len() - 1));
            let change = focus(&history[b]) - focus(&history[a]);
            let rate = (change / (history[b].time_s - history[a].time_s)).abs();
            history[i].image.refocus_s = if rate > 0.0 { depth / rate } else { f64::NAN };
        }
    }
}

/// When each criterion is met, row by row.
pub(super) fn passing(scenario: &Scenario, history: &[Record]) -> Vec<Passing> {
    let good = &scenario.good;
    let mut limits: Vec<(Criterion, f64)> = vec![
        (Criterion::Figure, good.figure_rms.metres()),
        (Criterion::Shimmer, good.shimmer_arcsec),
    ];
    limits.extend(
        scenario.night.dew_point.as_ref().map(|_| (Criterion::Dew, -good.dew_margin.kelvins())),
    );
    limits.extend(good.front_minus_air.map(|limit| (Criterion::FrontMinusAir, limit.kelvins())));
    let value = |criterion: Criterion, row: &Record| match criterion {
        Criterion::Figure => row.image.total_rms_m,
        Criterion::Shimmer => row.image.seeing.value,
        Criterion::Dew => -row.dew_margin_primary.kelvins().min(row.dew_margin_secondary.kelvins()),
        Criterion::FrontMinusAir => row.front_minus_air.kelvins().abs(),
    };
    let of = |(criterion, limit): (Criterion, f64)| {
        let met = |row: &Record| value(criterion, row) <= limit;
        Passing { criterion, stretches: stretches(scenario, history, met) }
    };
    limits.into_iter().map(of).collect()
}

fn stretches(
    scenario: &Scenario,
    history: &[Record],
    met: impl Fn(&Record) -> bool,
) -> Vec<(f64, f64)> {
    let mut all = Vec::new();
    let mut from = None;
    for row in history {
        match (from, met(row)) {
            (None, true) => from = Some(row.time_s),
            (Some(since), false) => {
                all.push((since, row.time_s));
                from = None;
            }
            _ => {}
        }
    }
    all.extend(from.map(|since| (since, scenario.night.duration.seconds())));
    all
}

/// The stretches in which all are met for long enough.
pub(super) fn good(scenario: &Scenario, passing: &[Passing]) -> Vec<GoodInterval> {
    let end = scenario.night.duration.seconds();
    let mut common = vec![(0.0, end)];
    for one in passing {
        let both = |&(a, b): &(f64, f64)| {
            let parts = one.stretches.iter().map(move |&(c, d)| (a.max(c), b.min(d)));
            parts.filter(|(from, to)| to > from).collect::<Vec<_>>()
        };
        common = common.iter().flat_map(both).collect();
    }
    common.retain(|(from, to)| to - from >= scenario.good.held_for.seconds());
    let at = |time: f64, side: fn(&(f64, f64)) -> f64| {
        let same = |one: &&Passing| one.stretches.iter().any(|s| (side(s) - time).abs() < 1e-9);
        passing.iter().find(same).map(|one| one.criterion)
    };
    let interval = |(from_s, to_s): (f64, f64)| GoodInterval {
        from_s,
        to_s,
        ended_by: match at(to_s, |s| s.1) {
            Some(criterion) if to_s < end => Ending::Missed(criterion),
            _ => Ending::EndOfRun,
        },
        begun_by: at(from_s, |s| s.0).filter(|_| from_s > 0.0),
    };
    common.into_iter().map(interval).collect()
}

/// The worst row and, if there is one, that at which the mirror is ready; `surface` draws a row.
pub(super) fn moments(
    history: &[Record],
    ready_s: Option<f64>,
    surface: impl Fn(&Record) -> Surface,
) -> Vec<Moment> {
    let rms = |row: &Record| row.image.total_rms_m;
    let worst = history.iter().max_by(|a, b| rms(a).total_cmp(&rms(b)));
    let ready = history.iter().find(|row| ready_s.is_some_and(|at| row.time_s >= at));
    let one = |(what, row): (Occasion, &Record)| Moment {
        what,
        time_s: row.time_s,
        surface: surface(row),
    };
    let worst = worst.map(|row| (Occasion::Worst, row));
    worst.into_iter().chain(ready.map(|row| (Occasion::Ready, row))).map(one).collect()
}

//! From temperatures at the grid's points to the figure of the front.
//!
//! The elastic problem is solved on its own elements, once for each shape and order; its
//! influence rows are carried over to the points of the conduction's grid by the grid's own
//! interpolation, so that the figure of an instant is one product.

use std::sync::{Arc, OnceLock};

use evenglass_disc::Grid;
use evenglass_optics::{
    Blank, Deflection, DeflectionError, Front, MeshSize, Pupil, WAVELENGTH_M, correction_percent,
    depth_of_focus, focus_shift, phase_variance, refocus_interval, tube_share,
};
use evenglass_scenario::Scenario;
use evenglass_units::{Expansion, Length};
use ndarray::{Array2, ArrayView1};

use crate::image::Lopsided;
use crate::result::Surface;

/// Highest order around the axis.
const ORDERS: usize = 4;

/// A focus that keeps longer \[s\] stands still for anybody.
const A_DAY: f64 = 86_400.0;

/// Influence of the temperatures at a grid's points on the front, for one order around the
/// axis and one Poisson's ratio.
#[derive(Debug)]
pub(crate) struct Influence {
    order: usize,
    blank: Blank,
    /// Nodes on the front \[m\].
    radii: Vec<f64>,
    /// Figure by temperature and unit of expansion \[m\], `[front nodes, points of the grid]`.
    rows: Array2<f64>,
}

impl Influence {
    pub(crate) fn new(
        grid: &Grid,
        poisson_ratio: f64,
        order: usize,
    ) -> Result<Self, DeflectionError> {
        let section = grid.section();
        let edge = section.outer_radius();
        let blank = Blank {
            outer_radius_m: edge,
            inner_radius_m: section.inner_radius(),
            edge_thickness_m: section.thickness(edge),
            curvature_per_m: section.slope(edge) / edge,
        };
        let deflection = Deflection::new(&blank, MeshSize::of(&blank), poisson_ratio, order)?;
        // One row for each point of either kind, so that the sums run along memory.
        let elements = deflection.influence().t().as_standard_layout().into_owned();
        let mut by_point = Array2::<f64>::zeros((grid.len(), elements.ncols()));
        for (element, &(radius, height)) in
            elements.rows().into_iter().zip(deflection.temperature_points())
        {
            let place = (Length::from_metres(radius), Length::from_metres(height));
            for (point, weight) in grid.interpolation(place.0, place.1) {
                by_point.row_mut(point).scaled_add(weight, &element);
            }
        }
        let rows = by_point.t().as_standard_layout().into_owned();
        Ok(Self { order, blank, radii: deflection.front_radii().to_vec(), rows })
    }
}

/// The parts of a front that figures are read on.
#[derive(Debug)]
pub(crate) struct Apertures {
    /// From hole to rim.
    whole: Front,
    /// Between obstruction and rim.
    pupil: Pupil,
    /// Under masks, the widest first, with the diameter each leaves open \[m\]; made when one
    /// is asked for.
    masked: OnceLock<Vec<(f64, Front)>>,
}

/// Masks are tried in steps of this share of the diameter, down to the least share [-].
const MASK_STEP: f64 = 0.05;
const MASK_STEPS: u32 = 12;

impl Apertures {
    /// * `influence` — of order 0
    /// * `obstruction` — its radius \[m\]
    pub(crate) fn new(influence: &Influence, obstruction: f64) -> Self {
        let Influence { blank, radii, .. } = influence;
        let inner = obstruction.max(blank.inner_radius_m);
        Self {
            whole: Front::new(radii),
            pupil: Pupil::new(radii, blank.curvature_per_m, inner, blank.outer_radius_m),
            masked: OnceLock::new(),
        }
    }

    fn masked(&self) -> &[(f64, Front)] {
        self.masked.get_or_init(|| {
            let radii = self.whole.radii_m();
            let (inner, outer) = (radii[0], radii[radii.len() - 1]);
            let shares = (1..=MASK_STEPS).map(|n| 1.0 - MASK_STEP * f64::from(n));
            let open = shares.map(|share| share * outer).filter(|open| *open > 1.5 * inner);
            open.map(|open| (2.0 * open, Front::annulus(radii, inner, open))).collect()
        })
    }
}

/// Radius of what the secondary shades \[m\].
pub(crate) fn obstruction(scenario: &Scenario) -> f64 {
    let secondary = scenario.telescope.as_ref().and_then(|telescope| telescope.secondary);
    secondary.map_or(0.0, |secondary| 0.5 * secondary.diameter.metres())
}

/// The figure at one instant, read off the front.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Figure {
    pub(crate) defocus_m: f64,
    pub(crate) pv_m: f64,
    pub(crate) rms_m: f64,
    pub(crate) total_rms_m: f64,
    pub(crate) spherical_m: f64,
    pub(crate) coma: Lopsided,
    pub(crate) astigmatism: Lopsided,
    pub(crate) trefoil: Lopsided,
    /// Phase variance on the obstructed pupil, refocused \[rad²\].
    pub(crate) phase_variance: f64,
    /// Widest aperture on which the figure is good \[m\]; 0 if even the smallest mask leaves
    /// too much.
    pub(crate) good_aperture_m: f64,
}

/// One order of the temperature that varies around the axis, at every point of the grid.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Waves {
    pub(crate) order: usize,
    /// Cosine and sine part \[K\], `[points]` each.
    pub(crate) cosine: Vec<f64>,
    pub(crate) sine: Vec<f64>,
}

/// The figure of the front along the radius, at the nodes of [`Apertures`] \[m\].
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Profiles {
    round: Vec<f64>,
    /// (Order, cosine part, sine part) of what varies around the axis.
    orders: Vec<(usize, Vec<f64>, Vec<f64>)>,
}

impl Profiles {
    /// Between four instants at equal intervals, `thirds` intervals after the first, by the
    /// cubic through them: that is how temperatures run through a step, but for the slope
    /// of the specific heat.
    pub(crate) fn between(at: &[Self; 4], thirds: f64) -> Self {
        let x = thirds;
        let weights = [
            -(x - 1.0) * (x - 2.0) * (x - 3.0) / 6.0,
            x * (x - 2.0) * (x - 3.0) / 2.0,
            -x * (x - 1.0) * (x - 3.0) / 2.0,
            x * (x - 1.0) * (x - 2.0) / 6.0,
        ];
        let mixed = |of: &dyn Fn(&Self) -> &[f64]| -> Vec<f64> {
            let mut sum = vec![0.0; of(&at[0]).len()];
            for (profiles, weight) in at.iter().zip(weights) {
                for (sum, value) in sum.iter_mut().zip(of(profiles)) {
                    *sum += weight * value;
                }
            }
            sum
        };
        let order = |n: usize| {
            let cosine = mixed(&|profiles| &profiles.orders[n].1);
            let sine = mixed(&|profiles| &profiles.orders[n].2);
            (at[0].orders[n].0, cosine, sine)
        };
        Self {
            round: mixed(&|profiles| &profiles.round),
            orders: (0..at[0].orders.len()).map(order).collect(),
        }
    }
}

/// Reads figures off temperature fields.
#[derive(Debug)]
pub(crate) struct FigureReader {
    /// Order 0 first.
    influences: Vec<Arc<Influence>>,
    expansion: f64,
    free_of_stress_c: f64,
    /// Largest RMS of a good figure \[m\].
    limit: f64,
    apertures: Arc<Apertures>,
}

impl FigureReader {
    /// * `influences` — of order 0 and of every order in which temperatures vary around the axis
    pub(crate) fn new(
        scenario: &Scenario,
        influences: Vec<Arc<Influence>>,
        apertures: Arc<Apertures>,
    ) -> Self {
        Self {
            apertures,
            limit: scenario.good.figure_rms.metres(),
            expansion: scenario.mirror.glass.expansion.per_kelvin(),
            free_of_stress_c: scenario.night.stress_free_temperature.celsius(),
            influences,
        }
    }

    /// The figure along the radius for temperatures at the grid's points [°C].
    pub(crate) fn profiles(&self, celsius: &[f64], waves: &[Waves]) -> Profiles {
        let warming: Vec<f64> = celsius.iter().map(|c| c - self.free_of_stress_c).collect();
        let of_order = |waves: &Waves| {
            let of = |kelvins: &[f64]| self.product(waves.order, kelvins);
            (waves.order, of(&waves.cosine), of(&waves.sine))
        };
        Profiles { round: self.product(0, &warming), orders: waves.iter().map(of_order).collect() }
    }

    /// The surface of the front.
    pub(crate) fn surface(&self, profiles: Profiles) -> Surface {
        let radius_m = self.influences[0].radii.clone();
        Surface { radius_m, round_m: profiles.round, orders: profiles.orders }
    }

    /// The figure.
    pub(crate) fn read(&self, profiles: &Profiles) -> Figure {
        let Apertures { whole, pupil, .. } = &*self.apertures;
        let fit = whole.round(&profiles.round);
        let mut squares = fit.rms_m.powi(2);
        let mut wave_squares = pupil.round_rms(&profiles.round).powi(2);
        let mut pairs = [Lopsided::NONE; ORDERS + 1];
        for (order, cosine, sine) in &profiles.orders {
            let halves = [cosine, sine].map(|profile| {
                let fit = whole.lopsided(*order, profile);
                squares += fit.rms_m.powi(2);
                wave_squares += pupil.lopsided_rms(*order, profile).powi(2);
                fit.coefficient_m
            });
            pairs[*order] = Lopsided::of(*order, (halves[0], halves[1]));
        }
        let good_aperture_m = if squares <= self.limit.powi(2) {
            2.0 * whole.radii_m()[whole.radii_m().len() - 1]
        } else {
            self.behind_mask(profiles)
        };
        Figure {
            defocus_m: fit.defocus_m,
            pv_m: fit.pv_m,
            rms_m: fit.rms_m,
            total_rms_m: squares.sqrt(),
            spherical_m: fit.spherical_m,
            coma: pairs[1],
            astigmatism: pairs[2],
            trefoil: pairs[3],
            phase_variance: phase_variance(wave_squares.sqrt(), WAVELENGTH_M),
            good_aperture_m,
        }
    }

    /// Diameter of the widest mask behind which the figure is good \[m\], or 0.
    fn behind_mask(&self, profiles: &Profiles) -> f64 {
        let good = |(_, front): &&(f64, Front)| {
            let of_order = |(order, cosine, sine): &(usize, Vec<f64>, Vec<f64>)| -> f64 {
                [cosine, sine].map(|half| front.lopsided(*order, half).rms_m.powi(2)).iter().sum()
            };
            let squares = profiles.orders.iter().map(of_order).sum::<f64>();
            front.round(&profiles.round).rms_m.powi(2) + squares <= self.limit.powi(2)
        };
        self.apertures.masked().iter().find(good).map_or(0.0, |masked| masked.0)
    }

    fn product(&self, order: usize, kelvins: &[f64]) -> Vec<f64> {
        let known = self.influences.iter().find(|influence| influence.order == order);
        let rows = &known.expect("the influence of every order that varies").rows;
        (self.expansion * rows.dot(&ArrayView1::from(kelvins))).to_vec()
    }
}

/// What a focal length is needed for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Focus {
    radius_m: f64,
    curvature_radius_m: f64,
    focal_length_m: f64,
    depth_m: f64,
    /// Expansion of what holds the focuser [K⁻¹].
    tube_expansion: Option<f64>,
}

impl Focus {
    /// `None` for a flat front.
    pub(crate) fn of(scenario: &Scenario) -> Option<Self> {
        let diameter = scenario.mirror.diameter.metres();
        let focal_ratio = scenario.mirror.focal_ratio?;
        let tube = scenario.telescope.as_ref().and_then(|telescope| telescope.expansion);
        Some(Self {
            radius_m: 0.5 * diameter,
            curvature_radius_m: 2.0 * focal_ratio * diameter,
            focal_length_m: focal_ratio * diameter,
            depth_m: depth_of_focus(focal_ratio, WAVELENGTH_M),
            tube_expansion: tube.map(Expansion::per_kelvin),
        })
    }

    pub(crate) fn shift(&self, defocus_m: f64) -> f64 {
        focus_shift(defocus_m, self.curvature_radius_m, self.radius_m)
    }

    /// As a share of that of the paraboloid against its sphere.
    pub(crate) fn correction(&self, spherical_m: f64) -> f64 {
        0.01 * correction_percent(spherical_m, self.curvature_radius_m, self.radius_m)
    }

    /// Share of the tube for its warming since the start \[K\]; NaN where nothing is said of it.
    pub(crate) fn tube(&self, warming_k: f64) -> f64 {
        let share = |expansion| tube_share(expansion, self.focal_length_m, warming_k);
        self.tube_expansion.map_or(f64::NAN, share)
    }

    /// Time in which the focus moves by its depth \[s\] at a rate [m/s], at most a day.
    pub(crate) fn interval(&self, rate: f64) -> f64 {
        refocus_interval(self.depth_m, rate).unwrap_or(A_DAY).min(A_DAY)
    }
}

//! How far a night at one resolution is from the same night at a much finer one.

use evenglass_disc::{Grid, Resolution};
use evenglass_simulation::result::COLUMNS;
use evenglass_simulation::scenario::Scenario;
use evenglass_simulation::{Night, geometry, simulate};
use evenglass_units::{Duration, Length};

/// When whole fields are compared [s]: from five minutes after the start on, the
/// time from which the promise holds.
const TIMES: [f64; 6] = [300.0, 600.0, 1200.0, 2400.0, 3600.0, 7200.0];

/// Distances from a film's jump at which fields are compared [m].
const BESIDE: [f64; 6] = [0.0, 2e-4, 5e-4, 1e-3, 2e-3, 4e-3];

/// So fine that finer blocks and steps move these nights by less than 0.7 mK next
/// to jumps and 0.2 mK elsewhere (`accuracy::the_reference_has_converged`).
pub(crate) fn converged() -> Resolution {
    Resolution {
        radial_order: 8,
        axial_order: 9,
        radial_finest: 0.02,
        axial_finest: 0.03,
        growth: 0.7,
        break_finest: 5e-4,
        break_growth: 1.5,
        tolerance: 1e-5,
        ..Resolution::default()
    }
}

/// A night at one resolution, with what is needed to read its fields anywhere.
pub(crate) struct Computed {
    night: Night,
    grid: Grid,
}

impl Computed {
    pub(crate) fn new(scenario: &Scenario, resolution: &Resolution) -> Self {
        let mut scenario = scenario.clone();
        scenario.output.fields_at = TIMES.to_vec();
        scenario.output.interval = Duration::from_seconds(300.0);
        let night = simulate(&scenario, resolution).expect("the night can be computed");
        let section = geometry::section(&scenario.mirror).expect("the mirror has a shape");
        let grid = Grid::new(&section, resolution, &geometry::breaks(&scenario));
        assert_eq!(grid.radii(), night.points.radius_m, "fields are read on the night's own grid");
        Self { night, grid }
    }

    /// Largest difference of any temperature of the history or of a field [K].
    pub(crate) fn deviation(&self, other: &Self) -> f64 {
        let mut worst = self.history_deviation(other);
        for radius in self.radii() {
            for height in self.heights(radius) {
                let (own, others) = (self.at(radius, height), other.at(radius, height));
                let pairs = own.iter().zip(&others);
                worst = pairs.fold(worst, |w, (a, b)| w.max((a - b).abs()));
            }
        }
        worst
    }

    /// The published temperatures and their differences.
    pub(crate) fn history_deviation(&self, other: &Self) -> f64 {
        let is_kelvin = |name: &str| name.ends_with("_c") || name.ends_with("_k");
        let kelvins: Vec<_> = COLUMNS.iter().filter(|column| is_kelvin(column.name)).collect();
        let rows = self.night.history.iter().zip(&other.night.history);
        let late = rows.filter(|(row, _)| row.time_s >= TIMES[0]);
        late.flat_map(|(a, b)| kelvins.iter().map(|column| (column.value)(a) - (column.value)(b)))
            .fold(0.0, |worst, difference| difference.abs().max(worst))
    }

    /// Temperature at a place at each of the compared times [K], `[times]`.
    fn at(&self, radius: f64, height: f64) -> Vec<f64> {
        let place = (Length::from_metres(radius), Length::from_metres(height));
        let terms = self.grid.interpolation(place.0, place.1);
        let fields = self.night.fields.iter();
        fields
            .map(|field| {
                let values = field.temperature_k.as_slice().expect("fields are contiguous");
                terms.iter().map(|&(point, weight)| weight * values[point]).sum()
            })
            .collect()
    }

    fn radii(&self) -> Vec<f64> {
        let section = self.grid.section();
        let (inner, outer) = (section.inner_radius(), section.outer_radius());
        let jumps = geometry::breaks(&self.night.scenario).jumps;
        let mut radii = spread_out(inner, outer);
        radii.extend(beside(&[jumps.front, jumps.back].concat()));
        radii.retain(|radius| (inner..=outer).contains(radius));
        radii
    }

    fn heights(&self, radius: f64) -> Vec<f64> {
        let thickness = self.grid.section().thickness(radius);
        let mut heights = spread_out(0.0, thickness);
        heights.extend(beside(&geometry::breaks(&self.night.scenario).jumps.rim));
        heights.retain(|height| (0.0..=thickness).contains(height));
        heights
    }
}

/// Places from end to end, closer near the ends.
fn spread_out(from: f64, to: f64) -> Vec<f64> {
    let shares = [0.0, 0.01, 0.05, 0.15, 0.3, 0.5, 0.7, 0.85, 0.95, 0.99];
    let mut places: Vec<f64> = shares.iter().map(|share| from + share * (to - from)).collect();
    places.push(to);
    places
}

fn beside(jumps: &[f64]) -> Vec<f64> {
    jumps.iter().flat_map(|jump| BESIDE.iter().flat_map(move |d| [jump - d, jump + d])).collect()
}

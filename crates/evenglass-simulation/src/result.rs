//! What a night leaves behind: plain data, no methods that compute physics.

use evenglass_scenario::Scenario;
use evenglass_units::{Temperature, TemperatureDifference, VolumeRate};
use ndarray::Array2;

use crate::dew::DewNight;
use crate::image::{IMAGE_COLUMNS, Image};

/// One row of the history: the state of the glass at one instant.
///
/// Temperatures are those of the surface or point itself. "Centre" is the axis,
/// or the hole's wall; "mid" is half the local thickness. At a jump a row holds
/// the value after it.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    /// Time from the start \[s\].
    pub time_s: f64,
    /// Night air.
    pub air: Temperature,
    /// Front face, centre.
    pub front_centre: Temperature,
    /// Front face, rim.
    pub front_edge: Temperature,
    /// Half the thickness, centre.
    pub mid_centre: Temperature,
    /// Half the thickness, rim.
    pub mid_edge: Temperature,
    /// Back face, centre.
    pub back_centre: Temperature,
    /// Back face, rim.
    pub back_edge: Temperature,
    /// Volume mean.
    pub mean: Temperature,
    /// Warmest minus coldest point of the glass.
    pub spread: TemperatureDifference,
    /// Area mean of the front minus air.
    pub front_minus_air: TemperatureDifference,
    /// Heat that has left the glass since the start \[J\].
    pub heat_lost_j: f64,
    /// Fraction of full speed at which the fans run [-].
    pub fan_speed: f64,
    /// Air that reaches the glass.
    pub flow: VolumeRate,
    /// Base of the column above the glass minus night air; NaN where moved air ends in
    /// no column.
    pub column_excess: TemperatureDifference,
    /// Coldest point of the front; of lopsided glass, around the axis too.
    pub front_coldest: Temperature,
    /// That minus the dew point of the night air, below 0 °C its frost point; NaN where the
    /// night does not tell its humidity.
    pub dew_margin_primary: TemperatureDifference,
    /// The same of the secondary's face; NaN without one too.
    pub dew_margin_secondary: TemperatureDifference,
    /// Face of the secondary; NaN without one.
    pub secondary: Temperature,
    /// Wall around the mirror; NaN without a telescope.
    pub wall: Temperature,
    /// Figure, focus, blur.
    pub image: Image,
    /// Whether it lies in one of the night's good stretches.
    pub good: bool,
}

/// A numeric column of the history: its contracted name and how to read it.
#[derive(Debug, Clone, Copy)]
pub struct Column {
    /// Name in `history.csv`; the unit is the last suffix.
    pub name: &'static str,
    /// The value in that unit.
    pub value: fn(&Record) -> f64,
}

/// Numeric columns.
const COUNT: usize = 35;

/// Those of the glass itself.
const GLASS_COLUMNS: [Column; 14] = [
    Column { name: "time_s", value: |r| r.time_s },
    Column { name: "air_c", value: |r| r.air.celsius() },
    Column { name: "front_centre_c", value: |r| r.front_centre.celsius() },
    Column { name: "front_edge_c", value: |r| r.front_edge.celsius() },
    Column { name: "mid_centre_c", value: |r| r.mid_centre.celsius() },
    Column { name: "mid_edge_c", value: |r| r.mid_edge.celsius() },
    Column { name: "back_centre_c", value: |r| r.back_centre.celsius() },
    Column { name: "back_edge_c", value: |r| r.back_edge.celsius() },
    Column { name: "mean_c", value: |r| r.mean.celsius() },
    Column { name: "edge_minus_centre_k", value: |r| (r.mid_edge - r.mid_centre).kelvins() },
    Column {
        name: "front_edge_minus_centre_k",
        value: |r| (r.front_edge - r.front_centre).kelvins(),
    },
    Column { name: "spread_k", value: |r| r.spread.kelvins() },
    Column { name: "front_minus_air_k", value: |r| r.front_minus_air.kelvins() },
    Column { name: "heat_lost_j", value: |r| r.heat_lost_j },
];

/// Those of what surrounds it.
const AIR_COLUMNS: [Column; 9] = [
    Column { name: "fan_speed", value: |r| r.fan_speed },
    Column { name: "flow_l_s", value: |r| 1e3 * r.flow.m3_per_s() },
    Column { name: "column_excess_k", value: |r| r.column_excess.kelvins() },
    Column { name: "dew_margin_primary_k", value: |r| r.dew_margin_primary.kelvins() },
    Column { name: "dew_margin_secondary_k", value: |r| r.dew_margin_secondary.kelvins() },
    Column { name: "wall_c", value: |r| r.wall.celsius() },
    Column { name: "tube_focus_um", value: |r| 1e6 * r.image.tube_focus_m },
    Column { name: "good_aperture_mm", value: |r| 1e3 * r.image.good_aperture_m },
    Column { name: "secondary_c", value: |r| r.secondary.celsius() },
];

/// The numeric columns of this version, in the contracted order. Two columns are not
/// numbers: `clock` stands after the first and `good` after `dew_margin_secondary_k`.
pub const COLUMNS: [Column; COUNT] = columns();

const fn columns() -> [Column; COUNT] {
    let mut all = [GLASS_COLUMNS[0]; COUNT];
    let groups: [&[Column]; 3] = [&GLASS_COLUMNS, &IMAGE_COLUMNS, &AIR_COLUMNS];
    let (mut group, mut next) = (0, 0);
    while group < groups.len() {
        let mut n = 0;
        while n < groups[group].len() {
            all[next] = groups[group][n];
            (n, next) = (n + 1, next + 1);
        }
        group += 1;
    }
    assert!(next == COUNT, "every column is counted");
    all
}

/// The whole temperature field at one instant, on the solver's own points.
#[derive(Debug, Clone, PartialEq)]
pub struct Field {
    /// Time from the start \[s\].
    pub time_s: f64,
    /// Night air then \[K\].
    pub air_k: f64,
    /// Kelvin, `[radial points, axial points]`; the last axial point lies on the front. Of
    /// lopsided glass the mean around the axis.
    pub temperature_k: Array2<f64>,
    /// The surface of the front then.
    pub surface: Surface,
}

/// The figure of the front at one instant: `u_z − z′ u_r` since the glass was free of stress.
#[derive(Debug, Clone, PartialEq)]
pub struct Surface {
    /// Radii from hole or axis to rim \[m\]; between them the figure is quadratic over each
    /// pair of steps.
    pub radius_m: Vec<f64>,
    /// Round part \[m\], `[radii]`.
    pub round_m: Vec<f64>,
    /// (Order, cosine part \[m\], sine part \[m\]) of what varies around the axis.
    pub orders: Vec<(usize, Vec<f64>, Vec<f64>)>,
}

/// The front at an instant that a picture is made of.
#[derive(Debug, Clone, PartialEq)]
pub struct Moment {
    /// Why this instant.
    pub what: Occasion,
    /// Time from the start \[s\].
    pub time_s: f64,
    /// The front then.
    pub surface: Surface,
}

/// Why an instant is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Occasion {
    /// The largest total figure error of the night.
    Worst,
    /// The start of the first good stretch.
    Ready,
}

impl Surface {
    /// Where only temperatures were computed.
    pub(crate) fn unknown() -> Self {
        Self { radius_m: vec![], round_m: vec![], orders: vec![] }
    }
}

/// The points the fields are given on.
#[derive(Debug, Clone, PartialEq)]
pub struct FieldPoints {
    /// Radius \[m\], `[radial points]`, ascending.
    pub radius_m: Vec<f64>,
    /// Height above the back \[m\], `[radial points, axial points]`.
    pub height_m: Array2<f64>,
}

/// A stretch of the night in which the image is good.
#[derive(Debug, Clone, PartialEq)]
pub struct GoodInterval {
    /// Start \[s\].
    pub from_s: f64,
    /// End \[s\].
    pub to_s: f64,
    /// What ended it.
    pub ended_by: Ending,
    /// What was met last when it began; `None` if it began with the run.
    pub begun_by: Option<Criterion>,
}

/// What must be met for a good image.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Criterion {
    /// The figure, all orders.
    Figure,
    /// The blur by the mirror's own air.
    Shimmer,
    /// The margins of primary and secondary from their dew point, where the night tells it.
    Dew,
    /// Front against air, where the author has set a limit.
    FrontMinusAir,
}

/// What ends a good stretch.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ending {
    /// This was no longer met.
    Missed(Criterion),
    /// The run was over.
    EndOfRun,
}

/// When a criterion is met, whether or not the others are.
#[derive(Debug, Clone, PartialEq)]
pub struct Passing {
    /// Which.
    pub criterion: Criterion,
    /// From and to \[s\], in order.
    pub stretches: Vec<(f64, f64)>,
}

/// Where the heat went.
#[derive(Debug, Clone, PartialEq)]
pub struct Energy {
    /// Heat that left the glass \[J\].
    pub lost_j: f64,
    /// Heat still stored, relative to the start \[J\]; lost + stored = 0 when the balance closes.
    pub stored_j: f64,
    /// |lost + stored| over the heat exchanged in either direction [-], which is taken
    /// as at least what 0.01 K of the whole glass is worth.
    pub residual: f64,
}

/// Something the reader should know, said once however often it happened.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Warning {
    /// Stable code, explained by `evenglass explain CODE`.
    pub code: &'static str,
    /// One sentence.
    pub text: String,
    /// How often.
    pub count: u64,
}

/// One computed night.
#[derive(Debug, Clone, PartialEq)]
pub struct Night {
    /// What was computed.
    pub scenario: Scenario,
    /// One row per output interval.
    pub history: Vec<Record>,
    /// Points of the fields.
    pub points: FieldPoints,
    /// Fields at the requested times, and at least one: where the spread is largest.
    pub fields: Vec<Field>,
    /// The worst instant of the figure and, if there is one, that at which the mirror is ready.
    pub moments: Vec<Moment>,
    /// Good stretches, in order: all criteria met for at least as long as asked.
    pub good_intervals: Vec<GoodInterval>,
    /// Each criterion alone.
    pub passing: Vec<Passing>,
    /// Start of the first good stretch \[s\]; `None` if there is none.
    pub ready_at_s: Option<f64>,
    /// Smallest value of each of [`COLUMNS`] and its time \[s\], wherever it lies between
    /// the rows. What is reached just before a jump carries the jump's time.
    pub minima: Vec<(f64, f64)>,
    /// Largest value of each of [`COLUMNS`] and its time \[s\], likewise.
    pub maxima: Vec<(f64, f64)>,
    /// Mid edge minus mid centre \[K\] that is largest in size from `ready_at_s` on, or
    /// in the second half of a night that never becomes good, and its time \[s\].
    pub worst_late_edge: (f64, f64),
    /// Dew and frost; `None` where the night does not tell its humidity.
    pub dew: Option<DewNight>,
    /// The balance.
    pub energy: Energy,
    /// What left its range, and what this version does not model.
    pub warnings: Vec<Warning>,
}

impl Night {
    /// Hours of good image.
    #[must_use]
    pub fn good_hours(&self) -> f64 {
        self.good_intervals.iter().fold(0.0, |sum, i| sum + (i.to_s - i.from_s) / 3600.0)
    }
}

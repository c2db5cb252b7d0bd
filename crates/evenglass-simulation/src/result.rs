//! What a night leaves behind: plain data, no methods that compute physics.

use evenglass_scenario::Scenario;
use evenglass_units::{Temperature, TemperatureDifference, VolumeRate};
use ndarray::Array2;

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
}

/// A numeric column of the history: its contracted name and how to read it.
#[derive(Debug, Clone, Copy)]
pub struct Column {
    /// Name in `history.csv`; the unit is the last suffix.
    pub name: &'static str,
    /// The value in that unit.
    pub value: fn(&Record) -> f64,
}

/// The numeric columns of this version, in the contracted order; `clock` is
/// text and stands after the first.
pub const COLUMNS: [Column; 17] = [
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
    Column { name: "fan_speed", value: |r| r.fan_speed },
    Column { name: "flow_l_s", value: |r| 1e3 * r.flow.m3_per_s() },
    Column { name: "column_excess_k", value: |r| r.column_excess.kelvins() },
];

/// The whole temperature field at one instant, on the solver's own points.
#[derive(Debug, Clone, PartialEq)]
pub struct Field {
    /// Time from the start \[s\].
    pub time_s: f64,
    /// Night air then \[K\].
    pub air_k: f64,
    /// Kelvin, `[radial points, axial points]`; the last axial point lies on the front.
    pub temperature_k: Array2<f64>,
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
}

/// What ends a good stretch.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ending {
    /// The front became too warm or too cold against the air.
    FrontMinusAir,
    /// The run was over.
    EndOfRun,
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
    /// Good stretches, in order.
    pub good_intervals: Vec<GoodInterval>,
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

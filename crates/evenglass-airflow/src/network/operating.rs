//! What a network does at one speed of its fans.

use thiserror::Error;

/// How the fans are doing.
#[derive(Debug, Clone, PartialEq)]
pub enum State {
    /// As they should.
    Running,
    /// Against so much resistance that axial fans stall: left of 0.4 of their free flow.
    Stalling,
    /// They stand still: no speed, or less than they need.
    Stopped,
    /// There is no balance to find.
    NoOperatingPoint {
        /// Why.
        reason: Reason,
    },
}

/// Why a network has no operating point.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum Reason {
    /// Every fan has failed, or there is none.
    #[error("no fan is left that turns")]
    NoFan,
    /// Nothing holds the air back in a branch: its flow is not determined.
    #[error("nothing resists the flow in the branch `{branch}`: give its outlet a loss")]
    NoResistance {
        /// Its name.
        branch: String,
    },
    /// Speed or air that is not a positive finite number.
    #[error("the speed of the fans or a property of the air is not a number above zero")]
    NotPhysical,
}

/// One layer while air passes.
#[derive(Debug, Clone, PartialEq)]
pub struct Passage {
    /// Of the layer.
    pub name: String,
    /// Total pressure lost \[Pa\].
    pub drop: f64,
    /// On the layer's area [m/s].
    pub speed: f64,
}

/// One branch while air passes.
#[derive(Debug, Clone, PartialEq)]
pub struct BranchFlow {
    /// Of the branch.
    pub name: String,
    /// Through it [m³/s].
    pub flow: f64,
    /// Its layers, in their order.
    pub passages: Vec<Passage>,
}

/// Where fans and resistance balance. Without a balance, every flow and pressure is 0.
#[derive(Debug, Clone, PartialEq)]
pub struct Operating {
    /// How the fans are doing.
    pub state: State,
    /// At which they turn, as a share of full speed [-].
    pub speed: f64,
    /// Through the trunk [m³/s].
    pub flow: f64,
    /// Static pressure over the bank \[Pa\].
    pub fan_pressure: f64,
    /// Behind the trunk, above the open \[Pa\].
    pub plenum_pressure: f64,
    /// The trunk's layers, in their order.
    pub trunk: Vec<Passage>,
    /// The branches, in their order.
    pub branches: Vec<BranchFlow>,
    /// Flow times pressure of the bank \[W\].
    pub air_power: f64,
    /// Drawn by all turning fans \[W\]; not below the air power, should the motor's rating
    /// be too small for that.
    pub electric_power: f64,
    /// What the stream takes up of that \[W\].
    pub heat_to_air: f64,
    /// By which it is warmer for it \[K\]; at most 20.
    pub temperature_rise: f64,
    /// Against one fan at full speed \[dB\]; −150 at rest.
    pub noise_change_db: f64,
    /// One standard deviation of the flow as a share of it [-], from those of the curve
    /// and of all layers.
    pub flow_sigma: f64,
}

//! A fan, what it blows through, and where that balances.

mod balance;
mod operating;

pub use operating::{BranchFlow, Operating, Passage, Reason, State};

use crate::Air;
use crate::fan::Bank;
use crate::loss::Loss;

/// One thing air passes through.
#[derive(Debug, Clone, PartialEq)]
pub struct Layer {
    /// What its owner calls it.
    pub name: String,
    /// Area to which its speed refers \[m²\].
    pub area: f64,
    /// How it resists.
    pub law: Loss,
}

/// Layers in series from the plenum to the open.
#[derive(Debug, Clone, PartialEq)]
pub struct Branch {
    /// What its owner calls it.
    pub name: String,
    /// In the order air passes them.
    pub layers: Vec<Layer>,
}

/// A bank of fans, layers behind it, and the branches that part behind those.
///
/// Every branch ends in the open, whose pressure is that before the fans. A leak is one
/// more branch. Air sucked the other way is the same network: drops are odd in the flow.
#[derive(Debug, Clone, PartialEq)]
pub struct Network {
    /// The fans.
    pub bank: Bank,
    /// Passed by all air, in this order.
    pub trunk: Vec<Layer>,
    /// Side by side; none if the trunk ends in the open.
    pub branches: Vec<Branch>,
}

impl Layer {
    /// A layer called `name` with speeds on `area` \[m²\].
    #[must_use]
    pub fn new(name: impl Into<String>, area: f64, law: Loss) -> Self {
        Self { name: name.into(), area, law }
    }

    /// Total pressure lost \[Pa\] at `flow` [m³/s].
    #[must_use]
    pub fn drop(&self, flow: f64, air: &Air) -> f64 {
        self.law.drop(flow, air)
    }

    /// Mean speed on its area [m/s]; 0 where nothing flows.
    #[must_use]
    pub fn speed(&self, flow: f64) -> f64 {
        if flow == 0.0 { 0.0 } else { flow / self.area }
    }

    fn passage(&self, flow: f64, air: &Air) -> Passage {
        Passage { name: self.name.clone(), drop: self.drop(flow, air), speed: self.speed(flow) }
    }
}

/// Pressure that layers in series lose together \[Pa\].
fn series_drop(layers: &[Layer], flow: f64, air: &Air) -> f64 {
    layers.iter().map(|layer| layer.drop(flow, air)).sum()
}

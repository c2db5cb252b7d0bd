//! From a scenario's mirror to the disc's section, material and points.

use std::collections::HashMap;
use std::convert::Infallible;
use std::hash::Hash;
use std::sync::{Arc, Mutex, PoisonError};

use evenglass_disc::{Breaks, Grid, Material, Resolution, Section, SectionError};
use evenglass_materials::Glass;
use evenglass_optics::DeflectionError;
use evenglass_scenario::Scenario;
use evenglass_scenario::scenario::Mirror;
use evenglass_units::SpecificHeat;

use crate::figure::{Apertures, Influence};
use crate::films;

/// The section of `mirror`.
///
/// # Errors
/// If the shape leaves no glass; a checked scenario never does.
pub fn section(mirror: &Mirror) -> Result<Section, SectionError> {
    Section::new(mirror.diameter, mirror.edge_thickness, mirror.focal_ratio, mirror.hole_diameter)
}

/// The glass as the conduction sees it.
#[must_use]
pub fn material(glass: &Glass) -> Material {
    let at_zero = SpecificHeat::from_j_per_kg_k(glass.heat.c);
    Material::constant(glass.density, at_zero, glass.conductivity)
        .with_stored_heat(glass.heat.a, glass.heat.b, glass.heat.c)
        .with_conductivity_slope(glass.conductivity_slope)
}

/// Where the films of `scenario` jump or have a kink along its faces.
#[must_use]
pub fn breaks(scenario: &Scenario) -> Breaks {
    films::breaks(scenario)
}

/// Grids already made, shared by nights of the same shape.
///
/// A grid depends on the section, the resolution and where the films break, and
/// on nothing else; a sweep over speeds or glasses makes one.
#[derive(Debug, Default)]
pub struct Geometries {
    made: Mutex<HashMap<String, Arc<Grid>>>,
    /// By grid, Poisson's ratio and order.
    influences: Mutex<HashMap<(String, u64, usize), Arc<Influence>>>,
    /// By section and obstruction.
    apertures: Mutex<HashMap<(String, u64), Arc<Apertures>>>,
}

/// Grids kept at once; a sweep over diameters makes a new one for each member
/// and must not keep them all.
const KEPT: usize = 64;

impl Geometries {
    /// None made yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// The grid for this shape, made now if it is new.
    #[must_use]
    pub fn grid(&self, section: &Section, resolution: &Resolution, breaks: &Breaks) -> Arc<Grid> {
        let key = key(section, resolution, breaks);
        let made =
            kept(&self.made, key, || Ok::<_, Infallible>(Grid::new(section, resolution, breaks)));
        made.unwrap_or_else(|never| match never {})
    }

    /// How temperatures on that grid bend its front in one order around the axis, for glass
    /// of a Poisson's ratio.
    pub(crate) fn influence(
        &self,
        grid: &Grid,
        (resolution, breaks): (&Resolution, &Breaks),
        (poisson_ratio, order): (f64, usize),
    ) -> Result<Arc<Influence>, DeflectionError> {
        let key = (key(grid.section(), resolution, breaks), poisson_ratio.to_bits(), order);
        kept(&self.influences, key, || Influence::new(grid, poisson_ratio, order))
    }

    /// The parts of a front that figures are read on.
    ///
    /// * `influence` — of order 0
    /// * `obstruction` — its radius \[m\]
    pub(crate) fn apertures(
        &self,
        section: &Section,
        influence: &Influence,
        obstruction: f64,
    ) -> Arc<Apertures> {
        let key = (format!("{section:?}"), obstruction.to_bits());
        let made = kept(&self.apertures, key, || {
            Ok::<_, Infallible>(Apertures::new(influence, obstruction))
        });
        made.unwrap_or_else(|never| match never {})
    }
}

/// Debug prints every digit of a float, so equal keys mean equal grids.
fn key(section: &Section, resolution: &Resolution, breaks: &Breaks) -> String {
    format!("{section:?} {resolution:?} {breaks:?}")
}

/// What is kept under a key, made now if it is new.
fn kept<K: Eq + Hash, T, E>(
    made: &Mutex<HashMap<K, Arc<T>>>,
    key: K,
    make: impl FnOnce() -> Result<T, E>,
) -> Result<Arc<T>, E> {
    let lock = || made.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some(known) = lock().get(&key) {
        return Ok(Arc::clone(known));
    }
    let new = Arc::new(make()?);
    let mut made = lock();
    if made.len() >= KEPT {
        made.clear();
    }
    made.insert(key, Arc::clone(&new));
    Ok(new)
}

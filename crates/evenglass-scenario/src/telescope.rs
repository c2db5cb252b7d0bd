//! `[telescope]` as meant: what stands around the mirror.

use evenglass_units::{Conductivity, Density, Expansion, Length, SpecificHeat, Temperature};

/// What stands around the mirror.
#[derive(Debug, Clone, PartialEq)]
pub struct Telescope {
    /// Tube, truss or box.
    pub form: Form,
    /// Between the rim of the glass and the wall.
    pub clearance: Length,
    /// From the edge of the front to the mouth of the wall around it.
    pub length: Length,
    /// From the back of the glass to the board or end of the tube behind it.
    pub behind: Length,
    /// What the wall is made of.
    pub wall: Wall,
    /// Fraction of the wind that reaches the front [-].
    pub shelter: f64,
    /// Share of the back that the cell's pads cover [-].
    pub pads: f64,
    /// The secondary mirror, if it is to be reckoned with.
    pub secondary: Option<Secondary>,
    /// Linear expansion of what holds the focuser at its distance from the primary; `None`
    /// leaves its share of the focus out.
    pub expansion: Option<Expansion>,
}

/// The form of a telescope.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// A closed round tube.
    Tube,
    /// A mirror box with an open truss above it.
    Truss,
    /// A mirror box with a truss in a cloth shroud.
    ShroudedTruss,
    /// A square box all the way.
    Box,
}

/// The wall around mirror and light path, as one body.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wall {
    /// Thickness.
    pub thickness: Length,
    /// Mass per volume.
    pub density: Density,
    /// Heat per mass and kelvin.
    pub specific_heat: SpecificHeat,
    /// Thermal conductivity.
    pub conductivity: Conductivity,
    /// Emissivity of the inside [-].
    pub inside_emissivity: f64,
    /// Emissivity of the outside [-].
    pub outside_emissivity: f64,
    /// Temperature at the start.
    pub start: Temperature,
}

/// The secondary mirror.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Secondary {
    /// Minor axis.
    pub diameter: Length,
    /// From the primary's front.
    pub distance: Length,
    /// Of its glass.
    pub thickness: Length,
    /// Share of its back that the holder covers [-].
    pub holder: f64,
    /// Emissivity of the back where it is bare [-].
    pub back_emissivity: f64,
    /// Heater on its back at full power \[W\].
    pub heater_w: Option<f64>,
}

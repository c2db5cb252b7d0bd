//! `[ventilation]` as meant: which fans push the air through what, and where it goes.

use evenglass_units::{Angle, Area, Length, Power, Pressure, Speed, Voltage, VolumeRate};

use crate::profile::Profile;

/// How the air is moved: one arrangement, and perhaps a second on the other side of the glass.
#[derive(Debug, Clone, PartialEq)]
pub struct Ventilation {
    /// What moves most of the air.
    pub main: System,
    /// A second arrangement, of those that leave the first one's side of the glass alone.
    pub second: Option<System>,
}

/// An arrangement with the fans that drive it and what their air passes.
#[derive(Debug, Clone, PartialEq)]
pub struct System {
    /// Where the air goes.
    pub arrangement: Arrangement,
    /// What drives it; `None` where nothing does.
    pub fans: Option<Fans>,
    /// What the air passes one after the other between outside and the arrangement.
    pub layers: Vec<Layer>,
    /// Openings through which air escapes from the pressure side without reaching the glass.
    pub leak: Option<Area>,
}

/// Where the air goes.
#[derive(Debug, Clone, PartialEq)]
pub enum Arrangement {
    /// One fan on (or beside) the axis, blowing at the back.
    FanBehind(Behind),
    /// Several fans on the back board, evenly spaced on a circle, blowing at the back.
    FansBehind {
        /// The circle their axes stand on.
        circle_diameter: Length,
        /// Angle of the first.
        angle: Angle,
        /// Distance and cell.
        behind: Behind,
    },
    /// Fans draw the air in past the rim, over the back to the middle and out.
    Suction {
        /// Space between the back of the glass and the board with the fans.
        gap: Length,
        /// Between the rim and the wall around it.
        rim_gap: Length,
        /// A ring over the edge of the front that leads the air over it.
        baffle: Option<Length>,
    },
    /// A plenum behind the glass blows through a perforated plate at the back, and
    /// through a slot around the rim outward.
    Plenum {
        /// The perforated middle.
        plate: Plate,
        /// The outlet around it.
        outlet: Outlet,
    },
    /// A ring nozzle around the rim sends the air inward over the front.
    RingNozzle(Box<RingNozzle>),
    /// Rows of fans beside the mirror blow across the front.
    SideFans(SideFans),
    /// Fans in the corners of the box blow across the front towards the middle.
    CornerFans {
        /// From the fans' blades to the edge of the glass.
        distance: Length,
        /// Of the fans' axes above the edge of the front.
        height: Length,
        /// Angle of the first; the others follow evenly around the mirror.
        angle: Angle,
    },
    /// A fan on the axis above the front blows down.
    FanAbove {
        /// From the blades to the front.
        distance: Length,
    },
    /// No fans: the wind reaches the glass as far as the telescope lets it.
    Open,
    /// No fans and no openings: the air stays in the box.
    Sealed,
}

/// One fan or several behind the glass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Behind {
    /// From the blades to the back of the glass.
    pub distance: Length,
    /// What leads the air outward.
    pub cell: crate::scenario::Cell,
    /// Of a single fan's axis from the mirror's.
    pub offset: Length,
    /// Where the offset fan stands.
    pub offset_angle: Angle,
}

/// A plate with holes, facing the back of the glass.
#[derive(Debug, Clone, PartialEq)]
pub struct Plate {
    /// Of the perforated part.
    pub diameter: Length,
    /// From the plate to the back of the glass.
    pub distance: Length,
    /// Diameter of a hole.
    pub hole_diameter: Length,
    /// Number of holes.
    pub holes: u32,
    /// Thickness of the plate.
    pub thickness: Length,
    /// Felt, foam or mesh over the plate, in series with it.
    pub cover: Vec<Layer>,
}

/// A slot around the rim from which air leaves the plenum.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outlet {
    /// Width of the slot.
    pub width: Length,
    /// Diameter of the circle it follows.
    pub diameter: Length,
    /// Between the stream and the mirror's axis: 0 along the rim, 90° straight outward.
    pub angle: Angle,
}

/// A ring nozzle.
#[derive(Debug, Clone, PartialEq)]
pub struct RingNozzle {
    /// Width of the slot: its mean around the ring.
    pub slot: Length,
    /// Narrowest and widest place of the slot, if measured.
    pub slot_range: Option<(Length, Length)>,
    /// Where the slot is widest.
    pub slot_angle: Angle,
    /// Length of the parallel lips; 0 is a sharp edge.
    pub lip: Length,
    /// Lower edge of the slot above the edge of the front.
    pub height: Length,
    /// From the slot's mouth inward to the edge of the glass; negative where the lip
    /// covers part of the front.
    pub setback: Length,
    /// Turbulence of the air in the nozzle [-].
    pub turbulence: f64,
    /// Cross-section of the channel that feeds the ring, where the air runs around.
    pub ring_section: Area,
    /// Where the air enters the ring.
    pub feed: Feed,
    /// Which way it came.
    pub path: Path,
}

/// How a ring nozzle is fed around.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Feed {
    /// All around alike.
    Even,
    /// At one place.
    OnePoint(Angle),
}

/// How the air comes to a ring nozzle.
#[derive(Debug, Clone, PartialEq)]
pub enum Path {
    /// Straight from the fans.
    Direct,
    /// From a middle inlet along the back of the glass, past the rim.
    PastBack {
        /// Space between the back of the glass and the board.
        gap: Length,
        /// Between the rim and the wall around it.
        rim_gap: Length,
    },
    /// Through a perforated plate at the back, past the rim.
    ThroughPlate {
        /// The plate.
        plate: Plate,
        /// Between the rim and the wall around it.
        rim_gap: Length,
    },
}

/// Rows of fans beside the mirror.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SideFans {
    /// Rows of fans; their number is shared among them.
    pub rows: Rows,
    /// Where the (first) row stands.
    pub angle: Angle,
    /// Width of a row, end to end.
    pub width: Length,
    /// From the blades to the edge of the glass.
    pub distance: Length,
    /// Of the fans' axes above the edge of the front.
    pub height: Length,
}

/// On how many sides rows of fans stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rows {
    /// One row.
    OneSide,
    /// Two rows facing each other.
    BothSides,
}

/// The fans of an arrangement: alike, side by side, perhaps one behind the other.
#[derive(Debug, Clone, PartialEq)]
pub struct Fans {
    /// Blade tip diameter.
    pub diameter: Length,
    /// Hub diameter.
    pub hub_diameter: Length,
    /// What a fan does against a pressure, at rated speed.
    pub curve: FanData,
    /// Side by side.
    pub count: u32,
    /// One behind the other, each.
    pub in_series: u32,
    /// Of `count`, those that have failed, from the first on.
    pub failed: u32,
    /// Electric power of one at full speed.
    pub power: Power,
    /// Where the motors leave their heat.
    pub motor: MotorPlace,
    /// Fraction of full speed below which a fan stands still [-].
    pub minimum_speed: f64,
    /// Fraction of full speed a standing fan needs to start [-].
    pub start_speed: f64,
    /// Voltage at which the curve holds.
    pub rated_voltage: Option<Voltage>,
    /// Supply voltage against time [s → V]; full speed falls in proportion.
    pub supply_voltage: Option<Profile>,
    /// Sound level of one at full speed, at 1 m \[dB\].
    pub noise_db: Option<f64>,
}

/// What is known of a fan.
#[derive(Debug, Clone, PartialEq)]
pub enum FanData {
    /// Points of its curve, flow ascending.
    Points(Vec<(VolumeRate, Pressure)>),
    /// The two ends of the curve.
    Ends {
        /// Flow against no pressure.
        free_flow: VolumeRate,
        /// Pressure without flow.
        max_pressure: Pressure,
    },
}

/// Where a motor's waste heat goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MotorPlace {
    /// Into the air it moves.
    InStream,
    /// Outside.
    Outside,
}

/// Something the air passes.
#[derive(Debug, Clone, PartialEq)]
pub struct Layer {
    /// What it is.
    pub kind: LayerKind,
    /// How many of them stand one behind the other.
    pub count: u32,
}

/// What a layer is made of.
#[derive(Debug, Clone, PartialEq)]
pub enum LayerKind {
    /// A filter of a named class, clean pressure drop times 1 + loading.
    Filter {
        /// Name in the table of media.
        media: String,
        /// Face area of the mat, pleats smoothed.
        area: Area,
        /// Extra share of the clean drop by dust [-].
        loading: f64,
    },
    /// Cloth, felt, foam or a filter known by its pressure drop at one or two face speeds.
    Porous {
        /// (face speed, pressure drop), one or two.
        points: Vec<(Speed, Pressure)>,
        /// Face area.
        area: Area,
        /// Extra share by dust [-].
        loading: f64,
    },
    /// A perforated plate across the stream.
    Perforated {
        /// Open share of the area [-].
        open_fraction: f64,
        /// Whole area.
        area: Area,
        /// Diameter of the holes.
        hole_diameter: Length,
        /// Thickness of the plate.
        thickness: Length,
    },
    /// A sharp-edged opening.
    Opening {
        /// Open area.
        area: Area,
    },
    /// A bend.
    Bend {
        /// Diameter of the duct.
        diameter: Length,
        /// Radius of its middle line; `None` is a mitre.
        radius: Option<Length>,
        /// Turn.
        angle: Angle,
    },
    /// A straight duct.
    Duct {
        /// Inner diameter.
        diameter: Length,
        /// Length.
        length: Length,
    },
    /// A sudden change of the duct's diameter.
    Step {
        /// Before.
        from: Length,
        /// After.
        to: Length,
    },
    /// A loss coefficient known from elsewhere.
    Loss {
        /// Pressure drop over dynamic pressure [-].
        coefficient: f64,
        /// Area that the dynamic pressure is taken at.
        area: Area,
    },
}

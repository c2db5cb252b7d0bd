//! Moved air along the back of the glass.

use std::f64::consts::PI;

use evenglass_convection::array::{Crossflow, NozzleArray, Rows, radial_mass_ratio, square_pitch};
use evenglass_convection::duct;
use evenglass_convection::mixed::independent;
use evenglass_convection::radial::Inflow;
use evenglass_materials::moist_air::AirProperties;
use evenglass_scenario::scenario::{Cell, FanBehind};
use evenglass_scenario::ventilation::{Behind, Fans, Plate};
use evenglass_units::{Length, VolumeRate};

use super::field::{Field, Local};
use super::network::open_share;
use crate::films::fan_breaks;
use crate::films::forced::{Fan, Warming};

/// One standard deviation of an axial fan's film, of a perforated plate's and of a
/// laminar gap's [-].
const FAN_SIGMA: f64 = 0.35;
const PLATE_SIGMA: f64 = 0.25;
const GAP_SIGMA: f64 = 0.15;

/// The air at the back in one state.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Stream<'a> {
    /// Over the back [m³/s].
    pub(crate) flow: f64,
    pub(crate) air: &'a AirProperties,
    /// Of the glass \[m\].
    pub(crate) radius: f64,
}

impl Stream<'_> {
    /// Warming of this much air by heat [K/W].
    fn gain(&self, flow: f64) -> f64 {
        1.0 / (self.air.density * self.air.specific_heat * flow)
    }
}

/// A fan on the axis, or beside it (eqs. F-6 and V-11).
pub(crate) fn fan(behind: &Behind, fans: &Fans, stream: Stream<'_>) -> Field<'static> {
    let build = blowing(behind, fans, stream.flow);
    let breaks = fan_breaks(&build);
    let (air, offset) = (*stream.air, behind.offset.metres());
    let local = move |distance: f64| fan_local(&build, &air, distance);
    if offset <= 0.0 {
        return Field::round(local, breaks);
    }
    let around = behind.offset_angle.radians();
    Field::lopsided(move |r, angle| local(distance_between((r, angle), (offset, around))), breaks)
}

/// Several fans on a circle, the first of which may stand still (eq. V-12).
pub(crate) fn fans(
    behind: &Behind,
    fans: &Fans,
    (circle, first): (f64, f64),
    stream: Stream<'_>,
) -> Field<'static> {
    let standing = standing(fans);
    let running = fans.count.saturating_sub(standing).max(1);
    let build = blowing(behind, fans, stream.flow / f64::from(running));
    let open = FanBehind { cell: Cell::Open, ..build.clone() };
    let air = *stream.air;
    let all: Vec<(f64, f64)> = (standing..fans.count)
        .map(|number| (0.5 * circle, first + 2.0 * PI * f64::from(number) / f64::from(fans.count)))
        .collect();
    let cell = behind.cell;
    let gain = stream.gain(stream.flow);
    let total = stream.flow;
    let law = move |radius: f64, angle: f64| {
        let jets =
            all.iter().map(|&axis| fan_local(&open, &air, distance_between((radius, angle), axis)));
        let jets: Vec<Local> = jets.collect();
        let mut film = independent(&jets.iter().map(|jet| jet.film).collect::<Vec<_>>());
        let mut sluggishness =
            jets.iter().map(|jet| jet.sluggishness).fold(f64::INFINITY, f64::min);
        if let Cell::Closed { gap } = cell
            && radius > 0.5 * circle
        {
            let channel = gap_local(total, radius, gap.metres(), &air);
            film = film.max(channel.film);
            sluggishness = sluggishness.min(channel.sluggishness);
        }
        Local { film, sluggishness, arriving: gain, gain, relative_sigma: FAN_SIGMA }
    };
    let on_circle = fan_breaks(&build);
    let beside = on_circle.iter().flat_map(|from| [0.5 * circle - from, 0.5 * circle + from]);
    Field::lopsided(law, beside.chain([0.5 * circle]).collect())
}

/// Air sucked inward between the back and a board (eq. C-63).
pub(crate) fn suction(gap: f64, fans: &Fans, stream: Stream<'_>) -> Field<'static> {
    let inlet = 0.5 * fans.diameter.metres();
    let (air, flow) = (*stream.air, stream.flow);
    let gain = stream.gain(flow);
    let inflow = Inflow {
        flow,
        gap,
        entry_radius: stream.radius,
        kinematic_viscosity: air.kinematic_viscosity(),
        prandtl: air.prandtl(),
    };
    let law = move |radius: f64| {
        // Under the fan the air turns away from the glass.
        let at = radius.max(inlet);
        let speed = flow / (2.0 * PI * at * gap);
        let nusselt = inflow.nusselt(at);
        Local {
            film: nusselt.value * air.conductivity / (2.0 * gap),
            sluggishness: gap / (speed * speed),
            arriving: gain,
            gain,
            relative_sigma: nusselt.relative_sigma.max(GAP_SIGMA),
        }
    };
    Field::round(law, vec![inlet])
}

/// A perforated plate facing the back, its air leaving outward (eqs. C-48 to C-53, V-10
/// and V-17).
pub(crate) fn plate(plate: &Plate, stream: Stream<'_>) -> Field<'static> {
    let (edge, distance) = (0.5 * plate.diameter.metres(), plate.distance.metres());
    let hole = plate.hole_diameter.metres();
    let open_share = open_share(plate);
    let (air, flow) = (*stream.air, stream.flow);
    let hole_speed = flow / (PI * edge * edge * open_share);
    let gain = stream.gain(flow);
    let jets = NozzleArray {
        reynolds: hole_speed * hole / air.kinematic_viscosity(),
        prandtl: air.prandtl(),
        distance: distance / hole,
        open_share,
    };
    let pitch = square_pitch(open_share);
    let rows = Crossflow {
        streamwise: pitch,
        spanwise: pitch,
        distance: distance / hole,
        rows: Rows::Inline,
    };
    let fresh = jets.mean();
    let law = move |radius: f64| {
        // Around the axis spent air has yet to gather.
        let gathered = radius.max(0.5 * distance).min(edge) / edge;
        let passing = flow * gathered * gathered;
        let channel = gap_local(passing, radius.max(0.5 * distance), distance, &air);
        let crossed = radius * radius / radius.hypot(distance);
        let left = rows.share(radial_mass_ratio(open_share, crossed, distance)).value;
        // The jets end at the edge of the plate, and are gone a gap beyond it.
        let beyond = ((radius - edge) / distance).clamp(0.0, 1.0);
        let struck = (1.0 - beyond) * fresh.value * left * air.conductivity / hole;
        let along = passing / (2.0 * PI * radius.max(0.5 * distance) * distance);
        let speed = along.max(flow / (PI * edge * edge));
        let film = independent(&[struck, channel.film]);
        // A trickle has nothing more to give than its own heat.
        let met = film * PI * edge * edge * gain;
        Local {
            film: film / (1.0 + met.powi(4)).sqrt().sqrt(),
            sluggishness: distance / (speed * speed),
            arriving: gain,
            // Fresh air comes through every hole; what has been warmed passes by.
            gain: beyond * gain,
            relative_sigma: PLATE_SIGMA,
        }
    };
    Field::round(law, vec![0.5 * distance, 0.4 * edge, edge, edge + distance])
}

/// Radial flow outward between the back and a board, from a middle inlet (eq. F-6 closed).
pub(crate) fn channel(gap: f64, fans: &Fans, stream: Stream<'_>) -> Field<'static> {
    let cell = Cell::Closed { gap: Length::from_metres(gap) };
    let none = Length::from_metres(0.0);
    let angle = evenglass_units::Angle::from_radians(0.0);
    let behind =
        Behind { distance: Length::from_metres(gap), cell, offset: none, offset_angle: angle };
    fan(&behind, fans, stream)
}

/// Places, of the `count` there are, where no fan turns: one of a pair blows through the other
/// that has failed.
pub(crate) fn standing(fans: &Fans) -> u32 {
    if fans.in_series > 1 { 0 } else { fans.failed }
}

fn blowing(behind: &Behind, fans: &Fans, flow: f64) -> FanBehind {
    FanBehind {
        fan_diameter: fans.diameter,
        hub_diameter: fans.hub_diameter,
        distance: behind.distance,
        flow: VolumeRate::from_m3_per_s(flow),
        cell: behind.cell,
    }
}

fn fan_local(build: &FanBehind, air: &AirProperties, distance: f64) -> Local {
    let fan = Fan::new(build, 1.0, air).warming(Warming::InTheAir);
    let forced = fan.at(distance);
    let flow = match build.cell {
        Cell::Open => fan.wall_flow(distance),
        Cell::Closed { .. } => build.flow.m3_per_s(),
    };
    let gain = 1.0 / (air.density * air.specific_heat * flow);
    Local {
        film: forced.film,
        sluggishness: forced.sluggishness,
        arriving: gain,
        gain,
        relative_sigma: FAN_SIGMA,
    }
}

/// Film in a gap through which `flow` spreads outward.
fn gap_local(flow: f64, radius: f64, gap: f64, air: &AirProperties) -> Local {
    let reynolds = duct::radial_reynolds(flow, radius, air.kinematic_viscosity());
    let nusselt = duct::gap_flow(reynolds, air.prandtl(), 2.0 * gap / radius).value;
    let speed = flow / (2.0 * PI * radius * gap);
    Local {
        film: nusselt * air.conductivity / (2.0 * gap),
        sluggishness: gap / (speed * speed),
        arriving: 0.0,
        gain: 0.0,
        relative_sigma: GAP_SIGMA,
    }
}

/// Distance of two points given by radius and angle \[m\].
pub(crate) fn distance_between((r, a): (f64, f64), (s, b): (f64, f64)) -> f64 {
    (r * r + s * s - 2.0 * r * s * (a - b).cos()).max(0.0).sqrt()
}

//! From an arrangement to the network its air passes.

use std::f64::consts::PI;

use evenglass_airflow::Air;
use evenglass_airflow::fan::{Bank, Curve, CurveError, Motor, MotorPlace, Shutter};
use evenglass_airflow::loss::Loss;
use evenglass_airflow::loss::channel::{Channel, Direction, Discs};
use evenglass_airflow::loss::fitting;
use evenglass_airflow::loss::opening::{self, Lips, Perforation};
use evenglass_airflow::loss::porous::{self, Medium};
use evenglass_airflow::network::{Branch, Layer, Network};
use evenglass_scenario::scenario::Cell;
use evenglass_scenario::ventilation::{
    self as written, Arrangement, Behind, FanData, Fans, LayerKind, Path, Plate, System,
};

/// Names of the branches: what the air reaches.
pub(crate) const TO_BACK: &str = "back of the glass";
pub(crate) const TO_FRONT: &str = "front of the glass";
pub(crate) const TO_OUTLET: &str = "outlet around the rim";
pub(crate) const TO_LEAK: &str = "leaks";

/// Name of a filter of a known class.
pub(crate) const FILTER: &str = "filter";

/// What the network needs to know of the mirror \[m\].
#[derive(Debug, Clone, Copy)]
pub(crate) struct Glass {
    pub(crate) radius: f64,
    pub(crate) thickness: f64,
    /// Between the rim and the wall around it, if there is one.
    pub(crate) clearance: Option<f64>,
}

/// The network of a system; `None` where nothing drives the air.
///
/// # Errors
/// If the fan's data make no curve; a checked scenario's do.
pub(crate) fn network(system: &System, glass: Glass) -> Result<Option<Network>, CurveError> {
    let Some(fans) = &system.fans else { return Ok(None) };
    let bank = bank(fans)?;
    let mut trunk: Vec<Layer> = system.layers.iter().flat_map(layers).collect();
    let mut branches = branches(&system.arrangement, fans, glass);
    if let Arrangement::RingNozzle(ring) = &system.arrangement
        && let Path::ThroughPlate { plate, .. } = &ring.path
    {
        trunk.extend(plate_layers(plate));
    }
    if let Some(leak) = system.leak {
        let layer = Layer::new("leaks", leak.m2(), opening::leak(leak.m2()));
        branches.push(Branch { name: TO_LEAK.to_owned(), layers: vec![layer] });
    }
    Ok(Some(Network { bank, trunk, branches }))
}

fn bank(fans: &Fans) -> Result<Bank, CurveError> {
    let curve = match &fans.curve {
        FanData::Points(points) => {
            let pairs: Vec<(f64, f64)> =
                points.iter().map(|(flow, p)| (flow.m3_per_s(), p.pascals())).collect();
            Curve::from_points(&pairs)?
        }
        FanData::Ends { free_flow, max_pressure } => {
            Curve::from_ends(free_flow.m3_per_s(), max_pressure.pascals())?
        }
    };
    let motor = Motor {
        minimum_speed: fans.minimum_speed,
        start_speed: fans.start_speed,
        rated_power: fans.power.watts(),
        in_stream: match fans.motor {
            written::MotorPlace::InStream => MotorPlace::InStream,
            written::MotorPlace::Outside => MotorPlace::Outside,
        },
    };
    Ok(Bank {
        curve,
        parallel: fans.count,
        series: fans.in_series,
        failed: fans.failed,
        open_area: blown_area(fans),
        shutter: Shutter::Open,
        motor,
    })
}

/// Ring between the hub and the blade tips of one fan [m²].
pub(crate) fn blown_area(fans: &Fans) -> f64 {
    let (tip, hub) = (fans.diameter.metres(), fans.hub_diameter.metres());
    0.25 * PI * (tip * tip - hub * hub).max(1e-8)
}

/// A written layer as the network's, as many times as it stands there.
fn layers(layer: &written::Layer) -> Vec<Layer> {
    let one = match &layer.kind {
        LayerKind::Filter { media, area, loading } => {
            let law = porous::filter(medium(media), area.m2());
            Layer::new(FILTER, area.m2(), porous::loaded(law, 1.0 + loading))
        }
        LayerKind::Porous { points, area, loading } => {
            let pair = |i: usize| (points[i].0.metres_per_second(), points[i].1.pascals());
            let law = if points.len() > 1 {
                porous::from_points(area.m2(), [pair(0), pair(1)])
            } else {
                porous::from_point(area.m2(), pair(0))
            };
            Layer::new("porous layer", area.m2(), porous::loaded(law, 1.0 + loading))
        }
        LayerKind::Perforated { open_fraction, area, hole_diameter, thickness } => {
            let plate = Perforation {
                area: area.m2(),
                open_share: *open_fraction,
                diameter: hole_diameter.metres(),
                thickness: thickness.metres(),
            };
            Layer::new("perforated plate", area.m2(), plate.across())
        }
        LayerKind::Opening { area } => Layer::new("opening", area.m2(), opening::leak(area.m2())),
        LayerKind::Bend { diameter, radius, angle } => {
            let bend = match radius {
                Some(radius) => {
                    let relative = radius.metres() / diameter.metres();
                    fitting::rounded_bend(DUCT_FRICTION, relative, angle.radians())
                }
                None => fitting::mitre_bend(angle.radians()),
            };
            round_layer("bend", diameter.metres(), bend.value, bend.relative_sigma)
        }
        LayerKind::Duct { diameter, length } => {
            let duct = Channel::pipe(diameter.metres(), length.metres());
            Layer::new("duct", disc_area(diameter.metres()), duct.loss())
        }
        LayerKind::Step { from, to } => step(from.metres(), to.metres()),
        LayerKind::Loss { coefficient, area } => {
            Layer::new("loss", area.m2(), Loss::coefficient(*coefficient, area.m2(), 0.2))
        }
    };
    vec![one; layer.count.max(1) as usize]
}

/// Darcy's friction factor taken for a bend: a smooth duct at Re 10⁴ [-].
const DUCT_FRICTION: f64 = 0.03;

fn disc_area(diameter: f64) -> f64 {
    0.25 * PI * diameter * diameter
}

fn round_layer(name: &str, diameter: f64, coefficient: f64, sigma: f64) -> Layer {
    let area = disc_area(diameter);
    Layer::new(name, area, Loss::coefficient(coefficient, area, sigma))
}

fn step(from: f64, to: f64) -> Layer {
    let narrow = from.min(to);
    let (small, large) = (disc_area(narrow), disc_area(from.max(to)));
    let loss = if to > from {
        fitting::expansion(small, large)
    } else {
        fitting::contraction(small, large)
    };
    let name = if to > from { "expansion" } else { "contraction" };
    round_layer(name, narrow, loss.value, loss.relative_sigma)
}

/// The medium of a written name; the reader accepts only these.
pub(crate) fn medium(name: &str) -> Medium {
    match name {
        "epm10-50" => Medium::Epm10,
        "epm1-50" => Medium::Epm1,
        "epm1-80" => Medium::Epm1High,
        "hepa-13" => Medium::HepaPleated,
        _ => Medium::Coarse,
    }
}

/// What the air passes from the fans to the open, by where it goes.
fn branches(arrangement: &Arrangement, fans: &Fans, glass: Glass) -> Vec<Branch> {
    let branch = |name: &str, layers| vec![Branch { name: name.to_owned(), layers }];
    let blown = blown_area(fans) * f64::from(fans.count);
    match arrangement {
        Arrangement::FanBehind(behind) | Arrangement::FansBehind { behind, .. } => {
            branch(TO_BACK, behind_layers(behind, fans, glass))
        }
        Arrangement::Suction { gap, rim_gap, .. } => {
            let rim = past_rim(glass, rim_gap.metres());
            let back = between_discs(glass, fans, gap.metres(), Direction::Inward);
            branch(TO_BACK, vec![rim, back])
        }
        Arrangement::Plenum { plate, outlet } => {
            let mut middle = plate_layers(plate);
            middle.push(way_out(0.5 * plate.diameter.metres(), glass, plate.distance.metres()));
            let (radius, width) = (0.5 * outlet.diameter.metres(), outlet.width.metres());
            let slot = Layer::new(
                "outlet slot",
                opening::ring_area(radius, width),
                opening::ring_slot(radius, width, Lips::Sharp),
            );
            vec![
                Branch { name: TO_BACK.to_owned(), layers: middle },
                Branch { name: TO_OUTLET.to_owned(), layers: vec![slot] },
            ]
        }
        Arrangement::RingNozzle(ring) => {
            let mut way = Vec::new();
            match &ring.path {
                Path::Direct => {}
                Path::PastBack { gap, rim_gap } => {
                    way.push(between_discs(glass, fans, gap.metres(), Direction::Outward));
                    way.push(past_rim(glass, rim_gap.metres()));
                }
                Path::ThroughPlate { plate, rim_gap } => {
                    let edge = 0.5 * plate.diameter.metres();
                    way.push(way_out(edge, glass, plate.distance.metres()));
                    way.push(past_rim(glass, rim_gap.metres()));
                }
            }
            let (radius, width) = (glass.radius + ring.setback.metres(), ring.slot.metres());
            let lips = if ring.lip.metres() > 0.0 { Lips::Parallel } else { Lips::Sharp };
            way.push(Layer::new(
                "slot",
                opening::ring_area(radius, width),
                opening::ring_slot(radius, width, lips),
            ));
            branch(TO_FRONT, way)
        }
        Arrangement::SideFans(_)
        | Arrangement::CornerFans { .. }
        | Arrangement::FanAbove { .. } => branch(TO_FRONT, vec![free_outlet(blown)]),
        Arrangement::Open | Arrangement::Sealed => Vec::new(),
    }
}

fn behind_layers(behind: &Behind, fans: &Fans, glass: Glass) -> Vec<Layer> {
    let blown = blown_area(fans) * f64::from(fans.count);
    let mut way = vec![free_outlet(blown)];
    if let Cell::Closed { gap } = behind.cell {
        way.push(between_discs(glass, fans, gap.metres(), Direction::Outward));
        if let Some(clearance) = glass.clearance {
            way.push(past_rim(glass, clearance));
        }
    }
    way
}

/// All of the speed at the fan is lost in the space it blows into.
fn free_outlet(area: f64) -> Layer {
    Layer::new("blown against the glass", area, Loss::coefficient(1.0, area, 0.1))
}

fn past_rim(glass: Glass, gap: f64) -> Layer {
    let channel = Channel::past_rim(glass.radius, gap, glass.thickness);
    Layer::new("gap past the rim", channel.area, channel.loss())
}

fn between_discs(glass: Glass, fans: &Fans, gap: f64, direction: Direction) -> Layer {
    let inner = (0.5 * fans.diameter.metres()).min(0.9 * glass.radius);
    discs("space behind the glass", inner, glass.radius, (gap, direction))
}

/// From the edge of a plate outward along the back.
fn way_out(edge: f64, glass: Glass, gap: f64) -> Layer {
    // Air joins all over the plate: on average it passes the outer third.
    let inner = (2.0 / 3.0 * edge).min(0.95 * glass.radius);
    discs("space behind the glass", inner, glass.radius, (gap, Direction::Outward))
}

fn discs(name: &str, inner: f64, outer: f64, (gap, direction): (f64, Direction)) -> Layer {
    let passage = Discs { inner, outer, gap, direction };
    Layer::new(name, passage.area(outer), passage.loss())
}

fn plate_layers(plate: &Plate) -> Vec<Layer> {
    let mut passed: Vec<Layer> = plate.cover.iter().flat_map(layers).collect();
    let perforation = Perforation {
        area: disc_area(plate.diameter.metres()),
        open_share: open_share(plate),
        diameter: plate.hole_diameter.metres(),
        thickness: plate.thickness.metres(),
    };
    let holes = perforation.area * perforation.open_share;
    passed.push(Layer::new("holes of the plate", holes, perforation.at_end()));
    passed
}

/// Open share of a perforated plate [-].
pub(crate) fn open_share(plate: &Plate) -> f64 {
    let relative = plate.hole_diameter.metres() / plate.diameter.metres();
    f64::from(plate.holes) * relative * relative
}

/// Air as the network sees it.
pub(crate) fn air(properties: &evenglass_materials::moist_air::AirProperties) -> Air {
    Air {
        density: properties.density,
        viscosity: properties.viscosity,
        specific_heat: properties.specific_heat,
    }
}

//! What a builder needs to know of an arrangement before cutting foam: flows, speeds,
//! pressures, films, at full speed and at the steps below it.
//!
//! [`size`] computes the very numbers a night would use, in the air of the night's mean.

use evenglass_airflow::column::Column;
use evenglass_airflow::curtain;
pub use evenglass_airflow::curtain::Verdict;
use evenglass_airflow::fan::Rotor;
pub use evenglass_airflow::network::{BranchFlow, Operating, Passage, Reason, State};
use evenglass_airflow::noise;
pub use evenglass_convection::sheet::{Attachment, Reach};
use evenglass_convection::sheet::{Sheet, SheetConstants};
use evenglass_disc::FaceName;
use evenglass_materials::moist_air::AirProperties;
use evenglass_scenario::ventilation::System;
use evenglass_scenario::{Scenario, Side};

use super::field::{Around, ORDERS};
use super::moved::{Flows, Moved, Planned, plan};
use crate::films::usual_air;

/// Shares of full speed that are shown.
pub const STEPS: [f64; 5] = [1.0, 1.0 / 2.0, 1.0 / 3.0, 1.0 / 4.0, 1.0 / 6.0];

/// Cross breezes a sheet is held against [m/s].
pub const BREEZES: [f64; 3] = [0.5, 1.0, 2.0];

/// Radii at which films are given.
const RADII: u32 = 60;

/// Speeds by which the system's curve is drawn.
const CURVE_POINTS: u32 = 40;

/// Height above the mirror where the secondary stands if the scenario has none, in
/// diameters: a focal ratio of four less the way to the eyepiece.
const USUAL_HEIGHT: f64 = 3.3;

/// What `[ventilation]` does, system by system.
#[derive(Debug, Clone, PartialEq)]
pub struct Sizing {
    /// Air it was computed in.
    pub air: AirProperties,
    /// Of the air \[Pa\].
    pub pressure_pa: f64,
    /// The main arrangement, and the second if there is one; those without fans are left out.
    pub systems: Vec<Sized>,
}

/// One arrangement with fans.
#[derive(Debug, Clone, PartialEq)]
pub struct Sized {
    /// As written.
    pub system: System,
    /// At each of [`STEPS`].
    pub steps: Vec<Step>,
    /// (flow [m³/s], pressure \[Pa\]) of all fans together at full speed, from no flow on.
    pub fan_curve: Vec<(f64, f64)>,
    /// (flow [m³/s], pressure \[Pa\]) that what the air passes asks for.
    pub system_curve: Vec<(f64, f64)>,
    /// Sheet of a ring nozzle at full speed.
    pub along_front: Vec<SheetPoint>,
}

/// An arrangement at one speed.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// Share of full speed that is asked for [-].
    pub asked: f64,
    /// At which the fans run [-]; 0 if they stand still.
    pub running: f64,
    /// Balance of fans and resistance.
    pub operating: Operating,
    /// Over the back, past the rim, to the front [m³/s].
    pub flows: [f64; 3],
    /// The sheet of a ring nozzle.
    pub sheet: Option<SheetFacts>,
    /// The column above the glass.
    pub column: Option<ColumnFacts>,
    /// Level at 1 m \[dB\], where the fan's is given.
    pub noise_db: Option<f64>,
    /// Forced films along back and front.
    pub films: Vec<FilmRow>,
    /// Mean forced film past the rim [W m⁻² K⁻¹].
    pub rim_film: f64,
    /// Area means over back and front [W m⁻² K⁻¹].
    pub mean_films: [f64; 2],
    /// Largest share of each order around the axis in the film of back and of front [-].
    pub lopsided: [[f64; ORDERS]; 2],
}

/// A sheet in a few numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetFacts {
    /// Of the air in the slot's jet [m/s].
    pub slot_speed: f64,
    /// On the slot's width [-].
    pub slot_reynolds: f64,
    /// Radius at which the sheet begins to turn turbulent \[m\]; `None` if it stays laminar.
    pub turbulent_inside: Option<f64>,
    /// Whether it clings to the glass.
    pub attached: Attachment,
    /// How far in it gets.
    pub reach: Reach,
    /// Verdict against each of [`BREEZES`].
    pub breezes: [Verdict; 3],
}

/// A column in a few numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct ColumnFacts {
    /// Width at its foot \[m\].
    pub diameter: f64,
    /// Speed at its foot [m/s].
    pub speed: f64,
    /// Height of the secondary above the front \[m\], and whether it is the scenario's.
    pub height: f64,
    /// Speed on the axis there [m/s], with one standard deviation as a share of it.
    pub speed_above: (f64, f64),
    /// Warming of the column's foot by each watt the glass gives off \[K/W\].
    pub excess_per_watt: f64,
}

/// Forced films at one radius.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct FilmRow {
    /// \[m\]
    pub radius: f64,
    /// [W m⁻² K⁻¹] and one standard deviation as a share of it; `None` without moved air.
    pub back: Option<(f64, f64)>,
    /// The same on the front.
    pub front: Option<(f64, f64)>,
}

/// The sheet at one radius.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SheetPoint {
    /// \[m\]
    pub radius: f64,
    /// Peak speed along the glass [m/s].
    pub speed: f64,
    /// Height of half that speed \[m\].
    pub half_depth: f64,
    /// Share of the time that it is turbulent [-].
    pub turbulent: f64,
}

/// Sizes the ventilation of a scenario; `None` if it has none, or no fans.
#[must_use]
pub fn size(scenario: &Scenario) -> Option<Sizing> {
    let (air, pressure_pa) = mean_air(scenario);
    let systems: Vec<Sized> = plan(scenario)
        .iter()
        .filter(|planned| planned.network.is_some())
        .map(|planned| sized(scenario, planned, &air))
        .collect();
    (!systems.is_empty()).then_some(Sizing { air, pressure_pa, systems })
}

/// Largest share of each order around the axis, 1 to 4, in the film of a breeze across the
/// front [-] (eq. V-15); the film is strongest on the windward side.
#[must_use]
pub fn breeze_orders(scenario: &Scenario) -> [f64; ORDERS] {
    let field = super::front::breeze(0.5 * scenario.mirror.diameter.metres());
    let around = radii(scenario).into_iter().map(|radius| field.around(radius));
    around.fold([0.0; ORDERS], |largest, around| {
        std::array::from_fn(|n| f64::max(largest[n], around.share(n + 1)))
    })
}

/// Air of the night's mean temperature, and its pressure \[Pa\].
pub(crate) fn mean_air(scenario: &Scenario) -> (AirProperties, f64) {
    let values = scenario.night.air.values();
    let mean = values.iter().sum::<f64>() / values.len() as f64;
    let pressure = scenario.night.pressure.at(0.0, Side::After);
    (usual_air(mean, pressure), pressure)
}

fn sized(scenario: &Scenario, planned: &Planned, air: &AirProperties) -> Sized {
    let full = planned.moved(planned.running_speed(1.0, 0.0, Rotor::Turning), air);
    Sized {
        system: planned.system.clone(),
        steps: STEPS.iter().map(|&asked| step(scenario, planned, asked, air)).collect(),
        fan_curve: fan_curve(planned, air),
        system_curve: system_curve(planned, air),
        along_front: full.sheet.as_deref().map_or_else(Vec::new, |sheet| along(scenario, sheet)),
    }
}

/// One step; fans are taken to turn already, as when they are slowed down.
fn step(scenario: &Scenario, planned: &Planned, asked: f64, air: &AirProperties) -> Step {
    let running = planned.running_speed(asked, 0.0, Rotor::Turning);
    let moved = planned.moved(running, air);
    let operating = moved.operating.clone().unwrap_or_else(|| {
        let network = planned.network.as_ref().expect("only systems with fans are sized");
        network.operate(0.0, &super::network::air(air))
    });
    let level = planned.system.fans.as_ref().and_then(|fans| fans.noise_db);
    let Flows { back, rim, front } = moved.flows;
    let radii = radii(scenario);
    Step {
        asked,
        running,
        flows: [back, rim, front],
        noise_db: level.map(|level| noise::audible(level + operating.noise_change_db)),
        operating,
        sheet: moved.sheet.as_deref().map(sheet_facts),
        column: column(scenario, &moved, air),
        films: radii.iter().map(|&radius| film_row(&moved, radius)).collect(),
        rim_film: moved.rim.as_ref().map_or(0.0, |field| field.mean(0.0).film),
        mean_films: [FaceName::Back, FaceName::Front].map(|face| mean_film(&moved, face, &radii)),
        lopsided: [FaceName::Back, FaceName::Front].map(|face| lopsided(&moved, face, &radii)),
    }
}

/// Radii from the axis or the hole to the edge \[m\].
fn radii(scenario: &Scenario) -> Vec<f64> {
    let outer = 0.5 * scenario.mirror.diameter.metres();
    let inner = scenario.mirror.hole_diameter.map_or(0.0, |hole| 0.5 * hole.metres());
    let part = |n: u32| f64::from(n) / f64::from(RADII - 1);
    (0..RADII).map(|n| inner + (outer - inner) * part(n)).collect()
}

fn film_row(moved: &Moved, radius: f64) -> FilmRow {
    let film = |face: FaceName| {
        let local = moved.field(face)?.mean(radius);
        Some((local.film, local.relative_sigma))
    };
    FilmRow { radius, back: film(FaceName::Back), front: film(FaceName::Front) }
}

/// Area mean of a face's forced film, rings weighted by their radius.
fn mean_film(moved: &Moved, face: FaceName, radii: &[f64]) -> f64 {
    let Some(field) = moved.field(face) else { return 0.0 };
    let rings = radii.windows(2).map(|pair| {
        let middle = 0.5 * (pair[0] + pair[1]);
        let area = pair[1] * pair[1] - pair[0] * pair[0];
        (area, area * field.mean(middle).film)
    });
    let (area, film) = rings.fold((0.0, 0.0), |sum, ring| (sum.0 + ring.0, sum.1 + ring.1));
    film / area
}

/// The same on the radii of a scenario's mirror.
pub(crate) fn mean_film_of(scenario: &Scenario, moved: &Moved, face: FaceName) -> f64 {
    mean_film(moved, face, &radii(scenario))
}

fn lopsided(moved: &Moved, face: FaceName, radii: &[f64]) -> [f64; ORDERS] {
    let mut largest = [0.0_f64; ORDERS];
    let Some(field) = moved.field(face) else { return largest };
    let around: Vec<Around> = radii.iter().map(|&radius| field.around(radius)).collect();
    for (order, largest) in (1..).zip(&mut largest) {
        *largest = around.iter().map(|around| around.share(order)).fold(0.0, f64::max);
    }
    largest
}

fn sheet_facts(sheet: &Sheet) -> SheetFacts {
    SheetFacts {
        slot_speed: sheet.slot_speed,
        slot_reynolds: sheet.slot_reynolds,
        turbulent_inside: sheet.transition_radius,
        attached: sheet.attached,
        reach: sheet.reaches_centre,
        breezes: BREEZES.map(|breeze| curtain::verdict(sheet.slot_speed, breeze)),
    }
}

fn column(scenario: &Scenario, moved: &Moved, air: &AirProperties) -> Option<ColumnFacts> {
    let flow = moved.column_flow?;
    let sheet = moved.sheet.as_deref()?;
    // The mean of the column is a little slower than the sheet that feeds it.
    let speed = SheetConstants::default().column_share * sheet.column_speed;
    let column = Column::of_flow(flow, speed, 0.0, air.temperature);
    let written = scenario.telescope.as_ref().and_then(|telescope| telescope.secondary.as_ref());
    let height = written.map_or(USUAL_HEIGHT * scenario.mirror.diameter.metres(), |secondary| {
        secondary.distance.metres()
    });
    let above = column.axis_speed(height);
    Some(ColumnFacts {
        diameter: 2.0 * sheet.column_radius,
        speed,
        height,
        speed_above: (above.value, above.relative_sigma),
        excess_per_watt: 1.0 / (air.density * air.specific_heat * flow),
    })
}

fn fan_curve(planned: &Planned, air: &AirProperties) -> Vec<(f64, f64)> {
    let Some(network) = &planned.network else { return Vec::new() };
    let speed = planned.running_speed(1.0, 0.0, Rotor::Turning);
    let most = network.bank.free_flow(speed);
    let part = |n: u32| most * f64::from(n) / f64::from(CURVE_POINTS);
    (0..=CURVE_POINTS)
        .map(|n| (part(n), network.bank.pressure(part(n), speed, air.density)))
        .collect()
}

/// The system's curve is where its fans balance it, from standstill to half again their
/// full speed.
fn system_curve(planned: &Planned, air: &AirProperties) -> Vec<(f64, f64)> {
    let Some(network) = &planned.network else { return Vec::new() };
    let mut network = network.clone();
    network.bank.motor.minimum_speed = 0.0;
    let flowing = super::network::air(air);
    let speed = |n: u32| 1.5 * f64::from(n) / f64::from(CURVE_POINTS);
    let balanced = (1..=CURVE_POINTS).map(|n| network.operate(speed(n), &flowing));
    let mut curve = vec![(0.0, 0.0)];
    curve.extend(balanced.map(|operating| (operating.flow, operating.fan_pressure)));
    curve
}

fn along(scenario: &Scenario, sheet: &Sheet) -> Vec<SheetPoint> {
    let point = |radius: f64| SheetPoint {
        radius,
        speed: sheet.speed(radius),
        half_depth: sheet.half_depth(radius),
        turbulent: sheet.intermittency(radius),
    };
    radii(scenario).into_iter().map(point).collect()
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use approx::assert_relative_eq;
    use evenglass_scenario::ventilation::Arrangement;

    use super::*;
    use crate::ventilation::wish::{Answer, FILTER_SHARE, Wish, answer, filter_area, filter_share};

    const NIGHT: &str = r#"
[mirror]
diameter = "610 mm"
edge_thickness = "50 mm"
focal_ratio = 4
glass = "soda-lime"
[night]
start = "20:00"
duration = "1 h"
glass_temperature = "20 degC"
air = { kind = "steady", temperature = "20 degC" }
"#;

    fn scenario(ventilation: &str) -> Scenario {
        let text = format!("{NIGHT}{ventilation}");
        evenglass_scenario::parse("test", &text, Path::new("."), &[]).expect("it is right")
    }

    /// Δp = 40 Pa (1 − (Q/0.04)²) at nine points, through a layer of 200 Q + 2 · 10⁴ Q² on
    /// a square metre; nothing else resists a fan of half a metre.
    fn parabola() -> Scenario {
        let points: Vec<(f64, f64)> = (0..=8)
            .map(|n| {
                let flow = 0.005 * f64::from(n);
                (flow, 40.0 * (1.0 - (flow / 0.04).powi(2)))
            })
            .collect();
        let list = |unit: &str, pick: fn(&(f64, f64)) -> f64| {
            let all: Vec<String> =
                points.iter().map(|p| format!("\"{} {unit}\"", pick(p))).collect();
            all.join(", ")
        };
        scenario(&format!(
            "[ventilation]\nkind = \"fan-above\"\ndistance = \"900 mm\"\nfans = {{ diameter = \"500 mm\", \
             flow = [{}], pressure = [{}], power = \"3 W\", minimum_speed = 0 }}\nlayers = [{{ kind = \"porous\", \
             speed = [\"0.02 m/s\", \"0.04 m/s\"], pressure = [\"12 Pa\", \"40 Pa\"], area = \"1 m2\" }}]\n",
            list("m3/s", |p| p.0),
            list("Pa", |p| p.1)
        ))
    }

    fn ring(more: &str) -> Scenario {
        scenario(&format!(
            "[telescope]\nform = \"truss\"\nclearance = \"20 mm\"\nlength = \"150 mm\"\n\
             [ventilation]\nkind = \"ring-nozzle\"\nslot = \"7 mm\"\nlip = \"15 mm\"\nheight = \"0 mm\"\n\
             path = {{ kind = \"past-back\", gap = \"30 mm\" }}\n{more}\n\
             fans = {{ diameter = \"120 mm\", free_flow = \"45 L/s\", max_pressure = \"45 Pa\", power = \"3 W\" }}\n\
             layers = [{{ kind = \"filter\", media = \"coarse\", area = \"600 cm2\" }}]\n"
        ))
    }

    /// The balance of both parabolas by hand: 27.7 L/s; at half speed (40/4 and 0.02 for
    /// 0.04) 13.0, at a sixth 3.2 and not 4.6: the layer's linear part does not slow down.
    /// At 20 °C in 1.2 kg/m³ to half a percent; a cubic through nine points adds less.
    #[test]
    fn a_sixth_of_full_speed_is_less_than_a_sixth_of_the_flow() {
        let sizing = size(&parabola()).unwrap();
        let flow = |step: usize| 1e3 * sizing.systems[0].steps[step].operating.flow;
        assert_relative_eq!(flow(0), 27.7, max_relative = 0.01);
        assert_relative_eq!(flow(1), 13.0, max_relative = 0.02);
        assert_relative_eq!(flow(4), 3.2, max_relative = 0.03);
    }

    #[test]
    fn the_systems_curve_passes_through_every_operating_point() {
        let sizing = size(&parabola()).unwrap();
        let curve = &sizing.systems[0].system_curve;
        for step in &sizing.systems[0].steps {
            let (flow, pressure) = (step.operating.flow, step.operating.fan_pressure);
            let after = curve.iter().position(|point| point.0 >= flow).unwrap();
            let [a, b] = [curve[after - 1], curve[after]];
            let between = a.1 + (b.1 - a.1) * (flow - a.0) / (b.0 - a.0);
            assert_relative_eq!(between, pressure, max_relative = 0.02);
        }
    }

    /// Common practice, no source: at a sixth of full speed the sheet is laminar
    /// throughout; the fans here turn that slowly.
    #[test]
    fn a_sixth_of_full_speed_gives_a_laminar_sheet_that_still_reaches_the_middle() {
        let mut scenario = ring("");
        let fans = scenario.ventilation.as_mut().and_then(|v| v.main.fans.as_mut()).unwrap();
        fans.minimum_speed = 0.1;
        let sizing = size(&scenario).unwrap();
        let steps = &sizing.systems[0].steps;
        let sheet = |step: usize| steps[step].sheet.as_ref().unwrap();
        assert!(sheet(0).turbulent_inside.is_some());
        assert_eq!(sheet(4).turbulent_inside, None);
        assert_eq!(sheet(4).reach, Reach::Centre);
        assert!(sheet(4).slot_speed > 0.0);
    }

    #[test]
    fn wishes_come_true_when_they_are_built() {
        let scenario = ring("");
        let full = size(&scenario).unwrap().systems[0].steps[0].clone();
        let speed = full.sheet.as_ref().unwrap().slot_speed;
        let wished = answer(&scenario, Wish::SlotSpeed(0.7 * speed)).unwrap();
        let Answer::Value(share) = wished.speed else { panic!("{wished:?}") };
        let slower = plan(&scenario)[0].moved(share, &mean_air(&scenario).0);
        assert_relative_eq!(slower.sheet.unwrap().slot_speed, 0.7 * speed, max_relative = 1e-6);
        let Answer::Value(width) = wished.slot else { panic!("{wished:?}") };
        assert!(width > 0.007, "a slower jet from a wider slot: {width}");
        let beyond = answer(&scenario, Wish::SlotSpeed(100.0)).unwrap();
        assert_eq!(beyond.speed, Answer::AtMost(speed));
    }

    #[test]
    fn the_slot_for_a_film_does_not_depend_on_the_slot_there_is() {
        let mut scenario = ring("");
        let wanted = size(&scenario).unwrap().systems[0].steps[0].mean_films[1];
        for present in [0.001, 0.003, 0.02] {
            let ventilation = scenario.ventilation.as_mut().unwrap();
            let Arrangement::RingNozzle(ring) = &mut ventilation.main.arrangement else { panic!() };
            ring.slot = evenglass_units::Length::from_metres(present);
            let wished = answer(&scenario, Wish::Film(wanted)).unwrap();
            let Answer::Value(width) = wished.slot else { panic!("{present} m: {wished:?}") };
            assert_relative_eq!(width, 0.007, max_relative = 1e-6);
        }
    }

    #[test]
    fn the_advised_filter_takes_a_quarter_of_the_pressure() {
        let mut scenario = ring("");
        let before = filter_share(&scenario).unwrap();
        let Some(Answer::Value(area)) = filter_area(&scenario) else { panic!("there is an area") };
        if let Some(ventilation) = &mut scenario.ventilation
            && let Some(layer) = ventilation.main.layers.first_mut()
            && let evenglass_scenario::ventilation::LayerKind::Filter { area: written, .. } =
                &mut layer.kind
        {
            *written = evenglass_units::Area::from_m2(area);
        }
        assert_relative_eq!(filter_share(&scenario).unwrap(), FILTER_SHARE, max_relative = 1e-6);
        assert!((before > FILTER_SHARE) == (area > 0.06), "{before} of the pressure, {area} m²");
    }

    /// A slot 6 to 8 mm wide: (8 − 6)/(8 + 6) = 0.143 of its width, and the film goes with
    /// its power 0.4: 5.7 % in the first order, nothing in the others.
    #[test]
    fn an_uneven_slot_makes_the_film_lopsided_in_the_first_order() {
        let sizing = size(&ring("slot_range = [\"6 mm\", \"8 mm\"]")).unwrap();
        let [_, front] = sizing.systems[0].steps[0].lopsided;
        assert_relative_eq!(front[0], 0.4 / 7.0, max_relative = 1e-9);
        assert!(front[1..].iter().all(|share| *share < 1e-9), "{front:?}");
    }

    /// Halfway out the layer is some R/2 long on the windward side, 3R/2 on the lee side: films near
    /// √1 and √(1/3) of the scale; the middle sees every wind alike.
    #[test]
    fn a_breeze_cools_its_windward_side_more() {
        let field = super::super::front::breeze(0.2);
        let middle = field.around(0.0);
        assert!((1..=ORDERS).all(|order| middle.share(order) < 1e-12), "{middle:?}");
        let around = field.around(0.1);
        let (cosine, sine) = around.orders[0];
        assert!(cosine > 0.1 * around.mean && sine.abs() < 1e-12, "{around:?}");
        let orders = breeze_orders(&scenario(""));
        assert!(orders[0] > orders[1] && orders[0] < 2.0, "{orders:?}");
    }

    #[test]
    fn nothing_is_sized_where_nothing_blows() {
        assert_eq!(size(&scenario("")), None);
        assert_eq!(size(&scenario("[ventilation]\nkind = \"sealed\"\n")), None);
    }
}

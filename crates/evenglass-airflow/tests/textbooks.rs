//! Worked examples of textbooks. Most are of water: density and viscosity are inputs.

use std::f64::consts::PI;

use approx::assert_relative_eq;
use evenglass_airflow::fan::{Bank, Curve, Motor, MotorPlace, Shutter};
use evenglass_airflow::loss::channel::{Channel, Section, friction};
use evenglass_airflow::loss::{Loss, fitting};
use evenglass_airflow::network::{Branch, Layer, State};
use evenglass_airflow::{Air, Network, REFERENCE_DENSITY};

const FOOT: f64 = 0.3048;
const INCH: f64 = 0.0254;
const POUND: f64 = 0.453_592_37;
const GALLON: f64 = 231.0 * INCH * INCH * INCH;
const GRAVITY: f64 = 9.806_65;

/// Water of 60 °F as Crane has it: 62.364 lb/ft³, 1.1 mPa s.
const WATER: Air = Air {
    density: 62.364 * POUND / (FOOT * FOOT * FOOT),
    viscosity: 1.1e-3,
    specific_heat: 4187.0,
};

fn network(points: &[(f64, f64)], trunk: Vec<Layer>, branches: Vec<Branch>) -> Network {
    let motor = Motor {
        minimum_speed: 0.0,
        start_speed: 0.0,
        rated_power: 0.0,
        in_stream: MotorPlace::Outside,
    };
    let bank = Bank {
        curve: Curve::from_points(points).expect("a pump's curve falls"),
        parallel: 1,
        series: 1,
        failed: 0,
        open_area: 1.0,
        shutter: Shutter::Open,
        motor,
    };
    Network { bank, trunk, branches }
}

/// A head that no flow takes away: a pump of constant pressure up to far beyond `flow`.
fn reservoir(pressure: f64, flow: f64, density: f64) -> [(f64, f64); 3] {
    let pressure = pressure * REFERENCE_DENSITY / density;
    [(0.0, pressure), (10.0 * flow, pressure), (11.0 * flow, 0.0)]
}

fn rough_pipe(diameter: f64, length: f64, roughness: f64) -> Layer {
    let pipe = Channel { roughness, ..Channel::pipe(diameter, length) };
    Layer::new("pipe", pipe.area, pipe.loss())
}

fn fitting(coefficient: f64, diameter: f64) -> Layer {
    let area = 0.25 * PI * diameter * diameter;
    Layer::new("fitting", area, Loss::coefficient(coefficient, area, 0.1))
}

/// Y. A. Çengel and J. M. Cimbala, *Fluid Mechanics: Fundamentals and Applications*,
/// example 14-1: a fan with a stall dip draws air of 25 °C through a hood, a damper, five
/// elbows and 44 ft of duct. Printed: about 650 cfm at 0.83 in of water, read off a plot.
#[test]
fn a_fan_draws_from_a_hood_what_the_textbook_says() {
    let cubic_feet_a_minute = FOOT.powi(3) / 60.0;
    let inch_of_water = 998.0 * 9.81 * INCH;
    let air = Air { density: 1.184, viscosity: 1.562e-5 * 1.184, specific_heat: 1007.0 };
    let table =
        [(0.0, 0.90), (250.0, 0.95), (500.0, 0.90), (750.0, 0.75), (1000.0, 0.40), (1200.0, 0.0)];
    let scale = inch_of_water * REFERENCE_DENSITY / air.density;
    let points = table.map(|(flow, head)| (flow * cubic_feet_a_minute, head * scale));
    let diameter = 9.06 * INCH;
    let trunk = vec![
        fitting(1.3 + 1.8 + 5.0 * 0.21 + 1.05, diameter),
        rough_pipe(diameter, 44.0 * FOOT, 0.15e-3),
    ];
    let network = network(&points, trunk, vec![]);
    assert!(network.bank.curve.has_stall_dip());
    let operating = network.operate(1.0, &air);
    assert_eq!(operating.state, State::Running);
    // Two printed digits of each.
    assert_relative_eq!(operating.flow / cubic_feet_a_minute, 650.0, epsilon = 5.0);
    assert_relative_eq!(operating.fan_pressure / inch_of_water, 0.83, epsilon = 0.005);
}

/// Çengel and Cimbala, example 8-7: a pump that gives water 8 kW × 0.7 lifts it 8 m
/// through two parallel pipes of 36 m, 4 and 8 cm wide, 0.045 mm rough. Printed (from
/// memory): 0.0300, 0.00415 and 0.0259 m³/s, 11.1 m lost.
#[test]
fn a_pump_divides_its_flow_between_two_pipes_as_the_textbook_says() {
    let water = Air { density: 998.0, viscosity: 1.002e-3, specific_heat: 4182.0 };
    let metre = 998.0 * 9.81;
    let pressure = |flow: f64| (5600.0 / flow - 8.0 * metre) * REFERENCE_DENSITY / water.density;
    let flows = (0..=400).map(|i| 0.02 + 1.25e-4 * f64::from(i));
    let points: Vec<_> = flows.map(|q| (q, pressure(q))).filter(|point| point.1 > 0.0).collect();
    let pipe = |name: &str, diameter| Branch {
        name: name.to_owned(),
        layers: vec![rough_pipe(diameter, 36.0, 4.5e-5)],
    };
    let network = network(&points, vec![], vec![pipe("narrow", 0.04), pipe("wide", 0.08)]);
    let operating = network.operate(1.0, &water);
    // Half a unit of the last printed digit.
    assert_relative_eq!(operating.flow, 0.0300, epsilon = 5e-5);
    assert_relative_eq!(operating.branches[0].flow, 0.00415, epsilon = 5e-6);
    assert_relative_eq!(operating.branches[1].flow, 0.0259, epsilon = 5e-5);
    assert_relative_eq!(operating.plenum_pressure / metre, 11.1, epsilon = 0.05);
}

/// Crane Co., *Flow of Fluids*, TP 410, example 7-25: a head of 200 ft empties through
/// 1000 ft of duct 25 ft by 16.5 ft, 0.01 ft rough. Printed: 30 600 ft³/s with the first
/// guess of the friction factor; 30 135.249 by the documentation of the library fluids
/// 1.3.1, which iterates with Colebrook's equation and a sharp entry of 0.57.
#[test]
fn a_rectangular_duct_carries_what_crane_and_the_library_say() {
    let (wide, high) = (16.5 * FOOT, 25.0 * FOOT);
    let duct = Channel {
        section: Section::Round,
        area: wide * high,
        hydraulic: 2.0 * wide * high / (wide + high),
        length: 1000.0 * FOOT,
        roughness: 0.01 * FOOT,
        ends: fitting::SHARP_ENTRY.value + fitting::DISCHARGE.value,
    };
    let head = WATER.density * GRAVITY * 200.0 * FOOT;
    let layers = vec![Layer::new("duct", duct.area, duct.loss())];
    let points = reservoir(head, 850.0, WATER.density);
    let operating = network(&points, layers, vec![]).operate(1.0, &WATER);
    let flow = operating.flow / FOOT.powi(3);
    assert_relative_eq!(flow, 30_135.248_99, max_relative = 1e-7);
    assert_relative_eq!(flow, 30_600.0, max_relative = 0.02);
}

/// Crane TP 410, example 7-19: 11.5 ft of water empty through an entry (0.5), a mitre bend
/// (K = 60 × 0.0172), a gate valve (8 × 0.0172), 10 ft of 3 in pipe, a sudden contraction and 20 ft of
/// 2 in pipe. Printed: 137 gal/min. Diameters and 0.0172, the
/// friction of the rough 3 in pipe, from fluids 1.3.1.
#[test]
fn a_pipe_that_narrows_carries_what_crane_says() {
    let (wide, narrow, rough) = (0.077_92, 0.052_48, 0.0018 * INCH);
    let step = fitting::contraction(narrow * narrow, wide * wide).value;
    let layers = vec![
        fitting(0.5 + (60.0 + 8.0) * 0.017_214, wide),
        rough_pipe(wide, 10.0 * FOOT, rough),
        fitting(step, narrow),
        rough_pipe(narrow, 20.0 * FOOT, rough),
        fitting(fitting::DISCHARGE.value, narrow),
    ];
    let head = WATER.density * GRAVITY * 11.5 * FOOT;
    let operating =
        network(&reservoir(head, 0.01, WATER.density), layers, vec![]).operate(1.0, &WATER);
    // Crane's contraction is a little lower than that of Rennels and Hudson.
    assert_relative_eq!(operating.flow / GALLON * 60.0, 137.0, epsilon = 1.0);
}

/// Crane TP 410, example 7-33: a pump that gives 126 ft at 400 gal/min and 3500 rpm, and
/// takes 17.5 hp, at 1700 rpm. 194.29 gal/min, 29.73 ft and 2.005 hp by the documentation
/// of fluids 1.3.1, which says that Crane's values are these.
#[test]
fn a_slower_pump_gives_what_crane_says() {
    let speed = 1700.0 / 3500.0;
    let points = [(0.0, 150.0), (400.0, 126.0), (800.0, 0.0)];
    let curve = Curve::from_points(&points).expect("a pump's curve falls");
    assert_relative_eq!(curve.pressure(194.285_714_286, speed, 1.2), 29.725_714, epsilon = 1e-6);
    let motor = Motor {
        minimum_speed: 0.0,
        start_speed: 0.0,
        rated_power: 17.5,
        in_stream: MotorPlace::Outside,
    };
    // The 0.3 W of the electronics do not go with the speed.
    let shaft = (motor.power(speed, 1.2) - 0.3) * 17.5 / 17.2;
    assert_relative_eq!(shaft, 2.005_306, epsilon = 1e-6);
}

/// Crane TP 410, example 7-1: water in a smooth pipe at Re = 100 600. Printed: 0.0179.
#[test]
fn a_smooth_pipe_has_the_friction_that_crane_reads_off() {
    // One unit of the last digit: read off a chart.
    assert_relative_eq!(friction(Section::Round, 100_600.0, 0.0), 0.0179, epsilon = 1e-4);
}

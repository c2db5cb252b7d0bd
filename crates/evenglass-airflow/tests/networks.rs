//! Networks of every kind: flow and pressure balance to rounding.

use approx::assert_relative_eq;
use evenglass_airflow::fan::{Bank, Curve, Motor, MotorPlace, Shutter};
use evenglass_airflow::loss::channel::{Channel, Direction, Discs};
use evenglass_airflow::loss::{Loss, Resistance, opening, porous};
use evenglass_airflow::network::{Branch, Layer, Operating, Reason, State};
use evenglass_airflow::{Air, Network};
use proptest::prelude::*;

const STRONG: Motor = Motor {
    minimum_speed: 0.0,
    start_speed: 0.0,
    rated_power: 1.8,
    in_stream: MotorPlace::InStream,
};

fn bank(curve: Curve) -> Bank {
    Bank {
        curve,
        parallel: 1,
        series: 1,
        failed: 0,
        open_area: 0.006,
        shutter: Shutter::Open,
        motor: STRONG,
    }
}

fn parabola() -> Curve {
    let at = |share: f64| (0.04 * share, 40.0 * (1.0 - share * share));
    let points: Vec<(f64, f64)> = (0..=200).map(|i| at(f64::from(i) / 200.0)).collect();
    Curve::from_points(&points).expect("a parabola falls")
}

fn branch(name: &str, law: Loss) -> Branch {
    Branch { name: name.to_owned(), layers: vec![Layer::new(name, 0.01, law)] }
}

/// Mass to 10⁻¹² and pressure along each way to 10⁻⁹, both relative; the pressure of the
/// fans itself is a difference that is rounded to some units of 10⁻¹⁶ of `shut_off`.
fn check(operating: &Operating, shut_off: f64) {
    let sum: f64 = operating.branches.iter().map(|branch| branch.flow).sum();
    let apart = !operating.branches.is_empty();
    assert!(!apart || (sum - operating.flow).abs() <= 1e-12 * operating.flow, "{operating:?}");
    let trunk: f64 = operating.trunk.iter().map(|passage| passage.drop).sum();
    let gap = operating.fan_pressure - trunk - operating.plenum_pressure;
    assert!(
        gap.abs() <= 1e-9 * operating.fan_pressure.abs() + 1e-14 * shut_off,
        "{gap} in {operating:?}"
    );
    for branch in &operating.branches {
        let drop: f64 = branch.passages.iter().map(|passage| passage.drop).sum();
        assert!((drop - operating.plenum_pressure).abs() <= 1e-9 * drop, "{operating:?}");
    }
}

/// A parabolic fan of 40 Pa and 40 L/s against 200 Q + 2·10⁴ Q², whose balance is the
/// root of a quadratic equation.
#[test]
fn a_quadratic_fan_meets_a_quadratic_resistance_where_the_equation_says() {
    let resistance = Resistance { linear: 200.0, quadratic: 2e4, relative_sigma: 0.1 };
    let network = Network {
        bank: bank(parabola()),
        trunk: vec![Layer::new("filter", 0.05, Loss::Resistance(resistance))],
        branches: vec![],
    };
    let flow = |speed: f64| network.operate(speed, &Air::REFERENCE).flow;
    let exact = |n: f64| {
        let square = 2e4 + 40.0 / 0.04f64.powi(2);
        (-200.0 + (200f64.powi(2) + 4.0 * square * 40.0 * n * n).sqrt()) / (2.0 * square)
    };
    for speed in [1.0, 0.5, 1.0 / 6.0, 0.01] {
        // The cubic through 201 points of a parabola is off by less.
        assert_relative_eq!(flow(speed), exact(speed), max_relative = 1e-6);
    }
    assert_relative_eq!(flow(0.0), 0.0);
}

fn loss() -> impl Strategy<Value = Loss> {
    let size = || (-6.0..6.0f64).prop_map(|exponent| 10f64.powf(exponent));
    let small = || (-4.0..0.5f64).prop_map(|exponent| 10f64.powf(exponent));
    prop_oneof![
        (size(), size()).prop_map(|(k, area)| Loss::coefficient(k, area, 0.1)),
        (size(), size()).prop_map(|(linear, quadratic)| Loss::Resistance(Resistance {
            linear,
            quadratic,
            relative_sigma: 0.4
        })),
        (small(), small(), small()).prop_map(|(a, g, l)| Channel::past_rim(a, g, l).loss()),
        (small(), small(), small()).prop_map(|(inner, more, gap)| {
            Discs { inner, outer: inner + more, gap, direction: Direction::Outward }.loss()
        }),
        (small(), small()).prop_map(|(d, l)| Channel::pipe(d, l).loss()),
        small().prop_map(|area| opening::orifice(area, opening::SHARP)),
        small().prop_map(|area| porous::filter(porous::Medium::Epm1, area)),
    ]
}

fn layers(least: usize) -> impl Strategy<Value = Vec<Layer>> {
    prop::collection::vec(loss().prop_map(|law| Layer::new("layer", 0.01, law)), least..4)
}

fn network() -> impl Strategy<Value = Network> {
    let branch = layers(1).prop_map(|layers| Branch { name: "way".to_owned(), layers });
    let fans = (1u32..4, 1u32..3, 0u32..3, 1e-3..0.2f64, 0.5..200.0f64);
    (fans, layers(0), prop::collection::vec(branch, 0..4)).prop_map(|(fans, trunk, branches)| {
        let (parallel, series, failed, free_flow, pressure) = fans;
        let curve = Curve::from_ends(free_flow, pressure).expect("positive ends");
        let bank = Bank { parallel, series, failed, ..bank(curve) };
        Network { bank, trunk, branches }
    })
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn mass_and_pressure_balance_in_every_network(network in network(), speed in 0.0..1.5f64) {
        let air = Air { density: 1.1, viscosity: 1.76e-5, specific_heat: 1007.0 };
        let operating = network.operate(speed, &air);
        check(&operating, network.bank.pressure(0.0, speed, air.density));
        prop_assert!(operating.flow >= 0.0);
        prop_assert!(operating.temperature_rise.is_finite());
        prop_assert!(operating.flow_sigma.is_finite(), "{:?}", operating);
        if operating.state == State::Running {
            prop_assert!(operating.flow > 0.0);
        }
    }
}

#[test]
fn a_branch_without_resistance_is_named() {
    let network = Network {
        bank: bank(parabola()),
        trunk: vec![],
        branches: vec![Branch { name: "slot".to_owned(), layers: vec![] }],
    };
    let reason = Reason::NoResistance { branch: "slot".to_owned() };
    let operating = network.operate(1.0, &Air::REFERENCE);
    assert_eq!(operating.state, State::NoOperatingPoint { reason });
    assert_eq!(operating.branches[0].name, "slot");
}

#[test]
fn a_closed_branch_takes_nothing_from_an_open_one() {
    let open = branch("open", opening::orifice(0.01, opening::SHARP));
    let closed = branch("closed", Loss::coefficient(1.0, 0.0, 0.1));
    let both = Network {
        bank: bank(parabola()),
        trunk: vec![],
        branches: vec![open.clone(), closed.clone()],
    };
    let alone = Network { branches: vec![open], ..both.clone() };
    let operating = both.operate(1.0, &Air::REFERENCE);
    assert_relative_eq!(operating.flow, alone.operate(1.0, &Air::REFERENCE).flow);
    assert_relative_eq!(operating.branches[1].flow, 0.0);
    let shut = Network { branches: vec![closed], ..both };
    let operating = shut.operate(1.0, &Air::REFERENCE);
    assert_relative_eq!(operating.flow, 0.0);
    assert_eq!(operating.state, State::Stalling);
}

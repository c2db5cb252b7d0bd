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
    // A sixth of the speed is far from a sixth of the flow: 28, 13 and 3.2 L/s.
    assert_relative_eq!(flow(1.0), 0.028, epsilon = 5e-4);
    assert_relative_eq!(flow(0.5), 0.013, epsilon = 5e-4);
    assert_relative_eq!(flow(1.0 / 6.0), 0.0032, epsilon = 5e-5);
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
        check(&operating, 2.0 * network.bank.curve.max_pressure() * speed * speed);
        prop_assert!(operating.flow >= 0.0);
        prop_assert!(operating.temperature_rise.is_finite());
        prop_assert!(operating.flow_sigma.is_finite(), "{:?}", operating);
        if operating.state == State::Running {
            prop_assert!(operating.flow > 0.0);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn drops_are_odd_and_rise_with_the_flow(law in loss(), flow in 1e-9..1.0f64) {
        let drop = |flow: f64| law.drop(flow, &Air::REFERENCE);
        prop_assert_eq!(drop(-flow).to_bits(), (-drop(flow)).to_bits());
        prop_assert!(drop(1.01 * flow) > drop(flow), "{:?}", law);
        prop_assert_eq!(drop(0.0).to_bits(), 0);
    }

    #[test]
    fn more_resistance_anywhere_never_moves_more_air(
        network in network(),
        added in loss(),
        place in 0usize..4,
    ) {
        let before = network.operate(1.0, &Air::REFERENCE);
        // All fans of some banks have failed.
        if matches!(before.state, State::NoOperatingPoint { .. }) {
            return Ok(());
        }
        let before = before.flow;
        let mut hindered = network.clone();
        let layer = Layer::new("added", 0.01, added);
        match hindered.branches.get_mut(place) {
            Some(branch) => branch.layers.push(layer),
            None => hindered.trunk.push(layer),
        }
        let after = hindered.operate(1.0, &Air::REFERENCE).flow;
        prop_assert!(after <= before * (1.0 + 1e-12), "{} {}", before, after);
    }
}

#[test]
fn the_largest_resistance_lets_almost_nothing_through_and_stalls_the_fan() {
    let mut network = telescope();
    network.trunk.push(Layer::new("rag", 0.01, Loss::coefficient(1e12, 0.01, 0.1)));
    let operating = network.operate(1.0, &Air::REFERENCE);
    assert!(operating.flow > 0.0 && operating.flow < 1e-6);
    assert_eq!(operating.state, State::Stalling);
    assert_relative_eq!(operating.fan_pressure, 30.0, max_relative = 1e-3);
    // The heat of the motor finds another way out than this trickle.
    assert_relative_eq!(operating.temperature_rise, 20.0);
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
    assert!(reason.to_string().contains("in the branch `slot`"), "{reason}");
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

fn felt() -> Loss {
    porous::from_points(0.02, [(0.05, 1.5), (0.2, 7.0)])
}

/// A fan, a filter, a plate of holes and a ring slot side by side.
fn telescope() -> Network {
    let plate =
        opening::Perforation { area: 0.02, open_share: 0.5, diameter: 0.02, thickness: 0.0 };
    let slot = opening::ring_area(0.3, 0.004);
    Network {
        bank: bank(Curve::from_ends(0.05, 30.0).expect("positive ends")),
        trunk: vec![Layer::new("filter", 0.1, porous::filter(porous::Medium::Coarse, 0.1))],
        branches: vec![
            Branch {
                name: "middle".to_owned(),
                layers: vec![Layer::new("plate", 0.01, plate.across())],
            },
            Branch {
                name: "edge".to_owned(),
                layers: vec![Layer::new(
                    "slot",
                    slot,
                    opening::ring_slot(0.3, 0.004, opening::Lips::Parallel),
                )],
            },
        ],
    }
}

/// At 2.8 Pa in air of 1.25 kg/m³, √(2 · 2.8/1.25) = 2.1 m/s: 2.1 through the holes of a
/// half open plate across a duct (K f² = 1), 0.95 of that through a slot, whatever their
/// areas. Only a second layer in series makes one of them slower.
#[test]
fn every_opening_of_one_plenum_runs_near_two_metres_a_second_whatever_its_area() {
    let air = Air { density: 1.25, ..Air::REFERENCE };
    let scale = |operating: &Operating| (operating.plenum_pressure / 2.8).sqrt();
    for factor in [0.1, 1.0, 3.0] {
        let mut network = telescope();
        network.branches[1].layers[0] =
            Layer::new("slot", 0.0075 * factor, opening::nozzle(0.0075 * factor, 0.95));
        let operating = network.operate(1.0, &air);
        let speed = |branch: usize| operating.branches[branch].passages[0].speed;
        assert_relative_eq!(speed(0) / scale(&operating), 2.1, epsilon = 0.05);
        assert_relative_eq!(speed(1) / scale(&operating), 2.0, epsilon = 0.05);
        network.branches[0].layers.push(Layer::new("felt", 0.02, felt()));
        let slowed = network.operate(1.0, &air);
        assert!(slowed.branches[0].passages[0].speed < 0.5 * speed(0));
    }
}

#[test]
fn the_speed_for_a_flow_gives_that_flow() {
    let network = telescope();
    let full = network.operate(1.0, &Air::REFERENCE);
    for branch in [0, 1] {
        let wanted = 0.4 * full.branches[branch].flow;
        let speed =
            network.speed_for_flow(branch, wanted, &Air::REFERENCE).expect("less than full");
        let flow = network.operate(speed, &Air::REFERENCE).branches[branch].flow;
        assert_relative_eq!(flow, wanted, max_relative = 1e-9);
    }
    let most = full.branches[0].flow;
    assert_eq!(network.speed_for_flow(0, 1.01 * most, &Air::REFERENCE), None);
    assert_eq!(network.speed_for_flow(0, 0.0, &Air::REFERENCE), None);
    assert_eq!(network.speed_for_flow(0, f64::NAN, &Air::REFERENCE), None);
    assert_eq!(network.speed_for_flow(7, 1e-3, &Air::REFERENCE), None);
    let mut lazy = network;
    lazy.bank.motor.minimum_speed = 0.5;
    assert_eq!(lazy.speed_for_flow(0, 0.1 * most, &Air::REFERENCE), None);
}

#[test]
fn below_its_least_speed_a_fan_stands_and_nothing_flows() {
    let mut network = telescope();
    network.bank.motor.minimum_speed = 0.3;
    let operating = network.operate(0.29, &Air::REFERENCE);
    assert_eq!(operating.state, State::Stopped);
    for number in [operating.flow, operating.electric_power, operating.temperature_rise] {
        assert_relative_eq!(number, 0.0);
    }
    assert_eq!(operating.branches.len(), 2);
    assert_eq!(network.operate(0.3, &Air::REFERENCE).state, State::Running);
}

#[test]
fn flow_goes_to_nothing_with_speed_and_never_falls_as_it_rises() {
    let network = telescope();
    let flow = |speed: f64| network.operate(speed, &Air::REFERENCE).flow;
    let flows: Vec<f64> = (0..=100).map(|i| flow(0.01 * f64::from(i))).collect();
    assert!(flows.windows(2).all(|pair| pair[1] > pair[0]), "{flows:?}");
    assert!(flow(1e-6) < 1e-6 * flow(1.0));
    assert_relative_eq!(flow(0.0), 0.0);
}

/// Two turning fans of 1.8 W at full speed, both in the stream: 3.6 W into ρ c Q.
#[test]
fn all_a_motor_draws_warms_the_stream_it_sits_in() {
    let mut network = telescope();
    network.bank.parallel = 2;
    let inside = network.operate(1.0, &Air::REFERENCE);
    assert_relative_eq!(inside.electric_power, 3.6);
    assert_relative_eq!(inside.heat_to_air, 3.6);
    let expected = 3.6 / (1.2 * 1006.0 * inside.flow);
    assert_relative_eq!(inside.temperature_rise, expected, max_relative = 1e-12);
    assert_relative_eq!(inside.noise_change_db, 10.0 * 2f64.log10(), max_relative = 1e-12);
    network.bank.motor.in_stream = MotorPlace::Outside;
    let outside = network.operate(1.0, &Air::REFERENCE);
    assert_relative_eq!(outside.air_power, outside.fan_pressure * outside.flow);
    assert_relative_eq!(outside.heat_to_air, 2.0 * outside.air_power);
    assert!(outside.heat_to_air < inside.heat_to_air);
}

#[test]
fn a_tight_filter_stalls_the_fan() {
    let mut network = telescope();
    assert_eq!(network.operate(1.0, &Air::REFERENCE).state, State::Running);
    network.trunk[0].law = porous::filter(porous::Medium::HepaPleated, 0.1);
    assert_eq!(network.operate(1.0, &Air::REFERENCE).state, State::Stalling);
}

#[test]
fn a_leak_takes_its_share_from_every_other_branch() {
    let tight = telescope();
    let mut leaky = telescope();
    leaky.branches.push(branch("leak", opening::leak(0.003)));
    let (tight, leaky) = (tight.operate(1.0, &Air::REFERENCE), leaky.operate(1.0, &Air::REFERENCE));
    assert!(leaky.flow > tight.flow);
    for (less, more) in leaky.branches.iter().zip(&tight.branches) {
        assert!(less.flow < more.flow, "{less:?} {more:?}");
    }
}

#[test]
fn numbers_that_are_none_and_banks_without_fans_have_no_operating_point() {
    let network = telescope();
    let reason = |operating: Operating| match operating.state {
        State::NoOperatingPoint { reason } => reason,
        other => panic!("{other:?}"),
    };
    assert_eq!(reason(network.operate(f64::NAN, &Air::REFERENCE)), Reason::NotPhysical);
    let vacuum = Air { density: 0.0, ..Air::REFERENCE };
    assert_eq!(reason(network.operate(1.0, &vacuum)), Reason::NotPhysical);
    let mut dead = network;
    dead.bank.failed = 1;
    assert_eq!(reason(dead.operate(1.0, &Air::REFERENCE)), Reason::NoFan);
}

/// One linear resistance of 1000 Pa s/m³ against a fan whose curve falls straight by as
/// much: a small change of the layer changes the flow by half of it.
#[test]
fn the_spread_of_the_flow_is_that_of_small_changes() {
    let curve = Curve::from_points(&[(0.0, 40.0), (0.04, 0.0)]).expect("a line falls");
    let with = |linear: f64| {
        let law = Loss::Resistance(Resistance { linear, quadratic: 0.0, relative_sigma: 0.4 });
        let trunk = vec![Layer::new("cloth", 0.05, law)];
        Network { bank: bank(curve.clone()), trunk, branches: vec![] }
    };
    let operating = with(1000.0).operate(1.0, &Air::REFERENCE);
    assert_relative_eq!(operating.flow, 0.02, max_relative = 1e-12);
    // The layer: half of 40 %. The curve: 20 Pa in pressure and as much in flow, 8 % of
    // each, against both slopes, 2000 Pa s/m³.
    let layer: f64 = 0.5 * 0.4;
    let curve: f64 = 0.08 * 20f64.hypot(20.0) / 2000.0 / 0.02;
    assert_relative_eq!(operating.flow_sigma, layer.hypot(curve), max_relative = 1e-6);
    // The same layer as the only branch.
    let mut parted = with(1000.0);
    parted.branches =
        vec![Branch { name: "way".to_owned(), layers: parted.trunk.drain(..).collect() }];
    let parted = parted.operate(1.0, &Air::REFERENCE);
    assert_relative_eq!(parted.flow_sigma, operating.flow_sigma, max_relative = 1e-6);
}

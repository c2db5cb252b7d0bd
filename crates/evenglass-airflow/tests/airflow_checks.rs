//! Every row of `tests/references/data/airflow_checks.csv`.

use evenglass_airflow::column::{Column, QUIET_SPREAD};
use evenglass_airflow::fan::{Bank, Curve, Motor, MotorPlace, Shutter};
use evenglass_airflow::loss::channel::{Section, friction, turbulent_friction};
use evenglass_airflow::loss::{Loss, Resistance, fitting, opening};
use evenglass_airflow::network::Layer;
use evenglass_airflow::{Air, Network, exchange, noise};

#[path = "../../../tests/references/check_table.rs"]
#[allow(dead_code, reason = "its functions for the table of the air are for other tests")]
mod check_table;

use check_table::{Check, compare_rows, rows_of};

const TABLE: &str = include_str!("../../../tests/references/data/airflow_checks.csv");

fn losses(row: &Check) -> Option<f64> {
    let area = |key: &str| row.input(key).powi(2);
    let angle = || row.input("angle").to_radians();
    let value = match row.quantity.as_str() {
        "K_perf_square_edge_screen" | "K_perf_Idelchik_thin" => {
            opening::perforated_plate(row.input("alpha"), 0.0).value
        }
        "K_contraction_sharp" => fitting::contraction(area("D2"), area("D1")).value,
        "K_expansion_sharp" => fitting::expansion(area("D1"), area("D2")).value,
        "K_entrance_sharp" => fitting::SHARP_ENTRY.value,
        "K_bend90_rounded" | "K_bend30_rounded" => {
            let friction = turbulent_friction(row.input("Re"), 0.0);
            fitting::rounded_bend(friction, row.input("bend_diameters"), angle()).value
        }
        "K_bend_miter90" | "K_bend_miter150" => fitting::mitre_bend(angle()).value,
        "f_Colebrook" => turbulent_friction(row.input("Re"), row.input("eD")),
        "f_laminar" => friction(Section::Round, row.input("Re"), 0.0),
        _ => return None,
    };
    Some(value)
}

fn motor(rated_power: f64) -> Motor {
    Motor { minimum_speed: 0.0, start_speed: 0.0, rated_power, in_stream: MotorPlace::InStream }
}

fn against(curve: Curve, layer: Loss) -> Network {
    let bank = Bank {
        curve,
        parallel: 1,
        series: 1,
        failed: 0,
        open_area: 0.006,
        shutter: Shutter::Open,
        motor: motor(2.0),
    };
    Network { bank, trunk: vec![Layer::new("filter", 0.05, layer)], branches: vec![] }
}

fn parabolic_fan(pressure: f64, flow: f64) -> Curve {
    let shares = (0..=200).map(|i| f64::from(i) / 200.0);
    let points: Vec<_> =
        shares.map(|share| (flow * share, pressure * (1.0 - share * share))).collect();
    Curve::from_points(&points).expect("a parabola falls")
}

fn flows(row: &Check) -> Option<f64> {
    let air =
        || Air { density: row.input("rho"), specific_heat: row.input("cp"), ..Air::REFERENCE };
    let value = match row.quantity.as_str() {
        "operating_point_q" => {
            let curve = parabolic_fan(row.input("p0"), row.input("q0"));
            let (linear, quadratic) = (row.input("a"), row.input("b"));
            let law = Loss::Resistance(Resistance { linear, quadratic, relative_sigma: 0.1 });
            against(curve, law).operate(1.0, &Air::REFERENCE).flow
        }
        "fan_law_dp" => {
            let curve = Curve::from_ends(0.03, row.input("dp")).expect("positive ends");
            curve.pressure(0.0, row.input("n"), 1.2)
        }
        "fan_noise_change" => noise::level_change(row.input("n"), 1),
        "fan_heat_dT" => exchange::warming(row.input("P"), row.input("q"), &air()),
        "NTU_eff" => {
            let conductance = row.input("h") * row.input("A");
            exchange::effectiveness(exchange::transfer_units(conductance, row.input("q"), &air()))
        }
        "round_jet_uc" => {
            let speed = row.input("U0");
            let (diameter, excess, ambient, spread) = (0.1, 0.0, 283.15, QUIET_SPREAD);
            let column = Column { diameter, speed, excess, ambient, spread };
            column.axis_speed(row.input("z/d") * diameter).value
        }
        _ => return None,
    };
    Some(value)
}

#[test]
fn losses_are_those_of_the_library_and_of_the_printed_formulas() {
    assert_eq!(compare_rows(rows_of(TABLE), losses), 21);
}

#[test]
fn fans_streams_and_jets_give_the_values_of_their_sources() {
    assert_eq!(compare_rows(rows_of(TABLE), flows), 7);
}

#[test]
fn no_row_is_left_out() {
    for row in rows_of(TABLE) {
        let answered = losses(&row).or_else(|| flows(&row));
        assert!(answered.is_some(), "{} of {} has no test", row.quantity, row.source);
    }
}

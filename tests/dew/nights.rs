//! What a damp night does.

use approx::assert_abs_diff_eq;
use evenglass_materials::moist_air::{dew_point, frost_point};
use evenglass_simulation::dew::Mirror;
use evenglass_simulation::result::{COLUMNS, Criterion, Ending};
use evenglass_units::Temperature;

use crate::scenario::{Damp, damp, last};

#[test]
fn a_bare_secondary_dews_before_the_primary() {
    let night = damp(0.95).run();
    let dew = night.dew.as_ref().unwrap();
    let secondary = dew.secondary.as_ref().unwrap();
    let from = secondary.dew_from_s.expect("a bare back under a clear sky at 95 %");
    assert!(dew.primary.dew_from_s.is_none_or(|primary| primary > from), "{dew:?}");
    assert!(secondary.worst_margin_k < dew.primary.worst_margin_k);
    assert_eq!(dew.driest_last().0, Mirror::Secondary);
    assert!(secondary.film_g_m2 > 1.0, "{secondary:?}");
    let fogged = secondary.fogged_from_s.unwrap();
    assert!(fogged > from && secondary.fogged_s > 0.0 && !secondary.frost, "{secondary:?}");
}

#[test]
fn the_margins_stand_in_the_history_and_are_what_they_say() {
    let night = damp(0.80).run();
    let point = dew_point(Temperature::from_celsius(10.0), 0.80);
    for row in &night.history {
        let secondary = (row.secondary - point).kelvins();
        assert_abs_diff_eq!(row.dew_margin_secondary.kelvins(), secondary, epsilon = 1e-9);
        // The front's points of the history are never colder than its coldest one.
        let margin = row.dew_margin_primary.kelvins();
        for front in [row.front_centre, row.front_edge] {
            assert!((front - point).kelvins() >= margin - 1e-6, "{row:?}");
        }
        assert_abs_diff_eq!(row.front_coldest.kelvin() - point.kelvin(), margin, epsilon = 1e-9);
    }
    let dew = night.dew.as_ref().unwrap();
    let at = |name: &str| COLUMNS.iter().position(|column| column.name == name).unwrap();
    let told = night.minima[at("dew_margin_secondary_k")].0;
    let seen = dew.secondary.as_ref().unwrap().worst_margin_k;
    assert_abs_diff_eq!(told, seen, epsilon = 2e-3);
    assert_abs_diff_eq!(
        night.minima[at("dew_margin_primary_k")].0,
        dew.primary.worst_margin_k,
        epsilon = 2e-3
    );
}

/// −5 °C at 95 %: frost point −5.1 °C (below it by 0.6 K lies the dew point).
#[test]
fn below_zero_the_margin_is_from_the_frost_point_and_frost_is_told() {
    let night = Damp { air: "-5 degC", ..damp(0.95) }.run();
    let frost = frost_point(Temperature::from_celsius(-5.0), 0.95);
    let row = last(&night);
    let margin = (row.secondary - frost).kelvins();
    assert_abs_diff_eq!(row.dew_margin_secondary.kelvins(), margin, epsilon = 1e-9);
    let dew = night.dew.unwrap();
    let secondary = dew.secondary.unwrap();
    assert!(secondary.frost && secondary.film_g_m2 > 0.0, "{secondary:?}");
}

#[test]
fn without_humidity_nothing_is_judged() {
    let text = damp(0.95).text().replace("relative_humidity = 0.95\n", "");
    let scenario =
        evenglass_scenario::parse("dry.toml", &text, std::path::Path::new(""), &[]).unwrap();
    let night = evenglass_simulation::simulate(&scenario, &crate::scenario::usual()).unwrap();
    assert!(night.dew.is_none());
    assert!(night.passing.iter().all(|passing| passing.criterion != Criterion::Dew));
    let row = last(&night);
    assert!(row.dew_margin_primary.kelvins().is_nan());
    assert!(row.dew_margin_secondary.kelvins().is_nan());
    assert!(row.secondary.kelvin().is_finite(), "its temperature is known without humidity");
}

#[test]
fn dew_ends_a_good_stretch_and_is_named() {
    let more = "[good]\nshimmer = '2 arcsec'\nheld_for = '10 min'";
    let night = Damp { more, ..damp(0.85) }.run();
    let dew = night.passing.iter().find(|passing| passing.criterion == Criterion::Dew).unwrap();
    let (from, to) = dew.stretches[0];
    assert_abs_diff_eq!(from, 0.0);
    // The stretch ends where the smaller margin passes that asked for.
    let asked = night.scenario.good.dew_margin.kelvins();
    let [before, after] = [true, false].map(|before| {
        let rows = night.history.iter().filter(|row| (row.time_s < to) == before);
        let margin = |row: &evenglass_simulation::result::Record| {
            row.dew_margin_primary.kelvins().min(row.dew_margin_secondary.kelvins())
        };
        if before { rows.map(margin).next_back() } else { rows.map(margin).next() }
    });
    assert!(before.unwrap() >= asked && after.unwrap() <= asked, "{before:?} {after:?}");
    let ended = night.good_intervals.iter().map(|interval| interval.ended_by);
    let by_dew = Ending::Missed(Criterion::Dew);
    assert!(ended.clone().any(|ending| ending == by_dew), "{:?}", night.good_intervals);
}

#[test]
fn the_secondary_never_falls_below_what_it_meets() {
    let night = damp(0.3).run();
    // Clear sky over dry air of 10 °C towards the zenith: not below −40 °C by any fit.
    for row in &night.history {
        assert!(row.secondary.celsius() > -40.0 && row.secondary.celsius() < 10.0 + 1e-9);
    }
    let row = last(&night);
    assert!(row.secondary < row.air, "{row:?}");
}

#[test]
fn a_cold_mirror_carried_indoors_is_wet_until_it_has_warmed() {
    let cold = Damp { air: "15 degC", ..damp(0.5) }.run().dew.unwrap().indoors;
    assert!(cold.margin_k > 0.0 && cold.wet_s.abs() < 1e-12, "{cold:?}");
    let night = Damp { air: "-5 degC", ..damp(0.5) }.run();
    let colder = night.dew.as_ref().unwrap().indoors;
    // 20 °C at 50 %: a dew point of 9.274 °C.
    let margin = last(&night).mean.celsius() - 9.274;
    assert_abs_diff_eq!(colder.margin_k, margin, epsilon = 2e-3);
    // 3.8 kg of glass, 2.9 kJ/K, some 1 W/K: it needs τ ln(25/10.7) = 0.85 τ, 35 to 60 min.
    assert!((1800.0..4500.0).contains(&colder.wet_s), "{colder:?}");
    assert!((1.0..60.0).contains(&colder.film_g_m2), "{colder:?}");
}

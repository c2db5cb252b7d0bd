//! What keeps a secondary dry, and what does not.

use evenglass_simulation::Night;

use crate::scenario::{Damp, damp, last};

fn margin(night: &Night) -> f64 {
    let dew = night.dew.as_ref().expect("the humidity is known");
    dew.secondary.as_ref().expect("there is a secondary").worst_margin_k
}

#[test]
fn foil_on_its_back_keeps_the_secondary_dry() {
    let bare = damp(0.93).run();
    assert!(margin(&bare) < 0.0, "{}", margin(&bare));
    let foil = format!("{}, back_emissivity = 0.05", Damp::BARE);
    let shielded = Damp { secondary: &foil, ..damp(0.93) }.run();
    assert!(margin(&shielded) > 0.0, "{}", margin(&shielded));
    // What was told of foil beforehand is what it does, once everything has settled.
    let told = bare.dew.unwrap().secondary.unwrap().remedies.unwrap().foil_margin_k.unwrap();
    let settled = last(&shielded).dew_margin_secondary.kelvins();
    assert!((told - settled).abs() < 0.15, "{told} against {settled}");
}

#[test]
fn the_heater_that_is_advised_is_enough_and_not_twice_enough() {
    let bare = damp(0.95).run();
    let advised = bare.dew.as_ref().unwrap().secondary.as_ref().unwrap();
    let remedies = advised.remedies.unwrap();
    let watts = remedies.heater_w.unwrap();
    assert!((0.01..1.0).contains(&watts), "{watts} W for 60 mm");
    let target = bare.scenario.good.dew_margin.kelvins();
    let heated = |share: f64| {
        let secondary = format!("{}, heater = '{} W'", Damp::BARE, share * watts);
        last(&Damp { secondary: &secondary, ..damp(0.95) }.run()).dew_margin_secondary.kelvins()
    };
    let enough = heated(1.0);
    // Settled at the end, in the surroundings of the worst instant.
    assert!((enough - target).abs() < 0.1, "{enough} for {target}");
    assert!(heated(0.3) < enough);
    assert!(heated(2.0) > target);
}

#[test]
fn a_heater_turned_off_is_none() {
    let secondary = format!("{}, heater = '1 W'", Damp::BARE);
    let off = Damp { secondary: &secondary, night: "secondary_heater = 0.0", ..damp(0.95) }.run();
    assert!((margin(&off) - margin(&damp(0.95).run())).abs() < 1e-9);
    let later = Damp {
        secondary: &secondary,
        night: "secondary_heater = 0.0",
        more: "[[event]]\nat = '3 h'\nsecondary_heater = 0.5",
        ..damp(0.95)
    };
    let later = later.run();
    let before = later.history.iter().rfind(|row| row.time_s < 3.0 * 3600.0).unwrap();
    assert!(last(&later).dew_margin_secondary > before.dew_margin_secondary);
    assert!(last(&later).dew_margin_secondary.kelvins() > 0.5);
}

#[test]
fn a_heater_that_is_turned_must_be_there() {
    let text = Damp { night: "secondary_heater = 0.5", ..damp(0.9) }.text();
    let faults = evenglass_scenario::parse("x.toml", &text, std::path::Path::new(""), &[]);
    let faults = faults.unwrap_err().faults;
    assert_eq!(faults.len(), 1, "{faults:?}");
    assert_eq!(faults[0].code, "scenario::conflict");
    assert!(faults[0].help.as_ref().unwrap().contains("heater = "), "{faults:?}");
}

/// Under a ring nozzle: the column that rises past the secondary brings it to its own
/// temperature, a little above that of the night.
#[test]
fn a_column_of_air_keeps_the_secondary_warm() {
    let fans = "[ventilation]\nkind = 'ring-nozzle'\nslot = '5 mm'\nheight = '2 mm'\n\
                [ventilation.fans]\ndiameter = '120 mm'\nhub_diameter = '40 mm'\n\
                free_flow = '30 L/s'\nmax_pressure = '30 Pa'\npower = '1.5 W'\n";
    let with = |more: &'static str| {
        let text = Damp { more, ..damp(0.95) }.text();
        let text = text.replace("glass_temperature = '10 degC'", "glass_temperature = '16 degC'");
        let text = text.replace("duration = '6 h'", "duration = '1 h'");
        let scenario = evenglass_scenario::parse("x.toml", &text, std::path::Path::new(""), &[])
            .unwrap_or_else(|error| panic!("{:?}\n{text}", error.faults));
        evenglass_simulation::simulate(&scenario, &crate::scenario::usual()).unwrap()
    };
    let (still, blown) = (with(""), with(fans));
    let excess = last(&blown).column_excess.kelvins();
    assert!(excess > 0.03, "{excess}");
    assert!(
        last(&blown).secondary.kelvin() > last(&still).secondary.kelvin() + 0.5,
        "{} {}",
        last(&blown).secondary.celsius(),
        last(&still).secondary.celsius()
    );
}

/// A mirror brought out colder than the dew point of the night.
#[test]
fn fans_on_a_mirror_below_the_dew_point_are_warned_of_and_feed_the_dew() {
    let run = |speed: f64| {
        let more = "[back]\nfilm = { kind = 'fan-behind', fan_diameter = '120 mm', hub_diameter = \
                    '40 mm', distance = '60 mm', flow = '20 L/s' }\n\
                    [front]\nfilm = { kind = 'breeze', shelter = 1.0 }";
        let night = format!("fan_speed = {speed}");
        let text = Damp { night: &night, more, ..damp(0.9) }.text();
        let text = text.replace("glass_temperature = '10 degC'", "glass_temperature = '2 degC'");
        let scenario = evenglass_scenario::parse("x.toml", &text, std::path::Path::new(""), &[])
            .unwrap_or_else(|error| panic!("{:?}\n{text}", error.faults));
        evenglass_simulation::simulate(&scenario, &crate::scenario::usual()).unwrap()
    };
    let told = |night: &Night| night.warnings.iter().any(|w| w.code == "dew::fans-feed-dew");
    let (off, on) = (run(0.0), run(1.0));
    assert!(!told(&off) && told(&on), "{:?}", on.warnings);
    let dew = off.dew.unwrap().primary;
    assert_eq!(dew.dew_from_s, Some(0.0));
    assert!(dew.film_g_m2 > 1.0, "{dew:?}");
    assert!(dew.remedies.unwrap().warming_k > 6.0, "{dew:?}");
}

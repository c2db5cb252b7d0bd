//! Mass through the network, and what lopsided builds do around the axis.

use approx::{assert_abs_diff_eq, assert_relative_eq};

use super::field::Around;
use super::moved::{Moved, Planned, plan};
use crate::films::usual_air;

#[path = "../../../../tests/ventilation/arranged.rs"]
pub(crate) mod arranged;

use arranged::{Draft, every, fans};

fn planned(ventilation: String) -> Planned {
    plan(&Draft { ventilation, ..Draft::usual() }.scenario()).swap_remove(0)
}

fn moved(ventilation: String) -> Moved {
    planned(ventilation).moved(1.0, &usual_air(283.15, 101_325.0))
}

#[test]
fn all_air_of_the_fans_goes_somewhere() {
    for (name, ventilation) in every(406.0) {
        for leak in ["", ", leak = \"5 cm2\""] {
            if matches!(name, "open" | "sealed" | "two systems") {
                continue;
            }
            let open = ventilation.strip_suffix(" }").unwrap();
            let moved = moved(format!("{open}{leak} }}"));
            let operating = moved.operating.as_ref().unwrap();
            let sum: f64 = operating.branches.iter().map(|branch| branch.flow).sum();
            assert!(operating.flow > 1e-3, "{name}: {} m3/s", operating.flow);
            assert_relative_eq!(sum, operating.flow, max_relative = 1e-9);
            assert!(moved.flows.reaching() <= operating.flow * (1.0 + 1e-9), "{name}");
            assert_eq!(moved.flows.reaching() < 0.999 * operating.flow, !leak.is_empty(), "{name}");
        }
    }
}

fn share(around: &Around, order: usize) -> f64 {
    around.share(order)
}

/// Four alike on a circle are even to order 3; without one of them, the first of the new
/// orders is the largest.
#[test]
fn a_failed_fan_of_four_is_mostly_of_first_order() {
    let with = |failed: u32| {
        let fans =
            fans(406.0, 0.15, 4).replace("count = 4", &format!("count = 4, failed = {failed}"));
        let text = format!(
            "{{ kind = \"fans-behind\", circle_diameter = \"220 mm\", distance = \"50 mm\", {fans} }}"
        );
        moved(text).back.unwrap().around(0.15)
    };
    let (whole, failed) = (with(0), with(1));
    for order in 1..=3 {
        assert_abs_diff_eq!(share(&whole, order), 0.0, epsilon = 1e-9);
    }
    assert!(share(&whole, 4) > 0.01, "{whole:?}");
    assert!(share(&failed, 1) > 0.1, "{failed:?}");
    // Order 4 was there before.
    assert!((2..=3).all(|order| share(&failed, order) < share(&failed, 1)), "{failed:?}");
}

#[test]
fn two_facing_rows_have_no_first_order_and_one_row_has() {
    let rows = |wanted: &str| {
        let (_, text) = every(406.0).into_iter().find(|(name, _)| *name == wanted).unwrap();
        moved(text).front.unwrap().around(0.15)
    };
    let (one, both) = (rows("side fans"), rows("side fans on both sides"));
    assert!(share(&one, 1) > 0.05 && share(&one, 1) > share(&one, 3), "{one:?}");
    assert_abs_diff_eq!(share(&both, 1), 0.0, epsilon = 1e-9);
    assert!(share(&both, 2) > 0.05 && share(&both, 2) > share(&both, 4), "{both:?}");
}

/// 3.2 to 4.8 mm: 20 %, to the power 0.4 is 8 % of the film, everywhere and of order 1.
#[test]
fn an_uneven_slot_makes_two_fifths_of_its_unevenness() {
    let fans = fans(406.0, 0.25, 1);
    let text = format!(
        "{{ kind = \"ring-nozzle\", slot = \"4 mm\", slot_range = [\"3.2 mm\", \"4.8 mm\"], lip = \"12 mm\", height = \"2 mm\", path = {{ kind = \"direct\" }}, {fans} }}"
    );
    let front = moved(text).front.unwrap();
    for radius in [0.05, 0.12, 0.19] {
        let around = front.around(radius);
        assert_relative_eq!(share(&around, 1), 0.08, max_relative = 1e-9);
        assert_abs_diff_eq!(share(&around, 2), 0.0, epsilon = 1e-9);
    }
}

#[test]
fn a_fan_beside_the_axis_is_of_first_order_and_one_on_it_of_none() {
    let back = |wanted: usize| moved(every(406.0).swap_remove(wanted).1).back.unwrap().around(0.1);
    let (on, beside) = (back(0), back(2));
    assert_abs_diff_eq!(share(&on, 1), 0.0, epsilon = 1e-12);
    assert!(share(&beside, 1) > 0.2 && share(&beside, 1) > share(&beside, 2), "{beside:?}");
}

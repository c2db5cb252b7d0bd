//! Changes on the command line to fans and arrangements.

use evenglass_scenario::Scenario;
use evenglass_scenario::ventilation::{Arrangement, FanData, Feed, LayerKind, System};

use crate::arrangements::{FULL, MIRROR, RING};
use crate::good::{close, understood};

fn changed(sections: &str, changes: &[&str]) -> Scenario {
    understood(&format!("{MIRROR}{sections}"), changes)
}

fn main_of(sections: &str, changes: &[&str]) -> System {
    changed(sections, changes).ventilation.unwrap().main
}

#[test]
fn another_arrangement_discards_the_keys_of_the_old_one_and_keeps_its_fans() {
    let suction = main_of(FULL, &["ventilation.kind=suction", "ventilation.gap=25 mm"]);
    let Arrangement::Suction { gap, .. } = suction.arrangement else { panic!("{suction:?}") };
    assert!(close(gap.metres(), 0.025), "{gap:?}");
    assert_eq!((suction.fans.unwrap().in_series, suction.layers.len()), (2, 9));
    let open = main_of(FULL, &["ventilation.kind=open"]);
    assert_eq!((open.arrangement, open.fans, open.layers.len()), (Arrangement::Open, None, 0));
    let behind = main_of(RING, &["ventilation.kind=fan-behind", "ventilation.distance=70 mm"]);
    assert!(matches!(behind.arrangement, Arrangement::FanBehind(_)), "{behind:?}");
}

#[test]
fn a_key_of_the_same_name_and_another_meaning_does_not_pass_to_the_new_arrangement() {
    let text = format!("{MIRROR}{FULL}");
    let change = crate::change("ventilation.kind=fan-above");
    let error = evenglass_scenario::parse("n.toml", &text, std::path::Path::new(""), &[change]);
    let faults = error.unwrap_err().faults;
    assert!(faults.iter().any(|f| f.message.contains("`distance`")), "{faults:?}");
    // Where the typed kind is told what it needs, that is taken.
    let above = ["ventilation.distance=400 mm", "ventilation.kind=fan-above"];
    let Arrangement::FanAbove { distance } = main_of(FULL, &above).arrangement else {
        panic!("above")
    };
    assert!(close(distance.metres(), 0.4));
}

#[test]
fn a_second_arrangement_and_the_path_of_a_nozzle_change_their_kind_likewise() {
    let changes = ["ventilation.second.kind=open"];
    let second = changed(FULL, &changes).ventilation.unwrap().second.unwrap();
    assert_eq!((second.arrangement, second.fans), (Arrangement::Open, None));
    let direct = main_of(RING, &["ventilation.path.kind=direct", "ventilation.feed=even"]);
    let Arrangement::RingNozzle(nozzle) = direct.arrangement else { panic!("nozzle") };
    assert_eq!(nozzle.path, evenglass_scenario::ventilation::Path::Direct);
    assert_eq!(nozzle.feed, Feed::Even);
}

#[test]
fn a_curve_by_its_ends_displaces_one_by_its_points_and_the_other_way() {
    let ends = ["ventilation.fans.free_flow=60 cfm", "ventilation.fans.max_pressure=3 mmH2O"];
    let fans = main_of(FULL, &ends).fans.unwrap();
    let FanData::Ends { max_pressure, .. } = fans.curve else { panic!("ends") };
    // A millimetre of water at 4 degC is 9.80665 Pa, by definition of the unit.
    assert!(close(max_pressure.pascals(), 29.419_95), "{max_pressure:?}");
    let points = [
        "ventilation.fans.flow=[\"0 L/s\", \"30 L/s\"]",
        "ventilation.fans.pressure=[\"20 Pa\", \"0 Pa\"]",
    ];
    let fans = main_of(RING, &points).fans.unwrap();
    assert!(matches!(&fans.curve, FanData::Points(points) if points.len() == 2), "{fans:?}");
}

#[test]
fn changes_reach_the_layers_one_by_one_and_their_kind() {
    let changes = [
        "ventilation.layers.0.area=800 cm2",
        "ventilation.layers.8.kind=opening",
        "ventilation.layers.1.kind=filter",
        "ventilation.layers.1.media=coarse",
    ];
    let layers = main_of(FULL, &changes).layers;
    assert!(
        matches!(&layers[0].kind, LayerKind::Filter { area, .. } if close(area.m2(), 0.08)),
        "{layers:?}"
    );
    assert!(
        matches!(&layers[8].kind, LayerKind::Opening { area } if close(area.m2(), 0.0113)),
        "{layers:?}"
    );
    assert!(
        matches!(&layers[1].kind, LayerKind::Filter { media, .. } if media == "coarse"),
        "{layers:?}"
    );
}

/// Whatever kind is typed over whatever kind is written, what remains are keys of the new one;
/// all that can be wrong is that it needs something the old one did not have.
#[test]
fn no_change_of_kind_leaves_a_key_that_the_new_kind_does_not_know() {
    let cases = [
        (FULL, vec!["ventilation"], "ventilation"),
        (FULL, vec!["ventilation", "suction", "second"], "ventilation.second"),
        (FULL, vec!["ventilation", "suction", "layers"], "ventilation.layers.4"),
    ];
    let more = [
        (RING, vec!["ventilation"], "ventilation"),
        (RING, vec!["ventilation", "ring-nozzle", "path"], "ventilation.path"),
    ];
    for (sections, path, key) in cases.into_iter().chain(more) {
        let kinds = evenglass_scenario::kinds_of(&path);
        assert!(kinds.len() >= 3, "{path:?}");
        for (kind, _) in kinds {
            let change = crate::change(&format!("{key}.kind={kind}"));
            let text = format!("{MIRROR}{sections}");
            let read =
                evenglass_scenario::parse("n.toml", &text, std::path::Path::new(""), &[change]);
            let faults = read.err().map(|error| error.faults).unwrap_or_default();
            for fault in faults {
                let needs = ["scenario::missing-key", "scenario::conflict", "scenario::build"];
                assert!(needs.contains(&fault.code), "{key} to {kind}: {}", fault.message);
            }
        }
    }
}

//! Result folders: replaced as a whole, or not at all.

use std::fs;

use crate::place::Place;

const FILES: [&str; 10] = [
    "edge-to-centre.png",
    "fields.csv",
    "figure.png",
    "good.png",
    "history.csv",
    "image.png",
    "section.png",
    "summary.json",
    "surface.png",
    "temperatures.png",
];

#[test]
fn a_run_writes_the_files_of_the_contract_and_nothing_else() {
    let place = Place::with_quick();
    place.succeed(&["run", "quick.toml"]);
    assert_eq!(place.names(), ["quick-out", "quick.toml"]);
    let contents = place.contents("quick-out");
    assert_eq!(contents.keys().collect::<Vec<_>>(), FILES);
    assert!(contents.values().all(|content| !content.is_empty()), "an empty file");
    let history = place.read("quick-out/history.csv");
    // One row every five minutes of one hour, and the start.
    assert_eq!(history.lines().count(), 1 + 13, "{history}");
    assert!(history.starts_with("time_s,clock,air_c,front_centre_c,"), "{history}");
}

#[test]
fn the_same_scenario_leaves_the_same_bytes() {
    let place = Place::with_quick();
    place.succeed(&["run", "quick.toml"]);
    place.succeed(&["run", "quick.toml", "--out", "again"]);
    let (first, second) = (place.contents("quick-out"), place.contents("again"));
    for name in FILES {
        assert!(first[name] == second[name], "{name} differs");
    }
}

#[test]
fn an_earlier_result_is_replaced_as_a_whole() {
    let place = Place::with_quick();
    place.succeed(&["run", "quick.toml"]);
    place.write("quick-out/notes.txt", "of an earlier evening");
    place.succeed(&["run", "quick.toml"]);
    assert_eq!(place.contents("quick-out").keys().collect::<Vec<_>>(), FILES);
    assert_eq!(place.names(), ["quick-out", "quick.toml"], "nothing is left beside it");
}

#[test]
fn any_other_folder_with_something_in_it_is_refused_before_anything_is_computed() {
    let place = Place::with_quick();
    fs::create_dir(place.file("photos")).unwrap();
    place.write("photos/moon.txt", "mine");
    fs::create_dir(place.file("foreign")).unwrap();
    place.write("foreign/summary.json", "{\"program\": \"another\"}");
    for folder in ["photos", "foreign", "quick.toml", "."] {
        place.say(&["run", "quick.toml", "--out", folder]).refused(2, "output::folder");
    }
    assert_eq!(place.read("photos/moon.txt"), "mine");
    assert_eq!(place.names(), ["foreign", "photos", "quick.toml"]);
}

#[test]
fn an_empty_folder_is_taken_and_missing_parents_are_made() {
    let place = Place::with_quick();
    fs::create_dir(place.file("empty")).unwrap();
    place.succeed(&["run", "quick.toml", "--out", "empty"]);
    place.succeed(&["run", "quick.toml", "--out", "some/new/place"]);
    assert!(place.file("some/new/place/summary.json").is_file(), "{:?}", place.names());
}

#[test]
fn a_run_that_is_refused_leaves_the_earlier_result_as_it_was() {
    let place = Place::with_quick();
    place.succeed(&["run", "quick.toml"]);
    let before = place.contents("quick-out");
    let said = place.say(&["run", "quick.toml", "--set", "mirror.edge_thickness=9 km"]);
    assert_eq!(said.status, Some(2), "{said:?}");
    assert!(place.contents("quick-out") == before, "the earlier result changed");
}

//! `evenglass new`: a first scenario that works as it is.

use crate::place::Place;

fn kinds(place: &Place) -> Vec<String> {
    let list = place.succeed(&["new", "--list"]).out;
    list.lines().filter_map(|line| line.split_whitespace().next()).map(str::to_owned).collect()
}

#[test]
fn every_starting_scenario_passes_the_check_and_its_night_can_be_computed() {
    let place = Place::empty();
    let kinds = kinds(&place);
    assert!(kinds.len() >= 3, "{kinds:?}");
    for kind in kinds {
        let file = format!("{kind}.toml");
        place.succeed(&["new", &file, "--kind", &kind]);
        place.succeed(&["check", &file]);
        let said = place.succeed(&["run", &file]);
        assert!(!said.out.is_empty(), "{kind}");
    }
}

#[test]
fn a_starting_scenario_names_its_schema_in_the_first_line_and_brings_it_along() {
    let place = Place::empty();
    let said = place.succeed(&["new", "mirror.toml"]);
    assert!(place.read("mirror.toml").starts_with("#:schema ./scenario.schema.json\n"), "{said:?}");
    let schema: serde_json::Value =
        serde_json::from_str(&place.read("scenario.schema.json")).unwrap();
    assert!(schema["properties"]["mirror"].is_object(), "not the schema of a scenario");
    assert_eq!(said.out, "", "files are talk, not an answer");
}

#[test]
fn an_existing_file_is_never_overwritten() {
    let place = Place::empty();
    place.write("mirror.toml", "mine");
    place.say(&["new", "mirror.toml"]).refused(2, "new::exists");
    assert_eq!(place.read("mirror.toml"), "mine");
    assert_eq!(place.names(), ["mirror.toml"], "nothing else was written");
}

#[test]
fn a_schema_that_is_there_already_is_kept() {
    let place = Place::empty();
    place.write("scenario.schema.json", "{}");
    let said = place.succeed(&["new", "mirror.toml"]);
    assert_eq!(place.read("scenario.schema.json"), "{}");
    assert!(said.err.contains("kept scenario.schema.json"), "{said:?}");
}

#[test]
fn a_scenario_that_does_not_exist_or_has_no_place_to_go_is_refused() {
    let place = Place::empty();
    place.say(&["new", "mirror.toml", "--kind", "spaceship"]).refused(2, "new::unknown-kind");
    place.say(&["new", "no/such/folder/mirror.toml"]).refused(1, "output::write");
    assert!(place.names().is_empty(), "{:?}", place.names());
}

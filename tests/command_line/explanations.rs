//! `evenglass explain`.

use crate::place::Place;

#[test]
fn without_a_topic_the_topics_are_listed() {
    let said = Place::empty().succeed(&["explain"]);
    for topic in ["glass", "film", "columns", "codes"] {
        assert!(said.out.contains(topic), "{topic}: {said:?}");
    }
}

#[test]
fn a_glass_is_explained_with_its_values_and_their_sources() {
    let place = Place::empty();
    assert!(place.succeed(&["explain", "glass"]).out.contains("borosilicate"), "not listed");
    let said = place.succeed(&["explain", "glass", "soda-lime"]);
    assert!(said.out.contains("2500") && said.out.contains("EN 572-1"), "{said:?}");
}

#[test]
fn a_film_is_explained_with_the_keys_that_make_it() {
    let place = Place::empty();
    let said = place.succeed(&["explain", "film", "fan-behind"]);
    assert!(said.out.contains("fan_diameter"), "{said:?}");
}

#[test]
fn what_is_not_known_is_answered_with_what_is() {
    let place = Place::empty();
    place.say(&["explain", "glass", "butter"]).refused(2, "explain::unknown-name");
    place.say(&["explain", "film", "butter"]).refused(2, "explain::unknown-name");
    place.say(&["explain", "butter"]).refused(2, "explain::unknown-topic");
    place.say(&["explain", "butter", "bread"]).refused(2, "explain::unknown-topic");
}

#[test]
fn every_code_can_be_looked_up_by_itself() {
    let place = Place::empty();
    let codes = place.succeed(&["explain", "codes"]).out;
    let codes: Vec<&str> = codes.split_whitespace().filter(|word| word.contains("::")).collect();
    assert!(codes.len() > 10, "{codes:?}");
    for code in codes {
        assert!(place.succeed(&["explain", code]).out.starts_with(code), "{code}");
    }
}

//! `evenglass explain`.

use crate::place::Place;

#[test]
fn without_a_topic_the_topics_are_listed() {
    let said = Place::empty().succeed(&["explain"]);
    for topic in ["glass", "film", "arrangement", "fan", "filter", "wall", "columns", "codes"] {
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
fn an_arrangement_is_explained_face_by_face_with_its_keys_and_what_it_refuses() {
    let place = Place::empty();
    let all = place.succeed(&["explain", "arrangement"]).out;
    for kind in ["fan-behind", "suction", "plenum", "ring-nozzle", "open", "sealed"] {
        assert!(all.contains(kind), "{kind}: {all}");
    }
    let plenum = place.succeed(&["explain", "arrangement", "plenum"]).out;
    for word in ["Back: ", "Rim: ", "Front: ", "Refused: ", "hole_diameter", "known to a quarter"] {
        assert!(plenum.contains(word), "{word}: {plenum}");
    }
}

#[test]
fn what_makers_buy_is_explained_with_how_well_it_is_known() {
    let place = Place::empty();
    let filters = place.succeed(&["explain", "filter"]).out;
    assert!(filters.contains("hepa-13") && filters.contains("40 %"), "{filters}");
    let wall = place.succeed(&["explain", "wall", "plywood"]).out;
    assert!(wall.contains("EN ISO 10456") && wall.contains("inside_emissivity"), "{wall}");
    assert!(place.succeed(&["explain", "fan"]).out.contains("max_pressure"), "no keys");
}

#[test]
fn the_words_of_the_answers_are_explained() {
    let place = Place::empty();
    let words = place.succeed(&["explain", "words"]).out;
    for word in ["correction", "shimmer", "Strehl ratio", "edge minus centre", "mask"] {
        assert!(words.contains(word), "{word}: {words}");
    }
    let correction = place.succeed(&["explain", "word", "correction"]).out;
    assert!(correction.contains("over-corrected"), "{correction}");
    place.say(&["explain", "word", "butter"]).refused(2, "explain::unknown-name");
}

#[test]
fn what_is_not_known_is_answered_with_what_is() {
    let place = Place::empty();
    place.say(&["explain", "glass", "butter"]).refused(2, "explain::unknown-name");
    place.say(&["explain", "film", "butter"]).refused(2, "explain::unknown-name");
    place.say(&["explain", "arrangement", "butter"]).refused(2, "explain::unknown-name");
    place.say(&["explain", "filter", "butter"]).refused(2, "explain::unknown-name");
    place.say(&["explain", "wall", "butter"]).refused(2, "explain::unknown-name");
    place.say(&["explain", "fan", "butter"]).refused(2, "explain::unknown-topic");
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

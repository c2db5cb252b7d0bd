//! A wrong scenario gets a line, a fact and a remedy, and status 2.

use std::ffi::OsStr;
use std::fs;

use crate::place::{Place, QUICK};

#[test]
fn a_wrong_unit_is_shown_where_it_stands() {
    let place = Place::empty();
    place.write("a.toml", QUICK.replace("\"25 mm\"", "\"25 mmm\""));
    for command in ["check", "run"] {
        let said = place.say(&[command, "a.toml"]);
        assert_eq!(said.status, Some(2), "{said:?}");
        assert!(said.err.contains("a.toml:5:18"), "{said:?}");
        assert!(said.err.contains("help: "), "{said:?}");
        assert_eq!(said.out, "");
    }
    assert_eq!(place.names(), ["a.toml"], "a wrong scenario leaves nothing behind");
}

#[test]
fn several_faults_are_reported_at_once_and_counted() {
    let place = Place::empty();
    let wrong = QUICK.replace("\"25 mm\"", "\"25\"").replace("\"1 h\"", "\"1 mm\"");
    place.write("a.toml", wrong);
    let said = place.say(&["check", "a.toml"]);
    assert_eq!(said.status, Some(2), "{said:?}");
    assert_eq!(said.err.matches("error[").count(), 2, "{said:?}");
    assert!(said.err.trim_end().contains("2 faults"), "{said:?}");
}

#[test]
fn a_file_that_cannot_be_read_is_a_fault_and_no_crash() {
    let place = Place::empty();
    place.write("empty.toml", "");
    place.write("binary.toml", [0xff, 0xfe, 0x00, 0x80]);
    place.write("not.toml", "[mirror\n");
    place.write("bom.toml", "\u{feff}title = 3\r\n");
    place
        .write("long.toml", format!("title = \"{}\" {}", "x".repeat(100_000), "y".repeat(100_000)));
    fs::create_dir(place.file("folder.toml")).unwrap();
    for name in [
        "empty.toml",
        "binary.toml",
        "not.toml",
        "bom.toml",
        "long.toml",
        "folder.toml",
        "no.toml",
        "",
    ] {
        let said = place.say(&["check", name]);
        assert_eq!(said.status, Some(2), "{name}: {said:?}");
        assert!(said.err.contains("error"), "{name}: {said:?}");
        assert!(!said.err.contains("panicked"), "{name}: {said:?}");
        let longest = said.err.lines().map(|line| line.chars().count()).max();
        assert!(longest < Some(400), "{name}: a line of {longest:?} characters");
    }
}

#[cfg(unix)]
#[test]
fn a_path_that_is_not_text_is_read_all_the_same() {
    use std::os::unix::ffi::OsStrExt;

    let place = Place::empty();
    let name = OsStr::from_bytes(b"mirr\xf6r.toml");
    if let Err(error) = fs::write(place.file(name), QUICK) {
        // Some file systems take only UTF-8 names.
        eprintln!("skipped: this file system refuses the name: {error}");
        return;
    }
    let said = place.succeed(&[OsStr::new("run"), name]);
    assert!(!said.out.is_empty(), "{said:?}");
    assert!(place.file(OsStr::from_bytes(b"mirr\xf6r-out")).is_dir(), "{:?}", place.names());
}

#[test]
fn a_fault_in_an_option_is_shown_in_the_option() {
    let place = Place::with_quick();
    for (words, shown) in [
        (vec!["run", "quick.toml", "--set", "mirror.edge_thickness"], "mirror.edge_thickness"),
        (vec!["run", "quick.toml", "--set", "mirror.edge_thickness=3 s"], "3 s"),
        (vec!["run", "quick.toml", "--set", "mirror.edge_thikness=3 mm"], "edge_thikness"),
        (vec!["compare", "quick.toml", "--variant", "thin"], "thin"),
        (vec!["sweep", "quick.toml", "--vary", "rim.film.coefficient"], "rim.film.coefficient"),
        (
            vec!["sweep", "quick.toml", "--vary", "rim.film.coefficient=1 W/m2/K .. 2 W/m2/K : 0"],
            ": 0",
        ),
    ] {
        let said = place.say(&words);
        assert_eq!(said.status, Some(2), "{words:?}: {said:?}");
        assert!(said.err.contains("error[") && said.err.contains(shown), "{words:?}: {said:?}");
        assert!(said.err.contains("help: "), "{words:?}: {said:?}");
    }
    assert_eq!(place.names(), ["quick.toml"]);
}

#[test]
fn a_fault_that_a_variant_brings_to_light_in_the_file_names_the_variant() {
    let place = Place::with_quick();
    // The hole is too wide only because the variant makes the mirror small.
    place.write(
        "holed.toml",
        crate::place::QUICK.replace("[night]", "hole_diameter = \"110 mm\"\n[night]"),
    );
    let variant = "small: mirror.diameter=100 mm";
    let said = place.say(&["compare", "holed.toml", "--variant", variant]);
    assert_eq!(said.status, Some(2), "{said:?}");
    assert!(said.err.contains("with the variant `small`, "), "{said:?}");
}

#[test]
fn a_fault_inside_a_variant_is_placed_in_that_variant() {
    let place = Place::with_quick();
    let compare = |variant| place.say(&["compare", "quick.toml", "--variant", variant]).err;
    let said = compare("thick: mirror.edge_thickness=3 s");
    assert!(said.contains("--variant 'thick':1:23"), "{said}");
    let said = compare("foo");
    assert!(said.contains("'name: key=value'"), "{said}");
    let vary = ["sweep", "quick.toml", "--vary", "mirror.edge_thickness=3 s, 4 s"];
    let said = place.say(&vary).err;
    assert!(said.contains("--> --vary:1:23"), "{said}");
}

#[test]
fn a_title_that_would_command_the_terminal_is_refused_or_shown_harmlessly() {
    let place = Place::empty();
    let title = "title = \"\\u001b[2J\\u202eelpmis\"";
    place.write("a.toml", QUICK.replace("title = \"quick\"", title));
    for command in ["check", "run"] {
        let said = place.say(&[command, "a.toml", "--color", "always"]);
        for text in [&said.out, &said.err] {
            assert!(!text.contains("\u{1b}[2J") && !text.contains('\u{202e}'), "{said:?}");
        }
    }
}

//! Sweeps: order, failures, threads, progress.

use crate::place::Place;

const THICKNESS: &str = "mirror.edge_thickness=20 mm .. 30 mm : 3";
const RIM: &str = "rim.film.coefficient=0 W/m2/K, 6 W/m2/K";

fn rows(table: &str) -> Vec<Vec<String>> {
    table.lines().skip(1).map(|line| line.split(',').map(str::to_owned).collect()).collect()
}

#[test]
fn a_grid_is_written_in_its_order_with_the_last_key_fastest() {
    let place = Place::with_quick();
    place.succeed(&["sweep", "quick.toml", "--vary", THICKNESS, "--vary", RIM]);
    let table = place.read("quick-out/sweep.csv");
    assert!(
        table.starts_with("mirror.edge_thickness,rim.film.coefficient,good_hours,ready_at,"),
        "{table}"
    );
    let rows = rows(&table);
    assert_eq!(rows.len(), 6, "{table}");
    let rims: Vec<&str> = rows.iter().map(|row| row[1].as_str()).collect();
    assert_eq!(rims, ["0 W/m2/K", "6 W/m2/K"].repeat(3));
    assert!(rows[0][0] == rows[1][0] && rows[1][0] != rows[2][0], "{table}");
}

#[test]
fn the_number_of_threads_changes_no_byte() {
    let place = Place::with_quick();
    for threads in ["1", "2"] {
        place.succeed(&[
            "sweep",
            "quick.toml",
            "--vary",
            THICKNESS,
            "--vary",
            RIM,
            "--threads",
            threads,
            "--out",
            threads,
        ]);
    }
    let (one, two) = (place.contents("1"), place.contents("2"));
    assert_eq!(one.keys().collect::<Vec<_>>(), two.keys().collect::<Vec<_>>());
    for (name, content) in &one {
        assert!(content == &two[name], "{name} differs");
    }
}

#[test]
fn a_night_that_fails_is_named_and_the_others_are_kept() {
    let place = Place::with_quick();
    let said = place.succeed(&[
        "sweep",
        "quick.toml",
        "--vary",
        "mirror.edge_thickness=25 mm, 1 mm, 30 mm",
    ]);
    assert!(said.err.contains("mirror.edge_thickness=1 mm"), "{said:?}");
    let rows = rows(&place.read("quick-out/sweep.csv"));
    assert_eq!(rows.len(), 3, "{rows:?}");
    assert!(!rows[0][1].is_empty() && !rows[2][1].is_empty(), "{rows:?}");
    assert_eq!(rows[1][1], "", "no number stands where there is none: {rows:?}");
}

#[test]
fn a_sweep_of_nothing_but_failures_is_one() {
    let place = Place::with_quick();
    let said = place.say(&["sweep", "quick.toml", "--vary", "mirror.edge_thickness=1 mm, 1.5 mm"]);
    assert_eq!(said.status, Some(2), "every member is a wrong scenario: {said:?}");
    assert!(said.err.contains("error["), "{said:?}");
    assert_eq!(place.names(), ["quick.toml"], "no folder, and nothing hidden");
}

#[test]
fn a_sweep_tells_of_its_progress_in_lines_when_no_terminal_looks_on() {
    let place = Place::with_quick();
    let words = ["sweep", "quick.toml", "--vary", "mirror.edge_thickness=20 mm .. 30 mm : 20"];
    let said = place.succeed(&words);
    for percent in [10, 50, 100] {
        assert!(said.err.contains(&format!("{percent:>3} %")), "{said:?}");
    }
    assert_eq!(said.err.matches(" nights)").count(), 10, "{said:?}");
    let counted = said.err.lines().filter_map(|line| line.split_once("% (")?.1.split(' ').next());
    let counts: Vec<u32> = counted.map(|count| count.parse().unwrap()).collect();
    assert!(counts.is_sorted(), "threads do not overtake one another: {counts:?}");
    let three = "mirror.edge_thickness=20 mm, 25 mm, 30 mm";
    let said = place.succeed(&["sweep", "quick.toml", "--vary", three]);
    assert!(said.err.contains(" 33 % (1 of 3 nights)"), "{said:?}");
    assert_eq!(place.succeed(&[&words[..], &["--quiet"]].concat()).err, "");
}

#[test]
fn a_grid_too_large_to_wait_for_is_refused_at_once() {
    let place = Place::with_quick();
    place
        .say(&[
            "sweep",
            "quick.toml",
            "--vary",
            "mirror.edge_thickness=20 mm .. 30 mm : 1000",
            "--vary",
            "rim.film.coefficient=1 W/m2/K .. 2 W/m2/K : 1000",
        ])
        .refused(2, "sweep::too-many");
}

#[cfg(target_os = "linux")]
#[test]
fn as_many_nights_are_computed_at_once_as_threads_were_asked_for() {
    use std::process::Stdio;

    let place = Place::with_quick();
    let vary = "mirror.edge_thickness=20 mm .. 30 mm : 100000";
    let mut child = place
        .evenglass(&["sweep", "quick.toml", "--vary", vary, "--threads", "5"])
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let tasks = format!("/proc/{}/task", child.id());
    let threads = || std::fs::read_dir(&tasks).map_or(0, Iterator::count);
    // Five, the one that waits for them, and the one that listens for Ctrl-C.
    let reached = (0..1000).any(|_| {
        std::thread::sleep(std::time::Duration::from_millis(10));
        threads() == 7
    });
    let last = threads();
    child.kill().unwrap();
    child.wait().unwrap();
    assert!(reached, "{last} threads at the end");
}

//! Ctrl-C in the middle of something long.
#![cfg(unix)]

use std::io::{BufRead, BufReader};
use std::process::{Command, Stdio};

use crate::place::Place;

/// Long enough to be interrupted on any machine, in steps short enough to see it start.
const LONG: &str = "mirror.edge_thickness=20 mm .. 30 mm : 100000";

#[test]
fn an_interrupted_sweep_leaves_the_earlier_result_and_nothing_beside_it() {
    let place = Place::with_quick();
    place.succeed(&["run", "quick.toml"]);
    let before = place.contents("quick-out");
    for signal in ["-INT", "-TERM"] {
        let mut child = place
            .evenglass(&["sweep", "quick.toml", "--vary", LONG, "--cells", "60x20"])
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        wait_until_something_hidden_appears(&place);
        let killed = Command::new("kill").args([signal, &child.id().to_string()]).status();
        assert!(killed.unwrap().success(), "the signal was not sent");
        let status = child.wait().unwrap();
        assert_eq!(status.code(), Some(130), "{signal}");
        let said: Vec<String> =
            BufReader::new(child.stderr.take().unwrap()).lines().map(Result::unwrap).collect();
        assert_eq!(said.last().map(String::as_str), Some("interrupted"), "{said:?}");
        assert_eq!(place.names(), ["quick-out", "quick.toml"], "{signal}");
        assert!(place.contents("quick-out") == before, "{signal}: the earlier result changed");
    }
}

/// The folder in the making is hidden beside the result: once it is there, the
/// sweep has begun.
fn wait_until_something_hidden_appears(place: &Place) {
    for _ in 0..1000 {
        if place.names().iter().any(|name| name.starts_with('.')) {
            return;
        }
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    panic!("nothing was begun: {:?}", place.names());
}

//! Faults in what is typed on the command line point at what was typed.

use std::path::Path;

use evenglass_scenario::{load, parse};

use crate::good::FULL;
use crate::{change, report};

fn said(typed: &str) -> String {
    let error = parse("night.toml", FULL, Path::new(""), &[change(typed)]).expect_err(typed);
    report(&error)
}

#[test]
fn a_wrong_value_is_marked_in_the_option() {
    assert_eq!(
        said("mirror.diameter=24"),
        "--set:1:17 at `24`: scenario::unit\n  `24` has no unit, a length is wanted\n  \
         = write it in quotes with its unit, such as \"406 mm\"\n"
    );
    assert_eq!(
        said("mirror.glass=pyrx"),
        "--set:1:14 at `pyrx`: scenario::choice\n  `pyrx` is not a glass this program knows\n  \
         = write \"soda-lime\", \"borosilicate\", \"low-expansion-borosilicate\", \"fused-silica\" or \"glass-ceramic\", or give its constants\n"
    );
}

#[test]
fn a_wrong_key_is_marked_in_the_option() {
    assert_eq!(
        said("mirror.diamter=24 in"),
        "--set:1:8 at `diamter`: scenario::unknown-key\n  unknown key `diamter` in [mirror]\n  \
         = did you mean `diameter`?\n"
    );
    assert_eq!(
        said("miror.diameter=24 in"),
        "--set:1:1 at `miror`: scenario::unknown-key\n  unknown section or key `miror` in the file\n  \
         = did you mean `mirror`?\n"
    );
}

#[test]
fn a_path_that_leads_nowhere_is_said() {
    assert_eq!(
        said("event.7.fan_speed=1"),
        "--set:1:7 at `7`: scenario::override\n  `event` has no entry number `7`\n  \
         = they are numbered 0 to 1\n"
    );
    assert_eq!(
        said("night.start.hour=3"),
        "--set:1:7 at `start`: scenario::override\n  `start` is a text here and has no key `hour`\n  \
         = set `start` itself, or give it as a table in the file\n"
    );
}

#[test]
fn a_file_that_cannot_be_read_is_said() {
    let folder = tempfile::tempdir().unwrap();
    let absent = folder.path().join("absent.toml");
    let fault = load(&absent, &[]).unwrap_err().faults.remove(0);
    assert_eq!(fault.code, "scenario::file");
    assert!(fault.message.starts_with("cannot read the scenario file `"), "{}", fault.message);
    assert!(load(folder.path(), &[]).is_err());
    let bytes = folder.path().join("bytes.toml");
    std::fs::write(&bytes, b"title = \"a\"\n\xff").unwrap();
    let fault = load(&bytes, &[]).unwrap_err().faults.remove(0);
    assert!(fault.message.ends_with("is not UTF-8 text at line 2"), "{}", fault.message);
    let huge = folder.path().join("huge.toml");
    std::fs::File::create(&huge).unwrap().set_len(5_000_000_000).unwrap();
    let fault = load(&huge, &[]).unwrap_err().faults.remove(0);
    assert!(fault.message.ends_with("is larger than 4 MB"), "{}", fault.message);
}

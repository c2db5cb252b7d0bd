//! Result folders: as a whole or not at all, and never somebody else's.

use std::fs;
use std::path::{Path, PathBuf};

use evenglass_report::{ReportError, ResultFolder, write_night};

use crate::toy::Toy;

/// Everything in `dir`, hidden or not.
fn entries(dir: &Path) -> Vec<String> {
    let mut names: Vec<String> =
        fs::read_dir(dir).unwrap().map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

/// A folder with an earlier result, told apart by `mark`.
fn earlier(dir: &Path) -> PathBuf {
    let out = dir.join("out");
    fs::create_dir(&out).unwrap();
    fs::write(out.join("summary.json"), r#"{"schema": 1, "program": "evenglass"}"#).unwrap();
    fs::write(out.join("mark"), "earlier").unwrap();
    out
}

#[test]
fn a_result_appears_only_when_it_is_committed() {
    let dir = tempfile::tempdir().unwrap();
    let out = dir.path().join("deep/down/out");
    let folder = ResultFolder::prepare(&out).unwrap();
    write_night(&folder, &Toy::default().night()).unwrap();
    assert!(!out.exists(), "not yet");
    folder.commit().unwrap();
    assert_eq!(
        entries(&out),
        [
            "edge-to-centre.png",
            "fields.csv",
            "figure.png",
            "good.png",
            "history.csv",
            "image.png",
            "section.png",
            "summary.json",
            "surface.png",
            "temperatures.png"
        ]
    );
    assert_eq!(entries(out.parent().unwrap()), ["out"], "nothing is left beside it");
}

#[test]
fn an_earlier_result_is_replaced_as_a_whole() {
    let dir = tempfile::tempdir().unwrap();
    let out = earlier(dir.path());
    let folder = ResultFolder::prepare(&out).unwrap();
    write_night(&folder, &Toy::default().night()).unwrap();
    assert!(out.join("mark").exists(), "untouched until the commit");
    folder.commit().unwrap();
    assert!(!out.join("mark").exists(), "nothing of the old one stays");
    assert!(out.join("history.csv").exists(), "the new one is there");
    assert_eq!(entries(dir.path()), ["out"]);
    // And the program knows its own result again.
    ResultFolder::prepare(&out).unwrap().commit().unwrap();
}

#[test]
fn a_dropped_result_leaves_nothing_behind() {
    let dir = tempfile::tempdir().unwrap();
    let out = earlier(dir.path());
    let folder = ResultFolder::prepare(&out).unwrap();
    write_night(&folder, &Toy::default().night()).unwrap();
    drop(folder);
    assert_eq!(entries(dir.path()), ["out"]);
    assert_eq!(entries(&out), ["mark", "summary.json"]);
}

#[test]
fn an_empty_folder_may_be_used() {
    let dir = tempfile::tempdir().unwrap();
    let out = dir.path().join("out");
    fs::create_dir(&out).unwrap();
    ResultFolder::prepare(&out).unwrap().commit().unwrap();
    assert_eq!(entries(dir.path()), ["out"]);
}

#[test]
fn a_folder_of_somebody_else_is_refused_with_the_remedy() {
    let foreign = [
        ("notes.txt", "mine"),
        ("summary.json", r#"{"program": "another"}"#),
        ("summary.json", "not json at all"),
        ("summary.json", "[1, 2]"),
    ];
    for (name, content) in foreign {
        let dir = tempfile::tempdir().unwrap();
        let out = dir.path().join("out");
        fs::create_dir(&out).unwrap();
        fs::write(out.join(name), content).unwrap();
        let text = ResultFolder::prepare(&out).unwrap_err().to_string();
        assert!(text.contains("is not a result folder of evenglass"), "{text}");
        assert!(text.contains("`--out`"), "{text}");
        assert_eq!(fs::read_to_string(out.join(name)).unwrap(), content);
        assert_eq!(entries(dir.path()), ["out"]);
    }
}

#[test]
fn a_folder_that_becomes_somebody_elses_meanwhile_is_left_alone() {
    let dir = tempfile::tempdir().unwrap();
    let out = dir.path().join("out");
    let folder = ResultFolder::prepare(&out).unwrap();
    fs::create_dir(&out).unwrap();
    fs::write(out.join("notes.txt"), "mine").unwrap();
    assert!(matches!(folder.commit().unwrap_err(), ReportError::Foreign { .. }));
    assert_eq!(entries(dir.path()), ["out"]);
    assert_eq!(entries(&out), ["notes.txt"]);
}

#[test]
fn a_file_of_that_name_is_refused() {
    let dir = tempfile::tempdir().unwrap();
    let out = dir.path().join("out");
    fs::write(&out, "mine").unwrap();
    let text = ResultFolder::prepare(&out).unwrap_err().to_string();
    assert!(text.contains("is a file, not a folder"), "{text}");
    let text = ResultFolder::prepare(&out.join("below")).unwrap_err().to_string();
    assert!(text.contains("cannot write"), "{text}");
    assert_eq!(fs::read_to_string(&out).unwrap(), "mine");
}

#[test]
fn the_current_folder_and_the_root_are_refused() {
    for path in [".", "/"] {
        let error = ResultFolder::prepare(Path::new(path)).unwrap_err();
        assert!(matches!(error, ReportError::CurrentFolder { .. }), "{path}: {error}");
    }
}

#[cfg(unix)]
#[test]
fn a_full_disk_leaves_the_earlier_result_as_it_was() {
    let dir = tempfile::tempdir().unwrap();
    let out = earlier(dir.path());
    let folder = ResultFolder::prepare(&out).unwrap();
    // Writing to this device fails as writing to a full disk does.
    std::os::unix::fs::symlink("/dev/full", folder.path().join("history.csv")).unwrap();
    let error = write_night(&folder, &Toy::default().night()).unwrap_err();
    let text = error.to_string();
    assert!(text.contains("history.csv") && text.contains("make room"), "{text}");
    drop(folder);
    assert_eq!(entries(dir.path()), ["out"]);
    assert_eq!(fs::read_to_string(out.join("mark")).unwrap(), "earlier");
}

#[cfg(unix)]
#[test]
fn a_picture_on_a_full_disk_is_an_error_too() {
    let dir = tempfile::tempdir().unwrap();
    let folder = ResultFolder::prepare(&dir.path().join("out")).unwrap();
    std::os::unix::fs::symlink("/dev/full", folder.path().join("section.png")).unwrap();
    let text = write_night(&folder, &Toy::default().night()).unwrap_err().to_string();
    assert!(text.contains("section.png"), "{text}");
}

#[cfg(unix)]
#[test]
fn a_folder_that_cannot_be_written_is_an_error() {
    // Not even the administrator may make folders here.
    let text = ResultFolder::prepare(Path::new("/proc/evenglass-out")).unwrap_err().to_string();
    assert!(text.contains("cannot write `/proc/evenglass-out`"), "{text}");
}

#[cfg(unix)]
#[test]
fn a_link_to_a_result_folder_stays_a_link() {
    let dir = tempfile::tempdir().unwrap();
    let out = earlier(dir.path());
    let link = dir.path().join("link");
    std::os::unix::fs::symlink(&out, &link).unwrap();
    ResultFolder::prepare(&link).unwrap().commit().unwrap();
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink(), "still a link");
    assert!(!out.join("mark").exists(), "its target is the new result");
}

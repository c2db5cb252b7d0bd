//! Nights as the solver computes them: every scenario that comes with the program is written and told.

use std::path::{Path, PathBuf};

use evenglass_report::{ResultFolder, summary_text, write_night};
use evenglass_simulation::scenario::load;
use evenglass_simulation::{Resolution, simulate};

fn scenarios() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../scenarios");
    let mut files: Vec<PathBuf> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|e| e == "toml"))
        .collect();
    files.sort();
    files
}

#[test]
fn every_scenario_of_the_program_is_written_and_told() {
    let files = scenarios();
    assert!(files.len() >= 5, "the scenarios are found: {files:?}");
    for file in files {
        let scenario = load(&file, &[]).unwrap();
        let night = simulate(&scenario, &Resolution::default()).unwrap();
        let name = file.file_stem().unwrap();
        let target = Path::new(env!("CARGO_TARGET_TMPDIR")).join("computed").join(name);
        let folder = ResultFolder::prepare(&target).unwrap();
        let written = write_night(&folder, &night).unwrap();
        folder.commit().unwrap();
        assert!(written.iter().all(|name| target.join(name).exists()), "{written:?}");
        let text = summary_text(&night);
        std::fs::write(target.with_extension("txt"), &text).unwrap();
        let good = text.contains("\nGood from ");
        assert_eq!(good, night.ready_at_s.is_some(), "{text}");
        assert!(!text.contains("NaN") && !text.contains("inf"), "{text}");
    }
}

//! `evenglass new`: a commented scenario to start from, and the schema that lets
//! an editor complete its keys.

use std::fs::{self, File};
use std::io::{self, ErrorKind, Write};
use std::path::Path;

use crate::arguments::NewArguments;
use crate::failure::Failure;
use crate::talk::{Talk, answer};

struct Starting {
    name: &'static str,
    about: &'static str,
    text: &'static str,
}

const STARTING: [Starting; 3] = [
    Starting {
        name: "fan-behind",
        about: "16 inch mirror in an open cell, one fan behind its middle",
        text: include_str!("../starting/fan-behind.toml"),
    },
    Starting {
        name: "still",
        about: "10 inch mirror without any fan",
        text: include_str!("../starting/still.toml"),
    },
    Starting {
        name: "given",
        about: "16 inch mirror with film coefficients written down by hand",
        text: include_str!("../starting/given.toml"),
    },
];

const SCHEMA_NAME: &str = "scenario.schema.json";
const SCHEMA: &str = include_str!("../../../../scenarios/scenario.schema.json");

/// Writes a starting scenario, or lists them.
pub(super) fn new(typed: &NewArguments, talk: Talk) -> Result<(), Failure> {
    let Some(file) = &typed.file else {
        return answer(&list());
    };
    let starting = chosen(&typed.kind)?;
    create(file, starting.text)?;
    talk.mention(&format!("wrote {}", file.display()));
    put_schema_beside(file, talk)?;
    talk.mention(&format!("next: evenglass check {}", file.display()));
    Ok(())
}

fn list() -> String {
    let lines = STARTING.iter().map(|start| format!("{:<12}{}\n", start.name, start.about));
    lines.collect::<Vec<_>>().concat()
}

fn chosen(kind: &str) -> Result<&'static Starting, Failure> {
    STARTING.iter().find(|start| start.name == kind).ok_or_else(|| {
        let names: Vec<_> = STARTING.iter().map(|start| format!("`{}`", start.name)).collect();
        Failure::request(
            "new::unknown-kind",
            format!("there is no starting scenario `{kind}`"),
            &format!("choose one of {}", names.join(", ")),
        )
    })
}

fn create(file: &Path, text: &str) -> Result<(), Failure> {
    match write_new(file, text) {
        Ok(()) => Ok(()),
        Err(error) if error.kind() == ErrorKind::AlreadyExists => Err(Failure::request(
            "new::exists",
            format!("{} exists already and is left as it is", file.display()),
            "choose another name, or move the old file away",
        )),
        Err(error) => Err(Failure::writing(&file.display(), &error)),
    }
}

/// Creates the file or leaves none: half a scenario would be read as a whole one.
fn write_new(file: &Path, text: &str) -> io::Result<()> {
    let mut created = File::create_new(file)?;
    let written = created.write_all(text.as_bytes()).and_then(|()| created.sync_all());
    if written.is_err() {
        let _ = fs::remove_file(file);
    }
    written
}

/// The scenario stands without its schema, so an older one beside it is kept.
fn put_schema_beside(file: &Path, talk: Talk) -> Result<(), Failure> {
    let schema = file.with_file_name(SCHEMA_NAME);
    match fs::read(&schema) {
        Ok(present) if present == SCHEMA.as_bytes() => Ok(()),
        Ok(_) => {
            let kept = schema.display();
            talk.mention(&format!("kept {kept}, which differs from this version's"));
            Ok(())
        }
        Err(_) => {
            create(&schema, SCHEMA)?;
            talk.mention(&format!("wrote {}", schema.display()));
            Ok(())
        }
    }
}

//! An empty folder to run the program in, and a scenario that is quick to compute.

use std::collections::BTreeMap;
use std::ffi::OsStr;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use tempfile::TempDir;

/// Quick: constants, given films, one hour.
pub(crate) const QUICK: &str = r#"
title = "quick"
[mirror]
diameter = "200 mm"
edge_thickness = "25 mm"
focal_ratio = 5.0
glass = { density = "2500 kg/m3", specific_heat = "720 J/kg/K", conductivity = "1.0 W/m/K", expansion = "9.0e-6 /K", youngs_modulus = "70 GPa", poisson_ratio = 0.22, emissivity = 0.84 }
[night]
start = "22:00"
duration = "1 h"
glass_temperature = "20 degC"
air = { kind = "steady", temperature = "10 degC" }
[front]
film = { kind = "given", coefficient = "8 W/m2/K" }
[back]
film = { kind = "given", coefficient = "12 W/m2/K" }
[rim]
film = { kind = "given", coefficient = "6 W/m2/K" }
"#;

/// A folder of its own for one test.
pub(crate) struct Place {
    folder: TempDir,
}

/// How the program ended and what it said.
#[derive(Debug)]
pub(crate) struct Said {
    pub(crate) status: Option<i32>,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl Place {
    /// An empty folder.
    pub(crate) fn empty() -> Self {
        Self { folder: TempDir::new().unwrap() }
    }

    /// A folder with `quick.toml` in it.
    pub(crate) fn with_quick() -> Self {
        let place = Self::empty();
        place.write("quick.toml", QUICK);
        place
    }

    pub(crate) fn path(&self) -> &Path {
        self.folder.path()
    }

    pub(crate) fn file(&self, name: impl AsRef<OsStr>) -> PathBuf {
        self.folder.path().join(name.as_ref())
    }

    pub(crate) fn write(&self, name: &str, content: impl AsRef<[u8]>) {
        fs::write(self.file(name), content).unwrap();
    }

    pub(crate) fn read(&self, name: &str) -> String {
        fs::read_to_string(self.file(name)).unwrap()
    }

    /// The program, to be run here, with an environment that asks for nothing.
    pub(crate) fn evenglass<S: AsRef<OsStr>>(&self, words: &[S]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_evenglass"));
        command.args(words).current_dir(self.path());
        for variable in ["NO_COLOR", "CLICOLOR", "CLICOLOR_FORCE", "COLUMNS"] {
            command.env_remove(variable);
        }
        command
    }

    /// Runs the program and takes down what it said.
    pub(crate) fn say<S: AsRef<OsStr>>(&self, words: &[S]) -> Said {
        Said::of(&self.evenglass(words).output().unwrap())
    }

    /// As [`Place::say`], for a run that must succeed.
    pub(crate) fn succeed<S: AsRef<OsStr>>(&self, words: &[S]) -> Said {
        let said = self.say(words);
        assert_eq!(said.status, Some(0), "{said:?}");
        said
    }

    /// Names and contents of every file in a folder here.
    pub(crate) fn contents(&self, folder: &str) -> BTreeMap<String, Vec<u8>> {
        let entries = fs::read_dir(self.file(folder)).unwrap().map(Result::unwrap);
        entries
            .map(|entry| {
                let name = entry.file_name().into_string().unwrap();
                (name, fs::read(entry.path()).unwrap())
            })
            .collect()
    }

    /// Names of everything here, hidden or not.
    pub(crate) fn names(&self) -> Vec<String> {
        let entries = fs::read_dir(self.path()).unwrap().map(Result::unwrap);
        let mut names: Vec<String> =
            entries.map(|entry| entry.file_name().to_string_lossy().into_owned()).collect();
        names.sort();
        names
    }
}

impl Said {
    pub(crate) fn of(output: &Output) -> Self {
        Self {
            status: output.status.code(),
            out: String::from_utf8_lossy(&output.stdout).into_owned(),
            err: String::from_utf8_lossy(&output.stderr).into_owned(),
        }
    }

    /// That the program refused with this status, for this reason, and answered nothing.
    pub(crate) fn refused(&self, status: i32, code: &str) {
        assert_eq!(self.status, Some(status), "{self:?}");
        assert!(self.err.contains(&format!("error[{code}]")), "{self:?}");
        assert!(self.err.contains("help: "), "no remedy: {self:?}");
        assert_eq!(self.out, "", "{self:?}");
    }
}

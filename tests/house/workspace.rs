//! The workspace as cargo and the file system see it.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

/// A package and what it depends on, tests and benches aside.
pub(crate) struct Package {
    pub(crate) name: String,
    pub(crate) dependencies: Vec<String>,
    pub(crate) dev_dependencies: Vec<String>,
}

/// A text file of the project.
pub(crate) struct TextFile {
    /// Relative to the root, with `/` between folders.
    pub(crate) name: String,
    pub(crate) text: String,
}

pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").canonicalize().unwrap()
}

/// Whether documents made from the program's answers shall be rewritten instead of checked.
pub(crate) fn is_to_be_updated() -> bool {
    std::env::var_os("EVENGLASS_UPDATE").is_some()
}

/// Every package of the workspace.
pub(crate) fn packages() -> Vec<Package> {
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--no-deps", "--offline"])
        .current_dir(root())
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let metadata: Value = serde_json::from_slice(&output.stdout).unwrap();
    metadata["packages"].as_array().unwrap().iter().map(package).collect()
}

fn package(described: &Value) -> Package {
    let named = |wanted: fn(&Value) -> bool| {
        let all = described["dependencies"].as_array().unwrap().iter();
        let mut names: Vec<String> = all
            .filter(|dependency| wanted(&dependency["kind"]))
            .map(|dependency| dependency["name"].as_str().unwrap().to_owned())
            .collect();
        names.sort();
        names.dedup();
        names
    };
    Package {
        name: described["name"].as_str().unwrap().to_owned(),
        dependencies: named(|kind| kind != "dev"),
        dev_dependencies: named(|kind| kind == "dev"),
    }
}

/// Every text file of the project with one of these endings.
pub(crate) fn text_files(endings: &[&str]) -> Vec<TextFile> {
    let mut files = Vec::new();
    collect(&root(), &root(), endings, &mut files);
    assert!(!files.is_empty(), "no file ends in any of {endings:?}");
    files.sort_by(|a, b| a.name.cmp(&b.name));
    files
}

fn collect(folder: &Path, root: &Path, endings: &[&str], files: &mut Vec<TextFile>) {
    for entry in fs::read_dir(folder).unwrap() {
        let entry = entry.unwrap();
        let path = entry.path();
        let name = entry.file_name().to_string_lossy().into_owned();
        if entry.file_type().unwrap().is_dir() {
            if !is_by_product(&name) {
                collect(&path, root, endings, files);
            }
        } else if endings.iter().any(|ending| name.ends_with(ending))
            && let Ok(text) = fs::read_to_string(&path)
        {
            let name = path.strip_prefix(root).unwrap().to_string_lossy().replace('\\', "/");
            files.push(TextFile { name, text });
        }
    }
}

/// Folders that are made, not written: version control, builds, results.
fn is_by_product(name: &str) -> bool {
    name == ".git"
        || name == ".venv"
        || name == "__pycache__"
        || name.starts_with("target")
        || name.ends_with("-out")
}

//! The demo project: an invented aircraft and builder, carried in the binary.

use super::disk::ProjectFiles;
use crate::record::FileText;
use std::path::Path;

/// One file of the demo folder with its path within the project.
macro_rules! files {
    ($($path:literal),+ $(,)?) => {
        vec![$(($path, include_bytes!(concat!("demo/", $path)).as_slice())),+]
    };
}

/// Every file of the demo project, by its path within the project.
#[must_use]
pub fn demo() -> Vec<(&'static str, &'static [u8])> {
    files![
        "project.toml",
        "beacon.toml",
        "cabin.toml",
        "confirmations.toml",
        "controls.toml",
        "electrical.toml",
        "firewall.toml",
        "fluids.toml",
        "fuel.toml",
        "identity.toml",
        "instruments.toml",
        "joints.toml",
        "marks.toml",
        "papers.toml",
        "placards.toml",
        "tests.toml",
        "transponder.toml",
        "weight.toml",
        "evidence/beacon/inspection.txt",
        "evidence/fuel/flow-test.txt",
        "evidence/transponder/bench-and-aircraft.txt",
        "evidence/weighing/sheet.txt",
    ]
}

/// The demo as if it had been read from disk.
pub(super) fn demo_project() -> ProjectFiles {
    let mut project = ProjectFiles::default();
    for (path, bytes) in demo() {
        let file = FileText { name: path.to_owned(), bytes: bytes.to_vec() };
        project.paths.push(path.to_owned());
        match path {
            super::disk::HEADER => project.header_file = Some(file),
            _ if Path::new(path).extension().is_some_and(|ending| ending == "toml") => project.files.push(file),
            _ => {}
        }
    }
    project
}

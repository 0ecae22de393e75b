//! The demo project: an invented aircraft and builder, carried in the binary.

use cotterpin_engine::files::ProjectFiles;
use cotterpin_engine::project::FileText;
use cotterpin_engine::rules::PackText;
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
        "departures.toml",
        "instruments.toml",
        "jobs.toml",
        "joints.toml",
        "lists.toml",
        "log/2025-09.toml",
        "log/2025-10.toml",
        "log/2025-11.toml",
        "log/2025-12.toml",
        "log/2026-01.toml",
        "log/2026-02.toml",
        "log/2026-03.toml",
        "log/2026-04.toml",
        "log/2026-05.toml",
        "log/2026-06.toml",
        "log/2026-07.toml",
        "log/2026-08.toml",
        "log/2026-09.toml",
        "log/2026-10.toml",
        "log/2026-11.toml",
        "marks.toml",
        "measuring.toml",
        "papers.toml",
        "placards.toml",
        "tests.toml",
        "transponder.toml",
        "weight.toml",
        "evidence/beacon/inspection.txt",
        "evidence/departures/letter.txt",
        "evidence/fuel/flow-test.txt",
        "evidence/transponder/bench-and-aircraft.txt",
        "evidence/weighing/sheet.txt",
        "packs/nosuch/pack.toml",
        "packs/nosuch/nosuch.checklist",
    ]
}

/// The folder of the builder's own pack.
const OWN_PACK: &str = "packs/nosuch/";

/// The builder's own pack, if that is what `name` in `project.toml` means.
pub(super) fn demo_pack(name: &str) -> Option<PackText> {
    let folder = name.strip_prefix("./").filter(|folder| *folder == OWN_PACK.trim_end_matches('/'))?;
    let mut pack = PackText { name: folder.to_owned(), manifest: String::new(), files: Vec::new() };
    for (path, bytes) in demo().into_iter().filter(|(path, _)| path.starts_with(OWN_PACK)) {
        let text = String::from_utf8_lossy(bytes).into_owned();
        match Path::new(path).extension().is_some_and(|ending| ending == "toml") {
            true => pack.manifest = text,
            false => pack.files.push((path.to_owned(), text.into())),
        }
    }
    Some(pack)
}

/// The demo as if it had been read from disk.
pub(super) fn demo_project() -> ProjectFiles {
    let mut project = ProjectFiles::default();
    // The folder of a pack holds no facts and no evidence.
    for (path, bytes) in demo().into_iter().filter(|(path, _)| !path.starts_with(OWN_PACK)) {
        let file = FileText { name: path.to_owned(), bytes: bytes.to_vec() };
        project.paths.push(path.to_owned());
        match path {
            cotterpin_engine::project::PROJECT => project.header_file = Some(file),
            _ if Path::new(path).extension().is_some_and(|ending| ending == "toml") => project.files.push(file),
            _ => {}
        }
    }
    project
}

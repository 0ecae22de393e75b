//! The project of a command that was not told one, and what a file given from here is
//! called in it.

use super::args::Command;
use super::here::{HERE, here};
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::files::name_on_disk;
use cotterpin_engine::project::inside;
use std::fs;
use std::path::{MAIN_SEPARATOR, Path, PathBuf};

/// Sets the project's folder of a command that was not told one.
pub(super) fn find(command: &mut Command) {
    let folder = match command {
        Command::Log(args) => &mut args.place.project,
        Command::Record(args) => &mut args.place.project,
        Command::Confirm(args) => &mut args.place.project,
        Command::Job(args) => &mut args.place.project,
        Command::Ask(args) => &mut args.folder,
        Command::Audit(args) => &mut args.project.folder,
        Command::Next(args) => &mut args.project.folder,
        Command::Why(args) => &mut args.project.folder,
        Command::Questions(args) => &mut args.project.folder,
        Command::Since(args) => &mut args.project.folder,
        Command::Begin(_)
        | Command::Packs(_)
        | Command::Try(_)
        | Command::Schema(_)
        | Command::Completion(_)
        | Command::Manual(_) => return,
    };
    if folder == Path::new(HERE) {
        *folder = here();
    }
}

/// A file that is given as evidence, as it is named in the project's files.
///
/// # Errors
/// It lies outside of the project, or its name means nothing there.
pub(super) fn evidence(project: &Path, given: &str) -> Result<String, Diagnostic> {
    inside(&from_top(project, given)).map(str::to_owned).map_err(|wrong| wrong.0)
}

/// A file as the project calls it: as it was given, or from its top where it was given from a folder inside it or from
/// the top of the disk. Where it is there under a name with other capitals alone, that is meant.
fn from_top(project: &Path, given: &str) -> String {
    let given = if MAIN_SEPARATOR == '\\' { given.replace('\\', "/") } else { given.to_owned() };
    let name = inner(project, &given).unwrap_or(given);
    name_on_disk(project, &name).unwrap_or(name)
}

fn inner(project: &Path, given: &str) -> Option<String> {
    // A file of that name from the top is what was meant, if there is one.
    if !Path::new(given).is_absolute() && (project == Path::new(HERE) || project.join(given).exists()) {
        return None;
    }
    let (top, file): (PathBuf, PathBuf) = (fs::canonicalize(project).ok()?, fs::canonicalize(given).ok()?);
    let inner = file.strip_prefix(top).ok()?;
    let parts: Option<Vec<&str>> = inner.iter().map(|part| part.to_str()).collect();
    parts.map(|parts| parts.join("/"))
}

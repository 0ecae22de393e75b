//! A project for a command: from its folder or the demo, with everything that is to be said of it.

use super::args::ProjectArgs;
use super::demo::{demo_pack, demo_project};
use super::messages::Messages;
use super::packs_in::{pack_of, packs_in};
use crate::surface::load::{self, OwnPack};
use crate::{Project, Rules};
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::files::{ProjectFiles, is_folder, read_project};
use cotterpin_engine::ir;
use cotterpin_engine::project::{Record, read_header};
use cotterpin_engine::round::RuleSets;
use cotterpin_engine::source::Sources;
use cotterpin_packs::{self as packs, PackText};
use std::path::PathBuf;

/// A project ready to be audited.
pub(super) struct Loaded {
    pub(super) project: Project,
    /// Warnings, and what is said of files that were not read; any other error would have ended it.
    pub(super) warnings: Messages,
}

impl Loaded {
    /// The rules it is held against.
    pub(super) fn rules(&self) -> &ir::Rules {
        self.project.rules().checked()
    }

    /// What is recorded.
    pub(super) fn record(&self) -> &Record {
        self.project.as_read()
    }
}

/// Reads everything, and gives either all of it or every message there is.
pub(super) fn load(args: &ProjectArgs) -> Result<Loaded, Messages> {
    load_with(args, &packs_in(), &RuleSets::default()).map_err(|failed| failed.1)
}

/// The same for one of many, with rules that those of the same packs share; where it fails, with the name of the
/// project if that could be read. Packs may lie in the folders allowed besides.
pub(super) fn load_with(
    args: &ProjectArgs,
    allowed: &[PathBuf],
    sets: &RuleSets<Rules>,
) -> Result<Loaded, (Option<String>, Messages)> {
    let (files, found) = if args.demo { (demo_project(), Vec::new()) } else { read_project(&args.folder) };
    let own = |name: &str| -> Option<Result<OwnPack, Diagnostic>> {
        if let Some(pack) = demo_pack(name).filter(|_| args.demo) {
            return Some(Ok((pack, None)));
        }
        is_folder(name).then(|| pack_of(&args.folder, name, allowed))
    };
    let loaded = load::load(&files, vec![(Sources::default(), found)], own, sets);
    let project = loaded.map_err(|error| (name_of(&files), Messages::of(error.into_batches())))?;
    let warnings = Messages::of(project.said().to_vec()).of_the_rest();
    Ok(Loaded { project, warnings })
}

/// What a project calls itself, as far as that can be read.
fn name_of(files: &ProjectFiles) -> Option<String> {
    let (header, _) = read_header(files.header_file.as_ref()?, &mut Sources::default());
    header.map(|header| header.name)
}

/// The named built-in packs with all they build on, then the local ones.
pub(super) fn with_built_in(names: &[String], local: Vec<PackText>, messages: &mut Messages) -> Option<Vec<PackText>> {
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    match packs::built_in(&names) {
        Ok(mut packs) => {
            packs.extend(local);
            Some(packs)
        }
        Err(problem) => {
            messages.add(&Sources::default(), vec![problem]);
            None
        }
    }
}

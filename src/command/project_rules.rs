//! The files of a project and its rules, for who writes and for who looks names up.

use super::messages::Messages;
use super::packs_in::{pack_of, packs_in};
use crate::Rules;
use crate::surface::load;
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::files::{ProjectFiles, is_folder, read_project};
use cotterpin_engine::round::RuleSets;
use cotterpin_engine::source::Sources;
use std::path::Path;

/// The files of a project and the rules of its packs, whatever is wrong with what is recorded.
pub(super) fn load_rules(folder: &Path) -> Result<(ProjectFiles, Rules), Messages> {
    let (files, found) = read_project(folder);
    let allowed = packs_in();
    let own = |name: &str| is_folder(name).then(|| pack_of(folder, name, &allowed));
    let mut said = vec![(Sources::default(), found)];
    if said.iter().any(|(_, found)| found.iter().any(Diagnostic::is_error)) {
        return Err(Messages::of(said));
    }
    match load::rules_of(&files, &mut said, own, &RuleSets::default()) {
        Some(rules) => Ok((files, rules)),
        None => Err(Messages::of(said)),
    }
}

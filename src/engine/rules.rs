//! From texts of packs to checked rules, those of a library among them, with what only evaluation can say of them.

use crate::ir::Rules;
use crate::lint;
use cotterpin_lang::packs as lang;

pub use cotterpin_lang::packs::{LoadError, PackText, Prebuilt};

/// Checks packs together. Warnings are kept in [`Rules::warnings`].
///
/// ```
/// use cotterpin_engine::rules::{PackText, Prebuilt, load_packs};
/// let pack = PackText {
///     name: "mine".into(),
///     manifest: "name = 'mine'\ntitle = ''\nedition = '1'\nauthority = ''\nscope = ''".into(),
///     files: vec![("mine.checklist".into(), "fact canopy.second_catch : yes or no\n  ask \"Is it fitted?\"".into())],
/// };
/// assert_eq!(load_packs(&Prebuilt::empty(), &[pack]).map(|rules| rules.facts.len()).unwrap_or(0), 1);
/// ```
///
/// # Errors
/// Every mistake found in any of the packs, with the texts they point into.
pub fn load_packs(library: &Prebuilt, packs: &[PackText]) -> Result<Rules, LoadError> {
    lang::load(library, packs).map(linted)
}

/// The same for audits: the items of the library's packs come without their worked
/// examples, which no audit reads and which tests have run.
/// Packs of any other origin are checked with their examples.
///
/// # Errors
/// As for [`load_packs`].
pub fn load_packs_to_audit(library: &Prebuilt, packs: &[PackText]) -> Result<Rules, LoadError> {
    lang::load_to_audit(library, packs).map(linted)
}

fn linted(mut rules: Rules) -> Rules {
    let warnings = lint::warnings(&rules);
    rules.warnings.extend(warnings);
    crate::diagnostic::settle(&mut rules.warnings);
    rules
}

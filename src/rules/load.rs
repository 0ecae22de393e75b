//! From texts of packs to checked rules: the whole way in one call.

use super::check::Checker;
use super::pack::{PackText, in_order, manifest};
use super::{Pack, Rules};
use crate::diagnostic::{Diagnostic, settle};
use crate::source::Sources;
use crate::syntax;
use crate::syntax::tree::Declaration;

/// The largest text of rules that is read.
const MAX_TEXT: usize = 16 << 20;

/// Checks packs together. Warnings are kept in [`Rules::warnings`].
///
/// ```
/// use cotterpin::rules::{PackText, load_packs};
/// let pack = PackText {
///     name: "mine".into(),
///     manifest: "name = 'mine'\ntitle = ''\nedition = '1'\nauthority = ''\nscope = ''".into(),
///     files: vec![("mine.checklist".into(), "fact canopy.second_catch : yes or no\n  ask \"Is it fitted?\"".into())],
/// };
/// assert_eq!(load_packs(&[pack]).map(|rules| rules.facts.len()).unwrap_or(0), 1);
/// ```
///
/// # Errors
/// Every mistake found in any of the packs, with the texts they point into.
pub fn load_packs(packs: &[PackText]) -> Result<Rules, Box<(Sources, Vec<Diagnostic>)>> {
    load(packs, true)
}

/// The same for audits: the items of built-in packs come without their worked
/// examples, which no audit reads and which a test of this crate has run.
/// Packs of any other origin are checked with their examples.
///
/// # Errors
/// As for [`load_packs`].
pub fn load_packs_to_audit(packs: &[PackText]) -> Result<Rules, Box<(Sources, Vec<Diagnostic>)>> {
    load(packs, false)
}

fn load(packs: &[PackText], examples: bool) -> Result<Rules, Box<(Sources, Vec<Diagnostic>)>> {
    let mut messages = Vec::new();
    let mut read: Vec<(Pack, &PackText)> = Vec::new();
    for text in packs {
        match manifest(text) {
            Ok(pack) => read.push((pack, text)),
            Err(message) => messages.push(message),
        }
    }
    if !messages.is_empty() {
        return Err(Box::new((Sources::default(), messages)));
    }
    let ordered = in_order(read).map_err(|messages| Box::new((Sources::default(), messages)))?;
    let mut rules = Rules::default();
    let mut parsed: Vec<(usize, Vec<Declaration>)> = Vec::new();
    for (at, (pack, text)) in ordered.into_iter().enumerate() {
        rules.packs.push(pack);
        let mut files: Vec<&(String, String)> = text.files.iter().collect();
        files.sort();
        for (name, text) in files {
            parsed.push((at, read_file(&mut rules.sources, name, text, examples, &mut messages)));
        }
    }
    let mut checker = Checker::new(rules);
    checker.messages = messages;
    check(&mut checker, &parsed);
    let mut messages = checker.messages;
    settle(&mut messages);
    if messages.iter().any(Diagnostic::is_error) {
        return Err(Box::new((checker.rules.sources, messages)));
    }
    let mut rules = checker.rules;
    rules.warnings = messages;
    let conditions: Vec<u32> = rules.items.iter().flat_map(|item| item.when.into_iter().chain([item.need])).collect();
    rules.program.lay_out(conditions);
    Ok(rules)
}

fn read_file(
    sources: &mut Sources,
    name: &str,
    text: &str,
    examples: bool,
    messages: &mut Vec<Diagnostic>,
) -> Vec<Declaration> {
    if text.len() > MAX_TEXT {
        messages.push(
            Diagnostic::error(
                "file::too-large",
                format!("`{name}` has {} bytes; at most {MAX_TEXT} are read", text.len()),
            )
            .help("split the file"),
        );
        return Vec::new();
    }
    let id = sources.add(name, text);
    syntax::parse(id, text, examples, messages)
}

/// Names first, then what uses them, in passes over all packs.
fn check<'a>(checker: &mut Checker<'a>, parsed: &'a [(usize, Vec<Declaration>)]) {
    for (pack, declarations) in parsed {
        checker.declare_words(declarations, *pack);
    }
    for (pack, declarations) in parsed {
        checker.declare_facts(declarations, *pack);
    }
    let each = |checker: &mut Checker<'a>, step: fn(&mut Checker<'a>, &'a Declaration, usize)| {
        for (pack, declarations) in parsed {
            for declaration in declarations {
                step(checker, declaration, *pack);
            }
        }
    };
    each(checker, |checker, declaration, pack| {
        if let Declaration::Table(table) = declaration {
            checker.table(table, pack);
        }
    });
    each(checker, |checker, declaration, pack| {
        if let Declaration::Item(item) = declaration {
            checker.item(item, pack);
        }
    });
    each(checker, |checker, declaration, pack| match declaration {
        Declaration::Amend(amend) => checker.amend(amend, pack),
        Declaration::SetAside(name, because) => checker.set_aside(name, because, pack),
        _ => {}
    });
    // A pack with mistakes is not run, not even to warn of more.
    if !checker.messages.iter().any(Diagnostic::is_error) {
        checker.warn_of_empty_lists();
    }
    checker.unused_documents();
}

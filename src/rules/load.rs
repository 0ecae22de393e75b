//! From texts of packs to checked rules: the whole way in one call.

use super::check::Checker;
use super::pack::{PackText, in_order, manifest};
use super::{Item, Pack, Rules, prepared};
use crate::diagnostic::{Diagnostic, settle};
use crate::source::{SharedText, SourceId, Sources, Span};
use crate::syntax;
use crate::syntax::tree::Declaration;
use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

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
    let mut built_in = ordered(packs).map_err(|messages| Box::new((Sources::default(), messages)))?;
    // Packs of the binary build on no other kind: they stand first, and are checked on their own.
    let own = built_in.iter().position(|(_, text)| !text.is_built_in()).unwrap_or(built_in.len());
    let own = built_in.split_off(own);
    let mut messages = Vec::new();
    let prepared = if examples { None } else { prepared::find(&built_in) };
    let mut checker = prepared.unwrap_or_else(|| self::built_in(&built_in, examples, &mut messages));
    check(&mut checker, &own, examples, &mut messages);
    checker.whole();
    let later = consequences(&messages, &checker.messages, &checker.rules.sources);
    messages.extend(checker.messages.into_iter().zip(later).filter(|(_, later)| !later).map(|(message, _)| message));
    settle(&mut messages);
    if messages.iter().any(Diagnostic::is_error) {
        return Err(Box::new((checker.rules.sources, messages)));
    }
    let mut rules = checker.rules;
    rules.warnings = messages;
    let conditions = |item: &Item| item.when.into_iter().chain([item.need]);
    let (once, per_record): (Vec<&Item>, Vec<&Item>) = rules.items.iter().partition(|item| item.each.is_none());
    rules.program.lay_out(once.into_iter().flat_map(conditions), per_record.into_iter().flat_map(conditions));
    Ok(rules)
}

/// The packs with their manifests read, each after those it builds on.
pub(super) fn ordered(packs: &[PackText]) -> Result<Vec<(Pack, &PackText)>, Vec<Diagnostic>> {
    let mut messages = Vec::new();
    let mut read: Vec<(Pack, &PackText)> = Vec::new();
    for text in packs {
        match manifest(text) {
            Ok(pack) => read.push((pack, text)),
            Err(message) => messages.push(message),
        }
    }
    if messages.is_empty() { in_order(read) } else { Err(messages) }
}

/// Which messages only follow from a file that could not be read whole: it may
/// have declared the name that is missed, for the word stands in it.
fn consequences(unread: &[Diagnostic], messages: &[Diagnostic], sources: &Sources) -> Vec<bool> {
    let span = |message: &Diagnostic| message.labels.first().map(|label| label.span);
    let files: BTreeSet<SourceId> = unread.iter().filter_map(span).map(|span| span.source).collect();
    let missed = |message: &Diagnostic| span(message).filter(|_| message.code == "name::unknown");
    let mut standing: BTreeMap<&str, usize> = BTreeMap::new();
    for file in files.iter().filter_map(|id| sources.file(*id)) {
        for word in file.text.split(|c: char| !(c.is_alphanumeric() || ".-_".contains(c))) {
            let count = standing.entry(word).or_default();
            *count = count.saturating_add(1);
        }
    }
    // Where it is missed it declares nothing.
    for span in messages.iter().filter_map(missed).filter(|span| files.contains(&span.source)) {
        if let Some(count) = standing.get_mut(sources.text(span)) {
            *count = count.saturating_sub(1);
        }
    }
    let stands = |word: &str| standing.get(word).is_some_and(|count| *count > 0);
    let follows = |span: Span| {
        let text = sources.text(span);
        // Of an item's name the first word is its system.
        stands(text) || text.split_once('.').is_some_and(|(system, _)| stands(system))
    };
    messages.iter().map(|message| missed(message).is_some_and(follows)).collect()
}

#[expect(clippy::ptr_arg, reason = "a text borrowed for ever is kept without a copy")]
fn read_file(
    sources: &mut Sources,
    name: &str,
    text: &Cow<'static, str>,
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
    let text = SharedText::of(text);
    let id = sources.add(name, text.clone());
    syntax::parse(id, &text, examples, messages)
}

/// Checks packs of the binary, which stand below all others.
pub(super) fn built_in(packs: &[(Pack, &PackText)], examples: bool, messages: &mut Vec<Diagnostic>) -> Checker {
    let mut checker = Checker::default();
    check(&mut checker, packs, examples, messages);
    if !examples {
        // A text that had to be parsed has them nevertheless.
        checker.rules.items.iter_mut().for_each(|item| item.examples.clear());
    }
    checker
}

/// Checks packs on top of those that are checked already: names first, then
/// what uses them, in passes over all these packs.
fn check(checker: &mut Checker, packs: &[(Pack, &PackText)], examples: bool, messages: &mut Vec<Diagnostic>) {
    let first = checker.rules.packs.len();
    let mut parsed: Vec<(usize, Vec<Declaration>)> = Vec::new();
    for (at, (pack, text)) in (first..).zip(packs) {
        checker.add_pack(pack.clone());
        for (name, text) in text.sorted_files() {
            parsed.push((at, read_file(&mut checker.rules.sources, name, text, examples, messages)));
            // A file too large to be read is no source.
            checker.pack_of_file.resize(checker.rules.sources.files().len(), at);
        }
    }
    for (pack, declarations) in &parsed {
        checker.declare_words(declarations, *pack);
    }
    checker.zones_of_parts();
    for (pack, declarations) in &parsed {
        checker.declare_facts(declarations, *pack);
    }
    let each = |checker: &mut Checker, step: fn(&mut Checker, &Declaration, usize)| {
        for (pack, declarations) in &parsed {
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
    each(checker, |checker, declaration, _| {
        if let Declaration::Disturb(subject, also) = declaration {
            for name in std::iter::once(subject).chain(also) {
                checker.subject_known(name);
            }
        }
    });
    checker.all_formulas(first);
    each(checker, |checker, declaration, pack| {
        if let Declaration::Item(item) = declaration {
            checker.item(item, pack);
        }
    });
    each(checker, |checker, declaration, pack| {
        if let Declaration::Item(item) = declaration {
            checker.after(item, pack);
        }
    });
    each(checker, |checker, declaration, pack| match declaration {
        Declaration::Amend(amend) => checker.amend(amend, pack),
        Declaration::SetAside(aside) => checker.set_aside(aside, pack),
        _ => {}
    });
}

//! From texts of packs to checked rules: the whole way in one call.

use super::manifest::in_order;
use super::prebuilt::Prebuilt;
use super::text::PackText;
use crate::check::Checker;
use crate::diagnostic::{Diagnostic, settle};
use crate::ir::{Item, Pack, PackId, Rules};
use crate::source::{MOST_BYTES, SharedText, SourceId, Sources, Span};
use crate::syntax;
use crate::syntax::ast::Declaration;
use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

/// Every mistake found in any of the packs, with the texts they point into.
pub type LoadError = Box<(Sources, Vec<Diagnostic>)>;

/// Checks packs together. Warnings are kept in [`Rules::warnings`].
///
/// ```
/// use cotterpin_lang::packs::{Prebuilt, PackText, load};
/// let pack = PackText {
///     name: "mine".into(),
///     manifest: "name = 'mine'\ntitle = ''\nedition = '1'\nauthority = ''\nscope = ''".into(),
///     files: vec![("mine.checklist".into(), "fact canopy.second_catch : yes or no\n  ask \"Is it fitted?\"".into())],
/// };
/// assert_eq!(load(&Prebuilt::empty(), &[pack]).map(|rules| rules.facts.len()).unwrap_or(0), 1);
/// ```
///
/// # Errors
/// Every mistake found in any of the packs, with the texts they point into.
pub fn load(library: &Prebuilt, packs: &[PackText]) -> Result<Rules, LoadError> {
    load_with(library, packs, true)
}

/// The same for audits: the items of the library's packs come without their
/// worked examples, which no audit reads. Packs of any other origin are checked
/// with their examples.
///
/// # Errors
/// As for [`load`].
pub fn load_to_audit(library: &Prebuilt, packs: &[PackText]) -> Result<Rules, LoadError> {
    load_with(library, packs, false)
}

fn load_with(library: &Prebuilt, packs: &[PackText], examples: bool) -> Result<Rules, LoadError> {
    let mut lent = ordered(library, packs).map_err(|messages| Box::new((Sources::default(), messages)))?;
    // Packs of a library build on no other kind: they stand first, and are checked on their own.
    let own = lent.iter().position(|(_, text)| library.find(text).is_none()).unwrap_or(lent.len());
    let own = lent.split_off(own);
    let mut messages = Vec::new();
    let ready = if examples { None } else { library.checked(&lent) };
    let mut checker = ready.unwrap_or_else(|| check_prebuilt(library, &lent, examples, &mut messages));
    checker.rules.prebuilt_packs = lent.len();
    checker.rules.library = library.texts();
    check(library, &mut checker, &own, examples, &mut messages);
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
pub(super) fn ordered<'p>(
    library: &Prebuilt,
    packs: &'p [PackText],
) -> Result<Vec<(Pack, &'p PackText)>, Vec<Diagnostic>> {
    let mut messages = Vec::new();
    let mut read: Vec<(Pack, &PackText)> = Vec::new();
    for text in packs {
        match library.manifest(text) {
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

/// One file of a pack, and how to read it.
struct File<'a> {
    name: &'a str,
    text: &'a Cow<'static, str>,
    /// Its pack in the library and its own place in that, where it comes from there.
    lent: Option<(usize, usize)>,
    examples: bool,
}

fn read_file(
    library: &Prebuilt,
    sources: &mut Sources,
    file: &File<'_>,
    messages: &mut Vec<Diagnostic>,
) -> Vec<Declaration> {
    let File { name, text, lent, examples } = *file;
    if text.len() > MOST_BYTES {
        messages.push(
            Diagnostic::error(
                "file::too-large",
                format!("`{name}` has {} bytes; at most {MOST_BYTES} are read", text.len()),
            )
            .help("split the file"),
        );
        return Vec::new();
    }
    let text = SharedText::from(text.clone());
    let id = sources.add(name, text.clone());
    let ready = lent.and_then(|(pack, at)| library.tree(pack, at, id, examples));
    ready.unwrap_or_else(|| syntax::parse(id, &text, messages))
}

/// Checks packs of a library, which stand below all others.
pub(super) fn check_prebuilt(
    library: &Prebuilt,
    packs: &[(Pack, &PackText)],
    examples: bool,
    messages: &mut Vec<Diagnostic>,
) -> Checker {
    let mut checker = Checker::default();
    check(library, &mut checker, packs, examples, messages);
    if !examples {
        // A text that had to be parsed has them nevertheless.
        checker.rules.items.iter_mut().for_each(|item| item.examples.clear());
    }
    checker
}

/// Checks packs on top of those that are checked already: names first, then
/// what uses them, in passes over all these packs.
fn check(
    library: &Prebuilt,
    checker: &mut Checker,
    packs: &[(Pack, &PackText)],
    examples: bool,
    messages: &mut Vec<Diagnostic>,
) {
    let first = checker.rules.packs.next();
    let mut parsed: Vec<(PackId, Vec<Declaration>)> = Vec::new();
    for (pack, text) in packs {
        let at = checker.add_pack(pack.clone());
        let lent = library.find(text);
        for (place, (name, text)) in text.sorted_files().into_iter().enumerate() {
            let file = File { name, text, lent: lent.map(|pack| (pack, place)), examples };
            parsed.push((at, read_file(library, &mut checker.rules.sources, &file, messages)));
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
    for pack in checker.rules.packs.ids().filter(|pack| *pack >= first).collect::<Vec<_>>() {
        checker.country_means(pack);
    }
    let each = |checker: &mut Checker, step: fn(&mut Checker, &Declaration, PackId)| {
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
        if let Declaration::Disturb { subject, also, .. } = declaration {
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

//! Files of a project that look as if they were meant and are not read.
//!
//! Only names that end in `.toml` are read. What another name holds is compared
//! with what was read: a copy that adds nothing is told, one that adds something
//! is an error, because an entry or a value stands there and was not judged.

use super::file_names::{ending, is_left_by_a_program, is_text_by_name};
use crate::diagnostic::Diagnostic;
use crate::ir::{ENTRIES, Rules};
use crate::project::TAKEN_BACK;
use crate::project::encoding::{self, decoded};
use crate::project::whole::{LOG, WHOLE};
use crate::project::{FileText, too_deep};
use crate::source::{Sources, Span};
use std::collections::BTreeSet;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// What ends in this, in small letters, is read.
const READ: &str = ".toml";
const NAMED: &str = "toml";
/// Text that people write by hand is no longer than this; a longer file of another name is not looked into.
const MOST_LOOKED_INTO: u64 = 1 << 20;
/// Folders whose files show or keep something, and state nothing.
const KEPT: [&str; 2] = ["evidence/", "audits/"];

/// A file that is not read, with its bytes or why they cannot be had.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LookedInto {
    pub(super) name: String,
    pub(super) bytes: Result<Vec<u8>, String>,
}

/// Whether a file that is not read is to be looked into: it is named like one that is, or it is
/// short and may be one under another name.
pub(super) fn is_worth_a_look(path: &str, length: u64) -> bool {
    let name = last(path);
    if is_left_by_a_program(name) || path == TAKEN_BACK {
        return false;
    }
    let is_kept = KEPT.iter().any(|folder| path.starts_with(folder));
    let is_hidden = name.starts_with('.') && !path.starts_with("log/");
    is_named_alike(path) || !is_hidden && length <= MOST_LOOKED_INTO && (!is_kept || is_text_by_name(name))
}

/// The files that were not read and hold what none that was read holds, and what
/// there is to say of those that were not read.
pub fn passed_over(
    files: &[LookedInto],
    read: &[&FileText],
    rules: Option<&Rules>,
    sources: &mut Sources,
) -> (Vec<String>, Vec<Diagnostic>) {
    let (mut held, mut messages) = (Vec::new(), Vec::new());
    let mut known = None;
    let words = rules.map(words_of);
    for file in files {
        let known = known.get_or_insert_with(|| all_pieces(read));
        // What an editor keeps of the text before is older than the file beside it.
        let is_older = file.name.strip_suffix('~').is_some_and(|newer| read.iter().any(|one| one.name == newer));
        let Some(message) = told(file, is_older, (known, words.as_ref()), sources) else { continue };
        if message.is_error() {
            held.push(file.name.clone());
        }
        messages.push(message);
    }
    (held, messages)
}

/// The name, among those there, that somebody may have meant by `wanted`.
#[cfg(feature = "disk")]
pub(super) fn meant<'n>(names: &'n [String], wanted: &str) -> Option<&'n String> {
    let stem = wanted.strip_suffix(READ).unwrap_or(wanted);
    names.iter().find(|name| *name != wanted && name.to_lowercase().starts_with(stem) && is_named_alike(name))
}

/// `toml` is a word of the name, not a piece of one.
fn is_named_alike(path: &str) -> bool {
    last(path).to_lowercase().split(|letter: char| !letter.is_alphanumeric()).any(|word| word == NAMED)
}

fn last(path: &str) -> &str {
    path.rsplit('/').next().unwrap_or(path)
}

/// What a project may say: the names of facts and lists.
fn words_of(rules: &Rules) -> BTreeSet<String> {
    let facts = rules.facts.iter().map(|fact| fact.name.to_string());
    facts.chain(rules.lists.iter().map(|list| list.name.to_string())).collect()
}

/// Whether something of a file is what a project says: a fact, a record, an entry, a word that something is whole.
fn is_said(piece: &Piece, words: Option<&BTreeSet<String>>) -> bool {
    let first = piece.name.split('.').next().unwrap_or_default();
    let entry = is_statement(first) && (piece.of_many || first == WHOLE);
    let ends = piece.name.match_indices('.').map(|(at, _)| at).chain([piece.name.len()]);
    let known = |words: &BTreeSet<String>| {
        ends.clone().any(|end| piece.name.get(..end).is_some_and(|name| words.contains(name)))
    };
    entry || words.is_none_or(known)
}

/// Nothing is said of a file that is named otherwise and says nothing that a project says.
fn told(
    file: &LookedInto,
    is_older: bool,
    (read, words): (&BTreeSet<String>, Option<&BTreeSet<String>>),
    sources: &mut Sources,
) -> Option<Diagnostic> {
    let name = &file.name;
    let text = file.bytes.as_ref().map(|bytes| decoded(bytes)).unwrap_or_default();
    let source = sources.add(name.clone(), text.clone());
    let begin = Span::new(source, 0, text.chars().next().map_or(0, char::len_utf8));
    let sound = match &file.bytes {
        Err(why) => Err(why.clone()),
        Ok(bytes) => match encoding::text(bytes) {
            Err(wrong) => Err(format!("it {}", wrong.what())),
            Ok(_) if too_deep(source, &text).is_some() => Err("its keys are nested too deeply".to_owned()),
            Ok(_) => DeTable::parse(&text).map_err(|problem| format!("it is not TOML: {}", problem.message())),
        },
    };
    let (named_alike, in_the_log_and_shut) = (is_named_alike(name), file.bytes.is_err() && name.starts_with("log/"));
    let pieces = match sound {
        Ok(table) => {
            let pieces = pieces_of(table.get_ref());
            if !named_alike && !pieces.iter().any(|piece| is_said(piece, words)) {
                return None;
            }
            pieces
        }
        // A picture of such a file, or one that is packed, is no text.
        Err(_) if is_no_text(file) || !(named_alike || in_the_log_and_shut || has_heading(&text)) => return None,
        Err(why) => {
            let message = format!("`{name}` is not read, and what it holds cannot be made out");
            return Some(error(message).at(begin, why).help(help(name)));
        }
    };
    let other: Vec<&Piece> = pieces.iter().filter(|piece| !read.contains(&piece.text)).collect();
    match other.as_slice() {
        [first, rest @ ..] if !is_older => {
            let label = match rest.len() {
                0 => "this stands in no file that is read".to_owned(),
                more => format!("this stands in no file that is read, nor do {more} more here"),
            };
            let message = format!("`{name}` is not read, and holds what was not judged");
            Some(error(message).at(Span::new(source, first.at.start, first.at.end), label).help(help(name)))
        }
        _ if !named_alike => None,
        _ => {
            let help = "it seems to be a copy: keep copies outside the project's folder";
            Some(Diagnostic::warning("file::not-read", format!("`{name}` is not read")).at(begin, "").help(help))
        }
    }
}

/// What begins an entry, or says that something is whole.
fn is_statement(key: &str) -> bool {
    ENTRIES.contains(&key) || [LOG, WHOLE].contains(&key)
}

/// Whether a line is the heading of an entry, however the rest is written.
fn has_heading(text: &str) -> bool {
    let is_one = |line: &str| {
        let line = line.trim_start_matches('\u{FEFF}').trim();
        let entry = line.strip_prefix("[[").and_then(|rest| rest.split_once("]]"));
        let heading = entry.is_some_and(|(inner, _)| is_statement(inner.trim().trim_matches('"')));
        heading || line.starts_with("[whole]")
    };
    text.split(['\n', '\r']).any(is_one)
}

/// Whether bytes that are no text stand in a file whose ending says that it is none.
fn is_no_text(file: &LookedInto) -> bool {
    let ending = ending(last(&file.name));
    let is_other =
        ["jpg", "jpeg", "png", "heic", "webp", "pdf", "docx", "odt", "xlsx", "ods", "zip", "gz", "7z", "tar"];
    is_other.contains(&ending.as_str())
}

fn error(message: String) -> Diagnostic {
    Diagnostic::error("file::not-read", message)
}

fn help(name: &str) -> String {
    format!(
        "a file that is read ends in `{READ}`, in small letters: name this one `{}`, or bring what it holds into that file; an old copy belongs outside the project's folder",
        to_be_named(name)
    )
}

/// `log/2026-10.TOML` and `log/2026-10.toml.txt` are to be `log/2026-10.toml`.
fn to_be_named(path: &str) -> String {
    let (folder, name) = path.rfind('/').map_or(("", path), |at| path.split_at(at.saturating_add(1)));
    let lower = name.to_lowercase();
    let at = lower.rfind(NAMED).or_else(|| lower.rfind('.').filter(|at| *at > 0)).unwrap_or(lower.len());
    let stem: String = lower.get(..at).unwrap_or(&lower).trim_matches(['.', ' ', '_', '-', '~', '#']).to_owned();
    let stem = if stem.is_empty() { "facts".to_owned() } else { stem };
    format!("{folder}{stem}{READ}")
}

/// One value, or one record or entry, with where it stands.
struct Piece {
    text: String,
    /// Its name with dots.
    name: String,
    /// One of several records.
    of_many: bool,
    at: Range<usize>,
}

fn all_pieces(read: &[&FileText]) -> BTreeSet<String> {
    let texts = read.iter().filter_map(|file| std::str::from_utf8(&file.bytes).ok());
    let mut scratch = Sources::default();
    let source = scratch.add("", "");
    let sound = texts.filter(|text| too_deep(source, text).is_none());
    let tables = sound.filter_map(|text| DeTable::parse(text).ok());
    tables.flat_map(|table| pieces_of(table.get_ref())).map(|piece| piece.text).collect()
}

fn pieces_of(table: &DeTable<'_>) -> Vec<Piece> {
    let mut pieces = Vec::new();
    collect(table, ("", ""), &mut pieces);
    pieces
}

fn collect(table: &DeTable<'_>, (way, name): (&str, &str), pieces: &mut Vec<Piece>) {
    for (key, value) in table {
        let way = format!("{way}{:?}.", key.get_ref());
        let name = if name.is_empty() { key.get_ref().to_string() } else { format!("{name}.{}", key.get_ref()) };
        let piece = |one: &Spanned<DeValue<'_>>, of_many: bool| {
            let text = format!("{way}{}", alike(one.get_ref()));
            Piece { text, name: name.clone(), of_many, at: one.span() }
        };
        match value.get_ref() {
            DeValue::Table(inner) => collect(inner, (&way, &name), pieces),
            DeValue::Array(records) if records.iter().all(|one| one.get_ref().is_table()) => {
                pieces.extend(records.iter().map(|one| piece(one, true)));
            }
            _ => pieces.push(piece(value, false)),
        }
    }
}

/// The same for values that are the same, however they are written.
fn alike(value: &DeValue<'_>) -> String {
    match value {
        DeValue::String(text) => format!("{text:?}"),
        DeValue::Array(values) => {
            let values: Vec<String> = values.iter().map(|one| alike(one.get_ref())).collect();
            format!("[{}]", values.join(","))
        }
        DeValue::Table(table) => {
            let pairs = table.iter().map(|(key, one)| format!("{:?}={}", key.get_ref(), alike(one.get_ref())));
            format!("{{{}}}", pairs.collect::<Vec<_>>().join(","))
        }
        DeValue::Integer(number) => number.to_string(),
        DeValue::Float(number) => number.to_string(),
        DeValue::Boolean(is_so) => is_so.to_string(),
        DeValue::Datetime(when) => when.to_string(),
    }
}

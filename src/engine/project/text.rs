//! From the bytes of a file to a TOML tree, with every complaint on the way.

use super::encoding;
use crate::diagnostic::Diagnostic;
use crate::quantity::DateRange;
use crate::source::{MOST_BYTES, SharedText, SourceId, Sources, Span};
use std::collections::BTreeSet;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// The most dots in one key. Each is a nested table, and taking a tree of
/// tens of thousands of them apart would use up the stack.
const MOST_DOTS: usize = 32;

/// One file of a project, read by the caller.
///
/// ```
/// let file = cotterpin_engine::project::FileText { name: "fuel.toml".into(), bytes: b"[fuel]\n".to_vec() };
/// assert_eq!(file.name, "fuel.toml");
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FileText {
    /// Its path from the project's folder, with `/` between folders.
    pub name: String,
    /// What it holds; text in UTF-8 if all is well.
    pub bytes: Vec<u8>,
}

/// A file as a tree.
pub(super) struct Page<'t> {
    pub(super) source: SourceId,
    /// Where in the text it begins: what a program states is added to what it stated before.
    begins: usize,
    pub(super) table: DeTable<'t>,
    /// The lines with a syntax error, as bytes. What the parser made of them
    /// is a guess, so nothing further is said about them.
    broken: Vec<Range<usize>>,
}

impl Page<'_> {
    /// A text that is read without a tree.
    pub(super) fn without_tree(source: SourceId) -> Self {
        Self { source, begins: 0, table: DeTable::new(), broken: Vec::new() }
    }

    /// The place of a piece of the tree.
    pub(super) fn span<T>(&self, piece: &Spanned<T>) -> Span {
        self.span_of(piece.span())
    }

    /// The same of bytes of its text.
    pub(super) fn span_of(&self, range: Range<usize>) -> Span {
        span_of(self.source, range.start.saturating_add(self.begins)..range.end.saturating_add(self.begins))
    }

    /// Whether a message about this page stands on its own, and is not a
    /// consequence of a syntax error.
    pub(super) fn stands(&self, message: &Diagnostic) -> bool {
        if self.broken.is_empty() {
            return true;
        }
        // Where nothing could be read the parser puts a value of no length.
        let here = |at: &Range<usize>| {
            message.labels.iter().any(|label| {
                let span = label.span.range();
                let touches = span.is_empty() || (span.start <= at.end && at.start <= span.end);
                label.span.source == self.source && touches
            })
        };
        message.code != "record::missing" && !self.broken.iter().any(here)
    }
}

fn span_of(source: SourceId, range: Range<usize>) -> Span {
    Span::new(source, range.start, range.end)
}

/// Adds the file to `sources` and parses it. Without a page the file could not
/// be read at all.
pub(super) fn open<'t>(file: &'t FileText, sources: &mut Sources) -> (Option<Page<'t>>, Vec<Diagnostic>) {
    match added(file, sources) {
        Ok((source, text)) => parse(source, 0, text),
        Err(message) => (None, vec![*message]),
    }
}

/// Adds the file to `sources`, and gives its text.
///
/// # Errors
/// It has none that is read.
pub(super) fn added<'t>(file: &'t FileText, sources: &mut Sources) -> Result<(SourceId, &'t str), Box<Diagnostic>> {
    if file.bytes.len() > MOST_BYTES {
        let source = sources.add(file.name.clone(), "");
        let message =
            Diagnostic::error("file::too-large", format!("`{}` is larger than {} MB", file.name, MOST_BYTES >> 20))
                .at(Span::new(source, 0, 0), "")
                .help("keep photographs and documents as evidence files, and facts in small TOML files");
        return Err(Box::new(message));
    }
    let text = encoding::text(&file.bytes).map_err(|wrong| wrong.shown(&file.name, &file.bytes, sources))?;
    Ok((sources.add(file.name.clone(), SharedText::copied(text)), text))
}

/// Parses a text that stands in `source` from a byte on.
pub(super) fn parse(source: SourceId, begins: usize, text: &str) -> (Option<Page<'_>>, Vec<Diagnostic>) {
    if let Some(message) = too_deep(source, text) {
        return (None, vec![moved(message, begins)]);
    }
    let (root, errors) = DeTable::parse_recoverable(text);
    let table = root.into_inner();
    let mut told = BTreeSet::new();
    let is_new = |error: &&toml::de::Error| {
        !is_about_a_backslash(error) || told.insert(line_around(text, error.span().unwrap_or(0..0)).start)
    };
    let messages = errors.iter().filter(is_new);
    let messages = messages.map(|error| moved(syntax_error(error, source, text, &table), begins)).collect();
    let broken = errors.iter().map(|error| line_around(text, error.span().unwrap_or(0..text.len())));
    let broken = broken.map(|at| at.start.saturating_add(begins)..at.end.saturating_add(begins)).collect();
    (Some(Page { source, begins, table, broken }), messages)
}

/// The same about a text that begins further on.
fn moved(mut message: Diagnostic, begins: usize) -> Diagnostic {
    for label in &mut message.labels {
        let range = label.span.range();
        let (start, end) = (range.start.saturating_add(begins), range.end.saturating_add(begins));
        label.span = Span::new(label.span.source, start, end);
    }
    message
}

/// What is said of a key with more dots than it may have. A text with such a
/// key must not be parsed.
pub fn too_deep(source: SourceId, text: &str) -> Option<Diagnostic> {
    let at = deepest_key(text)?;
    let message = Diagnostic::error("toml::invalid", format!("a key with more than {MOST_DOTS} dots"));
    let message = message.at(Span::new(source, at, at.saturating_add(1)), "too deep from here");
    Some(message.help("no pack knows names as deep as this"))
}

/// Where a key has more dots than it may.
///
/// The scan takes strings and comments to be what the TOML lexer takes them to
/// be, unclosed ones included, so that no depth can hide from it.
fn deepest_key(text: &str) -> Option<usize> {
    // No line has so many dots, and no string goes over several, as nearly always: no key has so many either.
    if !has_triple(text.as_bytes()) && lines_have_few_dots(text) {
        return None;
    }
    let mut dots = 0usize;
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        match first {
            '.' => dots = dots.saturating_add(1),
            '\n' | '\r' | '=' | ',' | '[' | ']' | '{' | '}' => dots = 0,
            _ => {}
        }
        if dots > MOST_DOTS {
            return Some(text.len().saturating_sub(rest.len()));
        }
        rest = rest.get(token_length(rest, first)..).unwrap_or("");
    }
    None
}

/// Whether surely no line has more dots than a key may. Of every few dots one is looked at: a line with so many has two
/// of those, one after the other.
fn lines_have_few_dots(text: &str) -> bool {
    let mut dots = text.match_indices('.').map(|(at, _)| at).step_by(MOST_DOTS / 2);
    let mut last = dots.next().unwrap_or_default();
    dots.all(|at| {
        let between = text.get(last..at).unwrap_or_default();
        last = at;
        between.contains('\n')
    })
}

/// Whether three quotes of one kind stand in a row. Every byte is looked at, which costs less than to stop.
fn has_triple(bytes: &[u8]) -> bool {
    let (second, third) = (bytes.get(1..).unwrap_or(&[]), bytes.get(2..).unwrap_or(&[]));
    let triples = bytes.iter().zip(second).zip(third);
    triples.fold(false, |found, ((a, b), c)| found | ((a == b) & (b == c) & ((*a == b'"') | (*a == b'\''))))
}

/// The length of the token that `rest` begins with.
fn token_length(rest: &str, first: char) -> usize {
    let until = |ends: &[char]| rest.find(ends).unwrap_or(rest.len());
    match first {
        '#' => until(&['\r', '\n']),
        '"' | '\'' => string_length(rest, first),
        '.' | '\n' | '\r' | '=' | ',' | '[' | ']' | '{' | '}' | ' ' | '\t' => 1,
        _ => until(&['.', '=', ',', '[', ']', '{', '}', ' ', '\t', '#', '\r', '\n']),
    }
}

/// The length of the string, in one line or several, that `rest` begins with.
fn string_length(rest: &str, quote: char) -> usize {
    let escapes = quote == '"';
    let triple = String::from_iter([quote; 3]);
    let long = rest.starts_with(&triple);
    let mut at = if long { 3 } else { 1 };
    while let Some(tail) = rest.get(at..).filter(|tail| !tail.is_empty()) {
        if escapes && tail.starts_with('\\') {
            let pair = tail.get(1..).is_some_and(|next| next.starts_with(['\\', '"']));
            at = at.saturating_add(if pair { 2 } else { 1 });
        } else if long && tail.starts_with(&triple) {
            let extra = tail.chars().skip(3).take(2).take_while(|c| *c == quote).count();
            return at.saturating_add(3).saturating_add(extra);
        } else if !long && tail.starts_with('\n') {
            return at;
        } else if !long && tail.starts_with(quote) {
            return at.saturating_add(1);
        } else {
            at = at.saturating_add(tail.chars().next().map_or(1, char::len_utf8));
        }
    }
    rest.len()
}

/// The whole of the lines that `at` touches.
fn line_around(text: &str, at: Range<usize>) -> Range<usize> {
    let start = text.get(..at.start).and_then(|before| before.rfind('\n')).map_or(0, |n| n.saturating_add(1));
    let end = text.get(at.end..).and_then(|after| after.find('\n')).map_or(text.len(), |n| at.end.saturating_add(n));
    start..end
}

/// What the TOML parser says, in words where they are better than its own.
fn syntax_error(error: &toml::de::Error, source: SourceId, text: &str, table: &DeTable<'_>) -> Diagnostic {
    let range = error.span().unwrap_or(0..0);
    let written = text.get(range.clone()).unwrap_or("");
    let span = span_of(source, range.clone());
    if error.message().starts_with("duplicate key") {
        return written_twice(written, span, table);
    }
    if let Some((date, why)) = impossible_date(text, &range) {
        return Diagnostic::error("toml::invalid", format!("`{date}` is no date of the calendar"))
            .at(span, why)
            .help("write a day that exists, or the month alone in quotes, such as \"2026-10\"");
    }
    let is_month = written.len() == "2026-09".len() && DateRange::parse(written).is_ok();
    if is_month {
        return Diagnostic::error("toml::invalid", format!("`{written}` is no whole date"))
            .at(span, "TOML knows days only")
            .help(format!("a month alone stands in quotes: \"{written}\""));
    }
    if is_about_a_backslash(error) {
        let line = text.get(line_around(text, range)).unwrap_or("");
        let mended = with_slashes(line).filter(|line| DeTable::parse(line).is_ok());
        return Diagnostic::error(
            "toml::invalid",
            "a backslash in double quotes makes another sign of what follows it",
        )
        .at(span, "no sign that it makes")
        .help(match mended {
            Some(mended) => format!("in a path write `/`, on every system: {mended}"),
            None => "in a path write `/`, on every system: \"evidence/fuel/tank.jpg\"".to_owned(),
        });
    }
    if let Some(mended) = with_straight_quotes(text.get(line_around(text, range.clone())).unwrap_or("")) {
        return Diagnostic::error("toml::invalid", "these are curly quotes, and TOML takes straight ones")
            .at(span, "not read as a text")
            .help(format!("type {}", if DeTable::parse(&mended).is_ok() { &mended } else { "height = \"3 in\"" }));
    }
    Diagnostic::error("toml::invalid", format!("this is not TOML: {}", error.message()))
        .at(span, "")
        .help("texts and quantities stand in quotes: height = \"3 in\"")
}

/// Whether the TOML parser did not know what a backslash in double quotes makes.
fn is_about_a_backslash(error: &toml::de::Error) -> bool {
    error.message().contains("escaped value") || error.message().contains("unicode value")
}

/// A line with `/` for each backslash in double quotes. One before the last quote, which it would take in, is none.
fn with_slashes(line: &str) -> Option<String> {
    let mut parts = line.trim().split('"');
    let mut mended = parts.next()?.to_owned();
    for (number, part) in parts.enumerate() {
        let is_inside = number % 2 == 0;
        mended.push('"');
        mended.push_str(&if is_inside { part.replace("\\\\", "/").replace('\\', "/") } else { part.to_owned() });
    }
    Some(mended)
}

/// A line in which curly quotes stand where straight ones belong, with straight
/// ones. Inside of a text they are letters like any other.
fn with_straight_quotes(line: &str) -> Option<String> {
    const CURLY: [char; 7] = ['“', '”', '„', '‘', '’', '‚', '″'];
    let mut rest = line;
    let mut found = false;
    while let Some(first) = rest.chars().next() {
        let (token, after) = rest.split_at_checked(token_length(rest, first))?;
        let closed = token.len() > 1 && token.ends_with(first);
        found |= match first {
            // Opened straight and closed curly.
            '"' | '\'' => !closed && token.trim_end().ends_with(CURLY),
            _ => token.starts_with(CURLY),
        };
        rest = after;
    }
    let straight = |letter: char| match letter {
        '“' | '”' | '„' | '″' => '"',
        '‘' | '’' | '‚' => '\'',
        other => other,
    };
    found.then(|| line.trim().chars().map(straight).collect())
}

/// A key twice in one table. The parser keeps the first; if the name stands
/// in one other place only, that is it.
fn written_twice(key: &str, span: Span, table: &DeTable<'_>) -> Diagnostic {
    let message = Diagnostic::error("fact::twice", format!("`{key}` is written twice"))
        .at(span, "here again")
        .help("keep one of them");
    let others = keys_named(key, table, &span.range());
    match others.as_slice() {
        [only] => message.at(span_of(span.source, only.clone()), "first written here"),
        _ => message,
    }
}

fn keys_named(name: &str, table: &DeTable<'_>, but: &Range<usize>) -> Vec<Range<usize>> {
    let mut found = Vec::new();
    let mut tables = vec![table];
    while let Some(table) = tables.pop() {
        for (key, value) in table {
            if key.get_ref() == name && key.span() != *but {
                found.push(key.span());
            }
            match value.get_ref() {
                DeValue::Table(inner) => tables.push(inner),
                DeValue::Array(items) => tables.extend(items.iter().filter_map(|item| item.get_ref().as_table())),
                _ => {}
            }
        }
    }
    found
}

/// The date the error is about, if it has the form of one and does not exist,
/// and why.
fn impossible_date<'t>(text: &'t str, range: &Range<usize>) -> Option<(&'t str, String)> {
    let part = |c: char| c.is_ascii_digit() || c == '-';
    let start = text.get(..range.start)?.trim_end_matches(part).len();
    let date = text.get(start..)?.get(..10)?;
    let form = date.char_indices().all(|(n, c)| if n == 4 || n == 7 { c == '-' } else { c.is_ascii_digit() });
    let why = DateRange::parse(date).err().filter(|_| form)?;
    Some((date, why.to_string()))
}

//! A string that nobody closed: found by what it swallows.

use crate::diagnostic::Diagnostic;
use crate::source::{SourceId, Span};

/// Words that begin a line only outside a string, with what follows them.
const BEGINNINGS: [&str; 25] = [
    "source ",
    "hold-points",
    "zones",
    "systems",
    "evidence",
    "roles",
    "subjects",
    "choice ",
    "pattern ",
    "fact ",
    "list ",
    "table ",
    "formula ",
    "item ",
    "amend ",
    "set aside ",
    "disturbing ",
    "field ",
    "need ",
    "cite ",
    "basis ",
    "check \"",
    "remedy \"",
    "caution \"",
    "try \"",
];

/// Where the string begins that is not closed, if the quotes of a text do not
/// pair: the first that takes in the beginning of a declaration or clause.
pub(super) fn string(text: &str) -> Option<usize> {
    let (mut start, mut swallows, mut in_comment) = (None, None, false);
    let mut quotes = 0usize;
    for (at, c) in text.char_indices() {
        match (c, start) {
            ('\n', Some(from)) => {
                in_comment = false;
                let rest = text.get(at..).unwrap_or("").trim_start();
                if swallows.is_none() && BEGINNINGS.iter().any(|word| rest.starts_with(word)) {
                    swallows = Some(from);
                }
            }
            ('\n', None) => in_comment = false,
            ('-', None) if text.get(at..).is_some_and(|rest| rest.starts_with("--")) => in_comment = true,
            ('"', _) if !in_comment => {
                quotes = quotes.saturating_add(1);
                start = if start.is_some() { None } else { Some(at) };
            }
            _ => {}
        }
    }
    (quotes % 2 == 1).then_some(swallows.or(start)).flatten()
}

/// The message, at the quote and the rest of its line.
pub(super) fn message(source: SourceId, text: &str, start: usize) -> Diagnostic {
    let line = text.get(start..).unwrap_or("").lines().next().unwrap_or("").trim_end();
    Diagnostic::error("syntax::unclosed", "this string is not closed")
        .at(Span::new(source, start, start.saturating_add(line.len())), "it begins here")
        .help("end it with a double quote; a quote inside it is written twice")
}

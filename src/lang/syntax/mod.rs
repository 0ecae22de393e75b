//! Text to tree. The only room that knows pest.

pub(crate) mod ast;
mod build;
mod codec;
mod expression;
mod items;
mod message;
#[rustfmt::skip]
#[expect(dead_code, unreachable_pub, unused_qualifications, reason = "it stands as pest makes it")]
mod parser;
mod unclosed;

use crate::diagnostic::Diagnostic;
use crate::source::{SourceId, Span};
use ast::Declaration;
pub(crate) use build::not_a_quantity;
use parser::{Grammar, Rule};
use pest::Parser;

/// Parentheses, brackets and loops nested deeper than this are refused before
/// parsing, so that no text can exhaust the stack.
const MAX_NESTING: usize = 32;

/// Reads one `.checklist` text. Every broken declaration gets its own message.
pub(crate) fn parse(source: SourceId, text: &str, messages: &mut Vec<Diagnostic>) -> Vec<Declaration> {
    if let Some((at, length)) = other_line_break(text) {
        messages.push(
            Diagnostic::error("syntax::line-break", "some editors end a line here, and this language does not")
                .at(Span::new(source, at, at.saturating_add(length)), "no line feed stands here")
                .help(
                    "save the file with line feeds at the ends of its lines: a comment would go on to the next of them",
                ),
        );
        return Vec::new();
    }
    if let Some(at) = nested_too_deeply(text) {
        messages.push(
            Diagnostic::error(
                "syntax::nesting",
                format!("parentheses or loops are nested more than {MAX_NESTING} deep"),
            )
            .at(Span::new(source, at, at.saturating_add(1)), "this one is too deep")
            .help("give parts of the expression names with `let`, or use a formula"),
        );
        return Vec::new();
    }
    let file = match Grammar::parse(Rule::file, text) {
        Ok(mut pairs) => pairs.next(),
        Err(error) => {
            messages.push(message::syntax_error(source, text, 0, &error));
            None
        }
    };
    let builder = build::Builder::new(source, text);
    let mut declarations = Vec::new();
    let told = messages.len();
    let begins = |text: &str| Grammar::parse(Rule::declaration_word, text).is_ok();
    for pair in file.into_iter().flat_map(pest::iterators::Pair::into_inner) {
        match pair.as_rule() {
            Rule::declaration => match builder.declaration(pair) {
                Ok(declaration) => declarations.push(declaration),
                Err(message) => messages.push(*message),
            },
            Rule::bad_declaration => {
                let before = declarations.last_mut().filter(|_| !begins(pair.as_str()));
                if let Some(clauses) = before.and_then(Declaration::clauses_mut) {
                    clauses.broken_off = true;
                }
                messages.push(explain(source, text, &pair));
            }
            _ => {}
        }
    }
    // After a string that is not closed every other quote is read the wrong
    // way round: what was said of it all is one mistake.
    if messages.len() > told
        && let Some(start) = unclosed::string(text)
    {
        messages.truncate(told);
        messages.push(unclosed::message(source, text, start));
    }
    declarations
}

/// Parses a broken declaration on its own, to say what is wrong with it.
fn explain(source: SourceId, text: &str, pair: &pest::iterators::Pair<'_, Rule>) -> Diagnostic {
    let start = pair.as_span().start();
    match Grammar::parse(Rule::declaration, pair.as_str()) {
        Err(error) => message::syntax_error(source, text, start, &error),
        // The beginning is a good declaration; what follows it is not.
        Ok(pairs) => {
            let end = pairs.last().map_or(start, |p| start.saturating_add(p.as_span().end()));
            message::unexpected(source, text, end)
        }
    }
}

/// A sign other than a line feed that some editors show as the end of a line: a
/// carriage return alone, a vertical tab, a form feed, or one of those that
/// Unicode (UAX 14, classes BK and NL) adds. Where it stands, and its length.
fn other_line_break(text: &str) -> Option<(usize, usize)> {
    let bytes = text.as_bytes();
    let is_one = |at: &usize| match bytes.get(*at..).unwrap_or_default() {
        [b'\r', rest @ ..] => rest.first() != Some(&b'\n'),
        [0x0B | 0x0C, ..] | [0xC2, 0x85, ..] | [0xE2, 0x80, 0xA8 | 0xA9, ..] => true,
        _ => false,
    };
    let at = (0..bytes.len()).find(is_one)?;
    Some((at, text.get(at..)?.chars().next()?.len_utf8()))
}

/// Words that open a nest without a bracket.
const OPENING: [&str; 8] = ["every", "some", "count", "sum", "least", "greatest", "mean", "%"];
/// Words that begin a clause, where every nest is closed again.
const CLAUSES: [&str; 10] = ["need", "when", "let", "try", "row", "item", "fact", "list", "formula", "table"];

/// Finds the first place that is nested too deeply; strings and comments are skipped. What follows a quote that nothing
/// closes is no string, and is parsed.
fn nested_too_deeply(text: &str) -> Option<usize> {
    let in_strings = || {
        let after = lone_quote(text)?.checked_add(1)?;
        nested_outside_strings(text.get(after..)?)?.checked_add(after)
    };
    nested_outside_strings(text).or_else(in_strings)
}

/// Where the string begins that goes on to the end of the text.
fn lone_quote(text: &str) -> Option<usize> {
    let (mut open, mut in_comment) = (None, false);
    for (at, byte) in text.bytes().enumerate() {
        match byte {
            b'\n' => in_comment = false,
            b'"' if !in_comment => open = if open.is_some() { None } else { Some(at) },
            b'-' if open.is_none() && text.get(at..).is_some_and(|rest| rest.starts_with("--")) => in_comment = true,
            _ => {}
        }
    }
    open
}

fn nested_outside_strings(text: &str) -> Option<usize> {
    let (mut depth, mut words) = (0usize, 0usize);
    for (at, token) in tokens(text) {
        match token {
            "(" | "[" => depth = depth.saturating_add(1),
            ")" | "]" => depth = depth.saturating_sub(1),
            word if OPENING.contains(&word) => words = words.saturating_add(1),
            word if CLAUSES.contains(&word) => (depth, words) = (0, 0),
            _ => {}
        }
        if depth.saturating_add(words) > MAX_NESTING {
            return Some(at);
        }
    }
    None
}

/// Words, brackets and percent signs outside strings and comments.
fn tokens(text: &str) -> impl Iterator<Item = (usize, &str)> {
    let (mut in_string, mut in_comment, mut begun) = (false, false, None);
    let ends = text.char_indices().map(Some).chain([None]);
    ends.flat_map(move |next| {
        let (at, c) = next.unwrap_or((text.len(), ' '));
        let inside = in_string || in_comment;
        let is_word = !inside && (c.is_ascii_alphanumeric() || matches!(c, '_' | '-' | '.'));
        let word = if is_word { None } else { begun.take() };
        if is_word && begun.is_none() {
            begun = Some(at);
        }
        match c {
            '\n' => in_comment = false,
            '"' if !in_comment => in_string = !in_string,
            _ => {}
        }
        if begun.is_some_and(|from| text.get(from..).is_some_and(|rest| rest.starts_with("--"))) {
            (in_comment, begun) = (true, None);
        }
        let sign = (!inside && matches!(c, '(' | ')' | '[' | ']' | '%'))
            .then(|| (at, text.get(at..at.saturating_add(1)).unwrap_or("")));
        let word = word.map(|from: usize| (from, text.get(from..at).unwrap_or("")));
        word.into_iter().chain(sign)
    })
}

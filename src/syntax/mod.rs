//! Text to tree. The only room that knows pest.

mod build;
mod expression;
mod items;
mod message;
pub(crate) mod tree;

use crate::diagnostic::Diagnostic;
use crate::source::{SourceId, Span};
use pest::Parser;
use tree::Declaration;

#[derive(pest_derive::Parser)]
#[grammar = "grammar/checklist.pest"]
struct Grammar;

/// Parentheses and brackets nested deeper than this are refused before
/// parsing, so that no text can exhaust the stack.
const MAX_NESTING: usize = 48;

/// Reads one `.checklist` text. Every broken declaration gets its own message.
pub(crate) fn parse(source: SourceId, text: &str, messages: &mut Vec<Diagnostic>) -> Vec<Declaration> {
    if let Some(at) = nested_too_deeply(text) {
        messages.push(
            Diagnostic::error("syntax::nesting", format!("parentheses are nested more than {MAX_NESTING} deep"))
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
    for pair in file.into_iter().flat_map(pest::iterators::Pair::into_inner) {
        match pair.as_rule() {
            Rule::declaration => match builder.declaration(pair) {
                Ok(declaration) => declarations.push(declaration),
                Err(message) => messages.push(*message),
            },
            Rule::bad_declaration => messages.push(explain(source, text, &pair)),
            _ => {}
        }
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

/// Finds the first bracket that is nested too deeply; strings and comments are skipped.
fn nested_too_deeply(text: &str) -> Option<usize> {
    let (mut depth, mut in_string, mut in_comment, mut previous) = (0usize, false, false, b' ');
    for (at, byte) in text.bytes().enumerate() {
        match byte {
            b'\n' => in_comment = false,
            b'"' if !in_comment => in_string = !in_string,
            b'-' if previous == b'-' && !in_string => in_comment = true,
            b'(' | b'[' if !in_string && !in_comment => depth = depth.saturating_add(1),
            b')' | b']' if !in_string && !in_comment => depth = depth.saturating_sub(1),
            _ => {}
        }
        previous = if in_string || in_comment { b' ' } else { byte };
        if depth > MAX_NESTING {
            return Some(at);
        }
    }
    None
}

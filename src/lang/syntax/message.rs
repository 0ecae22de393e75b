//! Syntax errors in the author's words, not the grammar's.

use super::Rule;
use crate::diagnostic::Diagnostic;
use crate::source::{SourceId, Span};
use pest::error::{Error, ErrorVariant, InputLocation};

/// Turns pest's error, found in a text that begins at byte `offset`, into a message.
pub(super) fn syntax_error(source: SourceId, text: &str, offset: usize, error: &Error<Rule>) -> Diagnostic {
    let at = match error.location {
        InputLocation::Pos(at) | InputLocation::Span((at, _)) => at.saturating_add(offset),
    };
    let expected = match &error.variant {
        ErrorVariant::ParsingError { positives, .. } => words(positives),
        ErrorVariant::CustomError { .. } => Vec::new(),
    };
    let message = unexpected(source, text, at);
    match expected.as_slice() {
        [] => message,
        [one] => message.help(format!("expected {one} here")),
        [some @ .., last] if some.len() < 9 => message.help(format!("expected {} or {last} here", some.join(", "))),
        _ => message,
    }
}

/// Says which word is not understood where it stands.
pub(super) fn unexpected(source: SourceId, text: &str, at: usize) -> Diagnostic {
    let rest = text.get(at..).unwrap_or("");
    let start = at.saturating_add(rest.len().saturating_sub(rest.trim_start().len()));
    let rest = rest.trim_start();
    let word: String = rest.chars().take_while(|c| !c.is_whitespace()).take(40).collect();
    if word.is_empty() {
        return Diagnostic::error("syntax::unfinished", "the text ends before this is complete")
            .at(Span::new(source, at.min(text.len()), text.len()), "something is missing here")
            .help("finish the declaration");
    }
    let end = start.saturating_add(word.len());
    Diagnostic::error("syntax::unexpected", format!("`{word}` is not understood here"))
        .at(Span::new(source, start, end), "not expected here")
}

/// The texts people type for what the grammar wanted, without repeats.
fn words(rules: &[Rule]) -> Vec<String> {
    let mut words: Vec<String> = rules.iter().filter_map(|rule| typed(*rule)).collect();
    words.sort();
    words.dedup();
    words
}

/// What a person types for a rule; nothing for rules that never stand alone.
fn typed(rule: Rule) -> Option<String> {
    let fixed = match rule {
        Rule::name | Rule::word | Rule::ident => "a name",
        Rule::string | Rule::string_text => "a text in double quotes",
        Rule::measured | Rule::quantity | Rule::amount => "a number with its unit",
        Rule::unit => "a unit",
        Rule::date => "a date such as 2026-10-04",
        Rule::whole => "a whole number",
        Rule::expression | Rule::operand | Rule::sum | Rule::comparison | Rule::negation => "a condition or value",
        Rule::item_clause | Rule::amend_clause => "a clause such as `need`",
        Rule::declaration => "a declaration such as `fact` or `item`",
        Rule::op_colon => "`:`",
        Rule::op_comma => "`,`",
        Rule::op_open => "`(`",
        Rule::op_close => "`)`",
        Rule::op_bracket => "`[`",
        Rule::op_unbracket => "`]`",
        Rule::op_equals => "`=`",
        Rule::op_leads_to => "`=>`",
        Rule::relation | Rule::ordering => "a comparison such as `is` or `<=`",
        Rule::verdict => "a verdict",
        _ => "",
    };
    if !fixed.is_empty() {
        return Some(fixed.to_owned());
    }
    let name = format!("{rule:?}");
    name.strip_prefix("kw_").map(|word| format!("`{}`", spoken(word)))
}

/// `hold_points` is typed `hold-points`; every other keyword of several words has spaces.
fn spoken(word: &str) -> String {
    if word == "hold_points" { word.replace('_', "-") } else { word.replace('_', " ") }
}

//! What messages say of kinds and values, and how words are written.

use crate::diagnostic::with_article;
use crate::ir::{Kind, Named, Rules};
use crate::quantity::Dimension;
use toml::de::DeValue;

/// The pack's question and its example, as help below a message.
pub(super) fn question(ask: &str, example: Option<&str>) -> String {
    match example {
        Some(example) => format!("the pack asks: \"{ask}\"; for example `{example}`"),
        None => format!("the pack asks: \"{ask}\""),
    }
}

/// A kind in words, as something one asks for.
pub(super) fn asked(rules: &Rules, kind: Kind) -> String {
    match kind {
        Kind::YesNo => "yes or no".to_owned(),
        Kind::Choice(_) => format!("one of {}", listed(&rules.words(kind))),
        Kind::Text => "a text in quotes".to_owned(),
        Kind::Named(Named::Person) => "the name of somebody whom [people] of project.toml names".to_owned(),
        Kind::Named(Named::File) => "a file of the project, in quotes".to_owned(),
        Kind::Named(Named::Part) => "the name of a part, in quotes".to_owned(),
        Kind::Named(Named::Zone) => "the name of a zone, in quotes".to_owned(),
        Kind::Named(Named::Instrument) => "an instrument, as measuring.equipment calls it".to_owned(),
        Kind::Count => "a whole number".to_owned(),
        Kind::Number(Dimension::NUMBER) => "a number".to_owned(),
        Kind::Number(dimension) => format!("{} with its unit", with_article(&dimension.describe())),
        Kind::Date => "a date".to_owned(),
    }
}

/// Words as a message lists them.
pub(super) fn listed(words: &[&str]) -> String {
    words.iter().map(|word| format!("`{word}`")).collect::<Vec<_>>().join(", ")
}

/// A TOML value in words.
pub(super) fn in_words(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "a text",
        DeValue::Integer(_) => "a whole number",
        DeValue::Float(_) => "a number",
        DeValue::Boolean(_) => "yes or no",
        DeValue::Datetime(stamp) if stamp.time.is_some() => "a time of day",
        DeValue::Datetime(_) => "a date",
        DeValue::Array(_) => "several values",
        DeValue::Table(_) => "a table",
    }
}

/// A word as packs write it: `AWG 20` is `awg-20`.
pub fn normal_word(text: &str) -> String {
    let mut word = String::with_capacity(text.len());
    for part in text.split(|c: char| c.is_whitespace() || c == '_').filter(|part| !part.is_empty()) {
        if !word.is_empty() {
            word.push('-');
        }
        if part.is_ascii() {
            word.extend(part.chars().map(|letter| letter.to_ascii_lowercase()));
        } else {
            word.push_str(&part.to_lowercase());
        }
    }
    word
}

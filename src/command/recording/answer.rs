//! An answer as a person types it, as TOML for the kind of its fact.

use crate::command::day::days;
use crate::command::edit::quoted;
use cotterpin_engine::diagnostic::nearest;
use cotterpin_engine::ir::{Fact, Kind, Rules};
use cotterpin_engine::project::freehand::unquoted;
use cotterpin_engine::project::{normal_word, read_quantity};
use cotterpin_engine::quantity::Dimension;
use cotterpin_engine::report;

/// What may be answered, in words.
pub(in crate::command) fn form(rules: &Rules, fact: &Fact) -> String {
    let mut form = match fact.kind {
        Kind::YesNo => "yes or no".to_owned(),
        Kind::Choice(_) => format!("one of {}", rules.words(fact.kind).join(", ")),
        Kind::Text => "a text".to_owned(),
        Kind::Named(named) => report::named(named).to_owned(),
        Kind::Count => "a whole number".to_owned(),
        Kind::Number(Dimension::NUMBER) => "a number".to_owned(),
        Kind::Number(dimension) => {
            let what = dimension.describe();
            let article = if what.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
            format!("{article} {what} with its unit")
        }
        Kind::Date => "a date: year-month-day, year-month or year".to_owned(),
    };
    if let Some(limits) = &fact.limits {
        form.push_str(&format!(", {}", limits.text));
    }
    if fact.optional {
        form.push_str(", or none if there is none");
    }
    form
}

/// An answer as it is written into a file.
pub(in crate::command) struct Answer {
    /// The value as TOML, in its strict form.
    pub(in crate::command) toml: String,
    /// What it was read as, where it was given in other words.
    read_as: Option<String>,
}

impl Answer {
    /// What the answer was taken for, where it was given in other words.
    pub(in crate::command) fn taken_for(&self, answer: &str) -> Option<String> {
        self.read_as.as_ref().map(|strict| format!("{answer}: read as {strict}"))
    }
}

/// The value as TOML. Whether it is a sensible one, the reader of the record
/// decides; only what it could not be told is refused here.
///
/// # Errors
/// What was expected, or what the answer may be.
pub(in crate::command) fn toml(rules: &Rules, fact: &Fact, answer: &str) -> Result<Answer, String> {
    // In quotation marks a word such as `stop` or `?` is a text like any other.
    let answer = unquoted(answer);
    let plain = |toml: String| Answer { toml, read_as: None };
    if fact.optional && answer.eq_ignore_ascii_case("none") {
        return Ok(plain(quoted("none")));
    }
    match fact.kind {
        Kind::YesNo => word(rules, fact, answer).map(|word| plain((word == "yes").to_string())),
        Kind::Choice(_) => word(rules, fact, answer).map(|word| plain(quoted(&word))),
        Kind::Text | Kind::Named(_) => Ok(plain(quoted(answer))),
        Kind::Count => match answer.parse::<u32>() {
            Ok(count) => Ok(plain(count.to_string())),
            Err(_) => Err("A whole number is asked, such as 2.".to_owned()),
        },
        Kind::Number(dimension) => {
            let read = read_quantity(rules, (fact, &fact.name), answer, dimension).map_err(|why| format!("{why}."))?;
            let toml = quoted(read.strict.as_deref().unwrap_or(answer));
            Ok(Answer { toml, read_as: read.strict })
        }
        Kind::Date => {
            let read = days(answer).map_err(|why| format!("`{answer}` is not taken as a date: {why}."))?;
            let (first, last) = (read.value.first, read.value.last);
            let toml = if first == last { first.to_string() } else { quoted(&read.value.to_string()) };
            Ok(Answer { toml, read_as: read.strict })
        }
    }
}

/// A word of the fact, by any beginning that is no other word's and lacks no word of it: `registration` may be any paper
/// about one, and is no `registration-certificate`.
fn word(rules: &Rules, fact: &Fact, answer: &str) -> Result<String, String> {
    let words = rules.words(fact.kind);
    // As it stands in a file.
    let wanted = match (fact.kind, normal_word(answer).as_str()) {
        (Kind::YesNo, "true") => "yes".to_owned(),
        (Kind::YesNo, "false") => "no".to_owned(),
        (_, word) => word.to_owned(),
    };
    if words.contains(&wanted.as_str()) {
        return Ok(wanted);
    }
    let begun: Vec<&str> = words.iter().copied().filter(|word| word.starts_with(&wanted)).collect();
    match begun.as_slice() {
        [only] if only.strip_prefix(&wanted).is_some_and(|rest| !rest.contains('-')) => Ok((*only).to_owned()),
        [only] => Err(format!("Did you mean {only}?")),
        [] => Err(match nearest(&wanted, words.iter().copied()) {
            Some(near) => format!("Did you mean {near}?"),
            None => format!("Expected one of {}.", words.join(", ")),
        }),
        several => Err(format!("Which one: {}?", several.join(", "))),
    }
}

//! Every question the packs ask and the project has not answered yet, as TOML
//! the builder can copy. Nothing in it counts as recorded: every answer is
//! commented out, and one without an example does not parse until filled in.

use super::phrases;
use super::wrap::Page;
use crate::ir::{Fact, FactId, Kind, List, ListId, Rules};
use crate::project::Record;
use std::collections::BTreeMap;

/// Comments keep to the width of a common editor.
const WIDTH: usize = 78;

/// Open questions by table. `system` keeps those whose name begins with that
/// word.
#[must_use]
pub fn questions_text(rules: &Rules, record: &Record, system: Option<&str>) -> String {
    let mut page = Page::new(WIDTH);
    comment(&mut page, "Answers you know: take away the # before the key, and write your own value.");
    for (table, facts) in tables(rules, record, system) {
        page.gap();
        if !table.is_empty() {
            page.line(0, &format!("[{table}]"));
        }
        for (key, fact) in facts {
            question(&mut page, rules, &key, fact, "");
        }
    }
    for list in open_lists(rules, record, system) {
        page.gap();
        records(&mut page, rules, list);
    }
    page.finish()
}

/// Whether a name begins with the word asked for, if there is one.
fn is_of(name: &str, system: Option<&str>) -> bool {
    system.is_none_or(|system| name.split('.').next() == Some(system))
}

/// The facts not recorded.
pub(super) fn open_facts<'a>(
    rules: &'a Rules,
    record: &'a Record,
    system: Option<&'a str>,
) -> impl Iterator<Item = &'a Fact> {
    let facts = (0..).map(FactId::new).zip(&rules.facts);
    let open = move |(id, fact): &(FactId, &Fact)| is_of(&fact.name, system) && !record.facts.contains_key(id);
    facts.filter(open).map(|(_, fact)| fact)
}

/// The lists of which nothing is recorded, without those that the log keeps.
pub(super) fn open_lists<'a>(
    rules: &'a Rules,
    record: &'a Record,
    system: Option<&'a str>,
) -> impl Iterator<Item = &'a List> {
    let lists = (0..).map(ListId::new).zip(&rules.lists);
    let open = move |(id, list): &(ListId, &List)| {
        is_of(&list.name, system) && !list.derived() && !record.lists.contains_key(id)
    };
    lists.filter(open).map(|(_, list)| list)
}

type Tables<'a> = BTreeMap<String, Vec<(String, &'a Fact)>>;

/// Facts not recorded, by the table they stand in; keys outside any table
/// come first, as TOML wants it.
fn tables<'a>(rules: &'a Rules, record: &'a Record, system: Option<&'a str>) -> Tables<'a> {
    let mut tables = Tables::new();
    for fact in open_facts(rules, record, system) {
        let (table, key) = fact.name.rsplit_once('.').unwrap_or(("", &fact.name));
        tables.entry(table.to_owned()).or_default().push((key.to_owned(), fact));
    }
    tables
}

/// A list: one record to copy as often as there are things.
fn records(page: &mut Page, rules: &Rules, list: &List) {
    comment(page, &list.ask);
    comment(page, "Once for each:");
    page.line(0, &format!("# [[{}]]", list.name));
    for field in &list.fields {
        question(page, rules, &field.name, field, "  ");
    }
}

fn question(page: &mut Page, rules: &Rules, key: &str, fact: &Fact, indent: &str) {
    comment(page, &format!("{indent}{}", fact.ask));
    let hint = hint(rules, fact);
    if !hint.is_empty() {
        comment(page, &format!("{indent}({hint})"));
    }
    let answer = fact.example.as_ref().map_or_else(String::new, |example| answer(fact.kind, example));
    // A value must stand on one line, however wide.
    let line = format!("# {indent}{key} = {answer}");
    page.verbatim(line.trim_end());
}

/// What may be answered, where the question does not say it.
pub(super) fn hint(rules: &Rules, fact: &Fact) -> String {
    let mut hint = match fact.kind {
        Kind::YesNo => "true or false".to_owned(),
        Kind::Choice(_) => {
            let words: Vec<String> = rules.words(fact.kind).into_iter().map(|word| format!("\"{word}\"")).collect();
            format!("one of {}", words.join(", "))
        }
        Kind::Date if fact.example.is_none() => "a date: year-month-day, or only year-month".to_owned(),
        Kind::Count => "a whole number".to_owned(),
        Kind::Named(named) => phrases::named(named).to_owned(),
        Kind::Text | Kind::Number(_) | Kind::Date => String::new(),
    };
    if let Some(limits) = &fact.limits {
        join(&mut hint, &limits.text);
    }
    if fact.optional {
        join(&mut hint, "\"none\" if there is none");
    }
    hint
}

fn join(hint: &mut String, more: &str) {
    if !hint.is_empty() {
        hint.push_str("; ");
    }
    hint.push_str(more);
}

/// An example as a TOML value.
fn answer(kind: Kind, example: &str) -> String {
    let bare = match kind {
        Kind::YesNo => matches!(example, "true" | "false"),
        Kind::Count => !example.is_empty() && example.bytes().all(|byte| byte.is_ascii_digit()),
        // A month alone is no TOML date and must be quoted.
        Kind::Date => example.len() == 10 && example.bytes().all(|byte| byte.is_ascii_digit() || byte == b'-'),
        Kind::Choice(_) | Kind::Text | Kind::Named(_) | Kind::Number(_) => false,
    };
    // A JSON string is also a TOML basic string.
    if bare { example.to_owned() } else { serde_json::Value::from(example).to_string() }
}

fn comment(page: &mut Page, text: &str) {
    page.commented(text);
}

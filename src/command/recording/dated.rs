//! What stands beside a value: the day on which it was so, the instrument, the
//! evidence. Where work on a part undoes it, what is said now is of now, and what is
//! there to show it stays of its own day.

use super::project::Project;
use super::target::Target;
use crate::command::clock::now;
use crate::command::edit::quoted;
use crate::command::messages::Messages;
use cotterpin_engine::audit::{EntryRef, last_work_on_fact, last_work_on_field};
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::project::evidence_kind;
use cotterpin_engine::project::taken::{DATED, INSTRUMENT, VALUE};
use toml::de::{DeTable, DeValue};

/// What somebody says beside a value.
#[derive(Debug, Clone, Default)]
pub(in crate::command) struct Beside {
    /// The day, as TOML; where it is not said and work on a part undoes the value, it is of now.
    pub(in crate::command) on: Option<String>,
    pub(in crate::command) instrument: Option<String>,
    /// Files that show it.
    pub(in crate::command) evidence: Vec<String>,
}

/// The day and time of an answer, as TOML: the day alone where it is given for another than today.
pub(in crate::command) fn moment(project: &Project) -> String {
    match now() {
        Some((today, time)) if today == project.on => format!("{today}T{time}"),
        _ => project.on.to_string(),
    }
}

/// A value as it is written, with what stands beside it.
pub(in crate::command) fn beside(
    project: &Project,
    target: Target,
    value: &str,
    said: &Beside,
) -> Result<String, Messages> {
    let state = target.fact(project).and_then(|fact| fact.state.as_ref());
    let lapses = state.is_some_and(|state| !state.own_day);
    let day = said.on.clone().or_else(|| (lapses || said.instrument.is_some()).then(|| moment(project)));
    let new = said.evidence.iter().map(|file| quoted(file));
    // What shows another value does not show this one.
    let same = target.recorded(project).is_some_and(|(old, _)| same_value(&old, value));
    let kept = if day.is_some() && same { evidence(project, target)? } else { Vec::new() };
    let shown: Vec<String> = kept.into_iter().chain(new).collect();
    if day.is_none() && shown.is_empty() {
        return Ok(value.to_owned());
    }
    let mut text = format!("{{ {VALUE} = {value}");
    if let Some(day) = day {
        text.push_str(&format!(", {DATED} = {day}"));
    }
    if let Some(instrument) = &said.instrument {
        text.push_str(&format!(", {INSTRUMENT} = {}", quoted(instrument)));
    }
    if !shown.is_empty() {
        text.push_str(&format!(", evidence = [{}]", shown.join(", ")));
    }
    Ok(text + " }")
}

/// After which work a value was so that nobody gave a day: it is taken to be of now, and may have been measured before.
pub(in crate::command) fn after_work(project: &Project, target: Target, said: &Beside) -> Option<String> {
    if said.on.is_some() {
        return None;
    }
    let Project { rules, record, on, .. } = project;
    let work = match target {
        Target::Fact(id) => last_work_on_fact(rules, record, *on, id),
        Target::Field(list, row, field) => last_work_on_field(rules, record, *on, (list, row, field)),
        Target::List(_) | Target::Whole(_) | Target::WholeLog => None,
    }?;
    let EntryRef { event, subject, on, place } = work;
    Some(format!("It is of now, after {event} {subject}, {on} ({place}). If it was so before that, say when: --on."))
}

fn same_value(old: &str, value: &str) -> bool {
    old.trim_matches('"') == value.trim_matches('"')
}

/// What stood beside the old value and does not stand beside the new one, in words.
pub(in crate::command) fn left_behind(project: &Project, target: Target, value: &str, said: &Beside) -> Vec<String> {
    let Some(old) = target.written(project) else { return Vec::new() };
    let text = format!("old = {old}");
    let Ok(parsed) = DeTable::parse(&text) else { return Vec::new() };
    let Some(table) = parsed.get_ref().get("old").and_then(|old| old.get_ref().as_table()) else { return Vec::new() };
    let mut left = Vec::new();
    let same = target.recorded(project).is_some_and(|(old, _)| same_value(&old, value));
    if table.contains_key("evidence") && !same {
        left.push("What showed that value does not show this one: name a new file with --evidence.".to_owned());
    }
    let instrument = table.get(INSTRUMENT).and_then(|one| one.get_ref().as_str());
    if let (Some(instrument), None) = (instrument, &said.instrument) {
        left.push(format!("That was measured with {instrument}; of this one no instrument is named: --instrument."));
    }
    left
}

/// The evidence that stands beside the old value, each file with the old day.
fn evidence(project: &Project, target: Target) -> Result<Vec<String>, Messages> {
    let Some(old) = target.written(project) else { return Ok(Vec::new()) };
    let text = format!("old = {old}");
    let Ok(parsed) = DeTable::parse(&text) else { return Ok(Vec::new()) };
    let Some(table) = parsed.get_ref().get("old").and_then(|old| old.get_ref().as_table()) else {
        return Ok(Vec::new());
    };
    let Some(evidence) = table.get("evidence") else { return Ok(Vec::new()) };
    let raw = |span: std::ops::Range<usize>| text.get(span).unwrap_or("").to_owned();
    let own_day = table.get(DATED).map(|day| raw(day.span()));
    let single = std::slice::from_ref(evidence);
    let pieces = evidence.get_ref().as_array().map_or(single, |array| array.as_ref());
    let mut kept = Vec::new();
    for piece in pieces {
        let (kind, file, day) = match piece.get_ref() {
            DeValue::Table(one) => {
                let text = |key: &str| one.get(key).and_then(|value| value.get_ref().as_str()).map(str::to_owned);
                (text("kind"), text("file"), one.get(DATED).map(|day| raw(day.span())))
            }
            DeValue::String(file) => (Some(evidence_kind(file).to_owned()), Some(file.to_string()), None),
            _ => (None, None, None),
        };
        match (kind, file, day.or_else(|| own_day.clone())) {
            (Some(kind), Some(file), Some(day)) => {
                kept.push(format!("{{ kind = {}, file = {}, {DATED} = {day} }}", quoted(&kind), quoted(&file)));
            }
            _ => {
                let message = "there is evidence beside the old value, and nobody says of which day it is";
                let help =
                    "write the new value into the file by hand, and the day of each piece of evidence, `dated`, in it";
                return Err(Messages::one(Diagnostic::error("record::evidence", message).help(help)));
            }
        }
    }
    Ok(kept)
}

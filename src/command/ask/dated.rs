//! The day beside a value that is the state of a part: an answer is of now, and
//! what is there to show it stays of its own day.

use super::project::Project;
use super::target::Target;
use crate::command::clock::now;
use crate::command::edit::quoted;
use crate::command::messages::Messages;
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::project::evidence_kind;
use cotterpin_engine::project::taken::{DATED, VALUE};
use toml::de::{DeTable, DeValue};

/// The day and time of an answer, as TOML: the day alone where it is given for another than today.
pub(super) fn moment(project: &Project) -> String {
    match now() {
        Some((today, time)) if today == project.on => format!("{today}T{time}"),
        _ => project.on.to_string(),
    }
}

/// A value as it is written: with its day, where work on a part undoes it.
pub(super) fn dated(project: &Project, target: Target, value: &str) -> Result<String, Messages> {
    let state = target.fact(project).and_then(|fact| fact.state.as_ref());
    if state.is_none_or(|state| state.own_day) {
        return Ok(value.to_owned());
    }
    let mut text = format!("{{ {VALUE} = {value}, {DATED} = {}", moment(project));
    if let Some(evidence) = evidence(project, target)? {
        text.push_str(&format!(", evidence = [{evidence}]"));
    }
    Ok(text + " }")
}

/// The evidence that stands beside the old value, each file with the old day.
fn evidence(project: &Project, target: Target) -> Result<Option<String>, Messages> {
    let Some(old) = target.written(project) else { return Ok(None) };
    let text = format!("old = {old}");
    let Ok(parsed) = DeTable::parse(&text) else { return Ok(None) };
    let Some(table) = parsed.get_ref().get("old").and_then(|old| old.get_ref().as_table()) else { return Ok(None) };
    let Some(evidence) = table.get("evidence") else { return Ok(None) };
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
                return Err(Messages::one(Diagnostic::error("ask::evidence", message).help(help)));
            }
        }
    }
    Ok(Some(kept.join(", ")))
}

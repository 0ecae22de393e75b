//! A new record of a list, as text.

use super::dated::{Beside, moment};
use super::project::Project;
use crate::command::edit::{key, quoted};
use cotterpin_engine::ir::List;
use cotterpin_engine::project::taken::{DATED, INSTRUMENT};

/// The record with its heading: keys with values in TOML, and what is said beside them. Where work on a part undoes one
/// of its fields, all of it is of now, if no day is said.
pub(in crate::command) fn new_record(
    project: &Project,
    list: &List,
    values: &[(&str, String)],
    said: &Beside,
) -> String {
    let states = list.fields.iter().any(|field| field.state.is_some());
    let day = said.on.clone().or_else(|| (states || said.instrument.is_some()).then(|| moment(project)));
    let files: Vec<String> = said.evidence.iter().map(|file| quoted(file)).collect();
    let beside = [
        (DATED, day),
        (INSTRUMENT, said.instrument.as_deref().map(quoted)),
        ("evidence", (!files.is_empty()).then(|| format!("[{}]", files.join(", ")))),
    ];
    let values = values.iter().map(|(name, value)| (*name, Some(value.clone())));
    let lines = values.chain(beside).filter_map(|(name, value)| Some(format!("{} = {}\n", key(name), value?)));
    let heading: Vec<String> = list.name.split('.').map(key).collect();
    format!("[[{}]]\n{}", heading.join("."), lines.collect::<String>())
}

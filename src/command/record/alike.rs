//! One field of all records of a list, alike but for some.

use super::value_of;
use crate::command::args::RecordArgs;
use crate::command::edit::Step;
use crate::command::messages::Messages;
use crate::command::recording::{Beside, Project, Put, Target, What, after_work, beside};
use cotterpin_engine::diagnostic::{Diagnostic, did_you_mean};
use cotterpin_engine::ir::{FieldId, ListId};
use cotterpin_engine::report::Page;

/// `cotterpin record fasteners.joints.pinned yes --all-but "left belt anchor"`
///
/// What is recorded otherwise stays as it is, and is told: somebody saw it.
pub(super) fn alike(
    project: &mut Project,
    args: &RecordArgs,
    (id, at): (ListId, FieldId),
    said: &Beside,
    page: &mut Page,
) -> Result<(), Messages> {
    let Some(list) = project.rules.list(id).cloned() else { return Ok(()) };
    let Some(field) = list.fields.get(at).cloned() else { return Ok(()) };
    if at == list.named_by {
        let message = format!("`{}` is the name of each record, and no two have the same", args.name);
        return Err(Messages::one(Diagnostic::error("record::all", message).help("name another field")));
    }
    if !said.evidence.is_empty() {
        return Err(Messages::one(super::evidence_of_record()));
    }
    let records = project.record_names(id);
    if records.is_empty() {
        let message = format!("`{}` has no records yet", list.name);
        let help = format!("begin each with `cotterpin record {} ...`, or `cotterpin ask`", list.name);
        return Err(Messages::one(Diagnostic::error("record::all", message).help(help)));
    }
    for but in &args.all_but {
        if !records.contains(but) {
            let help = did_you_mean(but, records.iter().map(String::as_str))
                .unwrap_or_else(|| format!("they are {}", records.join("; ")));
            let message = format!("`{}` has no record `{but}`", list.name);
            return Err(Messages::one(Diagnostic::error("record::which", message).help(help)));
        }
    }
    let answer = args.value.join(" ");
    let read = value_of(project, &args.name, &field, answer.trim())?;
    let (value, taken) = (&read.toml, read.taken_for(answer.trim()));
    let mut puts: Vec<(Vec<Step>, String)> = Vec::new();
    let (mut new, mut others): (Vec<&str>, Vec<String>) = (Vec::new(), Vec::new());
    for (row, name) in records.iter().enumerate().filter(|(_, name)| !args.all_but.contains(name)) {
        let target = Target::Field(id, row, at);
        match target.recorded(project) {
            Some((old, place)) if !same(&old, value, answer.trim()) => {
                others.push(format!("{name}: {old} ({place})"));
                continue;
            }
            _ => {}
        }
        let Some(way) = target.way(project) else { continue };
        puts.push((way, beside(project, target, value, said)?));
        new.push(name);
    }
    if !puts.is_empty() {
        let file = project.record.lists.get(&id).map(|rows| project.record.sources.place(rows.place).file);
        let all: Vec<Put<'_>> =
            puts.iter().map(|(way, text)| Put { way, file: file.as_deref(), what: What::Value(text) }).collect();
        project.put(&all)?;
        let file = file.unwrap_or_default();
        page.hanging(
            0,
            4,
            &format!("Written to {file} for {} of {}: {} = {value}", new.len(), records.len(), field.name),
        );
        page.hanging(4, 4, &format!("{}.", new.join("; ")));
    }
    if let Some(said) = taken {
        page.hanging(4, 8, &said);
    }
    if !others.is_empty() {
        page.hanging(0, 4, "Recorded otherwise, and left as it is:");
        others.iter().for_each(|other| page.hanging(4, 8, other));
    }
    // The first of them that work was done on stands for all.
    let after = new.iter().find_map(|name| {
        let row = records.iter().position(|known| known == name)?;
        after_work(project, Target::Field(id, row, at), said)
    });
    after.iter().for_each(|line| page.hanging(0, 4, line));
    for but in &args.all_but {
        let row = records.iter().position(|name| name == but);
        let stands = row.and_then(|row| Target::Field(id, row, at).recorded(project));
        let stands = stands.map_or("nothing is recorded of it".to_owned(), |(old, place)| format!("{old} ({place})"));
        page.hanging(0, 4, &format!("Left out: {but}: {stands}."));
    }
    Ok(())
}

/// Whether what is recorded says the same.
fn same(old: &str, value: &str, answer: &str) -> bool {
    old == value || old == answer || old.trim_matches('"') == value.trim_matches('"')
}

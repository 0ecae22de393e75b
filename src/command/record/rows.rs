//! A record of a list: a new one, or fields of one that is known.

use super::{Said, keys_of_record, not_there, value_of, wrote};
use crate::command::args::RecordArgs;
use crate::command::edit::{Step, quoted};
use crate::command::messages::Messages;
use crate::command::recording::{Beside, Project, Put, Target, What, beside, new_record, speaker, whole_list};
use cotterpin_engine::diagnostic::{Diagnostic, did_you_mean, nearest};
use cotterpin_engine::ir::{Fact, HOW_MANY, List, ListId};
use cotterpin_engine::report::Page;

/// `cotterpin record fuel.tanks name=left capacity="20 gal"`
pub(super) fn record(
    project: &mut Project,
    args: &RecordArgs,
    id: ListId,
    said: &Beside,
    page: &mut Page,
) -> Result<(), Messages> {
    let Some(list) = project.rules.list(id).cloned() else { return Ok(()) };
    if let [only] = args.value.as_slice()
        && only.trim().eq_ignore_ascii_case("none")
    {
        return none(project, args, id, &list, page);
    }
    let pairs = pairs(&list, &args.value)?;
    let name_field = list.fields.get(list.named_by).map_or("", |field| field.name.as_str());
    let Some((_, name)) = pairs.iter().find(|(key, _)| *key == name_field) else {
        let message = format!("which record of `{}`?", list.name);
        let help = format!("give its name, and what is so: {name_field}=\"...\" {}", example(&list));
        return Err(Messages::one(Diagnostic::error("record::which", message).help(help)));
    };
    match project.record_names(id).iter().position(|known| known == name) {
        Some(row) => fields(project, (id, &list, row), &pairs, said, page),
        None => new(project, (id, &list), &pairs, said, page),
    }
}

/// The word that there is nothing of the kind.
fn none(project: &mut Project, args: &RecordArgs, id: ListId, list: &List, page: &mut Page) -> Result<(), Messages> {
    if !project.record_names(id).is_empty() {
        let message = format!("`{}` has records, so it is not none", list.name);
        return Err(Messages::one(
            Diagnostic::error("record::none", message).help("take out by hand those that are not there any more"),
        ));
    }
    let who = speaker(&project.header, args.who.as_deref(), None).map_err(Messages::one)?;
    let at = whole_list(project, id, &who.short)?;
    wrote(
        page,
        &Said {
            at,
            line: format!("{} says that the aircraft has none, not that none is done yet: {}", who.short, list.ask),
        },
    );
    Ok(())
}

/// `key=value` each; the keys are fields of the list, or what else a record has.
fn pairs<'a>(list: &List, words: &'a [String]) -> Result<Vec<(&'a str, &'a str)>, Messages> {
    let known: Vec<&str> = list.fields.iter().map(|field| field.name.as_str()).chain(keys_of_record(list)).collect();
    let mut pairs: Vec<(&str, &str)> = Vec::new();
    for word in words {
        let refused =
            |message: String, help: String| Err(Messages::one(Diagnostic::error("record::field", message).help(help)));
        let Some((key, value)) = word.split_once('=') else {
            let help = format!("write FIELD=VALUE, with quotes around both where there are blanks: {}", example(list));
            return refused(format!("`{word}` says no field of `{}`", list.name), help);
        };
        let (key, value) = (key.trim(), value.trim());
        if !known.contains(&key) {
            let help = did_you_mean(key, known.iter().copied())
                .unwrap_or_else(|| format!("its fields are {}", known.join(", ")));
            return refused(format!("a record of `{}` has no field `{key}`", list.name), help);
        }
        if pairs.iter().any(|(before, _)| *before == key) {
            return refused(format!("`{key}` is given twice"), "keep one of them".to_owned());
        }
        if value.is_empty() {
            return refused(format!("`{key}` is empty"), "leave it out until it is known".to_owned());
        }
        pairs.push((key, value));
    }
    Ok(pairs)
}

/// A field with an example of its value, as it is typed.
fn example(list: &List) -> String {
    let other = list.fields.with_ids().find(|(at, field)| *at != list.named_by && field.example.is_some());
    other.map_or_else(
        || "field=\"value\"".to_owned(),
        |(_, field)| format!("{}=\"{}\"", field.name, field.example.as_deref().unwrap_or("")),
    )
}

/// The value as TOML, and what it was taken for, where it was given in other words.
fn as_toml(project: &Project, list: &List, (name, value): (&str, &str)) -> Result<(String, Option<String>), Messages> {
    let field: Option<&Fact> = list.fields.iter().find(|field| field.name == name);
    match field {
        Some(field) => {
            let answer = value_of(project, &format!("{}.{name}", list.name), field, value)?;
            let said = answer.taken_for(value);
            Ok((answer.toml, said))
        }
        None if name == HOW_MANY => match value.parse::<u32>() {
            Ok(many) => Ok((many.to_string(), None)),
            Err(_) => {
                let message = format!("`{value}` is no number of things alike");
                Err(Messages::one(Diagnostic::error("record::how-many", message).help("write how_many=48")))
            }
        },
        None => Ok((quoted(value), None)),
    }
}

fn new(
    project: &mut Project,
    (id, list): (ListId, &List),
    pairs: &[(&str, &str)],
    said: &Beside,
    page: &mut Page,
) -> Result<(), Messages> {
    let (mut values, mut taken): (Vec<(&str, String)>, Vec<String>) = (Vec::new(), Vec::new());
    for pair in pairs {
        let (value, read_as) = as_toml(project, list, *pair)?;
        values.push((pair.0, value));
        taken.extend(read_as);
    }
    let text = new_record(project, list, &values, said);
    let (file, way) = (Target::List(id).file(project), Target::List(id).way(project).unwrap_or_default());
    let at = project.put_one(Put { way: &way, file: file.as_deref(), what: What::Records(&text) })?;
    page.line(
        0,
        &format!(
            "Written to {}, line {}: record {} of {}.",
            at.file,
            at.line,
            project.record_names(id).len(),
            list.name
        ),
    );
    for line in text.lines().skip(1) {
        page.verbatim(&format!("    {line}"));
    }
    taken.iter().for_each(|said| page.hanging(4, 8, said));
    not_there(project, said, page);
    left_open(list, pairs, page);
    let name = pairs.iter().find(|(key, _)| is_name(list, key)).map_or("", |(_, name)| *name);
    let others = project.record_names(id);
    if let Some(near) = nearest(name, others.iter().map(String::as_str).filter(|other| *other != name)) {
        page.hanging(4, 4, &format!("There is {near} as well. If it is the same one, take this record out again."));
    }
    page.hanging(0, 0, &format!("Are these all? cotterpin confirm {}", list.name));
    Ok(())
}

/// The fields that nothing was said of.
fn left_open(list: &List, pairs: &[(&str, &str)], page: &mut Page) {
    let given = |field: &&Fact| pairs.iter().any(|(key, _)| *key == field.name);
    let open: Vec<&str> = list.fields.iter().filter(|field| !given(field)).map(|field| field.name.as_str()).collect();
    if !open.is_empty() {
        page.hanging(4, 4, &format!("Not recorded yet: {}.", open.join(", ")));
    }
}

fn fields(
    project: &mut Project,
    (id, list, row): (ListId, &List, usize),
    pairs: &[(&str, &str)],
    said: &Beside,
    page: &mut Page,
) -> Result<(), Messages> {
    let (mut puts, mut taken): (Vec<(Vec<Step>, String)>, Vec<String>) = (Vec::new(), Vec::new());
    for pair in pairs {
        let Some(at) = list.fields.position(|field| field.name == pair.0) else {
            let message = format!("`{}` of a record that is known is changed by hand", pair.0);
            let file = Target::List(id).file(project).unwrap_or_else(|| "its file".to_owned());
            return Err(Messages::one(Diagnostic::error("record::field", message).help(format!("open {file}"))));
        };
        if at == list.named_by {
            continue;
        }
        let target = Target::Field(id, row, at);
        if let Some((old, place)) = target.recorded(project) {
            let list = &list.name;
            let name = project.record_names(id).get(row).cloned().unwrap_or_default();
            let message = format!("`{}` of {name} is recorded already: {old} ({place})", pair.0);
            let help = format!("if that is to change: cotterpin record \"{list}[{name}].{}\" \"{}\"", pair.0, pair.1);
            return Err(Messages::one(Diagnostic::error("record::there", message).help(help)));
        }
        let (value, read_as) = as_toml(project, list, *pair)?;
        taken.extend(read_as);
        let Some(way) = target.way(project) else { continue };
        puts.push((way, beside(project, target, &value, said)?));
    }
    if puts.is_empty() {
        let message = format!("`{}` has a record of that name, and nothing more is said of it", list.name);
        return Err(Messages::one(
            Diagnostic::error("record::field", message).help("give what is to be recorded, or another name"),
        ));
    }
    let file = project.record.lists.get(&id).and_then(|rows| rows.rows.get(row)).map(|row| row.place);
    let file = file.map(|place| project.record.sources.place(place).file);
    let all: Vec<Put<'_>> =
        puts.iter().map(|(way, text)| Put { way, file: file.as_deref(), what: What::Value(text) }).collect();
    let written = project.put(&all)?;
    for (at, pair) in written.into_iter().zip(pairs.iter().filter(|(key, _)| !is_name(list, key))) {
        wrote(
            page,
            &Said {
                at,
                line: format!(
                    "{}, {} = {}",
                    project.record_names(id).get(row).map_or("", String::as_str),
                    pair.0,
                    pair.1
                ),
            },
        );
    }
    taken.iter().for_each(|said| page.hanging(4, 8, said));
    Ok(())
}

fn is_name(list: &List, key: &str) -> bool {
    list.fields.get(list.named_by).is_some_and(|field| field.name == key)
}

//! `cotterpin record`: one fact, one record of a list, or one field of many records, written in one go.

use super::args::RecordArgs;
use super::audit::day_to_judge;
use super::find::evidence;
use super::messages::Messages;
use super::recording::{
    Answer, Beside, Project, Put, Target, What, When, WrittenAt, after_work, beside, changed, form, left_behind,
    snags_at, toml,
};
use super::{Afterwards, Done, Status, width};
use cotterpin_engine::audit::MissingCause;
use cotterpin_engine::diagnostic::{Diagnostic, did_you_mean, nearest};
use cotterpin_engine::ir::{Fact, FieldId, HOW_MANY, List, ListId, PART};
use cotterpin_engine::quantity::Date;
use cotterpin_engine::report::{self, Page};

mod alike;
mod rows;

/// What was written: where, and the line of it that says it.
struct Said {
    at: WrittenAt,
    line: String,
}

/// Ends with status 0 when it was written.
pub(super) fn record(args: &RecordArgs, afterwards: Afterwards) -> Done {
    write(args, afterwards).map_err(Messages::of_writing)
}

fn write(args: &RecordArgs, afterwards: Afterwards) -> Done {
    let mut project = Project::open(&args.place.project, day_to_judge(None)?)?;
    let before = project.standing();
    let said = beside_of(args, project.on)?;
    let mut page = Page::new(width());
    match what(&project, args)? {
        Aim::One(target) => one(&mut project, args, target, &said, &mut page)?,
        Aim::Record(id) => rows::record(&mut project, args, id, &said, &mut page)?,
        Aim::Alike(id, field) => alike::alike(&mut project, args, (id, field), &said, &mut page)?,
    }
    let now = project.outline();
    let text = page.finish() + &changed(before.as_ref(), now.as_ref());
    afterwards.done_with((project, before, now));
    Ok((text, Status::Settled))
}

/// What is to be recorded.
enum Aim {
    /// A fact, or a field of one record.
    One(Target),
    /// A record of a list.
    Record(ListId),
    /// A field of many records.
    Alike(ListId, FieldId),
}

fn what(project: &Project, args: &RecordArgs) -> Result<Aim, Messages> {
    let name = args.name.as_str();
    let alike = args.all || !args.all_but.is_empty();
    let aim = match Target::of(project, name) {
        Some(target @ (Target::Fact(_) | Target::Field(..))) => Some(Aim::One(target)),
        Some(Target::List(id) | Target::Whole(id)) => Some(Aim::Record(id)),
        Some(Target::WholeLog) => return Err(Messages::one(for_log())),
        None => field_of_all(project, name).map(|(id, field)| Aim::Alike(id, field)),
    };
    match aim {
        Some(Aim::Alike(id, field)) if !alike => Err(Messages::one(which_record(project, name, (id, field)))),
        Some(Aim::One(_) | Aim::Record(_)) if alike => {
            let message = format!("`{name}` is no field of all records of a list");
            Err(Messages::one(
                Diagnostic::error("record::all", message).help("write LIST.FIELD VALUE --all, or leave --all out"),
            ))
        }
        Some(aim) => Ok(aim),
        None => Err(Messages::one(no_record(project, name).unwrap_or_else(|| unknown(project, name)))),
    }
}

/// A record of a known list that is not there.
fn no_record(project: &Project, name: &str) -> Option<Diagnostic> {
    let (record, _) = name.rsplit_once(']')?;
    let (list, record) = record.split_once('[')?;
    let id = *project.rules.list_by_name.get(list)?;
    let names = project.record_names(id);
    if names.iter().any(|known| known == record) {
        return None;
    }
    let near = did_you_mean(record, names.iter().map(String::as_str));
    let help = near.unwrap_or_else(|| match names.as_slice() {
        [] => format!("it has none yet: cotterpin record {list} ..."),
        names => format!("they are {}", names.join("; ")),
    });
    let message = format!("`{list}` has no record `{record}`");
    Some(Diagnostic::error("record::which", message).help(help))
}

fn for_log() -> Diagnostic {
    Diagnostic::error("record::log", "what was done is written with `cotterpin log`")
        .help("to say that the log is whole: cotterpin confirm log")
}

/// `fuel.tanks.capacity`
fn field_of_all(project: &Project, name: &str) -> Option<(ListId, FieldId)> {
    let (list, field) = name.rsplit_once('.')?;
    let id = *project.rules.list_by_name.get(list)?;
    let field = project.rules.list(id)?.fields.position(|known| known.name == field)?;
    Some((id, field))
}

fn which_record(project: &Project, name: &str, (id, field): (ListId, FieldId)) -> Diagnostic {
    let message = format!("`{name}` is a field of every record: of which one?");
    let names = project.record_names(id);
    let list = project.rules.list(id);
    let field = list.and_then(|list| list.fields.get(field)).map_or("", |field| field.name.as_str());
    let list = list.map_or("", |list| list.name.as_str());
    let first = names.first().map_or("NAME", String::as_str);
    Diagnostic::error("record::which", message).help(format!(
        "write \"{list}[{first}].{field}\" for one, or --all for all alike, or --all-but \"{first}\" for all others"
    ))
}

/// Nothing of that name: the nearest, or what it is instead.
fn unknown(project: &Project, name: &str) -> Diagnostic {
    let rules = &project.rules;
    let message = Diagnostic::error("record::unknown", format!("no pack of this project asks for `{name}`"));
    if let Some(item) = rules.find_items(name).first().and_then(|id| rules.item(*id)) {
        return message.help(match item.confirm {
            true => format!("it is an item: a person's word about it is given with `cotterpin confirm {name}`"),
            false => format!("it is an item: `cotterpin why {name}` says what it reads"),
        });
    }
    let fields = rules.lists.iter().flat_map(|list| {
        let of = |field: &Fact| format!("{}.{}", list.name, field.name);
        list.fields.iter().map(of).collect::<Vec<_>>()
    });
    let facts = rules.fact_by_name.keys().chain(rules.list_by_name.keys()).map(ToString::to_string);
    let known: Vec<String> = facts.chain(fields).collect();
    let plain = name.split(['[', ']']).step_by(2).collect::<String>();
    let tail = |known: &&String| known.rsplit('.').next() == plain.rsplit('.').next();
    let alike: Vec<&str> = known.iter().filter(tail).map(String::as_str).take(4).collect();
    message.help(match (nearest(&plain, known.iter().map(String::as_str)), alike.as_slice()) {
        (Some(near), _) => format!("did you mean `{near}`?"),
        (None, []) => "`cotterpin questions` lists what is asked for".to_owned(),
        (None, alike) => format!("did you mean {}?", alike.join(" or ")),
    })
}

fn beside_of(args: &RecordArgs, today: Date) -> Result<Beside, Messages> {
    let on = args.on.as_deref().map(|on| When::past(on, today)).transpose().map_err(Messages::one)?;
    let on = on.map(|when| when.toml);
    let evidence = args.evidence.iter().map(|path| evidence(&args.place.project, path));
    let evidence = evidence.collect::<Result<_, _>>().map_err(Messages::one)?;
    Ok(Beside { on, instrument: args.instrument.clone(), evidence })
}

/// A value as TOML, or what was expected.
fn value_of(project: &Project, name: &str, fact: &Fact, answer: &str) -> Result<Answer, Messages> {
    toml(&project.rules, fact, answer).map_err(|why| {
        let why = why.trim_end_matches('.');
        // A number or a day is told with what is wrong in it.
        let message = match why.contains(&format!("`{answer}`")) {
            true => why.to_owned(),
            false => format!("`{answer}` is no value of `{name}`: {why}"),
        };
        let help = format!("asked is \"{}\"; the answer is {}", fact.ask, form(&project.rules, fact));
        Messages::one(Diagnostic::error("record::value", message).help(help))
    })
}

fn one(
    project: &mut Project,
    args: &RecordArgs,
    target: Target,
    said: &Beside,
    page: &mut Page,
) -> Result<(), Messages> {
    let (Some(fact), Some(way)) = (target.fact(project).cloned(), target.way(project)) else { return Ok(()) };
    let answer = args.value.join(" ");
    if answer.trim().is_empty() {
        let message = format!("`{}` is recorded as what?", args.name);
        let help = format!("asked is \"{}\"; the answer is {}", fact.ask, form(&project.rules, &fact));
        return Err(Messages::one(Diagnostic::error("record::value", message).help(help)));
    }
    if let (Target::Field(..), false) = (target, said.evidence.is_empty()) {
        return Err(Messages::one(evidence_of_record()));
    }
    let value = value_of(project, &args.name, &fact, answer.trim())?;
    let text = beside(project, target, &value.toml, said)?;
    let (old, by_country) = (target.recorded(project), target.is_by_country(project));
    let left = left_behind(project, target, &value.toml, said);
    let file = target.file(project);
    let at = project.put_one(Put { way: &way, file: file.as_deref(), what: What::Value(&text) })?;
    wrote(page, &Said { at, line: format!("{} = {text}", args.name) });
    if let Some(said) = value.taken_for(answer.trim()) {
        page.hanging(4, 8, &said);
    }
    if let Some((old, place)) = old {
        let stays = if by_country { "what the country means" } else { "that stays as a comment" };
        page.hanging(4, 4, &format!("It was {old} ({place}); {stays}."));
    }
    left.iter().for_each(|line| page.hanging(4, 4, line));
    let of = fact.state.as_ref().and_then(|state| state.of.as_ref()?.part());
    for open in of.map(|part| snags_at(project, part)).unwrap_or_default() {
        page.hanging(4, 4, &format!("Mind: {open} is open there."));
    }
    after_work(project, target, said).iter().for_each(|line| page.hanging(4, 4, line));
    not_there(project, said, page);
    if fact.state.is_some() || said.instrument.is_some() {
        doubts(project, &args.name, page);
    }
    Ok(())
}

/// Files that are named and show nothing yet.
fn not_there(project: &Project, said: &Beside, page: &mut Page) {
    for file in said.evidence.iter().filter(|file| !file.contains(['*', '?', '[']) && !project.has_file(file)) {
        page.hanging(4, 4, &format!("{file} is not there, or is empty: it shows nothing until it is."));
    }
}

fn evidence_of_record() -> Diagnostic {
    Diagnostic::error("record::evidence", "evidence belongs to a whole record, not to one of its fields")
        .help("write evidence = [\"...\"] in the record, or name the file in a line of the log: --evidence")
}

fn wrote(page: &mut Page, said: &Said) {
    page.line(0, &format!("Written to {}, line {}:", said.at.file, said.at.line));
    page.hanging(4, 8, &said.line);
}

/// Why what was just recorded does not count, if it does not.
fn doubts(project: &Project, name: &str, page: &mut Page) {
    if !project.judged() {
        return;
    }
    let audit = project.audit_of_open();
    let missing = audit.findings.iter().flat_map(|finding| &finding.missing);
    let counts = |why: &MissingCause| matches!(why, MissingCause::NotRecorded | MissingCause::TooCoarse(_));
    let why = missing.filter(|missing| missing.fact == name).map(|missing| &missing.why).find(|why| !counts(why));
    if let Some(why) = why {
        page.hanging(4, 4, &format!("It does not count yet: {}.", report::why_missing(why)));
    }
}

/// What belongs to a record and is none of its fields.
fn keys_of_record(list: &List) -> Vec<&'static str> {
    let part = list.part.is_some() || list.names_states();
    let many = list.many_alike.then_some(HOW_MANY);
    [many, part.then_some(PART)].into_iter().flatten().collect()
}

//! A list, record by record, and the word that it is whole.
//!
//! Every record is written at once. What must hold of all of them is shown only
//! when somebody has said that these are all, so half a list shows nothing that
//! is not so.

use super::Next;
use super::dialogue::{Dialogue, Reply, bare};
use super::whole;
use crate::command::edit::Step;
use crate::command::messages::Messages;
use crate::command::recording::{Beside, Project, Put, Target, What, WrittenAt, form, new_record, toml};
use crate::command::width;
use cotterpin_engine::ir::{Fact, List, ListId};
use cotterpin_engine::report::Page;

/// What came of one record.
enum Record {
    Done,
    /// There are no more.
    Last,
    /// There is none at all.
    None,
    /// Not now.
    Later,
    Back,
    Stop,
}

/// Asks for the records of a list of which none is known, or for further ones.
pub(super) fn ask(project: &mut Project, talk: &mut Dialogue<'_>, id: ListId) -> Result<Next, Messages> {
    further(project, talk, id, None)
}

/// The same; `not_all` is how many there were when somebody said that these are not all.
fn further(
    project: &mut Project,
    talk: &mut Dialogue<'_>,
    id: ListId,
    mut not_all: Option<usize>,
) -> Result<Next, Messages> {
    let Some(list) = project.rules.list(id).cloned() else { return Ok(Next::Skipped) };
    let begun_with = count(project, id);
    talk.say(if begun_with == 0 {
        "   Record by record. Where one would begin, \"no more\" ends the list, and\n   \"none\" says that there is nothing of the kind.\n"
    } else {
        "   Record by record. Where one would begin, \"no more\" ends the list.\n"
    });
    loop {
        let known = count(project, id);
        let so_far = if known > begun_with { Next::Answered } else { Next::Skipped };
        match record(project, talk, id, &list)? {
            Record::Done => {}
            Record::Last if known == 0 => {
                talk.say("No record was given. If the aircraft has none and will have none, answer none; an empty line leaves it open.\n");
                return Ok(Next::Skipped);
            }
            Record::Last if not_all == Some(known) => {
                talk.say("Left open: the others can be given later.\n");
                return Ok(so_far);
            }
            Record::Last => match whole::ask(project, talk, id)? {
                None => {
                    not_all = Some(known);
                    talk.say("Then the next one, or \"no more\" to leave the list open.\n");
                }
                Some(Next::Skipped) => return Ok(so_far),
                Some(next) => return Ok(next),
            },
            Record::None => {
                let next = whole::write(project, talk, id)?;
                if matches!(next, Next::Answered) {
                    talk.say(&format!(
                        "That there is nothing of the kind, not that none is done yet. Wrong? cotterpin record {} ... \
                         records one, and it counts no more.\n",
                        list.name
                    ));
                }
                return Ok(next);
            }
            Record::Later => return Ok(so_far),
            Record::Back if known > begun_with => {
                talk.say("What is written stays; \"no more\" ends the list.\n");
            }
            Record::Back => return Ok(Next::Back),
            Record::Stop => return Ok(Next::Stop),
        }
    }
}

/// Asks whether the records of a list are all, and for the others if they are not.
pub(super) fn ask_whole(project: &mut Project, talk: &mut Dialogue<'_>, id: ListId) -> Result<Next, Messages> {
    match whole::ask(project, talk, id)? {
        Some(next) => Ok(next),
        None => {
            let known = count(project, id);
            further(project, talk, id, Some(known))
        }
    }
}

/// How many records are known.
fn count(project: &Project, id: ListId) -> usize {
    project.record.lists.get(&id).map_or(0, |rows| rows.rows.len())
}

fn record(project: &mut Project, talk: &mut Dialogue<'_>, id: ListId, list: &List) -> Result<Record, Messages> {
    let known = count(project, id);
    let mut written: Option<WrittenAt> = None;
    for (asked, field) in fields(list).into_iter().enumerate() {
        let first = asked == 0;
        talk.say(&question(project, known.saturating_add(1), field));
        loop {
            let answer = match talk.reply() {
                Reply::Stop => return Ok(Record::Stop),
                Reply::Text(text) if written.is_none() && bare(&text) == "no more" => return Ok(Record::Last),
                Reply::Text(text) if written.is_none() && known == 0 && bare(&text) == "none" => {
                    return Ok(Record::None);
                }
                Reply::Back if written.is_none() => return Ok(Record::Back),
                Reply::Back => {
                    talk.say("One can go back where a record begins. An empty line leaves this open; a wrong answer is mended in the file.\n");
                    continue;
                }
                // A record cannot do without its name.
                Reply::Skip | Reply::Unknown if first => return Ok(Record::Later),
                Reply::Skip | Reply::Unknown => break,
                Reply::Text(answer) => answer,
            };
            let value = match toml(&project.rules, field, &answer) {
                Ok(value) => value,
                Err(why) => {
                    talk.say(&format!("{why}\n"));
                    continue;
                }
            };
            match add(project, id, list, known, written.as_ref(), field, &value.toml) {
                Ok(at) => {
                    talk.say(&value.taken_for(&answer).map_or_else(String::new, |said| format!("{said}\n")));
                    written.get_or_insert(at);
                    break;
                }
                Err(messages) => talk.say(&messages.of_writing().shown(false)),
            }
        }
    }
    if let Some(WrittenAt { file, line }) = written {
        talk.say(&format!("Written to {file}, line {line}.\n"));
    }
    Ok(Record::Done)
}

/// The field that names a record comes first.
fn fields(list: &List) -> Vec<&Fact> {
    let (mut fields, others): (Vec<_>, Vec<_>) = list.fields.with_ids().partition(|(at, _)| list.named_by == *at);
    fields.extend(others);
    fields.into_iter().map(|(_, field)| field).collect()
}

/// Writes a field of the record in that place: the first of them begins it.
fn add(
    project: &mut Project,
    id: ListId,
    list: &List,
    place: usize,
    begun: Option<&WrittenAt>,
    field: &Fact,
    value: &str,
) -> Result<WrittenAt, Messages> {
    let mut way = Target::List(id).way(project).unwrap_or_default();
    if let Some(begun) = begun {
        way.extend([Step::Row(place), Step::Key(field.name.to_string())]);
        return project.put_one(Put { way: &way, file: Some(&begun.file), what: What::Value(value) });
    }
    let file = Target::List(id).file(project);
    let text = new_record(project, list, &[(&field.name, value.to_owned())], &Beside::default());
    project.put_one(Put { way: &way, file: file.as_deref(), what: What::Records(&text) })
}

fn question(project: &Project, number: usize, field: &Fact) -> String {
    let mut page = Page::new(width());
    page.hanging(0, 3, &format!("Record {number}, {}: {}", field.name, field.ask));
    let mut more = form(&project.rules, field);
    if let Some(example) = &field.example {
        more.push_str(&format!(". For example: {example}"));
    }
    page.line(3, &more);
    page.finish()
}

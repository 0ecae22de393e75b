//! What the builder says of jobs: `[[job]]`. How long one takes, what comes
//! before it, which part is on order; and jobs of the builder's own.

use super::FileText;
use super::form::{Form, not_a_list};
use super::job_subject::JobSubject;
use super::text::{Page, open};
use super::unread::Unread;
use super::words::in_words;
use super::{Record, dates, log};
use crate::diagnostic::{Diagnostic, nearest};
use crate::ir::Rules;
use crate::quantity::{Date, DateRange, ExactInterval};
use crate::source::{Sources, Span};
use std::collections::BTreeMap;
use toml::Spanned;
use toml::de::DeValue;

/// The key of the entries.
pub const JOB: &str = "job";

const KEYS: [&str; 10] = ["about", "of", "title", "takes", "after", "waits", "zone", "by", "done", "not_needed"];
const WAITS_KEYS: [&str; 3] = ["for", "ordered", "expected"];

/// What a job waits for: a part on order, a paper, a person.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OnOrder {
    /// What it is.
    pub part: String,
    /// When it was ordered, or asked for.
    pub ordered: Option<DateRange>,
    /// When it is expected; nothing where nobody said.
    pub expected: Option<DateRange>,
}

/// What the builder says of one job.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Job {
    /// What it is about.
    pub about: JobSubject,
    /// The record it is about; all of them if none is named.
    pub subject: Option<String>,
    /// What is to be done: of a job of the builder's own.
    pub title: Option<String>,
    /// How long it takes, in seconds.
    pub takes: Option<ExactInterval>,
    /// What must be done before, with the places where it is named.
    pub after: Vec<(JobSubject, Span)>,
    /// The part it waits for.
    pub waits: Option<OnOrder>,
    /// Where it is done.
    pub zone: Option<String>,
    /// The hold point by which it must be done.
    pub by: Option<String>,
    /// When a job of the builder's own was done.
    pub done: Option<DateRange>,
    /// When it turned out that it need not be done.
    pub not_needed: Option<DateRange>,
    /// Where it is written.
    pub place: Span,
}

impl Job {
    /// A job of which nothing more is said.
    #[must_use]
    pub fn new(about: JobSubject, place: Span) -> Self {
        Self {
            about,
            subject: None,
            title: None,
            takes: None,
            after: Vec::new(),
            waits: None,
            zone: None,
            by: None,
            done: None,
            not_needed: None,
            place,
        }
    }

    /// Whether it is one of the builder's own that is still to be done on a day.
    #[must_use]
    pub fn is_own_and_open(&self, on: Date) -> bool {
        let is_past = |day: &Option<DateRange>| day.is_some_and(|day| day.first <= on);
        matches!(self.about, JobSubject::Own(_)) && !is_past(&self.done) && !is_past(&self.not_needed)
    }
}

/// Reads all entries of one file into `record`.
pub(super) fn read(
    rules: &Rules,
    page: &Page<'_>,
    (key, written): (Span, &DeValue<'_>),
    (record, unread): (&mut Record, &mut Unread),
) -> Vec<Diagnostic> {
    let mut messages = Vec::new();
    let Some(pieces) = written.as_array() else {
        return vec![not_a_list(JOB, key, written)];
    };
    for piece in pieces {
        let place = page.span(piece);
        let Some(table) = piece.get_ref().as_table() else {
            messages.push(not_a_list(JOB, place, piece.get_ref()));
            continue;
        };
        let mut form = Form::new(JOB, &KEYS, rules, page, (table, place));
        match job(&mut form) {
            Some(job) => record.jobs.push(job),
            None => unread.job(table),
        }
        messages.append(&mut form.messages);
    }
    messages
}

fn job(form: &mut Form<'_>) -> Option<Job> {
    let about =
        form.text("about", "an item, \"snag 14\", or \"own: fit wheel spats\"").map(|text| JobSubject::parse(&text));
    let (subject, title) = (form.subject(), form.optional_text("title"));
    let (takes, zone) = (log::takes(form), log::zone(form));
    let by = form.find("by").is_some().then(|| form.hold_point("by", "the hold point")).flatten();
    let (after, waits) = (after(form), waits(form));
    let day = |form: &mut Form<'_>, key| form.find(key).is_some().then(|| form.date(key, "the day")).flatten();
    let (done, not_needed) = (day(form, "done"), day(form, "not_needed"));
    if let Some(about) = &about {
        fits_kind(form, about);
    }
    form.messages.is_empty().then_some(())?;
    Some(Job { about: about?, subject, title, takes, after, waits, zone, by, done, not_needed, place: form.place })
}

/// What the jobs of one file are about, in their order and whatever else is wrong with them; nothing of one that does not
/// say.
#[must_use]
pub fn jobs_of(file: &FileText) -> Vec<Option<JobSubject>> {
    let (page, _) = open(file, &mut Sources::default());
    let jobs = page.as_ref().and_then(|page| page.table.get(JOB)?.get_ref().as_array());
    let about = |job: &Spanned<DeValue<'_>>| {
        let about = job.get_ref().as_table()?.get("about")?;
        about.get_ref().as_str().map(JobSubject::parse)
    };
    jobs.into_iter().flatten().map(about).collect()
}

/// A title and a day on which it was done belong to a job of the builder's
/// own: of everything else the record itself shows what it is and whether it is done.
fn fits_kind(form: &mut Form<'_>, about: &JobSubject) {
    let own = match about {
        JobSubject::Own(name) if name.is_empty() => {
            form.wrong("about", "record::form", "say what it is: \"own: fit wheel spats\"".to_owned());
            return;
        }
        JobSubject::Own(_) => true,
        JobSubject::Item(_) | JobSubject::Snag(_) => false,
    };
    for key in ["title", "done", "not_needed"] {
        if !own && form.find(key).is_some() {
            let instead = match about {
                JobSubject::Snag(_) => "log the snag as cleared when it is done",
                _ => "record what shows the item when it is done",
            };
            form.wrong(key, "job::own", format!("only a job of your own has this; {instead}"));
        }
    }
    if !matches!(about, JobSubject::Item(_)) && form.find("of").is_some() {
        form.wrong("of", "job::of", "only an item has records".to_owned());
    }
}

fn after(form: &mut Form<'_>) -> Vec<(JobSubject, Span)> {
    let Some(written) = form.find("after") else { return Vec::new() };
    let single = std::slice::from_ref(written);
    let pieces = written.get_ref().as_array().map_or(single, |array| array.as_ref());
    let named: Option<Vec<(JobSubject, Span)>> = pieces
        .iter()
        .map(|piece| {
            let text = piece.get_ref().as_str().filter(|text| !text.trim().is_empty())?;
            Some((JobSubject::parse(text), form.page.span(piece)))
        })
        .collect();
    if named.is_none() {
        let label = "expected names such as [\"us/marks.height\", \"snag 14\"]".to_owned();
        form.wrong("after", "record::form", label);
    }
    named.unwrap_or_default()
}

fn waits(form: &mut Form<'_>) -> Option<OnOrder> {
    const EXAMPLE: &str = "{ for = \"fuel selector seals\", ordered = 2026-11-02, expected = 2026-12-01 }";
    let written = form.find("waits")?.get_ref();
    let Some(table) = written.as_table() else {
        form.wrong("waits", "record::form", format!("expected {EXAMPLE}, this is {}", in_words(written)));
        return None;
    };
    if let Some(key) = table.keys().find(|key| !WAITS_KEYS.contains(&key.get_ref().as_ref())) {
        let label = nearest(key.get_ref(), WAITS_KEYS).map_or_else(
            || format!("`{}` is not one of its keys; expected {EXAMPLE}", key.get_ref()),
            |near| format!("`{}` is not one of its keys; did you mean `{near}`?", key.get_ref()),
        );
        form.wrong("waits", "record::unknown", label);
        return None;
    }
    let part = table.get("for").and_then(|part| part.get_ref().as_str()).map(str::trim).filter(|part| !part.is_empty());
    let Some(part) = part else {
        form.wrong("waits", "record::form", format!("say what it waits for: {EXAMPLE}"));
        return None;
    };
    let mut days = [None, None];
    for (key, day) in ["ordered", "expected"].into_iter().zip(&mut days) {
        match table.get(key).map(|written| dates::read(written.get_ref())) {
            None => {}
            Some(Ok(range)) => *day = Some(range),
            Some(Err(why)) => {
                form.wrong("waits", "value::date", format!("`{key}`: {why}"));
                return None;
            }
        }
    }
    let [ordered, expected] = days;
    if ordered.zip(expected).is_some_and(|(ordered, expected)| expected.last < ordered.first) {
        form.wrong("waits", "record::dates", "it is expected before it was ordered".to_owned());
        return None;
    }
    Some(OnOrder { part: part.to_owned(), ordered, expected })
}

/// What is said of jobs against the packs and the log, when all files are read.
pub(super) fn check(rules: &Rules, record: &Record, unread: &Unread) -> Vec<Diagnostic> {
    let mut messages = Vec::new();
    let mut seen: BTreeMap<(&JobSubject, Option<&str>), Span> = BTreeMap::new();
    for job in &record.jobs {
        let key = (&job.about, job.subject.as_deref());
        if let Some(before) = seen.insert(key, job.place) {
            let message = Diagnostic::error("job::twice", format!("two entries are about `{}`", job.about));
            messages.push(message.at(job.place, "here again").at(before, "first here").help("write them as one"));
        }
        // A job of one's own is there by its own entry.
        let about = (!matches!(job.about, JobSubject::Own(_))).then_some((&job.about, job.place));
        for (about, place) in about.into_iter().chain(job.after.iter().map(|(about, place)| (about, *place))) {
            messages.extend(unknown(rules, record, about, place).filter(|_| !unread.may_hold(about)));
        }
    }
    messages
}

/// A name that nothing has. An item of a pack that is not in use is none: it may be in use again tomorrow.
fn unknown(rules: &Rules, record: &Record, about: &JobSubject, place: Span) -> Option<Diagnostic> {
    let (kind, known): (&str, Vec<String>) = match about {
        JobSubject::Item(name) => {
            let in_use = |pack: &str| rules.packs.iter().any(|known| known.name == pack);
            if !rules.find_items(name).is_empty() || name.split_once('/').is_some_and(|(pack, _)| !in_use(pack)) {
                return None;
            }
            let short = rules.items.iter().map(|item| item.name.to_string());
            ("item", short.chain(rules.items.iter().map(|item| rules.full_name(item))).collect())
        }
        JobSubject::Snag(number) => {
            if record.log.iter().any(|entry| entry.snag == Some(*number)) {
                return None;
            }
            let numbers = record.log.iter().filter_map(|entry| entry.snag);
            ("snag in the log", numbers.map(|number| JobSubject::Snag(number).to_string()).collect())
        }
        JobSubject::Own(name) => {
            let names = record.jobs.iter().filter_map(|job| match &job.about {
                JobSubject::Own(name) => Some(name.clone()),
                JobSubject::Item(_) | JobSubject::Snag(_) => None,
            });
            if names.clone().any(|known| known == *name) {
                return None;
            }
            ("job of your own", names.map(|name| JobSubject::Own(name).to_string()).collect())
        }
    };
    let help = match (nearest(&about.to_string(), known.iter().map(String::as_str)), about) {
        (Some(near), _) => format!("did you mean `{near}`?"),
        (None, JobSubject::Item(_)) => {
            "`cotterpin audit --full` names every item; a job of your own begins with \"own:\"".to_owned()
        }
        (None, JobSubject::Snag(_)) => "log it first, with `what = \"snag found\"` and its number".to_owned(),
        (None, JobSubject::Own(_)) => "write a [[job]] about it".to_owned(),
    };
    Some(Diagnostic::error("job::unknown", format!("there is no {kind} `{about}`")).at(place, "").help(help))
}

//! One job of a plan in words: what it is, why it is where it is, how long it takes.

use super::cause_sentences;
use super::days;
use super::phrases;
use super::wrap::Page;
use crate::audit::{Lapse, LogLine};
use crate::ir::Id;
use crate::plan::{DoneBy, Job, JobId, JobKind, Part, Plan, TimeSource};
use crate::quantity::Date;
use crate::vocabulary::Verdict;

const INDENT: usize = 4;
const COLUMN: usize = 10;
/// How many records are named before they are counted.
const RECORDS: usize = 6;

/// How many jobs of a circle are named before they are counted.
const CIRCLE: usize = 8;

/// How much is said of a job.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Much {
    /// With what to do: for the jobs of the day.
    All,
    /// Without.
    Short,
}

/// Writes one job with its number in the plan.
pub(super) fn job(page: &mut Page, plan: &Plan, id: JobId, much: Much) {
    let Some(job) = plan.jobs.get(id) else { return };
    page.gap();
    let number = number(plan, id);
    let put_back = matches!(job.done_by, Some(DoneBy::Refitted { .. }));
    let title = if put_back { format!("Put back: {}", job.title) } else { phrases::capital(&job.title) };
    page.hanging(0, INDENT, &format!("Job {number}. {}. {}", kind(job), phrases::sentence(&title)));
    label(page, "job", &named(job));
    if let Some(note) = &job.note {
        label(page, "note", note);
    }
    label(page, "why", &why(plan, job).join(" "));
    label(page, "takes", &takes(job));
    let open = job.kind == JobKind::Finding(Verdict::NotShown);
    if much == Much::All
        && let Some((what, words)) = phrases::check_or_remedy(open, job.check.as_deref(), job.remedy.as_deref())
    {
        label(page, what, words);
    }
    if let Some(caution) = &job.caution {
        label(page, "CAUTION", caution);
    }
    if let Some(command) = command(job) {
        label(page, "then", &command);
    }
}

/// What says of a job that it is done.
fn command(job: &Job) -> Option<String> {
    match (&job.done_by, job.kind) {
        (Some(DoneBy::Refitted { part }), _) => Some(format!("cotterpin log refitted {part}")),
        (Some(DoneBy::SnagCleared { part, snag }), _) => {
            let number = snag.map_or_else(String::new, |number| format!(" --snag {number}"));
            Some(format!("cotterpin log \"snag cleared\" {part}{number}"))
        }
        (None, JobKind::Own) => Some(format!("cotterpin job \"{}\" --done", job.name.strip_prefix("own: ")?))
            .filter(|command| !command.contains(['\\', '$', '`', '!', '%']) && command.matches('"').count() == 2),
        (None, _) => None,
    }
}

/// The number of a job, as people count those that are told.
pub(super) fn number(plan: &Plan, id: JobId) -> usize {
    let told = plan.jobs.iter().take(id.index()).filter(|job| !job.is_unanswered()).count();
    told.saturating_add(1)
}

fn label(page: &mut Page, label: &str, text: &str) {
    page.labelled(INDENT, COLUMN, label, text);
}

fn kind(job: &Job) -> &'static str {
    match job.kind {
        JobKind::Finding(verdict) => phrases::verdict(verdict),
        JobKind::Snag => "SNAG",
        JobKind::Own => "YOUR OWN",
    }
}

/// `us/marks.height, for left and right`.
fn named(job: &Job) -> String {
    match job.subjects.as_slice() {
        [] => job.name.clone(),
        few if few.len() <= RECORDS => format!("{}, for {}", job.name, phrases::listed(few)),
        many => {
            let some: Vec<String> = many.iter().take(RECORDS).cloned().collect();
            let more = many.len().saturating_sub(RECORDS);
            format!("{}, for {} and {more} more", job.name, some.join(", "))
        }
    }
}

/// `45 min, as you wrote`.
fn takes(job: &Job) -> String {
    let time = days::hours(u64::from(job.takes.minutes));
    match job.takes.said {
        TimeSource::Builder => format!("{time}, as you wrote"),
        TimeSource::Pack => format!("{time}, the pack's rough figure"),
        TimeSource::Assumed => format!("{time}, assumed: nobody said how long"),
    }
}

/// Why a job is here, most pressing first, one sentence each.
pub(super) fn why(plan: &Plan, job: &Job) -> Vec<String> {
    let mut said = Vec::new();
    said.extend(job.closes.map(|day| closes(plan, job, day)));
    said.extend(due(plan, job));
    if job.stops_the_visit {
        said.push("While it is open it can end the visit.".to_owned());
    }
    match job.blocks {
        0 => {}
        1 => said.push("1 other job waits for it.".to_owned()),
        many => said.push(format!("{many} other jobs wait for it.")),
    }
    said.extend(job.lapse.as_ref().map(undone));
    if job.after_visit {
        said.push("It stays open for the inspector until the visit.".to_owned());
    }
    said.extend(job.part.as_ref().map(|part| on_order(part, plan.on)));
    if !job.circle.is_empty() {
        said.push(circle(plan, job));
    } else if !job.after.is_empty() {
        said.push(format!("It waits for {}.", others(plan, &job.after)));
    }
    if said.is_empty() {
        said.push("It is open; nobody said by when.".to_owned());
    }
    said
}

/// What had shown it and what undid that, in so few words that the list stays one to follow; `cotterpin why` has the rest.
fn undone(lapse: &Lapse) -> String {
    let brief = |LogLine { event, subject, on, place, .. }: &LogLine| format!("{event} {subject} on {on} ({place})");
    let (shown, until) = (&lapse.shown, brief(&lapse.undone_by));
    if lapse.of_word() {
        let (on, place) = (&shown.on, &shown.place);
        return format!("It had been {} on {on} ({place}), until {until}: to be confirmed again.", shown.event);
    }
    if lapse.of_value() {
        return format!("Recorded as {} ({}), until {until}: to be looked at again.", shown.subject, shown.place);
    }
    format!("The log had shown it, {}, until {until}.", brief(shown))
}

/// What had shown it, and what undid that.
pub(super) fn lapsed(lapse: &Lapse) -> String {
    let through = cause_sentences::through(&lapse.through).map_or_else(String::new, |through| format!("; {through}"));
    let (shown, undone) = (phrases::told(&lapse.shown), phrases::told(&lapse.undone_by));
    format!("What had shown it no longer counts: {shown}, undone by {undone}{through}.")
}

/// `job 2 (us/weight.scales) and job 5 (snag 14)`.
pub(super) fn others(plan: &Plan, jobs: &[JobId]) -> String {
    let named = |id: &JobId| match plan.jobs.get(*id) {
        Some(job) if job.is_unanswered() => format!("an answer about {}", job.name),
        job => format!("job {} ({})", number(plan, *id), job.map_or("", |job| job.name.as_str())),
    };
    let mut names: Vec<String> = jobs.iter().take(RECORDS).map(named).collect();
    match jobs.len().saturating_sub(RECORDS) {
        0 => {}
        more => names.push(format!("{more} more")),
    }
    phrases::listed(&names)
}

fn closes(plan: &Plan, job: &Job, day: Date) -> String {
    let zone = zone(plan, job.zone.as_deref());
    let (day_in_words, from_now) = (days::in_words(day), days::from_now(day, plan.on));
    if day < plan.on {
        format!("{zone} was to be closed on {day_in_words}, {from_now}: open it, or give a new day.")
    } else {
        format!("{zone} closes on {day_in_words}, {from_now}.")
    }
}

fn due(plan: &Plan, job: &Job) -> Option<String> {
    let due = job.due.as_ref()?;
    if job.closes.is_some() && due.day == job.closes {
        return None;
    }
    let by = phrases::hold_point(&plan.titles, &due.by);
    let when = |day: Date| format!("{}, {}", days::in_words(day), days::from_now(day, plan.on));
    Some(match (due.day, &due.then) {
        (Some(day), _) if day < plan.on => format!("It was due {by}, {}.", when(day)),
        (Some(day), _) => format!("Due {by}, {}.", when(day)),
        (None, None) => format!("Due {by}, for which no day is planned."),
        (None, Some((later, day))) => {
            let later = phrases::hold_point(&plan.titles, later);
            format!("Due {by}, for which no day is planned, and so at the latest {later}, {}.", when(*day))
        }
    })
}

/// What a job waits for: a part, a paper, a person.
fn on_order(part: &Part, on: Date) -> String {
    let name = &part.part;
    let ordered = part.ordered.as_ref().map_or_else(String::new, |day| format!(", ordered {day}"));
    match part.expected {
        Some(day) if part.awaited => {
            let (day_in_words, from_now) = (days::in_words(day), days::from_now(day, on));
            format!("It waits for {name}{ordered}: expected by {day_in_words}, {from_now}.")
        }
        Some(day) => {
            format!("It waited for {name}{ordered}: expected by {}. Is the wait over?", days::in_words(day))
        }
        None => format!("It waits for {name}{ordered}; nobody wrote down when that is expected."),
    }
}

/// `In a circle: A waits for B, which waits for A.`
fn circle(plan: &Plan, job: &Job) -> String {
    let name = |id: &JobId| plan.jobs.get(*id).map_or_else(String::new, |job| job.name.clone());
    let mut names: Vec<String> = job.circle.iter().take(CIRCLE).map(name).collect();
    match job.circle.len().saturating_sub(CIRCLE) {
        0 => {}
        more => names.push(format!("{more} more, the last of which")),
    }
    names.extend(job.circle.first().map(name));
    format!("Nothing in this circle can come first: {}. Take one `after` out.", names.join(" waits for "))
}

/// A zone as it is day_in_words of.
pub(super) fn zone(plan: &Plan, zone: Option<&str>) -> String {
    zone.map_or("In no particular place", |zone| phrases::titled(&plan.titles.zones, zone)).to_owned()
}

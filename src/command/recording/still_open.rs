//! What is still to be done, and so comes before a word or a line that says that all is well.

use super::project::Project;
use cotterpin_engine::ir::{Item, PartOrAll};
use cotterpin_engine::plan::open_snags;
use cotterpin_engine::project::{Entry, Job, JobSubject};

/// The zone of what is no part of the aircraft.
const PAPERS: &str = "papers";

/// What is open and comes before a word about an item: snags at the parts it is about; where it is about the whole aircraft,
/// snags and jobs of the builder's own that are due by its hold point. Papers are no part of the aircraft.
pub(super) fn to_do_before(project: &Project, item: &str) -> Vec<String> {
    let rules = &project.rules;
    let items: Vec<&Item> = rules.find_items(item).into_iter().filter_map(|id| rules.item(id)).collect();
    let about = about(project, &items);
    let of_all = about.contains(&&PartOrAll::Everything);
    let by = items.iter().map(|item| item.by).max();
    let point = |name: &str| rules.hold_points.position(|point| point.name == name);
    let is_there = |snag: &Entry| about.iter().filter_map(|about| about.part()).any(|part| is_at(snag, part));
    let is_due = |snag: &Entry| snag.by.as_deref().and_then(point).is_none_or(|point| Some(point) <= by);
    let counts = |snag: &Entry| of_all && is_due(snag) || is_there(snag);
    let snags = told(project, counts);
    let is_before = |job: &&Job| {
        // Nobody knows whether one without a hold point can wait.
        let due = job.by.as_deref().and_then(point).is_none_or(|point| Some(point) <= by);
        of_all && due && job.is_own_and_open(project.on) && job.zone.as_deref() != Some(PAPERS)
    };
    let jobs = project.record.jobs.iter().filter(is_before).map(|job| job.about.to_string());
    snags.into_iter().chain(jobs).collect()
}

/// What was said of the whole aircraft although a job comes before it: the items that were confirmed.
pub(in crate::command) fn said_before(project: &Project, job: &JobSubject) -> Vec<String> {
    let words = project.record.confirmations.iter().filter(|word| word.holds).map(|word| word.item.clone());
    let mut items: Vec<String> = words.filter(|item| to_do_before(project, item).contains(&job.to_string())).collect();
    items.sort();
    items.dedup();
    items
}

/// What the words that items ask for are about.
fn about<'p>(project: &'p Project, items: &[&Item]) -> Vec<&'p PartOrAll> {
    let needs = items.iter().flat_map(|item| project.rules.program.words_of(item.need));
    needs.filter_map(|need| project.rules.program.abouts.get(need.about?)).flatten().collect()
}

/// The snags that are open at a part, or at a part of it.
pub(in crate::command) fn snags_at(project: &Project, part: &str) -> Vec<String> {
    told(project, |snag| is_at(snag, part))
}

/// The line in which a snag that is open was found.
pub(in crate::command) fn snag_found(project: &Project, number: u32) -> Option<&Entry> {
    open_snags(&project.record, project.on).into_values().flatten().find(|snag| snag.snag == Some(number))
}

/// Open snags as they are called, each with its note.
fn told(project: &Project, counts: impl Fn(&Entry) -> bool) -> Vec<String> {
    let one = |(name, found): (String, Vec<&Entry>)| {
        let snag = found.into_iter().find(|snag| counts(snag))?;
        Some(snag.note.as_ref().map_or_else(|| name.clone(), |note| format!("{name} ({note})")))
    };
    open_snags(&project.record, project.on).into_iter().filter_map(one).collect()
}

fn is_at(snag: &Entry, part: &str) -> bool {
    snag.subject.strip_prefix(part).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
}

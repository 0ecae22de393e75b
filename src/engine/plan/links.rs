//! What comes before what: the `after` of items and of the builder's entries.

use super::job::{Job, JobId, JobKind};
use crate::ir::{Arena, IdOf, ItemId, ListId, Rules};
use crate::project::JobSubject;
use std::collections::{BTreeMap, BTreeSet};

pub(super) use crate::project::Job as Said;

/// What the builder said of a job, by place among what is recorded of jobs.
pub(super) type SaidId = IdOf<Said>;

type Jobs = Arena<JobId, Job>;
type Entries<'a> = Arena<SaidId, &'a Said>;

/// Open jobs by what they are about.
struct OpenJobs {
    items: BTreeMap<ItemId, Vec<JobId>>,
    others: BTreeMap<String, JobId>,
}

/// Fills in what each job waits for. What is named and not open is done.
pub(super) fn link(rules: &Rules, entries: &Entries<'_>, jobs: &mut Jobs, said: &[Vec<SaidId>]) {
    let mut known = OpenJobs { items: BTreeMap::new(), others: BTreeMap::new() };
    for (id, job) in jobs.with_ids() {
        if let Some(item) = job.item {
            known.items.entry(item).or_default().push(id);
        }
        if !matches!(job.kind, JobKind::Finding(_)) {
            known.others.insert(job.name.clone(), id);
        }
    }
    let links: Vec<Vec<JobId>> =
        jobs.iter().zip(said).map(|(job, said)| before(rules, entries, jobs, &known, job, said)).collect();
    for (job, links) in jobs.iter_mut().zip(links) {
        job.after = links;
    }
}

fn before(
    rules: &Rules,
    entries: &Entries<'_>,
    jobs: &Jobs,
    known: &OpenJobs,
    job: &Job,
    said: &[SaidId],
) -> Vec<JobId> {
    let mut before: BTreeSet<JobId> = BTreeSet::new();
    let after = job.item.and_then(|id| rules.item(id)).map_or(&[][..], |item| item.after.as_slice());
    before.extend(after.iter().flat_map(|id| of_item(rules, jobs, known, job, *id)));
    for (about, _) in said.iter().filter_map(|id| entries.get(*id)).flat_map(|entry| &entry.after) {
        match about {
            JobSubject::Item(name) => {
                before.extend(rules.find_items(name).into_iter().flat_map(|id| of_item(rules, jobs, known, job, id)));
            }
            JobSubject::Snag(_) | JobSubject::Own(_) => before.extend(known.others.get(&about.to_string())),
        }
    }
    before.into_iter().collect()
}

/// The open jobs of an item; of records both are raised for, those of the same record.
fn of_item(rules: &Rules, jobs: &Jobs, known: &OpenJobs, job: &Job, id: ItemId) -> Vec<JobId> {
    let list = |id: ItemId| -> Option<ListId> { rules.item(id)?.each };
    let alike = job.item.filter(|own| *own != id && list(*own).is_some() && list(*own) == list(id)).is_some();
    let concerns = |other: &JobId| {
        let other = jobs.get(*other).map_or(&[][..], |other| other.subjects.as_slice());
        !alike || job.subjects.is_empty() || other.is_empty() || other.iter().any(|one| job.subjects.contains(one))
    };
    known.items.get(&id).into_iter().flatten().copied().filter(concerns).collect()
}

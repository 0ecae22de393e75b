//! What comes before what: the `after` of items and of the builder's entries.

use super::job::{Job, JobKind};
use crate::ir::{ItemId, ListId, Rules};
use crate::project::{About, Record};
use std::collections::{BTreeMap, BTreeSet};

/// Open jobs by what they are about.
struct Known {
    items: BTreeMap<ItemId, Vec<usize>>,
    others: BTreeMap<String, usize>,
}

/// Fills in what each job waits for. What is named and not open is done.
pub(super) fn link(rules: &Rules, record: &Record, jobs: &mut [Job], said: &[Vec<usize>]) {
    let mut known = Known { items: BTreeMap::new(), others: BTreeMap::new() };
    for (at, job) in jobs.iter().enumerate() {
        if let Some(item) = job.item {
            known.items.entry(item).or_default().push(at);
        }
        if !matches!(job.kind, JobKind::Finding(_)) {
            known.others.insert(job.name.clone(), at);
        }
    }
    let links: Vec<Vec<usize>> =
        jobs.iter().zip(said).map(|(job, said)| before(rules, record, jobs, &known, job, said)).collect();
    for (job, links) in jobs.iter_mut().zip(links) {
        job.after = links;
    }
}

fn before(rules: &Rules, record: &Record, jobs: &[Job], known: &Known, job: &Job, said: &[usize]) -> Vec<usize> {
    let mut before: BTreeSet<usize> = BTreeSet::new();
    let after = job.item.and_then(|id| rules.item(id)).map_or(&[][..], |item| item.after.as_slice());
    before.extend(after.iter().flat_map(|id| of_item(rules, jobs, known, job, *id)));
    for (about, _) in said.iter().filter_map(|at| record.jobs.get(*at)).flat_map(|entry| &entry.after) {
        match about {
            About::Item(name) => {
                before.extend(rules.find_items(name).into_iter().flat_map(|id| of_item(rules, jobs, known, job, id)));
            }
            About::Snag(_) | About::Own(_) => before.extend(known.others.get(&about.to_string())),
        }
    }
    before.into_iter().collect()
}

/// The open jobs of an item; of records both are raised for, those of the same record.
fn of_item(rules: &Rules, jobs: &[Job], known: &Known, job: &Job, id: ItemId) -> Vec<usize> {
    let list = |id: ItemId| -> Option<ListId> { rules.item(id)?.each };
    let alike = job.item.filter(|own| *own != id && list(*own).is_some() && list(*own) == list(id)).is_some();
    let concerns = |at: &usize| {
        let other = jobs.get(*at).map_or(&[][..], |other| other.subjects.as_slice());
        !alike || job.subjects.is_empty() || other.is_empty() || other.iter().any(|one| job.subjects.contains(one))
    };
    known.items.get(&id).into_iter().flatten().copied().filter(concerns).collect()
}

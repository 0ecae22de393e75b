//! Which comes before which: circles, and an order without them. Nothing
//! recurses, so that no chain is too long.

use crate::ir::{Arena, Id};
use std::collections::{BTreeMap, BTreeSet, VecDeque};

/// For each job, the sorted jobs before it.
pub(super) type Before<I> = Arena<I, Vec<I>>;

/// For each job, the jobs after it.
pub(super) fn turned<I: Id>(before: &Before<I>) -> Before<I> {
    let mut after = Arena::filled(Vec::new(), before.len());
    for (job, earlier) in before.with_ids() {
        for one in earlier {
            if let Some(list) = after.get_mut(*one) {
                list.push(job);
            }
        }
    }
    after
}

/// One of each group of jobs that can all be reached from each other, by job (Kosaraju's two passes).
fn groups<I: Id>(before: &Before<I>) -> Arena<I, I> {
    let after = turned(before);
    let mut finished = Vec::new();
    let mut seen: Arena<I, bool> = Arena::filled(false, before.len());
    for start in before.ids() {
        let mut stack = vec![(start, false)];
        while let Some((job, done)) = stack.pop() {
            if done {
                finished.push(job);
            } else if let Some(seen) = seen.get_mut(job).filter(|seen| !**seen) {
                *seen = true;
                stack.push((job, true));
                stack.extend(before.get(job).into_iter().flatten().map(|next| (*next, false)));
            }
        }
    }
    let mut group: Arena<I, Option<I>> = Arena::filled(None, before.len());
    for start in finished.into_iter().rev() {
        let mut stack = vec![start];
        while let Some(job) = stack.pop() {
            if let Some(slot) = group.get_mut(job).filter(|slot| slot.is_none()) {
                *slot = Some(start);
                stack.extend(after.get(job).into_iter().flatten().copied());
            }
        }
    }
    group.with_ids().map(|(job, group)| group.unwrap_or(job)).collect()
}

/// A shortest circle through each job that is in one: the job, what it waits
/// for, and so on.
pub(super) fn circles<I: Id + Ord>(before: &Before<I>) -> BTreeMap<I, Vec<I>> {
    let group = groups(before);
    let mut size: BTreeMap<I, usize> = BTreeMap::new();
    for one in &group {
        let count = size.entry(*one).or_insert(0);
        *count = count.saturating_add(1);
    }
    let itself = |job: I| before.get(job).is_some_and(|earlier| earlier.contains(&job));
    let many = |job: I| group.get(job).and_then(|one| size.get(one)).is_some_and(|count| *count > 1);
    before.ids().filter(|job| itself(*job) || many(*job)).map(|job| (job, circle(before, &group, job))).collect()
}

/// The shortest way from a job back to itself, within its group.
fn circle<I: Id + Ord>(before: &Before<I>, group: &Arena<I, I>, start: I) -> Vec<I> {
    let mut from: BTreeMap<I, I> = BTreeMap::new();
    let mut next = VecDeque::from([start]);
    while let Some(job) = next.pop_front() {
        for earlier in before.get(job).into_iter().flatten().copied() {
            if earlier == start {
                let mut way = vec![job];
                while let Some(back) = way.last().and_then(|last| from.get(last)) {
                    way.push(*back);
                }
                way.reverse();
                return way;
            }
            if group.get(earlier) == group.get(start) && !from.contains_key(&earlier) {
                from.insert(earlier, job);
                next.push_back(earlier);
            }
        }
    }
    Vec::new()
}

/// Every job with all that comes before it placed first. Of the jobs that can
/// be placed, the least by `key`; of those alike in the first part of it, one
/// in the place of the job before, if there is one. What is in a circle, or
/// after one, comes last.
pub(super) fn placed<I: Id + Ord, K: Ord + Clone, Z: Ord + Clone, R: Ord>(
    before: &Before<I>,
    key: impl Fn(I) -> (K, Z, R),
) -> Vec<I> {
    let after = turned(before);
    let mut open: Arena<I, usize> = before.iter().map(Vec::len).collect();
    let mut ready: BTreeMap<(K, Z), BTreeSet<(R, I)>> = BTreeMap::new();
    let mut next: Vec<I> = open.with_ids().filter(|(_, count)| **count == 0).map(|(job, _)| job).collect();
    let mut order = Vec::with_capacity(before.len());
    let mut unplaced: BTreeSet<I> = before.ids().collect();
    let mut here: Option<Z> = None;
    loop {
        for job in next.drain(..) {
            let (first, zone, then) = key(job);
            ready.entry((first, zone)).or_default().insert((then, job));
        }
        let Some(least) = ready.keys().next() else { break };
        let stay = here.map(|zone| (least.0.clone(), zone)).filter(|there| ready.contains_key(there));
        let there = stay.unwrap_or_else(|| least.clone());
        let Some((_, taken)) = ready.get_mut(&there).and_then(BTreeSet::pop_first) else { break };
        if ready.get(&there).is_some_and(BTreeSet::is_empty) {
            ready.remove(&there);
        }
        here = Some(there.1);
        unplaced.remove(&taken);
        order.push(taken);
        for later in after.get(taken).into_iter().flatten() {
            if let Some(count) = open.get_mut(*later) {
                *count = count.saturating_sub(1);
                if *count == 0 {
                    next.push(*later);
                }
            }
        }
    }
    order.extend(unplaced);
    order
}

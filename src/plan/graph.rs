//! Which job comes before which: circles, and an order without them. Jobs are
//! numbers here. Nothing recurses, so that no chain is too long.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

/// For each job, the sorted jobs before it.
pub(super) type Before = Vec<Vec<usize>>;

/// For each job, the jobs after it.
pub(super) fn turned(before: &Before) -> Before {
    let mut after = vec![Vec::new(); before.len()];
    for (job, earlier) in before.iter().enumerate() {
        for one in earlier {
            if let Some(list) = after.get_mut(*one) {
                list.push(job);
            }
        }
    }
    after
}

/// The number of the group of jobs that can all be reached from each other (Kosaraju's two passes).
fn groups(before: &Before) -> Vec<usize> {
    let after = turned(before);
    let mut finished = Vec::new();
    let mut seen = vec![false; before.len()];
    for start in 0..before.len() {
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
    let mut group: Vec<Option<usize>> = vec![None; before.len()];
    for start in finished.into_iter().rev() {
        let mut stack = vec![start];
        while let Some(job) = stack.pop() {
            if let Some(slot) = group.get_mut(job).filter(|slot| slot.is_none()) {
                *slot = Some(start);
                stack.extend(after.get(job).into_iter().flatten().copied());
            }
        }
    }
    group.into_iter().enumerate().map(|(job, group)| group.unwrap_or(job)).collect()
}

/// A shortest circle through each job that is in one: the job, what it waits
/// for, and so on.
pub(super) fn circles(before: &Before) -> BTreeMap<usize, Vec<usize>> {
    let group = groups(before);
    let mut size: BTreeMap<usize, usize> = BTreeMap::new();
    for one in &group {
        let count = size.entry(*one).or_insert(0);
        *count = count.saturating_add(1);
    }
    let itself = |job: usize| before.get(job).is_some_and(|earlier| earlier.contains(&job));
    let many = |job: usize| group.get(job).and_then(|one| size.get(one)).is_some_and(|count| *count > 1);
    (0..before.len()).filter(|job| itself(*job) || many(*job)).map(|job| (job, circle(before, &group, job))).collect()
}

/// The shortest way from a job back to itself, within its group.
fn circle(before: &Before, group: &[usize], start: usize) -> Vec<usize> {
    let mut from: BTreeMap<usize, usize> = BTreeMap::new();
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
pub(super) fn placed<K: Ord + Clone>(before: &Before, key: impl Fn(usize) -> (K, usize, usize)) -> Vec<usize> {
    let after = turned(before);
    let mut open: Vec<usize> = before.iter().map(Vec::len).collect();
    let mut ready: BTreeSet<(K, usize, usize, usize)> = BTreeSet::new();
    let entry = |job: usize| {
        let (first, zone, then) = key(job);
        (first, zone, then, job)
    };
    ready.extend((0..before.len()).filter(|job| open.get(*job) == Some(&0)).map(entry));
    let mut order = Vec::with_capacity(before.len());
    let mut here = None;
    while let Some(least) = ready.first().cloned() {
        let stay = here.and_then(|zone| {
            let from = (least.0.clone(), zone, 0, 0);
            ready.range(from..).next().filter(|one| one.0 == least.0 && one.1 == zone).cloned()
        });
        let taken = stay.unwrap_or(least);
        ready.remove(&taken);
        here = Some(taken.1);
        order.push(taken.3);
        for later in after.get(taken.3).into_iter().flatten() {
            if let Some(count) = open.get_mut(*later) {
                *count = count.saturating_sub(1);
                if *count == 0 {
                    ready.insert(entry(*later));
                }
            }
        }
    }
    let mut there = vec![false; before.len()];
    for job in &order {
        if let Some(slot) = there.get_mut(*job) {
            *slot = true;
        }
    }
    order.extend((0..before.len()).filter(|job| there.get(*job) == Some(&false)));
    order
}

//! What is open, in the order and under the numbers that every report of an audit gives it.

use super::blocks::{self, Group};
use super::phrases;
use crate::audit::{Audit, Finding, FindingKind, LogLine, Wants};
use crate::vocabulary::Verdict;
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// What stands together in a report, in this order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Part {
    /// It can end the visit before it begins.
    EndsTheVisit,
    /// What is recorded contradicts what is asked.
    Contradicted,
    /// It was shown once, and later work undid it.
    Undone,
    /// Parts that were taken off and are not back.
    Off,
    /// Something is recorded or named, and does not show it.
    ToFindOut,
    /// Inspections and tests that the log does not tell of.
    ToInspect,
    /// Words that nobody has given.
    ToConfirm,
    /// Questions that nobody has answered.
    ToAnswer,
    /// Lists that nobody has called whole.
    ToCallWhole,
    /// What stands behind one of these.
    Waiting,
}

/// What has one number.
pub(super) enum Block<'a> {
    /// Findings of one item with one verdict.
    Group(Group<'a>),
    /// Findings that one and the same entry of the log undid.
    Undone(Vec<&'a Finding>),
}

impl<'a> Block<'a> {
    pub(super) fn findings(&self) -> &[&'a Finding] {
        match self {
            Self::Group(group) => &group.findings,
            Self::Undone(findings) => findings,
        }
    }
}

/// Everything unmet or not shown, in its parts; the blocks are numbered through, from 1.
pub(super) fn outline(audit: &Audit) -> Vec<(Part, Vec<Block<'_>>)> {
    let behind = audit.behind();
    let told: Vec<&Finding> = audit.findings.iter().filter(|finding| phrases::is_told(finding)).collect();
    let part = |finding: &&Finding| if behind.waits(finding) { Part::Waiting } else { part(finding) };
    let (undone, others) = undone_together(&told);
    let mut all: BTreeMap<Part, Vec<Block<'_>>> = BTreeMap::new();
    // They come by verdict, hold point, system and zone. Records of one item stay together, where the first of them
    // that is to be seen to would stand.
    let mut groups = blocks::grouped(&others);
    // Of what is not shown, that comes first behind which most others stand.
    let later = |one: &&'_ Finding| if one.verdict == Verdict::NotShown { behind.later(one).len() } else { 0 };
    let rank = |one: &&'_ Finding| (part(one), one.verdict, Reverse(later(one)), one.wants());
    let first = |group: &Group<'_>| group.findings.iter().map(rank).min();
    groups.sort_by_key(|group| first(group));
    for group in groups {
        if let Some((part, ..)) = first(&group) {
            all.entry(part).or_default().push(Block::Group(group));
        }
    }
    all.entry(Part::Undone).or_default().extend(undone.into_iter().map(Block::Undone));
    all.into_iter().filter(|(_, blocks)| !blocks.is_empty()).collect()
}

/// The findings that have this number in the report of an audit, from 1.
#[must_use]
pub fn findings_numbered(audit: &Audit, number: usize) -> Vec<&Finding> {
    let mut blocks = outline(audit).into_iter().flat_map(|(_, blocks)| blocks);
    let block = number.checked_sub(1).and_then(|at| blocks.nth(at));
    block.map_or_else(Vec::new, |block| block.findings().to_vec())
}

fn part(finding: &Finding) -> Part {
    match (finding.verdict, finding.kind, finding.wants()) {
        _ if finding.stops_the_visit => Part::EndsTheVisit,
        (_, FindingKind::Removed, _) => Part::Off,
        (Verdict::Unmet, ..) => Part::Contradicted,
        (.., Wants::Work) => Part::ToFindOut,
        (.., Wants::Entry) => Part::ToInspect,
        (.., Wants::Word) => Part::ToConfirm,
        (.., Wants::Answer) => Part::ToAnswer,
        (.., Wants::WholeList) => Part::ToCallWhole,
    }
}

/// Findings that one and the same entry of the log undid, what undid most first, then the latest; and all others.
fn undone_together<'a>(findings: &[&'a Finding]) -> (Vec<Vec<&'a Finding>>, Vec<&'a Finding>) {
    let entry = |finding: &&'a Finding| {
        let undone = finding.verdict == Verdict::NotShown && !finding.stops_the_visit;
        finding.lapses().next().filter(|_| undone).map(|lapse| &lapse.undone_by)
    };
    let mut by_entry: BTreeMap<&LogLine, Vec<&Finding>> = BTreeMap::new();
    let mut others = Vec::new();
    for finding in findings {
        match entry(finding) {
            Some(entry) => by_entry.entry(entry).or_default().push(finding),
            None => others.push(*finding),
        }
    }
    let mut undone: Vec<(&LogLine, Vec<&Finding>)> = by_entry.into_iter().collect();
    // Days as text are in the order of days.
    undone.sort_by(|(a, of_a), (b, of_b)| of_b.len().cmp(&of_a.len()).then_with(|| b.on.cmp(&a.on)));
    (undone.into_iter().map(|(_, findings)| findings).collect(), others)
}

//! What is open and cannot be seen to yet, because something else that is open comes first.
//!
//! Whoever has not begun a list of papers need not be told of each paper that is not in it, and whoever has no plate
//! not of its lettering. Nothing is settled by that: such a finding stays not shown, and counts as open.

use super::audited::Audit;
use super::cause::{MissingCause, MissingKind};
use super::finding::{Finding, FindingKind};
use super::wants::Wants;
use crate::vocabulary::Verdict;
use std::collections::btree_map::Entry;
use std::collections::{BTreeMap, BTreeSet, VecDeque};

/// A finding by name: an item or a list, and the record.
type Key<'a> = (&'a str, Option<&'a str>);

/// Which open findings stand behind which others.
///
/// A finding stands behind a list of which it asks for a record while there is none, and behind an item that its own
/// comes `after`, while that is open. It does so only if nobody has said or done anything about it that went wrong, and
/// what can end the visit only behind what can end it too. Where items wait for each other in a circle, none stands
/// behind another.
#[derive(Debug, Clone, Default)]
pub struct Behind<'a> {
    /// What stands behind a finding, in the order of the audit.
    of: BTreeMap<Key<'a>, Vec<&'a Finding>>,
    /// What a finding stands behind.
    before: BTreeMap<Key<'a>, Key<'a>>,
}

impl Audit {
    /// Which of its open findings stand behind others.
    #[must_use]
    pub fn behind(&self) -> Behind<'_> {
        Behind::of(&self.findings)
    }
}

impl<'a> Behind<'a> {
    /// Looks at all findings of an audit once.
    pub(super) fn of(findings: &'a [Finding]) -> Self {
        let is_open = |one: &&Finding| matches!(one.verdict, Verdict::Unmet | Verdict::NotShown);
        let open: BTreeMap<Key<'_>, &Finding> = findings.iter().filter(is_open).map(|one| (key(one), one)).collect();
        let mut later: BTreeMap<Key<'_>, Vec<&Finding>> = BTreeMap::new();
        let mut first: VecDeque<Key<'_>> = VecDeque::new();
        for finding in findings.iter().filter(is_open) {
            let before = before(finding, &open);
            if before.is_empty() {
                first.push_back(key(finding));
            }
            before.into_iter().for_each(|one| later.entry(one).or_default().push(finding));
        }
        // From what waits for nothing on, so that a circle is left out. Each stands behind one.
        let mut behind = Self::default();
        while let Some(one) = first.pop_front() {
            for finding in later.remove(&one).unwrap_or_default() {
                if let Entry::Vacant(slot) = behind.before.entry(key(finding)) {
                    slot.insert(one);
                    behind.of.entry(one).or_default().push(finding);
                    first.push_back(key(finding));
                }
            }
        }
        behind
    }

    /// Whether it stands behind another.
    #[must_use]
    pub fn waits(&self, finding: &'a Finding) -> bool {
        self.before.contains_key(&key(finding))
    }

    /// The item or the list that it stands behind, by name.
    #[must_use]
    pub fn comes_before(&self, finding: &'a Finding) -> Option<&'a str> {
        self.before.get(&key(finding)).map(|(name, _)| *name)
    }

    /// What stands behind it itself; not what stands behind that.
    #[must_use]
    pub fn later(&self, finding: &'a Finding) -> &[&'a Finding] {
        self.of.get(&key(finding)).map_or(&[], Vec::as_slice)
    }

    /// How many stand behind others.
    #[must_use]
    pub fn count(&self) -> usize {
        self.before.len()
    }
}

fn key(finding: &Finding) -> Key<'_> {
    (&finding.item, finding.subject.as_deref())
}

/// What is open and comes before it.
fn before<'a>(finding: &'a Finding, open: &BTreeMap<Key<'a>, &'a Finding>) -> Vec<Key<'a>> {
    if finding.verdict != Verdict::NotShown || finding.kind != FindingKind::Item {
        return Vec::new();
    }
    // The word for that list alone would make it met.
    let whole = finding.waits_for.iter().map(|list| (list.as_str(), None));
    let whole: Vec<_> = whole.filter(|list| open.contains_key(list)).collect();
    if !whole.is_empty() || !matches!(finding.wants(), Wants::Entry | Wants::Word | Wants::Answer) {
        return whole;
    }
    let no_record = finding
        .missing
        .iter()
        .filter(|missing| missing.kind == MissingKind::List && missing.why == MissingCause::NoRecords)
        .map(|missing| (missing.fact.as_str(), None));
    let items =
        finding.after.iter().flat_map(|item| [(item.as_str(), None), (item.as_str(), finding.subject.as_deref())]);
    let ends_it_too =
        |one: &Key<'_>| open.get(one).is_some_and(|other| !finding.stops_the_visit || other.stops_the_visit);
    no_record.chain(items).filter(ends_it_too).collect::<BTreeSet<_>>().into_iter().collect()
}

//! What is to be looked at, said or written down, which is no job yet: by hold point and system.

use crate::audit::{Audit, Finding, Wants};
use crate::source::SharedText;
use crate::vocabulary::Verdict;
use serde::{Deserialize, Serialize};

/// A finding that waits for an answer, a person's word, or the word that a list is whole.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Unsaid {
    /// The item, or the list.
    pub item: String,
    /// What is so when it is met; what is asked of the list.
    pub title: SharedText,
    /// While it is open it can end the visit.
    pub stops_the_visit: bool,
    /// So many findings come after it.
    pub behind: usize,
}

/// What a system waits for, due by one hold point.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Besides {
    /// The hold point.
    pub by: SharedText,
    /// The system.
    pub system: String,
    /// What can end the visit first, then as in the audit; what comes after something else that is open is left out.
    pub unsaid: Vec<Unsaid>,
}

/// What is no job yet: first what is due first, of that in the order in which the audit first comes to each system.
pub(super) fn besides(audit: &Audit) -> Vec<Besides> {
    let behind = audit.behind();
    let mut systems: Vec<Besides> = Vec::new();
    for finding in audit.findings.iter().filter(|finding| is_unsaid(finding) && !behind.waits(finding)) {
        let unsaid = Unsaid {
            item: finding.item.clone(),
            title: finding.title.clone(),
            stops_the_visit: finding.stops_the_visit,
            behind: behind.later(finding).len(),
        };
        match systems.iter_mut().find(|one| one.by == finding.by && one.system == finding.system) {
            Some(one) if one.unsaid.iter().any(|known| known.item == unsaid.item) => {}
            Some(one) => one.unsaid.push(unsaid),
            None => {
                let (by, system) = (finding.by.clone(), finding.system.clone());
                systems.push(Besides { by, system, unsaid: vec![unsaid] });
            }
        }
    }
    let place = |by: &SharedText| audit.titles.hold_points.iter().position(|(name, _)| name == by);
    systems.sort_by_key(|one| place(&one.by));
    systems
}

fn is_unsaid(finding: &Finding) -> bool {
    let asked = matches!(finding.wants(), Wants::Answer | Wants::Word | Wants::WholeList);
    finding.verdict == Verdict::NotShown && asked
}

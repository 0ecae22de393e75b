//! Whether the evidence that an item asks for is there, and still shows it.

use super::judge::Judge;
use crate::ir::Item;
use crate::lapse::{EntryStanding, StateOf, of_evidence};
use crate::project::Evidence;

impl<'a> Judge<'a> {
    /// Whether every kind of evidence the item asks for is there.
    pub(super) fn has_evidence(&self, item: &Item, subject: Option<&str>) -> bool {
        item.shows.iter().all(|show| {
            let wanted = self.show_subject(item, show, subject);
            self.record.evidence.iter().any(|evidence| {
                let kind = show
                    .kinds
                    .iter()
                    .filter_map(|at| self.rules.evidence.get(*at))
                    .any(|kind| kind.name == evidence.kind);
                let about = evidence.subject == wanted
                    || evidence.subject.strip_prefix(&wanted).is_some_and(|rest| rest.starts_with('.'));
                evidence.found
                    && kind
                    && about
                    && self.standing_of_evidence(evidence, item, subject) == EntryStanding::Counts
            })
        })
    }

    /// How a file stands as evidence for an item: of what it shows and the item
    /// asks for, the first that has been undone. What it shows besides is no
    /// matter, unless it shows nothing else.
    pub(super) fn standing_of_evidence(
        &self,
        evidence: &Evidence,
        item: &Item,
        subject: Option<&str>,
    ) -> EntryStanding<'a> {
        let mut states = of_evidence(self.rules, self.record, evidence);
        if states.len() > 1 {
            let asked = self.states_of_need(item, self.row_of(item, subject));
            if states.iter().any(|of| asked.contains(of)) {
                states.retain(|of| asked.contains(of));
            }
        }
        let of = |of: Option<StateOf<'_>>| self.logbook.standing_of_moment(evidence.dated, None, of);
        let undone = states.into_iter().map(|state| of(Some(state))).find(|one| *one != EntryStanding::Counts);
        undone.unwrap_or_else(|| of(None))
    }

    /// What evidence must be about: the named part, or the record itself.
    pub(super) fn show_subject(&self, item: &Item, show: &crate::ir::Show, subject: Option<&str>) -> String {
        if !show.subject.is_empty() {
            return show.subject.to_string();
        }
        let list = item.each.and_then(|id| self.rules.list(id)).map_or("", |list| list.name.as_str());
        format!("{list}[{}]", subject.unwrap_or(""))
    }
}

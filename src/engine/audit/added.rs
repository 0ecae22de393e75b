//! Needs that other packs added to an item, each told with its own word.

use super::explain::{Explanation, held};
use super::finding::{AddedNeed, Cited, Clause, Finding};
use crate::ir::{Added, Frame, Item, Rules};
use crate::quantity::Truth;
use crate::vocabulary::Verdict;

/// Adds what other packs asked of an item to its finding. Where only such a
/// need is open, the finding tells of that one first.
pub(super) fn add_needs(
    finding: &mut Finding,
    item: &Item,
    bare: Verdict,
    explanation: &Explanation<'_>,
    frame: Option<Frame>,
) {
    if item.added.is_empty() || bare == Verdict::NotApplicable {
        return;
    }
    let rules = explanation.judge.rules;
    for added in &item.added {
        let mut need = plain(rules, added);
        need.place = explanation.as_data.then(|| rules.sources.place(added.place));
        // Without a row there is no record to look at.
        if let Some(mut frame) = frame {
            need.held = held(explanation.evaluation.truth(added.need, &mut frame));
            need.because = explanation.reasons(Clause::Need, added.need, &mut frame);
        }
        finding.added.push(need);
    }
    let Some(mut frame) = frame else { return };
    let open = |one: &AddedNeed| one.held != held(Truth::True);
    let own_holds = explanation.evaluation.truth(item.own_need, &mut frame) == Truth::True;
    let Some(first) = finding.added.iter().position(open).filter(|_| own_holds) else { return };
    let lead = finding.added.remove(first);
    finding.added_by = Some(lead.pack);
    finding.basis = lead.basis;
    finding.place = lead.place;
    finding.because.retain(|reason| reason.clause == Clause::When);
    finding.because.extend(lead.because);
    finding.sources = lead.sources;
    finding.check = lead.check;
    finding.remedy = lead.remedy;
    // What can hurt still can.
    finding.caution = match (finding.caution.take(), lead.caution) {
        (Some(own), Some(added)) => Some(format!("{own} {added}").into()),
        (own, added) => own.or(added),
    };
}

fn plain(rules: &Rules, added: &Added) -> AddedNeed {
    let sources: Vec<Cited> = added.cites.iter().map(|cite| Cited::of(rules, cite)).collect();
    AddedNeed {
        pack: rules.packs.get(added.pack).map(|pack| pack.name.clone()).unwrap_or_default(),
        basis: added.basis,
        held: held(Truth::Undecided),
        because: Vec::new(),
        sources,
        check: added.check.clone(),
        remedy: added.remedy.clone(),
        caution: added.caution.clone(),
        place: None,
    }
}

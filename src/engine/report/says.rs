//! A finding for programs: its data, and beside it what a person would read.

use super::cause_sentences;
use super::phrases;
use crate::audit::{Clause, Finding, Reason};
use serde::Serialize;

/// A finding as data with its sentences.
#[derive(Serialize)]
pub(super) struct FindingOut<'a> {
    #[serde(flatten)]
    finding: &'a Finding,
    says: Says,
}

/// Sentences, each list in the order of the data it is of.
#[derive(Serialize)]
struct Says {
    title: String,
    because: Vec<String>,
    worked_out: Vec<String>,
    missing: Vec<String>,
    sources: Vec<String>,
    added: Vec<Vec<String>>,
    notes: Vec<String>,
}

impl<'a> FindingOut<'a> {
    pub(super) fn of(finding: &'a Finding) -> Self {
        let says = Says {
            title: phrases::title(finding),
            because: because(&finding.because),
            worked_out: finding.worked_out.iter().map(phrases::seen).collect(),
            missing: finding.missing.iter().map(phrases::missing).collect(),
            sources: finding.sources.iter().map(phrases::cited).collect(),
            added: finding.added.iter().map(|need| because(&need.because)).collect(),
            notes: finding.notes.iter().map(cause_sentences::remark).map(|note| phrases::sentence(&note)).collect(),
        };
        Self { finding, says }
    }
}

/// The deciding parts that saw something, a paragraph for each.
pub(super) fn because(reasons: &[Reason]) -> Vec<String> {
    reasons.iter().flat_map(Reason::leaves).map(reason).collect()
}

fn reason(reason: &Reason) -> String {
    let asks = if reason.clause == Clause::When { "Applies if" } else { "Needed" };
    let mut said = vec![format!("{asks}: {}. {}.", reason.expression, phrases::capital(phrases::held(&reason.held)))];
    said.extend(reason.values.iter().map(|value| format!("{}.", phrases::seen(value))));
    for lapse in &reason.lapses {
        let (shown, undone) = (phrases::told(&lapse.shown), phrases::told(&lapse.undone_by));
        said.push(format!("No longer counts: {shown}; undone by {undone}."));
        said.extend(cause_sentences::through(&lapse.through).map(|through| format!("For {through}.")));
    }
    said.extend(cause_sentences::notes(&reason.notes).map(|note| phrases::sentence(&note)));
    said.join(" ")
}

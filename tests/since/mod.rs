//! Saved audits, and what changed since one.

mod compare;
pub(crate) mod file;
pub(crate) mod project;

use crate::report::made;
use cotterpin_engine::audit::{Audit, Finding, Held, Missing, MissingCause, MissingKind};
use cotterpin_engine::vocabulary::Verdict;

pub(crate) const VERDICTS: [Verdict; 5] =
    [Verdict::Met, Verdict::Unmet, Verdict::NotShown, Verdict::NotApplicable, Verdict::Conceded];

/// An audit with these findings and nothing else of interest.
pub(crate) fn audit(findings: Vec<Finding>) -> Audit {
    Audit { summary: made::summary(&findings), findings, ..made::audit() }
}

/// A finding that saw these values; "not recorded" stands for a fact that is not.
pub(crate) fn finding(item: &str, of: Option<&str>, verdict: Verdict, values: &[(&str, &str)]) -> Finding {
    let place = |value: &str| (value != "not recorded").then_some(("facts.toml", 1));
    let seen = values.iter().map(|(name, value)| made::seen(name, value, place(value))).collect();
    let wanted = values.iter().filter(|(_, value)| *value == "not recorded" && verdict == Verdict::NotShown);
    Finding {
        subject: of.map(str::to_owned),
        because: vec![made::reason("asked", Held::Undecided, seen)],
        missing: wanted
            .map(|(name, _)| Missing {
                kind: MissingKind::Fact,
                fact: (*name).to_owned(),
                ask: "What is it?".into(),
                example: None,
                why: MissingCause::NotRecorded,
            })
            .collect(),
        ..made::plain(item, "It holds", verdict)
    }
}

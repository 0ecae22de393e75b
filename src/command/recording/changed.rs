//! What a write changed: the verdicts before it and after it.

use crate::command::width;
use cotterpin_engine::audit::Audit;
use cotterpin_engine::history::{Saved, compare};
use cotterpin_engine::report;

/// What is other now than it stood before; where nothing can be judged, says so.
pub(in crate::command) fn changed(before: Option<&Saved>, now: Option<&Audit>) -> String {
    match (before, now) {
        (Some(before), Some(audit)) => {
            let open = format!("Open now: {} unmet, {} not shown.\n", audit.summary.unmet, audit.summary.not_shown);
            report::changed_text(&compare(before, audit), width()) + &open
        }
        _ => "What it changed cannot be said: nothing can be judged until what `cotterpin audit` names is mended.\n"
            .to_owned(),
    }
}

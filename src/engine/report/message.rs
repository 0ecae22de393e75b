//! Errors and warnings as data.

use crate::diagnostic::{Diagnostic, Label, Severity};
use crate::source::{Place, Sources};
use serde::{Deserialize, Serialize};

/// A message with its places looked up, so that it needs no text to point into.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Message {
    /// A stable name such as `unit::mismatch`.
    pub code: String,
    /// How much it weighs.
    pub severity: Severity,
    /// What is wrong, in one sentence without a full stop.
    pub message: String,
    /// The places, the first one being the main one.
    pub labels: Vec<LabelledPlace>,
    /// What to do.
    pub help: Option<String>,
}

/// A place with a few words about it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct LabelledPlace {
    /// What this is; may be empty.
    pub text: String,
    /// Where.
    pub place: Place,
}

impl Message {
    /// A message about these texts.
    #[must_use]
    pub fn of(message: &Diagnostic, sources: &Sources) -> Self {
        let place = |label: &Label| LabelledPlace { text: label.text.clone(), place: sources.place(label.span) };
        Self {
            code: message.code.to_owned(),
            severity: message.severity,
            message: message.message.clone(),
            labels: message.labels.iter().map(place).collect(),
            help: message.help.clone(),
        }
    }
}

//! Errors and warnings as data.

use crate::diagnostic::{Diagnostic, Label, Severity};
use crate::source::{Place, Sources, visible};
use serde::{Deserialize, Serialize};
use std::fmt;

/// A longer line is not shown, nor kept: many messages may be about one that is endless.
const LONGEST: usize = 1000;

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
    /// The line it stands in, as it is written; empty where there is no text, or the line has more than 1000 bytes.
    pub written: String,
}

impl Message {
    /// A message about these texts.
    #[must_use]
    pub fn of(message: &Diagnostic, sources: &Sources) -> Self {
        let place = |label: &Label| {
            let place = sources.place(label.span);
            let line = sources.line(label.span);
            let written = if line.len() > LONGEST { String::new() } else { line.to_owned() };
            LabelledPlace { text: label.text.clone(), place, written }
        };
        Self {
            code: message.code.to_owned(),
            severity: message.severity,
            message: message.message.clone(),
            labels: message.labels.iter().map(place).collect(),
            help: message.help.clone(),
        }
    }
}

/// Without colour, whatever it is written to: what is wrong, each place with its line, what to do. Control characters
/// are written out.
impl fmt::Display for Message {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let severity = match self.severity {
            Severity::Error => "error",
            Severity::Warning => "warning",
        };
        write!(f, "{severity}[{}]: {}", self.code, visible(&self.message))?;
        for label in &self.labels {
            write!(f, "\n  at {}:{}", visible(&label.place.to_string()), label.place.column)?;
            if !label.text.is_empty() {
                write!(f, ": {}", visible(&label.text))?;
            }
            if !label.written.is_empty() {
                let (before, width) = label.underlined();
                write!(f, "\n    {}\n    {}{}", visible(&label.written), " ".repeat(before), "^".repeat(width))?;
            }
        }
        match &self.help {
            Some(help) => write!(f, "\n  help: {}", visible(help)),
            None => Ok(()),
        }
    }
}

impl LabelledPlace {
    /// How many characters of its line, as it is shown, come before it, and how many it takes up, at least one.
    fn underlined(&self) -> (usize, usize) {
        let all = self.written.chars().count();
        let before = (self.place.column as usize).saturating_sub(1).min(all);
        let end = if self.place.end_line > self.place.line {
            all
        } else {
            (self.place.end_column as usize).saturating_sub(1)
        };
        let shown = |from: usize, to: usize| {
            let piece: String = self.written.chars().take(to).skip(from).collect();
            visible(&piece).chars().count()
        };
        (shown(0, before), shown(before, end.min(all)).max(1))
    }
}

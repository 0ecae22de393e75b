//! Where the log stands in a project.

use crate::command::edit::HIDDEN;

/// The folder of the log.
pub(super) const LOG: &str = "log";

/// The file that remembers the line written last, so that it can be taken back.
pub(super) fn last() -> String {
    format!("{HIDDEN}/last")
}

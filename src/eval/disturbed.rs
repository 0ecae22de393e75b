//! When something was disturbed last, as far as a person's word needs it.

use crate::quantity::Date;

/// The last day on which something may have been disturbed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct LastDisturbed {
    /// The day.
    pub(crate) day: Date,
    /// The time on it, in seconds, where that is known of all that disturbed it then.
    pub(crate) at: Option<u32>,
}

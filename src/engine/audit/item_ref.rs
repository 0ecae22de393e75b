//! What is spoken of by name.

use serde::{Deserialize, Serialize};

/// An item, or an item and a record.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct ItemRef {
    /// The item.
    pub item: String,
    /// The record it is about.
    pub subject: Option<String>,
}

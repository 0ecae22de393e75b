//! Closed sets of words that mean the same in the text of a pack and in checked rules.

use crate::codec::one_of;
use serde::{Deserialize, Serialize};

/// How the text of a source was seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Mark {
    /// The document itself.
    Read,
    /// As quoted by somebody else.
    Quoted,
    /// Not seen.
    Memory,
    /// No document: what the trade does.
    CommonPractice,
}

/// What kind of word an item is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Basis {
    /// Binding law.
    Law,
    /// The limitations issued to this very aircraft, which bind it as law does.
    Limitations,
    /// The authority's advice.
    Advice,
    /// Handbook practice.
    Handbook,
    /// An association's advice.
    Association,
    /// The kit's own word.
    Kit,
    /// Common practice, published nowhere.
    CommonPractice,
    /// The builder's own.
    Own,
}

/// What one entry of the log says happened.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Event {
    /// Something was done to the part.
    WorkDone,
    /// Somebody looked at it and found it right.
    Inspected,
    /// It was tried and worked.
    Tested,
    /// It was measured.
    Measured,
    /// It was taken off.
    Removed,
    /// It was put back.
    Refitted,
    /// It was set differently.
    Adjusted,
    /// A zone, panel or cowl was opened.
    Opened,
    /// A zone, panel or cowl was closed.
    Closed,
    /// A small job was found to be open.
    SnagFound,
    /// That job was done.
    SnagCleared,
}

impl Event {
    /// All of them.
    pub const ALL: [Self; 11] = [
        Self::WorkDone,
        Self::Inspected,
        Self::Tested,
        Self::Measured,
        Self::Removed,
        Self::Refitted,
        Self::Adjusted,
        Self::Opened,
        Self::Closed,
        Self::SnagFound,
        Self::SnagCleared,
    ];

    /// As builders write it: `inspected`, `work done`.
    ///
    /// ```
    /// use cotterpin_lang::vocabulary::Event;
    /// assert_eq!(Event::WorkDone.words(), "work done");
    /// ```
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::WorkDone => "work done",
            Self::Inspected => "inspected",
            Self::Tested => "tested",
            Self::Measured => "measured",
            Self::Removed => "removed",
            Self::Refitted => "refitted",
            Self::Adjusted => "adjusted",
            Self::Opened => "opened",
            Self::Closed => "closed",
            Self::SnagFound => "snag found",
            Self::SnagCleared => "snag cleared",
        }
    }

    /// Whether what was shown of the part before is no longer shown after it.
    #[must_use]
    pub fn disturbs(self) -> bool {
        match self {
            Self::WorkDone | Self::Removed | Self::Refitted | Self::Adjusted | Self::Opened | Self::SnagCleared => true,
            Self::Inspected | Self::Tested | Self::Measured | Self::Closed | Self::SnagFound => false,
        }
    }
}

/// What became of one item.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// What is recorded contradicts the need.
    Unmet,
    /// Nothing recorded, or nothing precise or recent enough, shows it either way.
    NotShown,
    /// Not met, and somebody entitled gave leave.
    Conceded,
    /// The need holds, with the evidence asked for.
    Met,
    /// The item does not apply.
    NotApplicable,
    /// Another pack, which may, has set the item aside.
    SetAside,
}

impl Basis {
    /// Whether it binds the aircraft: law, and the limitations issued to it.
    ///
    /// ```
    /// use cotterpin_lang::vocabulary::Basis;
    /// assert!(Basis::Limitations.binds() && !Basis::Advice.binds());
    /// ```
    #[must_use]
    pub fn binds(self) -> bool {
        matches!(self, Self::Law | Self::Limitations)
    }
}

impl Verdict {
    /// The word for it: `met`, `unmet`, `not-shown`, `not-applicable`, `conceded`, `set-aside`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Unmet => "unmet",
            Self::NotShown => "not-shown",
            Self::Conceded => "conceded",
            Self::Met => "met",
            Self::NotApplicable => "not-applicable",
            Self::SetAside => "set-aside",
        }
    }
}

one_of! {
    Mark { 0 Read, 1 Quoted, 2 Memory, 3 CommonPractice }
    Basis { 0 Law, 1 Advice, 2 Handbook, 3 Association, 4 Kit, 5 CommonPractice, 6 Own, 7 Limitations }
    Event {
        0 WorkDone, 1 Inspected, 2 Tested, 3 Measured, 4 Removed, 5 Refitted, 6 Adjusted, 7 Opened, 8 Closed, 9 SnagFound,
        10 SnagCleared,
    }
}

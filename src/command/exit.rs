//! What the exit status says.

use cotterpin_engine::audit::Audit;
use std::process::ExitCode;

/// The four exit statuses, the same for every command.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    /// 0: nothing is unmet or not shown.
    Settled,
    /// 1: something is unmet.
    Unmet,
    /// 2: nothing is unmet, something is not shown.
    NotShown,
    /// 3: it could not be done, or nothing was evaluated.
    NotDone,
}

impl Status {
    /// The number the process ends with.
    #[must_use]
    pub fn number(self) -> u8 {
        match self {
            Self::Settled => 0,
            Self::Unmet => 1,
            Self::NotShown => 2,
            Self::NotDone => 3,
        }
    }

    /// What an audit came to.
    #[must_use]
    pub fn of(audit: &Audit) -> Self {
        Self::of_number(audit.exit_status())
    }

    /// The status of that number.
    pub(super) fn of_number(number: u8) -> Self {
        match number {
            0 => Self::Settled,
            1 => Self::Unmet,
            2 => Self::NotShown,
            _ => Self::NotDone,
        }
    }
}

impl From<Status> for ExitCode {
    fn from(status: Status) -> Self {
        Self::from(status.number())
    }
}

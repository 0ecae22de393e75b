//! Conditions and numbers decided over what is recorded: strong Kleene logic
//! and interval arithmetic, exact where that matters.

mod cache;
mod columns;
mod conditions;
mod confirmation;
mod evaluate;
mod facts;
mod fast_path;
mod mean;
mod minimal_set;
mod missing;
mod number;
mod steps;

pub(crate) use cache::{Cache, Caches};
pub use confirmation::ConfirmationOutcome;
pub(crate) use confirmation::ConfirmationRef;
pub use evaluate::Evaluation;
pub use facts::Facts;
pub(crate) use missing::MissingInput;
pub(crate) use steps::{MOST_STEPS, too_long};

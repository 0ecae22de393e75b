//! Conditions and numbers decided over what is recorded: strong Kleene logic
//! and interval arithmetic, exact where that matters.

mod columns;
mod conditions;
mod confirmation;
mod evaluate;
mod facts;
mod mean;
mod minimal_set;
mod missing;
mod number;
mod quick;

pub use confirmation::Said;
pub(crate) use confirmation::Word;
pub use evaluate::Evaluation;
pub use facts::Facts;
pub(crate) use missing::Wanting;

//! What needs both rules and evaluation: worked examples, and needs that pass without a look.

mod always_met;
mod empty;
mod examples;
mod given;

pub(crate) use always_met::warnings;
pub use examples::{ExampleResult, run_examples};
pub use given::record_of;

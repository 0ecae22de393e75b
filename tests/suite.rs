//! Every test of cotterpin, in one binary.

#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::string_slice,
    clippy::print_stdout,
    clippy::arithmetic_side_effects,
    reason = "a test may fail loudly, and says where; the library may not"
)]
#![expect(clippy::manual_try_fold, reason = "in three-valued logic an undecided part does not end the whole")]
#![expect(clippy::disallowed_methods, reason = "a test of the command hands text to a process of its own")]

mod cli;
mod docs;
mod embed;
mod fixtures;
mod fuzz;
mod golden;
#[cfg(unix)]
mod hostile;
#[cfg(unix)]
mod house;
mod invented;
mod lang;
mod lapse;
mod outside;
mod packs;
mod plan;
mod record;
mod report;
mod since;
mod speed;
mod writing;

//! The rooms of cotterpin's engine: rules and a record go in, findings, plans
//! and reports come out. DEVELOPERS.md has the map.
//!
//! This crate is for cotterpin itself and changes with it: whoever embeds the
//! engine uses the crate `cotterpin`, whose surface is small, checked and kept.

pub mod audit;
pub mod eval;
pub mod files;
pub mod history;
pub mod lapse;
pub mod lint;
pub mod plan;
pub mod project;
pub mod report;
pub mod round;
pub mod rules;
pub mod session;
pub mod workers;

pub use cotterpin_lang::{diagnostic, ir, quantity, source, vocabulary};

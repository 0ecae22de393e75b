//! Says what was found: text for a person, JSON for a program. Reads plain
//! data and returns strings; prints nothing and decides nothing.

mod blocks;
mod causes;
mod closing;
mod json;
mod packs;
mod questions;
mod since;
mod since_json;
mod text;
mod why;
mod words;
mod wrap;

pub use json::json;
pub use packs::{PackRow, pack_rows, packs_json, packs_text};
pub use questions::questions_text;
pub use since::since_text;
pub use since_json::since_json;
pub use text::text;
pub use why::why;
pub use wrap::Page;

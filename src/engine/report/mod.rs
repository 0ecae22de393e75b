//! Says what was found: text for a person, JSON, SARIF, JUnit XML and CSV for programs. Reads plain
//! data and returns strings; prints nothing and decides nothing.

mod blocks;
mod cause_sentences;
mod close_up;
mod closing;
mod csv;
mod days;
mod job;
mod json;
mod junit;
mod lines;
mod next;
mod next_json;
mod pack_page;
mod pack_page_html;
mod pack_page_text;
mod packs;
mod phrases;
mod questions;
mod redact;
mod sarif;
mod since;
mod since_causes;
mod since_json;
mod text;
mod whole_lists;
mod why;
mod wrap;

#[cfg(feature = "command")]
pub use cause_sentences::{missing_cause as why_missing, value};
pub use close_up::{close_up_json, close_up_text};
pub use csv::csv;
pub use json::json;
pub use junit::junit;
pub use next::next_text;
pub use next_json::next_json;
pub use pack_page::{Line, PackPage, Part, pack_page};
pub use pack_page_html::pack_page_html;
pub use pack_page_text::pack_page_text;
pub use packs::{ByBasis, PackRow, RestsOn, pack_rows, packs_json, packs_text};
pub use phrases::named;
pub use questions::questions_text;
pub use redact::StandIns;
pub use sarif::sarif;
pub use since::since_text;
pub use since_json::since_json;
pub use text::text;
pub use why::why;
pub use wrap::Page;

//! Says what was found: text for a person, JSON for a program. Reads plain
//! data and returns strings; prints nothing and decides nothing.

mod blocks;
mod causes;
mod close_up;
mod closing;
mod days;
mod job;
mod json;
mod leaf;
mod leaf_html;
mod leaf_text;
mod next;
mod next_json;
mod packs;
mod questions;
mod sentences;
mod since;
mod since_json;
mod text;
mod why;
mod words;
mod wrap;

pub use close_up::{close_up_json, close_up_text};
pub use json::json;
pub use leaf::{Leaf, Line, Part, pack_leaf};
pub use leaf_html::leaf_html;
pub use leaf_text::leaf_text;
pub use next::next_text;
pub use next_json::next_json;
pub use packs::{ByBasis, PackRow, RestsOn, pack_rows, packs_json, packs_text};
pub use questions::questions_text;
pub(crate) use sentences::value;
pub use since::since_text;
pub use since_json::since_json;
pub use text::text;
pub use why::why;
pub use wrap::Page;

//! Packs to checked rules: read, resolve names, check types, layer, lower.
//!
//! In: the texts of packs. Out: [`Rules`], which hold nothing of the tree.
//! This room reads packs from disk; it never sees a project.

mod check;
mod examples;
mod facts;
mod forms;
mod idle;
mod item;
mod items;
mod jobs;
mod kept;
mod layers;
mod load;
mod lower;
mod model;
mod pack;
mod prepared;
mod scope;
mod sign;
mod tables;
mod words;

pub use item::{Added, Aside, Bound, Example, Item, Let, Show};
pub(crate) use kept::KEPT;
pub use load::{load_packs, load_packs_to_audit};
pub use model::{
    Basis, Choice, Cite, Disturbance, Document, Event, Fact, FactId, ItemId, Kind, Limits, List, ListId, Mark, Pack,
    Part, Role, Rules, Titled,
};
pub use pack::{PackText, built_in, built_in_names, built_in_trees, read_pack};
pub use prepared::prepared_packs;
pub use words::{Words, declared_words};

//! Packs to checked rules: read, resolve names, check types, layer, lower.

mod model;

pub use model::{
    Basis, Choice, Cite, Confirm, Disturbance, Document, Example, Fact, FactId, Item, ItemId, Kind, Let, Limits, List,
    ListId, Mark, Pack, Rules, Show, Titled,
};

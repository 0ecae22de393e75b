//! What the outside checks share.

use crate::fixtures::projects::read_facts;
use cotterpin_engine::audit::Audit;
use cotterpin_engine::ir::{FactId, ListId, Rules};

/// An item of the pack `mine`; its need is all that differs.
pub(super) fn item(name: &str, need: &str) -> String {
    format!("item {name} \"A need\"\n  need {need}\n  by visit basis own cite common practice\n")
}

/// The words every pack of these tests needs.
pub(super) const HEAD: &str = "hold-points visit \"Before the visit\"\nsystems a \"A\"\n";

/// TOML facts, read as the builder's file and audited on a day.
pub(super) fn audited_toml(rules: &Rules, toml: &str, on: &str) -> Audit {
    read_facts(rules, toml).audited(on)
}

pub(super) fn fact(rules: &Rules, name: &str) -> FactId {
    *rules.fact_by_name.get(name).unwrap_or_else(|| panic!("no fact {name}"))
}

pub(super) fn list(rules: &Rules, name: &str) -> ListId {
    *rules.list_by_name.get(name).unwrap_or_else(|| panic!("no list {name}"))
}

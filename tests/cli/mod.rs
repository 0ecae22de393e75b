//! The command as a person runs it.

pub(crate) mod bad_packs;
pub(crate) mod bad_projects;
mod demo;
pub(crate) mod many;
pub(crate) mod next;
pub(crate) mod not_read;
mod shells;
pub(crate) mod usage;

pub(crate) use crate::fixtures::folder::{Ran, Run};

/// A small pack of a test's own, so that no built-in pack's wording matters.
pub(crate) const MANIFEST: &str = r#"name = "shed"
title = "A pack for tests"
edition = "2026-11-25"
authority = "none: invented for tests"
scope = "one spar"
uses = []
not_covered = ["everything else"]
"#;

/// Its words and facts; `ITEMS` follow.
pub(crate) const WORDS: &str = r#"hold-points
  visit "Before the inspector's visit"
systems
  spar "Spar"
evidence
  photo "A photograph"
fact spar.span : length, above 0 in
  ask "How long is the spar?" such as "96 in"
fact spar.strain : voltage
  ask "What does the strain gauge read?" such as "2 V"
fact spar.tested : date
  ask "When was the spar tested?" such as "2026-10-04"
fact spar.ratio : number
  ask "What is the ratio?" such as "2"
"#;

/// One item that is whole.
pub(crate) const ITEM: &str = r#"item spar.long
  "The spar is long enough"
  need spar.span >= 90 in
  show photo of spar
  by visit
  basis common practice
  cite common practice
  try "long" spar.span = 96 in, photo of spar => met
  try "short" spar.span = 80 in => unmet
  try "not measured" => not-shown
"#;

/// A project that uses the pack; the facts stand in `facts.toml`.
pub(crate) fn project(name: &str, facts: impl AsRef<[u8]>) -> Run {
    with_pack(name, &format!("{WORDS}{ITEM}")).file("facts.toml", facts)
}

/// A project whose pack has these rules.
pub(crate) fn with_pack(name: &str, rules: &str) -> Run {
    Run::new(name)
        .file("project.toml", "name = \"Test bench\"\npacks = [\"./shed\"]\n")
        .file("shed/pack.toml", MANIFEST)
        .file("shed/rules.checklist", rules)
}

/// The line of `rules.checklist` on which `part` stands.
pub(crate) fn line_of(rules: &str, part: &str) -> String {
    let before = rules.find(part).unwrap_or_else(|| panic!("{part} is not in the rules"));
    format!("rules.checklist:{}:", rules[..before].matches('\n').count() + 1)
}

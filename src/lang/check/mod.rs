//! Syntax trees to rules: names resolved, types known, packs layered, and
//! everything lowered in the same pass.

mod checker;
mod codec;
mod derived_lists;
mod examples;
mod facts;
mod items;
mod jobs;
mod layers;
mod lower;
mod roles;
mod scope;
mod shared_names;
mod sign;
mod tables;

pub(crate) use checker::Checker;

//! Checks against what others published: standards, books, general libraries.

mod agreement;
mod boundaries;
mod handbook;
mod law;
mod made_up;
mod oracle;
mod phrases;
mod properties;
mod setup;
mod sqlite;
mod weighing;
mod world;

pub(crate) use agreement::random_audits;

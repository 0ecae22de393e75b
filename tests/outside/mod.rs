//! Checks against what others published: standards, books, general libraries.

mod agreement;
mod boundaries;
mod dates;
mod handbook;
mod intervals;
mod kleene;
mod law;
mod made_up;
mod oracle;
mod phrases;
mod properties;
mod quantities;
mod setup;
mod sqlite;
mod units;
mod weighing;
mod world;

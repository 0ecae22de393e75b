//! Checks against what others published: standards, books, general libraries.

mod boundaries;
mod dates;
mod intervals;
mod kleene;
mod quantities;
mod setup;
mod sqlite;
mod units;

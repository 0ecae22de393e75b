//! Every test of cotterpin, in one binary.

mod cli;
mod docs;
mod lang;
mod outside;
mod packs;
mod record;
mod report;
mod since;
mod speed;

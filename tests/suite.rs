//! Every test of cotterpin, in one binary.

mod cli;
mod docs;
mod lang;
mod lapse;
mod outside;
mod packs;
mod record;
mod report;
mod speed;

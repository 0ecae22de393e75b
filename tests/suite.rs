//! Every test of cotterpin, in one binary.

mod cli;
mod docs;
#[cfg(unix)]
mod keep;
mod lang;
mod outside;
mod packs;
mod record;
mod report;
mod speed;

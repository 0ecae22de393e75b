//! One test, at least, named after each sentence of what the language must mean.
//! Dates, lengths and names in these packs are invented; a value that rests on
//! a publication names it beside the check.

mod basis;
mod behind;
mod facts;
mod jobs;
mod layers;
mod letters;
mod lists;
mod measures;
mod none_until;
mod off;
mod persons;
mod put_back;
mod reach;
mod reasons;
mod smallest;
mod sources;
mod state;
mod tables;
mod time;
mod truth;
mod units;
mod verdicts;
mod whole;
mod wording;
mod words;

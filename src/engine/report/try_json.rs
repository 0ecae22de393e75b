//! How the worked examples of a pack came out, for programs, as `schemas/try.json` says.

use super::document::document;
use super::message::Message;
use super::packs::pack_rows;
use super::says;
use super::schemas::TRY;
use crate::audit::Reason;
use crate::ir::{Pack, Rules};
use crate::lint::ExampleResult;
use crate::source::Place;
use crate::vocabulary::Verdict;
use serde::Serialize;

#[derive(Serialize)]
struct TryOut<'a> {
    packs: Vec<&'a Pack>,
    pack: &'a str,
    examples: Vec<ExampleOut<'a>>,
    as_written: usize,
    untried: Vec<String>,
}

#[derive(Serialize)]
struct ExampleOut<'a> {
    item: &'a str,
    example: &'a str,
    expected: Verdict,
    verdict: Verdict,
    because: &'a [Reason],
    place: Place,
    says: ExampleSays,
}

#[derive(Serialize)]
struct ExampleSays {
    because: Vec<String>,
}

/// The examples of the pack of that name as pretty JSON with a line end.
#[must_use]
pub fn try_json(rules: &Rules, pack: &str, results: &[ExampleResult], messages: &[Message]) -> String {
    let rows = pack_rows(rules);
    let out = TryOut {
        packs: rules.packs.iter().collect(),
        pack,
        examples: results.iter().map(|result| example(rules, result)).collect(),
        as_written: results.iter().filter(|result| result.got == result.expected).count(),
        untried: rows.into_iter().filter(|row| row.name == pack).flat_map(|row| row.untried).collect(),
    };
    document(&TRY, &out, messages)
}

fn example<'a>(rules: &Rules, result: &'a ExampleResult) -> ExampleOut<'a> {
    ExampleOut {
        item: &result.item,
        example: &result.example,
        expected: result.expected,
        verdict: result.got,
        because: &result.because,
        place: rules.sources.place(result.place),
        says: ExampleSays { because: says::because(&result.because) },
    }
}

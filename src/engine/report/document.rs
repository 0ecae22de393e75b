//! What every output for programs has in common: the schema it keeps to, the
//! engine that made it, and what else was said.
//!
//! The data is serialised as it is, so it can be read back from the output;
//! what a person would read stands beside it under `says` and is left out then.

use super::message::Message;
use super::schemas::Schema;
use crate::history::ENGINE;
use crate::source::visible_but;
use serde::Serialize;
use std::borrow::Cow;

#[derive(Serialize)]
struct Document<'a, T> {
    schema: String,
    engine: Engine,
    #[serde(flatten)]
    body: &'a T,
    messages: &'a [Message],
}

#[derive(Serialize)]
struct Engine {
    name: &'static str,
    version: &'static str,
}

/// The whole output as pretty JSON with a line end. Plain data always
/// serialises; should some not, the reader gets an object that says so and nothing else.
pub(super) fn document(schema: &Schema, body: &impl Serialize, messages: &[Message]) -> String {
    let engine = Engine { name: "cotterpin", version: ENGINE };
    let whole = Document { schema: schema.full_name(), engine, body, messages };
    let mut text = serde_json::to_string_pretty(&whole)
        .unwrap_or_else(|problem| serde_json::json!({ "error": problem.to_string() }).to_string());
    text.push('\n');
    escaped(text)
}

/// JSON in which no character moves a terminal's cursor, turns text round or shows nothing: all of them stand within
/// texts, where they are escaped. It is read as the same data.
fn escaped(json: String) -> String {
    let shown = visible_but(&json, |letter, out| {
        match letter {
            '\n' => out.push('\n'),
            _ => out.extend(letter.encode_utf16(&mut [0; 2]).iter().map(|unit| format!("\\u{unit:04x}"))),
        }
        true
    });
    match shown {
        Cow::Borrowed(_) => json,
        Cow::Owned(shown) => shown,
    }
}

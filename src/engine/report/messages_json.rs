//! Errors and warnings for programs, as `schemas/messages.json` says.

use super::document::document;
use super::message::Message;
use super::schemas::MESSAGES;
use serde::Serialize;

#[derive(Serialize)]
struct Nothing {}

/// Messages where there is nothing else to give.
#[must_use]
pub fn messages_json(messages: &[Message]) -> String {
    document(&MESSAGES, &Nothing {}, messages)
}

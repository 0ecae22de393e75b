//! The open questions for programs, as `schemas/questions.json` says.

use super::document::document;
use super::message::Message;
use super::questions;
use super::schemas::QUESTIONS;
use crate::ir::{Fact, Kind, List, Named, Pack, Rules};
use crate::project::Record;
use crate::source::Place;
use serde::Serialize;

#[derive(Serialize)]
struct QuestionsOut<'a> {
    project: &'a str,
    packs: Vec<&'a Pack>,
    system: Option<&'a str>,
    questions: Vec<QuestionOut<'a>>,
    lists: Vec<ListOut<'a>>,
}

/// A question and what may be answered.
#[derive(Serialize)]
struct QuestionOut<'a> {
    fact: &'a str,
    ask: &'a str,
    example: Option<&'a str>,
    answer: AnswerOut<'a>,
    place: Place,
    says: QuestionSays,
}

#[derive(Serialize)]
struct AnswerOut<'a> {
    kind: &'static str,
    /// The words there are, of a choice.
    words: Vec<&'a str>,
    /// What a name is of.
    named: Option<Named>,
    /// What kind of quantity a number is.
    dimension: Option<String>,
    limits: Option<&'a str>,
    may_be_none: bool,
}

#[derive(Serialize)]
struct QuestionSays {
    answer: String,
}

/// A list of which nothing is recorded, with the questions about one record.
#[derive(Serialize)]
struct ListOut<'a> {
    list: &'a str,
    ask: &'a str,
    fields: Vec<QuestionOut<'a>>,
    place: Place,
}

/// Open questions in the order of the packs. `system` keeps those whose name begins with that word.
#[must_use]
pub fn questions_json(
    (project, rules, record): (&str, &Rules, &Record),
    system: Option<&str>,
    messages: &[Message],
) -> String {
    let out = QuestionsOut {
        project,
        packs: rules.packs.iter().collect(),
        system,
        questions: questions::open_facts(rules, record, system).map(|fact| question(rules, fact)).collect(),
        lists: questions::open_lists(rules, record, system).map(|list| list_out(rules, list)).collect(),
    };
    document(&QUESTIONS, &out, messages)
}

fn list_out<'a>(rules: &'a Rules, list: &'a List) -> ListOut<'a> {
    ListOut {
        list: &list.name,
        ask: &list.ask,
        fields: list.fields.iter().map(|field| question(rules, field)).collect(),
        place: rules.sources.place(list.place),
    }
}

fn question<'a>(rules: &'a Rules, fact: &'a Fact) -> QuestionOut<'a> {
    let (kind, named, dimension) = match fact.kind {
        Kind::YesNo => ("yes-no", None, None),
        Kind::Choice(_) => ("choice", None, None),
        Kind::Text => ("text", None, None),
        Kind::Named(named) => ("named", Some(named), None),
        Kind::Count => ("count", None, None),
        Kind::Number(dimension) => ("number", None, Some(dimension.to_string())),
        Kind::Date => ("date", None, None),
    };
    QuestionOut {
        fact: &fact.name,
        ask: &fact.ask,
        example: fact.example.as_deref(),
        answer: AnswerOut {
            kind,
            words: rules.words(fact.kind),
            named,
            dimension,
            limits: fact.limits.as_ref().map(|limits| limits.text.as_str()),
            may_be_none: fact.optional,
        },
        place: rules.sources.place(fact.place),
        says: QuestionSays { answer: questions::hint(rules, fact) },
    }
}

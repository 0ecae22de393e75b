//! What changed since an earlier audit, for programs, as `schemas/since.json` says.

use super::document::document;
use super::message::Message;
use super::schemas::SINCE;
use super::since_causes;
use crate::history::{Cause, Change, Changes, Class, Content, PackChange, Side};
use crate::ir::Pack;
use crate::vocabulary::Verdict;
use serde::Serialize;

/// What changed, key for key, with counts and with sentences beside each cause.
#[derive(Serialize)]
struct ChangesOut<'a> {
    saved: &'a str,
    was: &'a Side,
    now: &'a Side,
    packs: &'a [Pack],
    changed_packs: &'a [PackChange],
    counts: Counts,
    changes: Vec<ChangeOut<'a>>,
    unchanged: usize,
    reminder: &'static str,
}

#[derive(Serialize)]
struct Counts {
    worse: usize,
    better: usize,
    otherwise: usize,
    new: usize,
    gone: usize,
    other_values: usize,
    unchanged: usize,
}

#[derive(Serialize)]
struct ChangeOut<'a> {
    class: Class,
    item: &'a str,
    subject: Option<&'a str>,
    title: &'a str,
    by: &'a str,
    stops_the_visit: bool,
    was: Option<Verdict>,
    now: Option<Verdict>,
    because: Vec<CauseOut<'a>>,
}

#[derive(Serialize)]
struct CauseOut<'a> {
    #[serde(flatten)]
    cause: &'a Cause,
    says: CauseSays,
}

#[derive(Serialize)]
struct CauseSays {
    was: Option<String>,
    now: Option<String>,
}

/// The comparison as pretty JSON with a line end. `kept` says where the earlier audit was found.
#[must_use]
pub fn since_json(changes: &Changes, kept: &str, messages: &[Message]) -> String {
    let Changes { was, now, packs, packs_now, findings, unchanged, reminder } = changes;
    let count = |class| changes.count(class);
    let out = ChangesOut {
        saved: kept,
        was,
        now,
        packs: packs_now,
        changed_packs: packs,
        counts: Counts {
            worse: count(Class::Worse),
            better: count(Class::Better),
            otherwise: count(Class::Otherwise),
            new: count(Class::New),
            gone: count(Class::Gone),
            other_values: count(Class::Stirred),
            unchanged: count(Class::Unchanged),
        },
        changes: findings.iter().map(change).collect(),
        unchanged: *unchanged,
        reminder,
    };
    document(&SINCE, &out, messages)
}

fn change(change: &Change) -> ChangeOut<'_> {
    let Change { class, item, subject, title, by, stops_the_visit, was, now, because } = change;
    ChangeOut {
        class: *class,
        item,
        subject: subject.as_deref(),
        title,
        by,
        stops_the_visit: *stops_the_visit,
        was: *was,
        now: *now,
        because: because.iter().map(cause).collect(),
    }
}

fn cause(cause: &Cause) -> CauseOut<'_> {
    let side = |side: &Option<Content>| side.as_ref().map(since_causes::content);
    CauseOut { cause, says: CauseSays { was: side(&cause.was), now: side(&cause.now) } }
}

//! What changed since an earlier audit, for programs, schema `cotterpin-since/1`.
//!
//! Keys may be added under the same schema name; none is removed or changes
//! its meaning without a new one. `null` stands where there is nothing.
//!
//! | key | what it holds |
//! |---|---|
//! | `schema` | `cotterpin-since/1` |
//! | `saved` | where the earlier audit was found |
//! | `was`, `now` | the two audits: `project`, `on`, `visit`, `by`, `engine` |
//! | `counts` | findings by class: `worse`, `better`, `otherwise`, `new`, `gone`, `other-values`, `unchanged` |
//! | `packs[]` | packs that are not what they were: `name`, `was` and `now` (editions, or null) |
//! | `findings[]` | `class`, `item`, `subject`, `title`, `by`, `stops_the_visit`, `was` and `now` (verdicts, or null), `because[]` |
//! | `because[]` | `kind`, `name`, `was`, `now` |
//! | `reminder` | who has the final say; always there |
//!
//! Kinds of `because`: `value`, `recorded`, `no-longer-recorded`, `missing`,
//! `missing-no-more`, `lapsed`, `lapsed-no-more`, `concession`, `set-aside`,
//! `worked-out`, `seen-now`, `seen-then`, `edition`, `asked`, `record`, `item`,
//! `looked-at`, `day`, `engine`, `note`.

use super::json::pretty;
use super::since_causes;
use crate::history::{Cause, Change, Changes, Class, Content, Side};
use crate::vocabulary::Verdict;
use serde::Serialize;
use std::collections::BTreeMap;

const SCHEMA: &str = "cotterpin-since/1";

#[derive(Serialize)]
struct Out<'a> {
    schema: &'static str,
    saved: &'a str,
    was: SideOut<'a>,
    now: SideOut<'a>,
    counts: BTreeMap<&'static str, usize>,
    packs: Vec<PackOut<'a>>,
    findings: Vec<ChangeOut<'a>>,
    reminder: &'static str,
}

#[derive(Serialize)]
struct SideOut<'a> {
    project: &'a str,
    on: &'a str,
    visit: Option<&'a str>,
    by: Option<&'a str>,
    engine: &'a str,
}

#[derive(Serialize)]
struct PackOut<'a> {
    name: &'a str,
    was: Option<&'a str>,
    now: Option<&'a str>,
}

#[derive(Serialize)]
struct ChangeOut<'a> {
    class: &'static str,
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
    kind: &'static str,
    name: &'a str,
    was: Option<String>,
    now: Option<String>,
}

/// The comparison as pretty JSON with a line end; see the tables above.
/// `kept` says where the earlier audit was found.
#[must_use]
pub fn since_json(changes: &Changes, kept: &str) -> String {
    let classes =
        [Class::Worse, Class::Better, Class::Otherwise, Class::New, Class::Gone, Class::Stirred, Class::Unchanged];
    let out = Out {
        schema: SCHEMA,
        saved: kept,
        was: side(&changes.was),
        now: side(&changes.now),
        counts: classes.into_iter().map(|class| (class.word(), changes.count(class))).collect(),
        packs: changes
            .packs
            .iter()
            .map(|pack| PackOut { name: &pack.name, was: pack.was.as_deref(), now: pack.now.as_deref() })
            .collect(),
        findings: changes.findings.iter().map(change).collect(),
        reminder: changes.reminder,
    };
    pretty(SCHEMA, &out)
}

fn side(side: &Side) -> SideOut<'_> {
    SideOut {
        project: &side.project,
        on: &side.on,
        visit: side.visit.as_deref(),
        by: side.by.as_deref(),
        engine: &side.engine,
    }
}

fn change(change: &Change) -> ChangeOut<'_> {
    ChangeOut {
        class: change.class.word(),
        item: &change.item,
        subject: change.subject.as_deref(),
        title: &change.title,
        by: &change.by,
        stops_the_visit: change.stops_the_visit,
        was: change.was,
        now: change.now,
        because: change.because.iter().map(cause).collect(),
    }
}

fn cause(cause: &Cause) -> CauseOut<'_> {
    let side = |side: &Option<Content>| side.as_ref().map(since_causes::content);
    CauseOut { kind: cause.kind.word(), name: &cause.name, was: side(&cause.was), now: side(&cause.now) }
}

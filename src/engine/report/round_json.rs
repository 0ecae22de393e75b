//! Many projects for programs, schema `cotterpin-round/1`.
//!
//! | key | what it holds |
//! |---|---|
//! | `schema` | `cotterpin-round/1` |
//! | `on` | the audit date, ISO 8601 |
//! | `by` | what was looked at, as `--by` is written, or null for all |
//! | `projects[]` | see below; those not judged first, then the nearest visit first, those without one last |
//! | `items[]` | every item that is open in a project: `item`, `title`, `stops_the_visit`, `projects` (in how many), `unmet[]` and `not_shown[]`: places in `projects` from 0; that of most projects first |
//! | `packs[]` | packs and editions used: `name`, `edition`, `projects` (how many use it) |
//! | `summary` | counts of all projects together, as that of one |
//! | `judged`, `not_judged` | how many projects were judged; how many were not |
//! | `remarks[]` | sentences about what was looked into |
//! | `reminder` | who has the final say; always there |
//!
//! | key of a project | what it holds |
//! |---|---|
//! | `folder` | its folder, from the one that was looked into, with `/` |
//! | `name` | its name, or null where it could not be read |
//! | `judged` | whether it was; where it was not, `visit` to `warnings` are null |
//! | `visit` | its planned visit, or null |
//! | `summary` | counts of findings: `met`, `unmet`, `not_shown`, `not_applicable`, `conceded`, `set_aside` |
//! | `can_end_the_visit` | how many open findings can |
//! | `warnings` | how many things are probably not as meant |
//! | `not_judged` | null, or why it was not judged, or what of it was not: `errors` (how many), `code` and `first` of the first, and its `place`: `file`, `line`, `column`, or null |

use crate::audit::Summary;
use crate::round::{Fault, Line, OpenItem, Round};
use crate::source::Place;
use serde::Serialize;

/// The schema's name and version.
const SCHEMA: &str = "cotterpin-round/1";

#[derive(Serialize)]
struct RoundOut<'a> {
    schema: &'static str,
    on: &'a str,
    by: Option<&'a str>,
    projects: Vec<ProjectOut<'a>>,
    items: Vec<ItemOut<'a>>,
    packs: Vec<PackOut<'a>>,
    summary: SummaryOut,
    judged: usize,
    not_judged: usize,
    remarks: &'a [String],
    reminder: &'static str,
}

#[derive(Serialize)]
struct ProjectOut<'a> {
    folder: &'a str,
    name: Option<&'a str>,
    judged: bool,
    visit: Option<&'a str>,
    summary: Option<SummaryOut>,
    can_end_the_visit: Option<usize>,
    warnings: Option<usize>,
    not_judged: Option<FaultOut<'a>>,
}

#[derive(Serialize)]
struct FaultOut<'a> {
    errors: usize,
    code: &'a str,
    first: &'a str,
    place: Option<&'a Place>,
}

/// The place of a project in `projects`, from 0.
#[derive(Serialize)]
struct PlaceOut(usize);

#[derive(Serialize)]
struct ItemOut<'a> {
    item: &'a str,
    title: &'a str,
    stops_the_visit: bool,
    projects: usize,
    unmet: Vec<PlaceOut>,
    not_shown: Vec<PlaceOut>,
}

#[derive(Serialize)]
struct PackOut<'a> {
    name: &'a str,
    edition: &'a str,
    projects: usize,
}

#[derive(Serialize)]
struct SummaryOut {
    met: usize,
    unmet: usize,
    not_shown: usize,
    not_applicable: usize,
    conceded: usize,
    set_aside: usize,
}

/// The round as JSON; keys in a fixed order, a line break at the end.
#[must_use]
pub fn round_json(round: &Round, remarks: &[String]) -> String {
    let judged = round.judged().count();
    let out = RoundOut {
        schema: SCHEMA,
        on: &round.on,
        by: round.by.as_deref(),
        projects: round.lines.iter().map(project_out).collect(),
        items: round.items.iter().map(item_out).collect(),
        packs: round
            .packs
            .iter()
            .map(|pack| PackOut { name: &pack.name, edition: &pack.edition, projects: pack.projects })
            .collect(),
        summary: summary_out(&round.summary),
        judged,
        not_judged: round.lines.len().saturating_sub(judged),
        remarks,
        reminder: round.reminder,
    };
    super::json::pretty(SCHEMA, &out)
}

fn project_out(line: &Line) -> ProjectOut<'_> {
    let (counts, fault) = match &line.came_to {
        Ok(counts) => (Some(counts), counts.not_judged.as_ref()),
        Err(fault) => (None, Some(fault)),
    };
    ProjectOut {
        folder: &line.folder,
        name: line.name.as_deref(),
        judged: counts.is_some(),
        visit: counts.and_then(|counts| counts.visit.as_deref()),
        summary: counts.map(|counts| summary_out(&counts.summary)),
        can_end_the_visit: counts.map(|counts| counts.can_end_the_visit),
        warnings: counts.map(|counts| counts.warnings),
        not_judged: fault.map(fault_out),
    }
}

fn fault_out(fault: &Fault) -> FaultOut<'_> {
    FaultOut { errors: fault.errors, code: &fault.code, first: &fault.first, place: fault.place.as_ref() }
}

fn item_out(item: &OpenItem) -> ItemOut<'_> {
    let places = |lines: &[usize]| lines.iter().copied().map(PlaceOut).collect();
    ItemOut {
        item: &item.item,
        title: &item.title,
        stops_the_visit: item.stops_the_visit,
        projects: item.projects(),
        unmet: places(&item.unmet),
        not_shown: places(&item.not_shown),
    }
}

fn summary_out(sum: &Summary) -> SummaryOut {
    SummaryOut {
        met: sum.met,
        unmet: sum.unmet,
        not_shown: sum.not_shown,
        not_applicable: sum.not_applicable,
        conceded: sum.conceded,
        set_aside: sum.set_aside,
    }
}

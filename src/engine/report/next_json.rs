//! The jobs for programs, schema `cotterpin-next/1`.
//!
//! | key | what it holds |
//! |---|---|
//! | `schema` | `cotterpin-next/1` |
//! | `project`, `on` | the project's name; the day, ISO 8601 |
//! | `visit` | the planned visit as recorded, or null |
//! | `a_day` | `minutes` of work in a day, and whether that is `assumed` |
//! | `jobs[]` | see below; first those that can be begun, in the order to do them |
//! | `ready` | how many of them can be begun |
//! | `sitting` | null, or `minutes_there`, `minutes`, `jobs[]`: places in `jobs` from 0 |
//! | `chain` | null, or the chain to the visit that ends last: `jobs[]`, `minutes`, `days`, `begins_with_part`, `all_jobs`, `all_minutes`, `all_days`, `days_left` or null, `unknown_parts`, `in_circles` |
//! | `open_lists[]` | lists, or `log`, of which the audit asks whether they are whole |
//! | `notices[]` | what was left out, and why |
//! | `reminder` | who has the final say; always there |
//!
//! | key of a job | what it holds |
//! |---|---|
//! | `name`, `kind` | `us/marks.height`, `snag 14`, `own: ...`; `unmet`, `not-shown`, `snag`, `own` |
//! | `title`, `subjects[]` | what is so when it is done; the records it is about |
//! | `zone`, `by`, `due`, `closes` | the place, the hold point, its planned day, the day the place closes; or null |
//! | `latest` | the nearest day by which it must be done, by hold point, a later one with a day, or closing; or null |
//! | `minutes`, `said` | how long; who said so: `builder`, `pack`, `assumed` |
//! | `stops_the_visit`, `blocks` | whether it can end the visit; how many open jobs wait for it |
//! | `after[]`, `circle[]` | places of jobs before it; of a circle it is in |
//! | `part` | null, or `part`, `ordered`, `expected` or null, `awaited` |
//! | `why[]` | the same in sentences |
//! | `remedy`, `caution` | what to do, what can hurt; or null |

use super::job::why;
use crate::ir::Id;
use crate::plan::{Chain, Job, JobId, JobKind, Part, Plan, TimeSource};
use serde::Serialize;

/// The schema's name and version.
const SCHEMA: &str = "cotterpin-next/1";

#[derive(Serialize)]
struct PlanOut<'a> {
    schema: &'static str,
    project: &'a str,
    on: String,
    visit: Option<String>,
    a_day: DayOut,
    jobs: Vec<JobOut<'a>>,
    ready: usize,
    sitting: Option<SittingOut>,
    chain: Option<ChainOut>,
    open_lists: &'a [String],
    notices: &'a [String],
    reminder: &'static str,
}

#[derive(Serialize)]
struct DayOut {
    minutes: u32,
    assumed: bool,
}

/// The place of a job in `jobs`, from 0.
#[derive(Serialize)]
struct PlaceOut(usize);

#[derive(Serialize)]
struct SittingOut {
    minutes_there: u32,
    minutes: u32,
    jobs: Vec<PlaceOut>,
}

#[derive(Serialize)]
struct ChainOut {
    jobs: Vec<PlaceOut>,
    minutes: u64,
    days: u64,
    begins_with_part: bool,
    all_jobs: usize,
    all_minutes: u64,
    all_days: u64,
    days_left: Option<i64>,
    unknown_parts: usize,
    in_circles: usize,
}

#[derive(Serialize)]
struct JobOut<'a> {
    name: &'a str,
    kind: &'static str,
    title: &'a str,
    subjects: &'a [String],
    zone: Option<&'a str>,
    by: Option<&'a str>,
    due: Option<String>,
    closes: Option<String>,
    latest: Option<String>,
    minutes: u32,
    said: &'static str,
    stops_the_visit: bool,
    blocks: usize,
    after: Vec<PlaceOut>,
    circle: Vec<PlaceOut>,
    part: Option<PartOut<'a>>,
    why: Vec<String>,
    remedy: Option<&'a str>,
    caution: Option<&'a str>,
}

#[derive(Serialize)]
struct PartOut<'a> {
    part: &'a str,
    ordered: Option<&'a str>,
    expected: Option<String>,
    awaited: bool,
}

/// The plan as JSON; keys in a fixed order, a line break at the end.
#[must_use]
pub fn next_json(plan: &Plan) -> String {
    let out = PlanOut {
        schema: SCHEMA,
        project: &plan.project,
        on: plan.on.to_string(),
        visit: plan.visit.map(|visit| visit.to_string()),
        a_day: DayOut { minutes: plan.a_day, assumed: plan.a_day_assumed },
        jobs: plan.jobs.iter().map(|job| job_out(plan, job)).collect(),
        ready: plan.ready,
        sitting: plan.sitting.as_ref().map(|one| SittingOut {
            minutes_there: one.time,
            minutes: one.minutes,
            jobs: places(&one.jobs),
        }),
        chain: plan.chain.as_ref().map(chain_out),
        open_lists: &plan.open_lists,
        notices: &plan.notices,
        reminder: plan.reminder,
    };
    super::json::pretty(SCHEMA, &out)
}

fn places(ids: &[JobId]) -> Vec<PlaceOut> {
    ids.iter().map(|id| PlaceOut(id.index())).collect()
}

fn job_out<'a>(plan: &Plan, job: &'a Job) -> JobOut<'a> {
    JobOut {
        name: &job.name,
        kind: match job.kind {
            JobKind::Finding(verdict) => verdict.word(),
            JobKind::Snag => "snag",
            JobKind::Own => "own",
        },
        title: &job.title,
        subjects: &job.subjects,
        zone: job.zone.as_deref(),
        by: job.due.as_ref().map(|due| due.by.as_str()),
        due: job.due.as_ref().and_then(|due| due.day).map(|day| day.to_string()),
        closes: job.closes.map(|day| day.to_string()),
        latest: job.last_day().map(|day| day.to_string()),
        minutes: job.takes.minutes,
        said: match job.takes.said {
            TimeSource::Builder => "builder",
            TimeSource::Pack => "pack",
            TimeSource::Assumed => "assumed",
        },
        stops_the_visit: job.stops_the_visit,
        blocks: job.blocks,
        after: places(&job.after),
        circle: places(&job.circle),
        part: job.part.as_ref().map(part_out),
        why: why(plan, job),
        remedy: job.remedy.as_deref(),
        caution: job.caution.as_deref(),
    }
}

fn part_out(part: &Part) -> PartOut<'_> {
    PartOut {
        part: &part.part,
        ordered: part.ordered.as_deref(),
        expected: part.expected.map(|day| day.to_string()),
        awaited: part.awaited,
    }
}

fn chain_out(chain: &Chain) -> ChainOut {
    ChainOut {
        jobs: places(&chain.jobs),
        minutes: chain.minutes,
        days: chain.days,
        begins_with_part: chain.begins_with_part,
        all_jobs: chain.all_jobs,
        all_minutes: chain.all_minutes,
        all_days: chain.all_days,
        days_left: chain.days_left,
        unknown_parts: chain.unknown_parts,
        in_circles: chain.in_circles,
    }
}

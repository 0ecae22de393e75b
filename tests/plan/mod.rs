//! What next: the jobs of a project, their order, what fits the time, and the
//! way to the visit. Packs, dates and names are invented.

mod chain;
mod close_up;
mod jobs;
pub(crate) mod reading;
mod sitting;

use crate::fixtures::packs::{load, pack};
use crate::fixtures::projects::{PLAIN, Reading, audited, file, read_project, request};
use crate::fixtures::values::{day, nowhere};
use cotterpin_engine::audit::{self, Audit};
use cotterpin_engine::ir::{Id, Rules};
use cotterpin_engine::plan::{Job, JobId, Plan, Request, plan};
use cotterpin_engine::project::{self, JobSubject, Record};
use cotterpin_engine::quantity::{Exact, ExactInterval};

/// The day of all these plans, a Wednesday.
const ON: &str = "2026-11-25";

const WORDS: &str = r#"
hold-points
  close        "Before a zone is closed"
  visit        "Before the inspector's visit"
  first-flight "Before the first flight"
zones
  cabin "Cabin"
  tail  "Tail"
systems
  shed "Shed"
  snags "Snags"
roles
  builder "The builder" may concede (advice, other)
subjects
  tail.hinge "Elevator hinge" zone tail
  cabin.seat "Seat" zone cabin
"#;

/// A time in whole minutes.
fn minutes(minutes: u32) -> ExactInterval {
    ExactInterval::point(Exact::from_int(i64::from(minutes) * 60))
}

fn rules(text: &str) -> Rules {
    load(&[pack("shed", &[], &format!("{WORDS}{text}"))])
}

/// A project of a pack, read and audited.
struct Project {
    rules: Rules,
    record: Record,
    audit: Audit,
}

/// A project with what else stands in `project.toml`, and one file of facts; its reading must be clean.
fn project(pack: &str, header: &str, facts: &str) -> Project {
    let rules = rules(pack);
    let Reading { record, .. } = read(&rules, header, facts).clean();
    let audit = audit::audit(&rules, &record, &request(ON));
    Project { rules, record, audit }
}

fn read<'r>(rules: &'r Rules, header: &str, facts: &str) -> Reading<'r> {
    let people = "[people]\nrosa = { name = \"Rosa Example\", role = \"builder\" }\n";
    read_project(rules, &format!("{PLAIN}{header}\n{people}"), &[file("facts.toml", facts)], &[])
}

impl Project {
    fn plan(&self) -> Plan {
        self.plan_for(None)
    }

    fn plan_for(&self, time: Option<u32>) -> Plan {
        plan(&self.rules, &self.record, &self.audit, Request { on: day(ON), time, a_day: None })
    }
}

/// The only job of that name.
fn job<'a>(plan: &'a Plan, name: &str) -> &'a Job {
    let found: Vec<&Job> = plan.jobs.iter().filter(|job| job.name == name).collect();
    assert_eq!(found.len(), 1, "{name} among {:#?}", plan.jobs);
    found[0]
}

/// The job of an id.
fn at(plan: &Plan, id: JobId) -> &Job {
    plan.jobs.get(id).expect("the job")
}

/// The id of the job in a place.
fn id(place: usize) -> JobId {
    JobId::new(place)
}

fn names(plan: &Plan) -> Vec<&str> {
    plan.jobs.iter().map(|job| job.name.as_str()).collect()
}

/// The name of a job of the builder's own by number.
fn own(number: usize) -> JobSubject {
    JobSubject::Own(format!("job {number:02}"))
}

/// The number of such a job.
fn number(job: &Job) -> usize {
    job.name.strip_prefix("own: job ").and_then(|number| number.parse().ok()).expect("a numbered job")
}

/// A plan of jobs of the builder's own, given as they are.
fn plan_of(jobs: Vec<project::Job>, visit: Option<&str>, request: Request) -> Plan {
    let rules = rules("");
    let visit = visit.map(|visit| cotterpin_engine::quantity::DateRange::day(day(visit)));
    let record = Record { jobs, visit, ..Record::default() };
    let audit = audited(&rules, &record, ON);
    plan(&rules, &record, &audit, request)
}

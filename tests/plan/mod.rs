//! What next: the jobs of a project, their order, what fits the time, and the
//! way to the visit. Packs, dates and names are invented.

mod chain;
mod close_up;
mod jobs;
pub(crate) mod reading;
mod sitting;

use crate::golden::recording;
use cotterpin::audit::{self, Audit};
use cotterpin::diagnostic::Diagnostic;
use cotterpin::measure::{Date, Exact, Range};
use cotterpin::plan::{Job, Plan, Request, plan};
use cotterpin::record::{self, About, FileText, Record};
use cotterpin::rules::{PackText, Rules, load_packs};
use cotterpin::source::{Sources, Span};

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
  builder "The builder"
subjects
  tail.hinge "Elevator hinge" zone tail
  cabin.seat "Seat" zone cabin
"#;

fn day(text: &str) -> Date {
    Date::parse(text).expect("a date")
}

/// A time in whole minutes.
fn minutes(minutes: u32) -> Range {
    Range::point(Exact::from_int(i64::from(minutes) * 60))
}

const MANIFEST: &str = "name='shed'\ntitle='Shed'\nedition='1'\nauthority='none'\nscope='a test'";

fn rules(text: &str) -> Rules {
    let manifest = MANIFEST.to_owned();
    let files = vec![("shed.checklist".to_owned(), format!("{WORDS}{text}").into())];
    load_packs(&[PackText { name: "shed".into(), manifest, files }]).unwrap_or_else(|failed| panic!("{:#?}", failed.1))
}

/// A project of a pack, read and audited.
struct Project {
    rules: Rules,
    record: Record,
    sources: Sources,
    audit: Audit,
}

/// A project with what else stands in `project.toml`, and one file of facts; its reading must be clean.
fn project(pack: &str, header: &str, facts: &str) -> Project {
    let (rules, record, sources, messages) = read(pack, header, facts);
    assert!(messages.is_empty(), "{messages:#?}");
    let audit = audited(&rules, &record, &sources);
    Project { rules, record, sources, audit }
}

fn audited(rules: &Rules, record: &Record, sources: &Sources) -> Audit {
    let request = audit::Request { project: "Shed 7".to_owned(), on: day(ON), by: None, closing: None };
    audit::audit(rules, record, sources, &request)
}

fn read(pack: &str, header: &str, facts: &str) -> (Rules, Record, Sources, Vec<Diagnostic>) {
    let rules = rules(pack);
    let mut sources = rules.sources.clone();
    let file = |name: &str, text: String| FileText { name: name.to_owned(), bytes: text.into_bytes() };
    let people = "[people]\nrosa = { name = \"Rosa Example\", role = \"builder\" }\n";
    let text = format!("name = \"Shed 7\"\npacks = [\"./shed\"]\n{header}\n{people}");
    let (header, messages) = record::read_header(&file("project.toml", text.clone()), &mut sources);
    let note = || {
        recording::note_project(&[
            ("project.toml", text.as_bytes()),
            ("shed/pack.toml", MANIFEST.as_bytes()),
            ("shed/shed.checklist", format!("{WORDS}{pack}").as_bytes()),
            ("facts.toml", facts.as_bytes()),
        ]);
    };
    let Some(header) = header else {
        note();
        return (rules, Record::default(), sources, messages);
    };
    let files = [file("facts.toml", facts.to_owned())];
    let (record, messages) = record::read(&files, &[], &header, &rules, &mut sources);
    if !messages.is_empty() {
        note();
    }
    (rules, record, sources, messages)
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

fn names(plan: &Plan) -> Vec<&str> {
    plan.jobs.iter().map(|job| job.name.as_str()).collect()
}

/// The name of a job of the builder's own by number.
fn own(number: usize) -> About {
    About::Own(format!("job {number:02}"))
}

/// The number of such a job.
fn number(job: &Job) -> usize {
    job.name.strip_prefix("own: job ").and_then(|number| number.parse().ok()).expect("a numbered job")
}

fn nowhere() -> Span {
    Span::new(Sources::default().add("nowhere", ""), 0, 0)
}

/// A plan of jobs of the builder's own, given as they are.
fn plan_of(jobs: Vec<record::Job>, visit: Option<&str>, request: Request) -> Plan {
    let rules = rules("");
    let visit = visit.map(|visit| cotterpin::measure::DateRange::day(day(visit)));
    let record = Record { jobs, visit, ..Record::default() };
    let audit = audited(&rules, &record, &rules.sources);
    plan(&rules, &record, &audit, request)
}

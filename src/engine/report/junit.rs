//! The report as JUnit XML, the form in which programs that run tests tell how
//! they came out. No body publishes it as a standard; this keeps to what its
//! readers share: `testsuites`, `testsuite`, `properties`, `testcase` with
//! `failure`, `error` or `skipped`, `system-out` and `system-err`.
//!
//! Every finding is one `testcase`. `classname` is the item's full name, `name`
//! the same with the record in brackets behind it. There is a `testsuite` for
//! each system, in the order of the text report.
//!
//! | verdict | test case |
//! |---|---|
//! | met | without more, which readers count as passed |
//! | unmet | `failure` of the type `unmet` |
//! | not shown | `error` of the type `not-shown`: it could not be decided, so it is neither passed nor skipped |
//! | not applicable | `skipped`, with that as its message |
//! | conceded | `skipped`; the message says why, by whom and until when |
//! | set aside | `skipped`; the message says by which pack and why |
//!
//! In front stands a `testsuite` of the audit itself. It has the project, the
//! day, the packs and their editions as properties; what is recorded and does
//! not count as `system-err`; and the reminder of who has the final say as
//! `system-out`. Where something recorded was not judged, or nothing was, it has
//! a test case with an `error` for that: otherwise the file would read better
//! than the audit did. No times are told, for nothing was timed.
//!
//! A character that XML cannot hold is written out: `\u{1b}`.

use super::cause_sentences;
use super::lines::{self, key};
use super::phrases;
use crate::audit::{Audit, Finding, Notice};
use crate::history::ENGINE;
use crate::source::is_unshowable;
use crate::vocabulary::Verdict;

/// The suite of the audit itself. No system has a blank in its name.
const ITSELF: &str = "cotterpin audit";

/// The audit as JUnit XML.
///
/// Source: Extensible Markup Language (XML) 1.0, fifth edition, sections 2.2
/// and 2.4 (characters), 2.11 and 3.3.3 (line breaks); the elements as test
/// runners and their readers have them in common.
#[must_use]
pub fn junit(audit: &Audit) -> String {
    let mut suites = vec![itself(audit)];
    suites.extend(systems(audit).into_iter().map(|(system, findings)| of_system(audit, system, &findings)));
    let mut counts = Counts::default();
    suites.iter().for_each(|suite| counts.add(suite.counts));
    let mut out = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n".to_owned();
    open(&mut out, "testsuites", &counts.with("name", &audit.project));
    suites.iter().for_each(|suite| suite.write(&mut out));
    out.push_str("</testsuites>\n");
    out
}

/// How many test cases there are, and of each kind that did not pass.
#[derive(Clone, Copy, Default)]
struct Counts {
    tests: usize,
    failures: usize,
    errors: usize,
    skipped: usize,
}

impl Counts {
    fn add(&mut self, other: Self) {
        self.tests = self.tests.saturating_add(other.tests);
        self.failures = self.failures.saturating_add(other.failures);
        self.errors = self.errors.saturating_add(other.errors);
        self.skipped = self.skipped.saturating_add(other.skipped);
    }

    fn with(self, name: &'static str, value: &str) -> [(&'static str, String); 5] {
        [
            (name, value.to_owned()),
            ("tests", self.tests.to_string()),
            ("failures", self.failures.to_string()),
            ("errors", self.errors.to_string()),
            ("skipped", self.skipped.to_string()),
        ]
    }
}

/// How a test case came out, if it did not pass.
enum Outcome {
    Failure,
    Error(&'static str),
    Skipped,
}

/// A test suite, its cases written already.
struct Suite {
    name: String,
    properties: Vec<(&'static str, String)>,
    cases: String,
    counts: Counts,
    out: String,
    err: String,
}

impl Suite {
    fn new(name: &str, properties: Vec<(&'static str, String)>) -> Self {
        let (counts, empty) = (Counts::default(), String::new);
        Self { name: name.to_owned(), properties, cases: empty(), counts, out: empty(), err: empty() }
    }

    /// Adds a test case; what is said of it stands in the element that tells how it came out, if that can hold it.
    fn case(&mut self, class: &str, name: &str, outcome: Option<(Outcome, String)>, said: &str) {
        let one = |is: bool| usize::from(is);
        let outcome_is = |wanted: fn(&Outcome) -> bool| outcome.as_ref().is_some_and(|(outcome, _)| wanted(outcome));
        self.counts.add(Counts {
            tests: 1,
            failures: one(outcome_is(|outcome| matches!(outcome, Outcome::Failure))),
            errors: one(outcome_is(|outcome| matches!(outcome, Outcome::Error(_)))),
            skipped: one(outcome_is(|outcome| matches!(outcome, Outcome::Skipped))),
        });
        open(&mut self.cases, "testcase", &[("classname", class.to_owned()), ("name", name.to_owned())]);
        match outcome {
            Some((Outcome::Failure, message)) => {
                element(&mut self.cases, "failure", &[("message", message), ("type", "unmet".to_owned())], said);
            }
            Some((Outcome::Error(kind), message)) => {
                element(&mut self.cases, "error", &[("message", message), ("type", kind.to_owned())], said);
            }
            Some((Outcome::Skipped, message)) => {
                element(&mut self.cases, "skipped", &[("message", message)], "");
                element(&mut self.cases, "system-out", &[], said);
            }
            None => element(&mut self.cases, "system-out", &[], said),
        }
        self.cases.push_str("</testcase>\n");
    }

    fn write(&self, out: &mut String) {
        open(out, "testsuite", &self.counts.with("name", &self.name));
        open(out, "properties", &[]);
        for (name, value) in &self.properties {
            element(out, "property", &[("name", (*name).to_owned()), ("value", value.clone())], "");
        }
        out.push_str("</properties>\n");
        out.push_str(&self.cases);
        for (name, said) in [("system-out", &self.out), ("system-err", &self.err)] {
            if !said.is_empty() {
                element(out, name, &[], said);
            }
        }
        out.push_str("</testsuite>\n");
    }
}

/// The suite of the audit itself.
fn itself(audit: &Audit) -> Suite {
    let text = |text: &str| text.to_owned();
    let mut properties = vec![
        ("project", audit.project.clone()),
        ("on", audit.on.clone()),
        ("exit-status", audit.exit_status().to_string()),
        ("engine", text(ENGINE)),
    ];
    let asked = [("visit", &audit.visit), ("by", &audit.by), ("closing", &audit.closing)];
    properties.extend(asked.into_iter().filter_map(|(name, value)| Some((name, value.clone()?))));
    let packs = audit.packs.iter().map(|pack| ("pack", format!("{}, edition {}", pack.name, pack.edition)));
    properties.extend(packs);
    properties.push(("reminder", text(audit.reminder)));
    let mut suite = Suite::new(ITSELF, properties);
    for notice in &audit.notices {
        let said = cause_sentences::notice(notice);
        let not_read = match notice {
            Notice::FileNotRead(file) => Some(file.clone()),
            Notice::ValueNotRead(name, place) => Some(format!("{name} ({place})")),
            _ => None,
        };
        if let Some(name) = not_read {
            suite.case(ITSELF, &name, Some((Outcome::Error("not-read"), said.clone())), &said);
        }
        suite.err.extend([phrases::sentence(&said), "\n".to_owned()]);
    }
    if !audit.was_evaluated() {
        let said = "No item of the packs concerns this aircraft, so nothing was judged.";
        suite.case(ITSELF, "nothing judged", Some((Outcome::Error("nothing-judged"), text(said))), said);
    }
    suite.out = format!("{}\n", audit.reminder);
    suite
}

/// Findings by system, in the order of the systems' titles.
fn systems(audit: &Audit) -> Vec<(&str, Vec<&Finding>)> {
    let mut systems: Vec<(&str, Vec<&Finding>)> = Vec::new();
    for finding in &audit.findings {
        match systems.iter_mut().find(|(system, _)| *system == finding.system) {
            Some((_, findings)) => findings.push(finding),
            None => systems.push((&finding.system, vec![finding])),
        }
    }
    systems.sort_by_key(|(system, _)| phrases::rank(&audit.titles.systems, system));
    systems
}

fn of_system(audit: &Audit, system: &str, findings: &[&Finding]) -> Suite {
    let title = phrases::titled(&audit.titles.systems, system).to_owned();
    let mut suite = Suite::new(system, vec![("title", title), ("on", audit.on.clone())]);
    for finding in findings {
        let name = key(&finding.item, finding.subject.as_deref());
        let title = phrases::title(finding);
        let said = format!("{title}\n{}", lines::text(finding));
        suite.case(&finding.item, &name, outcome(finding, title), &said);
    }
    suite
}

/// How a finding came out as a test, and the message that goes with it.
fn outcome(finding: &Finding, title: String) -> Option<(Outcome, String)> {
    let reasons = |reasons: Vec<String>| reasons.join(" ");
    match finding.verdict {
        Verdict::Met => None,
        Verdict::Unmet => Some((Outcome::Failure, title)),
        Verdict::NotShown => Some((Outcome::Error("not-shown"), title)),
        Verdict::NotApplicable => Some((Outcome::Skipped, "Not applicable.".to_owned())),
        Verdict::Conceded => {
            let leave = reasons(finding.concession.iter().map(lines::conceded).collect());
            Some((Outcome::Skipped, format!("Conceded, not met: {leave}")))
        }
        Verdict::SetAside => {
            let aside = reasons(finding.set_aside.iter().map(lines::set_aside).collect());
            Some((Outcome::Skipped, format!("Set aside {aside}")))
        }
    }
}

/// Begins an element on a line of its own.
fn open(out: &mut String, name: &str, attributes: &[(&str, String)]) {
    tag(out, name, attributes);
    out.push_str(">\n");
}

/// An element that holds text, or nothing.
fn element(out: &mut String, name: &str, attributes: &[(&str, String)], text: &str) {
    tag(out, name, attributes);
    if text.is_empty() {
        out.push_str("/>\n");
    } else {
        out.extend([">", &escaped(text), "</", name, ">\n"]);
    }
}

fn tag(out: &mut String, name: &str, attributes: &[(&str, String)]) {
    out.extend(["<", name]);
    for (name, value) in attributes {
        // Written as they are, line breaks and tabs in an attribute would be read as blanks.
        let value = escaped(value).replace('"', "&quot;").replace('\n', "&#10;").replace('\t', "&#9;");
        out.extend([" ", name, "=\"", &value, "\""]);
    }
}

/// Text as it may stand in an element, and is read as it was.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '\r' => out.push_str("&#13;"),
            '\n' | '\t' => out.push(letter),
            '\u{fffe}' | '\u{ffff}' => out.extend(letter.escape_unicode()),
            _ if is_unshowable(letter) => out.extend(letter.escape_unicode()),
            _ => out.push(letter),
        }
    }
    out
}

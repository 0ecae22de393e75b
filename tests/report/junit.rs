//! JUnit XML, read by a reader of XML that takes nothing that is not well formed, and by a reader of JUnit.

use super::awkward::{self, written_out};
use super::made;
use crate::cli::Run;
use crate::fixtures::seed::with_dice;
use cotterpin_engine::audit::{Audit, Finding, Notice, REMINDER};
use cotterpin_engine::report::junit;
use cotterpin_engine::source::is_invisible;
use cotterpin_engine::vocabulary::Verdict;
use junit_parser::{TestCase, TestStatus, TestSuites};

/// XML 1.0, 2.2, and what it discourages: what a document cannot hold.
fn forbidden(letter: char) -> bool {
    let allowed = matches!(letter, '\t' | '\n' | '\r' | ' '..='\u{d7ff}' | '\u{e000}'..='\u{fffd}' | '\u{10000}'..);
    !allowed || ('\u{7f}'..='\u{9f}').contains(&letter)
}

fn told(text: &str) -> String {
    written_out(text, |letter| forbidden(letter) || is_invisible(letter))
}

fn read(text: &str) -> TestSuites {
    junit_parser::from_reader(text.as_bytes()).unwrap_or_else(|error| panic!("{error}\n{text}"))
}

fn cases(suites: &TestSuites) -> impl Iterator<Item = &TestCase> {
    suites.suites.iter().flat_map(|suite| &suite.cases)
}

fn key(finding: &Finding) -> String {
    finding.subject.as_ref().map_or_else(|| finding.item.clone(), |subject| format!("{}[{subject}]", finding.item))
}

/// How a finding has to come out.
fn word(status: &TestStatus) -> &'static str {
    match status {
        TestStatus::Success => "passed",
        TestStatus::Failure(_) => "failed",
        TestStatus::Error(_) => "in error",
        TestStatus::Skipped(_) => "skipped",
    }
}

fn expected(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Met => "passed",
        Verdict::Unmet => "failed",
        // Never passed, and never skipped.
        Verdict::NotShown => "in error",
        Verdict::NotApplicable | Verdict::Conceded | Verdict::SetAside => "skipped",
    }
}

/// That a document has every finding, by both readers.
fn holds(text: &str, audit: &Audit) {
    let document = roxmltree::Document::parse(text).unwrap_or_else(|error| panic!("{error}\n{text}"));
    let nodes: Vec<_> = document.descendants().filter(|node| node.has_tag_name("testcase")).collect();
    let suites = read(text);
    let unread = audit.notices.iter().filter(|notice| matches!(notice, Notice::FileNotRead(_))).count();
    let judged = usize::from(!audit.was_evaluated());
    assert_eq!(cases(&suites).count(), nodes.len());
    assert_eq!(nodes.len(), audit.findings.len() + unread + judged);
    for finding in &audit.findings {
        let (class, name) = (told(&finding.item), told(&key(finding)));
        let node = nodes
            .iter()
            .find(|node| node.attribute("name") == Some(&name) && node.attribute("classname") == Some(&class))
            .unwrap_or_else(|| panic!("{name:?} is not in {text}"));
        let words: Vec<&str> =
            node.children().filter(|child| child.is_element()).map(|child| child.tag_name().name()).collect();
        let of_verdict = match finding.verdict {
            Verdict::Met => &["system-out"][..],
            Verdict::Unmet => &["failure"],
            Verdict::NotShown => &["error"],
            _ => &["skipped", "system-out"],
        };
        assert_eq!(words, of_verdict, "{name}");
        let said: String = node.descendants().filter(|node| node.is_text()).filter_map(|node| node.text()).collect();
        let expression = told(
            &finding.because.first().map(|reason| reason.expression.replace(['\n', '\r'], " ")).unwrap_or_default(),
        );
        assert!(said.contains(&expression), "{expression:?} is not in {said:?}");
        let suite = node.parent().expect("a suite");
        assert_eq!(suite.attribute("name"), Some(finding.system.as_str()));
    }
    // The other reader comes to the same numbers, and so do the attributes.
    let mut counts = [suites.tests, suites.failures, suites.errors, suites.skipped];
    for suite in &suites.suites {
        for (count, of_suite) in counts.iter_mut().zip([suite.tests, suite.failures, suite.errors, suite.skipped]) {
            *count -= of_suite;
        }
    }
    assert_eq!(counts, [0; 4]);
    let count = |word_of: &str| cases(&suites).filter(|case| word(&case.status) == word_of).count();
    let sum = &audit.summary;
    assert_eq!(count("passed"), sum.met);
    assert_eq!(count("failed"), sum.unmet);
    assert_eq!(count("in error"), sum.not_shown + unread + judged);
    assert_eq!(count("skipped"), sum.not_applicable + sum.conceded + sum.set_aside);
    let numbers = [suites.failures, suites.errors, suites.skipped].map(|number| usize::try_from(number).unwrap());
    assert_eq!(numbers, ["failed", "in error", "skipped"].map(count));
    let out = suites.suites[0].system_out.as_deref().expect("the last word");
    assert_eq!(out.trim(), REMINDER);
}

#[test]
fn every_verdict_comes_out_as_a_test_does() {
    let audit = made::audit();
    let text = junit(&audit);
    holds(&text, &audit);
    let suites = read(&text);
    for finding in &audit.findings {
        let case = cases(&suites).find(|case| case.original_name == key(finding)).expect("the finding");
        assert_eq!(word(&case.status), expected(finding.verdict), "{}", finding.item);
        assert_eq!(case.classname.as_deref(), Some(finding.item.as_str()));
    }
    let marks = cases(&suites).find(|case| case.original_name == "us/marks.height").expect("the marks");
    let leave = "Conceded, not met: The fin is too small. Granted by A. Inspector, inspector, from 2026-11-01 until \
        2027-11-01, instead of unmet.";
    assert_eq!(marks.status.skipped_as_ref().message, leave);
    let header = cases(&suites).find(|case| case.original_name == "us/fuel.header").expect("set aside");
    assert!(
        header.status.skipped_as_ref().message.starts_with("Set aside by the pack `kit`: The kit has a header tank.")
    );
    let serial = cases(&suites).find(|case| case.original_name == "us/identity.serial").expect("the serial number");
    let failure = serial.status.failure_as_ref();
    assert_eq!(failure.failure_type, "unmet");
    for part in
        ["recorded: plate.serial = \"107\" (plate.toml:4)", "do: Have the plate made again.", "CAUTION: Metal dust"]
    {
        assert!(failure.text.contains(part), "{part} is not in {}", failure.text);
    }
    // Systems in the order of their titles, the audit itself first.
    let names: Vec<&str> = suites.suites.iter().map(|suite| suite.name.as_str()).collect();
    assert_eq!(names, ["cotterpin audit", "identity", "fuel", "electrical", "marks", "gear"]);
    let property = |name: &str| {
        suites.suites[0].properties.vec.iter().find(|(known, _)| known == name).map(|(_, value)| value.as_str())
    };
    assert_eq!(
        (property("on"), property("exit-status"), property("reminder")),
        (Some("2026-11-25"), Some("1"), Some(REMINDER))
    );
    let err = suites.suites[0].system_err.as_deref().expect("what does not count");
    assert!(err.contains("The concession for us/plate.material does not count: it ran out on 2026-10-31."), "{err}");
}

#[test]
fn awkward_texts_come_back_as_they_were() {
    with_dice(&[], |dice| {
        for _ in 0..200 {
            let audit = awkward::audit(dice);
            holds(&junit(&audit), &audit);
        }
    });
}

/// What the audit could not judge does not read as passed.
#[test]
fn what_was_not_judged_is_an_error() {
    let mut audit = made::audit();
    audit.findings.retain(|finding| finding.verdict == Verdict::Met);
    audit.summary = made::summary(&audit.findings);
    audit.notices = vec![Notice::FileNotRead("wires.toml~".into())];
    let text = junit(&audit);
    holds(&text, &audit);
    let suites = read(&text);
    let case = cases(&suites).find(|case| case.original_name == "wires.toml~").expect("the file");
    assert_eq!(case.status.error_as_ref().error_type, "not-read");
    audit.findings.clear();
    audit.summary = made::summary(&[]);
    audit.notices.clear();
    let text = junit(&audit);
    holds(&text, &audit);
    assert_eq!(read(&text).errors, 1);
}

#[test]
fn the_demo_is_whole() {
    let run = Run::new("junit-demo");
    let demo = |format: &str| run.step(&["audit", "--demo", "--on", "2026-11-25", "--format", format]).out;
    let suites = read(&demo("junit"));
    let audit: serde_json::Value = serde_json::from_str(&demo("json")).unwrap();
    let findings = audit["findings"].as_array().unwrap();
    assert!(findings.len() > 300);
    assert_eq!(cases(&suites).count(), findings.len());
    for finding in findings {
        let item = finding["item"].as_str().unwrap();
        let name = finding["subject"].as_str().map_or_else(|| item.to_owned(), |subject| format!("{item}[{subject}]"));
        let case: Vec<&TestCase> = cases(&suites).filter(|case| case.original_name == name).collect();
        assert_eq!(case.len(), 1, "{name}");
        let verdict = serde_json::from_value(finding["verdict"].clone()).unwrap();
        assert_eq!(word(&case[0].status), expected(verdict), "{name}");
    }
}

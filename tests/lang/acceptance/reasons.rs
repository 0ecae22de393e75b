//! A14: every verdict explains itself.

use crate::fixtures::findings::written;
use crate::lang::{OWN, audited, finding, load, mine, of_nothing};
use cotterpin_engine::audit::Held;
use cotterpin_engine::ir::Rules;

fn rules(facts: &str, need: &str) -> Rules {
    load(&[mine(&format!("{facts}\nitem shed.door \"t\" need {need} {OWN}"))])
}

fn missing(rules: &Rules, facts: &str) -> Vec<String> {
    let report = audited(rules, facts, "2026-06-01", None);
    finding(&report, "mine/shed.door").missing.iter().map(|missing| missing.fact.clone()).collect()
}

const TWO: &str =
    "fact shed.width : length ask \"How wide?\" such as \"2 in\" fact shed.height : length ask \"How high?\"";
const FOUR: &str = "fact shed.p : yes or no ask \"?\" fact shed.q : yes or no ask \"?\" fact shed.r : yes or no ask \"?\" fact shed.s : yes or no ask \"?\"";

#[test]
fn a14_the_part_that_decided_its_values_and_their_places() {
    let rules = rules(TWO, "shed.width >= 2 in and shed.height >= 7 ft");
    let report = audited(&rules, "[shed]\nwidth = \"30 in\"\n\nheight = \"6 ft\"\n", "2026-06-01", None);
    let because = &finding(&report, "mine/shed.door").because;
    assert_eq!(because.len(), 1, "only the height decided: {because:#?}");
    assert_eq!((because[0].expression.as_str(), &because[0].held), ("shed.height >= 7 ft", &Held::False));
    let seen = &because[0].values[0];
    let place = seen.place.as_ref().expect("where it is recorded");
    assert_eq!((seen.name.as_str(), written(&seen.value)), ("shed.height", "6 ft"));
    assert_eq!((place.file.as_str(), place.line), ("facts.toml", 4));
}

#[test]
fn a14_a_met_item_says_what_it_saw() {
    let rules = rules(TWO, "shed.width >= 2 in or shed.height >= 7 ft");
    let report = audited(&rules, "[shed]\nwidth = \"50.8 mm\"\n", "2026-06-01", None);
    let because = &finding(&report, "mine/shed.door").because;
    assert_eq!(because.len(), 1, "{because:#?}");
    assert_eq!((because[0].held.clone(), written(&because[0].values[0].value)), (Held::True, "50.8 mm"));
}

#[test]
fn a14_an_item_that_does_not_apply_says_why() {
    let rules = load(&[mine(&format!("{FOUR}\nitem shed.door \"t\" when shed.p need shed.q {OWN}"))]);
    let report = audited(&rules, "[shed]\np = false\n", "2026-06-01", None);
    let because = &finding(&report, "mine/shed.door").because;
    assert_eq!((because.len(), because[0].expression.as_str()), (1, "shed.p"));
}

#[test]
fn a14_a_record_at_fault_is_named() {
    let rules = rules(
        "list shed.runs ask \"?\" field name : text ask \"?\" field amps : current ask \"?\" named by name",
        "every r in shed.runs has r.amps <= 3 A",
    );
    let text = "[[shed.runs]]\nname = \"lamp\"\namps = \"2 A\"\n[[shed.runs]]\nname = \"pump\"\namps = \"4 A\"\n";
    let report = audited(&rules, text, "2026-06-01", None);
    let values: Vec<_> = finding(&report, "mine/shed.door")
        .because
        .iter()
        .flat_map(|b| &b.values)
        .map(|v| (v.name.as_str(), written(&v.value)))
        .collect();
    assert_eq!(values, [("shed.runs[pump].amps", "4 A")]);
}

#[test]
fn a14_where_no_record_will_do_each_says_what_kept_it_from_it() {
    let rules = rules(
        "list shed.runs ask \"?\" field name : text ask \"?\" field spare : yes or no ask \"?\" \
         field amps : current ask \"?\" named by name",
        "some r in shed.runs where not r.spare has r.amps <= 3 A",
    );
    let text = "[[shed.runs]]\nname = \"lamp\"\nspare = true\namps = \"2 A\"\n\
                [[shed.runs]]\nname = \"pump\"\nspare = false\namps = \"4 A\"\n";
    let report = audited(&rules, text, "2026-06-01", None);
    let finding = finding(&report, "mine/shed.door");
    assert_eq!((finding.verdict.word(), finding.because.len()), ("unmet", 1), "{:#?}", finding.because);
    let values: Vec<_> =
        finding.because[0].values.iter().map(|v| (v.name.as_str(), written(&v.value), v.place.is_some())).collect();
    assert_eq!(values, [("shed.runs[lamp].spare", "true", true), ("shed.runs[pump].amps", "4 A", true)]);
}

#[test]
fn a14_named_values_are_worked_out() {
    let rules = load(&[mine(&format!(
        "{TWO}\nitem shed.door \"t\" let area = shed.width * shed.height need area >= 3 ft2 {OWN}"
    ))]);
    let report = audited(&rules, "[shed]\nwidth = \"2 ft\"\nheight = \"2 ft\"\n", "2026-06-01", None);
    let worked = &finding(&report, "mine/shed.door").worked_out;
    assert_eq!((worked.len(), worked[0].name.as_str()), (1, "area"));
    assert!(written(&worked[0].value).chars().any(|c| c.is_ascii_digit()), "{worked:?}");
}

#[test]
fn a14_what_is_missing_comes_with_the_packs_question() {
    let report = of_nothing(&rules(TWO, "shed.width >= 2 in"));
    let missing = &finding(&report, "mine/shed.door").missing;
    assert_eq!(
        (missing[0].fact.as_str(), missing[0].ask.as_str(), missing[0].example.as_deref()),
        ("shed.width", "How wide?", Some("2 in"))
    );
    assert_eq!(report.questions[0].fact, "shed.width");
}

#[test]
fn a14_the_smallest_set_that_would_decide() {
    let either = rules(FOUR, "shed.p or (shed.q and shed.r)");
    assert_eq!(missing(&either, ""), ["shed.p"]);
    assert_eq!(missing(&either, "[shed]\np = false\n"), ["shed.q", "shed.r"]);
    assert_eq!(missing(&either, "[shed]\np = false\nq = true\n"), ["shed.r"]);
    assert_eq!(missing(&rules(FOUR, "(shed.p and shed.q) or (shed.r and shed.s)"), "[shed]\nr = true\n"), ["shed.s"]);
    assert_eq!(missing(&rules(TWO, "shed.width >= 2 in"), "[shed]\nwidth = \"2 in ± 1 in\"\n"), ["shed.width"]);
    assert_eq!(
        missing(&rules(TWO, "shed.width + shed.height >= 2 in"), "[shed]\nwidth = \"2 in ± 1 in\"\n"),
        ["shed.height"]
    );
}

//! A27: what a body and a `where` reach.

use crate::lang::{OWN, codes, come_out, comes_out, load, mine, refused};

const RUNS: &str = "fact shed.there : yes or no ask \"?\"
list shed.runs ask \"Each run\"
  field name : text ask \"What?\"
  field amps : current, at least 0 A ask \"How much?\" such as \"1 A\"
  field long : yes or no ask \"Is it long?\"
  named by name
list shed.boxes ask \"Each box\"
  field name : text ask \"Which?\"
  field open : yes or no ask \"Is it open?\"
  field most : current, at least 0 A ask \"How much?\" such as \"1 A\"
  named by name\n";

const THREE: &str = "shed.runs = (name = \"a\", amps = 2 A, long = yes), (name = \"b\", amps = 5 A, long = no),
    (name = \"c\", amps = 3 A, long = no)";

#[test]
fn a27_where_takes_in_or_whoever_asks() {
    for (need, verdict) in [
        ("(count r in shed.runs where r.long or r.amps > 4 A) is 2", "met"),
        ("(count r in shed.runs where r.amps > 4 A or r.long) is 2", "met"),
        ("(sum of r.amps for r in shed.runs where r.long or r.amps > 4 A) is 7 A", "met"),
        ("(least of r.amps for r in shed.runs where r.long or r.amps > 4 A) is 2 A", "met"),
        ("(greatest of r.amps for r in shed.runs where r.long or r.amps > 2 A) is 5 A", "met"),
        ("(mean of r.amps weighted by 1 for r in shed.runs where r.long or r.amps > 4 A) is 3.5 A", "met"),
        ("every r in shed.runs where r.long or r.amps > 4 A has r.amps is not 3 A", "met"),
        ("some r in shed.runs where r.long or r.amps > 4 A has r.amps is 3 A", "unmet"),
    ] {
        comes_out(RUNS, need, &format!("try \"three\" {THREE} => {verdict}"));
    }
}

#[test]
fn a27_a_body_takes_in_or() {
    for (need, verdict) in [
        ("every r in shed.runs has r.long or r.amps >= 3 A", "met"),
        ("some r in shed.runs has r.amps > 9 A or r.long", "met"),
        ("shed.there or every r in shed.runs has r.long or r.amps >= 5 A", "unmet"),
    ] {
        comes_out(RUNS, need, &format!("try \"three\" shed.there = no, {THREE} => {verdict}"));
    }
}

#[test]
fn a27_a_closing_parenthesis_ends_it() {
    for (need, verdict) in [
        ("(count r in shed.runs where r.long or r.amps > 4 A) is 9 or shed.there", "met"),
        ("(every r in shed.runs has r.long) or shed.there", "met"),
        ("(some r in shed.runs where r.long has r.amps > 9 A) and shed.there", "unmet"),
    ] {
        comes_out(RUNS, need, &format!("try \"three\" shed.there = yes, {THREE} => {verdict}"));
    }
}

#[test]
fn a27_the_comma_of_an_argument_ends_it() {
    comes_out(
        RUNS,
        "larger(count r in shed.runs where r.long or r.amps > 4 A, 1) is 2",
        &format!("try \"three\" {THREE} => met"),
    );
}

#[test]
fn a27_or_a_measure_if_empty_ends_it() {
    let need = "(sum of r.amps for r in shed.runs where r.long or r.amps > 4 A or 1 A if empty) is 7 A";
    comes_out(RUNS, need, &format!("try \"three\" {THREE} => met"));
    let need = "sum of r.amps for r in shed.runs where r.long or r.amps > 4 A or 1 A if empty <= 1 A";
    comes_out(RUNS, need, &format!("try \"three\" {THREE} => unmet try \"none\" shed.runs = empty => met"));
    // Of two sums, one in the other's `where`, the inner one has it.
    let need = "(sum of r.amps for r in shed.runs
        where r.amps >= least of b.most for b in shed.boxes where b.open or r.long or 4 A if empty) is 5 A";
    comes_out(RUNS, need, &format!("try \"three\" {THREE}, shed.boxes = empty => met"));
}

#[test]
fn a27_the_end_of_the_clause_ends_it() {
    let rules = mine(&format!(
        "{RUNS}item shed.door \"It is so\"
           let many = count r in shed.runs where r.long or r.amps > 4 A
           when some r in shed.runs has r.long or r.amps > 4 A
           need many <= 2 {OWN}
           try \"three\" {THREE} => met"
    ));
    come_out(&[rules]);
}

/// The parts that are told to say nothing of a record, as they are written.
fn told(declared: &str, clauses: &str) -> Vec<String> {
    let text = format!("{RUNS}{declared}item shed.door \"It is so\" {clauses} {OWN}");
    let (sources, messages) = refused(&[mine(&text)]);
    let found = codes(&messages);
    assert!(found.iter().all(|code| *code == "list::not-of-the-record"), "{found:?}");
    messages.iter().filter_map(|m| m.labels.first()).map(|label| sources.text(label.span).to_owned()).collect()
}

#[test]
fn a27_a_part_that_mentions_no_record_is_an_error() {
    for (need, parts) in [
        ("every r in shed.runs has shed.there", &["shed.there"][..]),
        ("some r in shed.runs has r.long or shed.there", &["shed.there"]),
        ("every r in shed.runs where r.amps > 5 A has r.amps > 1 A and shed.there is yes", &["shed.there is yes"]),
        ("some r in shed.runs has r.long and (r.amps > 1 A or not shed.there)", &["shed.there"]),
        ("every r in shed.runs where shed.there and r.long has r.amps > 1 A", &["shed.there"]),
        ("(count r in shed.runs where r.long or shed.there) > 1", &["shed.there"]),
        ("(sum of r.amps for r in shed.runs where shed.there) > 1 A", &["shed.there"]),
        ("(least of r.amps for r in shed.runs where r.long and shed.there) > 1 A", &["shed.there"]),
        ("(mean of r.amps weighted by 1 for r in shed.runs where shed.there) > 1 A", &["shed.there"]),
        ("some r in shed.runs has r.long or confirmed by inspector", &["confirmed by inspector"]),
        ("every r in shed.runs has yes and today > 2026-01-01", &["yes", "today > 2026-01-01"]),
        // What asks of another list is the same for every record of this one.
        ("every r in shed.runs has some b in shed.boxes has b.open", &["some b in shed.boxes has b.open"]),
        ("every r in shed.runs has alike \"x\", every shed.boxes.name", &["alike \"x\", every shed.boxes.name"]),
        (
            "every r in shed.runs has (count b in shed.boxes where b.open) > 1",
            &["(count b in shed.boxes where b.open) > 1"],
        ),
    ] {
        let need = need.replace("alike \"x\"", "alike shed.name");
        let parts: Vec<String> = parts.iter().map(|part| part.replace("alike \"x\"", "alike shed.name")).collect();
        assert_eq!(told("fact shed.name : text ask \"?\"\n", &format!("ask \"?\" need {need}")), parts, "{need}");
    }
}

#[test]
fn a27_what_a_let_or_a_formula_mentions_counts() {
    let rules = |clauses: &str| load(&[mine(&format!("{RUNS}{clauses}"))]);
    // Through a formula's argument, and through a `let` of the record the item is raised for.
    rules(&format!(
        "formula twice (a : current) = a * 2
         item shed.door \"It is so\" need every r in shed.runs has twice(r.amps) > 1 A {OWN}
         item shed.run for each r in shed.runs \"It is so\" let much = r.amps > 4 A
           need every b in shed.boxes has b.open or much or r.long {OWN}"
    ));
    assert_eq!(
        told(
            "formula twice (a : current) = a * 2\n",
            "let much = shed.there need every r in shed.runs has r.long or much"
        ),
        ["much"]
    );
    assert_eq!(
        told(
            "formula twice (a : current) = a * 2\nfact shed.amps : current ask \"?\"\n",
            "need every r in shed.runs has twice(shed.amps) > 1 A"
        ),
        ["twice(shed.amps) > 1 A"]
    );
}

#[test]
fn a27_a_body_of_a_formula_is_held_to_it_too() {
    let declared = "formula long (either : yes or no) = count r in shed.runs where r.long or either\n";
    let found = told(declared, "need shed.there");
    assert_eq!(found, ["either"]);
}

#[test]
fn a27_an_enclosing_record_is_enough() {
    load(&[mine(&format!(
        "{RUNS}item shed.door \"It is so\"
           need every r in shed.runs has some b in shed.boxes where b.open or r.long has b.most >= r.amps {OWN}
         item shed.box \"It is so\"
           need every r in shed.runs has some b in shed.boxes has b.open and r.long {OWN}"
    ))]);
}

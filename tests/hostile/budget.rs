//! What is handed in costs no more than a bound that is known beforehand: what would cost more is undecided and says so,
//! or is an error where it is written.

use crate::cli::{MANIFEST, Run, WORDS};

/// Six lists of twenty records, each held against all the others: sixty-four million steps.
#[test]
fn records_in_nested_loops_have_a_bound() {
    let list = |n: usize| {
        format!(
            "list spar.l{n}\n  ask \"?\"\n  field name : text\n    ask \"?\"\n  field a : length\n    ask \"?\"\n  named by name\n"
        )
    };
    let lists: String = (1..=6).map(list).collect();
    let every = |most: usize| -> String {
        (1..=most).map(|n| format!("every a{n} in spar.l{n} has (")).collect::<String>()
            + &(1..=most).map(|n| format!("a{n}.a")).collect::<Vec<_>>().join(" + ")
            + " < 1 in"
            + &")".repeat(most)
    };
    let item = |name: &str, need: &str| {
        format!(
            "item spar.{name}\n  \"{name}\"\n  need {need}\n  by visit\n  basis common practice\n  cite common practice\n"
        )
    };
    let rules = format!("{WORDS}{lists}{}{}", item("deep", &every(6)), item("flat", &every(2)));
    let record = |n: usize, at: usize| format!("[[spar.l{n}]]\nname = \"r{at}\"\na = \"0.001 in\"\n");
    let facts: String = (1..=6).flat_map(|n| (0..20).map(move |at| record(n, at))).collect();
    let run = Run::new("hostile-nested")
        .file("project.toml", "name = \"Test bench\"\npacks = [\"./shed\"]\n")
        .file("shed/pack.toml", MANIFEST)
        .file("shed/rules.checklist", rules)
        .file("facts.toml", facts);
    let ran = run.step(&["why", "spar.deep"]);
    assert!(ran.out.contains("NOT SHOWN") && ran.out.contains("1000000 steps"), "{}{}", ran.out, ran.err);
    // Four hundred are worked out: undecided only because nobody says that the lists are whole.
    let ran = run.step(&["why", "spar.flat"]);
    assert!(!ran.out.contains("steps"), "{}{}", ran.out, ran.err);
    let ran = run.step(&["audit", "--on", "2026-11-25", "--format", "json"]);
    assert!(ran.out.contains("too-many-steps"), "{}", ran.out);
}

/// Every part of a circle of a thousand disturbs every other.
#[test]
fn what_is_disturbed_has_a_bound() {
    let part = |n: usize| format!("spar.p{n}");
    let subjects: String = (0..40).map(|n| format!("  {} \"Part\"\n", part(n))).collect();
    let others = |n: usize| (0..40).filter(|other| *other != n).map(part).collect::<Vec<_>>().join(", ");
    let circles: String = (0..40).map(|n| format!("disturbing {} also disturbs {}\n", part(n), others(n))).collect();
    let rules = format!("{WORDS}subjects\n{subjects}{circles}");
    let run = crate::cli::with_pack("hostile-circles", &rules);
    run.args(&["audit"]).go().refuses(&["program::too-many-disturbed", "more than 1000 parts", "rules.checklist:"]);
}

/// A text that is too long for a form is neither of that form nor not.
#[test]
fn a_long_text_is_held_against_no_form() {
    let rules = format!(
        "{WORDS}pattern plate \"A plate\" matching \"[a-z]*b\"\nfact spar.plate : text\n  ask \"?\"\nitem spar.plated\n  \"Plated\"\n  need \
         spar.plate fits plate\n  by visit\n  basis common practice\n  cite common practice\n"
    );
    for (letters, verdict) in [(999, "met"), (1_000_000, "not-shown")] {
        let run = crate::cli::with_pack(&format!("hostile-form-{letters}"), &rules)
            .file("facts.toml", format!("[spar]\nplate = \"{}b\"\n", "a".repeat(letters)));
        let ran = run.step(&["audit", "--on", "2026-11-25", "--format", "json"]);
        let found: serde_json::Value = serde_json::from_str(&ran.out).expect("JSON");
        let findings = found["findings"].as_array().unwrap_or_else(|| panic!("{}", ran.out));
        let of_item = findings.iter().find(|finding| finding["item"] == "shed/spar.plated").expect("a finding");
        assert_eq!(of_item["verdict"], verdict, "{of_item:#}");
    }
}

/// Squares of squares, and readings with odd fractions of thirty digits: what is worked out is near enough and short.
#[test]
fn numbers_have_a_bound() {
    let square = |n: usize| format!("    let s{} = s{n} * s{n}\n", n + 1);
    let lets: String = (0..9).map(square).collect();
    let rules = format!(
        "{WORDS}item spar.square\n  \"Square\"\n  let s0 = spar.ratio * spar.ratio\n{lets}  need s9 < 2\n  by visit\n  basis common \
         practice\n  cite common practice\nitem spar.more\n  \"More\"\n  let s0 = spar.ratio * spar.ratio\n{lets}  need s9 > 2\n  \
         by visit\n  basis common practice\n  cite common practice\n"
    );
    let run = crate::cli::with_pack("hostile-squares", &rules)
        .file("facts.toml", "[spar]\nratio = \"1 1/1000000000000000000000000031340\"\n");
    let ran = run.step(&["audit", "--on", "2026-11-25", "--format", "json"]);
    let found: serde_json::Value = serde_json::from_str(&ran.out).expect("JSON");
    let verdict = |name: &str| {
        let findings = found["findings"].as_array().unwrap_or_else(|| panic!("{}{}", ran.out, ran.err));
        findings.iter().find(|finding| finding["item"] == name).map(|finding| finding["verdict"].clone())
    };
    assert_eq!((verdict("shed/spar.square"), verdict("shed/spar.more")), (Some("met".into()), Some("unmet".into())));
}

/// Of many errors the first are shown in full, and all of them counted.
#[test]
fn no_more_errors_are_shown_than_anybody_reads() {
    let keys: String = (0..4000).map(|at| format!("spann{at} = 1\n")).collect();
    let long = format!("\"{}\" = 1\n", "k".repeat(1_000_000));
    let ran = crate::cli::project("hostile-keys", format!("[spar]\n{keys}{long}")).step(&["audit"]);
    assert!(ran.err.contains("4001 errors") && ran.err.contains("the first 200"), "{}", ran.err.len());
    assert!(ran.err.matches("fact::unknown").count() == 200 && ran.err.len() < 400_000, "{}", ran.err.len());
}

/// Ten thousand patterns over all files: no more is found, or looked through, than a project may have.
#[test]
fn patterns_have_a_bound() {
    let files: Vec<String> = (0..300).map(|at| format!("evidence/{at}.jpg")).collect();
    let patterns = vec!["\"**/*.jpg\""; 2000].join(", ");
    let facts = format!("[spar]\nevidence = [{patterns}]\n");
    let mut run = crate::cli::project("hostile-patterns", facts);
    for file in files {
        run = run.file(&file, "light");
    }
    let ran = run.step(&["audit"]);
    assert!(ran.status == 3 && ran.err.contains("evidence::too-many"), "{}", ran.err);
    assert!(ran.err.contains("stand for 100000 files"), "{}", ran.err);
}

/// Thousands of messages about one endless line do not hold it thousands of times.
#[test]
fn an_endless_line_is_not_kept_with_each_message() {
    let long =
        format!("spar = {{ {} }}\n", (0..3000).map(|at| format!("spann{at} = 1")).collect::<Vec<_>>().join(", "));
    let run = crate::cli::project("hostile-line", &long);
    let Err(error) = cotterpin::Project::from_folder(run.folder()) else { panic!("it is read") };
    assert_eq!(error.messages().len(), 3000);
    let kept: usize = error.messages().iter().flat_map(|one| &one.labels).map(|label| label.written.len()).sum();
    assert!(long.len() > 30_000 && kept == 0, "{kept}");
}

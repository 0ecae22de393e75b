//! What no sane pack would hold: it ends in a message, soon, and never in a
//! crash. Where a crash would end the whole run of tests, the text is read in
//! a process of its own.

use super::{OWN, WORDS, codes, come_out, load, mine, of_nothing, pack, refused, samples::first_sample, told};
use cotterpin::audit::{Verdict, run_examples};
use cotterpin::rules::{PackText, load_packs};
use proptest::prelude::*;
use std::process::Command;
use std::time::{Duration, Instant};

const FACTS: &str = "fact shed.n : number ask \"?\" fact shed.p : yes or no ask \"?\"
list shed.l ask \"?\" field n : number ask \"?\"\n";

fn item(need: &str) -> PackText {
    mine(&format!("{FACTS}item shed.door \"t\" need {need} {OWN}"))
}

/// Reads a pack, whatever comes of it; only the time counts.
fn soon(pack: PackText) {
    let began = Instant::now();
    let _ = load_packs(&[pack]);
    assert!(began.elapsed() < Duration::from_secs(20), "it took {:?}", began.elapsed());
}

/// Texts that have a process of their own, by name.
fn text_of(name: &str) -> PackText {
    match name {
        "parentheses" => item(&format!("{}shed.n > 1{}", "(".repeat(10_000), ")".repeat(10_000))),
        "parentheses after a lone quote" => pack("mine", &[], &format!("fact a.b \"\nformula f(x : number) = {}x", "(".repeat(10_000))),
        "brackets" => item(&format!("{}shed.n{} > 1", "t[".repeat(10_000), "]".repeat(10_000))),
        "not" => item(&format!("{}shed.p", "not ".repeat(10_000))),
        "every 300" => item(&format!("{}r.n > 1", "every r in shed.l has ".repeat(300))),
        "every 1000" => item(&format!("{}r.n > 1", "every r in shed.l has ".repeat(1000))),
        "every 10000" => item(&format!("{}r.n > 1", "every r in shed.l has ".repeat(10_000))),
        "where" => item(&format!("{}shed.p has shed.p", "every r in shed.l where ".repeat(10_000))),
        "count where" => item(&format!("{}shed.p > 1", "count r in shed.l where ".repeat(2000))),
        "percent of" => item(&format!("{}shed.n > 1", "1 % of ".repeat(10_000))),
        "sum of" => item(&format!("{}shed.n{} > 1", "sum of ".repeat(3000), " for r in shed.l".repeat(3000))),
        "plus" => item(&format!("shed.n{} > 1", " + shed.n".repeat(200_000))),
        "times" => item(&format!("shed.n{} > 1", " * shed.n".repeat(200_000))),
        "and" => item(&format!("shed.p{}", " and shed.p".repeat(50_000))),
        "unclosed calls" => item(&"absolute(".repeat(48)),
        _ => panic!("no text named {name}"),
    }
}

/// Reads the text in a process of its own; a crash there is a failure here.
fn survives(name: &str) {
    let program = std::env::current_exe().expect("this program");
    let began = Instant::now();
    let output = Command::new(program)
        .args(["--exact", "lang::limits::the_text_named_by_the_environment", "--ignored"])
        .env("LANG_LIMITS_TEXT", name)
        .output()
        .expect("it starts");
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "`{name}` ends with {}: {}", output.status, said.trim());
    assert!(String::from_utf8_lossy(&output.stdout).contains("1 passed"), "nothing was run");
    assert!(began.elapsed() < Duration::from_secs(60), "`{name}` took {:?}", began.elapsed());
}

#[test]
#[ignore = "run by the tests of this file, in a process of its own"]
fn the_text_named_by_the_environment() {
    let name = std::env::var("LANG_LIMITS_TEXT").expect("run by `survives`");
    soon(text_of(&name));
}

#[test]
fn ten_thousand_parentheses_are_refused() {
    survives("parentheses");
    assert_eq!(codes(&refused(&[text_of("parentheses")]).1), ["syntax::nesting"]);
    survives("brackets");
    survives("unclosed calls");
}

#[test]
fn parentheses_after_a_lone_quote_do_not_crash() {
    survives("parentheses after a lone quote");
}

#[test]
fn ten_thousand_not_are_one_or_none() {
    survives("not");
    come_out(&[mine(&format!(
        "{FACTS}item shed.door \"t\" need {}shed.p {OWN} try \"x\" shed.p = yes => met
         item shed.gate \"t\" need {}shed.p {OWN} try \"x\" shed.p = yes => unmet",
        "not ".repeat(10_000),
        "not ".repeat(10_001)
    ))]);
}

#[test]
fn three_hundred_every_do_not_crash() {
    survives("every 300");
}

#[test]
fn a_thousand_every_do_not_crash() {
    survives("every 1000");
}

#[test]
fn ten_thousand_every_do_not_crash() {
    survives("every 10000");
    survives("where");
}

#[test]
fn nested_counts_do_not_crash() {
    survives("count where");
}

#[test]
fn nested_percentages_do_not_crash() {
    survives("percent of");
}

#[test]
fn nested_sums_do_not_crash() {
    survives("sum of");
}

#[test]
fn a_sum_of_many_terms_does_not_crash() {
    survives("plus");
    survives("times");
}

#[test]
fn a_condition_of_many_parts_does_not_crash() {
    survives("and");
}

#[test]
fn formulas_that_double_their_cost_are_refused() {
    let mut text = format!("{FACTS}formula f0 (x : number) = x + x\n");
    for n in 1..40 {
        text.push_str(&format!("formula f{n} (x : number) = f{}(x) + f{}(x)\n", n - 1, n - 1));
    }
    let began = Instant::now();
    let (_, messages) = refused(&[mine(&format!("{text}item shed.door \"t\" need f39(shed.n) > 1 {OWN}"))]);
    assert_eq!(codes(&messages), ["program::too-costly"]);
    assert!(began.elapsed() < Duration::from_secs(20));
}

#[test]
fn named_values_that_double_their_cost_are_refused() {
    // Each value is used twice by the next: working the last one out takes 2^64 steps.
    let lets: Vec<String> = (1..=64).map(|n| format!("let v{n} = v{} * v{}", n - 1, n - 1)).collect();
    let text = format!("{FACTS}item shed.door \"t\" let v0 = shed.n {} need v64 > 1 {OWN}", lets.join(" "));
    assert_eq!(codes(&refused(&[mine(&text)]).1), ["program::too-costly"]);
}

#[test]
fn arguments_that_double_their_cost_are_refused() {
    let call = format!("{}shed.n{}", "sq(".repeat(40), ")".repeat(40));
    let text = format!("{FACTS}formula sq (x : number) = x * x item shed.door \"t\" need {call} > 1 {OWN}");
    assert_eq!(codes(&refused(&[mine(&text)]).1), ["program::too-costly"]);
}

#[test]
fn lists_in_lists_have_a_bound() {
    let need = format!("{}shed.p", "every r in shed.l has ".repeat(40));
    assert_eq!(codes(&refused(&[item(&need)]).1), ["program::too-costly"]);
}

#[test]
fn huge_numbers_are_read_or_refused() {
    let digits = "9".repeat(100_000);
    for need in [
        format!("shed.n > {digits}"),
        format!("shed.n > 0.{digits}"),
        format!("shed.n > 1/{digits}"),
        format!("shed.n > {digits} {digits}/{digits}"),
        format!("{digits} % of shed.n > 1"),
        format!("inspected shed.n by {digits} people"),
        format!("today is within the last {digits} months"),
        format!("today + {digits} years > today"),
    ] {
        soon(item(&need));
    }
    let (sources, messages) = refused(&[item(&format!("shed.n > 1 and shed.n > {digits} furlongz"))]);
    for message in told(&sources, &messages[..1]) {
        assert!(messages[0].message.len() < 500, "a message of {} bytes", message.len());
    }
}

#[test]
fn a_shift_beyond_the_calendar_is_no_date() {
    let text = format!(
        "fact shed.day : date ask \"?\"
         item shed.door \"t\" need shed.day + 90000 calendar months > today {OWN} try \"x\" shed.day = 2026-01-01 => not-shown"
    );
    come_out(&[mine(&text)]);
}

#[test]
fn an_empty_file_is_an_empty_pack() {
    for text in ["", "\n\n", "-- nothing", "\u{FEFF}", "\r\n\t \u{A0}"] {
        let rules = load(&[pack("mine", &[], text)]);
        assert!(rules.items.is_empty() && rules.warnings.is_empty(), "{text:?}");
        assert_eq!(of_nothing(&rules).exit_status(), 3);
    }
}

#[test]
fn strings_hold_any_text_and_names_do_not() {
    let rules = load(&[mine(&format!(
        "fact shed.name : text ask \"Wie heißt er? 名前は？ \u{1F6E9}\" item shed.door \"Größe — \"\"so\"\"\n   und weiter\" need shed.name is \"Ö\" {OWN}
           try \"é\" shed.name = \"Ö\" => met
           try \"not the same letters\" shed.name = \"O\u{308}\" => unmet"
    ))]);
    assert_eq!(rules.items[0].title, "Größe — \"so\" und weiter");
    assert!(run_examples(&rules).iter().all(|result| result.got == result.expected));
    for text in ["fact shed.größe : text ask \"?\"", "fact 名前 : text ask \"?\"", "fact shed.a : text ask \u{201C}?\u{201D}"] {
        let (sources, messages) = refused(&[mine(text)]);
        assert!(messages[0].code.starts_with("syntax::"), "{:#?}", told(&sources, &messages));
    }
}

#[test]
fn a_string_left_open_is_told_and_pointed_at() {
    for text in ["fact shed.a : text ask \"How?", "item shed.a \"t", "fact shed.a : text ask \"How?\nfact shed.b : text ask \"So\""] {
        let (sources, messages) = refused(&[mine(text)]);
        assert!(messages[0].code.starts_with("syntax::"), "{:#?}", told(&sources, &messages));
        assert!(!messages[0].labels.is_empty());
    }
}

#[test]
fn ten_thousand_mistakes_are_told_in_time() {
    let mut text = WORDS.to_owned();
    for n in 0..3000 {
        text.push_str(&format!("fact shed.f{n} : lenght ask \"?\"\nitem shed.i{n} \"t\" nedd shed.f{n}\n"));
    }
    soon(pack("mine", &[], &text));
}

/// Tokens of the language, to be strung together without sense.
const TOKENS: [&str; 40] = [
    "fact ", "item ", "need ", "shed.n ", "shed.p ", "(", ")", "[", "]", "\"", "\"t\" ", "3 in ", "50 % of ", "2026-01-01 ",
    "every r in shed.l has ", "count r in shed.l where ", "sum of ", "for ", "and ", "or ", "not ", "is ", "is not ", "one of ",
    "none ", "=> ", "= ", "± ", ": ", ", ", "-- ", "\n", "list ", "table ", "row ", "try ", "by visit ", "basis own ", "cite common practice ", "é",
];

/// Every label points into its file, on whole characters.
fn looked_at(packs: &[PackText]) {
    match load_packs(packs) {
        Ok(rules) => {
            let _ = run_examples(&rules);
            let _ = of_nothing(&rules);
        }
        Err(failed) => {
            let (sources, messages) = *failed;
            for label in messages.iter().flat_map(|message| &message.labels) {
                let file = sources.file(label.span.source).expect("a file");
                assert!(file.text.get(label.span.range()).is_some(), "a label beside a character: {label:?} in {:?}", file.text);
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]
    #[test]
    fn any_text_is_read_without_a_panic(text in any::<String>()) {
        looked_at(&[pack("mine", &[], &text)]);
    }

    #[test]
    fn any_bytes_are_read_without_a_panic(bytes in proptest::collection::vec(any::<u8>(), 0..300)) {
        looked_at(&[pack("mine", &[], &String::from_utf8_lossy(&bytes))]);
    }

    #[test]
    fn any_words_are_read_without_a_panic(tokens in proptest::collection::vec(0usize..TOKENS.len(), 0..60)) {
        let text: String = tokens.iter().map(|n| TOKENS[*n]).collect();
        looked_at(&[mine(&format!("{FACTS}{text}"))]);
        looked_at(&[mine(&format!("{FACTS}item shed.door \"t\" need {text}"))]);
    }

    #[test]
    fn a_good_pack_with_a_piece_out_or_another_in_is_read_without_a_panic(
        at in 0usize..3000, length in 0usize..40, from in 0usize..TOKENS.len(), twice in any::<bool>()
    ) {
        let good: Vec<char> = first_sample().chars().collect();
        let at = at.min(good.len());
        let end = (at + length).min(good.len());
        let mut text: String = good[..at].iter().collect();
        text.push_str(TOKENS[from]);
        if twice { text.extend(&good[at..end]); text.extend(&good[at..]); } else { text.extend(&good[end..]); }
        looked_at(&[pack("mine", &[], &text)]);
    }

    #[test]
    fn any_manifest_is_read_without_a_panic(manifest in any::<String>()) {
        let wrong = load_packs(&[PackText { name: "mine".to_owned(), manifest, files: Vec::new() }]);
        prop_assert!(wrong.is_err());
    }
}

#[test]
fn nothing_recorded_meets_nothing() {
    for need in ["2 in >= 1 in", "shed.p or yes", "1 is 1"] {
        match load_packs(&[item(need)]) {
            Err(failed) => assert_eq!(codes(&failed.1), ["item::always-met"], "{need}"),
            Ok(rules) => assert_ne!(of_nothing(&rules).findings[0].verdict, Verdict::Met, "{need} is met whatever is recorded"),
        }
    }
}

//! What no sane pack would hold: it ends in a message, soon, and never in a crash.

mod any;
mod nesting;

use super::{OWN, WORDS, codes, come_out, load, mine, of_nothing, pack, refused, told};
use crate::fixtures::packs::load_packs;
use cotterpin_engine::lint::run_examples;
use cotterpin_packs::PackText;
use std::time::{Duration, Instant};

const FACTS: &str = "fact shed.n : number ask \"?\" fact shed.p : yes or no ask \"?\"
list shed.l ask \"?\" field n : number ask \"?\" field name : text ask \"?\" named by name\n";

fn item(need: &str) -> PackText {
    mine(&format!("{FACTS}item shed.door \"t\" need {need} {OWN}"))
}

/// Reads a pack, whatever comes of it; only the time counts.
fn soon(pack: PackText) {
    let began = Instant::now();
    let _ = load_packs(&[pack]);
    assert!(began.elapsed() < Duration::from_secs(20), "it took {:?}", began.elapsed());
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
    let call = format!("{}shed.n{}", "sq(".repeat(24), ")".repeat(24));
    let text = format!("{FACTS}formula sq (x : number) = x * x item shed.door \"t\" need {call} > 1 {OWN}");
    assert_eq!(codes(&refused(&[mine(&text)]).1), ["program::too-costly"]);
}

#[test]
fn lists_in_lists_have_a_bound() {
    let loops: String = (0..20).map(|n| format!("every r{n} in shed.l has ")).collect();
    let need = format!("{loops}shed.p");
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
         item shed.door \"t\" need shed.day + 99990 calendar months > today {OWN} try \"x\" shed.day = 2026-01-01 => not-shown"
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
    assert_eq!(rules.items.first().unwrap().title, "Größe — \"so\" und weiter");
    assert!(run_examples(&rules).iter().all(|result| result.got == result.expected));
    for text in
        ["fact shed.größe : text ask \"?\"", "fact 名前 : text ask \"?\"", "fact shed.a : text ask \u{201C}?\u{201D}"]
    {
        let (sources, messages) = refused(&[mine(text)]);
        assert!(
            messages.iter().any(|message| message.code.starts_with("syntax::")),
            "{:#?}",
            told(&sources, &messages)
        );
    }
}

#[test]
fn a_string_left_open_is_told_and_pointed_at() {
    for text in [
        "fact shed.a : text ask \"How?",
        "item shed.a \"t",
        "fact shed.a : text ask \"How?\nfact shed.b : text ask \"So\"",
    ] {
        let (sources, messages) = refused(&[mine(text)]);
        let syntax: Vec<_> = messages.iter().filter(|message| message.code.starts_with("syntax::")).collect();
        assert_eq!((syntax.len(), syntax[0].code), (1, "syntax::unclosed"), "{:#?}", told(&sources, &messages));
        let marked = sources.text(syntax[0].labels[0].span);
        assert!(["\"How?", "\"t"].contains(&marked), "{marked}");
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

#[test]
fn the_author_is_told_of_an_item_met_whatever_is_recorded() {
    for need in ["2 in >= 1 in", "shed.p or yes", "1 is 1"] {
        match load_packs(&[item(need)]) {
            Err(failed) => assert_eq!(codes(&failed.1), ["item::always-met"], "{need}"),
            Ok(rules) => {
                let warned = rules.warnings.iter().any(|message| message.code == "item::always-met");
                assert!(warned, "{need} is met whatever is recorded, and nobody is told");
            }
        }
    }
}

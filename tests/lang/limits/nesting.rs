//! Nesting and length. A crash would end the whole run of tests, so each text
//! is read in a process of its own.

use super::{FACTS, item, soon};
use crate::lang::{OWN, codes, come_out, mine, pack, refused};
use cotterpin_packs::PackText;
use std::process::Command;
use std::time::{Duration, Instant};

/// Texts that have a process of their own: what is repeated, and how often.
fn text_of(name: &str, n: usize) -> PackText {
    match name {
        "parentheses" => item(&format!("{}shed.n > 1{}", "(".repeat(n), ")".repeat(n))),
        "parentheses after a lone quote" => {
            pack("mine", &[], &format!("fact a.b \"\nformula f(x : number) = {}x", "(".repeat(n)))
        }
        "brackets" => item(&format!("{}shed.n{} > 1", "t[".repeat(n), "]".repeat(n))),
        "calls left open" => item(&"absolute(".repeat(n)),
        "not" => item(&format!("{}shed.p", "not ".repeat(n))),
        "every" => item(&format!("{}r.n > 1", "every r in shed.l has ".repeat(n))),
        "every in parentheses" => item(&format!("{}r.n > 1{}", "every r in shed.l has (".repeat(n), ")".repeat(n))),
        "where" => item(&format!("{}shed.p has shed.p", "every r in shed.l where ".repeat(n))),
        "count" => item(&format!("{}shed.p > 1", "count r in shed.l where ".repeat(n))),
        "percent" => item(&format!("{}shed.n > 1", "1 % of ".repeat(n))),
        "sum" => item(&format!("{}shed.n{} > 1", "sum of ".repeat(n), " for r in shed.l".repeat(n))),
        "plus" => item(&format!("shed.n{} > 1", " + shed.n".repeat(n))),
        "times" => item(&format!("shed.n{} > 1", " * shed.n".repeat(n))),
        "and" => item(&format!("shed.p{}", " and shed.p".repeat(n))),
        _ => panic!("no text named {name}"),
    }
}

/// Reads the text in a process of its own; a crash there is a failure here.
fn survives(name: &str, times: &[usize]) {
    for n in times {
        survives_once(name, *n);
    }
}

fn survives_once(name: &str, n: usize) {
    let program = std::env::current_exe().expect("this program");
    let began = Instant::now();
    let output = Command::new(program)
        .args(["--exact", "lang::limits::nesting::the_text_named_by_the_environment", "--ignored"])
        .env("LANG_LIMITS_TEXT", name)
        .env("LANG_LIMITS_TIMES", n.to_string())
        .output()
        .expect("it starts");
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{n} times `{name}` ends with {}: {}", output.status, said.trim());
    assert!(String::from_utf8_lossy(&output.stdout).contains("1 passed"), "nothing was run");
    assert!(began.elapsed() < Duration::from_secs(60), "{n} times `{name}` took {:?}", began.elapsed());
}

#[test]
#[ignore = "run by the tests of this file, in a process of its own"]
fn the_text_named_by_the_environment() {
    let name = std::env::var("LANG_LIMITS_TEXT").expect("run by `survives`");
    let times = std::env::var("LANG_LIMITS_TIMES").expect("run by `survives`");
    let times = times.parse().expect("a number");
    // A quarter of what the least of the systems gives its first thread.
    let small = std::thread::Builder::new().stack_size(256 << 10).spawn(move || soon(text_of(&name, times)));
    small.expect("a thread").join().expect("it ends well");
}

/// Some depths are refused by a limit and lesser ones are not: all are tried.
const DEPTHS: [usize; 5] = [100, 300, 1000, 3000, 10_000];

#[test]
fn ten_thousand_parentheses_are_refused() {
    for name in ["parentheses", "brackets", "calls left open"] {
        survives(name, &DEPTHS);
        survives(name, &[40, 48, 49]);
    }
    assert_eq!(codes(&refused(&[text_of("parentheses", 10_000)]).1), ["syntax::nesting"]);
}

#[test]
fn parentheses_after_a_lone_quote_do_not_crash() {
    survives("parentheses after a lone quote", &DEPTHS);
}

#[test]
fn ten_thousand_not_are_one_or_none() {
    survives("not", &DEPTHS);
    come_out(&[mine(&format!(
        "{FACTS}item shed.door \"t\" need {}shed.p {OWN} try \"x\" shed.p = yes => met
         item shed.gate \"t\" need {}shed.p {OWN} try \"x\" shed.p = yes => unmet",
        "not ".repeat(10_000),
        "not ".repeat(10_001)
    ))]);
}

#[test]
fn ten_thousand_every_do_not_crash() {
    survives("every", &DEPTHS);
    survives("every in parentheses", &[40, 48]);
}

#[test]
fn ten_thousand_every_in_a_where_do_not_crash() {
    survives("where", &DEPTHS);
}

#[test]
fn nested_counts_do_not_crash() {
    survives("count", &DEPTHS);
}

#[test]
fn nested_percentages_do_not_crash() {
    survives("percent", &DEPTHS);
}

#[test]
fn nested_sums_do_not_crash() {
    survives("sum", &DEPTHS);
}

#[test]
fn a_sum_or_product_of_many_terms_does_not_crash() {
    for name in ["plus", "times"] {
        survives(name, &[100, 1000, 10_000, 200_000]);
    }
}

#[test]
fn a_condition_of_many_parts_does_not_crash() {
    survives("and", &[1000, 50_000]);
}

//! A9, A13: tables, formulas, bounded cost, and that a pack can do no harm.

use crate::fixtures::packs::load_packs;
use crate::lang::{OWN, codes, come_out, comes_out, mine, of_nothing, pack, refused, verdict};
use cotterpin_engine::vocabulary::Verdict;

/// An invented table, straight, step down and step up.
fn spacing(mode: &str) -> String {
    format!(
        "fact shed.tube : length, above 0 in ask \"?\"
         table spacing (diameter : length, {mode}) gives most : length \"Invented\" cite common practice
           row 1 in : 10 in
           row 2 in : 20 in
           row 4 in : 50 in\n"
    )
}

#[test]
fn a9_tables_are_exact_step_or_linear() {
    let at = |mode: &str, tube: &str, most: &str| {
        comes_out(
            &spacing(mode),
            &format!("spacing[shed.tube] is {most}"),
            &format!("try \"x\" shed.tube = {tube} => met"),
        );
    };
    for mode in ["linear", "step down", "step up"] {
        at(mode, "2 in", "20 in");
        at(mode, "50.8 mm", "20 in");
        at(mode, "4 in", "50 in");
    }
    at("linear", "1.5 in", "15 in");
    at("linear", "3 in", "35 in");
    at("step down", "3.9 in", "20 in");
    at("step up", "2.1 in", "50 in");
    comes_out(
        "choice nut : tension or shear fact shed.thread : text ask \"?\" fact shed.nut : nut ask \"?\"
         table torque (thread : text, nut : nut) gives low : torque, high : torque \"Invented\" cite common practice
           row \"a\", tension : 20 lbf-in, 25 lbf-in
           row \"a\", shear : 12 lbf-in, none\n",
        "torque[shed.thread, shed.nut].low is 12 lbf-in",
        "try \"found\" shed.thread = \"a\", shed.nut = shear => met
         try \"other\" shed.thread = \"a\", shed.nut = tension => unmet
         try \"no such row\" shed.thread = \"b\", shed.nut = shear => not-shown
         try \"nut unknown\" shed.thread = \"a\" => not-shown",
    );
}

#[test]
fn a9_no_extrapolation() {
    for mode in ["linear", "step down", "step up"] {
        for tube in ["0.99 in", "4.01 in", "1 in ± 0.1 in", "at least 2 in"] {
            for need in ["spacing[shed.tube] >= 1 in", "spacing[shed.tube] <= 99 in"] {
                comes_out(&spacing(mode), need, &format!("try \"x\" shed.tube = {tube} => not-shown"));
            }
        }
    }
}

#[test]
fn a9_a_value_the_document_does_not_print_is_no_value() {
    let table = "fact shed.tube : length ask \"?\"
        table spacing (diameter : length, linear) gives most : length \"Invented\" cite common practice
          row 1 in : 10 in
          row 2 in : none
          row 4 in : 50 in\n";
    for tube in ["1.5 in", "2 in", "3 in"] {
        comes_out(table, "spacing[shed.tube] >= 0 in", &format!("try \"x\" shed.tube = {tube} => not-shown"));
    }
}

#[test]
fn a9_an_interval_takes_in_every_row_it_spans() {
    let dip = "fact shed.tube : length ask \"?\"
        table dip (diameter : length, linear) gives most : length \"Invented\" cite common practice
          row 1 in : 10 in
          row 2 in : 2 in
          row 3 in : 10 in\n";
    comes_out(
        dip,
        "dip[shed.tube] >= 6 in",
        "try \"ends above, middle below\" shed.tube = 1 in to 3 in => not-shown\n try \"near the end\" shed.tube = 1 in to 1.5 in => met",
    );
}

#[test]
fn a9_rows_of_one_key_among_others_still_ascend() {
    let text = format!(
        "choice side : left or right fact shed.side : side ask \"?\" fact shed.w : length ask \"?\"
         table t (side : side, w : length, step down) gives most : length \"Invented\" cite common practice
           row left, 2 in : 20 in
           row right, 1 in : 5 in
           row left, 3 in : 30 in
           row right, 2 in : 6 in
           row left, 1 in : 10 in
         item shed.door \"t\" need t[shed.side, shed.w] <= 15 in {OWN}
           try \"the row of 2 in\" shed.side = left, shed.w = 2.5 in => unmet"
    );
    match load_packs(&[mine(&text)]) {
        Err(failed) => assert_eq!(codes(&failed.1), ["table::overlap"]),
        Ok(_) => {
            come_out(&[mine(&text)]);
        }
    }
}

#[test]
fn a9_a_row_without_a_key_is_refused() {
    let text = format!(
        "fact shed.w : length ask \"?\" table t (w : length, linear) gives most : length \"Invented\" cite common practice
           row 1 in : 10 in row none : 90 in row 3 in : 30 in
         item shed.door \"t\" need t[shed.w] <= 20 in {OWN}"
    );
    assert!(load_packs(&[mine(&text)]).is_err(), "a row was dropped in silence");
}

#[test]
fn a9_recursion_is_refused() {
    let fact = "fact shed.n : number ask \"?\"\n";
    for formulas in ["formula f (x : number) = f(x) + 1", "formula f (x : number) = g(x) formula g (x : number) = f(x)"]
    {
        let text = format!("{fact}{formulas} item shed.door \"t\" need f(shed.n) > 1 {OWN}");
        assert!(codes(&refused(&[mine(&text)]).1).contains(&"formula::recursion"));
    }
    comes_out(
        &format!("{fact}formula twice (x : number) = x * 2 formula four (x : number) = twice(twice(x))"),
        "four(shed.n) is 12",
        "try \"x\" shed.n = 3 => met",
    );
}

/// There is no word for anything outside the record: each of these names is
/// refused as unknown, or is no sentence of the language at all.
#[test]
fn a13_a_pack_has_no_way_to_read_files_run_programs_or_see_the_clock() {
    let expressions = [
        "read(shed.name) > 1",
        "file(\"/etc/hosts\") is \"x\"",
        "open(\"x\") > 1",
        "exec(\"ls\") is 0",
        "run(\"ls\") > 0",
        "system(\"ls\") is 0",
        "shell(\"ls\") is 0",
        "env(\"HOME\") is \"x\"",
        "fetch(\"http://x\") is \"x\"",
        "url(\"x\") is \"x\"",
        "now > 2026-01-01",
        "now(1) > 2026-01-01",
        "clock(1) > 1",
        "time(1) > 1",
        "random(1) > 1",
        "rand(1) > 1",
        "import(\"x\") > 1",
        "eval(\"1\") > 1",
        "print(\"x\") is \"x\"",
        "write(\"x\") is \"x\"",
        "sleep(1) > 1",
        "`ls` is 0",
        "$HOME is \"x\"",
    ];
    for expression in expressions {
        let text = format!("fact shed.name : text ask \"?\" item shed.door \"t\" need {expression} {OWN}");
        let (_, messages) = refused(&[mine(&text)]);
        let codes = codes(&messages);
        assert!(codes.contains(&"name::unknown") || codes.contains(&"syntax::unexpected"), "{expression}: {codes:?}");
    }
    for declaration in ["include \"other.checklist\"", "import other", "extern f", "run \"ls\"", "needs network"] {
        assert_eq!(
            codes(&refused(&[mine(&format!("fact shed.a : text ask \"?\"\n{declaration}"))]).1),
            ["syntax::unexpected"],
            "{declaration}"
        );
    }
}

#[test]
fn a13_the_same_pack_and_record_always_say_the_same() {
    let text = "hold-points visit \"V\" systems shed \"S\" fact shed.day : date ask \"?\"
                item shed.door \"t\" need shed.day <= today by visit basis own cite common practice";
    let rules = crate::lang::load(&[pack("mine", &[], text)]);
    let once = cotterpin_engine::report::json(&of_nothing(&rules));
    assert_eq!(once, cotterpin_engine::report::json(&of_nothing(&rules)));
    assert_eq!(verdict(&of_nothing(&rules), "mine/shed.door"), Verdict::NotShown);
}

//! A2, A3: three-valued truth over sets of values, checked by picking points
//! from the sets and deciding them in exact numbers.

use crate::fixtures::values::recorded;
use crate::lang::{OWN, comes_out, load, mine};
use cotterpin_engine::audit::Judge;
use cotterpin_engine::ir::{ItemId, Rules};
use cotterpin_engine::project::{Record, Value};
use cotterpin_engine::quantity::{Date, Exact, ExactInterval};
use cotterpin_engine::vocabulary::Verdict;
use proptest::prelude::*;
use std::sync::LazyLock;

/// Needs over three numbers, of every kind of comparison and arithmetic.
const NEEDS: [&str; 12] = [
    "shed.a <= 3",
    "shed.a >= 50 % of shed.b",
    "shed.a + shed.b < shed.c",
    "shed.a - shed.b >= shed.c * 2",
    "shed.a * shed.b <= 6 or shed.c > 0",
    "not (shed.a > shed.b and shed.b > shed.c)",
    "shed.a is between shed.b and shed.c",
    "shed.a is within 2 of shed.b",
    "larger(shed.a, shed.b) > smaller(shed.b, shed.c)",
    "absolute(shed.a - shed.b) < 3",
    "shed.a / shed.d >= 1 and shed.d is not 2",
    "shed.a is one of 1, 2, shed.b",
];

static RULES: LazyLock<Rules> = LazyLock::new(|| {
    let facts = "fact shed.a : number ask \"?\" fact shed.b : number ask \"?\" fact shed.c : number ask \"?\"
                 fact shed.d : number, above 0 ask \"?\"\n";
    let items: Vec<String> =
        NEEDS.iter().enumerate().map(|(n, need)| format!("item shed.n{n} \"t\" need {need} {OWN}")).collect();
    load(&[mine(&format!("{facts}{}", items.join("\n")))])
});

fn record(ranges: [Option<(i64, i64)>; 4]) -> Record {
    let mut record = Record::default();
    for (name, range) in ["shed.a", "shed.b", "shed.c", "shed.d"].iter().zip(ranges) {
        let Some((lo, hi)) = range else { continue };
        let value = Value::Number(ExactInterval::new(Some(Exact::from_int(lo)), Some(Exact::from_int(hi))));
        record.facts.insert(RULES.fact_by_name[*name], recorded(value, None));
    }
    record
}

fn verdicts(record: &Record) -> Vec<Verdict> {
    let judge = Judge::new(&RULES, record, Date::parse("2026-06-01").expect("a date"));
    (0..NEEDS.len()).map(|n| judge.judge(ItemId::new(n))[0].verdict).collect()
}

/// A range of small whole numbers, or nothing recorded.
fn ranges() -> impl Strategy<Value = Option<(i64, i64)>> {
    prop_oneof![1 => Just(None), 6 => (-4i64..5, 0i64..4).prop_map(|(lo, width)| Some((lo, lo + width)))]
}

/// The need decided in plain integers: no code of the engine.
fn decided(need: usize, [a, b, c, d]: [i64; 4]) -> bool {
    match need {
        0 => a <= 3,
        1 => 2 * a >= b,
        2 => a + b < c,
        3 => a - b >= c * 2,
        4 => a * b <= 6 || c > 0,
        5 => !(a > b && b > c),
        6 => b <= a && a <= c,
        7 => (a - b).abs() <= 2,
        8 => a.max(b) > b.min(c),
        9 => (a - b).abs() < 3,
        10 => a >= d && d != 2,
        _ => a == 1 || a == 2 || a == b,
    }
}

fn within(range: Option<(i64, i64)>, share: i64, least: i64) -> i64 {
    let (lo, hi) = range.unwrap_or((least, 6));
    lo + share.rem_euclid(hi - lo + 1)
}

proptest! {
    #![proptest_config(crate::fixtures::seed::fresh())]
    #[test]
    fn a2_true_for_every_value_false_for_none_else_undecided(
        a in ranges(), b in ranges(), c in ranges(), d in (1i64..4, 0i64..3),
        picks in proptest::array::uniform4(0i64..1000)
    ) {
        let d = Some((d.0, d.0 + d.1));
        let point = [within(a, picks[0], -6), within(b, picks[1], -6), within(c, picks[2], -6), within(d, picks[3], 1)];
        let at_point = verdicts(&record(point.map(|x| Some((x, x)))));
        for (n, verdict) in verdicts(&record([a, b, c, d])).into_iter().enumerate() {
            let holds = decided(n, point);
            prop_assert_ne!(verdict, if holds { Verdict::Unmet } else { Verdict::Met }, "{} at {:?}", NEEDS[n], point);
            // Every value known: nothing is left undecided.
            prop_assert_eq!(at_point[n], if holds { Verdict::Met } else { Verdict::Unmet }, "{} at {:?}", NEEDS[n], point);
        }
    }

    #[test]
    fn a3_learning_never_contradicts(
        wide in proptest::array::uniform3(ranges()), d in (1i64..4, 0i64..3),
        cuts in proptest::array::uniform4((0i64..1000, 0i64..1000))
    ) {
        let wide = [wide[0], wide[1], wide[2], Some((d.0, d.0 + d.1))];
        let mut narrow = wide;
        for (n, (range, cut)) in narrow.iter_mut().zip(cuts).enumerate() {
            let least = if n == 3 { 1 } else { -6 };
            let (one, other) = (within(*range, cut.0, least), within(*range, cut.1, least));
            *range = Some((one.min(other), one.max(other)));
        }
        let (before, after) = (verdicts(&record(wide)), verdicts(&record(narrow)));
        for (n, (before, after)) in before.into_iter().zip(after).enumerate() {
            prop_assert!(before == Verdict::NotShown || before == after, "{}: {before:?}, then {after:?}: {wide:?} {narrow:?}", NEEDS[n]);
        }
    }
}

#[test]
fn a2_a_part_that_decides_alone_needs_no_other() {
    let facts = "fact shed.p : yes or no ask \"?\" fact shed.q : yes or no ask \"?\"";
    comes_out(facts, "shed.p or shed.q", "try \"one\" shed.p = yes => met\n try \"no\" shed.p = no => not-shown");
    comes_out(facts, "shed.p and shed.q", "try \"one\" shed.p = no => unmet\n try \"yes\" shed.p = yes => not-shown");
    comes_out(facts, "not shed.p", "try \"unknown\" => not-shown\n try \"no\" shed.p = no => met");
}

#[test]
fn a2_a_word_that_is_one_of_another_fact_or_a_word() {
    let facts = "choice colour : red or blue or green
                 fact shed.a : colour ask \"?\" fact shed.b : colour ask \"?\"";
    comes_out(
        facts,
        "shed.a is one of red, shed.b",
        "try \"the word\" shed.a = red, shed.b = blue => met
         try \"the fact\" shed.a = blue, shed.b = blue => met
         try \"neither\" shed.a = green, shed.b = blue => unmet
         try \"the word alone\" shed.a = red => met",
    );
    comes_out(facts, "shed.a is not one of red, shed.b", "try \"the word\" shed.a = red, shed.b = blue => unmet");
}

#[test]
fn a3_learning_that_a_fact_is_absent_never_contradicts() {
    let fact = "fact shed.width : optional length ask \"?\" such as \"none\"";
    for need in ["absolute(shed.width) >= 0 in", "larger(shed.width, 3 in) >= 3 in", "shed.width * shed.width >= 0 in2"]
    {
        comes_out(fact, need, "try \"none\" shed.width = none => not-shown\n try \"unknown\" => not-shown");
    }
}

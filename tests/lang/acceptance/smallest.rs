//! A14: for an open item, the smallest set of facts that would decide it,
//! compared with trying every set.

use crate::fixtures::dice::Dice;
use crate::fixtures::seed::with_dice;
use crate::fixtures::values::recorded;
use crate::lang::{OWN, load, mine};
use cotterpin_engine::eval::{Evaluation, Facts};
use cotterpin_engine::ir::{ChoiceSet, ConditionId, FactId, ItemId, Rules};
use cotterpin_engine::project::{Record, Recorded, Value};
use cotterpin_engine::quantity::{Date, DateRange, Truth};

const NAMES: [&str; 5] = ["p", "q", "r", "s", "t"];

fn rules(needs: &[String]) -> Rules {
    let facts: String = NAMES.iter().map(|n| format!("fact shed.{n} : yes or no ask \"?\"\n")).collect();
    let items: String =
        needs.iter().enumerate().map(|(n, need)| format!("item shed.i{n} \"t\" need {need} {OWN}\n")).collect();
    load(&[mine(&format!("{facts}{items}"))])
}

fn given(yes: bool) -> Recorded {
    recorded(Value::Words(ChoiceSet::yes_or_no(yes)), None)
}

fn day() -> DateRange {
    DateRange::day(Date::new(2026, 1, 1).expect("a day"))
}

fn fact(rules: &Rules, at: usize) -> FactId {
    rules.fact_by_name[format!("shed.{}", NAMES[at]).as_str()]
}

/// What is recorded: for each fact, nothing or its answer.
type Known = [Option<bool>; 5];

fn truth(rules: &Rules, need: ConditionId, known: Known) -> Truth {
    let mut record = Record::default();
    for (at, yes) in known.into_iter().enumerate() {
        if let Some(yes) = yes {
            record.facts.insert(fact(rules, at), given(yes));
        }
    }
    let facts = Facts::bind(rules, &record);
    Evaluation::new(&rules.program, &facts, day()).decide(need)
}

/// Whether some answers to these facts, and to no others, make it true.
fn could_hold(rules: &Rules, need: ConditionId, known: Known, asked: &[usize]) -> bool {
    (0..1u32 << asked.len()).any(|answers| {
        let mut known = known;
        for (bit, at) in asked.iter().enumerate() {
            known[*at] = Some(answers >> bit & 1 == 1);
        }
        truth(rules, need, known) == Truth::True
    })
}

fn named(rules: &Rules, need: ConditionId, known: Known) -> Vec<usize> {
    let mut record = Record::default();
    for (at, yes) in known.into_iter().enumerate() {
        if let Some(yes) = yes {
            record.facts.insert(fact(rules, at), given(yes));
        }
    }
    let facts = Facts::bind(rules, &record);
    let mut missing = Vec::new();
    Evaluation::new(&rules.program, &facts, day()).missing_facts(need, &mut missing);
    (0..NAMES.len()).filter(|at| missing.contains(&fact(rules, *at))).collect()
}

#[test]
fn a14_one_fact_that_serves_both_choices_is_named_alone() {
    let cases = [
        ("(shed.p or shed.q) and (shed.q or shed.r)", vec![1]),
        ("(shed.p or shed.q) and (shed.r or shed.q) and (shed.s or shed.q)", vec![1]),
        // Not the same answer twice: one fact cannot serve both.
        ("(shed.p or shed.q) and (not shed.p or shed.r)", vec![0, 2]),
        ("not ((shed.p and shed.q) or (shed.q and shed.r))", vec![1]),
        ("(shed.p and shed.q or shed.r) and (shed.p or shed.q)", vec![0, 1]),
    ];
    let needs: Vec<String> = cases.iter().map(|(need, _)| (*need).to_owned()).collect();
    let rules = rules(&needs);
    for (item, (need, expected)) in rules.items.iter().zip(&cases) {
        assert_eq!(named(&rules, item.need, [None; 5]).len(), expected.len(), "{need}");
    }
    assert_eq!(named(&rules, rules.items.first().unwrap().need, [None; 5]), [1]);
    assert_eq!(named(&rules, rules.items.get(ItemId::new(1)).unwrap().need, [None; 5]), [1]);
    assert_eq!(named(&rules, rules.items.get(ItemId::new(3)).unwrap().need, [None; 5]), [1]);
}

fn condition(dice: &mut Dice, depth: u32) -> String {
    match dice.below(if depth == 0 { 1 } else { 6 }) {
        0 => format!("shed.{}", dice.pick(&NAMES)),
        1 => format!("not ({})", condition(dice, depth - 1)),
        n => {
            let parts: Vec<String> =
                (0..2 + dice.below(2)).map(|_| format!("({})", condition(dice, depth - 1))).collect();
            parts.join(if n % 2 == 0 { " and " } else { " or " })
        }
    }
}

fn known(dice: &mut Dice) -> Known {
    std::array::from_fn(|_| match dice.below(5) {
        0 => Some(false),
        1 => Some(true),
        _ => None,
    })
}

#[test]
fn a14_no_smaller_set_of_facts_would_do() {
    with_dice(&[], |dice| {
        let needs: Vec<String> = (0..300).map(|_| condition(dice, 3)).collect();
        let rules = rules(&needs);
        let (mut open, mut choices) = (0, 0);
        for (item, need) in rules.items.iter().zip(&needs) {
            for _ in 0..4 {
                let known = known(dice);
                if truth(&rules, item.need, known) != Truth::Undecided {
                    continue;
                }
                let unknown: Vec<usize> = (0..NAMES.len()).filter(|at| known[*at].is_none()).collect();
                let sets = (0..1u32 << unknown.len()).map(|set| -> Vec<usize> {
                    unknown.iter().enumerate().filter(|(bit, _)| set >> bit & 1 == 1).map(|(_, at)| *at).collect()
                });
                let least = sets.filter(|set| could_hold(&rules, item.need, known, set)).map(|set| set.len()).min();
                // What no answers make true has nothing to be named for.
                let Some(least) = least else { continue };
                open += 1;
                choices += usize::from(least < unknown.len());
                let found = named(&rules, item.need, known);
                assert_eq!(found.len(), least, "{need} with {known:?} names {found:?}");
                assert!(could_hold(&rules, item.need, known, &found), "{need} with {known:?} names {found:?}");
            }
        }
        assert!(open > 200 && choices > 100, "{open} open, {choices} with a choice");
    });
}

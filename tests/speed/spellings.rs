//! One comparison in many spellings: all of them come to the same, on the fast
//! path and on the slow one, once and for each record, and to nothing that some
//! possible value contradicts.

use super::{TAIL, rules, today};
use crate::fixtures::dice::Dice;
use crate::fixtures::seed::with_dice;
use crate::fixtures::values::{nowhere, recorded};
use cotterpin_engine::eval::{Evaluation, Facts};
use cotterpin_engine::ir::{FactId, ListId, RowId, Rows, Rules};
use cotterpin_engine::project::{Record, Row, Rows as Records, Value, Whole};
use cotterpin_engine::quantity::{DateRange, Exact, ExactInterval, Truth};

/// The factors, in quarters.
const FACTORS: [i64; 5] = [-5, 0, 4, 5, 6];

/// What can be recorded of a quantity, in quarters of an inch.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Set {
    Nothing,
    Absent,
    Between(Option<i64>, Option<i64>),
}

/// Where the values of a comparison stand.
const SITES: [&str; 3] = ["facts", "fields", "a fact and a field"];

/// All spellings of `a >= factor * b` and of `factor * b < a`, which differ at the boundary only.
fn spellings(a: &str, b: &str, quarters: i64) -> Vec<[String; 2]> {
    let (percent, number) = (quarters * 25, quarters as f64 / 4.0);
    let mut products = vec![format!("{number} * {b}"), format!("{b} * {number}"), format!("times({number}, {b})")];
    if quarters >= 0 {
        products.push(format!("{percent} % of {b}"));
    }
    let sides = products.iter().map(|product| [format!("{a} >= {product}"), format!("{product} < {a}")]);
    let turned = products.iter().map(|product| [format!("{product} <= {a}"), format!("{a} > {product}")]);
    // Twice both sides is the same.
    let doubled =
        products.iter().map(|product| [format!("2 * {a} >= 2 * ({product})"), format!("{a} * 2 > 2 * ({product})")]);
    let negated = products
        .iter()
        .map(|product| [format!("-1 * {a} <= -1 * ({product})"), format!("-1 * ({product}) > -1 * {a}")]);
    let not_plain =
        products.iter().map(|product| [format!("{a} - ({product}) >= 0 in"), format!("not {a} <= {product}")]);
    sides.chain(turned).chain(doubled).chain(negated).chain(not_plain).collect()
}

/// The pack: one item per site, factor, ordering and spelling, and for fields the same asked by `every` and `some`.
fn pack() -> (Rules, Vec<(usize, usize, usize)>) {
    let mut text = "fact s.a : optional length ask \"?\"\nfact s.b : length ask \"?\"\nfact s.c : optional length ask \"?\"\n\
        list s.l ask \"?\" field a : optional length ask \"?\" field b : length ask \"?\" field c : optional length ask \"?\"\n\
          field name : text ask \"?\" named by name\n\
        formula times (k : number, l : length) = k * l\n"
        .to_owned();
    let mut groups = Vec::new();
    for (site, _) in SITES.iter().enumerate() {
        for (at, quarters) in FACTORS.iter().enumerate() {
            for second in ["b", "c"] {
                let (a, b) = match site {
                    0 => ("s.a".to_owned(), format!("s.{second}")),
                    1 => ("r.a".to_owned(), format!("r.{second}")),
                    _ => ("s.a".to_owned(), format!("r.{second}")),
                };
                for two in spellings(&a, &b, *quarters) {
                    for (which, need) in two.into_iter().enumerate() {
                        let group = (site * FACTORS.len() + at) * 4 + which * 2 + usize::from(second == "c");
                        let mut item = |each: &str, need: &str, how: usize| {
                            text += &format!("item s.i{} {each} \"t\" need {need} {TAIL}", groups.len());
                            groups.push((group, site, how));
                        };
                        if site == 0 {
                            item("", &need, 0);
                        } else {
                            item("for each r in s.l", &need, 1);
                            item("", &format!("every r in s.l has {need}"), 2);
                            item("", &format!("some r in s.l has {need}"), 3);
                        }
                    }
                }
            }
        }
    }
    (rules(&text), groups)
}

fn any_set(dice: &mut Dice, optional: bool) -> Set {
    let n = dice.between(-3, 3);
    let wide = dice.between(0, 3);
    match dice.below(8) {
        0 | 1 => Set::Nothing,
        2 if optional => Set::Absent,
        3 => Set::Between(Some(n), None),
        4 => Set::Between(None, Some(n)),
        5 => Set::Between(Some(n), Some(n + wide)),
        _ => Set::Between(Some(n * 5), Some(n * 5)),
    }
}

fn any_sets(dice: &mut Dice) -> [Set; 3] {
    [any_set(dice, true), any_set(dice, false), any_set(dice, true)]
}

fn value(set: Set) -> Option<Value> {
    let quarters = |n: i64| Exact::ratio(n * 254, 40_000);
    match set {
        Set::Nothing => None,
        Set::Absent => Some(Value::Absent),
        Set::Between(low, high) => {
            Some(Value::Number(ExactInterval::new(low.and_then(quarters), high.and_then(quarters))))
        }
    }
}

/// Single values that a set holds, its ends among them, in quarters; `None` for none.
fn singles(set: Set, optional: bool) -> Vec<Option<i64>> {
    let far = 1_000;
    match set {
        Set::Absent => vec![None],
        Set::Nothing if optional => vec![None, Some(-far), Some(0), Some(far)],
        Set::Nothing => vec![Some(-far), Some(0), Some(far)],
        Set::Between(low, high) => {
            let (low, high) = (low.unwrap_or(-far), high.unwrap_or(far));
            vec![Some(low), Some(high), Some((low + high) / 2)]
        }
    }
}

/// What the slow way says: every pair of single values, in whole numbers. Undecided where
/// they disagree or one of them is none.
fn slow(a: Set, (b, b_optional): (Set, bool), quarters: i64, strict: bool) -> Truth {
    let mut seen: Option<Truth> = None;
    for a in singles(a, true) {
        for b in singles(b, b_optional) {
            let holds = match (a, b) {
                (Some(a), Some(b)) if strict => Truth::from(4 * a > quarters * b),
                (Some(a), Some(b)) => Truth::from(4 * a >= quarters * b),
                _ => Truth::Undecided,
            };
            if seen.is_some_and(|seen| seen != holds) {
                return Truth::Undecided;
            }
            seen = Some(holds);
        }
    }
    seen.unwrap_or(Truth::Undecided)
}

#[test]
fn every_spelling_of_a_comparison_comes_to_the_same() {
    with_dice(&[], all_spellings);
}

fn all_spellings(dice: &mut Dice) {
    let (rules, groups) = pack();
    let mut by_tree = rules.program.clone();
    by_tree.rows = Rows::default();
    let mut decided = [0usize; 3];
    for _ in 0..60 {
        let facts = any_sets(dice);
        let rows: Vec<[Set; 3]> = (0..1 + dice.below(3)).map(|_| any_sets(dice)).collect();
        let mut record = Record::default();
        for (at, set) in facts.iter().enumerate() {
            if let Some(value) = value(*set) {
                record.facts.insert(FactId::new(at), recorded(value, None));
            }
        }
        let place = nowhere();
        let row = |(at, sets): (usize, &[Set; 3])| Row {
            fields: sets
                .iter()
                .map(|set| value(*set))
                .chain([Some(Value::Text(at.to_string()))])
                .map(|value| Some(recorded(value?, None)))
                .collect(),
            how_many: std::num::NonZeroU32::MIN,
            part: None,
            place,
        };
        record.lists.insert(ListId::new(0), Records { rows: rows.iter().enumerate().map(row).collect(), place });
        record.whole.insert(ListId::new(0), Whole::Given);
        let facts_bound = Facts::bind(&rules, &record);
        let quick = Evaluation::new(&rules.program, &facts_bound, DateRange::day(today()));
        let plain = Evaluation::new(&by_tree, &facts_bound, DateRange::day(today()));
        for (item, (group, site, how)) in rules.items.iter().zip(&groups) {
            let quarters = FACTORS[group / 4 % FACTORS.len()];
            let (strict, optional) = (group / 2 % 2 == 1, group % 2 == 1);
            let of_row = |row: &[Set; 3]| {
                let a = if *site == 1 { row[0] } else { facts[0] };
                let b = if *site == 0 { facts } else { *row };
                slow(a, (if optional { b[2] } else { b[1] }, optional), quarters, strict)
            };
            let each: Vec<Truth> = rows.iter().map(of_row).collect();
            let told = || format!("{}\n{facts:?}\n{rows:?}", rules_text(&rules, item.need));
            if *how == 1 {
                for (at, expected) in each.iter().enumerate() {
                    let row = Some(RowId::new(at));
                    assert_eq!(quick.decide_for(item.need, row), *expected, "{}", told());
                    assert_eq!(plain.decide_for(item.need, row), *expected, "{}", told());
                    decided[*expected as usize] += 1;
                }
                continue;
            }
            let expected = match how {
                0 => slow(facts[0], (if optional { facts[2] } else { facts[1] }, optional), quarters, strict),
                2 => Truth::all(each),
                _ => Truth::any(each),
            };
            assert_eq!(quick.decide(item.need), expected, "{}", told());
            assert_eq!(plain.decide(item.need), expected, "{}", told());
            decided[expected as usize] += 1;
        }
    }
    assert!(decided.iter().all(|times| *times > 1_000), "{decided:?}");
}

fn rules_text(rules: &Rules, need: cotterpin_engine::ir::ConditionId) -> String {
    rules.program.condition_spans.get(need).map(|span| rules.sources.one_line(*span)).unwrap_or_default()
}

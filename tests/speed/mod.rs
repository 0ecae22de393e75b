//! The quick ways come to the same as the plain ones: an index to judging
//! everything again, columns to rows.

mod spellings;

use crate::fixtures::packs;
use crate::fixtures::values::{day, nowhere, recorded};
use cotterpin_engine::audit::{Index, Judge};
use cotterpin_engine::eval::{Evaluation, Facts};
use cotterpin_engine::ir::{ChoiceSet, FactId, ItemId, ListId, Rules};
use cotterpin_engine::project::{Record, Row, Rows, Value, Whole};
use cotterpin_engine::quantity::{Date, DateRange, Exact, ExactInterval, Truth};
use proptest::prelude::*;

const HEAD: &str = "hold-points visit \"Visit\"\nsystems s \"System\"\nchoice mode : x or y or z\n";
const TAIL: &str = "by visit basis own cite common practice\n";

fn rules(text: &str) -> Rules {
    packs::rules(&format!("{HEAD}{text}"))
}

fn today() -> Date {
    day("2026-11-25")
}

/// A length that is a point, a spread, absent or everything.
fn length() -> impl Strategy<Value = Value> {
    let tenths = |n: i64| Exact::ratio(n * 254, 100_000);
    prop_oneof![
        (0i64..12).prop_map(move |n| Value::Number(ExactInterval::new(tenths(n * 10), tenths(n * 10)))),
        (0i64..120, 0i64..20).prop_map(move |(n, wide)| Value::Number(ExactInterval::new(tenths(n), tenths(n + wide)))),
        Just(Value::Absent),
        Just(Value::Number(ExactInterval::everything())),
    ]
}

const SHARED: &str = "fact s.a : optional length ask \"?\"\nfact s.b : length ask \"?\"\n\
    fact s.m : mode ask \"?\"\nfact s.f : yes or no ask \"?\"\nfact s.t : optional text ask \"?\"\n\
    formula twice (l : length) = 2 * l + s.b\n";

fn shared() -> Rules {
    let needs = [
        "s.a >= 150 % of s.b",
        "s.a < 6 in and s.f",
        "not (s.m is x or s.a is none)",
        "twice(s.a) <= 9 in",
        "s.t is recorded or s.m is not y",
        "s.b > 3 in",
    ];
    let item = |(n, need): (usize, &&str)| format!("item s.i{n} \"t\" when s.f or s.m is z need {need} {TAIL}");
    rules(&format!("{SHARED}{}", needs.iter().enumerate().map(item).collect::<String>()))
}

proptest! {
    #![proptest_config(crate::fixtures::seed::fresh())]
    /// After any run of changes, the verdicts kept up by the index are those
    /// that judging every item afresh gives.
    #[test]
    fn the_index_misses_nothing(changes in prop::collection::vec((0usize..5, prop::option::weighted(0.8, (length(), 0u64..7))), 1..12)) {
        let rules = shared();
        let index = Index::new(&rules);
        let empty = Record::default();
        let mut judge = Judge::new(&rules, &empty, today());
        let mut kept = judge.verdicts();
        let mut record = Record::default();
        for (fact, change) in changes {
            let value = change.map(|(length, bits)| match fact {
                2 => Value::Words(ChoiceSet::of_bits(bits % 7 + 1)),
                3 => Value::Words(ChoiceSet::of_bits(bits % 3 + 1)),
                4 => Value::Text(bits.to_string()),
                _ => length,
            });
            let value = value.map(|value| recorded(value, None));
            for judged in index.changed(&mut judge, FactId::new(fact), value.as_ref()) {
                let at = judged.item.index();
                kept[at] = judged;
            }
            match value {
                Some(value) => record.facts.insert(FactId::new(fact), value),
                None => record.facts.remove(&FactId::new(fact)),
            };
            prop_assert_eq!(&kept, &Judge::new(&rules, &record, today()).verdicts());
        }
    }

    /// `every` holds exactly where `some` does not hold of the contrary
    /// (S. C. Kleene, Introduction to Metamathematics, 1952, section 64):
    /// the first may run by columns, the second runs by rows.
    #[test]
    fn columns_decide_as_rows_do(rows in prop::collection::vec((prop::option::of(length()), prop::option::of(0u64..3)), 1..6)) {
        let list = "list s.l ask \"?\" field w : optional length ask \"?\" field ok : yes or no ask \"?\"\n\
            field name : text ask \"?\" named by name\n";
        let pairs = [
            ("r.w <= 4 in", "not r.w <= 4 in"),
            ("r.w > 4 in and r.ok", "not r.w > 4 in or not r.ok"),
            ("r.ok and r.w < 7 in and r.w >= 1 in", "not r.ok or not r.w < 7 in or not r.w >= 1 in"),
            ("(r.ok or r.w < 7 in) and r.ok is recorded", "not (r.ok or r.w < 7 in) or not r.ok is recorded"),
        ];
        let items: String = (0..).zip(&pairs).map(|(n, (body, contrary)): (usize, _)| format!(
            "item s.e{n} \"t\" need every r in s.l has {body} {TAIL}item s.s{n} \"t\" need not some r in s.l has ({contrary}) {TAIL}"
        )).collect();
        let rules = rules(&format!("{list}{items}"));
        let place = nowhere();
        let row = |(at, (width, ok)): (usize, &(Option<Value>, Option<u64>))| Row {
            fields: vec![
                width.clone().map(|value| recorded(value, None)),
                ok.map(|bits| recorded(Value::Words(ChoiceSet::of_bits(bits + 1)), None)),
                Some(recorded(Value::Text(at.to_string()), None)),
            ],
            how_many: std::num::NonZeroU32::MIN,
            part: None,
            place,
        };
        let mut record = Record::default();
        record.lists.insert(ListId::new(0), Rows { rows: rows.iter().enumerate().map(row).collect(), place });
        record.whole.insert(ListId::new(0), Whole::Given);
        let facts = Facts::bind(&rules, &record);
        let evaluation = Evaluation::new(&rules.program, &facts, DateRange::day(today()));
        let decided: Vec<Truth> = rules.items.iter().map(|item| evaluation.decide(item.need)).collect();
        for pair in decided.chunks(2) {
            prop_assert_eq!(pair[0], pair[1]);
        }
    }
}

/// Conditions plain enough to be laid out in a row, and some that are not.
const PLAIN: [&str; 12] = [
    "s.f",
    "not s.f",
    "s.a >= 150 % of s.b",
    "s.a < 6 in and s.f",
    "s.a >= s.b or s.m is x",
    "s.a > 150 % of s.b and (s.m is x or s.b < 4 in) and s.f",
    "(s.a <= 2 in or s.b <= 2 in or s.m is one of x, y) and (s.f or s.a > s.b)",
    "s.m is not z and (s.b >= 1 in or s.f)",
    "s.f or (s.a < s.b and s.m is y)",
    "not (s.m is x or s.a is none) and s.b < 150 % of s.a",
    "s.a - s.b < 1 in and s.f",
    "s.a <= 50 % of s.b",
];

proptest! {
    #![proptest_config(crate::fixtures::seed::fresh())]
    /// A row decides as the tree of the same condition does, values
    /// whose ends just meet among them.
    #[test]
    fn rows_decide_as_trees_do(a in prop::option::of(length()), b in prop::option::of(length()), m in 0u64..8, f in 0u64..4) {
        let items: String = (0..).zip(PLAIN).map(|(n, need): (usize, _)| format!("item s.i{n} \"t\" need {need} {TAIL}")).collect();
        let rules = rules(&format!("{SHARED}{items}"));
        let mut by_tree = rules.program.clone();
        by_tree.rows = cotterpin_engine::ir::Rows::default();
        let mut record = Record::default();
        let values = [a, b, (m > 0).then_some(Value::Words(ChoiceSet::of_bits(m))), (f > 0).then_some(Value::Words(ChoiceSet::of_bits(f)))];
        for (n, value) in values.into_iter().enumerate() {
            if let Some(value) = value {
                record.facts.insert(FactId::new(n), recorded(value, None));
            }
        }
        let facts = Facts::bind(&rules, &record);
        let quick = Evaluation::new(&rules.program, &facts, DateRange::day(today()));
        let plain = Evaluation::new(&by_tree, &facts, DateRange::day(today()));
        for item in &rules.items {
            prop_assert_eq!(quick.decide(item.need), plain.decide(item.need), "{}", &item.name);
        }
        prop_assert!(quick.exact_comparisons() <= plain.exact_comparisons());
    }
}

#[test]
fn what_an_undecided_rule_waits_for_is_the_least_that_settles_it() {
    let rules = rules(&format!(
        "{SHARED}item s.i \"t\" need s.f and (s.a > s.b or s.m is x) {TAIL}item s.j \"t\" need not (s.f or s.b < 2 in) {TAIL}"
    ));
    let facts = Facts::bind(&rules, &Record::default());
    let evaluation = Evaluation::new(&rules.program, &facts, DateRange::day(today()));
    let missing = |at: usize| {
        let mut found = Vec::new();
        evaluation.missing_facts(rules.items.get(ItemId::new(at)).unwrap().need, &mut found);
        let mut names: Vec<&str> =
            found.iter().filter_map(|id| rules.fact(*id)).map(|fact| fact.name.as_str()).collect();
        names.sort_unstable();
        names
    };
    // One word settles the second half, two lengths would.
    assert_eq!(missing(0), ["s.f", "s.m"]);
    assert_eq!(missing(1), ["s.b", "s.f"]);
    assert_eq!(Index::new(&rules).readers(FactId::new(2)).len(), 1);
    assert!(Index::new(&rules).readers(FactId::new(99)).is_empty());
}

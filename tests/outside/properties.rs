//! What the language promises, on random conditions and projects: a decided
//! condition is decided alike for every possible value (A2), and learning
//! never contradicts (A3). The second evaluator, in exact rationals of the
//! crate `num-rational`, stands in `oracle.rs`.

use super::boundaries::rational;
use super::made_up::condition;
use super::oracle::{Oracle, WHIMS};
use super::phrases::Condition;
use super::setup::{HEAD, audited_toml, item};
use super::world::{Dim, FACTS, FIELDS, LISTS, Set, World, vocabulary, written};
use crate::fixtures::dice::Dice;
use crate::fixtures::findings::verdict;
use crate::fixtures::packs::rules;
use crate::fixtures::projects::{PLAIN, audited, file, read_project};
use crate::fixtures::seed::with_dice;
use cotterpin_engine::eval::{Evaluation, Facts};
use cotterpin_engine::ir::Rules;
use cotterpin_engine::quantity::{Date, DateRange, Truth};
use cotterpin_engine::report::json;
use cotterpin_engine::vocabulary::Verdict;

const PACKS: u64 = 6;
const ITEMS: usize = 250;
const PROJECTS: usize = 12;
const PICKS: usize = 5;
/// Says how many cases of lists [`a_million_list_cases`] tries.
const MANY: &str = "COTTERPIN_LISTS";
/// Says how many conditions [`ten_million_conditions`] tries.
const CONDITIONS: &str = "COTTERPIN_CONDITIONS";

/// Random conditions of the wanted kind, and the pack of them.
fn pack(dice: &mut Dice, wanted: impl Fn(&Condition) -> bool) -> (Vec<Condition>, Rules) {
    let any = std::iter::repeat_with(|| condition(dice, &mut Vec::new(), 3));
    let conditions: Vec<Condition> = any.filter(|made| wanted(made)).take(ITEMS).collect();
    let mut text = format!("{HEAD}{}", vocabulary());
    for (at, condition) in conditions.iter().enumerate() {
        text.push_str(&item(&format!("a.i{at}"), &condition.text()));
    }
    let rules = rules(&text);
    (conditions, rules)
}

fn day(steps: i64) -> Date {
    Date::from_days(super::world::DAY_ZERO + i32::try_from(steps).expect("a day"))
}

/// What the engine says of every need, and how often it went the exact way.
fn decided(rules: &Rules, world: &World<Set>) -> (Vec<Truth>, u64) {
    let record = world.record(rules);
    let facts = Facts::bind(rules, &record);
    let today = DateRange::new(day(world.today.0), day(world.today.1)).expect("days in order");
    let evaluation = Evaluation::new(&rules.program, &facts, today);
    let truths = rules.items.iter().map(|item| evaluation.decide(item.need)).collect();
    (truths, evaluation.exact_comparisons())
}

/// Whether a decided truth agrees with single values. Where a number has no
/// value (no row, no record) it must agree whatever stands in for it, and where
/// nobody can say which records it is of, whichever they are.
fn agrees(truth: bool, condition: &Condition, world: &World<super::world::Single>) -> Result<bool, String> {
    let says = |stand_in, whim| Oracle { world, stand_in, whim }.holds(condition, &[], &[]);
    match says(None, None) {
        Some(holds) if holds == truth => Ok(true),
        Some(_) => Err("the other way".into()),
        None => {
            let others = ["-1000", "0", "0.0254", "1000"];
            let contrary =
                |other: &str, whim| says(Some(rational(other)), Some(whim)).is_some_and(|holds| holds != truth);
            match others.iter().find(|other| WHIMS.into_iter().any(|whim| contrary(other, whim))) {
                Some(other) => Err(format!("the other way where {other} stands in for no value")),
                None => Ok(false),
            }
        }
    }
}

/// What came of holding decided conditions against single projects.
#[derive(Debug, Default)]
struct Tally {
    decisions: usize,
    undecided: usize,
    singles: usize,
    of_lists: usize,
    without_value: usize,
    exactly: u64,
    wrong: Vec<String>,
}

impl Tally {
    /// One project, and that many of the single projects it may be.
    fn take(&mut self, dice: &mut Dice, (conditions, rules): &(Vec<Condition>, Rules), picks: usize) {
        let world = World::any(dice, false);
        let (truths, times) = decided(rules, &world);
        self.exactly += times;
        let singles: Vec<_> = (0..picks).map(|_| world.single(dice)).collect();
        for (condition, truth) in conditions.iter().zip(&truths) {
            if *truth == Truth::Undecided {
                self.undecided += 1;
                continue;
            }
            self.decisions += 1;
            let reads_a_list = reads_a_list(condition);
            for single in &singles {
                self.singles += 1;
                self.of_lists += usize::from(reads_a_list);
                match agrees(*truth == Truth::True, condition, single) {
                    Ok(has_value) => self.without_value += usize::from(!has_value),
                    Err(why) => {
                        self.wrong.push(format!("{truth}, and {why}: {}\n  {world:?}\n  {single:?}", condition.text()));
                    }
                }
            }
        }
    }

    /// Says what came of it; fails if any decision is wrong.
    fn told(&mut self) {
        println!(
            "{} decided, {} not; {} single projects agree, {} of them about a list, {} of them without a value; {} comparisons taken exactly",
            self.decisions, self.undecided, self.singles, self.of_lists, self.without_value, self.exactly
        );
        none_wrong(&mut self.wrong);
    }
}

fn reads_a_list(condition: &Condition) -> bool {
    let text = condition.text();
    LISTS.iter().any(|list| text.contains(&format!("a.{list}")))
}

#[test]
fn a2_a_decided_condition_is_decided_alike_for_every_possible_value() {
    with_dice(&[], |dice| {
        let mut tally = Tally::default();
        for _ in 0..PACKS {
            let pack = pack(dice, |_| true);
            for _ in 0..PROJECTS {
                tally.take(dice, &pack, PICKS);
            }
        }
        tally.told();
        assert!(tally.decisions > 4000 && tally.undecided > 1000);
    });
}

/// Not of every run: `COTTERPIN_LISTS=10000000 cargo test a_million_list_cases -- --ignored`. A case
/// is a decided condition that reads a list, and one project that has single values. A seed of its
/// own for each pack, so that what is found is found again soon.
#[test]
#[ignore = "takes minutes; `COTTERPIN_LISTS` says how many cases"]
fn a_million_list_cases() {
    let cases: usize = std::env::var(MANY).map_or(1_000_000, |cases| cases.parse().expect("a whole number"));
    with_dice(&[], |dice| {
        let (mut done, mut next, start) = (0, 0, std::time::Instant::now());
        while done < cases {
            let seed = dice.next() >> 32;
            let mut dice = Dice::new(seed);
            let pack = pack(&mut dice, reads_a_list);
            let mut tally = Tally::default();
            for _ in 0..10 * PROJECTS {
                tally.take(&mut dice, &pack, PICKS);
            }
            done += tally.of_lists;
            if !tally.wrong.is_empty() || done >= next {
                print!("{done} cases in {:?}, seed {seed}: ", start.elapsed());
                tally.told();
                next += cases / 20;
            }
        }
        println!("{done} list cases in {:?}", start.elapsed());
    });
}

/// Not of every run: `COTTERPIN_CONDITIONS=10000000 cargo test --release ten_million_conditions -- --ignored`.
/// Each condition is a new one, and is held against the exact answer where every value is known, and
/// against single projects where values are not. A seed of its own for each pack.
#[test]
#[ignore = "takes minutes; `COTTERPIN_CONDITIONS` says how many conditions"]
fn ten_million_conditions() {
    let many: usize = std::env::var(CONDITIONS).map_or(10_000_000, |many| many.parse().expect("a whole number"));
    with_dice(&[], |dice| {
        let (mut done, mut next, start) = (0, 0, std::time::Instant::now());
        let (mut all, mut known) = (Tally::default(), Known::default());
        while done < many {
            let seed = dice.next() >> 32;
            let mut dice = Dice::new(seed);
            let pack = pack(&mut dice, |_| true);
            all.take(&mut dice, &pack, 2);
            known.take(&mut dice, &pack);
            done += pack.0.len();
            let is_wrong = !all.wrong.is_empty() || !known.wrong.is_empty();
            if is_wrong || done >= next || done >= many {
                println!("{done} conditions in {:?}, seed of the last {} {seed}", start.elapsed(), pack.0.len());
                known.told();
                all.told();
                next += many / 20;
            }
        }
    });
}

/// What came of holding conditions against projects in which every value is known.
#[derive(Debug, Default)]
struct Known {
    decisions: usize,
    without_value: usize,
    exactly: u64,
    wrong: Vec<String>,
}

impl Known {
    /// One project: what has an exact answer is answered so.
    fn take(&mut self, dice: &mut Dice, (conditions, rules): &(Vec<Condition>, Rules)) {
        let world = World::any(dice, true);
        let (truths, times) = decided(rules, &world);
        self.exactly += times;
        let single = world.single(dice);
        for (condition, truth) in conditions.iter().zip(&truths) {
            let says = Oracle { world: &single, stand_in: None, whim: None }.holds(condition, &[], &[]);
            let agree = match says {
                Some(holds) => *truth == Truth::from(holds),
                None => {
                    self.without_value += 1;
                    *truth == Truth::Undecided || agrees(*truth == Truth::True, condition, &single).is_ok()
                }
            };
            self.decisions += 1;
            if !agree {
                self.wrong.push(format!("{truth} instead of {says:?}: {}\n  {single:?}", condition.text()));
            }
        }
    }

    /// Says what came of it; fails if any answer is wrong.
    fn told(&mut self) {
        println!(
            "{} conditions on known values agree with num-rational, {} of them without a value; {} comparisons taken exactly",
            self.decisions, self.without_value, self.exactly
        );
        none_wrong(&mut self.wrong);
    }
}

/// Fails with the shortest of what is wrong.
fn none_wrong(wrong: &mut [String]) {
    wrong.sort_by_key(String::len);
    let shortest: Vec<_> = wrong.iter().take(3).cloned().collect();
    assert!(wrong.is_empty(), "{} wrong, the shortest:\n{}", wrong.len(), shortest.join("\n"));
}

/// With every value known the engine is not only right but says it.
#[test]
fn a2_where_every_value_is_known_the_answer_is_the_exact_one() {
    with_dice(&[273_689_555], |dice| {
        let mut known = Known::default();
        for _ in 0..PACKS {
            let pack = pack(dice, |_| true);
            for _ in 0..PROJECTS {
                known.take(dice, &pack);
            }
        }
        known.told();
    });
}

#[test]
fn a3_learning_never_contradicts_nor_unsettles() {
    with_dice(&[], |dice| {
        let (mut kept, mut learnt) = (0, 0);
        let mut wrong = Vec::new();
        for _ in 0..PACKS {
            let (conditions, rules) = pack(dice, |_| true);
            for _ in 0..PROJECTS {
                let mut world = World::any(dice, false);
                let (mut before, _) = decided(&rules, &world);
                for _ in 0..3 {
                    let narrower = world.narrowed(dice);
                    let (after, _) = decided(&rules, &narrower);
                    for (at, condition) in conditions.iter().enumerate() {
                        match (before[at], after[at]) {
                            (Truth::Undecided, Truth::Undecided) => {}
                            (Truth::Undecided, _) => learnt += 1,
                            (a, b) if a == b => kept += 1,
                            (a, b) => {
                                wrong
                                    .push(format!("{a} became {b}: {}\n  {world:?}\n  {narrower:?}", condition.text()));
                            }
                        }
                    }
                    (world, before) = (narrower, after);
                }
            }
        }
        wrong.sort_by_key(String::len);
        println!("{kept} decisions kept and {learnt} made while facts were narrowed");
        assert!(
            wrong.is_empty(),
            "{} wrong, the shortest:\n{}",
            wrong.len(),
            wrong.iter().take(3).cloned().collect::<Vec<_>>().join("\n")
        );
        assert!(kept > 4000 && learnt > 500);
    });
}

/// Learning that an optional fact is none unsettles nothing either: while it
/// is not recorded it may be none, and a comparison with none is undecided.
#[test]
fn a3_learning_that_a_fact_is_none_unsettles_nothing() {
    let needs = [
        "absolute(a.o) >= 0 in",
        "larger(a.o, 3 in) >= 3 in",
        "smaller(a.o, 3 in) > 4 in",
        "0 * a.o <= 1 in",
        "a.o * a.o >= 0 in2",
        "absolute(mean of r.o weighted by r.m for r in a.l) >= 0 in",
    ]
    .map(str::to_owned);
    let mut text = format!(
        "{HEAD}fact a.o : optional length ask \"?\"\nlist a.l ask \"?\" field o : optional length ask \"?\" field m : mass, above 0 lb ask \"?\"
         field name : text ask \"?\" named by name\n"
    );
    for (at, need) in needs.iter().enumerate() {
        text.push_str(&item(&format!("a.i{at}"), need));
    }
    let rules = rules(&text);
    let before = audited_toml(&rules, "", "2026-11-25");
    let after =
        audited_toml(&rules, "a.o = \"none\"\na.l = [{ name = \"one\", o = \"none\", m = \"1 lb\" }]", "2026-11-25");
    let mut wrong = Vec::new();
    for (at, need) in needs.iter().enumerate() {
        let of = |audit| verdict(audit, &format!("mine/a.i{at}"));
        let (before, after) = (of(&before), of(&after));
        if before != Verdict::NotShown && before != after {
            wrong.push(format!(
                "{need}: {} while nothing is recorded, {} once it is none",
                before.word(),
                after.word()
            ));
        }
    }
    println!("{} needs before and after a fact is known to be none", needs.len());
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// A project as TOML, one line for each fact.
fn lines(world: &World<Set>) -> Vec<String> {
    let value = |set: &Set, words: &[&str]| match set {
        Set::Absent => Some("\"none\"".to_owned()),
        Set::Words(bits, _) if bits.count_ones() == 1 => Some(format!("\"{}\"", words[bits.trailing_zeros() as usize])),
        Set::Words(..) | Set::Steps(_, None, None, _) => None,
        Set::Steps(Dim::Date, low, ..) => low.map(|low| format!("{}", day(low))),
        Set::Steps(dim, low, high, unit) => Some(format!("\"{}\"", written(*dim, *low, *high, *unit))),
    };
    let words = |count: u32| if count == 2 { vec!["no", "yes"] } else { super::world::COLOURS.to_vec() };
    let mut lines = Vec::new();
    for (kind, set) in FACTS.iter().zip(&world.facts) {
        if let Some(value) = value(set, &words(kind.words)) {
            lines.push(format!("a.{} = {value}", kind.name));
        }
    }
    for (name, rows) in LISTS.iter().zip(&world.lists) {
        let Some(rows) = rows else { continue };
        let rows: Vec<String> = rows
            .iter()
            .enumerate()
            .map(|(at, row)| {
                let fields = FIELDS
                    .iter()
                    .zip(row)
                    .filter_map(|(kind, set)| Some(format!("{} = {}", kind.name, value(set, &words(kind.words))?)));
                let fields: Vec<String> = [format!("name = \"{at}\"")].into_iter().chain(fields).collect();
                format!("{{ {} }}", fields.join(", "))
            })
            .collect();
        lines.push(format!("a.{name} = [{}]", rows.join(", ")));
    }
    lines
}

/// The report without places, which do differ when a line is moved.
fn without_places(report: &str) -> String {
    fn strip(value: &mut serde_json::Value) {
        match value {
            serde_json::Value::Object(map) => {
                let is_place = |value: &serde_json::Value| value.get("file").is_some() && value.get("line").is_some();
                // Sentences name the files as well.
                map.retain(|key, value| key != "place" && key != "says" && !is_place(value));
                map.values_mut().for_each(strip);
            }
            serde_json::Value::Array(all) => all.iter_mut().for_each(strip),
            _ => {}
        }
    }
    let mut value: serde_json::Value = serde_json::from_str(report).expect("JSON");
    strip(&mut value);
    value.to_string()
}

#[test]
fn the_order_of_facts_and_files_changes_no_byte_of_the_report() {
    with_dice(&[], |dice| {
        let (mut files_shuffled, mut facts_shuffled, mut bytes) = (0, 0, 0);
        let (_, rules) = pack(dice, |_| true);
        for _ in 0..4 {
            let world = World::any(dice, false);
            let lines = lines(&world);
            let on = day(world.today.0).to_string();
            let report = |parts: &[(String, String)]| {
                let files: Vec<_> = parts.iter().map(|(name, text)| file(name, text)).collect();
                json(&read_project(&rules, PLAIN, &files, &[]).clean().audited(&on))
            };
            let cut = |lines: &[String]| -> Vec<(String, String)> {
                lines.chunks(5).enumerate().map(|(n, part)| (format!("f{n}.toml"), part.join("\n"))).collect()
            };
            let mut parts = cut(&lines);
            let first = report(&parts);
            bytes += first.len();
            for _ in 0..4 {
                dice.shuffle(&mut parts);
                assert!(
                    report(&parts) == first,
                    "files in the order {:?}",
                    parts.iter().map(|(name, _)| name).collect::<Vec<_>>()
                );
                files_shuffled += 1;
            }
            let mut moved = lines.clone();
            for _ in 0..4 {
                dice.shuffle(&mut moved);
                let (moved_one, kept) = (without_places(&report(&cut(&moved))), without_places(&first));
                let at = moved_one.bytes().zip(kept.bytes()).position(|(a, b)| a != b).unwrap_or_default();
                let near =
                    |text: &str| text.get(at.saturating_sub(200)..).unwrap_or("").chars().take(300).collect::<String>();
                assert!(moved_one == kept, "{}\n\n{}\nfacts in the order {moved:#?}", near(&moved_one), near(&kept));
                facts_shuffled += 1;
            }
            // A record built by hand has no order of its own; it is audited twice alike.
            let record = world.record(&rules);
            assert_eq!(json(&audited(&rules, &record, &on)), json(&audited(&rules, &record, &on)));
        }
        println!(
            "{files_shuffled} orders of files gave the same bytes ({bytes} in all), {facts_shuffled} orders of facts the same but for places"
        );
    });
}

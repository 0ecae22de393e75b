//! Every way of asking gives the same verdicts, on random packs on packs and
//! random projects; and the facts that an open item is said to wait for are
//! enough to meet it.

use super::made_up::condition;
use super::phrases::Condition;
use super::setup::{HEAD, item};
use super::world::{Dim, FACTS, Set, World, in_words, vocabulary};
use crate::fixtures::dice::Dice;
use crate::fixtures::packs::{load, pack};
use crate::fixtures::seed::with_dice;
use crate::fixtures::values::nowhere;
use cotterpin_engine::audit::{Audit, Finding, FindingKind, Index, Judge, Judged, Request, audit, audit_in_brief};
use cotterpin_engine::eval::{Evaluation, Facts};
use cotterpin_engine::ir::{FactId, ItemId, Rules};
use cotterpin_engine::project::{Concession, Deferral, Record};
use cotterpin_engine::quantity::{Date, DateRange, Truth};
use cotterpin_engine::vocabulary::Verdict;
use std::collections::{BTreeMap, BTreeSet};

/// A plain comparison: what the engine lays out as a row.
fn plain(dice: &mut Dice) -> String {
    let order = *dice.pick::<&str>(&["<", "<=", ">", ">="]);
    let (dim, a, b, o) = *dice.pick(&[
        (Dim::Length, "a.x0", "a.x1", "a.o0"),
        (Dim::Mass, "a.m0", "a.m1", "a.m2"),
        (Dim::Number, "a.k0", "a.k1", "a.k2"),
    ]);
    let left = *dice.pick(&[a, a, b, o]);
    let limit = in_words(dim, dice.between(-12, 12), dice.below(3) as u8);
    match dice.below(7) {
        0 => format!("{left} {order} {limit}"),
        1 => format!("{left} {order} {}", dice.pick::<&str>(&[a, b, o])),
        2 => format!(
            "{left} {order} {} * {}",
            dice.pick::<&str>(&["0", "2", "-1.5", "1/3"]),
            dice.pick::<&str>(&[a, b, o])
        ),
        3 => format!("{left} {order} {} % of {}", dice.between(0, 6) * 50, dice.pick::<&str>(&[a, b, o])),
        4 => format!("a.d0 {order} {}", in_words(Dim::Date, dice.between(0, 400), 0)),
        5 => (*dice.pick::<&str>(&[
            "a.c0 is red",
            "a.c0 is one of red, blue",
            "a.c1 is green",
            "a.c0 is one of red, green, blue",
        ]))
        .to_owned(),
        _ => (*dice.pick::<&str>(&["a.y0", "a.y1"])).to_owned(),
    }
}

/// `and` of `or`s, as rules mostly are.
fn row(dice: &mut Dice) -> String {
    let parts: Vec<String> = (0..1 + dice.below(3))
        .map(|_| {
            let any: Vec<String> = (0..1 + dice.below(3)).map(|_| plain(dice)).collect();
            format!("({})", any.join(" or "))
        })
        .collect();
    parts.join(" and ")
}

const ITEMS: usize = 120;

/// Two packs, the second on top of the first. Each item has a twin `b.` of the
/// same meaning whose conditions are no rows: `not not`, or a loop of the item.
fn packs(dice: &mut Dice) -> Rules {
    let mut mine =
        format!("hold-points visit \"V\" flight \"F\" after \"A\"\nsystems a \"A\" b \"B\"\n{}", vocabulary());
    let mut kit = String::new();
    for at in 0..ITEMS {
        let any = |dice: &mut Dice| match dice.below(5) {
            0 => condition(dice, &mut Vec::new(), 2).text(),
            1 => format!("({}) and a.d0 is within the last {} days", row(dice), dice.between(1, 300)),
            _ => row(dice),
        };
        let (need, more) = (any(dice), any(dice));
        let when = dice.once_in(3).then(|| any(dice));
        let each = if dice.once_in(8) { " for each load in a.loads" } else { "" };
        let by = dice.pick::<&str>(&["visit", "flight"]);
        let dates = *dice.pick::<&str>(&["", "", "", "  in force from 2026-05-01\n", "  in force until 2026-09-30\n"]);
        let (amended, aside) = (dice.once_in(4), dice.once_in(12));
        for (system, begin, end) in [("a", "", ""), ("b", "not (not (", "))")] {
            let when = when.as_ref().map_or_else(String::new, |when| format!("  when {begin}{when}{end}\n"));
            mine.push_str(&format!(
                "item {system}.i{at}{each} \"A need\"\n{when}  need {begin}{need}{end}\n  by {by} basis own cite common practice\n{dates}"
            ));
            if amended {
                kit.push_str(&format!("amend {system}.i{at} need {begin}{more}{end} basis kit cite common practice\n"));
            }
            if aside {
                kit.push_str(&format!("set aside {system}.i{at} because \"It has none.\"\n"));
            }
        }
    }
    load(&[pack("mine", &[], &mine), pack("kit", &["mine"], &kit)])
}

fn day(steps: i64) -> Date {
    Date::from_days(super::world::DAY_ZERO + i32::try_from(steps).expect("a day"))
}

/// A record with a visit, concessions and deferrals here and there.
fn record(dice: &mut Dice, rules: &Rules, world: &World<Set>) -> Record {
    let mut record = world.record(rules);
    if dice.once_in(2) {
        record.visit = Some(DateRange::day(day(world.today.0 + dice.between(-5, 60))));
    }
    if dice.once_in(2) {
        record.planned.insert("after".into(), day(world.today.0 + dice.between(-5, 60)));
    }
    for at in 0..ITEMS {
        let (kind, subject) = (dice.below(8), dice.once_in(6).then(|| dice.between(1, 3).to_string()));
        let (on, long) = (day(world.today.0 + dice.between(-40, 3)), dice.between(0, 60));
        let until = day(world.today.0 - 20 + long);
        for system in ["a", "b"] {
            let item = format!("{}{system}.i{at}", if at % 2 == 0 { "mine/" } else { "" });
            let (reason, subject) = ("because".to_owned(), subject.clone());
            let (on, place) = (DateRange::day(on), nowhere());
            match kind {
                0 => record.concessions.push(Concession {
                    item,
                    subject,
                    reason,
                    granted_by: "Bo".into(),
                    role: "builder".into(),
                    on,
                    until: DateRange::day(until),
                    wording: None,
                    place,
                }),
                1 => record.deferrals.push(Deferral {
                    item,
                    subject,
                    reason,
                    limit: "l".into(),
                    test: "t".into(),
                    who: "Bo".into(),
                    on,
                    by: "after".into(),
                    result: (long % 2 == 0).then(|| "good".into()),
                    wording: None,
                    place,
                }),
                _ => {}
            }
        }
    }
    record
}

/// Audits of random projects against random packs on packs.
pub(crate) fn random_audits(mut look: impl FnMut(&Audit)) {
    with_dice(&[], |dice| {
        for _ in 0..5 {
            let rules = packs(dice);
            for _ in 0..12 {
                let world = World::any(dice, false);
                let record = record(dice, &rules, &world);
                let request = Request { project: "Shed".into(), on: day(world.today.0), by: None, closing: None };
                look(&audit(&rules, &record, &request));
            }
        }
    });
}

type Verdicts = BTreeMap<(String, Option<String>, Option<u32>), (Verdict, Verdict)>;

fn of_judged(rules: &Rules, judged: &[Judged<'_>]) -> Verdicts {
    let name = |id: ItemId| rules.item(id).unwrap().name.to_string();
    judged.iter().map(|one| ((name(one.item), one.subject.clone(), None), (one.verdict, one.bare))).collect()
}

fn of_findings(findings: &[Finding]) -> BTreeMap<(String, Option<String>), Verdict> {
    let name = |item: &str| item.split_once('/').map_or("", |(_, name)| name).to_owned();
    let items = findings.iter().filter(|one| one.kind == FindingKind::Item);
    items.map(|one| ((name(&one.item), one.subject.clone()), one.verdict)).collect()
}

#[test]
fn every_way_of_asking_gives_the_same_verdicts() {
    with_dice(&[], |dice| {
        let (mut seen, mut changed) = (BTreeMap::<&str, usize>::new(), 0);
        for pack in 0..5 {
            let rules = packs(dice);
            let index = Index::new(&rules);
            for _ in 0..12 {
                let world = World::any(dice, false);
                let record = record(dice, &rules, &world);
                let on = day(world.today.0);
                let request = Request { project: "Shed".into(), on, by: None, closing: None };
                let judge = Judge::new(&rules, &record, on);
                let all = judge.verdicts();
                let verdicts = of_judged(&rules, &all);
                assert_eq!(verdicts.len(), all.len(), "one verdict for each item and record");
                // A twin has the verdict of its item.
                for ((name, subject, _), verdict) in &verdicts {
                    *seen.entry(verdict.0.word()).or_default() += 1;
                    if let Some(at) = name.strip_prefix("a.") {
                        let twin = verdicts[&(format!("b.{at}"), subject.clone(), None)];
                        assert_eq!(*verdict, twin, "pack {pack}: {name} {subject:?}\n{world:?}");
                    }
                }
                // One item after the other.
                let in_force: BTreeSet<ItemId> = all.iter().map(|one| one.item).collect();
                let one_by_one: Vec<Judged<'_>> = in_force.iter().flat_map(|id| judge.judge(*id)).collect();
                assert_eq!(one_by_one, all);
                // Once a fact may have been changed, nothing that was worked out before is kept.
                let mut anew = Judge::new(&rules, &record, on);
                anew.facts_mut();
                assert_eq!(anew.verdicts(), all);
                // With all reasons, and in brief.
                let plain: BTreeMap<_, _> = verdicts
                    .iter()
                    .map(|((name, subject, _), (verdict, _))| ((name.clone(), subject.clone()), *verdict))
                    .collect();
                assert_eq!(of_findings(&audit(&rules, &record, &request).findings), plain);
                assert_eq!(of_findings(&audit_in_brief(&rules, &record, &request).findings), plain);
                // One fact after the other changed to what another project has.
                let other = World::any(dice, false).record(&rules);
                let (mut judge, mut now, mut verdicts) = (Judge::new(&rules, &record, on), record.clone(), verdicts);
                for kind in &FACTS {
                    let id = rules.fact_by_name[format!("a.{}", kind.name).as_str()];
                    match other.facts.get(&id) {
                        Some(value) => now.facts.insert(id, value.clone()),
                        None => now.facts.remove(&id),
                    };
                    let again = index.changed(&mut judge, id, other.facts.get(&id));
                    changed += again.len();
                    verdicts.extend(of_judged(&rules, &again));
                    let fresh = of_judged(&rules, &Judge::new(&rules, &now, on).verdicts());
                    assert_eq!(verdicts, fresh, "pack {pack}: after {} changed", kind.name);
                }
            }
        }
        println!("{seen:?}; {changed} judged again after one fact changed");
        assert!(seen.len() == 5 && seen.values().all(|times| *times > 100) && changed > 1000, "{seen:?}");
    });
}

/// Leaves about facts that no other leaf is about, so that each can come out
/// either way whatever the others do.
fn leaves(dice: &mut Dice) -> Vec<String> {
    let order = |dice: &mut Dice| *dice.pick::<&str>(&["<", "<=", ">", ">="]);
    let (a, b, c, d) = (order(dice), order(dice), order(dice), order(dice));
    let length = |dice: &mut Dice| in_words(Dim::Length, dice.between(-8, 8), 0);
    let mut all = vec![
        format!("a.x0 {a} a.x1"),
        format!("a.m0 {b} {}", in_words(Dim::Mass, dice.between(-8, 8), 1)),
        format!("a.k0 {c} 2 * a.k1"),
        format!("a.d0 {d} {}", in_words(Dim::Date, dice.between(100, 300), 0)),
        "a.c0 is one of red, blue".to_owned(),
        "a.c1 is green".to_owned(),
        "a.y0".to_owned(),
        format!("(a.o0 is none or a.o0 > {})", length(dice)),
        format!("a.o1 < {}", length(dice)),
    ];
    dice.shuffle(&mut all);
    all
}

/// Each leaf once, joined at random.
fn joined(dice: &mut Dice, leaves: &mut Vec<String>, depth: u32) -> String {
    if depth == 0 || leaves.len() < 2 || dice.once_in(3) {
        let leaf = leaves.pop().expect("at most nine are asked for");
        return if dice.once_in(4) { format!("not ({leaf})") } else { leaf };
    }
    let parts: Vec<String> = (0..2 + dice.below(2)).map(|_| joined(dice, leaves, depth - 1)).collect();
    let parts = format!("({})", parts.join(if dice.once_in(2) { " and " } else { " or " }));
    if dice.once_in(6) { format!("not {parts}") } else { parts }
}

/// Facts that hold sharp values already.
fn is_sharp(set: &Set) -> bool {
    match set {
        Set::Absent => true,
        Set::Words(bits, _) => bits.count_ones() == 1,
        Set::Steps(_, low, high, _) => low.is_some() && low == high,
    }
}

/// A sharper value of a fact: from within what is known of it.
fn sharper(dice: &mut Dice, set: &Set) -> Set {
    match set {
        Set::Absent => Set::Absent,
        Set::Words(bits, of) => {
            let known: Vec<u64> = (0..*of).map(|n| 1 << n).filter(|bit| bits & bit != 0).collect();
            Set::Words(*dice.pick(&known), *of)
        }
        Set::Steps(dim, low, high, unit) => {
            let wide = if *dim == Dim::Date { 500 } else { 60 };
            let from = low.unwrap_or_else(|| high.map_or(-wide, |high| high - wide));
            let to = high.unwrap_or_else(|| low.map_or(wide, |low| low + wide));
            let at = match dice.below(4) {
                0 => from,
                1 => to,
                _ => dice.between(from, to),
            };
            Set::Steps(*dim, Some(at), Some(at), *unit)
        }
    }
}

#[test]
fn what_an_open_item_waits_for_is_enough_to_meet_it() {
    with_dice(&[], |dice| {
        let (mut open, mut named, mut wrong) = (0, 0, Vec::new());
        for _ in 0..4 {
            let mut text = format!("{HEAD}{}", vocabulary());
            for at in 0..60 {
                let mut leaves = leaves(dice);
                let need = joined(dice, &mut leaves, 2);
                text.push_str(&item(&format!("a.i{at}"), &need));
            }
            let rules = crate::fixtures::packs::rules(&text);
            for _ in 0..8 {
                let mut world = World::any(dice, false);
                // Often nothing at all is known.
                for (kind, set) in FACTS.iter().zip(&mut world.facts) {
                    // What is compared with none can be met by nothing: `o1` is.
                    if dice.once_in(2) || kind.name == "o1" && *set == Set::Absent {
                        *set = match kind.dim {
                            Some(dim) => Set::Steps(dim, None, None, 0),
                            None => Set::Words((1 << kind.words) - 1, kind.words),
                        };
                    }
                }
                let facts = Facts::bind(&rules, &world.record(&rules));
                let today = DateRange::day(day(world.today.0));
                for item in &rules.items {
                    let evaluation = Evaluation::new(&rules.program, &facts, today);
                    let mut missing: Vec<FactId> = Vec::new();
                    evaluation.missing_facts(item.need, &mut missing);
                    if evaluation.decide(item.need) != Truth::Undecided {
                        assert_eq!(missing, [], "{} is decided", item.name);
                        continue;
                    }
                    if missing.is_empty() {
                        continue;
                    }
                    open += 1;
                    named += missing.len();
                    let places: Vec<usize> = missing
                        .iter()
                        .map(|id| {
                            let name = &rules.fact(*id).expect("a fact").name;
                            FACTS
                                .iter()
                                .position(|kind| format!("a.{}", kind.name) == *name)
                                .expect("a fact of the test")
                        })
                        .collect();
                    let sharp: Vec<&str> =
                        places.iter().filter(|at| is_sharp(&world.facts[**at])).map(|at| FACTS[*at].name).collect();
                    assert_eq!(sharp, [""; 0], "{} waits for what is known", item.name);
                    let mut tried = world.clone();
                    let tries = if places.len() > 3 { 20_000 } else { 2000 };
                    let met = (0..tries).any(|_| {
                        for at in &places {
                            tried.facts[*at] = sharper(dice, &world.facts[*at]);
                        }
                        let facts = Facts::bind(&rules, &tried.record(&rules));
                        Evaluation::new(&rules.program, &facts, today).decide(item.need) == Truth::True
                    });
                    if !met {
                        let names: Vec<&str> = places.iter().map(|at| FACTS[*at].name).collect();
                        wrong.push(format!(
                            "{} waits for {names:?}: {}\n  {:?}",
                            item.name,
                            text.split(&format!("item {} ", item.name))
                                .nth(1)
                                .and_then(|rest| rest.lines().nth(1))
                                .unwrap_or(""),
                            world.facts
                        ));
                    }
                }
            }
        }
        println!("{open} open items wait for {named} facts; {} cannot be met by them", wrong.len());
        wrong.sort_by_key(String::len);
        assert!(wrong.is_empty(), "{} wrong, the shortest:\n{}", wrong.len(), wrong[..wrong.len().min(3)].join("\n"));
        assert!(open > 200);
    });
}

/// What the sweep and the walk say of the same is compared above by twins;
/// this is that a random need is one the walk knows.
#[test]
fn a_condition_and_its_double_denial_are_alike() {
    with_dice(&[], |dice| {
        let needs: Vec<Condition> = (0..60).map(|_| condition(dice, &mut Vec::new(), 2)).collect();
        let mut text = format!("{HEAD}{}", vocabulary());
        for (at, need) in needs.iter().enumerate() {
            text.push_str(&item(&format!("a.p{at}"), &need.text()));
            text.push_str(&item(&format!("a.q{at}"), &format!("not (not ({}))", need.text())));
        }
        let rules = crate::fixtures::packs::rules(&text);
        for _ in 0..20 {
            let world = World::any(dice, false);
            let facts = Facts::bind(&rules, &world.record(&rules));
            let evaluation = Evaluation::new(&rules.program, &facts, DateRange::day(day(world.today.0)));
            for pair in rules.items.iter().collect::<Vec<_>>().chunks(2) {
                let [plain, twice] = pair else { continue };
                assert_eq!(evaluation.decide(plain.need), evaluation.decide(twice.need), "{}", plain.name);
            }
        }
    });
}

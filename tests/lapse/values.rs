//! Random values, files and leave beside random logs, against the reference.

use super::log_text::{NAMES, engine_of_values, files, header_text, pack_text};
use super::random::{day, world};
use super::reference::{Days, Fate, Instrument, Moment, Of, Outcome, Value, World};
use crate::fixtures::dice::Dice;
use crate::fixtures::projects::file;
use crate::fixtures::seed::with_dice;
use cotterpin_engine::project::FileText;
use cotterpin_engine::vocabulary::Verdict;
use std::collections::BTreeMap;

/// How many random logs the long test goes through.
const LOGS: &str = "COTTERPIN_LOGS";

const MONTHS: [(&str, &str); 2] = [("2026-08-01", "2026-08-31"), ("2026-09-01", "2026-09-30")];

/// A day near one of the lines, or a month.
fn days(dice: &mut Dice, world: &World) -> Days {
    if dice.once_in(6) {
        let (first, last) = *dice.pick(&MONTHS);
        return (day(first), day(last));
    }
    let near = dice.pick(&world.lines).first.max(day("2026-08-01"));
    let on = near + i32::try_from(dice.below(6)).expect("small") - 1;
    (on, on)
}

fn moment(dice: &mut Dice, world: &World) -> Moment {
    let days = (!dice.once_in(10)).then(|| days(dice, world));
    let known = days.is_some_and(|(first, last)| first == last);
    let instrument = dice.once_in(4).then(|| dice.below(world.instruments.len()));
    Moment { days, minute: (known && dice.once_in(3)).then(|| 600 + dice.below(3) as u32), instrument }
}

fn value(dice: &mut Dice, world: &World) -> Value {
    let declared: Vec<&str> = world.parts.iter().filter(|part| !part.own).map(|part| part.name.as_str()).collect();
    // Mostly of what something is done to.
    let touched = world.lines.iter().map(|line| line.subject.as_str()).find(|subject| declared.contains(subject));
    let part = touched.filter(|_| dice.once_in(2)).unwrap_or_else(|| *dice.pick::<&str>(&declared)).to_owned();
    let of = match dice.below(10) {
        0 => Of::Design,
        1 => Of::Fitted(None),
        2..=5 => Of::Itself(part),
        _ => Of::Fitted(Some(part)),
    };
    let of_part = matches!(of, Of::Itself(_) | Of::Fitted(Some(_)));
    let in_list = of_part && dice.once_in(4);
    let own_day = (of != Of::Design && dice.once_in(5)).then(|| days(dice, world));
    let (said, good) = *dice.pick(&[
        (None, Some(true)),
        (None, Some(true)),
        (None, Some(false)),
        (Some("0.5 in"), Some(true)),
        (Some("0.2 in to 1 in"), Some(true)),
        (Some("0.5 in to 2 in"), None),
        (Some("2 in"), Some(false)),
    ]);
    let mut line = moment(dice, world);
    if own_day.is_some() && !dice.once_in(3) {
        (line.days, line.minute) = (None, None);
    }
    let evidence = (!in_list && dice.once_in(4)).then(|| {
        let own = if dice.once_in(2) { line } else { moment(dice, world) };
        // What has no day of its own is of the day of the value beside it.
        let own = if own.days.is_some() { own } else { line };
        Moment { instrument: None, ..own }
    });
    Value {
        of,
        in_list,
        good: if own_day.is_some() { Some(good != Some(false)) } else { good },
        said: said.filter(|_| own_day.is_none()),
        own_day,
        line,
        evidence,
        leave: dice.once_in(4).then(|| days(dice, world)),
    }
}

/// A world of few lines and of values of each kind.
fn world_of_values(dice: &mut Dice) -> World {
    let lines = 1 + dice.below(4);
    let mut world = world(dice, lines, true);
    world.needs.clear();
    for line in &mut world.lines {
        // An entry that shows nothing here is there for its fit.
        if matches!(line.event, "inspected" | "tested") && line.fit.is_none() && !dice.once_in(3) {
            line.event = dice.pick::<&str>(&["work done", "removed", "refitted", "adjusted"]);
            line.points.clear();
        }
        line.instrument = None;
        let left_off = world.parts.iter().any(|part| part.name == line.subject && part.left_off);
        line.good |= line.event == "removed" && left_off && dice.once_in(2);
        line.visit &= !line.good && matches!(line.event, "opened" | "removed");
    }
    world.values = (0..=dice.below(2)).map(|_| value(dice, &world)).collect();
    for at in 0..world.instruments.len() {
        // What nothing is measured with would only make the courses more.
        if !world.values.iter().any(|value| value.line.instrument == Some(at)) {
            world.instruments[at] = Instrument::default();
        }
    }
    world
}

/// What all courses of events together come to.
fn expected(fate: &Fate, value: &Value) -> Verdict {
    let mut all = fate.outcomes.iter().copied();
    let bare = match (all.next(), all.next(), all.next()) {
        (Some(Outcome::Met), None | Some(Outcome::NotApplicable), None) => Verdict::Met,
        (Some(Outcome::Unmet), None, None) => Verdict::Unmet,
        (Some(Outcome::NotApplicable), None, None) => Verdict::NotApplicable,
        _ => Verdict::NotShown,
    };
    let stays = value.leave.is_some() && !fate.leave_falls;
    if stays && matches!(bare, Verdict::Unmet | Verdict::NotShown) { Verdict::Conceded } else { bare }
}

/// What came of many worlds.
#[derive(Debug, Default)]
struct Tally {
    agreed: BTreeMap<Verdict, usize>,
    /// Not shown, or left to leave, though every course of events agrees.
    cautious: BTreeMap<Verdict, usize>,
    /// Unmet, though in some course the aircraft is without the part.
    perhaps_gone: usize,
    undone: usize,
    courses: usize,
    too_many: usize,
}

impl Tally {
    fn take(&mut self, world: &World, told: impl Fn() -> String) {
        let Some((fates, courses)) = world.courses_of_values(2_000) else {
            self.too_many += 1;
            return;
        };
        self.courses += courses;
        let says = engine_of_values(world, &header_text(world), &files(world, &NAMES));
        for (n, (says, fate)) in says.into_iter().zip(fates).enumerate() {
            let value = &world.values[n];
            let expected = expected(&fate, value);
            let told = || {
                let own = format!("value {n}: {says:?}, expected {expected:?} of {fate:?}");
                let files = files(world, &NAMES);
                let texts: Vec<_> =
                    files.iter().map(|file| String::from_utf8_lossy(&file.bytes).into_owned()).collect();
                format!(
                    "{}: {own}\n{}\n{}\n{}\n{world:#?}",
                    told(),
                    pack_text(world),
                    header_text(world),
                    texts.join("---\n")
                )
            };
            let only = |allowed: &[Outcome]| fate.outcomes.iter().all(|outcome| allowed.contains(outcome));
            match says {
                _ if says == expected => {
                    *self.agreed.entry(says).or_default() += 1;
                    let undone = fate.outcomes.contains(&Outcome::NotShown) && value.good == Some(true);
                    self.undone += usize::from(undone);
                }
                Verdict::NotShown => *self.cautious.entry(expected).or_default() += 1,
                // The leave certainly stands; the value is taken with more caution than need be.
                Verdict::Conceded if value.leave.is_some() && !fate.leave_falls => {
                    *self.cautious.entry(expected).or_default() += 1;
                }
                Verdict::Unmet if only(&[Outcome::Unmet, Outcome::NotApplicable]) => self.perhaps_gone += 1,
                _ => panic!("a wrong verdict: {}", told()),
            }
        }
    }

    /// How many in ten thousand are taken with more caution than need be, of those on which all courses agree.
    fn share(&self) -> usize {
        let decided: usize =
            self.agreed.iter().filter(|(verdict, _)| **verdict != Verdict::NotShown).map(|(_, n)| n).sum();
        let cautious: usize = self.cautious.values().sum();
        cautious * 10_000 / (decided + cautious).max(1)
    }
}

/// Never met, unmet, conceded or not applicable where some course of events
/// says otherwise; not shown though every course agrees, seldom: where two
/// entries of a day were not both the last, or a part that is perhaps off for
/// good is perhaps back.
#[test]
fn a_value_counts_only_if_every_course_of_events_leaves_it_standing() {
    with_dice(&[], |dice| {
        let mut tally = Tally::default();
        for round in 0..4_000 {
            tally.take(&world_of_values(dice), || format!("round {round}"));
        }
        println!("values: {tally:?}, {} in 10,000 more cautious", tally.share());
        let of = |verdict| tally.agreed.get(&verdict).copied().unwrap_or_default();
        assert!(of(Verdict::Met) > 300 && of(Verdict::Unmet) > 100 && of(Verdict::NotApplicable) > 50, "{tally:?}");
        assert!(of(Verdict::Conceded) > 50 && tally.undone > 800 && tally.too_many < 800, "{tally:?}");
        assert!(tally.share() < 300, "{tally:?}");
    });
}

/// Not of every run: `COTTERPIN_LOGS=1000000 cargo test a_million_logs -- --ignored`. A seed of its
/// own for each thousand, so that what is found is found again soon.
#[test]
#[ignore = "takes minutes; `COTTERPIN_LOGS` says how many random logs"]
fn a_million_logs_with_values() {
    let logs: usize = std::env::var(LOGS).map_or(1_000_000, |logs| logs.parse().expect("a whole number"));
    with_dice(&[], |dice| {
        let (mut tally, start) = (Tally::default(), std::time::Instant::now());
        for thousand in 0..logs.div_ceil(1_000) {
            let seed = dice.next() >> 32;
            let mut dice = Dice::new(seed);
            for round in 0..1_000 {
                tally.take(&world_of_values(&mut dice), || format!("seed {seed}, round {round}"));
            }
            if thousand % 10 == 9 {
                println!("{} logs in {:?}: {tally:?}", (thousand + 1) * 1_000, start.elapsed());
            }
        }
        println!("{logs} logs in {:?}: {tally:?}, {} in 10,000 more cautious", start.elapsed(), tally.share());
    });
}

fn says(world: &World, files: &[FileText]) -> Vec<Verdict> {
    engine_of_values(world, &header_text(world), files)
}

#[test]
fn other_names_of_the_files_change_no_verdict_on_a_value() {
    with_dice(&[], |dice| {
        for _ in 0..400 {
            let world = world_of_values(dice);
            let before = says(&world, &files(&world, &NAMES));
            let mut turned = files(&world, &NAMES);
            turned.reverse();
            assert_eq!(before, says(&world, &turned), "{world:#?}");
            let mut renamed = files(&world, &["z.toml", "m.toml", "b/c.toml"]);
            for (n, file) in renamed.iter_mut().enumerate().skip(3) {
                file.name = format!("x/{}-{}", 9 - n, file.name);
            }
            assert_eq!(before, says(&world, &renamed), "{world:#?}");
        }
    });
}

/// One day for a table, for each of its values, or for each of two files that hold a part of it.
#[test]
fn facts_in_one_file_or_in_two_with_their_day_repeated_come_to_the_same() {
    with_dice(&[], |dice| {
        for _ in 0..400 {
            let mut world = world_of_values(dice);
            let on = days(dice, &world);
            world.values = (0..3).map(|_| value(dice, &world)).filter(|value| !value.in_list).collect();
            for value in &mut world.values {
                value.line = Moment { days: Some(on), minute: None, instrument: None };
                (value.evidence, value.leave) = (None, None);
            }
            let day_of = |text: &str| text.lines().find(|line| line.starts_with("dated")).map(str::to_owned);
            let each = files(&world, &NAMES);
            let at = each.iter().position(|file| file.name == "facts.toml").expect("the facts");
            let text = String::from_utf8(each[at].bytes.clone()).expect("text");
            let Some(dated) = day_of(&text) else { continue };
            let values: Vec<String> = text
                .split("[shed.v")
                .skip(1)
                .map(|value| {
                    let said = value.lines().find(|line| line.starts_with("value")).expect("a value");
                    format!("v{}{}", &value[..1], said.trim_start_matches("value"))
                })
                .collect();
            let whole = format!("[shed]\n{dated}\n{}\n", values.join("\n"));
            let (mut one, mut two) = (each.clone(), each.clone());
            one[at] = file("facts.toml", &whole);
            let (first, rest) = values.split_at(dice.below(values.len()));
            two[at] = file("facts.toml", format!("[shed]\n{dated}\n{}\n", first.join("\n")));
            two.push(file("more.toml", format!("[shed]\n{}\n{dated}\n", rest.join("\n"))));
            let before = says(&world, &each);
            assert_eq!(before, says(&world, &one), "{whole}\n{world:#?}");
            assert_eq!(before, says(&world, &two), "{whole}\n{world:#?}");
        }
    });
}

#[test]
fn a_length_in_other_units_comes_to_the_same() {
    with_dice(&[], |dice| {
        for _ in 0..600 {
            let mut world = world_of_values(dice);
            let before = says(&world, &files(&world, &NAMES));
            for value in &mut world.values {
                value.said = value.said.map(|said| match said {
                    "0.5 in" => "12.7 mm",
                    "0.2 in to 1 in" => "5.08 mm to 25.4 mm",
                    "0.5 in to 2 in" => "1.27 cm to 5.08 cm",
                    "2 in" => "0.0508 m",
                    other => panic!("{other}"),
                });
            }
            assert_eq!(before, says(&world, &files(&world, &NAMES)), "{world:#?}");
        }
    });
}

/// A3: what becomes known of a value, of its day or of the day it names, turns no verdict into its
/// opposite or back to undecided. Leave is taken out: where it is not needed any more it is not told.
#[test]
fn a_value_that_becomes_known_better_turns_no_verdict() {
    with_dice(&[], |dice| {
        let (mut narrowed, mut decided) = (0, 0);
        for _ in 0..3_000 {
            let mut world = world_of_values(dice);
            for value in &mut world.values {
                value.leave = None;
            }
            let before = says(&world, &files(&world, &NAMES));
            let was = world.clone();
            let mut known = |days: &mut Option<Days>| {
                if let Some((first, last)) = days.filter(|_| dice.once_in(2)) {
                    let on = first + dice.below((last - first + 1) as usize) as i32;
                    *days = Some((on, on));
                }
            };
            for value in &mut world.values {
                known(&mut value.own_day);
                known(&mut value.line.days);
                if let Some(evidence) = &mut value.evidence {
                    // Of the value's day where it had that.
                    known(&mut evidence.days);
                }
                (value.said, value.good) = match value.said {
                    Some("0.2 in to 1 in") => (Some("0.5 in"), Some(true)),
                    Some("0.5 in to 2 in") => (Some("2 in"), Some(false)),
                    said => (said, value.good),
                };
            }
            if format!("{:?}", was.values) == format!("{:?}", world.values) {
                continue;
            }
            narrowed += 1;
            for (before, after) in before.into_iter().zip(says(&world, &files(&world, &NAMES))) {
                assert!(before == after || before == Verdict::NotShown, "{before:?}, {after:?}: {was:#?}\n{world:#?}");
                decided += usize::from(before != after);
            }
        }
        println!("{narrowed} worlds became known better, {decided} verdicts decided by it");
        assert!(narrowed > 300 && decided > 20, "{narrowed} {decided}");
    });
}

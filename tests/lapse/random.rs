//! Random worlds against the reference.

use super::log_text::{engine, engine_of_words, pack_text};
use super::reference::{Ask, Calibration, Day, Disturbs, Instrument, Line, Need, Part, World};
use crate::fixtures::dice::Dice;
use crate::fixtures::seed::with_dice;
use cotterpin_engine::quantity::Date;
use cotterpin_engine::vocabulary::Verdict;

/// Words of names; some begin with another, which makes nobody's part of them.
const WORDS: [&str; 4] = ["a", "b", "ab", "a2"];

const EVENTS: [&str; 15] = [
    "inspected",
    "inspected",
    "inspected",
    "inspected",
    "tested",
    "work done",
    "adjusted",
    "opened",
    "opened",
    "closed",
    "removed",
    "refitted",
    "refitted",
    "snag cleared",
    "snag found",
];

const POINTS: [&str; 2] = ["assembly", "locking"];

pub(super) fn day(text: &str) -> Day {
    Date::parse(text).expect("a date").days()
}

fn names(dice: &mut Dice, most: usize) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for _ in 0..=dice.below(most) {
        let words: Vec<&str> = (0..=dice.below(3)).map(|_| *dice.pick(&WORDS)).collect();
        let name = words.join(".");
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names
}

fn parts(dice: &mut Dice, zones: &[String]) -> Vec<Part> {
    let mut parts: Vec<Part> = Vec::new();
    for name in names(dice, 6) {
        let zone = (!dice.once_in(3)).then(|| dice.pick(zones).clone());
        parts.push(Part { name, zone, own: false, left_off: dice.once_in(2) });
    }
    for n in 0..dice.below(3) {
        let above = dice.pick(&parts).name.clone();
        let name = format!("{above}.own{n}");
        let zone = dice.once_in(2).then(|| dice.pick(zones).clone());
        parts.push(Part { name, zone, own: true, left_off: dice.once_in(2) });
    }
    parts
}

/// A world of that many lines. If not `coarse`, all days are known and the
/// order of all lines with them.
pub(super) fn world(dice: &mut Dice, lines: usize, coarse: bool) -> World {
    let zones: Vec<String> =
        if dice.once_in(2) { vec!["z1".into(), "a".into()] } else { vec!["z1".into(), "z2".into()] };
    let parts = parts(dice, &zones);
    let declared: Vec<String> = parts.iter().filter(|part| !part.own).map(|part| part.name.clone()).collect();
    let disturbs = (0..dice.below(5))
        .map(|_| {
            let also = (0..=dice.below(2)).map(|_| dice.pick(&declared).clone()).collect();
            Disturbs { of: dice.pick(&declared).clone(), itself: dice.once_in(3), also }
        })
        .collect();
    let needs = (0..3).map(|_| need(dice, &declared)).collect();
    let start = day("2026-08-20");
    let year = (start - 200, start + 200);
    let one = |from, until, found_good| Calibration { from, until, found_good };
    let of = |needs_none, calibrations| Instrument { listed: true, needs_none, calibrations };
    let beside = |until| of(false, vec![one((start - 200, start - 200), until, None)]);
    let mut world = World {
        nested: dice.once_in(4),
        zones,
        parts,
        disturbs,
        people: vec!["Ann Example", "ann  example", "Bo Sample", "Cy Invented"],
        instruments: vec![
            of(true, Vec::new()),
            Instrument::default(),
            beside((start + 8, start + 8)),
            beside((day("2026-09-01"), day("2026-09-30"))),
            // Begun only then; found out of tolerance, and perhaps good before that or again on that day.
            of(false, vec![one((start + 4, start + 4), (year.1, year.1), None)]),
            of(false, {
                let mut some = vec![one((year.0, year.0), (year.1, year.1), None)];
                for _ in 0..=dice.below(3) {
                    let on = start + i32::try_from(dice.below(12)).expect("small");
                    let good = *dice.pick(&[Some(true), Some(true), Some(false), Some(false), None]);
                    some.push(one((on, on), (year.1, year.1), Some(good)));
                }
                some
            }),
        ],
        lines: Vec::new(),
        needs,
        asks: Vec::new(),
        values: Vec::new(),
        today: start + 10 + i32::try_from(dice.below(20)).expect("small"),
    };
    // On few days many lines meet.
    let spread = 1 + dice.below(25);
    for n in 0..lines {
        let line = line(dice, &world, start, spread, if coarse { None } else { Some(n) });
        world.lines.push(line);
    }
    if !coarse {
        world.lines.sort_by_key(|line| line.first);
    }
    world
}

fn need(dice: &mut Dice, declared: &[String]) -> Need {
    let some = |dice: &mut Dice, from: &[&'static str]| -> Vec<&'static str> {
        from.iter().copied().filter(|_| dice.once_in(3)).collect()
    };
    Need {
        event: dice.pick::<&str>(&["inspected", "inspected", "tested"]),
        subject: dice.pick(declared).clone(),
        people: 1 + dice.below(3).min(1),
        roles: some(dice, &["builder", "helper"]),
        points: some(dice, &POINTS),
    }
}

fn line(dice: &mut Dice, world: &World, start: Day, spread: usize, one_file: Option<usize>) -> Line {
    let event = *dice.pick(&EVENTS);
    let (first, last) = match dice.below(if one_file.is_some() { 1 } else { 5 }) {
        3 => *dice.pick(&[(day("2026-08-01"), day("2026-08-31")), (day("2026-09-01"), day("2026-09-30"))]),
        4 if dice.once_in(4) => (day("2026-01-01"), day("2026-12-31")),
        _ => {
            let on = start + i32::try_from(dice.below(spread)).expect("small");
            (on, on)
        }
    };
    // Showing entries about what is asked, most of the time.
    let shows = matches!(event, "inspected" | "tested");
    let needed = shows && !dice.once_in(4);
    let mut subject =
        if needed { dice.pick(&world.needs).subject.clone() } else { dice.pick(&world.parts).name.clone() };
    let left_off = |subject: &str| world.parts.iter().any(|part| part.name == subject && part.left_off);
    let good = event == "removed" && left_off(&subject) && !dice.once_in(3);
    let visit = (event == "opened" || event == "removed" && !good) && dice.once_in(3);
    let mut zone = visit.then(|| dice.pick(&world.zones).clone());
    if matches!(event, "opened" | "closed") && dice.once_in(3) {
        subject = dice.pick(&world.zones).clone();
        zone = zone.filter(|_| dice.once_in(2));
    } else if visit && world.zone_of(&subject).is_some() && dice.once_in(2) {
        zone = None;
    }
    // Back, for good, or another: mostly of a part that went before.
    let gone = world.lines.iter().rev().find(|line| line.event == "removed");
    if let Some(gone) = gone.filter(|_| event == "refitted" && !dice.once_in(3)) {
        subject.clone_from(&gone.subject);
    }
    let to_fit = matches!(event, "inspected" | "tested" | "work done" | "adjusted" | "refitted" | "snag cleared");
    Line {
        file: one_file.map_or_else(|| dice.below(3), |_| 0),
        first,
        last,
        minute: (one_file.is_none() && first == last && dice.once_in(3)).then(|| 600 + dice.below(3) as u32),
        event,
        subject,
        who: dice.below(world.people.len()),
        role: dice.pick::<&str>(&["builder", "builder", "helper", "helper", "adviser"]),
        points: if shows { POINTS.into_iter().filter(|_| !dice.once_in(3)).collect() } else { Vec::new() },
        visit,
        zone,
        instrument: (shows && dice.once_in(4)).then(|| dice.below(world.instruments.len())),
        good,
        another: event == "refitted" && dice.once_in(4),
        fit: (to_fit && dice.once_in(8)).then(|| *dice.pick::<&str>(&["trial", "temporary", "final"])),
    }
}

/// Where every day and order is known, the engine and the replay agree, whatever the length.
#[test]
fn the_log_replayed_day_by_day_comes_to_the_same() {
    with_dice(&[], |dice| {
        let (mut met, mut open, mut lapsed) = (0, 0, 0);
        for round in 0..1_500 {
            let lines = 2 + dice.below(40);
            let mut world = world(dice, lines, false);
            // What is not known to the day has several courses.
            world.instruments[3].calibrations[0].until = (world.today - 3, world.today - 3);
            for one in &mut world.instruments[5].calibrations {
                one.found_good = one.found_good.map(|found| found.or(Some(false)));
            }
            let says = engine(&world);
            let courses = world.courses(1).expect("one course");
            for (n, (says, (met_in, of))) in says.iter().zip(courses).enumerate() {
                assert_eq!(of, 1);
                assert_eq!(*says, met_in == 1, "need {n} of round {round}:\n{}\n{world:#?}", pack_text(&world));
                met += usize::from(*says);
                open += usize::from(!*says);
                let shown = |line: &&Line| line.event == world.needs[n].event && line.subject == world.needs[n].subject;
                lapsed += usize::from(!*says && world.lines.iter().any(|line| shown(&line)));
            }
        }
        println!("known order: {met} needs met, {open} not shown, {lapsed} of these with entries about the part");
        assert!(met > 100 && lapsed > 500, "{met} met, {lapsed} with entries");
    });
}

/// Where days or orders are open: met only if every course of events meets it,
/// and not shown only if some course does not.
///
/// The engine asks of each entry by itself whether it certainly comes after
/// everything that disturbed its part. It is more cautious than need be where
/// two entries cannot both have lapsed: in two files of one day, work and then
/// an inspection in each. One of the inspections was the last act of the day,
/// but nobody knows which.
#[test]
fn met_only_if_every_course_of_events_agrees() {
    with_dice(&[], |dice| {
        let (mut met, mut open, mut cautious, mut passed_over) = (0, 0, 0, 0);
        for round in 0..2_500 {
            let lines = 2 + dice.below(4);
            let world = world(dice, lines, true);
            let Some(courses) = world.courses(3_000) else {
                passed_over += 1;
                continue;
            };
            for (n, (says, (met_in, of))) in engine(&world).into_iter().zip(courses).enumerate() {
                let told = || format!("need {n} of round {round}: {met_in} of {of}\n{}\n{world:#?}", pack_text(&world));
                match (says, met_in == of) {
                    (true, true) => met += 1,
                    (false, false) => open += 1,
                    (true, false) => panic!("a wrong met: {}", told()),
                    (false, true) => {
                        assert!(one_of_two_files(&world), "more cautious than it says: {}", told());
                        cautious += 1;
                    }
                }
            }
        }
        println!(
            "open order: {met} needs met, {open} not shown, {cautious} more cautious, {passed_over} worlds too large"
        );
        assert!(met > 60 && open > 1_000 && passed_over < 400, "{met} met, {open} not shown, {passed_over} too large");
    });
}

/// The one case in which the engine is more cautious than need be.
#[test]
fn either_of_two_inspections_was_last_but_nobody_knows_which() {
    let mut dice = Dice::new(1);
    let mut world = world(&mut dice, 4, true);
    let on = day("2026-08-25");
    let subject = world.parts[0].name.clone();
    let need = Need { event: "inspected", subject: subject.clone(), people: 1, roles: vec![], points: vec![] };
    (world.needs, world.today, world.instruments) = (vec![need], on, Vec::new());
    for (n, line) in world.lines.iter_mut().enumerate() {
        let event = if n % 2 == 0 { "work done" } else { "inspected" };
        let (file, subject, role) = (n / 2, subject.clone(), "builder");
        *line = Line { file, first: on, last: on, event, subject, role, who: file, ..Line::default() };
    }
    assert_eq!(world.courses(100), Some(vec![(6, 6)]), "met in each of the six orders");
    assert_eq!(engine(&world), [false]);
    assert!(one_of_two_files(&world));
}

/// Whether two inspections and two disturbances of one day stand in such a way
/// that either inspection may have been the last act, but one of them was.
fn one_of_two_files(world: &World) -> bool {
    let days = world.lines.iter().map(|line| (line.first, line.last));
    let many = days.clone().any(|day| days.clone().filter(|other| *other == day).count() >= 4);
    // What is inspected as it is put back is inspected in its place, but of a line whose place in
    // its day nobody knows another like it may stand for it.
    let backwards = world.backwards();
    many || world.lines.iter().any(|line| line.fit.is_some() && backwards.contains(&line.file))
}

/// A world of few lines that mostly disturb, and of a few words about parts.
fn world_of_words(dice: &mut Dice) -> World {
    let lines = 1 + dice.below(3);
    let mut world = world(dice, lines, true);
    (world.needs, world.instruments) = (Vec::new(), Vec::new());
    for line in &mut world.lines {
        line.instrument = None;
        if !dice.once_in(4) && !matches!(line.event, "opened" | "closed") {
            line.event = dice.pick::<&str>(&["work done", "adjusted", "removed", "refitted", "refitted"]);
            (line.visit, line.points, line.another) = (false, Vec::new(), false);
            let left_off = world.parts.iter().any(|part| part.name == line.subject && part.left_off);
            line.good = line.event == "removed" && left_off && dice.once_in(2);
        }
    }
    let declared: Vec<String> = world.parts.iter().filter(|part| !part.own).map(|part| part.name.clone()).collect();
    world.asks = (0..2)
        .map(|n| Ask {
            name: format!("s.w{n}"),
            roles: if dice.once_in(3) { vec!["builder", "adviser"] } else { vec!["builder"] },
            about: (0..dice.below(3)).map(|_| dice.pick(&declared).clone()).collect(),
        })
        .collect();
    let start = day("2026-08-20");
    for n in 0..=dice.below(3) {
        // The nearer the words are to the work, the more there is to settle.
        let near = world.lines.first().map_or(start, |line| line.first);
        let (first, last) = if dice.once_in(5) {
            *dice.pick(&[(day("2026-08-01"), day("2026-08-31")), (day("2026-09-01"), day("2026-09-30"))])
        } else {
            let on = near + i32::try_from(dice.below(6)).expect("small") - 1;
            (on, on)
        };
        let mut word = world.lines[0].clone();
        (word.file, word.first, word.last, word.minute) = (100 + n, first, last, None);
        word.event = if dice.once_in(4) { "confirmed not" } else { "confirmed" };
        word.subject = dice.pick(&world.asks).name.clone();
        word.role = dice.pick::<&str>(&["builder", "builder", "builder", "adviser"]);
        (word.visit, word.zone, word.points) = (false, None, Vec::new());
        (word.good, word.another, word.fit) = (false, false, None);
        world.lines.push(word);
    }
    world
}

/// A person's word about a part: met only if in every course of events it was
/// the last one and nothing came after it; unmet only if in every course it
/// was last said not to be so; else not shown. No more cautious than that.
#[test]
fn a_word_counts_only_if_every_course_of_events_agrees() {
    with_dice(&[16341941, 307384643], |dice| {
        let (mut met, mut unmet, mut open, mut undone, mut passed_over) = (0, 0, 0, 0, 0);
        let (mut gone, mut cautious) = (0, 0);
        for round in 0..1_500 {
            let world = world_of_words(dice);
            let Some(courses) = world.courses_of_words(3_000) else {
                passed_over += 1;
                continue;
            };
            for (n, ((says, finding), [so, not_so, nothing, without])) in
                engine_of_words(&world).into_iter().zip(courses).enumerate()
            {
                let told = || {
                    let counts = format!("{says:?}, of {so}, {not_so}, {nothing}, {without}");
                    format!("ask {n} of round {round}: {counts}\n{}\n{world:#?}", pack_text(&world))
                };
                let expected = match (so, not_so, nothing) {
                    (0, 0, 0) => Verdict::NotApplicable,
                    (1.., 0, 0) => Verdict::Met,
                    (0, 1.., 0) => Verdict::Unmet,
                    _ => Verdict::NotShown,
                };
                // Where a part is perhaps gone for good, a word about it and others waits until that is known.
                // So it is in a file that tells no order, where what moved a part stands among other lines of its day.
                let perhaps_gone = !world.backwards().is_empty()
                    || without > 0
                    || world.lines.iter().any(|line| line.good) && world.asks[n].about.len() > 1;
                if says == Verdict::NotShown && perhaps_gone && says != expected {
                    cautious += 1;
                    continue;
                }
                assert_eq!(says, expected, "{}", told());
                // What is told as undone counts in no course of events, unless what it was undone for is perhaps gone.
                let lapsed = finding.lapses().count();
                let ask = &world.asks[n];
                let about = |line: &&Line| line.subject == ask.name && ask.roles.contains(&line.role);
                let alone = world.lines.iter().filter(about).count() == 1;
                assert!(
                    lapsed == 0 || says == Verdict::NotShown && (!alone || perhaps_gone || so + not_so == 0),
                    "{}",
                    told()
                );
                met += usize::from(says == Verdict::Met);
                unmet += usize::from(says == Verdict::Unmet);
                open += usize::from(says == Verdict::NotShown);
                undone += usize::from(lapsed > 0);
                gone += usize::from(says == Verdict::NotApplicable);
            }
        }
        println!(
            "words: {met} met, {unmet} unmet, {open} not shown, {undone} of these undone, {gone} about what is gone, \
             {cautious} more cautious, {passed_over} too large"
        );
        assert!(
            met > 150 && unmet > 50 && open > 500 && undone > 150 && cautious < 30 && passed_over < 500,
            "{met} {unmet} {open} {undone} {cautious} {passed_over}"
        );
    });
}

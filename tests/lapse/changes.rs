//! What a change of the log may do to what it shows.

use super::log_text::{NAMES, engine, engine_with, files};
use super::random::{day, world};
use super::reference::{Instrument, Line, World};
use crate::fixtures::dice::Dice;
use crate::fixtures::seed::with_dice;

fn worlds(dice: &mut Dice, rounds: usize) -> impl Iterator<Item = (World, Dice)> {
    (0..rounds).map(move |_| {
        let lines = 2 + dice.below(10);
        (world(dice, lines, true), dice.others())
    })
}

#[test]
fn more_work_never_shows_more() {
    with_dice(&[], |dice| {
        let mut lapsed = 0;
        for (mut world, mut dice) in worlds(dice, 2000) {
            let before = engine(&world);
            let on = day("2026-08-18") + dice.below(40) as i32;
            // In a file of its own: another line may show in which direction a file is written.
            let line = Line {
                file: 3,
                first: on,
                last: on,
                // Not a refit: what was off counts again after it.
                event: dice.pick::<&str>(&["work done", "removed", "adjusted", "opened"]),
                subject: dice.pick(&world.parts).name.clone(),
                role: "builder",
                ..Line::default()
            };
            world.lines.push(line);
            let after = engine_with(&world, &files(&world, &["a.toml", "b.toml", "c.toml", "d.toml"]));
            for (before, after) in before.into_iter().zip(after) {
                assert!(before || !after, "{world:#?}");
                lapsed += usize::from(before && !after);
            }
        }
        println!("more work: {lapsed} needs lapsed");
        assert!(lapsed > 5, "{lapsed}");
    });
}

#[test]
fn order_and_names_of_files_are_of_no_consequence() {
    with_dice(&[], |dice| {
        for (world, _) in worlds(dice, 120) {
            let says = engine(&world);
            let mut turned = files(&world, &NAMES);
            turned.reverse();
            assert_eq!(says, engine_with(&world, &turned));
            assert_eq!(says, engine_with(&world, &files(&world, &["z.toml", "m.toml", "b/c.toml"])), "{world:#?}");
        }
    });
}

/// Of all that may have happened, a day that becomes known leaves less. So what
/// held in every course of events holds still. (Unless the day shows that its
/// file is written from the latest day to the earliest: then the order of its
/// lines, which was taken for known, is known no more.)
#[test]
fn a_day_that_becomes_known_never_unshows() {
    with_dice(&[], |dice| {
        let (mut narrowed, mut shown) = (0, 0);
        for (mut world, mut dice) in worlds(dice, 1500) {
            let before = engine(&world);
            let Some(at) = world.lines.iter().position(|line| line.first != line.last) else { continue };
            let days = (world.lines[at].last - world.lines[at].first + 1) as usize;
            let on = world.lines[at].first + dice.below(days) as i32;
            let steps_back = backwards(&world);
            (world.lines[at].first, world.lines[at].last) = (on, on);
            if backwards(&world) != steps_back {
                continue;
            }
            narrowed += 1;
            for (before, after) in before.into_iter().zip(engine(&world)) {
                assert!(!before || after, "{world:#?}");
                shown += usize::from(!before && after);
            }
        }
        println!("days that became known: {narrowed}, of which {shown} showed something");
        assert!(narrowed > 100 && shown > 3, "{narrowed} narrowed, {shown} shown");
    });
}

/// Of each file whether its days step back as often as on, or oftener.
fn backwards(world: &World) -> Vec<bool> {
    let only_back = |file: usize| {
        let days: Vec<i32> = world.lines.iter().filter(|line| line.file == file).map(|line| line.first).collect();
        let back = days.windows(2).filter(|two| two[0] > two[1]).count();
        back > 0 && back >= days.windows(2).filter(|two| two[0] < two[1]).count()
    };
    (0..3).map(only_back).collect()
}

#[test]
fn the_calendar_itself_is_of_no_consequence() {
    with_dice(&[], |dice| {
        for (mut world, mut dice) in worlds(dice, 200) {
            world.instruments[3] = Instrument { listed: true, needs_none: true, calibrations: Vec::new() };
            // A month cannot be shifted by days, so these worlds know every day.
            for line in &mut world.lines {
                line.last = line.first;
            }
            let says = engine(&world);
            let days = dice.below(4_000) as i32 - 2_000;
            for line in &mut world.lines {
                (line.first, line.last) = (line.first + days, line.last + days);
            }
            for one in world.instruments.iter_mut().flat_map(|instrument| &mut instrument.calibrations) {
                for day in [&mut one.from, &mut one.until] {
                    (day.0, day.1) = (day.0 + days, day.1 + days);
                }
            }
            world.today += days;
            assert_eq!(says, engine(&world), "{days} days: {world:#?}");
        }
    });
}

//! Boundaries of the law through the built-in `us` pack, in inches, knots and
//! hours and in whatever else comes to exactly the same.
//!
//! Sources: 14 CFR 45.23(b), 45.29(b) to (e), 91.207(c), 91.413, and "more
//! than half" from 21.191(g).

use super::setup::audited_toml;
use crate::fixtures::findings::verdict;
use crate::fixtures::packs::built;
use cotterpin_engine::ir::Rules;
use cotterpin_engine::vocabulary::Verdict::{self, Met, NotShown, Unmet};

/// Facts as lines of TOML, an item of the `us` pack, its verdict.
const MARKS: &[(&str, &str, Verdict)] = &[
    // 45.29(c), (d), (e): 12 in high are 8 in wide, 2 in thick, 2 in apart.
    ("marks.height = '12 in'\nmarks.width = '8 in'", "marks.width.characters", Met),
    ("marks.height = '304.8 mm'\nmarks.width = '203.2 mm'", "marks.width.characters", Met),
    ("marks.height = '1 ft'\nmarks.width = '2/3 ft'", "marks.width.characters", Met),
    ("marks.height = '12 in'\nmarks.stroke = '2 in'", "marks.stroke.thickness", Met),
    ("marks.height = '12 in'\nmarks.stroke = '50.8 mm'", "marks.stroke.thickness", Met),
    ("marks.height = '12 in'\nmarks.one_width = '2 in'", "marks.width.one", Met),
    ("marks.width = '8 in'\nmarks.gap = '2 in'", "marks.gap.least", Met),
    ("marks.width = '8 in'\nmarks.gap = '50.8 mm'", "marks.gap.least", Met),
    ("marks.width = '203.2 mm'\nmarks.gap = '2 in'", "marks.gap.least", Met),
    ("marks.width = '8 in'\nmarks.gap = '50.79 mm'", "marks.gap.least", Unmet),
    ("marks.width = '8 in'\nmarks.gap = '1.999 in'", "marks.gap.least", Unmet),
    ("marks.width = '8 in'\nmarks.gap = '2 in ± 0.01 in'", "marks.gap.least", NotShown),
    // 3 in high are 2 in wide and 0.5 in thick.
    ("marks.height = '3 in'\nmarks.width = '2 in'", "marks.width.characters", Met),
    ("marks.height = '3 in'\nmarks.stroke = '0.5 in'", "marks.stroke.thickness", Met),
    ("marks.height = '3 in'\nmarks.stroke = '1/2 in'", "marks.stroke.thickness", Met),
    // The pack's own 3 %, to the end and past it.
    ("marks.height = '12 in'\nmarks.width = '8.24 in'", "marks.width.characters", Met),
    ("marks.height = '12 in'\nmarks.width = '8.2401 in'", "marks.width.characters", Unmet),
    ("marks.height = '12 in'\nmarks.width = '7.76 in'", "marks.width.characters", Met),
    ("marks.height = '12 in'\nmarks.width = '7.7599 in'", "marks.width.characters", Unmet),
    // 45.29(b)(1): 12 in; (b)(1)(iii): 3 in up to and including 180 kt.
    ("marks.height = '3 in'\naircraft.max_cruise = '180 kt'", "marks.size", Met),
    ("marks.height = '76.2 mm'\naircraft.max_cruise = '180 kt'", "marks.size", Met),
    ("marks.height = '3 in'\naircraft.max_cruise = '333.36 km/h'", "marks.size", Met),
    ("marks.height = '3 in'\naircraft.max_cruise = '92.6 m/s'", "marks.size", Met),
    ("marks.height = '7.62 cm'\naircraft.max_cruise = '333360 m/h'", "marks.size", Met),
    ("marks.height = '1/4 ft'\naircraft.max_cruise = '180 nmi/h'", "marks.size", Met),
    ("marks.height = '3 in'\naircraft.max_cruise = '333.361 km/h'", "marks.size", Unmet),
    ("marks.height = '3 in'\naircraft.max_cruise = '92.6000001 m/s'", "marks.size", Unmet),
    ("marks.height = '3 in'\naircraft.max_cruise = '180.01 kt'", "marks.size", Unmet),
    ("marks.height = '76.19 mm'\naircraft.max_cruise = '180 kt'", "marks.size", Unmet),
    // 180 kt is 180 * 1852 / 1609.344 mph, which no decimal ends.
    ("marks.height = '3 in'\naircraft.max_cruise = '333360000/1609344 mph'", "marks.size", Met),
    ("marks.height = '3 in'\naircraft.max_cruise = '207.2 mph'", "marks.size", Unmet),
    ("marks.height = '3 in'\naircraft.max_cruise = '180 kt ± 1 kt'", "marks.size", NotShown),
    ("marks.height = '3 in'", "marks.size", NotShown),
    ("marks.height = '12 in'", "marks.size", Met),
    ("marks.height = '304.8 mm'", "marks.size", Met),
    ("marks.height = '304.79 mm'\naircraft.max_cruise = '200 kt'", "marks.size", Unmet),
    ("marks.height = '11.99 in'\naircraft.max_cruise = '180 kt'", "marks.size", Met),
];

/// The same for the rest of the law.
const LAW: &[(&str, &str, Verdict)] = &[
    // 21.191(g): more than half; exactly half is not.
    ("tasks.builder = 74\ntasks.total = 148", "portion.major", Unmet),
    ("tasks.builder = '74.0'\ntasks.total = 148", "portion.major", Unmet),
    ("tasks.builder = '7400 %'\ntasks.total = 148", "portion.major", Unmet),
    ("tasks.builder = 74.1\ntasks.total = 148", "portion.major", Met),
    ("tasks.builder = '0.1000000000000000000001'\ntasks.total = 0.2", "portion.major", Met),
    ("tasks.builder = 0.1\ntasks.total = 0.2", "portion.major", Unmet),
    ("tasks.builder = 75.5\ntasks.total = 148", "portion.major", Met),
    ("tasks.builder = '74 ± 1'\ntasks.total = 148", "portion.major", NotShown),
    // 91.207(c)(1): more than one cumulative hour; one hour is not.
    (
        "aircraft.kind = 'airplane'\naircraft.seats = 2\nflying.testing_only = false\nelt.present = true\nelt.cumulative_use = '1.0 h'",
        "beacon.battery.use",
        Met,
    ),
    (
        "aircraft.kind = 'airplane'\naircraft.seats = 2\nflying.testing_only = false\nelt.present = true\nelt.cumulative_use = '60 min'",
        "beacon.battery.use",
        Met,
    ),
    (
        "aircraft.kind = 'airplane'\naircraft.seats = 2\nflying.testing_only = false\nelt.present = true\nelt.cumulative_use = '3600 s'",
        "beacon.battery.use",
        Met,
    ),
    (
        "aircraft.kind = 'airplane'\naircraft.seats = 2\nflying.testing_only = false\nelt.present = true\nelt.cumulative_use = '1/24 day'",
        "beacon.battery.use",
        Met,
    ),
    (
        "aircraft.kind = 'airplane'\naircraft.seats = 2\nflying.testing_only = false\nelt.present = true\nelt.cumulative_use = '3600.001 s'",
        "beacon.battery.use",
        Unmet,
    ),
    (
        "aircraft.kind = 'airplane'\naircraft.seats = 2\nflying.testing_only = false\nelt.present = true\nelt.cumulative_use = '60.1 min'",
        "beacon.battery.use",
        Unmet,
    ),
    // 45.23(b): letters of 2 in to 6 in.
    (
        "marks.replica = false\nplacards.entrances = [{ name = 'door', height = '2.0 in' }]",
        "placards.experimental",
        Met,
    ),
    (
        "marks.replica = false\nplacards.entrances = [{ name = 'door', height = '50.8 mm' }]",
        "placards.experimental",
        Met,
    ),
    (
        "marks.replica = false\nplacards.entrances = [{ name = 'door', height = '6.0 in' }]",
        "placards.experimental",
        Met,
    ),
    (
        "marks.replica = false\nplacards.entrances = [{ name = 'door', height = '15.24 cm' }]",
        "placards.experimental",
        Met,
    ),
    (
        "marks.replica = false\nplacards.entrances = [{ name = 'door', height = '0.5 ft' }]",
        "placards.experimental",
        Met,
    ),
    (
        "marks.replica = false\nplacards.entrances = [{ name = 'door', height = '50.799 mm' }]",
        "placards.experimental",
        Unmet,
    ),
    (
        "marks.replica = false\nplacards.entrances = [{ name = 'door', height = '152.401 mm' }]",
        "placards.experimental",
        Unmet,
    ),
    (
        "marks.replica = false\nplacards.entrances = [{ name = 'door', height = '2 in ± 1/16 in' }]",
        "placards.experimental",
        NotShown,
    ),
];

fn compared(rules: &Rules, cases: &[(&str, &str, Verdict)], common: &str) -> usize {
    for (facts, item, expected) in cases {
        let toml = format!("{common}{facts}\n");
        let got = verdict(&audited_toml(rules, &toml, "2026-11-25"), &format!("us/{item}"));
        assert_eq!(got, *expected, "{item} with\n{toml}");
    }
    cases.len()
}

#[test]
fn marks_are_14_cfr_45_29s() {
    let rules = built(&["us"]);
    let count = compared(&rules, MARKS, "aircraft.kind = 'airplane'\nmarks.replica = false\n");
    println!("{count} verdicts on proportions and sizes of 14 CFR 45.29");
}

#[test]
fn boundaries_of_the_law_are_met_or_unmet_as_it_says() {
    let rules = built(&["us"]);
    let count = compared(&rules, LAW, "");
    println!("{count} verdicts at the boundaries of 14 CFR 21.191(g), 45.23(b) and 91.207(c)");
}

/// 91.413, 91.207(d): the interval runs to the end of the calendar month (the
/// authority's usual reading, from memory).
#[test]
fn calendar_months_run_to_the_end_of_the_month() {
    let rules = built(&["us"]);
    let transponder = rules
        .items
        .iter()
        .find(|item| item.title.contains("transponder was tested"))
        .map(|item| rules.full_name(item))
        .expect("the item");
    let mut count = 0;
    for (tested, on, expected) in [
        ("2024-10-15", "2026-10-31", Met),
        ("2024-10-15", "2026-11-01", Unmet),
        ("2024-10-01", "2026-10-31", Met),
        ("2024-10-31", "2026-10-31", Met),
        ("2024-09-30", "2026-10-01", Unmet),
        ("2024-02-29", "2026-02-28", Met),
        ("2024-02-29", "2026-03-01", Unmet),
        ("2026-11-01", "2026-10-31", Unmet),
        ("2024-10", "2026-10-31", Met),
        ("2024-10", "2026-11-01", Unmet),
        ("2024", "2026-06-01", NotShown),
    ] {
        let value = if tested.len() == 10 { tested.to_owned() } else { format!("\"{tested}\"") };
        let toml = format!("transponder.present = true\ntransponder.tested_on = {value}\n");
        assert_eq!(verdict(&audited_toml(&rules, &toml, on), &transponder), expected, "tested {tested}, on {on}");
        count += 1;
    }
    println!("{count} verdicts of {transponder} on days about the end of a month");
}

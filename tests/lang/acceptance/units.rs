//! A8: units are types, and a boundary is the same in every unit.

use crate::lang::{OWN, codes, comes_out, mine, refused, told};
use cotterpin_engine::quantity::{Quantity, Truth};
use proptest::prelude::*;

const WIDTH: &str = "fact shed.width : length ask \"?\" such as \"2 in\"
fact shed.volts : voltage ask \"?\" such as \"12 V\"
fact shed.warm : temperature ask \"?\" such as \"20 degC\"\n";

/// 1 in = 25.4 mm exactly: NIST SP 811 (2008), appendix B.8.
#[test]
fn a8_two_inches_are_met_by_50_8_mm() {
    comes_out(
        WIDTH,
        "shed.width >= 2 in",
        "try \"mm\" shed.width = 50.8 mm => met
         try \"a hair less\" shed.width = 50.79999999999999 mm => unmet
         try \"cm\" shed.width = 5.08 cm => met
         try \"m\" shed.width = 0.0508 m => met",
    );
    comes_out(
        WIDTH,
        "shed.width <= 50.8 mm",
        "try \"in\" shed.width = 2 in => met\n try \"ft\" shed.width = 1/6 ft => met",
    );
    comes_out(WIDTH, "shed.width is 50.8 mm", "try \"in\" shed.width = 2 in => met");
}

#[test]
fn a8_feet_and_volts_do_not_add_and_both_are_pointed_at() {
    for need in
        ["shed.width + shed.volts > 1 in", "shed.width >= shed.volts", "shed.width is shed.volts", "3 ft - 4 V > 1 ft"]
    {
        let (sources, messages) = refused(&[mine(&format!("{WIDTH}item shed.door \"t\" need {need} {OWN}"))]);
        let message = messages
            .iter()
            .find(|m| m.code == "unit::mismatch")
            .unwrap_or_else(|| panic!("{:#?}", told(&sources, &messages)));
        let pointed: Vec<&str> = message.labels.iter().map(|label| sources.text(label.span)).collect();
        let expected = if need.starts_with('3') { ["3 ft", "4 V"] } else { ["shed.width", "shed.volts"] };
        assert_eq!(pointed, expected, "{need}");
        assert!(
            message.labels[0].text.contains("length") && message.labels[1].text.contains("voltage"),
            "{message:#?}"
        );
    }
}

#[test]
fn a8_products_and_quotients_have_units_of_their_own() {
    let facts =
        "fact shed.amps : current ask \"?\" fact shed.ohm : resistance ask \"?\" fact shed.volts : voltage ask \"?\"
                 fact shed.arm : length, above 0 in ask \"?\" fact shed.area : area ask \"?\"";
    comes_out(
        facts,
        "shed.amps * shed.ohm <= shed.volts",
        "try \"ohm's law\" shed.amps = 2 A, shed.ohm = 3 ohm, shed.volts = 6 V => met",
    );
    comes_out(facts, "shed.area / shed.arm is 2 ft", "try \"area\" shed.area = 1 ft2, shed.arm = 6 in => met");
    comes_out(facts, "root(shed.area) is 1 ft", "try \"root\" shed.area = 144 in2 => met");
    let (_, messages) =
        refused(&[mine(&format!("{facts} item shed.door \"t\" need shed.amps * shed.ohm <= shed.arm {OWN}"))]);
    assert_eq!(codes(&messages), ["unit::mismatch"]);
}

/// 20 degC = 68 degF: NIST SP 811 (2008), B.8, t/degC = (t/degF - 32)/1.8.
#[test]
fn a8_a_temperature_is_no_difference() {
    comes_out(WIDTH, "shed.warm is 20 degC", "try \"F\" shed.warm = 68 degF => met");
    for need in ["shed.warm + shed.warm > 1 degC", "2 * shed.warm > 1 degC", "150 % of shed.warm > 1 degC"] {
        let text = format!("{WIDTH}item shed.door \"t\" need {need} {OWN}");
        assert!(
            crate::fixtures::packs::load_packs(&[mine(&text)]).is_err(),
            "{need}: a share of a temperature means nothing"
        );
    }
}

#[test]
fn a8_a_date_is_no_number() {
    let facts = "fact shed.day : date ask \"?\" fact shed.n : number ask \"?\"
                 list loads ask \"?\" field arm : length ask \"?\" field on : date ask \"?\"
                 field name : text ask \"?\" named by name";
    let mut loads = Vec::new();
    for need in [
        "shed.day > 3",
        "shed.day + shed.day > shed.day",
        "shed.day * 2 > shed.day",
        "150 % of shed.day > shed.day",
        "mean of l.arm weighted by l.on for l in loads > 1 in",
        "sum of l.on for l in loads > 2026-01-01",
    ] {
        let text = format!("{facts} item shed.door \"t\" need {need} {OWN}");
        if crate::fixtures::packs::load_packs(&[mine(&text)]).is_ok() {
            loads.push(need);
        }
    }
    assert!(loads.is_empty(), "these load: {loads:?}");
}

proptest! {
    #![proptest_config(crate::fixtures::seed::fresh_cases(48))]
    /// In hundredths of a millimetre 1 in is 2540: the comparison in whole numbers is the outside answer.
    #[test]
    fn a8_comparisons_agree_with_whole_numbers(inches in 1i64..4000, off in -3i64..4) {
        let hundredths = inches * 254 + off;
        let mm = format!("{}.{:03} mm", hundredths / 1000, hundredths % 1000);
        let limit = format!("{}.{:02} in", inches / 100, inches % 100);
        let read = |text: &str| Quantity::parse(text).map(|q| q.range).map_err(|e| e.to_string());
        let (value, bound) = (read(&mm).expect("mm"), read(&limit).expect("in"));
        prop_assert_eq!(value.at_least(&bound), Truth::from(off >= 0), "{} {}", mm, limit);
        let verdict = |holds: bool| if holds { "met" } else { "unmet" };
        comes_out(WIDTH, &format!("shed.width >= {limit}"), &format!("try \"x\" shed.width = {mm} => {}", verdict(off >= 0)));
        comes_out(WIDTH, &format!("shed.width < {limit}"), &format!("try \"x\" shed.width = {mm} => {}", verdict(off < 0)));
    }
}

#[test]
fn a8_decimals_add_as_they_do_on_paper() {
    let facts = "fact shed.a : length ask \"?\" fact shed.b : length ask \"?\"";
    comes_out(facts, "shed.a + shed.b is 0.3 in", "try \"tenths\" shed.a = 0.1 in, shed.b = 0.2 in => met");
    comes_out(facts, "shed.a * 3 <= shed.b", "try \"thirds\" shed.a = 1/3 ft, shed.b = 12 in => met");
    comes_out(facts, "shed.a >= 70 % of shed.b", "try \"percent\" shed.a = 0.7 in, shed.b = 1 in => met");
}

#[test]
fn a8_within_a_share_of_a_value() {
    let facts = "fact shed.a : mass ask \"?\" fact shed.b : mass ask \"?\" fact shed.n : number ask \"?\"";
    comes_out(
        facts,
        "shed.a is within 3 % of shed.b",
        "try \"the limit itself\" shed.a = 103 lb, shed.b = 100 lb => met
         try \"below\" shed.a = 97 lb, shed.b = 100 lb => met
         try \"beyond\" shed.a = 103.001 lb, shed.b = 100 lb => unmet
         try \"the share is of the second\" shed.a = 100 lb, shed.b = 97 lb => unmet",
    );
    comes_out(
        facts,
        "shed.n is within 3 % of -100",
        "try \"no sign\" shed.n = -102 => met try \"x\" shed.n = -104 => unmet",
    );
    comes_out(
        facts,
        "shed.a is within 3 % of shed.b of 10 lb",
        "try \"a distance\" shed.a = 12 lb, shed.b = 100 lb => met",
    );
}

#[test]
fn a8_units_are_written_in_packs_as_in_the_builders_files() {
    for (kind, written, same) in [
        ("volume", "2 m³", "2 m3"),
        ("area", "3 ft²", "3 ft2"),
        ("resistance", "4 \u{2126}", "4 ohm"),
        ("resistance", "4 Ω", "4 ohm"),
    ] {
        comes_out(
            &format!("fact shed.a : {kind}, at least {written} ask \"?\""),
            &format!("shed.a <= {written} and shed.a is recorded"),
            &format!("try \"the same\" shed.a = {same} => met"),
        );
    }
}

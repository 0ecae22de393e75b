//! What a builder writes, and what comes back. Common practice.

use crate::fixtures::seed::fresh_cases;
use cotterpin_lang::quantity::{Date, DateRange, Exact, ExactInterval, Quantity, Unit, show};
use proptest::prelude::*;
use proptest::test_runner::TestRunner;

/// What is written, and how the quantity is shown.
const READ: [(&str, &str); 24] = [
    ("18.4 gal/h", "18.4 gal/h"),
    ("18.4 gal/h ± 0.2 gal/h", "18.2 gal/h to 18.6 gal/h"),
    ("18.4 gal/h +- 0.2 gal/h", "18.2 gal/h to 18.6 gal/h"),
    ("18.4gal/h±0.2gal/h", "18.2 gal/h to 18.6 gal/h"),
    ("352 lb ± 0.5 %", "350.24 lb to 353.76 lb"),
    ("-40 in ± 1 %", "-40.4 in to -39.6 in"),
    ("50 % ± 2 %", "48 % to 52 %"),
    ("12 in to 12.5 in", "12 in to 12.5 in"),
    ("1 ft to 18 in", "1 ft to 1.5 ft"),
    ("at least 3 in", "at least 3 in"),
    ("at most 3 in", "at most 3 in"),
    ("1/16 in", "0.0625 in"),
    ("1 1/2 in", "1.5 in"),
    ("-49 in", "-49 in"),
    ("\u{2212}49 in", "-49 in"),
    ("12", "12"),
    ("12 ± 5 %", "11.4 to 12.6"),
    ("1e3 m", "1000 m"),
    ("1_000 m", "1000 m"),
    ("20 degC ± 2 degC", "18 degC to 22 degC"),
    ("20 degC ± 1.8 deltaF", "19 degC to 21 degC"),
    ("12.1 in ± 2.54 mm", "12 in to 12.2 in"),
    ("12.1 in ± 0 in", "12.1 in"),
    ("10.7 ohm/1000ft", "10.7 ohm/1000ft"),
];

#[test]
fn quantities_are_read_and_shown() {
    for (text, shown) in READ {
        let quantity = Quantity::parse(text).unwrap_or_else(|error| panic!("{text}: {error}"));
        assert_eq!(quantity.to_string(), shown, "{text}");
        let again = Quantity::parse(shown).map(|quantity| quantity.range);
        assert_eq!(again, Ok(quantity.range), "{shown}");
    }
    println!("read and showed {} quantities", READ.len());
}

#[test]
fn wrong_quantities_point_at_the_wrong_part() {
    let cases = [
        ("", "", "nothing is written"),
        ("twelve in", "twelve in", "begin with a number"),
        ("12 inn", "inn", "did you mean `in`"),
        ("12 in ± -1 in", "-1 in", "negative"),
        ("12 in ± 1 lb", "1 lb", "is mass and the reading is length"),
        ("12 in ± 1", "1", "is number and the reading is length"),
        ("12.5 in to 12 in", "12 in", "less than"),
        ("12 in to 12 V", "12 V", "length"),
        ("12 to 12.5 in", "12.5 in", "number"),
        ("  12 in ± 1 qx", "qx", "no unit is written"),
        ("20 degC ± 5 %", "5 %", "temperature"),
        ("1/0 in", "1/0", "read exactly"),
        ("1.2.3 in", "1.2.3", "number"),
        ("at least", "at least", "begin with a number"),
        ("12345678901234567890123456789012345678901 in", "12345678901234567890123456789012345678901", "number"),
        ("1e999 in", "1e999", "number"),
        ("nan in", "nan in", "begin with a number"),
        ("3 months", "months", "differ in length"),
    ];
    for (text, at, says) in cases {
        let error = Quantity::parse(text).expect_err(text);
        assert_eq!(text.get(error.at.clone()), Some(at), "{text}: {error}");
        let said = error.to_string();
        assert!(said.contains(says), "{text:?} gives {said:?}");
    }
    println!("read {} wrong quantities", cases.len());
}

#[test]
fn numbers_are_read_exactly_or_not_at_all() {
    let right = [
        ("18.4", 184, 10),
        ("-49", -49, 1),
        ("1/16", 1, 16),
        ("1 1/2", 3, 2),
        ("-1 1/2", -3, 2),
        ("1e3", 1000, 1),
        ("+1.5", 3, 2),
        ("1_000", 1000, 1),
        ("2.5E-1", 1, 4),
        (".5", 1, 2),
        ("007", 7, 1),
    ];
    for (text, over, under) in right {
        assert_eq!(Exact::parse(text), Exact::ratio(over, under), "{text}");
    }
    let wrong = [
        "",
        "-",
        ".",
        "1.",
        "1e",
        "e3",
        "1/",
        "/2",
        "1/0",
        "nan",
        "inf",
        "-inf",
        "1__0",
        "_1",
        "1_",
        "1 2",
        "1,5",
        "0x10",
        "1e41",
        "1/2/3",
        "1 1/2 1/2",
        "--1",
        "+-1",
        "1.5/2",
        "１２",
        "12345678901234567890123456789012345678901",
    ];
    for text in wrong {
        assert_eq!(Exact::parse(text), None, "{text}");
    }
    println!("read {} numbers, refused {}", right.len(), wrong.len());
}

#[test]
fn decimals_are_rounded_to_the_digits_asked_for() {
    let cases = [
        ("1/3", 4, "0.3333"),
        ("2/3", 4, "0.6667"),
        ("-2/3", 2, "-0.67"),
        ("999.96", 4, "1000"),
        ("1234567", 4, "1235000"),
        ("0.00012345", 4, "0.0001235"),
        ("100", 1, "100"),
        ("0", 4, "0"),
        ("1e-30", 3, "1e-30"),
        ("1.25e30", 2, "1.3e30"),
        ("9.99e30", 2, "1e31"),
    ];
    for (text, digits, decimal) in cases {
        let number = Exact::parse(text).expect(text);
        let written = number.to_decimal(digits);
        assert_eq!(Exact::parse(&written), Exact::parse(decimal), "{text}: {written}");
    }
    assert_eq!(Exact::parse("1/3").map(|n| n.to_string()), Some("0.333333".into()));
    assert_eq!(Exact::parse("0.062500").map(|n| n.to_string()), Some("0.0625".into()));
    println!("rounded {} numbers", cases.len());
}

#[test]
fn ends_that_differ_are_shown_apart() {
    let gallons = Unit::parse("in").expect("a unit");
    let third = |more: &str| {
        let third = Exact::ratio(1, 3).expect("a third");
        gallons.to_si(&third.add(&Exact::parse(more).expect("a number")))
    };
    let range = ExactInterval::new(Some(third("0")), Some(third("1e-7")));
    assert_eq!(show(&range, &gallons), "0.3333333 in to 0.3333334 in");
    assert_eq!(show(&ExactInterval::everything(), &gallons), "not recorded");
    assert_eq!(show(&ExactInterval::absent(), &gallons), "none");
    assert_eq!(show(&ExactInterval::point(third("0")), &gallons), "0.3333 in");
    println!("showed 4 ranges");
}

#[test]
fn any_text_is_read_or_refused_with_its_place() {
    const CASES: u32 = 20_000;
    // Any text at all, and text made of the pieces that have a meaning.
    let piece = prop::sample::select(vec![
        "at least ",
        "at most ",
        " to ",
        "±",
        "+-",
        "-",
        "/",
        "1",
        "12.5",
        "1/16",
        " ",
        "in",
        "lb",
        "%",
        "degC",
        "e",
        "·",
        "²",
        "°",
        "Ω",
        "\u{a0}",
        "0",
        ".",
        "_",
        "1e40",
        "\u{2212}",
        "2026",
        "-02",
        "-30",
    ]);
    let pieces = prop::collection::vec(piece, 0..9).prop_map(|pieces| pieces.concat());
    let texts = prop_oneof![any::<String>(), pieces];
    let read = std::cell::Cell::new(0);
    TestRunner::new(fresh_cases(CASES))
        .run(&texts, |text| {
            match Quantity::parse(&text) {
                Ok(quantity) => {
                    read.set(read.get() + 1);
                    prop_assert!(!quantity.to_string().is_empty());
                    prop_assert!(!quantity.range.to_interval().is_absent());
                }
                Err(error) => prop_assert!(text.get(error.at).is_some(), "{:?}", text),
            }
            if let Ok(unit) = Unit::parse(&text) {
                prop_assert!(!unit.factor().is_zero(), "{}", text);
            }
            let range = DateRange::parse(&text);
            prop_assert_eq!(range.map(|r| r.to_string()).unwrap_or(text.trim().into()), text.trim());
            let _ = (Date::parse(&text), Exact::parse(&text));
            Ok(())
        })
        .expect("no text is trouble");
    assert!(read.get() > 100, "{}", read.get());
    println!("tried {CASES} texts, {} of them quantities", read.get());
}

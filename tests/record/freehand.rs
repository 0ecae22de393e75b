//! What people write for a quantity or a day, and what each is taken as.

use crate::fixtures::dice::Dice;
use crate::fixtures::packs::{load, pack};
use crate::fixtures::seed::with_dice;
use cotterpin_engine::ir::Kind;
use cotterpin_engine::project::freehand::{Asked, Freehand, NotTaken, date, quantity};
use cotterpin_engine::project::read_quantity;
use cotterpin_engine::quantity::{DateRange, Dimension, Exact, Quantity, Unit};
use std::fmt::Write;
use uom::si::{f64 as si, force, length, mass, torque, volume};

/// Ways of writing, by the kind that is asked. What each is taken as, or what
/// is asked back, stands in `tests/golden/freehand.txt`.
const WRITTEN: [(&str, &[&str]); 20] = [
    (
        "torque",
        &[
            "18 lbf-in",
            "18 in-lb",
            "18 lb-in",
            "18 in lb",
            "18 in-lbs",
            "18 in. lbs.",
            "18 inlbs",
            "18 inch-pounds",
            "18in*lb",
            "20 ft-lb",
            "20 FT-LBS",
            "20 ft lbs",
            "20 lb-ft",
            "20 foot pounds",
            "20 lbft",
            "9 Nm",
            "9 nm",
            "9 N m",
            "9 N.m",
            "9 newton-metres",
            "2 kg-m",
            "2 kgm",
            "18 in-lb ± 1 in-lb",
            "18 ± 1 in-lb",
            "18 in-lb +/- 1",
            "18 in-lb ± 5 %",
            "16 to 18 in-lb",
            "from 16 to 18 in lbs",
            "18 to 16 in-lb",
            "16 in-lb to 18",
            "at least 18 in-lb",
            "≥ 18 in-lb",
            "<= 18 in-lb",
            "16-18 in-lb",
            "18",
            "18 lb",
            "18 in-oz",
        ],
    ),
    ("moment", &["1200 in-lb", "1200 inlbs", "1200 lb-in", "35 kg-m"]),
    ("force", &["55 lb", "55 lbs", "55 pounds", "55#", "25 kg", "25 kilos", "250 n", "55 lb ± 2", "5 oz"]),
    (
        "mass",
        &[
            "12 lb",
            "12 lbs",
            "12 LBS.",
            "3 lb 4 oz",
            "12 kgs",
            "5 oz",
            "5 ounces",
            "12 lbf",
            "2 tons",
            "1,250 lb",
            "#12",
        ],
    ),
    (
        "length",
        &[
            "3\"",
            "3″",
            "3”",
            "“3 in”",
            "'3 in'",
            "22'",
            "22 FT",
            "5' 3\"",
            "5'-3 1/2\"",
            "5’ 3”",
            "5 ft 3 in",
            "5 feet, 3 inches",
            "5' 14\"",
            "5' 3",
            "5 to 8 ft 3 in",
            "5 to 8 ft3in",
            "5' 3\" to 5' 4\"",
            "8 ft 3 in ± 1",
            "8 ft 3 in ± 1 in",
            "3 1/2\"",
            "3-1/2 in",
            "3½ in",
            "½\"",
            "0-1/2 in",
            "1/2-3/4 in",
            "12,5 in",
            "0,5 in",
            "1,500 ft",
            "1,234,567 mm",
            "1,234.5 mm",
            "1.234,5 mm",
            "12,34,5 mm",
            "12.7 millimeters",
            "2 m",
            "2 M",
            "1 m 20 cm",
            "12 nm",
            "12 NM",
            "50 miles",
            "50 nautical miles",
            "3",
            "3 lb",
            "3 furlongs",
        ],
    ),
    (
        "time",
        &[
            "2 hours",
            "2 hrs",
            "2h",
            "2 H",
            "90m",
            "90 m",
            "90 mins",
            "90M",
            "2 h 30 min",
            "2h 30m",
            "2h30",
            "2h3",
            "2 hours and 30 minutes",
            "1:30",
            "1:30 h",
            "1:30:15",
            "1:75",
            "1.5 hr",
            "1,5 h",
            "6 months",
            "90",
            "5'",
        ],
    ),
    ("voltage", &["14 v", "14 volts", "14 Volt", "14 VDC", "300 MV"]),
    ("current", &["8.5 amps", "8.5 a", "8.5 Amperes", "20 ma"]),
    ("charge", &["20 amp-hours", "20 AH", "500 mAh", "20 C"]),
    ("resistance", &["2 ohms", "2 mohm", "2 mΩ", "2 Mohm", "2 MΩ", "2 milliohms", "3 KΩ"]),
    ("angle", &["25 degrees", "25°", "25", "25 ± 1", "3'", "5° 30'"]),
    (
        "temperature",
        &["70 F", "70 °f", "70 degrees F", "20 deg C", "20 Celsius", "70 degrees", "70° ± 2°", "70 F ± 2 F", "-500 F"],
    ),
    ("temperature-difference", &["20 C", "20 degC", "20 degrees"]),
    ("area", &["3 sq ft", "3 ft^2", "3 square feet", "3 sq. in.", "3 ft²", "3 sqft"]),
    (
        "volume",
        &["21 gal", "21 gals", "21 gallons", "21 US gallons", "80 liters", "50 cc", "2 cu ft", "5 oz", "5 fl. oz."],
    ),
    ("speed", &["60 knots", "60 KTS", "60 kn", "500 fpm", "500 ft per min", "70 miles per hour", "70 MPH", "100 kph"]),
    ("pressure", &["30 PSI", "30 lb/in2", "30 lbs per sq in", "29.92 in Hg", "1013 mb", "30 pounds", "30 psig"]),
    ("acceleration", &["3.8 g", "3.8 G"]),
    ("frequency", &["2700 RPM", "60 hertz"]),
    ("number", &["12", "1,5", "12 percent", "12 lb"]),
];

/// Ways of writing a day.
const DAYS: &[&str] = &[
    "2026-12-10",
    "2026-12",
    "10/12/2026",
    "10.12.2026",
    "10-12-2026",
    "10/10/2026",
    "25/12/2026",
    "12/25/2026",
    "25/13/2026",
    "30/02/2026",
    "2026/12/10",
    "2026.12.10",
    "2026-1-5",
    "20260918",
    "10122026",
    "10 Dec 2026",
    "10 DEC 2026",
    "10-Dec-2026",
    "10dec2026",
    "Dec 10, 2026",
    "December 10th, 2026",
    "10 December 2026",
    "1st of March 2026",
    "2026 Dec 10",
    "Sept. 4, 2026",
    "December 2026",
    "Dec 2026",
    "12/2026",
    "31 Nov 2026",
    "10/12/26",
    "25/12/26",
    "10 Dec 26",
    "10 Dec",
    "Dec 10",
    "10/12",
    "Thu 10 Dec 2026",
    "10 Dez 2026",
    "“2026-12-10”",
    "today",
    "soon",
];

fn kind(name: &str) -> Dimension {
    Dimension::named(name).unwrap_or_else(|| panic!("{name} is no kind"))
}

fn read(asked: &str, text: &str) -> Result<Freehand<Quantity>, NotTaken> {
    quantity(text, &Asked::of(kind(asked)))
}

/// The golden page: what is written, and what comes of it.
pub(crate) fn page() -> String {
    let line = |written: &str, said: Result<Option<String>, NotTaken>| match said {
        Ok(strict) => format!("{written:<24} = {}\n", strict.as_deref().unwrap_or("as it is written")),
        Err(why) => format!("{written:<24} ? {why}\n"),
    };
    let mut page = String::from("What people write, and what it is taken as (=) or what is said of it (?).\n");
    for (asked, texts) in WRITTEN {
        writeln!(page, "\nOf what is a {asked}:").unwrap();
        page.extend(texts.iter().map(|text| line(text, read(asked, text).map(|read| read.strict))));
    }
    page.push_str("\nOf what is a day:\n");
    page.extend(DAYS.iter().map(|text| line(text, date(text).map(|read| read.strict))));
    page
}

/// Values worked out with factors of NIST Special Publication 811 (2008),
/// appendix B.8, seven figures, typed from memory of the publication.
#[test]
fn what_is_taken_is_worth_what_nist_says() {
    for (asked, text, value) in [
        ("torque", "18 in-lb", 18.0 * 1.129_848e-1),
        ("torque", "20 ft-lbs", 20.0 * 1.355_818),
        ("torque", "2 kg-m", 2.0 * 9.806_65),
        ("force", "55 lb", 55.0 * 4.448_222),
        ("force", "25 kg", 25.0 * 9.806_65),
        ("mass", "55 lbs", 55.0 * 4.535_924e-1),
        ("mass", "3 lb 4 oz", 3.0 * 4.535_924e-1 + 4.0 * 2.834_952e-2),
        ("length", "3\"", 3.0 * 2.54e-2),
        ("length", "5' 3 1/2\"", 5.0 * 3.048e-1 + 3.5 * 2.54e-2),
        ("length", "3½ in", 3.5 * 2.54e-2),
        ("length", "50 nautical miles", 50.0 * 1852.0),
        ("time", "90m", 90.0 * 60.0),
        ("time", "2h30", 2.5 * 3600.0),
        ("pressure", "30 lb/in2", 30.0 * 6.894_757e3),
        ("pressure", "29.92 in Hg", 29.92 * 3.386_389e3),
        ("volume", "21 gals", 21.0 * 3.785_412e-3),
        ("volume", "5 fl oz", 5.0 * 2.957_353e-5),
        ("volume", "50 cc", 50.0e-6),
        ("temperature", "70 F", (70.0 + 459.67) / 1.8),
        ("temperature", "20 deg C", 293.15),
        ("temperature-difference", "9 F", 5.0),
        ("speed", "500 fpm", 500.0 * 5.08e-3),
        ("speed", "60 kn", 60.0 * 5.144_444e-1),
        ("area", "3 sq ft", 3.0 * 9.290_304e-2),
        ("acceleration", "3.8 g", 3.8 * 9.806_65),
        ("charge", "20 amp-hours", 20.0 * 3600.0),
    ] {
        near(asked, text, value);
    }
}

/// The same with another library, which knows its units by whole names.
#[test]
fn what_is_taken_is_worth_what_uom_says() {
    near("torque", "18 inch-pounds", si::Torque::new::<torque::pound_force_inch>(18.0).value);
    near("torque", "20 foot pounds", si::Torque::new::<torque::pound_force_foot>(20.0).value);
    near("force", "55 pounds", si::Force::new::<force::pound_force>(55.0).value);
    near("force", "25 kilograms", si::Force::new::<force::kilogram_force>(25.0).value);
    near("mass", "55 pounds", si::Mass::new::<mass::pound>(55.0).value);
    near("length", "12.5 inches", si::Length::new::<length::inch>(12.5).value);
    near("volume", "21 US gallons", si::Volume::new::<volume::gallon>(21.0).value);
    near("volume", "21 imperial gallons", si::Volume::new::<volume::gallon_imperial>(21.0).value);
    near("volume", "80 liters", si::Volume::new::<volume::liter>(80.0).value);
}

fn near(asked: &str, text: &str, theirs: f64) {
    let read = read(asked, text).unwrap_or_else(|why| panic!("{text}: {why}"));
    let ours = read.value.range.as_point().expect("one value").to_f64_below();
    assert!(((ours - theirs) / theirs).abs() < 5e-7, "{text} for a {asked}: ours {ours}, theirs {theirs}");
}

/// What nobody may take for one thing when it may be another.
#[test]
fn two_readings_are_asked_back() {
    for (asked, text, readings) in [
        ("length", "12,5 in", ["12.5 in", "125 in"]),
        ("length", "1,500 ft", ["1.500 ft", "1500 ft"]),
        ("time", "1:30", ["90 min", "90 s"]),
        ("temperature", "70 degrees", ["70 degC", "70 degF"]),
        ("temperature", "70° ± 2°", ["70 degC ± 2 degC", "70 degF ± 2 degF"]),
        ("length", "50 miles", ["50 mi", "50 nmi"]),
        ("length", "12 nm", ["12 nmi", "12 mm"]),
        ("volume", "21 gallons", ["21 gal", "21 impgal"]),
    ] {
        let expected = NotTaken::Several(readings.map(str::to_owned).to_vec());
        assert_eq!(read(asked, text), Err(expected), "{text}");
    }
    for text in ["10/12/2026", "4.10.2026", "1-2-2026"] {
        assert!(matches!(date(text), Err(NotTaken::Several(days)) if days.len() == 2), "{text}");
    }
}

/// Whoever follows what is said must not come to another unit than was meant.
#[test]
fn no_unit_far_off_is_offered_as_the_nearest() {
    let facts =
        ["turn : angle", "bond : resistance", "rest : time"].map(|fact| format!("fact shed.{fact} ask \"?\"\n"));
    let rules = load(&[pack("shed", &[], &format!("systems\n  shed \"Shed\"\n{}", facts.concat()))]);
    for (name, text, words) in [
        ("shed.turn", "3'", "write degrees, such as 5.5 deg"),
        ("shed.turn", "5° 30'", "write degrees, such as 5.5 deg"),
        ("shed.bond", "2 Mohm", "1 megohm is 1000 kohm"),
        ("shed.rest", "5'", "write the unit in letters"),
    ] {
        let fact = rules.fact(rules.fact_by_name[name]).expect("a fact");
        let Kind::Number(dimension) = fact.kind else { panic!("{name} is no quantity") };
        let why = read_quantity(&rules, (fact, name), text, dimension).expect_err("not read");
        assert!(why.label.contains(words) && !why.label.contains("did you mean"), "{why}");
    }
}

/// What is asked in weeks may be meant in months.
#[test]
fn m_is_minutes_only_where_months_are_not_near() {
    let weeks = Asked { dimension: Dimension::TIME, unit: Unit::parse("week").ok() };
    assert!(quantity("6 m", &weeks).is_err());
    assert_eq!(quantity("6 min", &weeks).map(|read| read.strict), Ok(None));
    let hours = Asked { dimension: Dimension::TIME, unit: Unit::parse("h").ok() };
    assert_eq!(quantity("6 m", &hours).map(|read| read.strict), Ok(Some("6 min".to_owned())));
}

const NUMBERS: [&str; 16] = [
    "3", "12.5", "-49", "1/16", "1 1/2", "1-1/2", "3½", "1,5", "1,500", "1,234.5", "0,5", ".5", "1e3", "007", "1_000",
    "2:30",
];
const JOINTS: [&str; 9] = ["", " ", " ", "-", "/", ".", " per ", " sq ", "\u{a0}"];
const WORDS: [&str; 60] = [
    "in", "inch", "\"", "”", "ft", "'", "feet", "m", "M", "mm", "nm", "NM", "mile", "lb", "lbs", "lbf", "#", "kg",
    "kilos", "g", "oz", "N", "Nm", "C", "F", "deg", "°", "degC", "°F", "K", "deltaC", "s", "min", "h", "hrs", "day",
    "kt", "kn", "V", "volts", "a", "Ah", "C", "ohm", "Mohm", "mΩ", "psi", "inHg", "hp", "rpm", "gal", "gallons", "L",
    "cc", "floz", "%", "months", "ton", "fpm", "x",
];
const FORMS: [&str; 8] = ["at least A", "A to B", "A ± B", "A +- B", "≥ A", "from A to B", "“A”", "A B"];

/// A text out of pieces that people write, in an order that they may not.
fn any_text(dice: &mut Dice) -> String {
    let mut unit = (*dice.pick(&WORDS)).to_owned();
    while dice.once_in(3) {
        unit = format!("{unit}{}{}", dice.pick(&JOINTS), dice.pick(&WORDS));
    }
    let one = format!("{}{}{unit}", dice.pick(&NUMBERS), dice.pick(&["", " "]));
    if dice.once_in(2) {
        return one;
    }
    let other = match dice.below(3) {
        0 => (*dice.pick(&NUMBERS)).to_owned(),
        1 => format!("{} {unit}", dice.pick(&NUMBERS)),
        _ => format!("{} {}", dice.pick(&NUMBERS), dice.pick(&WORDS)),
    };
    dice.pick(&FORMS).replace('B', &other).replace('A', &one)
}

/// Whatever is strict today keeps its value; whatever else is taken is worth
/// what its strict form is; and of several readings each is another value.
#[test]
fn rewording_never_changes_a_value() {
    let (mut as_it_is, mut reworded, mut asked_back) = (0, 0, 0);
    with_dice(&[], |dice| {
        let kinds: Vec<Dimension> = Dimension::names().map(kind).collect();
        for _ in 0..20_000 {
            let text = any_text(dice);
            let plain = Quantity::parse(&text);
            for dimension in &kinds {
                let read = quantity(&text, &Asked::of(*dimension));
                if let Ok(plain) = &plain
                    && plain.dimension() == *dimension
                {
                    as_it_is += 1;
                    assert_eq!(read, Ok(Freehand { value: plain.clone(), strict: None }), "{text}");
                    continue;
                }
                match read {
                    Ok(read) => {
                        reworded += 1;
                        let strict = read.strict.unwrap_or_else(|| panic!("{text} is not strict"));
                        assert_eq!(Quantity::parse(&strict), Ok(read.value.clone()), "{text}");
                        assert_eq!(read.value.dimension(), *dimension, "{text} as {strict}");
                        let again = quantity(&strict, &Asked::of(*dimension));
                        assert_eq!(again, Ok(Freehand { value: read.value, strict: None }), "{text}");
                    }
                    Err(NotTaken::Several(readings)) => {
                        asked_back += 1;
                        let values = readings.iter().map(|reading| Quantity::parse(reading).map(|read| read.range));
                        let values: Vec<_> = values.collect();
                        let apart = values.iter().enumerate().all(|(at, value)| !values[..at].contains(value));
                        assert!(values.len() > 1 && apart, "{text}: {readings:?}");
                    }
                    Err(_) => {}
                }
            }
        }
    });
    println!("{as_it_is} as they are, {reworded} reworded, {asked_back} asked back");
    assert!(as_it_is > 1000 && reworded > 1000 && asked_back > 1000);
}

/// A number in any unit of the table and in each of its words is worth the
/// same, worked out without the reader: number times factor, and offset.
#[test]
fn a_number_with_one_unit_is_worth_its_factor() {
    with_dice(&[], |dice| {
        for symbol in Unit::symbols() {
            let unit = Unit::parse(symbol).expect(symbol);
            let number = Exact::ratio(dice.between(1, 100_000), 1000).expect("a number");
            let text = format!("“{number}{symbol}.”");
            match quantity(&text, &Asked::of(unit.dimension())) {
                Ok(read) => {
                    let value = number.mul(unit.factor()).add(unit.offset());
                    assert_eq!(read.value.range.as_point(), Some(&value), "{text}");
                }
                Err(why) => {
                    assert!(["NM", "nmi"].contains(&symbol) || matches!(why, NotTaken::Several(_)), "{text}: {why}");
                }
            }
        }
    });
}

/// A day written in any way that has one reading is that day.
#[test]
fn a_day_is_the_same_however_it_is_written() {
    const MONTHS: [&str; 12] = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
    with_dice(&[], |dice| {
        for _ in 0..2000 {
            let (y, m, d) = (dice.between(1900, 2199), dice.between(1, 12), dice.between(1, 28));
            let day = DateRange::parse(&format!("{y:04}-{m:02}-{d:02}")).expect("a day");
            let month = MONTHS[usize::try_from(m - 1).unwrap()];
            for text in [
                format!("{d} {month} {y}"),
                format!("{month} {d}, {y}"),
                format!("{y}/{m}/{d}"),
                format!("{y:04}{m:02}{d:02}"),
                format!("{d:02}-{}-{y}", month.to_uppercase()),
            ] {
                assert_eq!(date(&text).map(|read| read.value), Ok(day), "{text}");
            }
            for text in [format!("{d}/{m}/{y}"), format!("{m}/{d}/{y}")] {
                match date(&text) {
                    Ok(read) => assert!((d > 12 || d == m) && read.value == day, "{text}"),
                    Err(NotTaken::Several(days)) => assert!(d <= 12 && days.contains(&day.to_string()), "{text}"),
                    Err(why) => panic!("{text}: {why}"),
                }
            }
        }
    });
}

/// Neither letters without sense nor very long texts stop it.
#[test]
fn any_letters_are_read_or_refused() {
    let letters: Vec<char> =
        "0123456789 .,:/-±°'\"”’½Ωµ·²^#%abcdefhiklmnopqrstuvwxyzCFKMN\u{a0}\u{301}".chars().collect();
    with_dice(&[], |dice| {
        for _ in 0..5000 {
            let text: String = (0..dice.below(24)).map(|_| *dice.pick(&letters)).collect();
            for name in ["length", "torque", "time", "temperature", "number"] {
                drop(read(name, &text));
            }
            drop(date(&text));
        }
    });
    for long in ["1m".repeat(100_000), "1,".repeat(100_000), "5 ft ".repeat(100_000), "(".repeat(100_000)] {
        assert!(read("length", &long).is_err() && date(&long).is_err());
    }
}

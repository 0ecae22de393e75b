//! One value at a time, of every kind.

use super::{read_one, said};
use crate::golden::named;
use crate::golden::recording::Named;
use cotterpin_engine::ir::ChoiceSet;
use cotterpin_engine::project::Value;
use cotterpin_engine::quantity::{Date, Exact, ExactInterval, Quantity};

/// Those whose messages are golden.
pub(crate) const GOLDEN: &[Named] = named![
    yes_and_no_in_four_spellings,
    a_word_is_normalised_and_must_be_known,
    a_text_is_kept_character_for_character,
    none_is_absent_only_where_it_may_be,
    a_count_is_whole_and_not_negative,
    a_number_stays_exact,
    a_quantity_has_its_unit,
    a_comma_is_asked_back_unless_it_can_only_be_one_thing,
    a_reading_in_other_words_is_kept_beside_the_text,
    limits_are_kept_by_every_stated_end,
    a_date_may_be_a_month_or_a_year
];

fn value(line: &str, fact: &str) -> Value {
    let reading = read_one(line);
    reading.nothing_wrong();
    reading.fact(fact).map(|recorded| recorded.value.clone()).expect("recorded")
}

fn exact(text: &str) -> Exact {
    Exact::parse(text).expect("a number")
}

fn point(text: &str) -> Value {
    Value::Number(ExactInterval::point(exact(text)))
}

fn days(first: (i16, i8, i8), last: (i16, i8, i8)) -> Value {
    let day = |(y, m, d)| Exact::from_int(i64::from(Date::new(y, m, d).expect("a day").days()));
    Value::Number(ExactInterval::new(Some(day(first)), Some(day(last))))
}

/// An error with its code, at line 1 and the column given, that shows the
/// pack's question.
fn refused(line: &str, code: &str, column: u32, words: &str) {
    let reading = read_one(line);
    let message = reading.only(code);
    assert_eq!(reading.places(message)[0], ("facts.toml".to_owned(), 1, column), "{}", said(message));
    assert!(said(message).contains(words), "`{words}` is not in: {}", said(message));
    let help = message.help.as_deref().unwrap_or("");
    assert!(help.starts_with("the pack asks: "), "{help}");
    assert!(reading.record.facts.is_empty());
}

#[test]
fn yes_and_no_in_four_spellings() {
    for (written, bits) in [("true", 0b10), ("\"yes\"", 0b10), ("false", 0b01), ("\"no\"", 0b01)] {
        assert_eq!(
            value(&format!("plate.present = {written}"), "plate.present"),
            Value::Words(ChoiceSet::of_bits(bits))
        );
    }
    refused("plate.present = 1", "value::kind", 17, "yes or no");
    refused("plate.present = \"perhaps\"", "value::kind", 17, "yes or no");
}

#[test]
fn a_word_is_normalised_and_must_be_known() {
    for written in ["awg-20", "AWG 20", "Awg_20", "  awg   20 "] {
        let line = format!("electrical.main_gauge = \"{written}\"");
        assert_eq!(value(&line, "electrical.main_gauge"), Value::Words(ChoiceSet::of_bits(0b010)));
    }
    refused("fuel.feed = \"gravty\"", "value::word", 13, "did you mean `gravity`?");
    refused("fuel.feed = \"siphon\"", "value::word", 13, "one of `gravity`, `pump`");
    refused("fuel.feed = true", "value::kind", 13, "one of `gravity`, `pump`");
}

#[test]
fn a_text_is_kept_character_for_character() {
    assert_eq!(value("plate.serial = \" 0107 é\"", "plate.serial"), Value::Text(" 0107 é".to_owned()));
    refused("plate.serial = 107", "value::kind", 16, "write it in quotes");
    refused("plate.serial = 1.5", "value::kind", 16, "write it in quotes");
    refused("plate.serial = \"\"", "value::empty", 16, "delete the line");
}

#[test]
fn none_is_absent_only_where_it_may_be() {
    assert_eq!(value("elt.hex_id = \"none\"", "elt.hex_id"), Value::Absent);
    assert_eq!(value("ballast.mass = \"none\"", "ballast.mass"), Value::Absent);
    refused("elt.hex_id = \"None\"", "value::none", 14, "small letters");
    refused("marks.height = \"none\"", "value::none", 16, "a length with its unit");
    refused("fuel.feed = \"none\"", "value::none", 13, "not optional");
    // Two marks that are both "none" would agree with each other.
    for written in ["none", "None", " none "] {
        refused(&format!("plate.serial = \"{written}\""), "value::none", 16, "until the value is known");
    }
    assert_eq!(value("plate.serial = \"none so far\"", "plate.serial"), Value::Text("none so far".to_owned()));
}

#[test]
fn a_count_is_whole_and_not_negative() {
    assert_eq!(value("aircraft.seats = 2", "aircraft.seats"), point("2"));
    assert_eq!(value("aircraft.seats = 0", "aircraft.seats"), point("0"));
    refused("aircraft.seats = -1", "value::kind", 18, "0 or more");
    refused("aircraft.seats = 2.0", "value::kind", 18, "a whole number");
    refused("aircraft.seats = \"2\"", "value::kind", 18, "a whole number");
    refused("aircraft.seats = 99999999999999999999", "value::kind", 18, "a count");
}

#[test]
fn a_number_stays_exact() {
    assert_eq!(value("tasks.builder = 0.1", "tasks.builder"), point("1/10"));
    assert_eq!(value("tasks.builder = 75", "tasks.builder"), point("75"));
    assert_eq!(value("tasks.builder = 1_000.5", "tasks.builder"), point("2001/2"));
    assert_eq!(value("tasks.builder = +1e2", "tasks.builder"), point("100"));
    assert_eq!(value("tasks.builder = \"50 %\"", "tasks.builder"), point("1/2"));
    refused("tasks.builder = \"abc\"", "value::kind", 18, "begin with a number");
    let spread = ExactInterval::new(Some(exact("2")), Some(exact("4")));
    assert_eq!(value("tasks.builder = \"3 ± 1\"", "tasks.builder"), Value::Number(spread));
    refused("tasks.builder = \"abc\"", "value::kind", 18, "expected a number alone");
    refused("tasks.builder = inf", "value::kind", 17, "calculate");
    refused("tasks.builder = nan", "value::kind", 17, "calculate");
    refused("tasks.builder = \"3 in\"", "unit::mismatch", 17, "this is a length; a number is asked");
}

#[test]
fn a_quantity_has_its_unit() {
    // NIST SP 811 (2008), appendix B.8: 1 inch is 25.4 mm exactly.
    assert_eq!(value("marks.height = \"2 in\"", "marks.height"), point("0.0508"));
    assert_eq!(value("marks.height = \"50.8 mm\"", "marks.height"), point("0.0508"));
    refused("marks.height = 3", "unit::missing", 16, "write its unit: in, ft, mm, cm or m, and quotes around both");
    refused("marks.height = 3.5", "unit::missing", 16, "no unit");
    refused("marks.height = \"3\"", "unit::missing", 16, "no unit");
    refused("marks.height = \"3 lb\"", "unit::mismatch", 16, "this is a mass; a length is asked");
    refused("marks.height = \"3 inn\"", "unit::unknown", 19, "did you mean");
    refused("marks.height = \"14 kgs\"", "unit::unknown", 20, "expected one such as in");
    refused("fuel.flow_test.rate = \"14 gl/h\"", "unit::unknown", 27, "did you mean `gal/h`?");
    refused("marks.height = true", "value::kind", 16, "a length with its unit");
    refused("marks.height = [\"3 in\"]", "fact::form", 7, "several values");
}

/// A comma stands before decimals, between thousands, or by a slip.
#[test]
fn a_comma_is_asked_back_unless_it_can_only_be_one_thing() {
    let range = Quantity::parse("12 in ± 0.25 in").expect("a quantity").range;
    assert_eq!(value("marks.height = \"12 in ± 0,25 in\"", "marks.height"), Value::Number(range));
    refused("marks.height = \"12, in\"", "value::kind", 19, "a comma is no part of a number");
    refused("marks.height = \"12,5 in\"", "value::several", 16, "write 12.5 in or 125 in");
    refused("marks.height = \"1,250 in\"", "value::several", 16, "write 1.250 in or 1250 in");
    refused("tasks.builder = \"75,5\"", "value::several", 17, "write 75.5 or 755");
}

#[test]
fn text_and_unit_are_remembered_as_written() {
    let reading = read_one("marks.height = \"12.1 in ± 0.1 in\"");
    let recorded = reading.fact("marks.height").expect("recorded");
    assert_eq!(recorded.text, "12.1 in ± 0.1 in");
    assert_eq!(recorded.unit.as_ref().map(ToString::to_string), Some("in".to_owned()));
    let number = read_one("tasks.builder = 1_000.50");
    assert_eq!(number.fact("tasks.builder").map(|recorded| recorded.text.as_str()), Some("1_000.50"));
}

/// What people write is kept as it is, with its strict form beside it.
#[test]
fn a_reading_in_other_words_is_kept_beside_the_text() {
    for (line, fact, told) in [
        ("marks.height = \"12½ inches\"", "marks.height", "12½ inches, read as 12 1/2 in"),
        ("marks.height = '3\"'", "marks.height", "3\", read as 3 in"),
        ("ballast.mass = \"4 lbs\"", "ballast.mass", "4 lbs, read as 4 lb"),
        ("fuel.flow_test.on = \"25/12/2026\"", "fuel.flow_test.on", "25/12/2026, read as 2026-12-25"),
        ("fuel.flow_test.rate = \"18 gph\"", "fuel.flow_test.rate", "18 gph, read as 18 gal/h"),
    ] {
        let reading = read_one(line);
        reading.nothing_wrong();
        let recorded = reading.fact(fact).expect("recorded");
        assert_eq!(recorded.told(), told);
    }
    let plain = read_one("ballast.mass = \"4 lb\"");
    assert_eq!(plain.fact("ballast.mass").map(|recorded| recorded.told()).as_deref(), Some("4 lb"));
    refused("fuel.flow_test.on = \"10/12/2026\"", "value::date", 21, "write 2026-12-10 or 2026-10-12");
    refused("fuel.flow_test.on = \"yesterday\"", "value::date", 21, "is not a date");
}

#[test]
fn limits_are_kept_by_every_stated_end() {
    refused("marks.height = \"0 in\"", "fact::limits", 16, "above 0 in");
    refused("marks.height = \"-3 in\"", "fact::limits", 16, "above 0 in");
    refused("marks.height = \"1 in ± 2 in\"", "fact::limits", 16, "above 0 in");
    refused("marks.height = \"at most 0 in\"", "fact::limits", 16, "above 0 in");
    refused("tasks.builder = -0.5", "fact::limits", 17, "at least 0");
    assert_eq!(value("tasks.builder = 0", "tasks.builder"), point("0"));
    assert_eq!(value("ballast.mass = \"0 lb\"", "ballast.mass"), point("0"));
}

#[test]
fn an_open_end_is_the_limit() {
    let most = Quantity::parse("0 in to 3 in").expect("a quantity").range;
    assert_eq!(value("marks.height = \"at most 3 in\"", "marks.height"), Value::Number(most));
    let least = Quantity::parse("at least 3 in").expect("a quantity").range;
    assert_eq!(value("marks.height = \"at least 3 in\"", "marks.height"), Value::Number(least));
}

#[test]
fn a_date_may_be_a_month_or_a_year() {
    let on = "fuel.flow_test.on";
    for written in ["2026-10-04", "\"2026-10-04\""] {
        assert_eq!(value(&format!("{on} = {written}"), on), days((2026, 10, 4), (2026, 10, 4)));
    }
    assert_eq!(value(&format!("{on} = \"2028-02\""), on), days((2028, 2, 1), (2028, 2, 29)));
    for written in ["2026", "\"2026\""] {
        assert_eq!(value(&format!("{on} = {written}"), on), days((2026, 1, 1), (2026, 12, 31)));
    }
    refused(&format!("{on} = 2026-10-04T08:00:00"), "value::date", 21, "leave out the time of day");
    refused(&format!("{on} = 08:00:00"), "value::date", 21, "leave out the time of day");
    refused(&format!("{on} = \"4.10.2026\""), "value::date", 21, "write 2026-10-04 or 2026-04-10");
    refused(&format!("{on} = \"2026-02-30\""), "value::date", 21, "28 days");
    refused(&format!("{on} = true"), "value::date", 21, "a date");
}

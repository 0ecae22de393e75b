//! `project.toml`.

use super::{file, said};
use crate::golden::named;
use crate::golden::recording::{self, Named};
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::project::{Header, read_header};
use cotterpin_engine::source::Sources;

/// Those whose messages are golden.
pub(crate) const GOLDEN: &[Named] = named![
    what_is_wrong_leaves_no_header,
    two_days_of_the_visit_are_an_error_that_shows_both,
    only_of_the_visit_a_month_is_offered,
    a_project_of_a_later_form_is_refused
];

fn header(text: &str) -> (Option<Header>, Vec<Diagnostic>) {
    let read = read_header(&file("project.toml", text), &mut Sources::default());
    if !read.1.is_empty() {
        recording::note_project(&[("project.toml", text.as_bytes())]);
    }
    read
}

fn packs(text: &str) -> Vec<String> {
    let (header, messages) = header(&format!("name = \"Shed\"\n{text}"));
    let header = header.unwrap_or_else(|| panic!("{messages:#?}"));
    header.packs.into_iter().map(|(name, _)| name).collect()
}

#[test]
fn all_of_it_is_read() {
    let (header, messages) = header(
        "name = \"Shed\"\ncountry = \"us\"\npacks = [\"./kit\"]\nvisit = \"2026-12\"\n[hold-points]\nfirst-flight = 2027-03-01\n",
    );
    assert_eq!(messages, []);
    let header = header.expect("a header");
    assert_eq!((header.name.as_str(), header.country.as_deref()), ("Shed", Some("us")));
    assert_eq!(header.visit.map(|visit| visit.last.to_string()), Some("2026-12-31".to_owned()));
    assert_eq!(header.planned.get("first-flight").map(|(day, _)| day.to_string()), Some("2027-03-01".to_owned()));
}

#[test]
fn the_country_adds_its_pack_once() {
    assert_eq!(packs("country = \"us\""), ["us"]);
    assert_eq!(packs("country = \"us\"\npacks = [\"./kit\"]"), ["us", "./kit"]);
    assert_eq!(packs("country = \"us\"\npacks = [\"./kit\", \"us\"]"), ["./kit", "us"]);
    assert_eq!(packs("packs = [\"./kit\"]"), ["./kit"]);
}

#[test]
fn what_is_wrong_leaves_no_header() {
    for (text, code, words) in [
        ("country = \"us\"", "record::missing", "no `name`"),
        ("name = \"Shed\"", "project::no-packs", "neither a country nor a pack"),
        ("name = \"Shed\"\ncuntry = \"us\"\npacks = [\"us\"]", "project::unknown", "did you mean `country`?"),
        ("name = 7\ncountry = \"us\"", "project::form", "this is a whole number"),
        ("name = \"\"\ncountry = \"us\"", "project::form", "this is empty"),
        ("name = \"Shed\"\npacks = \"us\"", "project::form", "`packs` is a list"),
        ("name = \"Shed\"\npacks = [1]", "project::form", "named by a text"),
        ("name = \"Shed\"\npacks = [\"us\", \"us\"]", "project::twice", "named twice"),
        ("name = \"Shed\"\ncountry = \"us\"\nvisit = \"soon\"", "value::date", "`visit` is a date"),
        ("name = \"Shed\"\ncountry = \"us\"\nhold-points = 1", "project::form", "[hold-points]"),
        ("name = \"Shed\"\ncountry = \"us\"\n[hold-points]\ncover = \"2026-12\"", "value::date", "planned for one day"),
        ("name = \"Shed\"\ncountry = us", "toml::invalid", "not TOML"),
    ] {
        let (header, messages) = header(text);
        let codes: Vec<&str> = messages.iter().map(|message| message.code).collect();
        assert_eq!(codes, [code], "{text}: {messages:#?}");
        assert!(said(&messages[0]).contains(words), "`{words}` is not in: {}", said(&messages[0]));
        assert!(!messages[0].labels.is_empty() && header.is_none(), "{text}");
    }
}

/// The visit is a hold point too: left out, what expires before it would seem to hold.
#[test]
fn the_visit_may_stand_at_either_place() {
    for day in ["2026-12-08", "\"2026-12\"", "2026"] {
        let (top, said) = header(&format!("name = \"Shed\"\ncountry = \"us\"\nvisit = {day}"));
        assert_eq!(said, []);
        for text in [
            format!("name = \"Shed\"\ncountry = \"us\"\n[hold-points]\nvisit = {day}"),
            format!("name = \"Shed\"\ncountry = \"us\"\nvisit = {day}\n[hold-points]\nvisit = {day}"),
        ] {
            let (below, said) = header(&text);
            assert_eq!(said, [], "{text}");
            let (top, below) = (top.as_ref().expect("a header"), below.expect("a header"));
            let days = |header: &Header| header.planned.values().map(|(day, _)| *day).collect::<Vec<_>>();
            assert!(below.visit.is_some() && below.visit == top.visit && days(&below) == days(top), "{text}");
        }
    }
}

/// What is known more closely at one place is the visit.
#[test]
fn a_month_and_a_day_of_it_are_that_day() {
    for (top, below) in [("\"2026-12\"", "2026-12-08"), ("2026-12-08", "\"2026-12\"")] {
        let text = format!("name = \"Shed\"\ncountry = \"us\"\nvisit = {top}\n[hold-points]\nvisit = {below}");
        let (header, messages) = header(&text);
        assert_eq!(messages, []);
        assert_eq!(header.and_then(|header| header.visit).map(|day| day.to_string()), Some("2026-12-08".to_owned()));
    }
}

#[test]
fn two_days_of_the_visit_are_an_error_that_shows_both() {
    for (top, below) in [("2026-12-10", "2026-12-08"), ("\"2026-11\"", "2026-12-08")] {
        let text = format!("name = \"Shed\"\ncountry = \"us\"\nvisit = {top}\n[hold-points]\nvisit = {below}");
        let (header, messages) = header(&text);
        assert!(header.is_none());
        assert_eq!(messages.iter().map(|message| message.code).collect::<Vec<_>>(), ["project::two-visits"]);
        assert!(said(&messages[0]).contains(top.trim_matches('"')) && said(&messages[0]).contains(below));
        assert_eq!(messages[0].labels.len(), 2);
    }
}

#[test]
fn only_of_the_visit_a_month_is_offered() {
    for (text, month) in
        [("visit = \"soon\"", true), ("[hold-points]\nvisit = \"soon\"", true), ("[hold-points]\ncover = 12", false)]
    {
        let (_, messages) = header(&format!("name = \"Shed\"\ncountry = \"us\"\n{text}"));
        assert_eq!(messages[0].code, "value::date");
        assert_eq!(messages[0].help.as_deref().is_some_and(|help| help.contains("month")), month, "{text}");
    }
}

/// What a later form means is not known: nothing is judged, and nothing else is said of it.
#[test]
fn a_project_of_a_later_form_is_refused() {
    assert!(header("format = 1\nname = \"Shed\"\ncountry = \"us\"\n").0.is_some());
    let (none, messages) = header("format = 2\nname = \"Shed\"\ncountry = \"us\"\nmoods = [\"good\"]\n");
    assert!(none.is_none());
    let codes: Vec<_> = messages.iter().map(|message| message.code).collect();
    assert_eq!(codes, ["project::newer"], "{messages:#?}");
    for wrong in ["0", "-1", "\"1\"", "1.0", "99999999999999999999", "true"] {
        let (none, messages) = header(&format!("format = {wrong}\nname = \"Shed\"\ncountry = \"us\"\n"));
        assert!(none.is_none() && messages.iter().any(Diagnostic::is_error), "{wrong}: {messages:#?}");
    }
}

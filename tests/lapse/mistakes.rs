//! Wrong entries of the log, of people and of parts: each a message with its
//! place and its repair, and nothing that is wrong counts.

use super::story::{PROJECT, RULES, entries};
use crate::fixtures::messages::said;
use crate::fixtures::packs::{load, pack};
use crate::fixtures::projects::{Reading, file, read_project};
use crate::golden::named;
use crate::golden::recording::Named;
use cotterpin_engine::audit::Judge;
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::ir::Rules;
use cotterpin_engine::project::Record;
use cotterpin_engine::quantity::Date;
use cotterpin_engine::vocabulary::Verdict;

/// Those whose messages are golden.
pub(crate) const GOLDEN: &[Named] = named![
    an_entry_that_is_wrong_is_told_and_does_not_count,
    a_point_is_mistyped_only_if_it_is_nearly_one_that_is_asked_for,
    of_several_roles_the_entry_says_which,
    an_opening_for_the_visit_has_a_zone,
    snags_fit_together,
    people_parts_and_closings_that_are_wrong
];

pub(super) fn rules() -> Rules {
    rules_of(RULES)
}

fn rules_of(text: &str) -> Rules {
    load(&[pack("shed", &[], text)])
}

pub(super) fn reading<'r>(rules: &'r Rules, project: &str, files: &[(&str, &str)]) -> Reading<'r> {
    let files: Vec<_> = files.iter().map(|(name, text)| file(name, text)).collect();
    read_project(rules, project, &files, &[])
}

/// One message, of that code, with these words in it.
pub(super) fn only(reading: &Reading<'_>, code: &str, words: &str) {
    let message = reading.only(code);
    assert!(message.message.contains(words) && message.help.is_some(), "{message:#?}");
}

/// One message, of that code, at that line, with these words in it.
fn says(reading: &Reading<'_>, code: &str, line: u32, words: &str) {
    let message = reading.only(code);
    let said = said(message);
    assert!(said.contains(words), "`{words}` is not in: {said}");
    assert!(message.help.is_some(), "{said}");
    assert_eq!(reading.places(message)[0].1, line, "{said}");
}

const LOOKED: &str = "[[log]]\non = 2026-08-29\nwhat = \"inspected\"\nsubject = \"engine.hoses\"\nwho = \"rosa\"\n";

#[test]
fn an_entry_that_is_wrong_is_told_and_does_not_count() {
    let rules = rules();
    let swap = |from: &str, to: &str| LOOKED.replace(from, to);
    let with = |more: &str| format!("{LOOKED}{more}\n");
    for (text, code, line, words) in [
        (swap("\"rosa\"", "\"rossa\""), "log::who", 5, "did you mean \"rosa\"?"),
        (swap("\"rosa\"", "\"ROSA\""), "log::who", 5, "did you mean \"rosa\"?"),
        (swap("\"rosa\"", "\"x\""), "log::who", 5, "under [people] in project.toml"),
        (swap("engine.hoses", "engine.hosse"), "log::subject", 4, "did you mean \"engine.hoses\"?"),
        (swap("engine.hoses", "controls.elevator2"), "log::subject", 4, "did you mean \"controls.elevator\"?"),
        (swap("engine.hoses", "tail"), "log::subject", 4, "name a part in it: \"controls.elevator\""),
        (swap("engine.hoses", "мотор 🛩"), "log::subject", 4, "under [parts]"),
        (swap("\"inspected\"", "\"inspectd\""), "log::what", 3, "did you mean \"inspected\"?"),
        (swap("\"inspected\"", "\"painted\""), "log::what", 3, "expected one of work done, inspected"),
        (swap("2026-08-29", "\"last week\""), "value::date", 2, "`on` is not right"),
        (swap("2026-08-29", "2026-08-29T10:00:00Z"), "value::date", 2, "leave out the offset"),
        (swap("2026-08-29", "2026-08-29T10:00:00.5"), "value::date", 2, "leave out the fraction"),
        (with("role = \"pilot\""), "record::role", 6, "the packs know builder, adviser"),
        (with("role = \"adviser\""), "log::role", 6, "rosa is named in project.toml as builder"),
        (with("points = \"locking\""), "record::form", 6, "expected texts"),
        (with("zone = \"tial\""), "record::zone", 6, "did you mean \"tail\"?"),
        (with("fit = \"loose\""), "log::fit", 6, "expected \"trial\", \"temporary\" or \"final\""),
        (with("for = \"visit\""), "log::misplaced", 6, "only what is opened"),
        (with("snag = 4"), "log::misplaced", 6, "\"snag found\" and \"snag cleared\""),
        (with("by = \"visit\""), "log::misplaced", 6, "to be cleared by a hold point"),
        (with("nots = \"x\""), "record::unknown", 6, "did you mean `note`?"),
        (LOOKED.lines().take(4).map(|line| format!("{line}\n")).collect(), "record::missing", 1, "`who`"),
        (swap("[[log]]", "[log]"), "record::form", 1, "begin each entry with [[log]]"),
        ("log = [3]\n".to_owned(), "record::form", 1, "begin each entry with [[log]]"),
    ] {
        let reading = reading(&rules, PROJECT, &[("log.toml", &text)]);
        says(&reading, code, line, words);
        assert!(reading.record.log.is_empty(), "{text}");
    }
}

#[test]
fn a_point_is_mistyped_only_if_it_is_nearly_one_that_is_asked_for() {
    fn noted<'r>(rules: &'r Rules, points: &str) -> Reading<'r> {
        reading(rules, PROJECT, &[("log.toml", &format!("{LOOKED}points = [{points}]\n"))])
    }
    // More may be noted than is asked for, as by a builder whose authority asks nothing.
    let plain = rules();
    let more = noted(&plain, "\"assembly\", \"locking\", \"sense\"");
    assert!(more.messages.is_empty() && more.record.log[0].points.len() == 3, "{:#?}", more.messages);
    let asked = format!(
        "{RULES}item engine.locked \"t\" need inspected engine.hoses noting (locking)
        by visit basis common practice cite common practice"
    );
    let rules = rules_of(&asked);
    assert!(noted(&rules, "\"locking\", \"sense\"").messages.is_empty());
    // The entry stays, and shows no more than it did.
    let mistyped = noted(&rules, "\"lockign\"");
    says(&mistyped, "log::points", 6, "did you mean \"locking\"?");
    assert_eq!(mistyped.record.log.len(), 1);
}

#[test]
fn of_several_roles_the_entry_says_which() {
    let project = PROJECT.replace("role = \"builder\" }\ntomas", "roles = [\"builder\", \"adviser\"] }\ntomas");
    let rules = rules();
    let open = reading(&rules, &project, &[("log.toml", LOOKED)]);
    says(&open, "log::role-open", 1, "as rosa has several: builder, adviser");
    // What it says of the part counts, as what it shows does not.
    assert!(open.record.log[0].role.is_empty() && !open.messages.iter().any(Diagnostic::is_error));
    let said = reading(&rules, &project, &[("log.toml", &format!("{LOOKED}role = \"adviser\"\n"))]);
    assert!(said.messages.is_empty() && said.record.log[0].role == "adviser", "{:#?}", said.messages);
}

/// What is opened for the visit lays a zone open, and that zone must be known.
#[test]
fn an_opening_for_the_visit_has_a_zone() {
    let rules = rules();
    let project = format!("{PROJECT}\"lid\" = {{ title = \"A lid of no zone\" }}\n");
    let opened = LOOKED.replace("inspected", "opened").replace("engine.hoses", "lid") + "for = \"visit\"\n";
    says(&reading(&rules, &project, &[("log.toml", &opened)]), "record::missing", 1, "all that lies there");
    for fine in [format!("{opened}zone = \"tail\"\n"), opened.replace("\"lid\"", "\"tail\"")] {
        assert!(reading(&rules, &project, &[("log.toml", &fine)]).messages.is_empty());
    }
}

fn snag(on: &str, what: &str, number: &str) -> String {
    format!("{}{number}\n", entries(&[&format!("{on} snag {what} engine.hoses rosa")]))
}

#[test]
fn snags_fit_together() {
    let rules = rules();
    let (found, cleared) = (snag("2026-08-01", "found", "snag = 4"), snag("2026-08-05", "cleared", "snag = 4"));
    assert!(reading(&rules, PROJECT, &[("log.toml", &format!("{found}{cleared}"))]).messages.is_empty());
    // Files are read by name; what counts are the days.
    assert!(reading(&rules, PROJECT, &[("a.toml", &cleared), ("b.toml", &found)]).messages.is_empty());
    for (text, code, line, words) in [
        (format!("{found}{found}"), "log::snag-twice", 7, "snag 4 is found twice"),
        (format!("{found}{cleared}{cleared}"), "log::snag-twice", 13, "a new snag with a new number"),
        (cleared.clone(), "log::snag-unknown", 1, "snag 4 is cleared, and nowhere found"),
        (
            format!("{found}{}", snag("2026-07-05", "cleared", "snag = 4")),
            "log::snag-order",
            7,
            "cleared before it was found",
        ),
        (
            format!("{}{found}", snag("2026-08-01", "cleared", "snag = 4")),
            "log::snag-order",
            1,
            "cleared before it was found",
        ),
        (snag("2026-08-01", "found", ""), "record::missing", 1, "the number by which it is found and cleared"),
        (snag("2026-08-01", "found", "snag = \"four\""), "log::snag", 6, "expected the number"),
        (snag("2026-08-01", "found", "snag = -4"), "log::snag", 6, "expected the number"),
        (snag("2026-08-01", "found", "snag = 4\ntakes = \"3 ft\""), "record::takes", 7, "a time such as"),
        (snag("2026-08-01", "found", "snag = 4\nby = \"someday\""), "record::hold-point", 7, "visit"),
    ] {
        says(&reading(&rules, PROJECT, &[("log.toml", &text)]), code, line, words);
    }
}

#[test]
fn people_parts_and_closings_that_are_wrong() {
    let rules = rules();
    let add = |text: &str| format!("{PROJECT}{text}\n");
    let person = |text: &str| PROJECT.replace("[parts]", &format!("{text}\n[parts]"));
    for (project, code, line, words) in [
        (
            person("zoe = { name = \"Zoe Example\", role = \"bilder\" }"),
            "project::unknown",
            7,
            "did you mean `builder`?",
        ),
        (person("zoe = { name = \"Zoe Example\" }"), "project::form", 7, "needs a name and a role"),
        (
            person("zoe = { name = \"Rosa example\", role = \"builder\" }"),
            "project::one-person",
            7,
            "count as one person",
        ),
        (
            person("zoe = { name = \"R. Example\", role = \"adviser\" }"),
            "project::one-person",
            7,
            "may be one person, and count as one",
        ),
        (
            person("zoe = { name = \"Rosa Maria Example\", role = \"adviser\" }"),
            "project::one-person",
            7,
            "write out both full names",
        ),
        (person("zoe = { name = \"Zoe\", role = \"builder\", rank = 1 }"), "project::unknown", 7, "has no `rank`"),
        (add("\"engine.hoses\" = { title = \"Hoses\" }"), "project::twice", 9, "a pack names already"),
        (add("\"engin.bolt\" = { title = \"A bolt\" }"), "project::unknown", 9, "did you mean `engine`?"),
        (add("\"engine.hose\" = { title = \"A hose\" }"), "project::near", 9, "does not disturb the other"),
        (
            add("\"engine.bolt\" = { title = \"A bolt\", zone = \"tial\" }"),
            "project::unknown",
            9,
            "did you mean `tail`?",
        ),
        (add("\"engine.bolt\" = { }"), "project::form", 9, "needs a title"),
        (add("[closing]\ntial = 2026-10-01"), "project::unknown", 10, "did you mean `tail`?"),
        (add("[closing]\ntail = \"2026-10\""), "value::date", 10, "planned for one day"),
    ] {
        let reading = reading(&rules, &project, &[]);
        says(&reading, code, line, words);
    }
}

/// Fifty thousand entries are read and judged like one.
#[test]
fn a_log_of_fifty_thousand_entries() {
    let rules = rules();
    let mut text = String::new();
    for n in 0..25_000 {
        let day = Date::from_days(20_000 - n / 10).to_string();
        text +=
            &entries(&[&format!("{day} inspected engine.hoses rosa"), &format!("{day} adjusted engine.hoses rosa")]);
    }
    // Written from the latest day to the earliest; the last line stands on the first day of all.
    let reading = reading(&rules, PROJECT, &[("log.toml", &text)]);
    assert!(reading.messages.is_empty() && reading.record.log.len() == 50_000);
    let met = |record: &Record| {
        let verdicts = Judge::new(&rules, record, Date::from_days(20_600)).verdicts();
        verdicts.iter().filter(|judged| judged.verdict == Verdict::Met).count()
    };
    assert_eq!(met(&reading.record), 0);
    let mut record = reading.record;
    let mut last = record.log[0].clone();
    last.on = cotterpin_engine::quantity::DateRange::day(Date::from_days(20_001));
    record.log.push(last);
    assert_eq!(met(&record), 1);
}

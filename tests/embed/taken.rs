//! What a program may hand over in the place of something else, or a second time: what counts afterwards is what a file
//! would say, and what is refused changes nothing.

use super::wrong::{code, project, verdict};
use super::{MANIFEST, RULES, rules};
use cotterpin::{Audit, Entry, LoadError, Options, Pack, Project, Rules, Session, Verdict, audit, audit_all};

const HEADER: &str =
    "name = 'Nosuch 2'\npacks = ['./x']\n[people]\nrosa = { name = 'Rosa Example', role = 'builder' }\n";
const SHOWN: &str = "[cabin.clean]\nvalue = true\nevidence = 'evidence/clean.jpg'\n";

pub(super) fn on() -> Options {
    Options::on("2026-11-25").unwrap()
}

pub(super) fn line(what: &str, subject: &str, on: &str) -> Entry {
    Entry::log().with("on", on).with("what", what).with("subject", subject).with("who", "rosa")
}

fn all_of_log(entries: i64) -> Entry {
    let word = Entry::whole("log").with("entries", entries).with("up_to", "2026-11-24");
    word.with("who", "rosa").with("on", "2026-11-24")
}

fn from(files: &[(&str, &str)]) -> Result<Project, LoadError> {
    let all = [&[("project.toml", HEADER)], files].concat();
    Project::from_files_with(&rules(), all)
}

/// Verdict, findings of snags, exit status.
fn snags(project: &Project) -> (Vec<Verdict>, u8) {
    let audit = audit(project, &on()).unwrap();
    let of_snags = audit.findings.iter().filter(|finding| finding.item == "shed/log.snags");
    (of_snags.map(|finding| finding.verdict).collect(), audit.exit_status())
}

#[test]
fn nobody_writes_a_list_that_the_log_keeps() {
    let mut project = project();
    project.add(&line("snag found", "cabin.seat", "2026-11-12").with("snag", 1)).unwrap();
    let before = snags(&project);
    assert_eq!(before.0, [Verdict::Unmet]);
    let cleared = || Entry::record("log.snags").with("snag", "snag 1").with("cleared", "2026-11-13");
    for list in ["log.snags", "log.fittings", "log.openings"] {
        assert_eq!(code(project.set_list(list, [])), "log::kept");
        assert_eq!(code(project.set(list, Vec::<String>::new())), "log::kept");
        assert_eq!(code(project.set(list, "none")), "log::kept");
        assert_eq!(code(project.unset(list)), "log::kept");
        assert_eq!(code(project.add(&Entry::record(list).with("snag", "snag 1"))), "log::kept");
    }
    assert_eq!(code(project.set_list("log.snags", [cleared()])), "log::kept");
    let mut session = Session::new(project.clone(), &on()).unwrap();
    assert!(session.set_list("log.snags", []).is_err() && session.add(&cleared()).is_err());
    assert!(session.set("log.snags", Vec::<String>::new()).is_err() && session.unset("log.snags").is_err());
    assert_eq!(snags(&project), before);
    assert_eq!(snags(&session.project()), before);
    let found = "[[log]]\non = 2026-11-12\nwhat = 'snag found'\nsubject = 'cabin.seat'\nwho = 'rosa'\nsnag = 1\n";
    for by_hand in [
        "log.snags = []",
        "[[log.snags]]\nsnag = '1'",
        "[log]\nsnags = []",
        "\"log.snags\" = []",
        "'log.snags' = [{ snag = 'snag 1', cleared = 2026-11-13 }]",
        "[[\"log.snags\"]]\nsnag = 'snag 1'",
        "[\"log.snags\"]\nevidence = 'evidence/x.jpg'",
        "\"log.fittings\" = []",
        "\"\\u006cog.openings\" = []",
    ] {
        let error = from(&[("facts.toml", by_hand), ("log/all.toml", found)]).unwrap_err();
        assert!(error.messages().iter().all(|message| message.code == "log::kept"), "{by_hand}: {error}");
    }
    // That all of the log is told says it of its lists.
    let whole = "[whole]\n\"log.snags\" = { records = [], who = 'rosa', on = 2026-11-20 }\n";
    assert!(from(&[("whole.toml", whole)]).is_err());
}

#[test]
fn a_project_of_other_rules_is_not_put_into_a_session() {
    let more = RULES.replace("fact cabin.width", "fact cabin.aisle : length ask \"?\"\nfact cabin.width");
    let other = Rules::new([Pack::new("shed", MANIFEST, [("shed.checklist", more)])]).unwrap();
    let mut strange = Project::new("Nosuch 3", &other);
    for (fact, value) in [("cabin.aisle", "50 in"), ("cabin.width", "1 in"), ("fuel.pull", "1 lbf")] {
        strange.set(fact, value).unwrap();
    }
    let mut session = Session::new(project(), &on()).unwrap();
    let before = session.audit().unwrap();
    let put = |session: &mut Session, project: Project| {
        session.change(|known| {
            *known = project;
            Ok(())
        })
    };
    let refused = put(&mut session, strange).unwrap_err();
    assert_eq!(refused.messages()[0].code, "session::rules");
    // The same texts checked once more are others as well.
    assert!(put(&mut session, Project::new("Nosuch 2", &rules())).is_err());
    assert_eq!(session.audit().unwrap(), before);
}

#[test]
fn a_project_put_into_a_session_is_there_with_all_that_belongs_to_it() {
    let rules = rules();
    let files =
        [("project.toml", "name = 'Nosuch 4'\npacks = ['./x']\nvisit = 2026-12-10\n"), ("a.TOML", "cabin.seats = 2\n")];
    let whole = Project::from_files_with(&rules, files).unwrap();
    assert_eq!(audit(&whole, &on()).unwrap().exit_status(), 3, "a file that is not read");
    let mut session = Session::new(Project::new("Nosuch 2", &rules), &on()).unwrap();
    session
        .change(|project| {
            *project = whole.clone();
            Ok(())
        })
        .unwrap();
    let now = session.audit().unwrap();
    assert_eq!((now.project.as_str(), now.exit_status()), ("Nosuch 4", 3));
    assert_eq!(now, audit(&session.project(), &on()).unwrap());
    assert_eq!(now, audit(&whole, &on()).unwrap());
    session.ask(&on().by("visit")).unwrap();
    assert_eq!(session.audit().unwrap(), audit(&session.project(), &on().by("visit")).unwrap());
    // What was said of its files is said by the session as well.
    assert!(!whole.warnings().is_empty());
    assert_eq!(session.warnings(), whole.warnings());
    assert_eq!(session.project().warnings(), whole.warnings());
    assert_eq!(Session::new(whole.clone(), &on()).unwrap().warnings(), whole.warnings());
}

#[test]
fn a_file_shows_something_by_call_as_it_does_among_the_files() {
    let blanks = "\u{a0}".repeat(3000) + &"\u{200b}".repeat(3000);
    for bytes in [
        SHOWN.as_bytes(),
        HEADER.as_bytes(),
        b"",
        b" \r\n",
        b"\0\0\0",
        b"\xef\xbb\xbf",
        b"\xff\xfe\x20\x00\xa0\x00",
        "\u{feff}\u{a0}\n".as_bytes(),
        "\u{200b}".as_bytes(),
        "\u{3000}\u{2800}\u{b}".as_bytes(),
        blanks.as_bytes(),
    ] {
        let by_files = Project::from_files_with(
            &rules(),
            [("project.toml", HEADER.as_bytes()), ("cabin.toml", SHOWN.as_bytes()), ("evidence/clean.jpg", bytes)],
        )
        .unwrap();
        let mut by_call = from(&[("cabin.toml", SHOWN)]).unwrap();
        by_call.add_file("evidence/clean.jpg", bytes);
        assert_eq!(verdict(&by_files, "shed/cabin.picture"), Verdict::NotShown, "{bytes:?}");
        assert_eq!(verdict(&by_call, "shed/cabin.picture"), Verdict::NotShown, "{bytes:?}");
        // Given again it is another file.
        by_call.add_file("evidence/clean.jpg", b"\xff\xd8 a picture");
        assert_eq!(verdict(&by_call, "shed/cabin.picture"), Verdict::Met);
        by_call.add_file("./evidence/clean.jpg", bytes);
        assert_eq!(verdict(&by_call, "shed/cabin.picture"), Verdict::NotShown, "{bytes:?}");
    }
    for (path, shows) in [
        ("./evidence/clean.jpg", true),
        ("evidence//clean.jpg", true),
        ("/evidence/./clean.jpg", true),
        ("Evidence/clean.jpg", false),
        ("x/../evidence/clean.jpg", false),
        ("evidence\\clean.jpg", false),
        ("", false),
    ] {
        let expected = if shows { Verdict::Met } else { Verdict::NotShown };
        let mut by_call = from(&[("cabin.toml", SHOWN)]).unwrap();
        by_call.add_file(path, b"a picture");
        assert_eq!(verdict(&by_call, "shed/cabin.picture"), expected, "{path}");
        let by_files = from(&[("cabin.toml", SHOWN), (path, "a picture")]).unwrap();
        assert_eq!(verdict(&by_files, "shed/cabin.picture"), expected, "{path}");
    }
    for path in [".evidence/clean.jpg", "x/clean.jpg"] {
        let text = SHOWN.replace("evidence/clean.jpg", path);
        let mut by_call = from(&[("cabin.toml", &text)]).unwrap();
        by_call.add_file(path, b"a picture");
        assert_eq!(verdict(&by_call, "shed/cabin.picture"), Verdict::NotShown, "{path}");
        let by_files = from(&[("cabin.toml", &text), (path, "a picture")]).unwrap();
        assert_eq!(verdict(&by_files, "shed/cabin.picture"), Verdict::NotShown, "{path}");
    }
}

#[test]
fn what_showed_a_value_does_not_show_the_next_one() {
    for (text, then) in [(SHOWN.to_owned(), Verdict::Met), (SHOWN.replace("true", "false"), Verdict::Unmet)] {
        let project = from(&[("cabin.toml", &text), ("evidence/clean.jpg", "a picture")]).unwrap();
        assert_eq!(verdict(&project, "shed/cabin.picture"), then);
        let mut anew = project.clone();
        anew.set("cabin.clean", true).unwrap();
        assert_eq!(verdict(&anew, "shed/cabin.picture"), Verdict::NotShown);
        // All is read once more, and it stays so.
        anew.set_person("ida", "Toni Specimen", &["adviser"]).unwrap();
        assert_eq!(verdict(&anew, "shed/cabin.picture"), Verdict::NotShown);
        let mut away = project.clone();
        away.unset("cabin.clean").unwrap();
        away.set("cabin.clean", true).unwrap();
        away.add_file("evidence/other.jpg", b"another");
        assert_eq!(verdict(&away, "shed/cabin.picture"), Verdict::NotShown);
        let mut session = Session::new(project, &on()).unwrap();
        session.set("cabin.clean", true).unwrap();
        assert_eq!(verdict(&session.project(), "shed/cabin.picture"), Verdict::NotShown);
        assert_eq!(session.audit().unwrap(), audit(&session.project(), &on()).unwrap());
    }
}

#[test]
fn entries_are_no_list_and_those_of_a_program_can_be_taken_back() {
    let words = "[[confirmed]]\nitem = 'cabin.spoken'\nwho = 'Toni Specimen'\nrole = 'inspector'\non = 2026-11-20\n";
    let mut project = from(&[("words.toml", words)]).unwrap();
    project.set("cabin.width", "10 in").unwrap();
    let before = audit(&project, &on()).unwrap();
    for kind in ["log", "confirmed", "concession", "deferred", "job"] {
        let records = [Entry::record(kind)
            .with("on", "2026-11-12")
            .with("what", "removed")
            .with("subject", "fuel.tank")
            .with("who", "rosa")];
        assert_eq!(code(project.set_list(kind, records)), "record::form", "{kind}");
        assert_eq!(code(project.set_list(kind, [])), "record::form", "{kind}");
        assert_eq!(code(project.set(kind, Vec::<String>::new())), "record::form", "{kind}");
        let said = project.set(kind, Vec::<String>::new()).unwrap_err().to_string();
        assert!(said.contains(&format!("unset `{kind}`")), "{said}");
    }
    assert_eq!(audit(&project, &on()).unwrap(), before);
    let leave =
        Entry::concession().with("item", "cabin.wide").with("reason", "as built").with("granted_by", "Toni Specimen");
    let deferred =
        Entry::deferred().with("item", "fuel.tight").with("reason", "no gauge yet").with("limit", "near the field");
    let all =
        Entry::whole("fuel.tanks").with("records", Vec::<String>::new()).with("who", "rosa").with("on", "2026-11-20");
    let entries = [
        ("log", line("removed", "fuel.tank", "2026-11-12")),
        (
            "confirmed",
            Entry::confirmed()
                .with("item", "cabin.spoken")
                .with("who", "Toni Specimen")
                .with("role", "inspector")
                .with("on", "2026-11-21")
                .with("holds", false),
        ),
        ("concession", leave.with("role", "inspector").with("on", "2026-11-01").with("until", "2027-11-01")),
        (
            "deferred",
            deferred.with("test", "card 4").with("who", "rosa").with("on", "2026-11-01").with("by", "first-flight"),
        ),
        ("job", Entry::job().with("about", "cabin.wide").with("takes", "2 h")),
        ("whole", all),
        ("whole", all_of_log(0)),
    ];
    let mut session = Session::new(project.clone(), &on()).unwrap();
    for (kind, entry) in entries {
        project.add(&entry).unwrap();
        session.add(&entry).unwrap();
        assert_eq!(audit(&project, &on()).unwrap() == before, kind == "job", "{kind}");
        project.unset(kind).unwrap();
        session.unset(kind).unwrap();
        assert_eq!(audit(&project, &on()).unwrap(), before, "{kind}");
        assert_eq!(session.audit().unwrap(), before, "{kind}");
    }
    // What hangs on an entry goes before it.
    project.add(&line("removed", "fuel.tank", "2026-11-12")).unwrap();
    project.add(&all_of_log(1)).unwrap();
    assert_eq!(code(project.unset("log")), "whole::entries-gone");
    project.unset("whole").unwrap();
    project.unset("log").unwrap();
    assert_eq!(audit(&project, &on()).unwrap(), before);
    assert_eq!(verdict(&project, "shed/cabin.spoken"), Verdict::Met, "the word of the file stays");
}

#[test]
fn a_hold_point_that_is_not_the_visit_is_planned() {
    let mut project = project();
    project.set_planned("first-flight", "2026-11-01").unwrap();
    project.set_planned("visit", "2026-12").unwrap();
    assert_eq!(audit(&project, &on()).unwrap().visit.as_deref(), Some("2026-12"));
    let deferred = Entry::deferred().with("item", "cabin.wide").with("reason", "no tape").with("limit", "no guests");
    let deferred = deferred.with("test", "card 1").with("who", "rosa").with("on", "2026-10-01");
    project.add(&deferred.with("by", "first-flight")).unwrap();
    assert_eq!(verdict(&project, "shed/cabin.wide"), Verdict::Unmet, "its day is over");
    project.set_planned("first-flight", "2026-12-20").unwrap();
    assert_eq!(verdict(&project, "shed/cabin.wide"), Verdict::NotShown);
    for wrong in ["first-fligth", "", "tail"] {
        let said = project.set_planned(wrong, "2026-12-20").unwrap_err();
        assert_eq!(said.messages()[0].code, "project::unknown", "{said}");
    }
}

#[test]
fn two_files_of_one_path_are_an_error() {
    let second = HEADER.replace("Nosuch 2", "Nosuch 3");
    for name in ["project.toml", "./project.toml", "/project.toml", ".//project.toml"] {
        let error = from(&[(name, &second)]).unwrap_err();
        assert_eq!(error.messages()[0].code, "file::twice", "{error}");
        assert!(Project::from_files([("project.toml", HEADER), (name, &second)]).is_err());
    }
    assert!(from(&[("evidence/a.jpg", "a picture"), ("evidence//a.jpg", "")]).is_err());
}

#[test]
fn no_more_workers_are_begun_than_there_is_work_for() {
    let rules = rules();
    let projects = || (0..3).map(|number| Project::new(&format!("Nosuch {number}"), &rules)).collect::<Vec<_>>();
    let name = |outcome: Result<Audit, LoadError>| outcome.map(|audit| audit.project).ok();
    for workers in [100_000, usize::MAX] {
        assert_eq!(audit_all(projects(), &on(), workers, name), audit_all(projects(), &on(), 1, name));
    }
    let failing = || audit_all(projects(), &on(), 2, |_| -> () { panic!("the disk is full") });
    let why = std::panic::catch_unwind(std::panic::AssertUnwindSafe(failing)).unwrap_err();
    assert_eq!(why.downcast_ref::<&str>(), Some(&"the disk is full"));
}

#[test]
fn what_does_not_fit_the_rest_is_refused_and_changes_nothing() {
    let found = |on: &str, subject: &str| line("snag found", subject, on).with("snag", 1);
    let mut project = project();
    project.add(&found("2026-11-12", "fuel.tank")).unwrap();
    project.add(&Entry::job().with("about", "own: a").with("title", "A")).unwrap();
    let before = (audit(&project, &on()).unwrap(), project.warnings());
    let cleared = |number: i64, subject: &str, on: &str| line("snag cleared", subject, on).with("snag", number);
    let wrong = [
        (found("2026-11-13", "fuel.tank"), "log::snag-twice"),
        (cleared(4, "fuel.tank", "2026-11-13"), "log::snag-unknown"),
        (cleared(1, "cabin.seat", "2026-11-13"), "log::snag-part"),
        (cleared(1, "fuel.tank", "2026-11-01"), "log::snag-order"),
        (Entry::job().with("about", "cabin.wide").with("after", ["own: b"]), "job::unknown"),
        (Entry::job().with("about", "cabin.wdie").with("takes", "2 h"), "job::unknown"),
        (Entry::job().with("about", "own: a").with("takes", "2 h"), "job::twice"),
        (all_of_log(99), "whole::entries-gone"),
    ];
    let mut session = Session::new(project.clone(), &on()).unwrap();
    for (entry, why) in wrong {
        let refused = project.add(&entry).unwrap_err();
        assert_eq!(refused.messages()[0].code, why);
        assert_eq!(session.add(&entry).unwrap_err(), refused);
        assert_eq!((audit(&project, &on()).unwrap(), project.warnings()), before, "{why}");
        assert_eq!(session.audit().unwrap(), before.0, "{why}");
    }
    assert!(project.unset("job").is_ok());
    project.add(&all_of_log(1)).unwrap();
    project.add(&cleared(1, "fuel.tank", "2026-11-13")).unwrap();
    assert_eq!(snags(&project).0, [Verdict::Met]);
}

/// What a `main` that ends with an error prints.
#[test]
fn an_error_is_shown_as_its_messages_however_it_is_printed() {
    let all = Rules::new(Pack::built_in(&["us"]).unwrap()).unwrap();
    let error = Project::new("Nosuch 2", &all).set("elt.presnt", true).unwrap_err();
    assert_eq!(format!("{error:?}"), error.to_string());
    assert!(error.to_string().len() < 500, "{error}");
    let broken = Pack::new("mine", "name='mine'", [("a.checklist", "item x")]);
    let error = Rules::new(Pack::built_in(&["us"]).unwrap().into_iter().chain([broken])).unwrap_err();
    assert_eq!(format!("{error:?}"), error.to_string());
    let boxed: Box<dyn std::error::Error> = error.into();
    assert!(format!("{boxed:?}").len() < 2000);
}

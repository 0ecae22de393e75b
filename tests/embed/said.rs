//! What a program is told: what is wrong with each value in words that help, and nothing that moves a cursor.

use super::taken::{line, on};
use super::wrong::{code, project, verdict};
use super::{MANIFEST, RULES, rules};
use cotterpin::render::{Exchange, exchange};
use cotterpin::{Entry, Options, Pack, Project, Rules, Session, Snapshot, Value, ValueError, Verdict, audit};

fn said(refused: Result<(), ValueError>) -> String {
    refused.expect_err("it is refused").to_string()
}

#[test]
fn a_word_of_nobody_counts_for_nothing() {
    let mut project = project();
    let word = |who: &str| {
        let word = Entry::confirmed().with("item", "cabin.spoken").with("who", who);
        word.with("role", "inspector").with("on", "2026-11-20")
    };
    for who in ["me", "Me.", "the inspector", "An Adviser", "our inspector", "the builder", "myself", "inspector", "?"]
    {
        assert_eq!(code(project.add(&word(who))), "record::form", "{who}");
        let leave = Entry::concession().with("item", "cabin.wide").with("reason", "as built").with("granted_by", who);
        let leave = leave.with("role", "inspector").with("on", "2026-11-01").with("until", "2027-11-01");
        assert_eq!(code(project.add(&leave)), "record::form", "{who}");
        let deferred =
            Entry::deferred().with("item", "cabin.wide").with("reason", "no tape").with("limit", "no guests");
        let deferred = deferred.with("test", "card 1").with("who", who).with("on", "2026-10-01");
        assert_eq!(code(project.add(&deferred.with("by", "first-flight"))), "record::form", "{who}");
        assert_eq!(code(project.set_person("somebody", who, &["inspector"])), "project::no-name", "{who}");
    }
    assert_eq!(verdict(&project, "shed/cabin.spoken"), Verdict::NotShown);
    // `me` may be the short name of somebody.
    project.set_person("me", "Toni Specimen", &["inspector"]).unwrap();
    project.add(&word("me")).unwrap();
    assert_eq!(verdict(&project, "shed/cabin.spoken"), Verdict::Met);
}

#[test]
fn leave_whose_reason_says_nothing_is_none() {
    let mut project = project();
    project.set("cabin.width", "10 in").unwrap();
    for nothing in [".", "-", "?", "...", "none", "None", "n/a", "tbd", "\u{200b}", "\u{2800}", "\u{a0}"] {
        let leave = Entry::concession().with("item", "cabin.wide").with("reason", nothing);
        let leave = leave.with("granted_by", "Toni Specimen").with("role", "inspector");
        assert_eq!(code(project.add(&leave.with("on", "2026-11-01").with("until", "2027-11-01"))), "record::form");
        for key in ["reason", "limit", "test"] {
            let text = |of: &str| if of == key { nothing } else { "card 1" };
            let deferred = Entry::deferred().with("item", "cabin.wide").with("who", "rosa").with("on", "2026-11-01");
            let deferred = deferred.with("reason", text("reason")).with("limit", text("limit"));
            let deferred = deferred.with("test", text("test")).with("by", "first-flight");
            assert_eq!(code(project.add(&deferred)), "record::form", "{key} {nothing:?}");
        }
    }
    assert_eq!(verdict(&project, "shed/cabin.wide"), Verdict::Unmet);
}

#[test]
fn a_day_with_a_time_is_taken_in_quotes() {
    let inspected = |at: &str| line("inspected", "fuel.tank", at).with("points", ["assembly", "locking"]);
    let looked = |first: Entry, then: Entry| {
        let mut project = project();
        project.add(&first).unwrap();
        project.add(&then).unwrap();
        verdict(&project, "shed/fuel.looked")
    };
    let work = |at: &str| line("work done", "fuel.tank", at);
    // The times say what the order of the lines does not.
    assert_eq!(looked(inspected("2026-11-12T10:00:00"), work("2026-11-12T09:00:00")), Verdict::Met);
    assert_eq!(looked(inspected("2026-11-12T10:00"), work("2026-11-12 11:30")), Verdict::NotShown);
    assert_eq!(looked(work("2026-11-12T11:30"), inspected("2026-11-12T10:00")), Verdict::NotShown);
    let mut project = project();
    project.add(&work("2026-11-12T09:00")).unwrap();
    project.set("fuel.pull", Value::from("60 lbf").dated("2026-11-12T08:59")).unwrap();
    assert_eq!(verdict(&project, "shed/fuel.strong"), Verdict::NotShown);
    project.set("fuel.pull", Value::from("60 lbf").dated("2026-11-12T09:01")).unwrap();
    assert_eq!(verdict(&project, "shed/fuel.strong"), Verdict::Met);
    let word = Entry::confirmed().with("item", "cabin.spoken").with("who", "Toni Specimen").with("role", "inspector");
    project.add(&word.with("on", "2026-11-20T17:30:00")).unwrap();
    for wrong in [
        "2026-11-12T25:00",
        "2026-11-12T10:00Z",
        "2026-11-12T10:00+01:00",
        "2026-11-12T10:00:00.5",
        "10:00",
        "10:00 on Friday",
    ] {
        assert_eq!(code(project.add(&work(wrong))), "value::date", "{wrong}");
    }
    // What has no time does not take one.
    assert!(said(project.set("fuel.tested", "2026-11-20T10:00")).contains("leave out the time"));
    assert!(said(project.add(&work("yesterday"))).contains("2026-10-04T14:30:00"));
    assert!(said(project.add(&work("2026-11-12T1000:"))).contains("2026-10-04T14:30:00"));
    let file = "[[log]]\non = '2026-11-12T10:00'\nwhat = 'removed'\nsubject = 'fuel.tank'\nwho = 'rosa'\n";
    let header = "name = 'Nosuch 2'\npacks = ['./x']\n[people]\nrosa = { name = 'Rosa Example', role = 'builder' }\n";
    assert!(Project::from_files_with(&rules(), [("project.toml", header), ("log/all.toml", file)]).is_ok());
}

#[test]
fn a_value_is_shown_by_a_file() {
    let mut project = project();
    project.set("cabin.clean", Value::from(true).shown_by("evidence/clean.jpg")).unwrap();
    assert_eq!(verdict(&project, "shed/cabin.picture"), Verdict::NotShown, "the file is not there");
    project.add_file("evidence/clean.jpg", b"a picture");
    assert_eq!(verdict(&project, "shed/cabin.picture"), Verdict::Met);
    let mut session = Session::new(project.clone(), &on()).unwrap();
    session.set("cabin.clean", true).unwrap();
    assert_eq!(verdict(&session.project(), "shed/cabin.picture"), Verdict::NotShown);
    let shown = Value::from(true).dated("2026-11-20").shown_by("evidence/no.jpg").shown_by("evidence/clean.jpg");
    session.set("cabin.clean", shown).unwrap();
    assert_eq!(session.audit().unwrap(), audit(&session.project(), &on()).unwrap());
    assert_eq!(verdict(&session.project(), "shed/cabin.picture"), Verdict::Met);
    for wrong in ["evidence/clean.pdf", "../clean.jpg", "project.toml", "", "x\" }\n[[log]]"] {
        assert!(project.set("cabin.clean", Value::from(true).shown_by(wrong)).is_err(), "{wrong}");
    }
    let tank = Entry::record("fuel.tanks").with("name", "left").with("usable", Value::from("1 L").shown_by("a.jpg"));
    assert!(project.add(&tank).is_err(), "evidence is of the record");
}

#[test]
fn what_is_shown_of_a_message_stays_on_its_line() {
    let mut project = project();
    for (name, value) in
        [("cabin.width\u{1b}[31m\n", "4 lb"), ("cabin.width", "4 lb\u{1b}[2J\r\u{202e}"), ("a\u{7}", "1")]
    {
        let text = said(project.set(name, value));
        assert!(text.chars().all(|letter| letter == '\n' || !letter.is_control() && letter != '\u{202e}'), "{text:?}");
        assert!(text.lines().all(|line| line.starts_with("error[") || line.starts_with("  ")), "{text}");
    }
    let broken =
        Pack::new("mine\u{1b}[31m", MANIFEST, [("a\n\u{1b}.checklist", "fact \u{202e}x\u{1b}\u{1b} : nonsense")]);
    let text = Rules::new([broken]).unwrap_err().to_string();
    assert!(!text.contains('\u{1b}') && !text.contains('\u{202e}'), "{text:?}");
    let marks = "\u{202e}txet";
    project.set("cabin.placard", marks).unwrap();
    let report = audit(&project, &on()).unwrap();
    for by in [Exchange::Csv, Exchange::Junit] {
        let text = exchange(&report, by);
        assert!(!text.contains('\u{202e}') && text.contains("\\u{202e}txet"), "{by:?}");
    }
}

#[test]
fn each_wrong_value_is_told_what_is_wrong_with_it() {
    let mut project = project();
    assert!(said(project.set("", "20 in")).contains("has no name"));
    // The unit of the uncertainty is that of the reading.
    project.set("fuel.pull", "60 ± 20 lbf").unwrap();
    assert_eq!(verdict(&project, "shed/fuel.strong"), Verdict::NotShown);
    let belt = |many: Value| Entry::record("cabin.belts").with("name", "left").with("how_many", many);
    for (many, label) in [
        (Value::from(0), "none"),
        (Value::from(-1), "none"),
        (Value::from(2.0), "point"),
        (Value::from("2"), "quotes"),
        (Value::from(i64::MAX), "more than 4294967295"),
        (Value::from(true), "yes or no"),
    ] {
        let text = said(project.add(&belt(many.clone())));
        assert!(text.contains("record::how-many") && text.contains(label), "{many:?}: {text}");
    }
    for who in ["Rosa Example", "rosa  example", "Example, Rosa"] {
        let entry = Entry::log().with("on", "2026-11-12").with("what", "removed").with("subject", "fuel.tank");
        let text = said(project.add(&entry.with("who", who)));
        assert!(text.contains("write the short one, \"rosa\""), "{text}");
    }
    let entry = Entry::log().with("on", "2026-11-12").with("what", "removed").with("subject", "fuel.tank");
    let text = said(project.add(&entry.with("who", "Toni Specimen")));
    assert!(text.contains("such as rosa = {") && !text.contains("Toni Specimen ="), "{text}");
    for (day, why) in [("2026-02-30", "28 days"), ("2026-11", "no day"), ("", "no day"), ("2026-11-25T10:00", "no day")]
    {
        let error = Options::on(day).unwrap_err();
        assert!(error.to_string().contains(why), "{error}");
        let help = error.messages()[0].help.as_deref().unwrap_or_default();
        assert!(Options::on(help.rsplit(' ').next().unwrap_or_default()).is_ok(), "{help}");
    }
    let of_zone = audit(&project, &on().closing("tial")).unwrap_err();
    assert_eq!(of_zone.messages()[0].code, "zone::unknown");
}

/// As the records of a list are told apart, so is who names them all.
#[test]
fn a_list_is_whole_by_names_that_differ_in_capitals_and_blanks_only() {
    let mut project = project();
    for name in ["left", "right  tank"] {
        let tank = Entry::record("fuel.tanks").with("name", name).with("usable", "9 L").with("strap", "12 lbf");
        project.add(&tank).unwrap();
    }
    let all = |names: &[&str]| {
        let word = Entry::whole("fuel.tanks").with("records", names.to_vec());
        word.with("who", "rosa").with("on", "2026-11-20")
    };
    for (names, verdict_then) in [
        (&["LEFT", "Right Tank "][..], Verdict::Unmet),
        (&["left", "LEFT", "right tank"][..], Verdict::NotShown),
        (&["left"][..], Verdict::NotShown),
        (&["left", "right tank", "third"][..], Verdict::NotShown),
    ] {
        project.add(&all(names)).unwrap();
        assert_eq!(verdict(&project, "shed/fuel.sum"), verdict_then, "{names:?}");
    }
}

#[test]
fn names_of_parts_people_and_projects_are_names() {
    let mut project = project();
    for wrong in ["", "fuel..x", "fuel.tank.", "fuel.\ncap", " "] {
        assert_eq!(code(project.set_part(wrong, "X")), "project::form", "{wrong:?}");
    }
    assert_eq!(code(project.set_part("fuel.tank", "X")), "project::twice", "a pack names it");
    assert!(project.warnings().is_empty());
    project.set_part("fuel.tankk", "X").unwrap();
    let near = |messages: &[cotterpin::Message]| messages.iter().filter(|one| one.code == "project::near").count();
    assert_eq!(near(&project.warnings()), 1, "it is almost `fuel.tank`");
    assert_eq!(near(&Session::new(project.clone(), &on()).unwrap().warnings()), 1);
    for (short, name) in [("", "X Y"), (" ", "X Y"), ("a\nb", "X Y"), ("x", "X\nY"), ("x", ""), ("\u{200b}", "X Y")] {
        assert!(project.set_person(short, name, &["builder"]).is_err(), "{short:?} {name:?}");
    }
    for name in ["", " \n"] {
        let mut nameless = Project::new(name, &rules());
        nameless.set_person("rosa", "Rosa Example", &["builder"]).unwrap();
        nameless.set("cabin.width", "30 in").unwrap();
        assert_eq!(verdict(&nameless, "shed/cabin.wide"), Verdict::Met);
        assert_eq!(nameless.warnings()[0].code, "project::no-name");
    }
}

#[test]
fn a_pack_has_a_name_of_its_own() {
    for name in ["", " ", "a/b", "a b", "a\\nb", "a'b"] {
        let manifest = MANIFEST.replace("'shed'", &format!("\"{name}\""));
        let error = Rules::new([Pack::new("mine", manifest, [("a.checklist", RULES)])]).unwrap_err();
        assert_eq!(error.messages()[0].code, "pack::name", "{error}");
        assert!(error.messages()[0].help.is_some());
    }
    for name in ["workmanship", "us", "common"] {
        let files = [
            ("project.toml", "name = 'Nosuch 2'\npacks = ['./mine']\n".to_owned()),
            ("mine/pack.toml", MANIFEST.replace("'shed'", &format!("'{name}'"))),
            ("mine/mine.checklist", RULES.to_owned()),
        ];
        let error = Project::from_files(files).unwrap_err();
        assert_eq!(error.messages()[0].code, "pack::name", "{error}");
        assert_eq!(error.messages()[0].labels[0].place.file, "project.toml");
    }
}

#[test]
fn an_audit_of_another_project_is_told() {
    let rules = rules();
    let audited = |name: &str| audit(&Project::new(name, &rules), &on()).unwrap();
    let (kept, other, same) = (Snapshot::of(&audited("Nosuch 2")), audited("Nosuch 3"), audited("Nosuch 2"));
    assert_eq!(kept.notices(&same), Vec::<String>::new());
    assert!(kept.notices(&other)[0].contains("Nosuch 2"));
    let sarif = |audit| exchange(audit, Exchange::Sarif { since: Some(&kept) });
    assert!(sarif(&other).contains("The saved audit is of a project named"), "{}", sarif(&other));
    assert!(!sarif(&same).contains("The saved audit is of a project named"));
    for text in ["{}", "[]", "{\"schema\": \"x\"}", "{\"version\": 99}"] {
        let error = Snapshot::from_json(text).unwrap_err();
        assert!(!error.to_string().contains("`cotterpin "), "{error}");
    }
}

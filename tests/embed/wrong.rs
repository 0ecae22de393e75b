//! What a careless program may hand over: none of it is met that is not so.

use super::rules;
use cotterpin::{Entry, Options, Pack, Project, Rules, Session, Value, ValueError, Verdict, audit};

pub(super) fn project() -> Project {
    let mut project = Project::new("Nosuch 2", &rules());
    project.set_person("rosa", "Rosa Example", &["builder"]).unwrap();
    project
}

pub(super) fn code(refused: Result<(), ValueError>) -> String {
    let error = refused.expect_err("it is refused");
    let message = &error.messages()[0];
    assert!(error.to_string().contains(&message.message) && message.help.is_some(), "{error}");
    message.code.clone()
}

pub(super) fn verdict(project: &Project, item: &str) -> Verdict {
    let audit = audit(project, &Options::on("2026-11-25").unwrap()).unwrap();
    audit.findings.iter().find(|finding| finding.item == item).unwrap_or_else(|| panic!("{item}")).verdict
}

#[test]
fn another_kind_or_unit_is_refused() {
    let mut project = project();
    for wrong in [
        Value::from("60 ft"),
        Value::from("60 degC"),
        Value::from(45),
        Value::from(45.5),
        Value::from("2026-11-20"),
        Value::from(true),
        Value::from(Vec::<String>::new()),
        Value::from(["60 lbf", "70 lbf"]),
        Value::from(f64::NAN),
        Value::from(f64::INFINITY),
        Value::from(""),
        Value::quantity(f64::NAN, "lbf"),
        Value::quantity(-1.0, "lbf"),
    ] {
        assert!(project.set("fuel.pull", wrong.clone()).is_err(), "{wrong:?}");
        assert_eq!(verdict(&project, "shed/fuel.strong"), Verdict::NotShown, "{wrong:?}");
    }
    for wrong in [Value::from("2.5"), Value::from(2.5), Value::from("5/2"), Value::from(-2), Value::from(5)] {
        assert!(project.set("cabin.seats", wrong.clone()).is_err(), "{wrong:?}");
    }
    for wrong in [Value::from("2 kg"), Value::from(20_000), Value::from("yesterday"), Value::from("2026-02-30")] {
        assert!(project.set("fuel.tested", wrong.clone()).is_err(), "{wrong:?}");
    }
    assert!(project.set("cabin.paint", Vec::<String>::new()).is_err() && project.set("cabin.paint", "").is_err());
    project.set("fuel.pull", Value::quantity(60.0, "lbf")).unwrap();
    assert_eq!(verdict(&project, "shed/fuel.strong"), Verdict::Met);
}

#[test]
fn an_unknown_name_is_an_error_with_the_nearest() {
    let mut project = project();
    let said = project.set("cabin.widht", "40 in").unwrap_err().to_string();
    assert!(said.contains("`cabin.width`"), "{said}");
    assert_eq!(code(project.unset("cabin.widht")), "fact::unknown");
    let said = audit(&project, &Options::on("2026-11-25").unwrap().by("vist")).unwrap_err().to_string();
    assert!(said.contains("did you mean `visit`?"), "{said}");
    let said = audit(&project, &Options::on("2026-11-25").unwrap().closing("tial")).unwrap_err().to_string();
    assert!(said.contains("did you mean `tail`?"), "{said}");
    assert!(project.set_planned("first-fligth", "2026-12-20").is_err());
    assert!(project.add(&Entry::record("fuel.tank").with("name", "left")).is_err());
    assert!(project.add(&Entry::record("fuel.tanks").with("nam", "left")).is_err());
}

#[test]
fn a_name_with_what_toml_means_something_by_stays_one_name() {
    let mut project = project();
    for name in
        ["cabin.width\" = \"40 in\"\n\"cabin.seats", "cabin.width\n[x]", "]] [[log", "\u{7f}\u{0}", "", "a.b.c.d.e.f"]
    {
        assert!(project.set(name, "40 in").is_err(), "{name:?}");
        assert!(project.add(&Entry::record(name).with("name", "x")).is_err(), "{name:?}");
        assert!(project.set_person(name, "Ida Invented", &["wizard"]).is_err(), "{name:?}");
    }
    project.set("cabin.placard", "NO\" = 1\n STEP \\ é \u{1}").unwrap();
    assert_eq!(verdict(&project, "shed/cabin.words"), Verdict::Unmet);
}

#[test]
fn a_row_name_twice_is_refused() {
    let mut project = project();
    let tank = |name: &str| Entry::record("fuel.tanks").with("name", name).with("usable", "11 L");
    project.add(&tank("left")).unwrap();
    assert_eq!(code(project.add(&tank("left"))), "record::twice");
    assert_eq!(code(project.add(&tank(" LEFT "))), "record::twice");
    assert_eq!(code(project.set_list("fuel.tanks", [tank("a"), tank("a")])), "record::twice");
    project.set_list("fuel.tanks", [tank("a"), tank("b")]).unwrap();
    let whole = audit(&project, &Options::on("2026-11-25").unwrap()).unwrap();
    let straps = whole.findings.iter().filter(|finding| finding.item == "shed/fuel.straps");
    let of: Vec<_> = straps.filter_map(|finding| finding.subject.as_deref()).collect();
    assert_eq!(of, ["a", "b"], "each record has one finding");
    assert!(project.set_list("fuel.tanks", [Entry::record("cabin.belts").with("name", "x")]).is_err());
}

#[test]
fn leave_needs_a_reason_and_a_role_that_may_give_it() {
    let mut project = project();
    project.set("cabin.width", "10 in").unwrap();
    let leave = |role: &str, by: &str, reason: &str| {
        let leave = Entry::concession().with("item", "cabin.wide").with("reason", reason).with("granted_by", by);
        leave.with("role", role).with("on", "2026-11-01").with("until", "2027-11-01")
    };
    assert!(project.add(&leave("wizard", "Ida Invented", "as built")).is_err());
    assert!(project.add(&leave("inspector", "Ida Invented", "")).is_err());
    assert!(project.add(&leave("inspector", "rosa", "as built")).is_err(), "rosa is named as builder");
    assert_eq!(verdict(&project, "shed/cabin.wide"), Verdict::Unmet);
    project.add(&leave("inspector", "Ida Invented", "as built")).unwrap();
    assert_eq!(verdict(&project, "shed/cabin.wide"), Verdict::Conceded);
}

#[test]
fn a_word_for_a_list_is_of_its_records() {
    let mut project = project();
    let tank =
        |name: &str| Entry::record("fuel.tanks").with("name", name).with("usable", "11 L").with("strap", "12 lbf");
    let all = |names: &[&str]| {
        let word = Entry::whole("fuel.tanks").with("records", names.to_vec());
        word.with("who", "rosa").with("on", "2026-11-20")
    };
    project.add(&tank("left")).unwrap();
    project.add(&all(&["left"])).unwrap();
    assert_eq!(verdict(&project, "shed/fuel.sum"), Verdict::Unmet);
    project.add(&tank("right")).unwrap();
    assert_eq!(verdict(&project, "shed/fuel.sum"), Verdict::Met, "22 L is enough, however many there are besides");
    project.set_list("fuel.tanks", []).unwrap();
    assert_eq!(verdict(&project, "shed/fuel.sum"), Verdict::NotShown, "the word named one that is gone");
    project.add(&all(&[])).unwrap();
    project.unset("fuel.tanks").unwrap();
    assert_ne!(verdict(&project, "shed/fuel.sum"), Verdict::Met);
}

#[test]
fn evidence_that_is_empty_shows_nothing() {
    let text = "[cabin.clean]\nvalue = true\nevidence = \"evidence/clean.jpg\"\n";
    let files = |picture: &str| {
        let header = "name = 'Nosuch 2'\npacks = ['./x']\n";
        vec![
            ("project.toml", header.to_owned()),
            ("cabin.toml", text.to_owned()),
            ("evidence/clean.jpg", picture.to_owned()),
        ]
    };
    let read = |picture: &str| Project::from_files_with(&rules(), files(picture)).unwrap();
    assert_eq!(verdict(&read(""), "shed/cabin.picture"), Verdict::NotShown);
    assert_eq!(verdict(&read("  \n"), "shed/cabin.picture"), Verdict::NotShown);
    assert_eq!(verdict(&read(text), "shed/cabin.picture"), Verdict::NotShown, "a copy of the facts");
    assert_eq!(verdict(&read("a picture"), "shed/cabin.picture"), Verdict::Met);
    let mut later = Project::from_files_with(&rules(), files("")).unwrap();
    later.add_file("evidence/clean.jpg", b"");
    assert_eq!(verdict(&later, "shed/cabin.picture"), Verdict::NotShown);
    later.add_file("evidence/clean.jpg", b"a picture");
    assert_eq!(verdict(&later, "shed/cabin.picture"), Verdict::Met);
}

/// What a program changes of a project from files is told at its own place, what it leaves at that of the file.
#[test]
fn places_point_into_the_text_that_they_are_of() {
    let files = [
        ("project.toml", "name = 'Nosuch 2'\npacks = ['./x']\n"),
        ("cabin.toml", "# a line\n[cabin]\nwidth = '10 in'\nseats = 2\nclean = true\n"),
    ];
    let project = Project::from_files_with(&rules(), files).unwrap();
    let mut session = Session::new(project, &Options::on("2026-11-25").unwrap()).unwrap();
    let place = |session: &Session, item: &str| {
        let finding = session.findings().find(|finding| finding.item == item).unwrap();
        let place = finding.because[0].values[0].place.clone().unwrap();
        format!("{}:{}:{}", place.file, place.line, place.column)
    };
    assert_eq!(place(&session, "shed/cabin.wide"), "cabin.toml:3:9");
    for width in ["30 in", "3 in", "31 in"] {
        session.set("cabin.width", width).unwrap();
        assert_eq!(place(&session, "shed/cabin.wide"), "program/cabin.width:1:17");
        assert_eq!(place(&session, "shed/cabin.two"), "cabin.toml:4:9");
        let saw = session.findings().find(|finding| finding.item == "shed/cabin.wide").unwrap();
        assert!(format!("{:?}", saw.because).contains(width));
    }
    let error = session.set("cabin.width", "3 lb").unwrap_err();
    let label = &error.messages()[0].labels[0];
    assert_eq!(
        (label.place.file.as_str(), label.written.as_str()),
        ("program/cabin.width", "\"cabin.width\" = \"3 lb\"")
    );
}

#[test]
fn files_of_a_project_are_told_apart_as_in_a_folder() {
    let pack = "name='mine'\ntitle='Mine'\nedition='1'\nauthority='none'\nscope='x'";
    let rule = "fact cabin.latches : count ask \"How many?\"\n";
    let mut files = vec![
        ("project.toml".to_owned(), "name = 'Nosuch 2'\npacks = ['./packs/mine', 'workmanship']\n".to_owned()),
        ("packs/mine/pack.toml".to_owned(), pack.to_owned()),
        ("packs/mine/mine.checklist".to_owned(), rule.to_owned()),
        ("cabin.toml".to_owned(), "cabin.latches = 2\n".to_owned()),
        (".hidden/x.toml".to_owned(), "nonsense".to_owned()),
    ];
    let project = Project::from_files(files.clone()).unwrap();
    assert_eq!(project.name(), "Nosuch 2");
    assert!(project.rules().facts().any(|fact| fact.name == "cabin.latches"));
    let status = |project: &Project| audit(project, &Options::on("2026-11-25").unwrap()).unwrap().exit_status();
    assert_ne!(status(&project), 3);
    files.push(("cabin.toml.txt".to_owned(), "cabin.latches = 3\n".to_owned()));
    assert_eq!(status(&Project::from_files(files.clone()).unwrap()), 3, "something recorded is not read");
    files.push(("packs/mine/more.checklist.txt".to_owned(), rule.to_owned()));
    assert!(Project::from_files(files.clone()).unwrap_err().to_string().contains("is not read"));
    files.pop();
    files[1].0 = "packs/mine/Pack.toml".to_owned();
    assert!(Project::from_files(files.clone()).unwrap_err().to_string().contains("holds no pack.toml"));
    assert!(Project::from_files(Vec::<(String, String)>::new()).is_err());
    files[0].1 = "name = 'Nosuch 2'\npacks = ['workmanschip']\n".to_owned();
    assert!(Project::from_files(files).unwrap_err().to_string().contains("`workmanship`"));
}

#[test]
fn packs_that_are_wrong_say_where() {
    let pack = |text: &str| Pack::new("mine", super::MANIFEST, [("mine.checklist", text)]);
    let error = Rules::new([pack("fact a.b : count ask \"?\"\nitem a.c \"x\" need a.d")]).unwrap_err();
    let message = error.messages().iter().find(|message| message.code == "name::unknown").unwrap();
    assert_eq!((message.labels[0].place.line, message.labels[0].place.column), (2, 6));
    assert!(Rules::new([pack(""), pack("")]).is_err(), "two of one name");
}

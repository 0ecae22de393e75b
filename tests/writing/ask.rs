//! `cotterpin ask`, through a pipe.

use super::{Run, Shed, keeps_lines};

const ASK: [&str; 3] = ["ask", "--on", "2026-11-25"];

/// A project in which everything but one group is answered.
fn shed(name: &str, facts: &str) -> Shed {
    Shed::new(name).file("spar.toml", facts)
}

#[test]
fn the_question_that_settles_most_comes_first_and_answers_are_written_at_once() {
    let shed = Shed::new("ask-first");
    let said = shed.answer(&ASK, "96 in\n8\nwo\n\"stop\"\nnone\ny\nnone\n").fine(&[
        "1. How long is the spar?",
        "spar.span: a length with its unit, above 0 in",
        "For example: 96 in",
        "one of wood, metal, welded-steel",
        "Written to spar.toml, line 2: span = \"96 in\"",
        "Answered: 7. Left open: 0.",
    ]);
    let table: toml::Table = shed.text("spar.toml").parse().expect("TOML");
    let spar = table["spar"].as_table().expect("a table");
    assert_eq!((spar["kind"].as_str(), spar["straight"].as_bool()), (Some("wood"), Some(true)), "{}", said.out);
    assert_eq!((spar["bolts"].as_integer(), spar["tested"].as_str()), (Some(8), Some("none")));
    assert_eq!((spar["maker"].as_str(), spar.get("ribs")), (Some("stop"), None));
    let word = "[whole]\n\"spar.ribs\" = { records = [], who = \"rosa\", on = 2026-11-25 }\n";
    assert_eq!(shed.text("whole.toml"), word, "{}", said.out);
    shed.answer(&ASK, "").fine(&["There is no question"]);
}

#[test]
fn what_cannot_be_read_is_asked_again_with_the_reason() {
    let shed = Shed::new("ask-again");
    let answers = "96\n96 lb\n-3 in\n96 in\nmany\n-1\n8\nw\nsteel\nwood\nme\nnone\nmaybe\nyes\n2026-02-30\n2026-10\n";
    let said = shed.answer(&ASK, answers).fine(&[
        "write its unit",
        "`spar.span` is a length, and `96 lb` is not; this is a mass",
        "Which one: wood, welded-steel?",
        "Expected one of no, yes.",
        "A whole number is asked",
        "nothing was written",
        "tested = \"2026-10\"",
    ]);
    let spar = shed.text("spar.toml");
    let lines: Vec<&str> = spar.lines().collect();
    assert!(lines.contains(&"span = \"96 in\"") && lines.contains(&"kind = \"wood\""), "{}", said.out);
    assert!(lines.contains(&"straight = true") && lines.contains(&"bolts = 8"), "{spar}");
}

/// The beginning of a word of several is one of several things; what is to come is neither yes nor no.
#[test]
fn an_answer_is_not_taken_for_more_than_was_said() {
    let shed = shed("ask-more", "[spar]\nspan = \"96 in\"\nbolts = 8\n");
    shed.answer(&ASK, "welded\nstop\n").fine(&["Did you mean welded-steel?", "Answered: 0."]);
    shed.answer(&ASK, "welded s\nstop\n").fine(&["kind = \"welded-steel\"", "Answered: 1."]);
    let shed = Shed::new("ask-to-come").file("spar.toml", "[spar]\nspan = \"96 in\"\nbolts = 8\nkind = \"wood\"\n");
    let straight = ["ask", "--about", "spar.straight", "--on", "2026-11-25"];
    for answer in ["ordered", "not yet", "Later"] {
        let said = shed.answer(&straight, &format!("{answer}\n"));
        said.fine(&["Left open: answer it when it is there.", "Answered: 0. Left open: 1."]);
        // In a text it would stand for the maker.
        let said = shed.answer(&["ask", "--about", "spar.maker", "--on", "2026-11-25"], &format!("{answer}\n"));
        said.fine(&["Left open: answer it when it is there."]);
        shed.refuses(&["record", "spar.maker", answer], &["spar.maker"]);
    }
}

/// Nobody is asked whether these are all while one of them is half said.
#[test]
fn a_record_left_half_done_is_finished_first() {
    let facts = "[spar]\nspan = \"96 in\"\nbolts = 8\nkind = \"wood\"\nmaker = \"me\"\nstraight = true\ntested = \"none\"\n\n\
                 [[spar.ribs]]\nname = \"r1\"\n";
    let said = shed("ask-half-record", facts).answer(&ASK, "40 in\nyes\nyes\n").fine(&[]).out;
    let at = |part: &str| said.find(part).unwrap_or_else(|| panic!("{part}: {said}"));
    assert!(at("How long is its chord?") < at("is the list complete?"), "{said}");
}

#[test]
fn an_answer_in_other_words_is_written_as_it_was_read_and_said() {
    let shed = Shed::new("ask-freehand");
    let answers = "“8' 3\"”\n‘8’\n“wood”\nN. O. Body’s\nnone\nyes\n10/12/2026\n25/12/2026\n";
    let said = shed.answer(&ASK, answers);
    said.fine(&[
        "Written to spar.toml, line 2: span = \"99 in\" “8' 3\"”: read as 99 in",
        "`10/12/2026` is not taken as a date: it can be read in more than one way; write 2026-12-10 or 2026-10-12.",
        "tested = 2026-12-25 25/12/2026: read as 2026-12-25",
    ]);
    let text = shed.text("spar.toml");
    assert!(text.contains("bolts = 8\n") && text.contains("kind = \"wood\"\n"), "{text}");
}

#[test]
fn a_number_without_a_unit_is_told_the_units_and_nothing_of_quotes() {
    let shed = Shed::new("ask-no-unit");
    let said = shed.answer(&["ask", "--questions", "1", "--on", "2026-11-25"], "96\n\"96\"\n1,5 in\n\"96 in\"\n");
    let said = said.fine(&[
        "`spar.span` is a length, and this number has no unit; write its unit: in, ft, mm, cm or m.",
        "`1,5 in` can be read in more than one way; write 1.5 in or 15 in.",
        "span = \"96 in\"",
    ]);
    assert!(!said.out.contains("quotes") && !said.out.contains("read as 96 in"), "{}", said.out);
}

/// What stands in the file in other words is shown with its reading, and not warned of.
#[test]
fn an_audit_shows_what_was_read() {
    let shed = shed("ask-why", "[spar]\nspan = \"8' 3\\\"\"\n");
    let ran = shed.step(&["why", "spar.long", "--on", "2026-11-25"]);
    ran.reports(&["8' 3\", read as 99 in"]);
    assert_eq!(ran.err, "");
}

#[test]
fn nobody_must_answer() {
    let shed = Shed::new("ask-skip");
    shed.answer(&ASK, "?\n\n  \nstop\n96 in\n").fine(&["Answered: 0. Left open: 3."]);
    assert!(!shed.has("spar.toml"));
    shed.answer(&ASK, "\u{0}\n\u{1}").fine(&["Answered: 0."]);
    shed.answer(&["ask", "--questions", "1"], "96 in\nwood\n").fine(&["Answered: 1. Left open: 0."]);
    shed.answer(&["ask", "--about", "fuel"], "")
        .refuses_to_write(&["nothing is asked about `fuel` (given by --about)", "what is asked begins with"]);
    assert_eq!(shed.text("spar.toml"), "[spar]\nspan = \"96 in\"\n");
    let endless = "x".repeat(200_000);
    shed.answer(&ASK, &endless).fine(&["too long", "Answered: 0."]);
}

#[test]
fn one_can_go_back() {
    let shed = Shed::new("ask-back");
    let said = shed.answer(&ASK, "BACK\n96 in\nback\n97 in\n8\nback\n\nBack.\n9\nwood\n");
    let said = said.fine(&[
        "This is the first question.",
        "Taken out of spar.toml: what was answered there.",
        "Answered: 3. Left open: 0.",
    ]);
    assert_eq!((said.out.matches("\n1. ").count(), said.out.matches("\n2. ").count()), (3, 4), "{}", said.out);
    assert_eq!(shed.text("spar.toml"), "[spar]\nspan = \"97 in\"\nbolts = 9\nkind = \"wood\"\n");
    // Only what the answer wrote is taken out.
    let shed = Shed::new("ask-back-alone").file("spar.toml", "# mine\n[spar]\nkind = \"wood\"\n");
    shed.answer(&ASK, "96 in\nback\nstop\n").fine(&["Taken out of spar.toml", "Answered: 0. Left open: 0."]);
    assert_eq!(shed.text("spar.toml"), "# mine\n[spar]\nkind = \"wood\"\n");
    let shed = Shed::new("ask-back-new");
    shed.answer(&ASK, "96 in\nback\n?\nstop\n").fine(&["Answered: 0. Left open: 1."]);
    assert!(!shed.has("spar.toml"));
}

/// Whoever goes back and says nothing any more has said nothing: of a list, of a word, of the log.
#[test]
fn what_one_goes_back_from_counts_no_more() {
    let pack = "list spar.rods\n  ask \"Each rod\"\n  field title : text ask \"Which?\"\n  field ok : yes or no ask \"Is it right?\"\n  \
                named by title\nitem spar.every\n  \"Every rod is right\"\n  need every rod in spar.rods has rod.ok is yes\n  \
                by visit basis common practice cite common practice\nitem spar.said\n  \"It is said\"\n  ask \"Is it?\"\n  \
                need confirmed by builder\n  by visit basis common practice cite common practice\n";
    let facts = "[spar]\nspan = \"96 in\"\nbolts = 8\nkind = \"wood\"\n";
    let shed = |name: &str| Shed::new(name).file("shed/more.checklist", pack).file("spar.toml", facts);
    let verdict = |shed: &Shed, item: &str| shed.step(&["why", item, "--on", "2026-11-25"]).out;
    let said = |about: &str, answers: &str, item: &str| {
        let shed = shed("ask-back-counts");
        // What is asked after it can be gone back from.
        let ran = shed.answer(&["ask", "--on", "2026-11-25"], answers).out;
        assert!(ran.contains("Taken out of "), "{about}: {ran}");
        assert!(verdict(&shed, item).contains("NOT SHOWN"), "{about}: {ran}");
    };
    // The list comes first, then the word.
    said("a list", "left\nyes\nno more\nyes\nback\nstop\n", "spar.every");
    said("a list, unsaid", "left\nyes\nno more\nyes\nback\n?\nstop\n", "spar.every");
    said("none", "none\nback\n?\nstop\n", "spar.every");
}

#[test]
fn one_can_ask_about_one_thing() {
    let asked = |about: &str| {
        let said = Shed::new("ask-about").answer(&["ask", "--about", about, "--on", "2026-11-25"], "\n\n\n\n");
        let said = said.fine(&[]).out;
        ["spar.span: ", "spar.bolts: ", "spar.kind: "].map(|name| said.contains(name))
    };
    assert_eq!(asked("spar"), [true, true, true]);
    assert_eq!(asked("spar.bolts"), [false, true, false]);
    // A word from the middle of names, where none begins so.
    assert_eq!(asked("bolts"), [false, true, false]);
    assert_eq!(asked("Long"), [true, false, false]);
    // What an item waits for, by its name with its pack's or without.
    assert_eq!(asked("spar.long"), [true, false, false]);
    assert_eq!(asked("shed/spar.long"), [true, false, false]);
    for (about, near) in [("spar.bolt", "did you mean `spar.bolts`?"), ("spa", "did you mean `spar`?")] {
        Shed::new("ask-about-none").answer(&["ask", "--about", about], "").refuses_to_write(&["is asked about", near]);
    }
    Shed::new("ask-about-empty").answer(&["ask", "--about", ""], "").refuses_to_write(&["nothing is asked about ``"]);
}

/// What decides most of what applies comes first, and then it says what is left to see to.
#[test]
fn what_decides_most_comes_first_and_its_end_is_told() {
    let run = Run::new("ask-decides");
    run.step(&["begin", "shed", "--country", "us", "--visit", "2027-03-10", "--who", "Rosa Example"]);
    let shed = run.inside("shed");
    let answers = "airplane\n2\nno\nyes\nyes\n1\nnone\nno\nno\nno\n?\nno\nno\n";
    let said = shed.answer(&["ask", "--on", "2026-11-25"], &format!("{answers}stop\n")).out;
    let (first, then) = said.split_once("That decides most of what applies to shed. Left are ").expect("it is told");
    assert!(first.contains("\n13. ") && !first.contains("\n14. ") && then.contains("\n14. "), "{said}");
    assert_eq!(said.matches("That decides").count(), 1);
    // The list that it speaks of is there, and each of its commands asks something.
    let next = shed.step(&["next", "--on", "2026-11-25"]).out;
    let (_, list) = next.split_once("To look at, to say and to write down").expect("the list");
    let about: Vec<&str> = list.lines().filter_map(|line| line.trim().strip_prefix("cotterpin ask --about ")).collect();
    assert!(about.len() > 20, "{list}");
    // All three count the same: what is due before the visit.
    let questions = |text: &str| {
        let before = text.split(" questions,").next().expect("a count");
        before.rsplit(|sign: char| !sign.is_ascii_digit()).next().and_then(|count| count.parse::<u32>().ok())
    };
    let page = shed.step(&["audit", "--on", "2026-11-25"]).out;
    assert!(questions(&page).is_some() && questions(&page) == questions(&next), "{page}{next}");
    assert!(next.contains("To say    before the inspector's visit, "), "{next}");
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains(" to see to before the inspector's visit, and "), "{said}");
    assert!(said.contains("Unmet now before the inspector's visit: "), "{said}");
    for name in about {
        let said = shed.answer(&["ask", "--about", name, "--questions", "1", "--on", "2026-11-25"], "\n").out;
        assert!(said.contains("\n1. "), "{name}: {said}");
    }
}

#[test]
fn answers_go_where_their_like_is_and_comments_stay() {
    let facts =
        "# all of it\n[fuel]\n# no spar here\n\n[spar] # the spar\nspan = \"96 in\" # tape\n# more to come\n\n[gear]\n";
    let pack = "fact fuel.feed : gravity or pump\n ask \"?\"\nfact gear.ply : count\n ask \"?\"\n";
    let shed = Shed::new("ask-like").file("shed/more.checklist", pack).file("all.toml", facts);
    shed.answer(&ASK, "8\nwood\n").fine(&["Written to all.toml, line 8: kind = \"wood\""]);
    let new = shed.text("all.toml");
    keeps_lines(facts, &new);
    assert!(new.contains("span = \"96 in\" # tape\nbolts = 8\nkind = \"wood\"\n# more"), "{new}");
    assert!(!shed.has("spar.toml"));
}

#[test]
fn a_group_with_the_name_of_the_project_file_gets_another() {
    let pack = "fact project.days : count\n  ask \"Days?\"\nitem spar.days\n  \"Days\"\n  need project.days >= 2\n  \
                by visit basis common practice cite common practice\n";
    let shed = Shed::new("ask-project").file("shed/more.checklist", pack);
    let before = shed.text("project.toml");
    shed.answer(&["ask", "--about", "project"], "3\n").fine(&["Written to project-answers.toml, line 2: days = 3"]);
    assert_eq!(shed.text("project.toml"), before);
}

#[test]
fn what_was_too_coarse_is_kept_as_a_comment() {
    let shed = shed("ask-coarse", "[spar]\nspan = \"90 in ± 2 in\" # by eye\n");
    let said = shed.answer(&["ask", "--on", "2026-11-25"], "\n\n\n\n\n\n\n\n");
    said.fine(&["Recorded as 90 in ± 2 in (spar.toml:2), which is too coarse."]);
    let answers = said_until(&shed, "How long is the spar?");
    shed.answer(&ASK, &format!("{answers}91 in ± 0.1 in\n")).fine(&["Written to spar.toml, line 3"]);
    let text = shed.text("spar.toml");
    assert!(
        text.starts_with(
            "[spar]\n# replaced on 2026-11-25: span = \"90 in ± 2 in\" # by eye\nspan = \"91 in ± 0.1 in\" # by eye\n"
        ),
        "{text}"
    );
}

/// As many empty lines as there are questions before that one.
fn said_until(shed: &Shed, question: &str) -> String {
    let said = shed.answer(&ASK, "\n\n\n\n\n\n\n\n");
    let number = said
        .out
        .lines()
        .find(|line| line.contains(question))
        .and_then(|line| line.split('.').next()?.parse::<usize>().ok());
    "\n".repeat(number.unwrap_or_else(|| panic!("{}", said.out)) - 1)
}

const ANSWERED: &str =
    "[spar]\nspan = \"96 in\"\nkind = \"wood\"\nstraight = true\nbolts = 8\ntested = \"none\"\nmaker = \"me\"\n";

#[test]
fn a_list_is_asked_record_by_record_and_is_whole_when_somebody_says_so() {
    let shed = shed("ask-list", ANSWERED);
    let said = shed.answer(&ASK, "r1\n40 in\nyes\nr1\nr2\n\nno\nstop\n").fine(&[
        "Record 1, name: What is the rib called?",
        "Written to spar.toml, line 9.",
        "two records of `spar.ribs` are named `r1`",
        "Record 3, name",
    ]);
    // Each is written at once; that these are all, nobody has said.
    let names = |text: &str| -> Vec<String> {
        let table: toml::Table = text.parse().expect("TOML");
        let ribs = table["spar"]["ribs"].as_array().expect("a list");
        ribs.iter().map(|rib| rib["name"].as_str().expect("a name").to_owned()).collect()
    };
    assert!(shed.text("spar.toml").starts_with(ANSWERED), "{}", said.out);
    assert_eq!(names(&shed.text("spar.toml")), ["r1", "r2"]);
    assert!(!shed.has("whole.toml"));
    // Whoever says no and has no other at hand is not asked again and again.
    shed.answer(&ASK, "no\nno more\n").fine(&["Left open: the others can be given later."]);
    assert!(!shed.has("whole.toml"));
    // Not all: the others are asked for, and then again whether these are all.
    shed.answer(&ASK, "no\nr4\n\n\nr3\nlong\n45 in\n?\nno more\nyes\n").fine(&[
        "Are these all of them: r1; r2? yes or no",
        "Are these all of them: r1; r2; r4; r3? yes or no",
        "rosa says that spar.ribs is whole.",
    ]);
    assert_eq!(names(&shed.text("spar.toml")), ["r1", "r2", "r4", "r3"]);
    let word = "\"spar.ribs\" = { records = [\"r1\", \"r2\", \"r4\", \"r3\"], who = \"rosa\", on = 2026-11-25 }\n";
    assert_eq!(shed.text("whole.toml"), format!("[whole]\n{word}"));
    assert_eq!(shed.step(&["audit", "--on", "2026-11-25"]).status, 1, "r2 is not glued");
    // One that comes later makes the list open again, and the new word keeps the old one as a comment.
    let more = format!("{}\n[[spar.ribs]]\nname = \"r5\"\n", shed.text("spar.toml"));
    let shed = shed.file("spar.toml", more);
    let said = said_until(&shed, "Each rib of the spar");
    shed.answer(&ASK, &format!("{said}yes\n")).fine(&["Are these all of them: r1; r2; r4; r3; r5?"]);
    assert!(shed.text("whole.toml").starts_with("[whole]\n# replaced on 2026-11-25: \"spar.ribs\" ="));
}

#[test]
fn only_somebody_whom_the_project_names_can_say_that_a_list_is_whole() {
    let shed = shed("ask-nobody", ANSWERED);
    let project = shed.text("project.toml");
    let without: String = project.split("[people]").next().unwrap_or_default().to_owned();
    let shed = shed.file("project.toml", without);
    shed.answer(&ASK, "none\n").fine(&["it names nobody", "Answered: 0. Left open: 1."]);
    assert!(!shed.has("whole.toml"));
}

#[test]
fn nobody_signs_for_another() {
    let shed = shed("ask-several", ANSWERED);
    let project = shed.text("project.toml");
    let two = project.replacen("rosa", "ada = { name = \"Ada Example\", role = \"builder\" }\nrosa", 1);
    let shed = shed.file("project.toml", two);
    shed.answer(&ASK, "none\nnobody\nrosa\n").fine(&["Who says so: ada, rosa", "Expected one of", "rosa says that"]);
    assert!(shed.text("whole.toml").contains("who = \"rosa\""));
}

#[test]
fn missing_fields_of_records_are_asked_by_name() {
    let ribs = "\n[[spar.ribs]]\nname = \"left [1]\" # first\nchord = \"40 in\"\n# next\n[[spar.ribs]]\nname = \"right\"\nglued = true\n";
    let old = format!("{ANSWERED}{ribs}");
    let shed = shed("ask-fields", &old);
    shed.answer(&ASK, "yes\n41 in\nyes\n").fine(&[
        "Are these all of them: left [1]; right?",
        "spar.ribs[left [1]].glued",
        "spar.ribs[right].chord",
        "Answered: 3.",
    ]);
    let text = shed.text("spar.toml");
    keeps_lines(&old, &text);
    assert!(
        text.contains("chord = \"40 in\"\nglued = true\n# next\n")
            && text.ends_with("glued = true\nchord = \"41 in\"\n"),
        "{text}"
    );
    assert_eq!(shed.step(&["audit", "--on", "2026-11-25"]).status, 1, "tested is none");
}

#[test]
fn a_project_with_mistakes_is_not_asked_about() {
    let shed = shed("ask-broken", "[spar]\nspan = 3 in\n");
    let said = shed.answer(&ASK, "wood\n");
    assert_eq!((said.status, said.out.as_str()), (3, ""));
    assert_eq!(shed.text("spar.toml"), "[spar]\nspan = 3 in\n");
}

#[cfg(unix)]
#[test]
fn a_file_that_must_not_be_written_is_said_and_asked_again() {
    use std::os::unix::fs::PermissionsExt;
    let shed = shed("ask-denied", "[spar]\nspan = \"96 in\"\n");
    let file = shed.folder().join("spar.toml");
    std::fs::set_permissions(&file, std::fs::Permissions::from_mode(0o444)).expect("a mode");
    shed.answer(&ASK, "8\n").fine(&["file::unwritable", "Answered: 0."]);
    assert_eq!(shed.text("spar.toml"), "[spar]\nspan = \"96 in\"\n");
}

/// A pack in which straightness is a state of the spar.
pub(super) fn of_a_part(name: &str, facts: &str, log: &str) -> Shed {
    let pack = super::PACK.replace("fact spar.straight : yes or no\n", "fact spar.straight : yes or no of spar.main\n");
    let all = "span = \"96 in\"\nkind = \"wood\"\nbolts = 8\ntested = 2026-10-04\nmaker = \"me\"\nribs = []\n";
    Shed::new(name)
        .file("shed/r.checklist", pack)
        .file("spar.toml", format!("[spar]\n{facts}\n{all}"))
        .file("log/2026-11.toml", log)
        .file("whole.toml", "[whole]\n\"spar.ribs\" = { records = [], who = \"rosa\", on = 2026-11-01 }\n")
        .file("evidence/a.jpg", "light")
}

pub(super) const WORK: &str =
    "[[log]]\non = 2026-11-20\nwhat = \"work done\"\nsubject = \"spar.main\"\nwho = \"rosa\"\n";

#[test]
fn what_the_log_has_undone_is_asked_again_and_written_with_its_day() {
    let shed = of_a_part("ask-undone", "straight = true # by eye", WORK);
    let said = shed.answer(&ASK, "yes\n").fine(&[
        "1. Is it straight?",
        "Recorded as true (spar.toml:2), recorded without a day, and perhaps undone by work done spar.main, 2026-11-20",
        "A new answer takes its place; the old one stays as a comment.",
        "straight = { value = true, dated = 2026-11-25 }",
        "Answered: 1.",
    ]);
    let text = shed.text("spar.toml");
    assert!(text.contains("# replaced on 2026-11-25: straight = true # by eye\n"), "{text}");
    assert!(text.contains("\nstraight = { value = true, dated = 2026-11-25 } # by eye\n"), "{text}{}", said.out);
    // Of a day after the work nothing is asked.
    shed.answer(&ASK, "").fine(&["There is no question"]);
}

#[test]
fn evidence_beside_a_value_that_is_written_anew_keeps_its_old_day() {
    let old = "straight = { value = true, dated = 2026-11-02, evidence = [\"evidence/a.jpg\"] }";
    let shed = of_a_part("ask-evidence", old, WORK);
    shed.answer(&ASK, "yes\n").fine(&["Answered: 1."]);
    let new = "straight = { value = true, dated = 2026-11-25, evidence = \
               [{ kind = \"photo\", file = \"evidence/a.jpg\", dated = 2026-11-02 }] }\n";
    assert!(shed.text("spar.toml").contains(new), "{}", shed.text("spar.toml"));
    // What shows one value shows no other.
    let shed = of_a_part("ask-evidence-other", old, WORK);
    shed.answer(&ASK, "no\n").fine(&["What showed that value does not show this one", "Answered: 1."]);
    assert!(shed.text("spar.toml").contains("straight = { value = false, dated = 2026-11-25 }\n"));
    // Nobody knows of which day it is: the builder has to say.
    let old = "straight = { value = true, evidence = [\"evidence/a.jpg\"] }";
    let shed = of_a_part("ask-evidence-undated", old, WORK);
    let said = shed.answer(&ASK, "yes\n");
    assert!(said.err.contains("nobody says of which day it is"), "{}", said.err);
    assert!(shed.text("spar.toml").contains(old));
}

#[test]
fn an_answer_of_today_and_an_entry_of_today_have_their_times() {
    let shed = of_a_part("ask-now", "", "");
    shed.answer(&["ask"], "yes\n").fine(&["Answered: 1."]);
    let table: toml::Table = shed.text("spar.toml").parse().expect("TOML");
    let dated = &table["spar"]["straight"]["dated"];
    assert!(dated.as_datetime().is_some_and(|at| at.date.is_some() && at.time.is_some()), "{dated:?}");
    shed.step(&["log", "adjusted", "spar.main"]).fine(&["today"]);
    let file = std::fs::read_dir(shed.folder().join("log")).expect("a folder").filter_map(Result::ok);
    let text: String = file.map(|one| std::fs::read_to_string(one.path()).expect("text")).collect();
    let table: toml::Table = text.parse().expect("TOML");
    assert!(table["log"][0]["on"].as_datetime().is_some_and(|at| at.time.is_some()), "{text}");
}

//! A20: persons and files are kinds; A21: of a day after another; A24: who may give leave.

use crate::fixtures::projects::{file, read_project, request};
use crate::lang::{WORDS, come_out, comes_out, finding, load, mine, pack};
use cotterpin_engine::audit::{Audit, MissingCause, NoLeave, Notice, audit};
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::ir::{Named, Rules};
use cotterpin_engine::vocabulary::Verdict::{self, Conceded, Met, NotShown, Unmet};

const PEOPLE: &str = "
[people]
rosa  = { name = \"Rosa Example\", role = \"builder\" }
both  = { name = \"Rosa Example\", role = \"helper\" }
tomas = { name = \"Tomas Sample\", role = \"helper\" }
ines  = { name = \"Ada Example\", role = \"inspector\" }
";

const ROLES: &str = "helper \"A helper\"\nsubjects\n  shed.roof \"Roof\"\n";

fn rules(text: &str) -> Rules {
    load(&[mine(&format!("{ROLES}{text}"))])
}

fn state(rules: &Rules, facts: &str, paths: &[&str], on: &str) -> Audit {
    of_people(PEOPLE, rules, facts, paths, on)
}

fn of_people(people: &str, rules: &Rules, facts: &str, paths: &[&str], on: &str) -> Audit {
    let project = format!("name = \"Shed\"\npacks = [\"./mine\"]\n{people}");
    let read = read_project(rules, &project, &[file("facts.toml", facts)], paths);
    // That two short names are one person is told, and no error.
    assert!(!read.messages.iter().any(Diagnostic::is_error), "{:#?}", read.messages);
    audit(rules, &read.record, &request(on))
}

const OWN: &str = "by visit basis own cite common practice";

fn seen_by(who: &str) -> Verdict {
    let rules = rules(&format!(
        "fact shed.seen_by : optional person ask \"Who?\"
         item shed.door \"Somebody other than the builder has seen it\"
           need shed.seen_by is somebody other than builder {OWN}"
    ));
    let audit = state(&rules, &format!("shed.seen_by = \"{who}\"\n"), &[], "2026-11-25");
    finding(&audit, "mine/shed.door").verdict
}

#[test]
fn a20_a_person_is_known_to_the_project() {
    assert_eq!(seen_by("Tomas Sample"), Met);
    assert_eq!(seen_by("tomas"), Met, "by the short name");
    for nobody in ["me", "a friend", "Sample", "-", "none at all"] {
        assert_eq!(seen_by(nobody), NotShown, "{nobody}");
    }
    assert_eq!(seen_by("none"), NotShown, "known to be nobody");
}

#[test]
fn a20_somebody_other_than_the_builder_is_decided_by_persons() {
    // In whatever role, under whichever of two short names, however typed.
    for builder in ["Rosa Example", "rosa", "both", "ROSA EXAMPLE", "Example, Rosa", "Rоsa Example", "rosa  example"] {
        assert_eq!(seen_by(builder), Unmet, "{builder}");
    }
}

#[test]
fn a20_a_value_that_names_nobody_is_as_if_not_recorded_and_says_why() {
    let rules = rules(&format!(
        "fact shed.seen_by : person ask \"Who?\"
         item shed.door \"Somebody has seen it\" need shed.seen_by is recorded {OWN}"
    ));
    let audit = state(&rules, "shed.seen_by = \"me\"\n", &[], "2026-11-25");
    let door = finding(&audit, "mine/shed.door");
    assert_eq!((door.verdict, &door.missing[0].why), (NotShown, &MissingCause::Nobody("me".to_owned())));
}

#[test]
fn a20_a_file_is_there_and_none_of_the_projects_own_texts() {
    let rules = rules(&format!(
        "fact shed.letter : optional file ask \"Which file?\"
         item shed.door \"There is a letter\" need shed.letter is not none {OWN}"
    ));
    let verdict = |name: &str| {
        let paths = [
            "evidence/letter.pdf",
            "facts.toml",
            "log/2026-11.toml",
            "evidence/letter.pdf.part",
            "evidence/~$letter.docx",
        ];
        let audit = state(&rules, &format!("shed.letter = \"{name}\"\n"), &paths, "2026-11-25");
        finding(&audit, "mine/shed.door").verdict
    };
    assert_eq!(verdict("evidence/letter.pdf"), Met);
    assert_eq!(verdict("./evidence/letter.pdf"), Met);
    assert_eq!(verdict("none"), Unmet);
    for not in
        ["evidence/other.pdf", "facts.toml", "log/2026-11.toml", "evidence/letter.pdf.part", "../letter.pdf", "yes"]
    {
        assert_eq!(verdict(not), NotShown, "{not}");
    }
    assert_eq!(verdict("evidence/~$letter.docx"), NotShown);
}

#[test]
fn a20_what_counts_as_a_document_is_a_list_of_kinds() {
    let rules = rules(&format!(
        "evidence document \"A document\"
         fact shed.width : length ask \"?\"
         item shed.door \"It is shown\" need shed.width >= 2 in show photo or document of shed {OWN}"
    ));
    let litter = [
        "evidence/Thumbs.db",
        "evidence/desktop.ini",
        "evidence/~$report.docx",
        "evidence/a.pdf.crdownload",
        "evidence/a.lnk",
    ];
    let verdict = |paths: &[&str]| {
        let facts = "[shed]\nwidth = \"3 in\"\nevidence = [\"evidence/*\"]\n";
        finding(&state(&rules, facts, paths, "2026-11-25"), "mine/shed.door").verdict
    };
    assert_eq!(verdict(&litter), NotShown);
    assert_eq!(verdict(&[&litter[..], &["evidence/report.docx"]].concat()), Met);
}

#[test]
fn a20_a_builder_does_not_speak_or_sign_as_somebody_else() {
    let rules = rules(&format!(
        "item shed.word \"Somebody else says so\" ask \"Is it?\"
           need confirmed by helper other than builder about everything {OWN}
         item shed.looked \"Somebody else has looked\"
           need inspected shed.roof in role helper other than builder {OWN}"
    ));
    let verdicts = |who: &str| {
        let facts = format!(
            "[[confirmed]]\nitem = \"shed.word\"\nwho = \"{who}\"\nrole = \"helper\"\non = 2026-11-20\n
             [[log]]\non = 2026-11-20\nwhat = \"inspected\"\nsubject = \"shed.roof\"\nwho = \"{who}\"\nrole = \"helper\"\n"
        );
        let audit = state(&rules, &facts, &[], "2026-11-25");
        (finding(&audit, "mine/shed.word").verdict, finding(&audit, "mine/shed.looked").verdict)
    };
    assert_eq!(verdicts("tomas"), (Met, Met));
    assert_eq!(verdicts("both"), (NotShown, NotShown));
}

#[test]
fn a20_in_an_example_everybody_is_known_and_a_role_can_be_given() {
    comes_out(
        "fact shed.seen_by : person ask \"Who?\"",
        "shed.seen_by is somebody other than builder",
        "try \"somebody\" shed.seen_by = \"Tomas Sample\" => met
         try \"the builder\" shed.seen_by = \"Rosa Example\", person \"Rosa Example\" as builder => unmet
         try \"not recorded\" => not-shown",
    );
}

#[test]
fn a21_a_word_is_of_a_day_after_another() {
    let tries = "try \"after\" shed.held = 2026-11-10, confirmed by builder on 2026-11-11 => met
         try \"before\" shed.held = 2026-11-10, confirmed by builder on 2026-11-09 => not-shown
         try \"of the same day\" shed.held = 2026-11-10, confirmed by builder on 2026-11-10 => not-shown
         try \"some day of that month\" shed.held = 2026-11-10, confirmed by builder on 2026-11 => not-shown
         try \"not of that day only\" shed.held = 2026-11, confirmed by builder on 2026-11-30 => not-shown
         try \"a no of before it\" shed.held = 2026-11-10, confirmed not by builder on 2026-11-09 => not-shown
         try \"a no of after it\" shed.held = 2026-11-10, confirmed not by builder on 2026-11-11 => unmet
         try \"not held\" shed.held = none, confirmed by builder on 2026-11-11 => not-shown
         try \"not recorded\" confirmed by builder on 2026-11-11 => not-shown";
    let facts = "fact shed.held : optional date ask \"When?\"";
    let need = "confirmed by builder since shed.held";
    come_out(&[mine(&format!("{facts}\nitem shed.door \"It is so\" ask \"Is it?\" need {need} {OWN}\n{tries}"))]);
}

#[test]
fn a21_an_inspection_is_of_a_day_after_another() {
    let tries = "try \"after\" shed.held = 2026-11-10, inspected shed.roof by anna on 2026-11-11 => met
         try \"before\" shed.held = 2026-11-10, inspected shed.roof by anna on 2026-11-09 => not-shown
         try \"the same day\" shed.held = 2026-11-10, inspected shed.roof by anna on 2026-11-10 => not-shown
         try \"both, the later counts\" shed.held = 2026-11-10,
             inspected shed.roof by anna on 2026-11-09, inspected shed.roof by anna on 2026-11-11 => met";
    let facts = "subjects shed.roof \"Roof\" fact shed.held : date ask \"When?\"";
    comes_out(facts, "inspected shed.roof since shed.held", tries);
    let tries = "try \"one of them before\" shed.held = 2026-11-10,
             inspected shed.roof by anna on 2026-11-09, inspected shed.roof by ben on 2026-11-11 => not-shown
         try \"both after\" shed.held = 2026-11-10,
             inspected shed.roof by anna on 2026-11-12, inspected shed.roof by ben on 2026-11-11 => met";
    comes_out(facts, "inspected shed.roof by 2 people since shed.held", tries);
}

#[test]
fn a21_on_the_same_day_it_is_undecided() {
    comes_out(
        "fact shed.painted : date ask \"When?\" fact shed.built : date ask \"When?\"",
        "shed.painted is after shed.built",
        "try \"after\" shed.painted = 2026-11-11, shed.built = 2026-11-10 => met
         try \"before\" shed.painted = 2026-11-09, shed.built = 2026-11-10 => unmet
         try \"the same day\" shed.painted = 2026-11-10, shed.built = 2026-11-10 => not-shown
         try \"that month\" shed.painted = 2026-11, shed.built = 2026-11-30 => not-shown
         try \"a month after\" shed.painted = 2026-12, shed.built = 2026-11 => met
         try \"not recorded\" shed.painted = 2026-11-11 => not-shown",
    );
}

fn conceded(basis: &str, by: &str, role: &str) -> (Verdict, Vec<NoLeave>) {
    let book = "source book \"A book\" number \"B-1\" edition \"2026\" issuer \"Nobody\" mark read\n";
    let cite = if ["own", "common practice"].contains(&basis) { "common practice" } else { "book, \"1\"" };
    let rules = rules(&format!(
        "{book}fact shed.width : length ask \"?\"
         item shed.door \"t\" need shed.width >= 2 in by visit basis {basis} cite {cite}"
    ));
    let facts = format!(
        "shed.width = \"1 in\"\n[[concession]]\nitem = \"shed.door\"\nreason = \"It is so.\"\ngranted_by = \"{by}\"
         role = \"{role}\"\non = 2026-11-01\nuntil = 2027-01-01\n"
    );
    let audit = state(&rules, &facts, &[], "2026-11-25");
    let why = audit.notices.iter().filter_map(|notice| match notice {
        Notice::Concession(_, why) => Some(why.clone()),
        _ => None,
    });
    (finding(&audit, "mine/shed.door").verdict, why.collect())
}

#[test]
fn a24_roles_say_whether_their_people_may_concede() {
    use cotterpin_engine::vocabulary::Basis;
    assert_eq!(conceded("law", "ines", "inspector"), (Conceded, vec![]));
    assert_eq!(conceded("limitations", "ines", "inspector"), (Conceded, vec![]));
    assert_eq!(conceded("advice", "rosa", "builder"), (Conceded, vec![]));
    assert_eq!(conceded("own", "rosa", "builder"), (Conceded, vec![]));
    // A builder never concedes law, nor the aircraft's limitations.
    assert_eq!(conceded("law", "rosa", "builder"), (Unmet, vec![NoLeave::MayNot(Basis::Law)]));
    assert_eq!(conceded("limitations", "rosa", "builder"), (Unmet, vec![NoLeave::MayNot(Basis::Limitations)]));
    // A role that says nothing may concede nothing.
    assert_eq!(conceded("own", "tomas", "helper"), (Unmet, vec![NoLeave::MayNot(Basis::Own)]));
}

#[test]
fn a24_a_builder_never_concedes_law_in_whatever_role() {
    let rules = rules(
        "source book \"A book\" number \"B-1\" edition \"2026\" issuer \"Nobody\" mark read
         fact shed.width : length ask \"?\"
         item shed.door \"t\" need shed.width >= 2 in by visit basis law cite book, \"1\"",
    );
    let people = "[people]\nrosa = { name = \"Rosa Example\", roles = [\"builder\", \"inspector\"] }\n";
    let project = format!("name = \"Shed\"\npacks = [\"./mine\"]\n{people}");
    let facts = "shed.width = \"1 in\"\n[[concession]]\nitem = \"shed.door\"\nreason = \"It is so.\"\ngranted_by = \"Rosa Example\"
         role = \"inspector\"\non = 2026-11-01\nuntil = 2027-01-01\n";
    let read = read_project(&rules, &project, &[file("facts.toml", facts)], &[]).clean();
    let audit = audit(&rules, &read.record, &request("2026-11-25"));
    assert_eq!(finding(&audit, "mine/shed.door").verdict, Unmet);
    assert!(audit.notices.iter().any(|notice| matches!(notice, Notice::Concession(_, NoLeave::ByBuilder))));
}

#[test]
fn a24_what_counts_is_the_basis_after_amendments() {
    let base = format!("{WORDS}fact shed.width : length ask \"?\" item shed.door \"t\" need shed.width >= 2 in {OWN}");
    let law = "source book \"A book\" number \"B-1\" edition \"2026\" issuer \"Nobody\" mark read
         amend shed.door basis law cite book, \"1\"";
    let rules = load(&[pack("mine", &[], &base), pack("country", &["mine"], law)]);
    let facts =
        "shed.width = \"1 in\"\n[[concession]]\nitem = \"shed.door\"\nreason = \"It is so.\"\ngranted_by = \"rosa\"
         role = \"builder\"\non = 2026-11-01\nuntil = 2027-01-01\n";
    let project =
        "name = \"Shed\"\npacks = [\"./mine\"]\n[people]\nrosa = { name = \"Rosa Example\", role = \"builder\" }\n";
    let read = read_project(&rules, project, &[file("facts.toml", facts)], &[]).clean();
    assert_eq!(finding(&audit(&rules, &read.record, &request("2026-11-25")), "mine/shed.door").verdict, Unmet);
}

/// Of a role kept from builders the builder's word, and a signature, is as if it had not been given.
#[test]
fn a20_a_builder_is_not_heard_in_a_role_of_somebody_else() {
    let roles = "helper \"A helper\" other than builder\n  engineer \"An engineer\"\nsubjects\n  shed.roof \"Roof\"\n";
    let rules = load(&[mine(&format!(
        "{roles}item shed.word \"A helper says so\" ask \"Is it?\" need confirmed by helper about everything {OWN}
         item shed.looked \"A helper has looked\" need inspected shed.roof in role helper {OWN}
         item shed.engineer \"An engineer says so\" ask \"Is it?\" need confirmed by engineer about everything {OWN}"
    ))]);
    let verdicts = |who: &str| {
        let word = |item: &str, role: &str| {
            format!("[[confirmed]]\nitem = \"{item}\"\nwho = \"{who}\"\nrole = \"{role}\"\non = 2026-11-20\n")
        };
        let looked = "[[log]]\non = 2026-11-20\nwhat = \"inspected\"\nsubject = \"shed.roof\"\nrole = \"helper\"\n";
        let words = word("shed.word", "helper") + &word("shed.engineer", "engineer");
        let people = PEOPLE.replace("\"helper\"", "[\"helper\", \"engineer\"]");
        let audit = of_people(&people, &rules, &format!("{words}{looked}who = \"{who}\"\n"), &[], "2026-11-25");
        ["word", "looked", "engineer"].map(|item| finding(&audit, &format!("mine/shed.{item}")).verdict)
    };
    assert_eq!(verdicts("tomas"), [Met, Met, Met]);
    // Who holds the certificate may build as well.
    assert_eq!(verdicts("both"), [NotShown, NotShown, Met]);
}

/// Where nobody is said to build, nobody can be told from a builder; whom the project does not name
/// may be the builder under another spelling.
#[test]
fn a20_who_may_be_the_builder_is_not_heard_as_somebody_else() {
    let roles = "helper \"A helper\" other than builder\n";
    let rules = load(&[mine(&format!(
        "{roles}item shed.word \"A helper says so\" ask \"Is it?\" need confirmed by helper about everything {OWN}
         item shed.other \"Somebody else says so\" ask \"Is it?\" need confirmed by helper other than builder {OWN}"
    ))]);
    let verdicts = |people: &str, who: &str| {
        let word = |item: &str| {
            format!("[[confirmed]]\nitem = \"shed.{item}\"\nwho = \"{who}\"\nrole = \"helper\"\non = 2026-11-20\n")
        };
        let audit = of_people(people, &rules, &(word("word") + &word("other")), &[], "2026-11-25");
        ["word", "other"].map(|item| finding(&audit, &format!("mine/shed.{item}")).verdict)
    };
    let rosa = "[people]\nrosa = { name = \"Rosa Example\", role = \"builder\" }\n";
    for who in [
        "Rosa E",
        "R. Example",
        "Rosa M. Example",
        "RosaExample",
        "rosa_example",
        "Rosa/Example",
        "Ms Rosa Example",
        "Rosa Example and Tomas",
        "ExampleRosa",
        "Example",
        "R. E.",
        "Mrs Example",
        "Rosa Example (me)",
    ] {
        assert_eq!(verdicts(rosa, who), [NotShown, NotShown], "{who}");
    }
    for nobody in ["me", "Myself", "the builder", "owner-builder", "my self", "a helper", "Helper"] {
        let word =
            format!("[[confirmed]]\nitem = \"shed.word\"\nwho = \"{nobody}\"\nrole = \"helper\"\non = 2026-11-20\n");
        let project = format!("name = \"Shed\"\npacks = [\"./mine\"]\n{rosa}");
        let read = read_project(&rules, &project, &[file("facts.toml", &word)], &[]);
        assert!(read.messages.iter().any(|message| message.code == "record::form"), "{nobody}: nobody's name");
    }
    for who in ["Tomas Sample", "Rosa Sample", "Tomas Example", "T. Sample", "Annika Example", "Annarosa Bexample"] {
        assert_eq!(verdicts(rosa, who), [Met, NotShown], "{who}: somebody else, whom the project does not name");
    }
    // `m` and `w` as initials, which look like `rn` and `vv`.
    let maud = "[people]\nm = { name = \"Maud Sample\", role = \"builder\" }\n";
    assert_eq!(verdicts(maud, "M. Sample"), [NotShown, NotShown]);
    assert_eq!(verdicts(maud, "T. Sample"), [Met, NotShown]);
    // Nobody builds, it says: then anybody may.
    let tomas = "[people]\ntomas = { name = \"Tomas Sample\", role = \"helper\" }\n";
    assert_eq!(verdicts(tomas, "tomas"), [NotShown, NotShown]);
    assert_eq!(verdicts("", "Tomas Sample"), [Met, NotShown], "no people are named at all");
    assert_eq!(verdicts(&format!("{rosa}{}", tomas.replace("[people]\n", "")), "tomas"), [Met, Met]);
}

#[test]
fn a20_a_name_is_somebodys_and_short_names_differ_by_more_than_capitals() {
    let rules = rules(&format!("item shed.word \"t\" ask \"?\" need confirmed by builder {OWN}"));
    let read = |people: &str, facts: &str| {
        let project = format!("name = \"Shed\"\npacks = [\"./mine\"]\n{people}");
        let read = read_project(&rules, &project, &[file("facts.toml", facts)], &[]);
        read.messages.iter().map(|message| message.code).collect::<Vec<_>>()
    };
    for nobody in [".", "n/a", "TBD", "to be asked", "nobody", "x", "1", "helper"] {
        let word =
            format!("[[confirmed]]\nitem = \"shed.word\"\nwho = \"{nobody}\"\nrole = \"builder\"\non = 2026-11-20\n");
        assert_eq!(read(PEOPLE, &word), ["project::one-person", "record::form"], "{nobody}");
    }
    for nobody in [".", "n/a", "TBD"] {
        let people = format!("[people]\nt = {{ name = \"{nobody}\", role = \"builder\" }}\n");
        assert_eq!(read(&people, ""), ["project::no-name"], "{nobody}");
    }
    let two = "[people]\nrosa = { name = \"Rosa Example\", role = \"builder\" }\nRosa = { name = \"Tomas Sample\", role = \"helper\" }\n";
    assert_eq!(read(two, ""), ["project::short-name"]);
}

/// A photograph is a picture; a copy of what the project says shows nothing.
#[test]
fn a20_what_is_called_a_photograph_is_a_picture() {
    let rules = rules(&format!(
        "evidence report \"A report\"
         fact shed.width : length ask \"?\"
         item shed.door \"It is shown\" need shed.width >= 2 in show photo or report of shed {OWN}"
    ));
    let verdict = |evidence: &str, path: &str| {
        let facts = format!("[shed]\nwidth = \"3 in\"\nevidence = [{evidence}]\n");
        let project = format!("name = \"Shed\"\npacks = [\"./mine\"]\n{PEOPLE}");
        let read = read_project(&rules, &project, &[file("facts.toml", &facts)], &[path]);
        match read.messages.iter().find(|message| message.is_error()) {
            Some(message) => Err(message.code),
            None => Ok(finding(&audit(&rules, &read.record, &request("2026-11-25")), "mine/shed.door").verdict),
        }
    };
    assert_eq!(verdict("\"evidence/a.jpg\"", "evidence/a.jpg"), Ok(Met));
    assert_eq!(verdict("{ kind = \"report\", file = \"evidence/a.xyz\" }", "evidence/a.xyz"), Ok(Met));
    assert_eq!(verdict("{ kind = \"photo\", file = \"notes.txt\" }", "notes.txt"), Err("evidence::no-document"));
    assert_eq!(verdict("{ kind = \"photo\", file = \"evidence/*\" }", "evidence/a.txt"), Ok(NotShown));
    for text in ["facts.toml.txt", "facts.toml~", "mine/a.checklist.pdf", "facts.toml.bak"] {
        let named = format!("{{ kind = \"report\", file = \"{text}\" }}");
        assert_eq!(verdict(&named, text), Err("evidence::own-text"), "{text}");
    }
    for half in ["a.opdownload", "a.pdf.!ut", "a.docx#"] {
        let named = format!("{{ kind = \"report\", file = \"{half}\" }}");
        assert_eq!(verdict(&named, half), Err("evidence::no-document"), "{half}");
    }
}

/// Parts, zones and instruments are kinds as persons and files are.
#[test]
fn a20_a_part_a_zone_and_an_instrument_are_known_or_show_nothing() {
    let text = "zones\n  roof \"Roof\"\nsubjects\n  shed.roof \"Roof\"\n
        list measuring.equipment ask \"?\" field name : text ask \"?\" named by name
        fact shed.made_of : part ask \"?\"
        fact shed.lies_in : zone ask \"?\"
        fact shed.measured_by : instrument ask \"?\"";
    let item = |name: &str| {
        format!(
            "item shed.{name} \"t\" need shed.{name} is recorded {OWN}\n try \"in an example all is known\" shed.{name} = \"x\" => met\n"
        )
    };
    let rules = load(&[mine(&format!("{text}\n{}{}{}", item("made_of"), item("lies_in"), item("measured_by")))]);
    assert!(cotterpin_engine::lint::run_examples(&rules).iter().all(|result| result.got == result.expected));
    let said = |fact: &str, name: &str| {
        let facts = format!("[[measuring.equipment]]\nname = \"level\"\n[shed]\n{fact} = \"{name}\"\n");
        let project = "name = \"Shed\"\npacks = [\"./mine\"]\n[parts]\n\"shed.own\" = { title = \"Own\" }\n";
        let read = read_project(&rules, project, &[file("facts.toml", &facts)], &[]);
        assert!(!read.messages.iter().any(Diagnostic::is_error), "{:#?}", read.messages);
        let told = read.messages.iter().filter(|message| message.code == "value::not-known").count();
        let audit = audit(&rules, &read.record, &request("2026-11-25"));
        let found = finding(&audit, &format!("mine/shed.{fact}"));
        (found.verdict, told, found.missing.first().map(|missing| missing.why.clone()))
    };
    for (fact, known) in
        [("made_of", "shed.roof"), ("made_of", "shed.own"), ("lies_in", "roof"), ("measured_by", "level")]
    {
        assert_eq!(said(fact, known), (Met, 0, None), "{fact}");
    }
    for (fact, unknown, named) in [
        ("made_of", "shed.floor", Named::Part),
        ("made_of", "roof", Named::Part),
        ("lies_in", "shed.roof", Named::Zone),
        ("measured_by", "Level", Named::Instrument),
    ] {
        let why = MissingCause::NotKnown(named, unknown.to_owned());
        assert_eq!(said(fact, unknown), (NotShown, 1, Some(why)), "{fact}");
    }
}

/// On one day times say which came first, of a word and the work as of two words.
#[test]
fn a21_on_the_same_day_times_decide() {
    let rules = rules(&format!(
        "item shed.word \"t\" ask \"?\" need confirmed by builder about shed.roof {OWN}
         item shed.last \"t\" ask \"?\" need confirmed by builder {OWN}"
    ));
    let word = |item: &str, on: &str, holds: bool| {
        format!(
            "[[confirmed]]\nitem = \"shed.{item}\"\nwho = \"rosa\"\nrole = \"builder\"\non = {on}\nholds = {holds}\n"
        )
    };
    let work = |on: &str| {
        format!(
            "[[log]]\non = {on}\nwhat = \"adjusted\"\nsubject = \"shed.roof\"\nwho = \"rosa\"\nrole = \"builder\"\n"
        )
    };
    let verdict = |item: &str, facts: &str| {
        let audit = state(&rules, facts, &[], "2026-11-25");
        finding(&audit, &format!("mine/shed.{item}")).verdict
    };
    let (early, late, day) = ("2026-11-20T09:00:00", "2026-11-20T17:30:00", "2026-11-20");
    for (said, worked, expected) in [
        (late, &[early][..], Met),
        (early, &[late], NotShown),
        (late, &[late], NotShown),
        (day, &[early], NotShown),
        (late, &[day], NotShown),
        (late, &[early, day], NotShown),
        (late, &[day, early], NotShown),
        (late, &[early, "\"2026-11\""], NotShown),
        (late, &["2026-11-19", early], Met),
    ] {
        let log: String = worked.iter().map(|on| work(on)).collect();
        assert_eq!(verdict("word", &format!("{}{log}", word("word", said, true))), expected, "{said} {worked:?}");
    }
    for (yes, no, expected) in
        [(late, early, Met), (early, late, Unmet), (day, late, NotShown), (late, late, NotShown), (late, day, NotShown)]
    {
        let words = word("last", yes, true) + &word("last", no, false);
        assert_eq!(verdict("last", &words), expected, "{yes} {no}");
    }
}

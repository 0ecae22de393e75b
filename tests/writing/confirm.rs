//! `cotterpin confirm`: a person's word in one command.

use super::Shed;

const WORDS: &str = "item spar.smooth\n  \"The spar is smooth\"\n  ask \"Is the spar smooth?\"\n  \
                     need confirmed by builder\n  by visit basis common practice cite common practice\n\
                     item spar.seen\n  \"Somebody else has seen the spar\"\n  ask \"Have you seen the spar?\"\n  \
                     need confirmed by helper\n  by visit basis common practice cite common practice\n\
                     item spar.rib-seen for each rib in spar.ribs\n  \"Each rib was looked at\"\n  \
                     ask \"Did you look at the rib?\"\n  need confirmed by builder\n  \
                     by visit basis common practice cite common practice\n";

fn shed(name: &str) -> Shed {
    let rules = format!("{}{WORDS}", super::PACK);
    Shed::new(name).file("shed/r.checklist", rules)
}

fn words(shed: &Shed, file: &str) -> Vec<toml::Table> {
    let table: toml::Table = shed.text(file).parse().expect("TOML");
    table["confirmed"].as_array().expect("words").iter().map(|word| word.as_table().expect("a table").clone()).collect()
}

#[test]
fn a_word_is_written_and_what_it_changed_is_told() {
    let shed = shed("confirm");
    shed.step(&["confirm", "spar.smooth", "by", "hand"]).fine(&[
        "Written to confirmed.toml, line 1: Is the spar smooth? Yes.",
        "Said by rosa (Rosa Example), builder, because --who was not given. Note: by hand",
        "met The spar is smooth (shed/spar.smooth, was not shown)",
    ]);
    shed.step(&["confirm", "shed/spar.smooth", "--not", "--on", "2026-10-04"]).fine(&["Is the spar smooth? No."]);
    // A no is never a yes with a note.
    for no in [&["no"][..], &["not"], &["No, it rubs"], &["doesn't", "reach"], &["false"]] {
        shed.refuses(&[&["confirm", "spar.smooth"], no].concat(), &["is it not so?", "--not"]);
    }
    shed.refuses(&["confirm", "spar.smooth", "--not", "yes"], &["cannot both be meant"]);
    for ahead in ["2199-12-05", "2199-12-05T10:00"] {
        shed.refuses(&["confirm", "spar.smooth", "--on", ahead], &["lies ahead"]);
    }
    let words = words(&shed, "confirmed.toml");
    assert_eq!(words.len(), 2);
    assert_eq!((words[0]["who"].as_str(), words[0]["role"].as_str()), (Some("rosa"), Some("builder")));
    assert_eq!((words[0]["note"].as_str(), words[0].get("holds")), (Some("by hand"), None));
    assert_eq!(
        (words[1]["holds"].as_bool(), words[1]["on"].as_datetime().map(ToString::to_string).as_deref()),
        (Some(false), Some("2026-10-04"))
    );
}

#[test]
fn the_same_file_takes_the_next_word() {
    let shed = shed("confirm-file").file(
        "said.toml",
        "# words\n[[confirmed]]\nitem = \"spar.smooth\"\nwho = \"rosa\"\nrole = \"builder\"\non = 2026-10-01\n",
    );
    shed.step(&["confirm", "spar.seen", "--who", "tomas"]).fine(&["Written to said.toml, line 8:"]);
    assert_eq!(words(&shed, "said.toml").len(), 2);
    assert!(!shed.has("confirmed.toml"));
}

#[test]
pub(super) fn a_word_is_that_of_whom_it_is_asked_of() {
    let shed = shed("confirm-who");
    shed.refuses(
        &["confirm", "spar.seen"],
        &["`spar.seen` is for helper to say, and rosa is builder", "--who tomas (helper)"],
    );
    shed.refuses(
        &["confirm", "spar.smooth", "--who", "tomas"],
        &["is for builder to say", "ask whoever it is for: rosa (builder)"],
    );
    shed.refuses(&["confirm", "spar.smooth", "--who", "rsoa"], &["there is no person `rsoa`", "did you mean `rosa`?"]);
    shed.step(&["confirm", "spar.seen", "--who", "tomas"]).fine(&["Said by tomas (Tomas Sample), helper."]);
    // A doubt is anybody's to raise.
    shed.step(&["confirm", "spar.smooth", "--not", "--who", "tomas", "--role", "adviser"]).fine(&["No."]);
}

#[test]
pub(super) fn what_nobody_is_asked_about_is_refused() {
    let shed = shed("confirm-unasked");
    shed.refuses(&["confirm", "spar.long"], &["does not rest on anybody's word", "cotterpin why shed/spar.long"]);
    shed.refuses(&["confirm", "spar.span"], &["is a fact", "cotterpin record spar.span VALUE"]);
    shed.refuses(&["confirm", "spar.smoth"], &["did you mean `spar.smooth`?"]);
    shed.refuses(&["confirm", "smooth"], &["did you mean spar.smooth?"]);
    shed.refuses(&["confirm", "spar.smooth", "--of", "r1"], &["is not about one `r1`"]);
    shed.refuses(&["confirm", "spar.rib-seen"], &["asked of each record of `spar.ribs`, and there is none"]);
}

#[test]
fn a_word_about_each_record_names_it() {
    let shed = shed("confirm-of").file("spar.toml", "[[spar.ribs]]\nname = \"r1\"\n[[spar.ribs]]\nname = \"r2\"\n");
    shed.refuses(&["confirm", "spar.rib-seen"], &["of which one?", "add --of with one of r1; r2"]);
    shed.refuses(&["confirm", "spar.rib-seen", "--of", "r3"], &["has no record `r3`", "did you mean `r1`?"]);
    shed.step(&["confirm", "spar.rib-seen", "--of", "r2"])
        .fine(&["r2: Did you look at the rib? Yes.", "met Each rib was looked at (shed/spar.rib-seen of r2"]);
    assert_eq!(words(&shed, "confirmed.toml")[0]["of"].as_str(), Some("r2"));
}

#[test]
pub(super) fn a_list_is_called_whole_plainly() {
    let shed = shed("confirm-list");
    shed.refuses(&["confirm", "spar.ribs"], &["has no records", "cotterpin record spar.ribs none"]);
    let shed = shed.clone();
    let shed = shed.file("spar.toml", "[[spar.ribs]]\nname = \"r1\"\n[[spar.ribs]]\nname = \"r2\"\n");
    shed.refuses(&["confirm", "spar.ribs", "--not"], &["is not whole as long as nobody says so"]);
    shed.refuses(&["confirm", "spar.ribs", "--on", "2026-01-01"], &["is said of today"]);
    shed.step(&["confirm", "spar.ribs"]).fine(&["says that these are all: r1; r2"]);
    let table: toml::Table = shed.text("whole.toml").parse().expect("TOML");
    assert_eq!(table["whole"]["spar.ribs"]["records"].as_array().map(Vec::len), Some(2));
    let told = ["`spar.ribs` is called whole at whole.toml:", "or take the line out"];
    shed.refuses(&["confirm", "spar.ribs", "--not"], &told);
}

#[test]
fn nothing_is_called_whole_that_cannot_be_read() {
    let shed = shed("confirm-whole").file("spar.toml", "[[spar.ribs]]\nname = \"r1\"\n");
    shed.step(&["log", "work done", "spar.main"]).fine(&["Written to"]);
    let broken = shed.clone().file("more.toml", "no [ TOML");
    broken.refuses(&["confirm", "log"], &["nobody can say that this is all"]);
    broken.refuses(&["confirm", "spar.ribs"], &["nobody can say that this is all"]);
    std::fs::remove_file(broken.folder().join("more.toml")).expect("it goes");
    shed.step(&["confirm", "log"]).fine(&["says that 1 entry tells all work that was done up to"]);
}

/// Words are asked for too, of the one who answers.
#[test]
fn ask_takes_words_of_the_one_who_answers() {
    let facts =
        "[spar]\nspan = \"96 in\"\nkind = \"wood\"\nstraight = true\nbolts = 8\ntested = \"none\"\nmaker = \"me\"\n";
    let shed = shed("ask-words")
        .file("spar.toml", facts)
        .file("whole.toml", "[whole]\n\"spar.ribs\" = { records = [], who = \"rosa\", on = 2026-11-20 }\n");
    shed.answer(&["ask"], "perhaps\nyes\n").fine(&[
        "1. Is the spar smooth?",
        "shed/spar.smooth: the word of Rosa Example, yes or no",
        "Expected yes or no; ? if you do not know, or not yet.",
        "rosa says that it is so.",
        "1 word is somebody else's to say.",
        "Answered: 1. Left open: 0.",
    ]);
    shed.answer(&["ask", "--who", "tomas"], "no\n").fine(&["Have you seen the spar?", "tomas says that it is not so."]);
    let words = words(&shed, "confirmed.toml");
    assert_eq!((words[1]["who"].as_str(), words[1]["role"].as_str()), (Some("tomas"), Some("helper")));
    shed.answer(&["ask"], "").fine(&["There is no question"]);
    shed.refuses(&["ask", "--who", "rsoa"], &["there is no person `rsoa`"]);
}

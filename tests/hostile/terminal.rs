//! Nothing that a project, a pack, a file's name or an argument says reaches a terminal as a command, turns its text
//! round or hides in it.

use crate::cli::{ITEM, MANIFEST, Ran, Run, WORDS};
use crate::fixtures::dice::Dice;
use crate::fixtures::seed::with_dice;
use cotterpin::command::run_with;

/// First and last of what must never be written as it is: control characters (ECMA-48), `Bidi_Control` and
/// `Default_Ignorable_Code_Point` of Unicode 17 but for the selectors of how a letter looks, separators of lines,
/// marks of annotations, and letters that are drawn as a blank.
const NEVER: [(u32, u32); 26] = [
    (0, 0x1f),
    (0x7f, 0x9f),
    (0xad, 0xad),
    (0x34f, 0x34f),
    (0x61c, 0x61c),
    (0x115f, 0x1160),
    (0x17b4, 0x17b5),
    (0x180b, 0x180f),
    (0x200b, 0x200f),
    (0x2028, 0x202e),
    (0x2060, 0x206f),
    (0x2800, 0x2800),
    (0x3164, 0x3164),
    (0xfeff, 0xfeff),
    (0xffa0, 0xffa0),
    (0xfff0, 0xfff8),
    (0xfff9, 0xfffb),
    (0x16fe4, 0x16fe4),
    (0x1bca0, 0x1bca3),
    (0x1d159, 0x1d159),
    (0x1d173, 0x1d17a),
    (0xe0000, 0xe0000),
    (0xe0001, 0xe0001),
    (0xe0020, 0xe007f),
    (0xe0100, 0xe01ef),
    (0xe01f0, 0xe0fff),
];

/// What terminals are commanded with.
const COMMANDS: [&str; 5] =
    ["\u{1b}[2J", "\u{1b}]52;c;cm0gLXJm\u{7}", "\u{1b}]8;;http://x\u{1b}\\", "\u{9b}31m", "\u{1b}[1m"];

/// What a pack refuses as it is, because some editors end a line there.
const ENDS_A_LINE: [char; 5] = ['\u{b}', '\u{c}', '\u{85}', '\u{2028}', '\u{2029}'];

fn is_never(letter: char) -> bool {
    NEVER.iter().any(|(first, last)| (*first..=*last).contains(&u32::from(letter)))
}

/// All of them but the end of a text, of the longest ranges a few.
fn all() -> Vec<char> {
    let some = |(first, last): &(u32, u32)| (*first..=*last).step_by(if last - first > 40 { 67 } else { 1 });
    NEVER.iter().flat_map(some).filter(|code| *code != 0).filter_map(char::from_u32).collect()
}

fn is_clean(what: &str, text: &str) {
    let lines = text.replace("\r\n", "\n");
    if let Some((at, letter)) =
        lines.char_indices().find(|(_, letter)| is_never(*letter) && !matches!(letter, '\n' | '\t'))
    {
        let before: String = lines[..at].chars().rev().take(60).collect::<Vec<_>>().into_iter().rev().collect();
        panic!("{what} writes {letter:?} after {before:?}");
    }
}

fn ran_clean(args: &[&str], ran: &Ran) {
    is_clean(&format!("{args:?} to standard output"), &ran.out);
    is_clean(&format!("{args:?} to standard error"), &ran.err);
    assert!(!ran.err.contains("panicked"), "{}", ran.err);
}

/// A text of TOML in quotes, every character by its number.
fn by_number(text: &str) -> String {
    let escaped = |letter: char| format!("\\U{:08X}", u32::from(letter));
    text.chars().map(escaped).collect()
}

/// A pack and a project that say the text in every place that takes one; `raw` where TOML takes no control character.
fn said_everywhere(name: &str, bad: &str) -> Run {
    let number = by_number(bad);
    let raw: String = bad.chars().filter(|letter| !letter.is_control() && !r#""\"#.contains(*letter)).collect();
    let quiet = by_number(&raw);
    let line: String =
        bad.chars().filter(|letter| !r#""\"#.contains(*letter) && !ENDS_A_LINE.contains(letter)).collect();
    let text = |before: &str| format!("\"{before}{line}\"");
    let pack = format!(
        "{WORDS}{ITEM}subjects\n  spar.main {}\nzones\n  tail {}\nroles\n  builder {}\nfact spar.maker : text\n  ask {}\nitem spar.made\n  {}\n  \
         need spar.maker is recorded\n  remedy {}\n  caution {}\n  by visit\n  basis common practice\n  cite common practice\nlist spar.ribs\n  ask \
         {}\n  field name : text\n    ask \"Name?\"\n  field chord : length\n    ask {}\n  named by name\nitem spar.rib for each rib in spar.ribs\n  {}\n  \
         need rib.chord >= 2 in\n  by visit\n  basis common practice\n  cite common practice\n",
        text("Main"),
        text("Tail"),
        text("Builder"),
        text("Who"),
        text("Made"),
        text("Do"),
        text("Mind"),
        text("Ribs"),
        text("Chord"),
        text("Rib"),
    );
    Run::new(name)
        .file(
            "project.toml",
            format!(
                "name = \"Test bench {quiet}{raw}\"\npacks = [\"./shed\"]\n[people]\nrosa = {{ name = \"Rosa Example {quiet}\", role = \
                 \"builder\" }}\n[parts]\n\"spar.x{raw}\" = \"Own {quiet}\"\n"
            ),
        )
        .file("shed/pack.toml", MANIFEST.replace("A pack for tests", &format!("A pack {number}")))
        .file("shed/rules.checklist", pack)
        .file(
            "facts.toml",
            format!(
                "[spar]\nspan = \"80 in\"\nmaker = \"me {number}{raw}\"\n[[spar.ribs]]\nname = \"r{number}\"\nchord = \"1 in\"\n\
                 [[log]]\non = 2026-01-01\nwhat = \"snag found\"\nsubject = \"spar.main\"\nwho = \"rosa\"\nsnag = 1\n\
                 takes = \"5 min\"\nnote = \"note {number}{raw}\"\n"
            ),
        )
}

const READING: [&[&str]; 19] = [
    &["audit", "--on", "2026-11-25"],
    &["audit", "--on", "2026-11-25", "--full"],
    &["audit", "--on", "2026-11-25", "--format", "json"],
    &["audit", "--on", "2026-11-25", "--format", "sarif"],
    &["audit", "--on", "2026-11-25", "--format", "junit"],
    &["audit", "--on", "2026-11-25", "--format", "csv"],
    &["next", "--on", "2026-11-25"],
    &["next", "--on", "2026-11-25", "--format", "json"],
    &["why", "spar.made", "--on", "2026-11-25"],
    &["why", "spar.rib", "--on", "2026-11-25"],
    &["questions"],
    &["questions", "--format", "json"],
    &["packs", "show", "./shed"],
    &["packs", "show", "./shed", "--format", "html"],
    &["packs", "show", "./shed", "--format", "json"],
    &["try", "./shed"],
    &["try", "./shed", "--format", "json"],
    &["log", "--subjects"],
    &["ask"],
];

/// Every such character in every place of a project that can be read.
#[test]
fn what_a_project_and_a_pack_say_commands_no_terminal() {
    let bad = format!(
        "{}{}",
        COMMANDS.concat(),
        all().into_iter().filter(|letter| !matches!(letter, '\n' | '\r')).collect::<String>()
    );
    let run = said_everywhere("hostile-said", &bad);
    for args in READING {
        let ran = run.step(args);
        ran_clean(args, &ran);
        let text = format!("{}{}", ran.out, ran.err);
        assert!(
            text.contains("202e") || ["questions", "try"].contains(&args[0]),
            "{args:?} says nothing of it:\n{text}"
        );
    }
}

/// A file whose keys, values, name and lines are wrong in every way there is, with each such text.
fn wrong(name: &str, bad: &str) -> Run {
    let (number, raw) = (by_number(bad), bad.replace(['"', '\\', '\n', '\r'], ""));
    let quiet: String = raw.chars().filter(|letter| !letter.is_control()).collect();
    let file = bad.replace(['/', '\0', '\\', '\n', '\r'], "");
    Run::new(name)
        .file(
            "project.toml",
            format!(
                "name = \"Test bench\"\npacks = [\"./shed\"]\n\"k{number}\" = 1\n[people]\n\"p{quiet}\" = {{ name = \"Rosa Example\", role = \
                 \"b{number}\" }}\n[parts]\n\"o{number}\" = \"\"\n"
            ),
        )
        .file("shed/pack.toml", MANIFEST)
        .file("shed/rules.checklist", format!("{WORDS}{ITEM}"))
        .file(
            &format!("f{file}.toml"),
            format!(
                "\"sp{number}\" = 1\n\"sp{quiet}\" = 1\n[spar]\n\"span{number}\" = 2\nspan = \"80 {number}\"\nstrain = \"{quiet} V\" # {quiet}\n\
                 tested = \"2026{number}\"\n[[log]]\non = \"{quiet}\"\nwhat = \"{number}\"\nsubject = \"{quiet}\"\nwho = \"{number}\"\n\
                 [[confirmed]]\nitem = \"i{number}\"\nwho = \"{quiet}\"\non = 2026-01-01\n"
            ),
        )
        .file("raw.toml", format!("[spar]\nratio = 2 {raw} # {raw}\n"))
        .file(&format!("t{file}.TOML"), "[spar]\nratio = 2\n")
}

#[test]
fn what_is_wrong_is_told_without_commanding_the_terminal() {
    let bad = format!(
        "{}{}",
        COMMANDS.concat(),
        all().into_iter().filter(|letter| u32::from(*letter) < 0xe0000).collect::<String>()
    );
    // A file's name has 255 bytes.
    let mut short: Vec<String> = bad.chars().collect::<Vec<_>>().chunks(30).map(|some| some.iter().collect()).collect();
    short.extend(COMMANDS.map(str::to_owned));
    for (at, bad) in short.iter().enumerate() {
        let run = wrong(&format!("hostile-wrong-{at}"), bad);
        for args in [
            &["audit", "--on", "2026-11-25"][..],
            &["audit", "--on", "2026-11-25", "--format", "json"],
            &["log", "--subjects"],
        ] {
            ran_clean(args, &run.step(args));
        }
        let run = run.file("shed/more.checklist", format!("item a.b {bad}\n  need \"{bad}\n"));
        ran_clean(&["try"], &run.step(&["try", "./shed"]));
        let run = run.file("shed/more.checklist", format!("fact a.{bad} : x{bad}\n"));
        ran_clean(&["try"], &run.step(&["try", "./shed"]));
        let run = run.file("shed/pack.toml", format!("name = \"{}\"\n{bad} = 1\n", by_number(bad)));
        ran_clean(&["try"], &run.step(&["try", "./shed"]));
    }
}

/// Arguments, one such character or command after another in each place, in colour and without.
#[test]
fn what_is_typed_is_answered_without_commanding_the_terminal() {
    let run = said_everywhere("hostile-typed", "x");
    let place = run.folder().to_str().expect("UTF-8").to_owned();
    with_dice(&[], |dice: &mut Dice| {
        let mut texts: Vec<String> = all().iter().map(|letter| format!("a{letter}b")).collect();
        texts.extend(COMMANDS.map(|command| format!("a{command}b")));
        dice.shuffle(&mut texts);
        for bad in texts {
            let bad = bad.as_str();
            let calls: [&[&str]; 22] = [
                &[bad],
                &["audit", bad],
                &["audit", &place, "--by", bad],
                &["audit", &place, "--on", bad],
                &["audit", &place, "--format", bad],
                &["next", &place, "--time", bad],
                &["why", bad, &place],
                &["packs", bad],
                &["questions", &place, bad],
                &["since", bad, &place],
                &["schema", bad],
                &["manual", bad],
                &["try", bad],
                &["log", bad, "spar.main", "--project", &place],
                &["log", "tested", bad, "--project", &place],
                &["log", "tested", "spar.main", "--project", &place, "--who", bad],
                &["log", "tested", "spar.main", "--project", &place, "--on", bad],
                &["log", "--project", &place, "--subjects", bad],
                &["record", bad, "1", "--project", &place],
                &["record", "spar.span", bad, "--project", &place],
                &["confirm", bad, "--project", &place],
                &["begin", &place, "--country", bad],
            ];
            let args = *dice.pick(&calls);
            for colour in [false, true] {
                let (mut out, mut err) = (Vec::new(), Vec::new());
                let _status = run_with([&["cotterpin"], args].concat(), &mut out, &mut err, colour);
                let (out, mut err) = (String::from_utf8(out).expect("UTF-8"), String::from_utf8(err).expect("UTF-8"));
                if colour {
                    // The colours of the command's own; those of `COMMANDS` are left out here.
                    let own = regex_lite::Regex::new("\u{1b}\\[[0-9;]*m").expect("a pattern");
                    err =
                        if bad.contains("\u{1b}[1m") { String::new() } else { own.replace_all(&err, "").into_owned() };
                    assert!(!out.contains('\u{1b}'));
                }
                is_clean(&format!("{args:?}"), &format!("{out}{err}"));
            }
        }
    });
}

/// A colour that a value asks for is no colour of the command's: it is written out as any other command.
#[test]
fn no_colour_comes_from_a_value() {
    let run = wrong("hostile-colour", "\u{1b}[1;35m");
    let place = run.folder().to_str().expect("UTF-8");
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let _status = run_with(["cotterpin", "audit", place, "--on", "2026-11-25"], &mut out, &mut err, true);
    let said = String::from_utf8(err).expect("UTF-8");
    assert!(said.contains("\u{1b}[") && said.contains("\\u{1b}[1;35m"), "{said}");
    assert!(!said.contains("\u{1b}[1;35m"), "{said}");
}

/// What is for programs is read back as it was.
#[test]
fn json_is_escaped_and_the_same() {
    let run = said_everywhere("hostile-json", "\u{9b}\u{202e}\u{e0041}");
    let ran = run.step(&["audit", "--on", "2026-11-25", "--format", "json"]);
    assert!(ran.out.contains("\\u009b\\u202e\\udb40\\udc41"), "{}", ran.out);
    let read: serde_json::Value = serde_json::from_str(&ran.out).expect("JSON");
    assert!(read.to_string().contains('\u{202e}') && read.to_string().contains('\u{e0041}'));
}

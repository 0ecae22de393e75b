//! Audits with awkward texts wherever somebody can write one.

use super::made;
use crate::fixtures::dice::Dice;
use cotterpin_engine::audit::{
    Audit, Conceded, EntryRef, Finding, Held, ItemRef, Lapse, LineKind, LogLine, Missing, MissingCause, MissingKind,
    NoLeave, Note, Notice, Remark, SetAside,
};
use cotterpin_engine::ir::Pack;
use cotterpin_engine::source::Place;
use cotterpin_engine::vocabulary::Verdict;

/// What formats of text trip over.
const PIECES: [&str; 56] = [
    "\"",
    "'",
    "''",
    "\n",
    "\r\n",
    "\r",
    "\t",
    " ",
    "  ",
    "\u{0}",
    "\u{1b}[2K",
    "\u{7}",
    "\u{7f}",
    "\u{85}",
    "\u{a0}",
    "\u{2028}",
    "\u{200b}",
    "\u{202e}",
    "\u{feff}",
    "\u{fffe}",
    "\u{ffff}",
    "\u{1fffe}",
    "]]>",
    "<![CDATA[",
    "<!--",
    "</testcase>",
    "&amp;",
    "&",
    "<",
    ">",
    "{0}",
    "{",
    "}}",
    "[here](1)",
    "](",
    ",",
    ";",
    "=1+1",
    "=",
    "+",
    "-",
    "@",
    "＝",
    "é",
    "e\u{301}",
    "漢字",
    "\u{1f6e9}",
    "%41",
    "#",
    "?",
    ":",
    "/",
    "\\",
    "\\u{1b}",
    "rib",
    "0107",
];

const VERDICTS: [Verdict; 6] =
    [Verdict::Met, Verdict::Unmet, Verdict::NotShown, Verdict::NotApplicable, Verdict::Conceded, Verdict::SetAside];

/// A text of up to six pieces.
pub(super) fn text(dice: &mut Dice) -> String {
    (0..dice.below(7)).map(|_| *dice.pick(&PIECES)).collect()
}

fn place(dice: &mut Dice) -> Place {
    let number = |dice: &mut Dice| u32::try_from(dice.below(40)).unwrap();
    let (line, column) = (number(dice), number(dice));
    let end = |dice: &mut Dice, begin: u32| if dice.once_in(2) { begin + number(dice) } else { 0 };
    Place { file: text(dice), line, column, end_line: end(dice, line), end_column: end(dice, column + 1) }
}

/// An audit of up to twelve findings, no two of one name.
pub(super) fn audit(dice: &mut Dice) -> Audit {
    let findings: Vec<Finding> = (0..dice.below(13)).map(|at| finding(dice, at)).collect();
    Audit {
        project: text(dice),
        packs: vec![Pack { title: text(dice).into(), edition: text(dice).into(), ..made::audit().packs[0].clone() }],
        summary: made::summary(&findings),
        findings,
        notices: (0..dice.below(4)).map(|_| notice(dice)).collect(),
        ..made::audit()
    }
}

fn notice(dice: &mut Dice) -> Notice {
    match dice.below(3) {
        0 => Notice::FileNotRead(text(dice)),
        1 => Notice::EvidenceNotThere(text(dice), text(dice)),
        _ => Notice::Concession(ItemRef { item: text(dice), subject: Some(text(dice)) }, NoLeave::Forbidden),
    }
}

fn finding(dice: &mut Dice, at: usize) -> Finding {
    let verdict = *dice.pick(&VERDICTS);
    let instead_of = *dice.pick(&VERDICTS[..3]);
    let values = (0..dice.below(4))
        .map(|_| {
            let place = (!dice.once_in(3)).then(|| place(dice));
            let mut seen = made::seen(&text(dice), &format!("{:?}", text(dice)), None);
            seen.place = place;
            seen
        })
        .collect();
    let mut reason = made::reason(&text(dice), Held::Undecided, values);
    if dice.once_in(2) {
        reason.notes.push(Note::Pattern(text(dice)));
        reason.lapses.push(Lapse { shown: line(dice), undone_by: line(dice), through: Vec::new() });
    }
    let conceded = Conceded {
        reason: text(dice),
        granted_by: text(dice),
        role: text(dice),
        on: "2026-11-01".into(),
        until: "2027-11-01".into(),
        instead_of,
    };
    let aside = SetAside {
        pack: "kit".into(),
        because: text(dice).into(),
        basis: None,
        sources: Vec::new(),
        instead_of,
        silenced: Vec::new(),
    };
    Finding {
        // Records of one item, and items without one.
        subject: (!dice.once_in(3)).then(|| format!("{}{at}", text(dice))),
        because: vec![reason],
        missing: (0..dice.below(3)).map(|_| missing(dice)).collect(),
        check: dice.once_in(2).then(|| text(dice).into()),
        remedy: dice.once_in(2).then(|| text(dice).into()),
        caution: dice.once_in(3).then(|| text(dice).into()),
        stops_the_visit: dice.once_in(2),
        system: (*dice.pick(&["fuel", "identity", "text"])).to_owned(),
        notes: if dice.once_in(2) { vec![Remark::UnmetIfWhole(text(dice))] } else { Vec::new() },
        concession: (verdict == Verdict::Conceded).then_some(conceded),
        set_aside: if verdict == Verdict::SetAside { vec![aside] } else { Vec::new() },
        title: text(dice).into(),
        ..made::plain(&format!("us/fuel.item-{at}"), "", verdict)
    }
}

fn line(dice: &mut Dice) -> LogLine {
    LogLine {
        kind: *dice.pick(&[LineKind::Entry, LineKind::Value]),
        on: "2026-11-01".into(),
        event: "adjusted".into(),
        subject: text(dice),
        who: text(dice),
        role: "builder".into(),
        note: dice.once_in(2).then(|| text(dice)),
        place: place(dice),
        evidence: if dice.once_in(2) { vec![text(dice)] } else { Vec::new() },
    }
}

fn missing(dice: &mut Dice) -> Missing {
    let entry = EntryRef { event: "removed".into(), subject: text(dice), on: "2026-11-01".into(), place: place(dice) };
    Missing {
        kind: MissingKind::Fact,
        fact: text(dice),
        ask: text(dice).into(),
        example: Some(text(dice).into()),
        why: if dice.once_in(2) { MissingCause::Off(entry) } else { MissingCause::NotRecorded },
    }
}

/// The text with every character written out that a format cannot hold, as the formats say that they do.
pub(super) fn written_out(text: &str, cannot: impl Fn(char) -> bool) -> String {
    let one =
        |letter: char| if cannot(letter) { format!("\\u{{{:x}}}", u32::from(letter)) } else { letter.to_string() };
    text.chars().map(one).collect()
}

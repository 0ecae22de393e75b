//! Whole reports, in text and where there is one as data or as a page.

use super::{ON, Texts, said};
use crate::cli::many::club;
use crate::cli::{ITEM, Run, WORDS, project, with_pack};

/// The pack that stands in for a kit's.
const KIT: &str = "kit-nosuch-2";

/// The demo's own pack, in a folder.
const OWN: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/src/command/demo/packs/nosuch");

/// An earlier day of the demo, for what changed since.
const EARLIER: &str = "2026-10-31";

/// The file of a report, and what is asked of the command.
const REPORTS: [(&str, &[&str]); 20] = [
    ("audit.txt", &["audit", "--demo", "--on", ON]),
    ("audit-full.txt", &["audit", "--demo", "--on", ON, "--by", "continuing", "--full"]),
    ("audit-by-hold-point.txt", &["audit", "--demo", "--on", ON, "--by", "weighing", "--full"]),
    ("audit-by-closing.txt", &["audit", "--demo", "--on", ON, "--by", "close:tail"]),
    ("next.txt", &["next", "--demo", "--on", ON]),
    ("next.json", &["next", "--demo", "--on", ON, "--format", "json"]),
    ("next-3h.txt", &["next", "--demo", "--on", ON, "--time", "3h", "--a-day", "2h"]),
    ("next-3h.json", &["next", "--demo", "--on", ON, "--time", "3h", "--a-day", "2h", "--format", "json"]),
    ("close-up.txt", &["next", "--demo", "--on", ON, "--close-up"]),
    ("close-up.json", &["next", "--demo", "--on", ON, "--close-up", "--format", "json"]),
    ("questions.txt", &["questions", "--demo"]),
    ("questions-of-fuel.txt", &["questions", "--demo", "--system", "fuel"]),
    ("packs.txt", &["packs"]),
    ("packs.json", &["packs", "--format", "json"]),
    ("pack-own.txt", &["packs", "show", OWN]),
    ("pack-own.html", &["packs", "show", OWN, "--format", "html"]),
    ("pack-kit.txt", &["packs", "show", KIT]),
    ("pack-kit.html", &["packs", "show", KIT, "--format", "html"]),
    ("pack-controls.txt", &["packs", "show", "controls"]),
    ("pack-controls.html", &["packs", "show", "controls", "--format", "html"]),
];

/// Items of the demo whose whole reasoning is kept: of each verdict, plain ones and ones with records,
/// numbers worked out, something lapsed, a deferral, a concession, a limit set aside, notes.
const WHY: [&str; 21] = [
    // A fact, and a part of the builder's own.
    "wb.weighing.day",
    "controls.rudder.stop",
    // Met.
    "propeller.bolts",
    "controls.second-look.ailerons",
    "marks.stroke.thickness",
    "papers.precover",
    "identity.builder",
    // Unmet.
    "fittings.closed-over",
    "weight.scales",
    "transponder.test",
    "electrical.drop.continuous",
    "identity.serial",
    // Not shown.
    "controls.sense.elevator",
    "fasteners.torque",
    "air-data.leak",
    "weight.loading.aft",
    "plate.fitted",
    // Not applicable.
    "identity.mark.form",
    "fluids.hoses",
    "portion.columns",
    // Conceded.
    "controls.cable-size",
];

/// Worked examples of a pack that come out as written, and that do not.
const TRY: [&str; 2] = ["try.txt", "try-wrong.txt"];

/// What is compared with a saved audit.
const SINCE: [&str; 4] = ["since.txt", "since.json", "saved.json", "saved.txt"];

/// Several projects, one of them broken.
const MANY: [(&str, &[&str]); 2] =
    [("many.txt", &["audit", "--on", ON]), ("many.json", &["audit", "--on", ON, "--format", "json"])];

/// What other programs read of an audit, and the format; the demo's would be thirty times as large.
const FORMATS: [(&str, &str); 3] = [("audit.sarif", "sarif"), ("audit-junit.xml", "junit"), ("audit.csv", "csv")];

pub(super) fn texts(runs: &str) -> Texts {
    let run = |name: &str| Run::new(&format!("golden-{runs}-{name}"));
    let mut texts = Texts::new();
    for (name, format) in FORMATS {
        let bench = project(&format!("golden-{runs}-{name}"), "[spar]\nspan = \"80 in\"\n");
        texts.insert(path(name), said(bench, &["audit", "--on", ON, "--format", format]).out);
    }
    for (name, args) in REPORTS {
        texts.insert(path(name), said(run(name), args).out);
    }
    for item in WHY {
        texts.insert(why(item), said(run(item), &["why", item, "--demo", "--on", ON]).out);
    }
    let wrong = ITEM.replace("spar.span = 80 in => unmet", "spar.span = 95 in => unmet");
    for (name, item) in TRY.iter().zip([ITEM, &wrong]) {
        let pack = with_pack(&format!("golden-{runs}-{name}"), &format!("{WORDS}{item}"));
        texts.insert(path(name), said(pack, &["try", "shed"]).out);
    }
    for (name, args) in MANY {
        texts.insert(path(name), said(club(&format!("golden-{runs}-{name}")), args).out);
    }
    texts.extend(since(&run("since")));
    let empty: Vec<_> = texts.iter().filter(|(_, text)| text.len() < 20).collect();
    assert!(empty.is_empty(), "an empty report holds nothing: {empty:?}");
    texts
}

/// An audit of an earlier day, saved, and what changed since.
fn since(run: &Run) -> Texts {
    let saved = run.step(&["audit", "--demo", "--on", EARLIER, "--save-to", "saved.json"]);
    let text = run.step(&["since", "saved.json", "--demo", "--on", ON]);
    let json = run.step(&["since", "saved.json", "--demo", "--on", ON, "--format", "json"]);
    let file = std::fs::read_to_string(run.folder().join("saved.json")).unwrap();
    let names = SINCE.map(path);
    names.into_iter().zip([text.out, json.out, file, saved.err]).collect()
}

pub(super) fn paths() -> Vec<String> {
    let reports = REPORTS.iter().chain(&MANY).map(|(name, _)| path(name));
    let formats = FORMATS.iter().map(|(name, _)| name);
    let others = formats.chain(&TRY).chain(&SINCE).map(|name| path(name));
    reports.chain(WHY.iter().map(|item| why(item))).chain(others).collect()
}

fn path(name: &str) -> String {
    format!("reports/{name}")
}

fn why(item: &str) -> String {
    path(&format!("why-{item}.txt"))
}

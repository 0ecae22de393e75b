//! Mistakes about whole packs and files: these have no text to underline.

use crate::fixtures::packs::load_packs;
use crate::golden::named;
use crate::golden::recording::Named;
use crate::lang::{pack, refused};
use cotterpin_engine::files::read_pack;
use cotterpin_packs::{PackText, built_in};
use std::path::PathBuf;

/// Those whose messages are golden.
pub(crate) const GOLDEN: &[Named] = named![
    a_manifest_that_is_none,
    a_unit_asked_back_that_means_one_thing,
    a_country_that_means_no_word_of_a_fact,
    a_pack_that_is_not_there,
    a_pack_that_is_not_used,
    two_packs_of_one_name,
    packs_in_a_circle,
    a_file_too_large_to_be_rules
];

/// The codes this file shows.
pub(super) const CODES: [&str; 12] = [
    "pack::not-used",
    "pack::manifest",
    "pack::asked-back",
    "pack::country",
    // `embed::said` shows it.
    "pack::name",
    "pack::missing",
    // Shown by tests of its own.
    "item::no-reason",
    // `cli::not_read` shows it.
    "pack::not-read",
    "pack::twice",
    "pack::cycle",
    "file::too-large",
    "file::unreadable",
];

/// The only message has this code and says what to do; the repair loads.
fn told(code: &str, packs: &[PackText], words: &str, repaired: &[PackText]) {
    let (_, messages) = refused(packs);
    assert_eq!(messages.len(), 1, "{messages:#?}");
    assert_eq!(messages[0].code, code);
    assert!(messages[0].message.contains(words), "{}", messages[0].message);
    assert!(messages[0].help.as_ref().is_some_and(|help| !help.is_empty()), "{messages:#?}");
    assert!(load_packs(repaired).is_ok_and(|rules| rules.warnings.is_empty()));
}

#[test]
fn a_manifest_that_is_none() {
    let good = pack("mine", &[], "");
    let with = |manifest: String| [PackText { manifest, ..good.clone() }];
    for manifest in [
        String::new(),
        "name = ".to_owned(),
        good.manifest.replace("edition", "editon"),
        format!("{}x = 1", good.manifest),
    ] {
        told("pack::manifest", &with(manifest), "mine/pack.toml`, line", std::slice::from_ref(&good));
    }
    told(
        "pack::manifest",
        &with(format!("{}\nuses = 3", good.manifest.replace("uses", "not_covered"))),
        "line 8",
        std::slice::from_ref(&good),
    );
}

#[test]
fn a_unit_asked_back_that_means_one_thing() {
    let good = pack("mine", &[], "");
    let with = |line: &str| [PackText { manifest: format!("{}\n{line}\n", good.manifest), ..good.clone() }];
    let repaired = with("asked_back = { gal = [\"usgal\", \"impgal\"] }");
    for line in [
        // One meaning, none that is known, another kind, the unit itself, twice the same size.
        "asked_back = { gal = [\"impgal\"] }",
        "asked_back = { gal = [\"usgal\", \"britgal\"] }",
        "asked_back = { gal = [\"usgal\", \"lb\"] }",
        "asked_back = { gal = [\"gal\", \"impgal\"] }",
        "asked_back = { gal = [\"usgal\", \"usgal\"] }",
        "asked_back = { gallon = [\"usgal\", \"impgal\"] }",
    ] {
        told("pack::asked-back", &with(line), "is not asked back with two units of one kind", &repaired);
    }
}

#[test]
fn a_country_that_means_no_word_of_a_fact() {
    let text = "choice state : here or there\nfact barn.state : state ask \"Where?\"\nfact barn.width : length ask \"How wide?\"";
    let (base, good) = (pack("mine", &[], text), pack("hc", &["mine"], ""));
    let with = |pack: &PackText, line: &str| {
        [base.clone(), PackText { manifest: format!("{}\n{line}\n", pack.manifest), ..pack.clone() }]
    };
    let repaired = with(&good, "country_means = { \"barn.state\" = \"here\" }");
    for line in [
        // A word that is none of its, another kind of fact, no fact.
        "country_means = { \"barn.state\" = \"nowhere\" }",
        "country_means = { \"barn.width\" = \"3 m\" }",
        "country_means = { \"barn.stat\" = \"here\" }",
    ] {
        told("pack::country", &with(&good, line), "`hc/pack.toml`: `country_means` gives", &repaired);
    }
    // It has to build on the pack that has the fact.
    let apart = with(&pack("hc", &[], ""), "country_means = { \"barn.state\" = \"here\" }");
    told("pack::country", &apart, "`country_means` gives `barn.state`", &repaired);
}

#[test]
fn a_pack_that_is_not_there() {
    let good = [pack("mine", &["common"], ""), pack("common", &[], "")];
    told("pack::missing", &good[..1], "there is no pack `common`", &good);
    let near = refused(&[pack("mine", &["fitings"], ""), pack("fittings", &[], "")]).1;
    assert!(near[0].help.as_ref().is_some_and(|help| help.contains("`fittings`")));
    assert_eq!(built_in(&["no-such-pack"]).map_err(|message| message.code), Err("pack::missing"));
}

#[test]
fn a_pack_that_is_not_used() {
    let (base, text) = (pack("mine", &[], "choice wood : oak or pine"), "fact barn.wood : wood ask \"?\"");
    let packs = |uses: &[&str]| [base.clone(), pack("other", uses, text)];
    told("pack::not-used", &packs(&[]), "the choice `wood` is declared by the pack `mine`", &packs(&["mine"]));
}

#[test]
fn two_packs_of_one_name() {
    let (one, two) = (pack("mine", &[], ""), pack("yours", &[], ""));
    told("pack::twice", &[one.clone(), one.clone()], "two packs are named `mine`", &[one, two]);
}

#[test]
fn packs_in_a_circle() {
    let packs = [pack("a", &["b"], ""), pack("b", &["c"], ""), pack("c", &["a"], "")];
    told(
        "pack::cycle",
        &packs,
        "in a circle: `a`, `b`, `c`",
        &[packs[0].clone(), packs[1].clone(), pack("c", &[], "")],
    );
    told("pack::cycle", &[pack("a", &["a"], "")], "in a circle: `a`", &[pack("a", &[], "")]);
}

#[test]
fn a_file_too_large_to_be_rules() {
    let comment = "-- ".repeat((16 << 20) / 3 + 1);
    told("file::too-large", &[pack("mine", &[], &comment)], "mine.checklist", &[pack("mine", &[], &comment[..3000])]);
}

/// A folder of its own, empty at first.
fn folder(name: &str) -> PathBuf {
    let folder = std::env::temp_dir().join(format!("cotterpin-lang-{}-{name}", std::process::id()));
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).expect("a folder");
    folder
}

#[test]
fn a_file_that_cannot_be_read() {
    let folder = folder("unreadable");
    assert_eq!(read_pack(&folder).map_err(|message| message.code), Err("pack::missing"));
    std::fs::write(folder.join("pack.toml"), pack("mine", &[], "").manifest).expect("written");
    std::fs::write(folder.join("mine.checklist"), b"-- \xff\xfe").expect("written");
    let message = read_pack(&folder).expect_err("it is no text");
    assert_eq!(message.code, "file::not-text");
    assert!(message.message.contains("mine.checklist") && message.message.contains("UTF-8"), "{}", message.message);
    assert!(message.help.is_some());
    let wide: Vec<u8> = "\u{feff}-- nothing".encode_utf16().flat_map(u16::to_le_bytes).collect();
    std::fs::write(folder.join("mine.checklist"), wide).expect("written");
    let message = read_pack(&folder).expect_err("it is UTF-16");
    assert!(message.message.contains("UTF-16"), "{}", message.message);
    std::fs::write(folder.join("mine.checklist"), "\u{feff}-- nothing").expect("written");
    std::fs::write(folder.join("pack.toml"), format!("\u{feff}{}", pack("mine", &[], "").manifest)).expect("written");
    let read = read_pack(&folder).expect("it is text now");
    assert!(load_packs(&[read]).is_ok());
    std::fs::remove_dir_all(folder).expect("removed");
}

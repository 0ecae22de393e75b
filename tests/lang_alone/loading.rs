//! The packs of `rules/`, read here from the disk and checked by the language alone.

use crate::fixtures::dice::Dice;
use crate::fixtures::seed::with_dice;
use cotterpin_lang::ir::Rules;
use cotterpin_lang::packs::{PackText, Prebuilt, load};
use cotterpin_lang::source::Sources;
use std::fs;
use std::path::{Path, PathBuf};

fn inside(dir: &Path) -> Vec<PathBuf> {
    let mut paths: Vec<PathBuf> = fs::read_dir(dir).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    paths
}

/// Every pack of the repository.
fn packs() -> Vec<PackText> {
    let name = |path: &Path| path.file_name().unwrap().to_string_lossy().into_owned();
    let read = |path: &Path| fs::read_to_string(path).unwrap();
    let is_rules = |path: &PathBuf| path.extension().is_some_and(|ending| ending == "checklist");
    let pack = |dir: PathBuf| PackText {
        name: name(&dir),
        manifest: read(&dir.join("pack.toml")),
        files: inside(&dir).into_iter().filter(is_rules).map(|path| (name(&path), read(&path).into())).collect(),
    };
    inside(&Path::new(env!("CARGO_MANIFEST_DIR")).join("../../rules")).into_iter().map(pack).collect()
}

fn loaded(packs: &[PackText]) -> Rules {
    load(&Prebuilt::empty(), packs).unwrap_or_else(|failed| panic!("{:#?}", failed.1))
}

#[test]
fn every_pack_is_checked_without_the_engine() {
    let rules = loaded(&packs());
    assert!(rules.warnings.is_empty(), "{:#?}", rules.warnings);
    assert!(rules.packs.len() >= 20 && rules.items.len() >= 600 && rules.prebuilt_packs == 0);
    assert!(rules.items.iter().all(|item| !item.examples.is_empty()));
}

fn shuffled<T>(mut all: Vec<T>, dice: &mut Dice) -> Vec<T> {
    let mut drawn = Vec::new();
    while !all.is_empty() {
        drawn.push(all.swap_remove(dice.below(all.len())));
    }
    drawn
}

/// In whatever order files are found, each item comes to the same.
#[test]
fn files_in_any_order_come_to_the_same_rules() {
    let some = |pack: &PackText| ["common", "fuel-and-fluids", "controls"].contains(&pack.name.as_str());
    let packs: Vec<PackText> = packs().into_iter().filter(some).collect();
    assert_eq!(packs.len(), 3);
    let plain = |mut rules: Rules| {
        rules.sources = Sources::default();
        format!("{rules:?}")
    };
    let first = plain(loaded(&packs));
    with_dice(&[], |dice| {
        let mixed: Vec<PackText> =
            packs.iter().cloned().map(|pack| PackText { files: shuffled(pack.files, dice), ..pack }).collect();
        assert!(plain(loaded(&mixed)) == first);
    });
}

/// What is wrong is said with its place, without anything of the engine.
#[test]
fn a_mistake_has_its_place() {
    let manifest = "name='made'\ntitle='Made'\nedition='1'\nauthority='none'\nscope='a test'".to_owned();
    let text = "fact shed.width : length ask \"?\"\nfact shed.load : mass ask \"?\"\nhold-points visit \"Visit\"\n\
        systems shed \"Shed\"\nitem shed.sum \"Sum\" need shed.width + shed.load > 2 in by visit basis own\n  \
        cite common practice\n";
    let pack = PackText { name: "made".into(), manifest, files: vec![("made.checklist".into(), text.into())] };
    let failed = load(&Prebuilt::empty(), &[pack]).map(|_| ()).unwrap_err();
    let (sources, messages) = *failed;
    let mismatch = messages.iter().find(|message| message.code == "unit::mismatch").unwrap();
    let place = sources.place(mismatch.labels[0].span);
    assert_eq!((place.file.as_str(), place.line), ("made.checklist", 5));
    assert_eq!(mismatch.labels.len(), 2);
}

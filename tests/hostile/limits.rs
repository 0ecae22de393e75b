//! What is read is looked at by its length first, and no more of it is read than is taken.

use crate::cli::{ITEM, Run, WORDS, with_pack};
use cotterpin_engine::files::{bytes, read_project};
use cotterpin_engine::source::{MOST_BYTES, MOST_IN_ALL};

/// A file of six gigabytes that takes no room on the disk: as a pack's rules, as its manifest, as facts.
#[test]
fn a_huge_file_is_not_read() {
    let huge = 6 << 30;
    let run = with_pack("hostile-huge-rules", &format!("{WORDS}{ITEM}")).large("shed/more.checklist", huge);
    run.step(&["try", "./shed"]).refuses(&["file::too-large", "shed/more.checklist", "16 MB"]);
    run.step(&["audit"]).refuses(&["file::too-large", "16 MB"]);
    let read = bytes(&run.folder().join("shed/more.checklist")).expect("read");
    assert_eq!(read.len(), MOST_BYTES + 1);
    with_pack("hostile-huge-manifest", "").large("shed/pack.toml", huge).step(&["audit"]).refuses(&["file::too-large"]);
    with_pack("hostile-huge-facts", WORDS).large("facts.toml", huge).step(&["audit"]).refuses(&["file::too-large"]);
}

/// Sixty files of fifteen megabytes: the first that fit are kept, and no more.
#[test]
fn a_project_is_no_larger_than_its_bound() {
    let mut run = with_pack("hostile-sum", WORDS);
    for at in 10..70 {
        run = run.large(&format!("facts-{at}.toml"), 15 << 20);
    }
    let (files, found) = read_project(run.folder());
    let kept: usize = files.files.iter().map(|file| file.bytes.len()).sum();
    assert!(kept <= MOST_IN_ALL && files.files.len() == 4, "{kept}");
    let codes: Vec<&str> = found.iter().map(|message| message.code).collect();
    assert_eq!(codes, ["project::too-large"]);
    assert!(found[0].help.as_ref().is_some_and(|help| help.contains("facts-14.toml")), "{found:?}");
    let mut pack = Run::new("hostile-sum-pack").file("shed/pack.toml", crate::cli::MANIFEST);
    for at in 10..15 {
        pack = pack.file(&format!("shed/{at}.checklist"), "\n".repeat(15 << 20));
    }
    pack.step(&["try", "./shed"]).refuses(&["file::too-large", "64 MB together", "14.checklist"]);
}

//! Run when the crate is built: fingerprints of the files that decide what is
//! stored (`src/syntax/trees.bin`, `src/rules/prepared.bin`), so that what was
//! made from others is not looked at. They are worked out here because the
//! compiler would take half a minute for it.

mod fingerprint;

use fingerprint::{Fingerprint, fingerprint};
use std::path::{Path, PathBuf};
use std::{env, fs, io};

/// What a tree depends on besides its text.
const TREES: [&str; 5] =
    ["grammar/checklist.pest", "src/syntax", "src/stored", "src/measure/forms.rs", "src/rules/forms.rs"];

/// What a choice of packs comes to depends on these as well.
const PACKS: [&str; 5] = ["rules", "src/rules", "src/program", "src/measure", "src/source.rs"];

/// Endings of the files that count: what is stored is not among them.
const ENDINGS: [&str; 5] = ["rs", "pest", "in", "toml", "checklist"];

fn main() -> io::Result<()> {
    let trees = of_all(&TREES, [0, 0])?;
    let packs = of_all(&PACKS, trees)?;
    let written = format!(
        "/// What a tree depends on besides its text.\n\
         pub(crate) const TREES_REST_ON: Fingerprint = {trees:?};\n\
         /// What the packs in the binary, and what they come to, depend on.\n\
         pub(crate) const PACKS_REST_ON: Fingerprint = {packs:?};\n"
    );
    let out = env::var_os("OUT_DIR").ok_or_else(|| io::Error::other("OUT_DIR is not set"))?;
    fs::write(Path::new(&out).join("fingerprints.rs"), written)
}

/// The fingerprint of files and of whole folders, after what `begin` is that of.
fn of_all(paths: &[&str], begin: Fingerprint) -> io::Result<Fingerprint> {
    let mut so_far = begin;
    for path in paths {
        println!("cargo::rerun-if-changed={path}");
        for file in files(Path::new(path))? {
            // The name is no part of it, so a path may be written with any slash.
            so_far = fingerprint(so_far, &fs::read(file)?);
        }
    }
    Ok(so_far)
}

/// The files below a path that count, in order.
fn files(path: &Path) -> io::Result<Vec<PathBuf>> {
    if !path.is_dir() {
        return Ok(vec![path.to_owned()]);
    }
    let mut inside =
        fs::read_dir(path)?.map(|entry| entry.map(|entry| entry.path())).collect::<io::Result<Vec<_>>>()?;
    inside.sort();
    let mut found = Vec::new();
    for path in inside {
        let counts = path.extension().is_some_and(|ending| ENDINGS.iter().any(|known| *known == ending));
        if counts || path.is_dir() {
            found.extend(files(&path)?);
        }
    }
    Ok(found)
}

//! Run when the crate is built: makes the packs in `rules` ready, so that no
//! start parses or checks them. Cargo runs it again when a pack changes, and
//! when the language crate does, on which everything it makes depends.

use cotterpin_lang::diagnostic::Diagnostic;
use cotterpin_lang::packs::{PrebuiltPack, encode_prebuilt};
use cotterpin_lang::source::Sources;
use std::path::{Path, PathBuf};
use std::{env, fs, io};

fn main() -> io::Result<()> {
    println!("cargo::rerun-if-changed=rules");
    println!("cargo::rerun-if-changed=build.rs");
    let root = PathBuf::from(variable("CARGO_MANIFEST_DIR")?);
    let out = PathBuf::from(variable("OUT_DIR")?);
    let packs = folders(&root.join("rules"))?;
    fs::write(out.join("prebuilt.rs"), prebuilt_source(&packs)?)?;

    let texts: &'static [PrebuiltPack] = packs.iter().map(read).collect::<io::Result<Vec<_>>>()?.leak();
    let encoded = match encode_prebuilt(texts, &choices(texts)) {
        Ok((encoded, sources, messages)) => {
            warn(&sources, &messages);
            encoded
        }
        Err(messages) => {
            warn(&Sources::default(), &messages);
            Vec::new()
        }
    };
    fs::write(out.join("prebuilt.bin"), encoded)
}

/// The choices of packs that a new project has: each country's with the workmanship, and the workmanship alone.
fn choices(packs: &[PrebuiltPack]) -> Vec<Vec<&str>> {
    // A country's pack is named by its two letters of ISO 3166-1.
    let countries = packs.iter().map(|pack| pack.name).filter(|name| name.len() == 2);
    countries.map(Some).chain([None]).map(|country| country.into_iter().chain(["workmanship"]).collect()).collect()
}

/// A mistake in a pack stops nothing here: it is told in full when the pack is loaded.
fn warn(sources: &Sources, messages: &[Diagnostic]) {
    for message in messages {
        let place = message.labels.first().map(|label| sources.place(label.span));
        let place = place.map_or_else(String::new, |at| format!("{}:{}:{}: ", at.file, at.line, at.column));
        println!("cargo::warning={place}{}; no pack is made ready", message.message.replace('\n', " "));
    }
}

/// One pack's folder: its name, its manifest, its files in order.
struct Folder {
    name: String,
    manifest: PathBuf,
    files: Vec<(String, PathBuf)>,
}

fn folders(rules: &Path) -> io::Result<Vec<Folder>> {
    let mut found = Vec::new();
    for dir in entries(rules)?.into_iter().filter(|path| path.join("pack.toml").is_file()) {
        let name = file_name(&dir);
        let files = entries(&dir)?.into_iter().filter(|path| path.extension().is_some_and(|end| end == "checklist"));
        let files = files.map(|path| (format!("rules/{name}/{}", file_name(&path)), path)).collect();
        found.push(Folder { manifest: dir.join("pack.toml"), name, files });
    }
    Ok(found)
}

fn entries(dir: &Path) -> io::Result<Vec<PathBuf>> {
    let mut paths = fs::read_dir(dir)?.map(|entry| entry.map(|entry| entry.path())).collect::<io::Result<Vec<_>>>()?;
    paths.sort();
    Ok(paths)
}

fn file_name(path: &Path) -> String {
    path.file_name().unwrap_or_default().to_string_lossy().into_owned()
}

/// The texts last as long as this script, which is not long.
fn read(folder: &Folder) -> io::Result<PrebuiltPack> {
    let text = |path: &Path| fs::read_to_string(path).map(|text| &*text.leak());
    let files = folder.files.iter().map(|(name, path)| Ok((&*name.clone().leak(), text(path)?)));
    Ok(PrebuiltPack {
        name: folder.name.clone().leak(),
        manifest: text(&folder.manifest)?,
        files: files.collect::<io::Result<Vec<_>>>()?.leak(),
    })
}

/// The same as source text, for the crate to include.
fn prebuilt_source(packs: &[Folder]) -> io::Result<String> {
    let mut written = "static PACKS: &[PrebuiltPack] = &[\n".to_owned();
    for Folder { name, manifest, files } in packs {
        let files = files.iter().map(|(name, path)| format!("({name:?}, include_str!({path:?}))"));
        let files = files.collect::<Vec<_>>().join(", ");
        let manifest = format!("include_str!({manifest:?})");
        written += &format!("    PrebuiltPack {{ name: {name:?}, manifest: {manifest}, files: &[{files}] }},\n");
    }
    written += "];\n";
    Ok(written)
}

fn variable(name: &str) -> io::Result<std::ffi::OsString> {
    env::var_os(name).ok_or_else(|| io::Error::other(format!("{name} is not set")))
}

//! Packs as text: read from disk or from the binary, put in order.

use super::{Pack, prepared};
use crate::diagnostic::{Diagnostic, nearest};
use crate::source::Written;
use serde::Deserialize;
use std::borrow::Cow;
use std::path::Path;

/// A pack as text, wherever it came from.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct PackText {
    /// Where it came from, for messages: `us`, or a folder.
    pub name: String,
    /// The text of its `pack.toml`.
    pub manifest: String,
    /// Its `.checklist` files: name and text. That of a built-in pack is borrowed from the binary.
    pub files: Vec<(String, Cow<'static, str>)>,
}

impl PackText {
    /// Its files in the order of their names, in which they are read.
    pub(super) fn sorted_files(&self) -> Vec<&(String, Cow<'static, str>)> {
        let mut files: Vec<_> = self.files.iter().collect();
        files.sort();
        files
    }

    /// Whether it is one of the packs in the binary, and none of its files was changed.
    pub(super) fn is_built_in(&self) -> bool {
        let same = |(own, built_in): (&(String, Cow<'static, str>), &(&str, &str))| {
            own.0 == built_in.0 && matches!(own.1, Cow::Borrowed(text) if text == built_in.1)
        };
        BUILT_IN.iter().any(|pack| {
            pack.name == self.name
                && pack.manifest == self.manifest
                && pack.files.len() == self.files.len()
                && self.files.iter().zip(pack.files).all(same)
        })
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Manifest {
    name: String,
    title: String,
    edition: String,
    authority: String,
    scope: String,
    #[serde(default)]
    uses: Vec<String>,
    #[serde(default)]
    not_covered: Vec<String>,
}

/// Reads a manifest; a message if it is not one. That of a built-in pack was read beforehand.
pub(super) fn manifest(text: &PackText) -> Result<Pack, Diagnostic> {
    let place = BUILT_IN.iter().position(|pack| pack.name == text.name && pack.manifest == text.manifest);
    match place.and_then(|at| prepared::headers().get(at)) {
        Some(header) => Ok(header.clone()),
        None => read_manifest(text),
    }
}

/// What the manifests of all packs in the binary say, in their order.
pub(super) fn read_headers() -> Result<Vec<Pack>, Diagnostic> {
    BUILT_IN.iter().map(|pack| read_manifest(&pack.text())).collect()
}

fn read_manifest(text: &PackText) -> Result<Pack, Diagnostic> {
    let bad = |error: toml::de::Error| {
        let line = error
            .span()
            .map_or(1, |span| text.manifest.get(..span.start).unwrap_or("").matches('\n').count().saturating_add(1));
        Diagnostic::error(
            "pack::manifest",
            format!("`{}/pack.toml`, line {line}: {}", text.name, error.message().replace('\n', ", ")),
        )
        .help("a pack.toml has name, title, edition, authority, scope, uses and not_covered")
    };
    let read: Manifest = toml::from_str(&text.manifest).map_err(bad)?;
    let Manifest { name, title, edition, authority, scope, uses, not_covered } = read;
    let texts = |texts: Vec<String>| texts.into_iter().map(Written::from).collect();
    Ok(Pack {
        name: name.into(),
        title: title.into(),
        edition: edition.into(),
        authority: authority.into(),
        scope: scope.into(),
        not_covered: texts(not_covered),
        uses: texts(uses),
    })
}

/// Puts packs in an order in which each follows those it builds on.
///
/// # Errors
/// A pack that is missing, a cycle, two packs of one name.
pub(super) fn in_order(packs: Vec<(Pack, &PackText)>) -> Result<Vec<(Pack, &PackText)>, Vec<Diagnostic>> {
    let mut messages = Vec::new();
    for (at, (pack, text)) in packs.iter().enumerate() {
        if let Some((_, other)) = packs.iter().take(at).find(|(other, _)| other.name == pack.name) {
            messages.push(
                Diagnostic::error(
                    "pack::twice",
                    format!("two packs are named `{}`: `{}` and `{}`", pack.name, other.name, text.name),
                )
                .help("rename one of them in its pack.toml"),
            );
        }
        for used in &pack.uses {
            if !packs.iter().any(|(other, _)| other.name == *used) {
                let near = nearest(used, packs.iter().map(|(p, _)| p.name.as_str()));
                messages.push(missing(used, &format!("pack `{}` builds on it", pack.name), near));
            }
        }
    }
    if !messages.is_empty() {
        return Err(messages);
    }
    let (mut waiting, mut done): (Vec<_>, Vec<(Pack, &PackText)>) = (packs, Vec::new());
    while !waiting.is_empty() {
        let ready =
            waiting.iter().position(|(pack, _)| pack.uses.iter().all(|used| done.iter().any(|(p, _)| p.name == *used)));
        let Some(ready) = ready else {
            let names: Vec<_> = waiting.iter().map(|(pack, _)| format!("`{}`", pack.name)).collect();
            return Err(vec![
                Diagnostic::error(
                    "pack::cycle",
                    format!("these packs build on each other in a circle: {}", names.join(", ")),
                )
                .help("take one name out of `uses` in one pack.toml"),
            ]);
        };
        done.push(waiting.remove(ready));
    }
    Ok(done)
}

fn missing(name: &str, why: &str, near: Option<&str>) -> Diagnostic {
    let help = near.map_or_else(
        || "a built-in pack by name, or a folder as `./my-pack`".to_owned(),
        |near| format!("did you mean `{near}`?"),
    );
    Diagnostic::error("pack::missing", format!("there is no pack `{name}`; {why}")).help(help)
}

/// One pack of the binary: its name, manifest and files.
struct BuiltIn {
    name: &'static str,
    manifest: &'static str,
    files: &'static [(&'static str, &'static str)],
}

macro_rules! built_in_packs {
    ($($name:literal: [$($file:literal),* $(,)?]),* $(,)?) => {
        const BUILT_IN: &[BuiltIn] = &[$(BuiltIn {
            name: $name,
            manifest: include_str!(concat!("../../rules/", $name, "/pack.toml")),
            files: &[$((
                concat!("rules/", $name, "/", $file, ".checklist"),
                include_str!(concat!("../../rules/", $name, "/", $file, ".checklist")),
            )),*],
        }),*];
    };
}

include!("built_in.in");

impl BuiltIn {
    fn text(&self) -> PackText {
        PackText {
            name: self.name.to_owned(),
            manifest: self.manifest.to_owned(),
            files: self.files.iter().map(|(name, text)| ((*name).to_owned(), Cow::Borrowed(*text))).collect(),
        }
    }
}

/// The names of the packs in the binary.
#[must_use]
pub fn built_in_names() -> Vec<&'static str> {
    BUILT_IN.iter().map(|pack| pack.name).collect()
}

/// The named built-in packs with everything they build on.
///
/// # Errors
/// A message if there is no such pack.
pub fn built_in(names: &[&str]) -> Result<Vec<PackText>, Diagnostic> {
    let (mut wanted, mut found): (Vec<String>, Vec<PackText>) =
        (names.iter().map(|n| (*n).to_owned()).collect(), Vec::new());
    while let Some(name) = wanted.pop() {
        if found.iter().any(|pack| pack.name == name) {
            continue;
        }
        let Some(pack) = BUILT_IN.iter().find(|pack| pack.name == name) else {
            return Err(missing(&name, "it is asked for by name", nearest(&name, built_in_names())));
        };
        let text = pack.text();
        wanted.extend(manifest(&text)?.uses.into_iter().map(String::from));
        found.push(text);
    }
    found.sort_by(|a, b| a.name.cmp(&b.name));
    Ok(found)
}

/// What `src/syntax/trees.bin` is to hold for the packs in the binary: their
/// texts parsed, so that no start parses them. A file that holds anything else
/// costs time and nothing more.
#[must_use]
pub fn built_in_trees() -> Vec<u8> {
    crate::syntax::trees(BUILT_IN.iter().flat_map(|pack| pack.files).map(|(_, text)| *text))
}

/// Reads a pack from a folder.
///
/// # Errors
/// A message if the folder has no `pack.toml`, or a file cannot be read.
pub fn read_pack(dir: &Path) -> Result<PackText, Diagnostic> {
    let read = |path: &Path| {
        let bytes = std::fs::read(path).map_err(|error| unreadable(path, &error.to_string()))?;
        String::from_utf8(bytes)
            .map_err(|error| unreadable(path, &format!("it is not UTF-8 text ({})", error.utf8_error())))
    };
    let manifest_path = dir.join("pack.toml");
    if !manifest_path.is_file() {
        let name = dir.display();
        let message = match dir.is_dir() {
            true => format!("the folder `{name}` holds no pack.toml"),
            false => format!("there is no folder `{name}`"),
        };
        return Err(Diagnostic::error("pack::missing", message)
            .help("give the folder of the pack, the one with its pack.toml in it"));
    }
    let mut pack = PackText { name: dir.display().to_string(), manifest: read(&manifest_path)?, files: Vec::new() };
    for entry in walkdir::WalkDir::new(dir).sort_by_file_name() {
        let entry = entry.map_err(|error| unreadable(dir, &error.to_string()))?;
        if entry.path().extension().is_some_and(|ending| ending == "checklist") && entry.file_type().is_file() {
            pack.files.push((entry.path().display().to_string(), read(entry.path())?.into()));
        }
    }
    Ok(pack)
}

fn unreadable(path: &Path, why: &str) -> Diagnostic {
    Diagnostic::error("file::unreadable", format!("`{}` cannot be read: {why}", path.display()))
        .help("check the file's name and permissions")
}

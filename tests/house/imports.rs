//! What the sources import, read as text: `crate::room::file`, `super::file`
//! and what it takes from other crates of the workspace.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// One source file.
pub(super) struct Source {
    /// From the top of the repository, with slashes.
    pub(super) path: String,
    /// The room it stands in: a folder, or a file beside `lib.rs`.
    pub(super) room: String,
    /// The modules above it, within the crate.
    modules: Vec<String>,
    pub(super) text: String,
    /// All files of the crate, to find out which module is one.
    files: BTreeSet<String>,
    folder: String,
}

/// One import.
pub(super) struct Import {
    /// The room it is of.
    pub(super) room: String,
    /// The file it is of, where that can be told.
    pub(super) file: Option<String>,
    /// The line it stands in.
    pub(super) line: usize,
}

/// All files of a crate but its front door: `lib.rs` hands on, and the build script runs before it.
pub(super) fn sources(folder: &str) -> Vec<Source> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut paths = Vec::new();
    walk(&root.join(folder), &mut paths);
    let name = |path: &PathBuf| path.strip_prefix(root).unwrap().to_str().unwrap().replace('\\', "/");
    let inner = |path: &String| {
        folder == "src" && ["lang", "engine", "packs"].iter().any(|own| path.starts_with(&format!("src/{own}/")))
    };
    let files: BTreeSet<String> = paths.iter().map(name).filter(|path| !inner(path)).collect();
    let door = |path: &&String| !["lib.rs", "build.rs"].iter().any(|door| **path == format!("{folder}/{door}"));
    let source = |path: &String| {
        let mut modules: Vec<String> =
            path[folder.len() + 1..].trim_end_matches(".rs").split('/').map(str::to_owned).collect();
        modules.pop_if(|last| last == "mod");
        let text = std::fs::read_to_string(root.join(path)).unwrap();
        let (room, folder) = (modules[0].clone(), folder.to_owned());
        Source { path: path.clone(), room, modules, text, files: files.clone(), folder }
    };
    files.iter().filter(door).map(source).collect()
}

fn walk(dir: &Path, into: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(dir).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            walk(&path, into);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            into.push(path);
        }
    }
}

/// What a file imports, `use` or not; comments and tests do not count.
pub(super) fn imports_of(source: &Source) -> Vec<Import> {
    let mut found = Vec::new();
    let tests = source.text.lines().position(|line| line.starts_with("#[cfg(test)]")).unwrap_or(usize::MAX);
    for (at, line) in source.text.lines().enumerate().take(tests) {
        let code = line.split("//").next().unwrap_or("");
        for (start, _) in code.match_indices("::") {
            let before = &code[..start];
            let word = before.rsplit(|c: char| !(c.is_alphanumeric() || c == '_')).next().unwrap_or("");
            let inner = before[..before.len() - word.len()].ends_with("::");
            if inner {
                continue;
            }
            let names = path_after(&code[start + 2..]);
            match word {
                "crate" => found.extend(names.into_iter().map(|path| source.import(path, at + 1))),
                "super" => found.extend(names.into_iter().filter_map(|path| source.above(path, at + 1))),
                "cotterpin_lang" | "cotterpin_engine" | "cotterpin_packs" => {
                    let room = word.trim_start_matches("cotterpin_").to_owned();
                    found.push(Import { room, file: None, line: at + 1 });
                }
                _ => {}
            }
        }
    }
    found
}

/// The paths after `crate::` or `super::`, a list in braces taken apart at its first level.
fn path_after(rest: &str) -> Vec<Vec<String>> {
    if let Some(list) = rest.strip_prefix('{') {
        return list
            .split(['{', ',', '}'])
            .flat_map(|part| path_after(part.trim()))
            .filter(|path| !path.is_empty())
            .collect();
    }
    let end = rest.find(|c: char| !(c.is_alphanumeric() || c == '_' || c == ':')).unwrap_or(rest.len());
    vec![rest[..end].split("::").filter(|name| !name.is_empty()).map(str::to_owned).collect()]
}

/// What the engine hands on of the language crate stands in no room of its own.
const HANDED_ON: [&str; 5] = ["diagnostic", "ir", "quantity", "source", "vocabulary"];

impl Source {
    fn import(&self, path: Vec<String>, line: usize) -> Import {
        let first = path.first().cloned().unwrap_or_default();
        // What `src/lib.rs` names stands in the surface.
        let named = ["audit", "audit_all", "plan", "render"].contains(&first.as_str());
        let of_surface = self.folder == "src" && (named || first.starts_with(char::is_uppercase));
        if of_surface {
            return Import { room: "surface".to_owned(), file: None, line };
        }
        let of_lang = self.folder == "src/engine" && HANDED_ON.contains(&first.as_str());
        let room = if of_lang { "lang".to_owned() } else { first };
        Import { room, file: self.file_of(&path), line }
    }

    /// `super::` is the module above: a file's siblings, or the room's own front door.
    fn above(&self, mut path: Vec<String>, line: usize) -> Option<Import> {
        let mut above = self.modules.clone();
        above.pop();
        while path.first().is_some_and(|name| name == "super") {
            above.pop()?;
            path.remove(0);
        }
        above.extend(path);
        above.first()?;
        Some(self.import(above, line))
    }

    /// The deepest module of a path that is a file. A room's `mod.rs` hands on what its files
    /// hold, so what is taken from it there says nothing of files.
    fn file_of(&self, path: &[String]) -> Option<String> {
        (1..=path.len()).rev().find_map(|len| {
            let path = format!("{}/{}.rs", self.folder, path[..len].join("/"));
            self.files.contains(&path).then_some(path)
        })
    }
}

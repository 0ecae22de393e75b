//! What a project knows by name: its people, its parts, the words of its packs.

use super::folder::Folder;
use super::header::header_of;
use super::toml_file::checked;
use super::words::{Word, Words};
use crate::command::load::with_built_in;
use crate::command::messages::Messages;
use crate::surface::load::no_such_pack;
use cotterpin_engine::diagnostic::{Diagnostic, nearest};
use cotterpin_engine::files::is_folder;
use cotterpin_engine::files::read_pack;
use cotterpin_engine::project::{Header, PROJECT};
use cotterpin_packs as packs;
use std::path::Path;

/// `project.toml` and the words of the packs it names.
#[derive(Debug, Clone)]
pub(in crate::command) struct ProjectNames {
    /// The text of `project.toml`.
    pub(in crate::command) text: String,
    pub(in crate::command) header: Header,
    pub(in crate::command) words: Words,
}

impl ProjectNames {
    /// Reads them; `path` is the project's folder as given.
    pub(in crate::command) fn read(folder: &Folder, path: &Path) -> Result<Self, Messages> {
        let bytes = folder.read(PROJECT).map_err(Messages::one)?.unwrap_or_default();
        let text = parsed(PROJECT, &bytes)?;
        let header = header_of(&text)?;
        let words = words(path, &header)?;
        Ok(Self { text, header, words })
    }
}

fn words(path: &Path, header: &Header) -> Result<Words, Messages> {
    let known = packs::built_in_names();
    let (mut built_in, mut local): (Vec<String>, Vec<packs::PackText>) = (Vec::new(), Vec::new());
    for (name, _) in &header.packs {
        if is_folder(name) {
            let pack = read_pack(&path.join(name)).map_err(Messages::one)?;
            built_in.extend(pack.uses().into_iter().filter(|name| known.contains(&name.as_str())));
            local.push(pack);
        } else if known.contains(&name.as_str()) {
            built_in.push(name.clone());
        } else {
            return Err(Messages::one(no_such_pack(name, &known)));
        }
    }
    let mut messages = Messages::default();
    let packs = with_built_in(&built_in, local, &mut messages).ok_or(messages)?;
    Ok(Words::of(header, &packs))
}

/// The bytes of a file as text, if they are TOML.
pub(in crate::command) fn parsed(name: &str, bytes: &[u8]) -> Result<String, Messages> {
    checked(name, bytes).map_err(|wrong| {
        let (sources, message) = *wrong;
        let mut messages = Messages::default();
        messages.add(&sources, vec![message]);
        messages
    })
}

/// What to say to a word that is none of those known: the nearest, and those
/// that begin or end alike.
pub(in crate::command) fn unknown(code: &'static str, what: &str, word: &str, known: &[&Word]) -> Diagnostic {
    let message = Diagnostic::error(code, format!("there is no {what} `{word}`"));
    let names = || known.iter().map(|known| known.name.as_str());
    let first = word.split('.').next().unwrap_or(word);
    let alike = names().filter(|name| {
        let rest = name.strip_prefix(first);
        name.rsplit('.').next() == Some(word) || rest.is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
    });
    let mut near: Vec<&str> = alike.collect();
    if near.is_empty() {
        near.extend(names());
    }
    let shown: Vec<String> = near.iter().take(6).map(|name| format!("`{name}`")).collect();
    let more = if near.len() > shown.len() { ", ..." } else { "" };
    // What stands in a title alone: a mechanic is a `licensed-engineer`.
    let said: Vec<String> = word.split([' ', '.', '-']).map(str::to_lowercase).filter(|one| one.len() > 2).collect();
    let is_said = |known: &&&Word| {
        let title = known.title.to_lowercase();
        title.split(|sign: char| !sign.is_alphanumeric()).any(|one| said.iter().any(|said| said == one))
    };
    let by_title: Vec<String> =
        known.iter().filter(is_said).take(6).map(|known| format!("`{}` ({})", known.name, known.title)).collect();
    message.help(match (nearest(word, names()), shown.as_slice()) {
        (Some(near), _) => format!("did you mean `{near}`?"),
        (None, _) if !by_title.is_empty() => format!("did you mean {}?", by_title.join(", or ")),
        (None, []) => format!("no {what} is declared yet"),
        (None, _) => format!("known are {}{more}", shown.join(", ")),
    })
}

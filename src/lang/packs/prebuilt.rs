//! Packs that come with a program and were made ready when it was built, so
//! that no start parses or checks them.
//!
//! What is made ready is only ever a short cut: a text that has no tree here is
//! parsed, and a choice of packs that was not checked beforehand is checked,
//! with the same outcome. [`encode_prebuilt`](super::encode_prebuilt) makes the bytes.

use super::digest::digest_of;
use super::manifest::{no_such_pack, read_manifest};
use super::text::PackText;
use crate::check::Checker;
use crate::codec::{Codec, Reader};
use crate::diagnostic::{Diagnostic, nearest};
use crate::ir::{LibraryPack, Pack};
use crate::source::{SharedText, SourceId};
use crate::syntax::ast::Declaration;
use std::borrow::Cow;
use std::sync::OnceLock;

/// One pack of a library.
#[derive(Debug, Clone, Copy)]
pub struct PrebuiltPack {
    /// Its name.
    pub name: &'static str,
    /// The text of its `pack.toml`.
    pub manifest: &'static str,
    /// Its `.checklist` files in the order of their names: name and text.
    pub files: &'static [(&'static str, &'static str)],
}

impl PrebuiltPack {
    /// The pack as text, borrowed from the library.
    #[must_use]
    pub fn text(&self) -> PackText {
        PackText {
            name: self.name.to_owned(),
            manifest: self.manifest.to_owned(),
            files: self.files.iter().map(|(name, text)| ((*name).to_owned(), Cow::Borrowed(*text))).collect(),
        }
    }

    /// Whether these texts are borrowed from this pack, every one of them.
    fn lent(&self, text: &PackText) -> bool {
        let same = |(own, lent): (&(String, Cow<'static, str>), &(&str, &'static str))| {
            own.0 == lent.0 && matches!(own.1, Cow::Borrowed(text) if std::ptr::eq(text, lent.1))
        };
        self.name == text.name
            && self.manifest == text.manifest
            && self.files.len() == text.files.len()
            && text.files.iter().zip(self.files).all(same)
    }
}

/// Packs that come with a program.
#[derive(Debug)]
pub struct Prebuilt {
    packs: &'static [PrebuiltPack],
    encoded: &'static [u8],
    index: OnceLock<Index>,
}

/// What the bytes of a library hold, none of it decoded but the headers.
#[derive(Debug, Default)]
struct Index {
    /// What the manifests say, in the order of the packs.
    headers: Vec<Pack>,
    /// The syntax tree of each file of each pack; empty where there is none.
    trees: Vec<Vec<&'static [u8]>>,
    /// The checker after some choices of packs: their names in order, and its bytes.
    checked: Vec<(Vec<SharedText>, &'static [u8])>,
}

impl Prebuilt {
    /// A library of no packs.
    #[must_use]
    pub const fn empty() -> Self {
        Self::new(&[], &[])
    }

    /// A library of these packs, with what `encode_prebuilt` made of them.
    #[must_use]
    pub const fn new(packs: &'static [PrebuiltPack], encoded: &'static [u8]) -> Self {
        Self { packs, encoded, index: OnceLock::new() }
    }

    /// The names of its packs.
    #[must_use]
    pub fn names(&self) -> Vec<&'static str> {
        self.packs.iter().map(|pack| pack.name).collect()
    }

    /// The names and files of its packs.
    pub(super) fn texts(&self) -> Vec<LibraryPack> {
        self.packs.iter().map(|pack| (pack.name, pack.files)).collect()
    }

    /// The named packs with everything they build on, in the order of their names.
    ///
    /// # Errors
    /// A message if there is no such pack.
    pub fn with_uses(&self, names: &[&str]) -> Result<Vec<PackText>, Diagnostic> {
        let (mut wanted, mut found): (Vec<String>, Vec<PackText>) =
            (names.iter().map(|n| (*n).to_owned()).collect(), Vec::new());
        while let Some(name) = wanted.pop() {
            if found.iter().any(|pack| pack.name == name) {
                continue;
            }
            let Some(pack) = self.packs.iter().find(|pack| pack.name == name) else {
                return Err(no_such_pack(&name, "it is asked for by name", nearest(&name, self.names())));
            };
            let text = pack.text();
            wanted.extend(self.manifest(&text)?.uses.into_iter().map(String::from));
            found.push(text);
        }
        found.sort_by(|a, b| a.name.cmp(&b.name));
        Ok(found)
    }

    /// Whether every file of every pack has its tree.
    #[must_use]
    pub fn has_all_trees(&self) -> bool {
        let has =
            |(at, pack): (usize, &PrebuiltPack)| (0..pack.files.len()).all(|file| self.tree_of(at, file).is_some());
        self.packs.iter().enumerate().all(has)
    }

    /// The choices of packs that were checked beforehand: the names of each, in the order they build on each other.
    #[must_use]
    pub fn choices(&self) -> Vec<Vec<&str>> {
        self.index().checked.iter().map(|(names, _)| names.iter().map(AsRef::as_ref).collect()).collect()
    }

    /// What the manifest of a pack says, read beforehand if it is one of these.
    pub(super) fn manifest(&self, text: &PackText) -> Result<Pack, Diagnostic> {
        let same = |pack: &PrebuiltPack| pack.name == text.name && pack.manifest == text.manifest;
        let at = self.packs.iter().position(same);
        match at.and_then(|at| self.index().headers.get(at)) {
            Some(header) if self.find(text).is_some() => Ok(header.clone()),
            // The same manifest over other rules.
            Some(header) => Ok(Pack { digest: digest_of(text).into(), ..header.clone() }),
            None => read_manifest(text),
        }
    }

    /// The place of the pack that all these texts are borrowed from.
    pub(super) fn find(&self, text: &PackText) -> Option<usize> {
        self.packs.iter().position(|pack| pack.lent(text))
    }

    /// The tree of a file of a pack, by their places; without the worked examples of its items where they are not asked for.
    pub(super) fn tree(&self, pack: usize, file: usize, source: SourceId, examples: bool) -> Option<Vec<Declaration>> {
        let texts = [self.packs.get(pack)?.files.get(file)?.1];
        let mut reader = Reader::new(self.tree_of(pack, file)?, source, &texts, examples);
        let declarations = Codec::decode(&mut reader)?;
        reader.is_at_end().then_some(declarations)
    }

    fn tree_of(&self, pack: usize, file: usize) -> Option<&'static [u8]> {
        let bytes = *self.index().trees.get(pack)?.get(file)?;
        (!bytes.is_empty()).then_some(bytes)
    }

    /// The checker after these packs, if they are a choice that was checked beforehand.
    pub(super) fn checked(&self, packs: &[(Pack, &PackText)]) -> Option<Checker> {
        let names = || packs.iter().map(|(pack, _)| pack.name.as_str());
        let (_, bytes) = self.index().checked.iter().find(|(choice, _)| choice.iter().eq(names()))?;
        decode_checker(bytes, packs)
    }

    fn index(&self) -> &Index {
        self.index.get_or_init(|| self.decode_index().unwrap_or_default())
    }

    fn decode_index(&self) -> Option<Index> {
        let mut all = Reader::new(self.encoded, SourceId::FIRST, &[], true);
        let mut index = Index { headers: Codec::decode(&mut all)?, ..Index::default() };
        for pack in self.packs {
            let trees = pack.files.iter().map(|_| all.part());
            index.trees.push(trees.collect::<Option<_>>()?);
        }
        while !all.is_at_end() {
            index.checked.push((Codec::decode(&mut all)?, all.part()?));
        }
        Some(index)
    }
}

/// A checker from its bytes, with the texts of its packs.
pub(super) fn decode_checker(bytes: &'static [u8], packs: &[(Pack, &PackText)]) -> Option<Checker> {
    let files = lent_files(packs);
    let texts: Vec<&'static str> = files.iter().map(|(_, text)| *text).collect();
    let mut reader = Reader::new(bytes, SourceId::FIRST, &texts, false);
    let mut checker = Checker::decode(&mut reader)?;
    for (name, text) in files {
        checker.rules.sources.add(name, SharedText::from(text));
    }
    reader.is_at_end().then_some(checker)
}

/// Names and texts of all files that last as long as the program, in the order of their sources.
pub(super) fn lent_files(packs: &[(Pack, &PackText)]) -> Vec<(String, &'static str)> {
    let files = packs.iter().flat_map(|(_, text)| text.sorted_files());
    files
        .filter_map(|(name, text)| match text {
            Cow::Borrowed(text) => Some((name.clone(), *text)),
            Cow::Owned(_) => None,
        })
        .collect()
}

//! Trees of the built-in packs, made beforehand, so that no start parses them.
//!
//! `trees.bin` holds the tree of each text under a fingerprint of that text.
//! A text that is not found there is parsed: a stale file costs time and is
//! never wrong. It is of no use at all once the grammar or this room's code
//! has changed, for either decides what tree a text has.

use super::tree::Declaration;
use crate::source::SourceId;
use crate::stored::{Reader, Stored, TREES_REST_ON, Writer, fingerprint};

/// Made by [`trees`], renewed by `cargo test renew_stored -- --ignored`.
static TREES: &[u8] = include_bytes!("trees.bin");

/// The tree of a text, if it is one of those made beforehand; without the
/// worked examples of its items where they are not asked for.
pub(super) fn find(source: SourceId, text: &'static str, examples: bool) -> Option<Vec<Declaration>> {
    let wanted = fingerprint(TREES_REST_ON, text.as_bytes());
    let mut rest = TREES;
    loop {
        let [a, b, len] = header(&mut rest)?;
        let (tree, others) = rest.split_at_checked(usize::try_from(len).ok()?)?;
        if [a, b] == wanted {
            let texts = [text];
            let mut reader = Reader::new(tree, source, &texts, examples);
            let declarations = Stored::read(&mut reader)?;
            return reader.is_at_end().then_some(declarations);
        }
        rest = others;
    }
}

/// Fingerprint and length of the next tree.
fn header(rest: &mut &[u8]) -> Option<[u64; 3]> {
    let mut words = [0; 3];
    for word in &mut words {
        let (chunk, others) = rest.split_first_chunk::<8>()?;
        (*word, *rest) = (u64::from_le_bytes(*chunk), others);
    }
    Some(words)
}

/// What `trees.bin` is to hold for these texts. A text with mistakes is left
/// out, and so is one whose tree does not come back as it was.
pub(crate) fn trees(texts: impl IntoIterator<Item = &'static str>) -> Vec<u8> {
    let mut bytes = Vec::new();
    for text in texts {
        let source = SourceId(0);
        let mut messages = Vec::new();
        let declarations = super::parse_text(source, text, &mut messages);
        let texts = [text];
        let mut writer = Writer::new(&texts);
        declarations.write(&mut writer);
        // A tree is read only from what lasts as long as the program. This is run to renew or to compare the
        // file, at no start, so what it never gives back is the size of that file, once.
        let tree: &'static [u8] = writer.finish().leak();
        let again: Option<Vec<Declaration>> = Stored::read(&mut Reader::new(tree, source, &texts, true));
        let same = again.is_some_and(|again| format!("{again:?}") == format!("{declarations:?}"));
        if messages.is_empty() && same {
            let [a, b] = fingerprint(TREES_REST_ON, text.as_bytes());
            for word in [a, b, tree.len() as u64] {
                bytes.extend(word.to_le_bytes());
            }
            bytes.extend(tree);
        }
    }
    bytes
}

//! The files of packs, from text to tree; much text by two threads.

use crate::diagnostic::Diagnostic;
use crate::source::{SharedText, SourceId, Sources};
use crate::syntax;
use crate::syntax::tree::Declaration;
use std::borrow::Cow;
use std::thread;

/// The largest text of rules that is read.
const MAX_TEXT: usize = 16 << 20;
/// Less text than this is read sooner than a thread has begun.
const WORTH_A_THREAD: usize = 64 << 10;

/// A file to be read: its pack, its number among the sources, its text.
pub(super) type File = (usize, SourceId, SharedText);
/// What was read of a file, and the pack it is of.
pub(super) type Tree = (usize, Vec<Declaration>);

/// Adds the text to the sources, unless it is too large to be read.
#[expect(clippy::ptr_arg, reason = "a text borrowed for ever is kept without a copy")]
pub(super) fn add(
    sources: &mut Sources,
    name: &str,
    text: &Cow<'static, str>,
    messages: &mut Vec<Diagnostic>,
) -> Option<(SourceId, SharedText)> {
    if text.len() > MAX_TEXT {
        let message = format!("`{name}` has {} bytes; at most {MAX_TEXT} are read", text.len());
        messages.push(Diagnostic::error("file::too-large", message).help("split the file"));
        return None;
    }
    let text = SharedText::of(text);
    Some((sources.add(name, text.clone()), text))
}

/// Every file's tree, in the order of the files, and what is wrong with them.
pub(super) fn read(files: &[File], examples: bool) -> (Vec<Tree>, Vec<Diagnostic>) {
    let (here, beside) = files.split_at(half(files));
    if here.is_empty() || beside.is_empty() {
        return one_by_one(files, examples);
    }
    thread::scope(|scope| {
        let reading = thread::Builder::new().spawn_scoped(scope, || one_by_one(beside, examples));
        let (mut trees, mut messages) = one_by_one(here, examples);
        // Where there is no second thread to be had, this one goes on.
        let rest = reading.ok().and_then(|reading| reading.join().ok());
        let (more, said) = rest.unwrap_or_else(|| one_by_one(beside, examples));
        trees.extend(more);
        messages.extend(said);
        (trees, messages)
    })
}

fn one_by_one(files: &[File], examples: bool) -> (Vec<Tree>, Vec<Diagnostic>) {
    let mut messages = Vec::new();
    let tree = |(pack, id, text): &File| (*pack, syntax::parse(*id, text, examples, &mut messages));
    (files.iter().map(tree).collect(), messages)
}

/// How many of the files hold the first half of the text; all, if it is not much.
fn half(files: &[File]) -> usize {
    let all = files.iter().fold(0_usize, |sum, (.., text)| sum.saturating_add(text.len()));
    let mut before = 0_usize;
    let first = |(.., text): &&File| {
        let begins_in_first = before < all / 2;
        before = before.saturating_add(text.len());
        begins_in_first
    };
    if all < WORTH_A_THREAD { files.len() } else { files.iter().take_while(first).count() }
}

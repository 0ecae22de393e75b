//! Makes the bytes of a library. A build script runs this; a program reads
//! what it made.

use super::load::{check_prebuilt, ordered};
use super::manifest::read_manifest;
use super::prebuilt::{Prebuilt, PrebuiltPack, decode_checker, lent_files};
use crate::codec::{Codec, Reader, Writer};
use crate::diagnostic::Diagnostic;
use crate::source::{SourceId, Sources};
use crate::syntax;
use crate::syntax::ast::Declaration;

/// What [`Prebuilt::new`] is to be given for these packs: their manifests, the
/// tree of each file, and the checker after each choice of packs. A text or a
/// choice with anything to be said of it is left out and comes back as a
/// message, and so does one that does not decode.
///
/// # Errors
/// If a manifest cannot be read, or the packs of a choice do not belong together.
pub fn encode_prebuilt(
    packs: &'static [PrebuiltPack],
    choices: &[Vec<&str>],
) -> Result<(Vec<u8>, Sources, Vec<Diagnostic>), Vec<Diagnostic>> {
    let (mut all, mut sources, mut messages) = (Writer::new(&[]), Sources::default(), Vec::new());
    let headers: Result<Vec<_>, _> = packs.iter().map(|pack| read_manifest(&pack.text())).collect();
    headers.map_err(|message| vec![message])?.encode(&mut all);
    for (name, text) in packs.iter().flat_map(|pack| pack.files) {
        let source = sources.add(*name, *text);
        all.part(&encode_tree(source, text, &mut messages));
    }
    // Nothing can be said of packs together before each file can be parsed.
    if !messages.is_empty() {
        return Ok((all.finish(), sources, messages));
    }
    // From here on the trees stand for the texts.
    let trees: &'static [u8] = all.clone().finish().leak();
    let library = Prebuilt::new(packs, trees);
    for choice in choices {
        let texts = library.with_uses(choice).map_err(|message| vec![message])?;
        let texts = ordered(&library, &texts)?;
        let checker = check_prebuilt(&library, &texts, false, &mut messages);
        let lent = lent_files(&texts);
        let borrowed: Vec<&'static str> = lent.iter().map(|(_, text)| *text).collect();
        let mut writer = Writer::new(&borrowed);
        checker.encode(&mut writer);
        // Only what lasts as long as the program can be read; a build script ends soon.
        let bytes: &'static [u8] = writer.finish().leak();
        if !checker.messages.is_empty() {
            return Ok((all.finish(), checker.rules.sources, checker.messages));
        }
        if decode_checker(bytes, &texts).is_none() {
            messages.push(lost(&format!("the choice {}", choice.join(", "))));
            continue;
        }
        texts.iter().map(|(pack, _)| pack.name.clone()).collect::<Vec<_>>().encode(&mut all);
        all.part(bytes);
    }
    Ok((all.finish(), sources, messages))
}

/// The bytes of a text's tree; none for a text with mistakes.
fn encode_tree(source: SourceId, text: &'static str, messages: &mut Vec<Diagnostic>) -> Vec<u8> {
    // What is decoded stands in whatever source the text is then; what is encoded stands in the first.
    let mut found = Vec::new();
    let declarations = syntax::parse(SourceId::FIRST, text, &mut found);
    if !found.is_empty() {
        for label in found.iter_mut().flat_map(|message| &mut message.labels) {
            label.span.source = source;
        }
        messages.append(&mut found);
        return Vec::new();
    }
    let texts = [text];
    let mut writer = Writer::new(&texts);
    declarations.encode(&mut writer);
    // Only what lasts as long as the program can be read; a build script ends soon.
    let bytes: &'static [u8] = writer.finish().leak();
    let again: Option<Vec<Declaration>> = Codec::decode(&mut Reader::new(bytes, SourceId::FIRST, &texts, true));
    if again.is_none() {
        messages.push(lost("a syntax tree"));
        return Vec::new();
    }
    bytes.to_vec()
}

fn lost(what: &str) -> Diagnostic {
    Diagnostic::error("internal::codec", format!("{what} does not decode"))
        .help("every field that decides anything belongs into its `all_of!` or `one_of!`")
}

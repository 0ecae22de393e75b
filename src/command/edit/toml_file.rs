//! A file that is to be changed must be sound TOML before and after.

use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::project::{encoding, is_plain_log, too_deep};
use cotterpin_engine::source::{MOST_BYTES, Sources, Span};
use toml::de::DeTable;

/// The bytes as text, if they are TOML.
///
/// # Errors
/// What is wrong, and where, with the text it points into.
pub(in crate::command) fn checked(name: &str, bytes: &[u8]) -> Result<String, Box<(Sources, Diagnostic)>> {
    let mut sources = Sources::default();
    let wrong = |sources: Sources, code, message: String, span, help: &str| {
        Box::new((sources, Diagnostic::error(code, message).at(span, "").help(help)))
    };
    let text = match encoding::text(bytes) {
        Ok(text) => text,
        Err(wrong) => {
            let message = wrong.shown(name, bytes, &mut sources);
            return Err(Box::new((sources, message)));
        }
    };
    if text.len() > MOST_BYTES {
        let id = sources.add(name, "");
        let message = format!("`{name}` is larger than a file that people write");
        return Err(wrong(sources, "file::too-large", message, Span::new(id, 0, 0), "begin another file"));
    }
    if is_plain_log(text) {
        return Ok(text.to_owned());
    }
    let id = sources.add(name, text.to_owned());
    if let Some(message) = too_deep(id, text) {
        return Err(Box::new((sources, message)));
    }
    match DeTable::parse(text) {
        Ok(_) => Ok(text.to_owned()),
        Err(error) => {
            let at = error.span().unwrap_or(0..0);
            let message = format!("this is not TOML: {}", error.message());
            let help = "mend this place first; a file that cannot be read is never changed";
            Err(wrong(sources, "toml::invalid", message, Span::new(id, at.start, at.end), help))
        }
    }
}

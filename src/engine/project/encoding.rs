//! How a text was saved: UTF-8 is read, with its mark or without; of anything else it is said what to do.

use crate::diagnostic::Diagnostic;
use crate::source::{Sources, Span};

/// So many bytes of a file tell whether every second one is zero.
const HEAD: usize = 512;

/// The bytes of a file that are no text in UTF-8.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NotText {
    /// Text in UTF-16, which some editors and shells write.
    Utf16,
    /// Anything else; the first byte that does not belong there, and where.
    Other(u8, usize),
}

/// The bytes as text.
///
/// # Errors
/// What they are instead.
pub fn text(bytes: &[u8]) -> Result<&str, NotText> {
    if order_of_utf16(bytes).is_some() {
        return Err(NotText::Utf16);
    }
    std::str::from_utf8(bytes).map_err(|error| {
        let at = error.valid_up_to();
        NotText::Other(bytes.get(at).copied().unwrap_or_default(), at)
    })
}

/// A text as people may have saved it: UTF-8, or UTF-16; what fits neither is replaced.
#[must_use]
pub fn decoded(bytes: &[u8]) -> String {
    let Some(order) = order_of_utf16(bytes) else { return String::from_utf8_lossy(bytes).into_owned() };
    let units = bytes.chunks_exact(2).filter_map(|two| two.try_into().ok().map(order));
    char::decode_utf16(units).map(|letter| letter.unwrap_or(char::REPLACEMENT_CHARACTER)).collect()
}

/// Two bytes as one unit of UTF-16.
type Order = fn([u8; 2]) -> u16;

/// The order of the bytes, where they are UTF-16: by its mark, or because every second byte is zero and no other is,
/// as in no other text.
fn order_of_utf16(bytes: &[u8]) -> Option<Order> {
    let (little, big): (Order, Order) = (u16::from_le_bytes, u16::from_be_bytes);
    match bytes {
        [0xFF, 0xFE, ..] => return Some(little),
        [0xFE, 0xFF, ..] => return Some(big),
        [0, _, ..] | [_, 0, ..] => {}
        _ => return None,
    }
    let head = bytes.get(..HEAD).unwrap_or(bytes);
    let all = |wanted: fn(&[u8]) -> bool| head.len() >= 4 && head.chunks_exact(2).all(wanted);
    if all(|two| matches!(two, [low, 0] if *low != 0)) {
        Some(little)
    } else if all(|two| matches!(two, [0, low] if *low != 0)) {
        Some(big)
    } else {
        None
    }
}

impl NotText {
    /// What it is, after the name of the file.
    #[must_use]
    pub fn what(self) -> &'static str {
        match self {
            Self::Utf16 => "is text in UTF-16, not in UTF-8",
            Self::Other(..) => "is not text in UTF-8",
        }
    }

    /// The message about the file of that name.
    #[must_use]
    pub fn told(self, name: &str) -> Diagnostic {
        let help = match self {
            Self::Utf16 => {
                "save it as UTF-8: in Notepad, choose `Save as` and UTF-8 beside `Encoding`; PowerShell's `>` writes UTF-16, and `| Out-File -Encoding utf8` in its place does not"
            }
            Self::Other(..) => "save it as UTF-8: editors have the encoding under `Save as`",
        };
        Diagnostic::error("file::not-text", format!("`{name}` {}", self.what())).help(help)
    }

    /// The same with its place in the file, which is added to `sources`.
    #[must_use]
    pub fn shown(self, name: &str, bytes: &[u8], sources: &mut Sources) -> Diagnostic {
        let text = decoded(bytes);
        let (start, end, label) = match self {
            Self::Utf16 => {
                (0, text.chars().next().map_or(0, char::len_utf8), "every letter here takes two bytes".to_owned())
            }
            // Counted in the text with the bad bytes replaced, which is the same up to the first of them.
            Self::Other(byte, at) => {
                let end = at.saturating_add(char::REPLACEMENT_CHARACTER.len_utf8());
                (at, end, format!("byte 0x{byte:02X} does not belong here"))
            }
        };
        let source = sources.add(name.to_owned(), text);
        self.told(name).at(Span::new(source, start, end), label)
    }
}

#[cfg(test)]
mod tests {
    use super::{NotText, decoded, text};
    use proptest::prelude::*;

    fn saved(letters: &str, marked: bool, order: fn(u16) -> [u8; 2]) -> Vec<u8> {
        let mark = marked.then_some(0xFEFF);
        mark.into_iter().chain(letters.encode_utf16()).flat_map(order).collect()
    }

    proptest! {
        #[test]
        fn utf_8_is_read_and_utf_16_is_known(letters in "[a-z =\"\\[\\]#\r\nß]{2,40}", plain in "[a-z =\"#\r\n]{2,40}") {
            prop_assert_eq!(text(letters.as_bytes()), Ok(letters.as_str()));
            prop_assert_eq!(decoded(letters.as_bytes()), letters.clone());
            for order in [u16::to_le_bytes, u16::to_be_bytes] {
                let marked = saved(&letters, true, order);
                prop_assert_eq!(text(&marked), Err(NotText::Utf16));
                prop_assert_eq!(decoded(&marked), format!("\u{feff}{letters}"));
                let bare = saved(&plain, false, order);
                prop_assert_eq!(text(&bare), Err(NotText::Utf16));
                prop_assert_eq!(decoded(&bare), plain.clone());
            }
        }
    }

    #[test]
    fn other_bytes_are_placed() {
        assert_eq!(text(b"gr\xFC\xDFe"), Err(NotText::Other(0xFC, 2)));
        assert_eq!(text(b""), Ok(""));
        assert_eq!(text(b"a\0"), Ok("a\0"));
        assert_eq!(text(&[0; 8]), Ok("\0\0\0\0\0\0\0\0"));
    }
}

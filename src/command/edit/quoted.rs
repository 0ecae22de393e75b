//! Texts and keys as TOML writes them, each on one line.

use cotterpin_engine::source::is_unshowable;

/// A basic string. Characters that move the cursor, hide or turn text round
/// are written by number, so that the file shows what it holds.
pub(in crate::command) fn quoted(text: &str) -> String {
    let mut out = String::with_capacity(text.len().saturating_add(2));
    out.push('"');
    for letter in text.chars() {
        match letter {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '\n' => out.push_str("\\n"),
            '\r' => out.push_str("\\r"),
            '\t' => out.push_str("\\t"),
            _ if is_unshowable(letter) => {
                let number = u32::from(letter);
                out.push_str(&if number > 0xffff { format!("\\U{number:08X}") } else { format!("\\u{number:04X}") });
            }
            _ => out.push(letter),
        }
    }
    out.push('"');
    out
}

/// A key, bare where TOML allows it.
pub(in crate::command) fn key(name: &str) -> String {
    let bare = |letter: u8| letter.is_ascii_alphanumeric() || letter == b'_' || letter == b'-';
    if !name.is_empty() && name.bytes().all(bare) { name.to_owned() } else { quoted(name) }
}

#[cfg(test)]
mod tests {
    use super::{key, quoted};

    /// The reader is the `toml` crate's, which did not write it.
    #[test]
    fn every_text_comes_back() {
        let letters: String = (0u32..0x3000)
            .chain(0xfe00..=0xffff)
            .chain(0x1f600..0x1f610)
            .chain(0xe0000..0xe0200)
            .filter_map(char::from_u32)
            .collect();
        for text in [letters.as_str(), "", "\"\"\"", "'''", "a\\u0041", "x # y", "\r\n", "ends with \\"] {
            let file = format!("note = {}\n", quoted(text));
            assert_eq!(file.lines().count(), 1, "{file}");
            let read: toml::Table = file.parse().expect("it parses");
            assert_eq!(read["note"].as_str(), Some(text));
            let read: toml::Table = format!("{} = 1\n", key(text)).parse().expect("it parses");
            assert!(read.contains_key(text));
        }
    }
}

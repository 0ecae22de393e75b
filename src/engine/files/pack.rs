//! Which files are a pack's, by their names and by what they hold.

use super::file_names::{ending, is_left_by_a_program, is_text_by_name};
use crate::diagnostic::Diagnostic;
use crate::project::encoding::decoded;

/// What a pack says of itself.
pub(super) const MANIFEST: &str = "pack.toml";
/// What the names of rule files end in.
pub(super) const RULES: &str = ".checklist";

/// What a file of a pack is to its reader.
pub(super) enum Standing {
    /// Its rules are read.
    Rules,
    /// It looks as if it held rules, and is not read: why.
    Passed(&'static str),
    /// It has nothing to do with rules.
    Other,
}

/// What a file is by its name, and if that does not tell, by whether it holds rules.
pub(super) fn by_name(name: &str, holds_rules: impl FnOnce() -> bool) -> Standing {
    let is_named = name.ends_with(RULES);
    if is_left_by_a_program(name) {
        Standing::Other
    } else if is_named && name.starts_with('.') {
        Standing::Passed("its name begins with a dot, which hides it: take the dot away, or take it out of the pack")
    } else if is_named {
        Standing::Rules
    } else if name != MANIFEST && name.to_lowercase().ends_with(".toml") {
        Standing::Passed("a pack holds rules: facts, the log and words stand outside its folder, where they are read")
    } else if name.to_lowercase().contains(RULES)
        || (is_text_by_name(name) || ending(name).starts_with("che")) && holds_rules()
    {
        Standing::Passed(
            "a rule file's name ends in `.checklist`, in small letters: name it so, or take it out of the pack",
        )
    } else {
        Standing::Other
    }
}

/// Whether a text has a line that begins as a declaration of rules does.
pub(super) fn states_rules(bytes: &[u8]) -> bool {
    let text = decoded(bytes);
    text.split(['\n', '\r']).any(|line| {
        let words: Vec<&str> = line.trim_start_matches('\u{FEFF}').split_whitespace().take(4).collect();
        match words.as_slice() {
            ["item" | "amend" | "list", name] | ["set", "aside", name] => name.contains('.'),
            ["item", name, next, ..] => name.contains('.') && (next.starts_with('"') || *next == "for"),
            ["set", "aside", name, next] => name.contains('.') && ["because", "basis", "cite"].contains(next),
            ["fact", name, ":", ..] => name.contains('.'),
            ["disturbing", _, "also", "disturbs"] => true,
            _ => false,
        }
    })
}

/// Says that a file is not read.
pub(super) fn not_read(path: &str, why: &str) -> Diagnostic {
    let message = format!("`{path}` looks like rules of this pack and is not read");
    Diagnostic::error("pack::not-read", message).help(why)
}

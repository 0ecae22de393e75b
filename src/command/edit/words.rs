//! The words of a project that a line of the log may use.

use cotterpin_engine::project::Header;
use cotterpin_packs::{PackText, declared_words};

/// A declared word and its title.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::command) struct Word {
    pub(in crate::command) name: String,
    pub(in crate::command) title: String,
}

/// The words of a project and its packs.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(in crate::command) struct Words {
    pub(in crate::command) subjects: Vec<Word>,
    /// The builder's own parts, which no pack knows.
    pub(in crate::command) parts: Vec<Word>,
    /// Those of both that the aircraft can be without.
    pub(in crate::command) can_be_left_off: Vec<String>,
    pub(in crate::command) zones: Vec<Word>,
    pub(in crate::command) roles: Vec<Word>,
    pub(in crate::command) hold_points: Vec<Word>,
}

impl Words {
    pub(in crate::command) fn of(header: &Header, packs: &[PackText]) -> Self {
        let words = declared_words(packs);
        let list =
            |titles: Vec<(String, String)>| titles.into_iter().map(|(name, title)| Word { name, title }).collect();
        let own = header.parts.iter().filter(|(_, part)| part.can_be_left_off).map(|(name, _)| name.clone());
        Self {
            can_be_left_off: words.can_be_left_off.into_iter().chain(own).collect(),
            subjects: list(words.subjects),
            parts: list(header.parts.iter().map(|(name, part)| (name.clone(), part.title.clone())).collect()),
            zones: list(words.zones),
            roles: list(words.roles),
            hold_points: list(words.hold_points),
        }
    }
}

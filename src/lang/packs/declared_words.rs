//! The words that packs declare, found without checking the packs.
//!
//! A line of the log must be written quickly, and even where a pack of the
//! builder's own has a mistake: what cannot be read of a pack is left out.

use super::prebuilt::Prebuilt;
use super::text::PackText;
use crate::source::{SharedText, Sources};
use crate::syntax;
use crate::syntax::ast::{Declaration, WordsKind};

/// The words of a set of packs that a line of the log may use, with their titles.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Words {
    /// The parts among the subjects that an aircraft can be without.
    pub can_be_left_off: Vec<String>,
    /// Parts that can be inspected or disturbed.
    pub subjects: Vec<(String, String)>,
    /// Zones.
    pub zones: Vec<(String, String)>,
    /// Roles.
    pub roles: Vec<(String, String)>,
    /// Hold points.
    pub hold_points: Vec<(String, String)>,
}

/// The words that packs declare, in the order they stand.
///
/// ```
/// use cotterpin_lang::packs::{Prebuilt, PackText, declared_words};
/// let text = "subjects\n  canopy.latch \"Canopy latch\"\nitem broken".to_owned();
/// let pack = PackText { files: vec![("kit.checklist".into(), text.into())], ..PackText::default() };
/// assert_eq!(declared_words(&Prebuilt::empty(), &[pack]).subjects, [("canopy.latch".to_owned(), "Canopy latch".to_owned())]);
/// ```
#[must_use]
pub fn declared_words(library: &Prebuilt, packs: &[PackText]) -> Words {
    let (mut words, mut sources) = (Words::default(), Sources::default());
    for pack in packs {
        let lent = library.find(pack);
        for (place, (name, text)) in pack.sorted_files().into_iter().enumerate() {
            let text = SharedText::from(text.clone());
            let id = sources.add(name.clone(), text.clone());
            let ready = lent.and_then(|pack| library.tree(pack, place, id, false));
            words.add(ready.unwrap_or_else(|| syntax::parse(id, &text, &mut Vec::new())));
        }
    }
    words
}

impl Words {
    fn add(&mut self, declarations: Vec<Declaration>) {
        for declaration in declarations {
            let Declaration::Words(kind, declared) = declaration else { continue };
            let titles = match kind {
                WordsKind::Subjects => &mut self.subjects,
                WordsKind::Zones => &mut self.zones,
                WordsKind::Roles => &mut self.roles,
                WordsKind::HoldPoints => &mut self.hold_points,
                WordsKind::Systems | WordsKind::Evidence => continue,
            };
            let off = declared.iter().filter(|word| word.can_be_left_off.is_some());
            self.can_be_left_off.extend(off.map(|word| String::from(word.name.text.clone())));
            titles.extend(declared.into_iter().map(|word| (word.name.text.into(), word.title.text.into())));
        }
    }
}

//! What a project says by naming its country: where it will be registered, unless its files say otherwise.

use super::header::Header;
use super::{Record, Recorded, Value};
use crate::ir::{ChoiceSet, Rules};

/// Takes what the country's pack says of such a project as recorded, where nothing else is, right or not.
pub(super) fn take_over(header: &Header, rules: &Rules, record: &mut Record) {
    let Some(country) = &header.country else { return };
    let place = header.packs.iter().find(|(name, _)| name == country).map_or(header.place, |(_, place)| *place);
    let pack = rules.packs.iter().find(|pack| pack.name == *country);
    for (name, word) in pack.into_iter().flat_map(|pack| &pack.country_means) {
        let Some(id) = rules.fact_by_name.get(name).copied() else { continue };
        let words = rules.fact(id).map(|fact| rules.words(fact.kind)).unwrap_or_default();
        let Some(at) = words.iter().position(|known| known == word) else { continue };
        let unread = record.not_taken_in.iter().any(|(unread, _)| unread == name.as_str());
        if !unread {
            let (value, text) = (Value::Words(ChoiceSet::word(at)), word.to_string());
            let said = Recorded { value, text, read_as: None, unit: None, taken: None, place };
            record.facts.entry(id).or_insert(said);
        }
    }
}

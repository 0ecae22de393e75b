//! What people's words about parts are worth, by what the log has done to those parts since.

use super::logbook::{EntryStanding, Logbook};
use super::states::StateOf;
use crate::ir::{AboutId, Arena, PartOrAll};
use crate::project::{Confirmation, Entry, LastDisturbed};
use crate::quantity::Date;
use crate::vocabulary::Event;
use std::cmp::Ordering;

impl<'a> Logbook<'a> {
    /// For each of what people's words are about, when one of its parts may have
    /// been disturbed last. Only a word that was certainly given later still
    /// counts: it has no place among the lines of the log.
    pub(crate) fn last_disturbed(&self) -> Arena<AboutId, Option<LastDisturbed>> {
        let of_part = |about: &PartOrAll| {
            let off = about.part().filter(|part| self.removals().gone(part).is_none());
            let is_off = match about.part() {
                None => self.removals().something_off().is_some(),
                Some(_) => off.is_some_and(|part| self.off(StateOf::looked_at(Some(part))).is_some()),
            };
            if is_off {
                // Whatever is said of it now is not of it as fitted.
                return Date::new(9999, 12, 31).map(|day| LastDisturbed { day, at: None });
            }
            // What the aircraft is without is no longer spoken of.
            if about.part().is_some() && off.is_none() {
                return None;
            }
            let disturbed = self.disturbed_of(StateOf::looked_at(about.part()));
            disturbed.last.first().map(|entry| LastDisturbed { day: entry.on.last, at: time_of(&disturbed.last) })
        };
        let later = |one: LastDisturbed, other: LastDisturbed| match one.day.cmp(&other.day) {
            Ordering::Less => other,
            Ordering::Greater => one,
            // Where one of them has no time, it may have been at any.
            Ordering::Equal => {
                LastDisturbed { day: one.day, at: one.at.zip(other.at).map(|(one, other)| one.max(other)) }
            }
        };
        self.rules.program.abouts.iter().map(|parts| parts.iter().filter_map(of_part).reduce(later)).collect()
    }

    /// How a person's word about parts stands, and for which of them it does so:
    /// the worst of all. [`last_disturbed`](Self::last_disturbed) says quickly whether it counts.
    pub(crate) fn standing_of_word<'p>(
        &self,
        word: &Confirmation,
        parts: &'p [PartOrAll],
    ) -> (EntryStanding<'a>, Option<&'p str>) {
        // As an entry of a file whose lines say nothing of which came first.
        let as_entry =
            Entry { in_order: false, at: word.at, ..Entry::new(Event::Inspected, "", &word.who, word.on, word.place) };
        let mut worst = (EntryStanding::Counts, None);
        let spoken_of = parts.iter().map(PartOrAll::part);
        for part in spoken_of.filter(|part| part.is_none_or(|part| self.removals().gone(part).is_none())) {
            let standing = self.standing(&as_entry, StateOf::looked_at(part));
            let worse = match (standing, worst.0) {
                (EntryStanding::Lapsed(by), EntryStanding::Lapsed(first)) => {
                    (by.on.first, by.place) < (first.on.first, first.place)
                }
                (EntryStanding::Lapsed(_), _) => true,
                (_, EntryStanding::Lapsed(_) | EntryStanding::Unclear(_)) | (EntryStanding::Counts, _) => false,
                _ => true,
            };
            if worse {
                worst = (standing, part);
            }
        }
        worst
    }
}

/// The time of the last of entries of one day, if each is known to have been on that day and says when.
fn time_of(last: &[&Entry]) -> Option<u32> {
    let known = |entry: &&Entry| entry.at.filter(|_| entry.on.first == entry.on.last);
    last.iter().map(known).try_fold(0, |latest, at| Some(at?.max(latest)))
}

//! The names that can be completed: those of the project that one stands in.

use super::edit::{Folder, ProjectNames, Word};
use super::here::here;
use super::project_rules::load_rules;
use clap_complete::engine::{CompletionCandidate, ValueCompleter};
use cotterpin_engine::ir::{Fact, Item, Rules};
use cotterpin_engine::source::{is_unshowable, visible};
use cotterpin_engine::vocabulary::Event;
use std::ffi::OsStr;
use std::sync::Arc;

/// The names of one kind that can stand in a place.
#[derive(Clone, Copy)]
pub(super) enum Names {
    /// What happened, and what it happened to.
    Log,
    /// People.
    Who,
    /// Roles.
    Roles,
    /// Zones.
    Zones,
    /// Hold points.
    HoldPoints,
    /// Hold points and zones about to be closed.
    By,
    /// Items.
    Items,
    /// Items that ask for a person's word, lists, and the log.
    Words,
    /// Facts, lists and fields.
    Facts,
    /// First words of the questions.
    Systems,
}

impl ValueCompleter for Names {
    fn complete(&self, current: &OsStr) -> Vec<CompletionCandidate> {
        let typed = current.to_string_lossy();
        let names = self.names().unwrap_or_default();
        // The shell puts it into the line as it is.
        let can_be_typed = |name: &Word| !name.name.chars().any(is_unshowable);
        let begun = names.into_iter().filter(|name| name.name.starts_with(&*typed) && can_be_typed(name));
        let help = |title: &str| Some(visible(title).into_owned().into());
        begun.map(|name| CompletionCandidate::new(&name.name).help(help(&name.title))).collect()
    }
}

impl Names {
    /// Every name with what it means; nothing where there is no project, or none that can be read.
    fn names(self) -> Option<Vec<Word>> {
        let plain = |name: &str, title: &str| Word { name: name.to_owned(), title: title.to_owned() };
        let declared = || {
            let path = here();
            let folder = Folder::look(&path).ok()?;
            ProjectNames::read(&folder, &path).ok()
        };
        Some(match self {
            Self::Log => {
                let events = Event::ALL.iter().map(|event| plain(event.words(), "")).collect();
                let words = declared()?.words;
                [events, words.subjects, words.parts, words.zones].concat()
            }
            Self::Who => {
                let people = declared()?.header.people;
                people.iter().map(|(short, person)| plain(short, &person.name)).collect()
            }
            Self::Roles => declared()?.words.roles,
            Self::Zones => declared()?.words.zones,
            Self::HoldPoints => declared()?.words.hold_points,
            Self::By => {
                let words = declared()?.words;
                let closing = words.zones.into_iter();
                let closing = closing.map(|zone| Word { name: format!("close:{}", zone.name), title: zone.title });
                words.hold_points.into_iter().chain(closing).collect()
            }
            Self::Items => items(&*rules()?, |_| true),
            Self::Words => {
                let rules = rules()?;
                let lists = rules.lists.iter().map(|list| plain(&list.name, &list.ask));
                let log = plain("log", "The log tells all work that was done");
                items(&rules, |item| item.confirm).into_iter().chain(lists).chain([log]).collect()
            }
            Self::Facts => facts(&*rules()?),
            Self::Systems => {
                let rules = rules()?;
                rules.systems.iter().map(|system| plain(&system.name, &system.title)).collect()
            }
        })
    }
}

fn rules() -> Option<Arc<Rules>> {
    load_rules(&here()).ok().map(|(_, rules)| rules.shared())
}

fn items(rules: &Rules, which: impl Fn(&Item) -> bool) -> Vec<Word> {
    let word = |item: &Item| Word { name: item.name.to_string(), title: item.title.to_string() };
    let mut words: Vec<Word> = rules.items.iter().filter(|item| which(item)).map(word).collect();
    words.dedup_by(|a, b| a.name == b.name);
    words
}

/// Facts and lists, and the fields of lists, which can be recorded for all records alike.
fn facts(rules: &Rules) -> Vec<Word> {
    let facts = rules
        .fact_by_name
        .iter()
        .filter_map(|(name, id)| Some(Word { name: name.to_string(), title: rules.fact(*id)?.ask.to_string() }));
    let lists = rules.lists.iter().flat_map(|list| {
        let field = |field: &Fact| Word { name: format!("{}.{}", list.name, field.name), title: field.ask.to_string() };
        let itself = Word { name: list.name.to_string(), title: list.ask.to_string() };
        [itself].into_iter().chain(list.fields.iter().map(field)).collect::<Vec<_>>()
    });
    facts.chain(lists).collect()
}

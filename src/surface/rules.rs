//! Packs checked together, and what they declare.

use super::message::{LoadError, Message};
use super::pack::Pack;
use cotterpin_engine::audit::Readers;
use cotterpin_engine::ir::{self, Pack as PackInfo};
use cotterpin_engine::rules::{PackText, load_packs_to_audit};
use cotterpin_engine::vocabulary::Basis;
use std::sync::{Arc, OnceLock};

/// Checked packs, ready to audit any number of projects. Cheap to clone.
///
/// ```
/// use cotterpin::{Pack, Rules};
///
/// let rules = Rules::new(Pack::built_in(&["workmanship"])?)?;
/// let stops = rules.items().filter(|item| item.stops_the_visit).count();
/// assert!(stops > 0 && rules.hold_points().any(|(name, _)| name == "visit"));
/// # Ok::<(), cotterpin::LoadError>(())
/// ```
#[derive(Debug, Clone)]
pub struct Rules {
    pub(super) checked: Arc<ir::Rules>,
    /// Gathered once a session asks for them.
    readers: Arc<OnceLock<Arc<Readers>>>,
}

/// What a pack asks of the builder: a fact, or a field of a list's records.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub struct FactView<'r> {
    /// Its name, as it is recorded.
    pub name: &'r str,
    /// The question.
    pub ask: &'r str,
    /// An example of an answer.
    pub example: Option<&'r str>,
    /// Whether it may be `none`.
    pub optional: bool,
}

/// A list of records.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct ListView<'r> {
    /// Its name, as it is recorded.
    pub name: &'r str,
    /// The question.
    pub ask: &'r str,
    /// What each record has.
    pub fields: Vec<FactView<'r>>,
    /// The field that names a record.
    pub named_by: &'r str,
}

/// An item: something that is asked of the aircraft.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct ItemView<'r> {
    /// Its full name: `us/marks.height`.
    pub name: String,
    /// What is so when it is met.
    pub title: &'r str,
    /// The hold point by which it must be met.
    pub by: &'r str,
    /// The zone one looks in.
    pub zone: Option<&'r str>,
    /// What kind of word it is.
    pub basis: Basis,
    /// The list for each record of which it is raised.
    pub each: Option<&'r str>,
    /// While it is open it can end the visit.
    pub stops_the_visit: bool,
}

impl Rules {
    /// Checks packs together; one that builds on another needs that one, in any order.
    ///
    /// # Errors
    /// Every mistake found in any of them.
    pub fn new(packs: impl IntoIterator<Item = Pack>) -> Result<Self, LoadError> {
        let texts: Vec<PackText> = packs.into_iter().map(|pack| pack.0).collect();
        #[cfg(feature = "packs")]
        let checked = load_packs_to_audit(&cotterpin_packs::LIBRARY, &texts);
        #[cfg(not(feature = "packs"))]
        let checked = load_packs_to_audit(&cotterpin_engine::rules::Prebuilt::empty(), &texts);
        checked.map(Self::of).map_err(|failed| LoadError::of(&failed.1, &failed.0))
    }

    pub(super) fn of(checked: ir::Rules) -> Self {
        Self { checked: Arc::new(checked), readers: Arc::default() }
    }

    /// Which items read what.
    pub(super) fn readers(&self) -> Arc<Readers> {
        Arc::clone(self.readers.get_or_init(|| Arc::new(Readers::new(&self.checked))))
    }

    /// What is probably not as meant in the packs.
    #[must_use]
    pub fn warnings(&self) -> Vec<Message> {
        Message::all(&self.checked.warnings, &self.checked.sources)
    }

    /// The packs, each after those it builds on.
    pub fn packs(&self) -> impl Iterator<Item = &PackInfo> {
        self.checked.packs.iter()
    }

    /// Every fact that can be recorded.
    pub fn facts(&self) -> impl Iterator<Item = FactView<'_>> {
        self.checked.fact_by_name.iter().filter_map(|(name, id)| Some(fact(name, self.checked.fact(*id)?)))
    }

    /// Every list that can be recorded.
    pub fn lists(&self) -> impl Iterator<Item = ListView<'_>> {
        let lists = self.checked.list_by_name.iter().filter_map(|(name, id)| Some((name, self.checked.list(*id)?)));
        lists.filter(|(_, list)| !list.derived()).map(|(name, list)| ListView {
            name,
            ask: &list.ask,
            fields: list.fields.iter().map(|field| fact(&field.name, field)).collect(),
            named_by: list.fields.get(list.named_by).map_or("", |field| &field.name),
        })
    }

    /// Every item, in the order of the packs; one with several wordings comes once for each.
    pub fn items(&self) -> impl Iterator<Item = ItemView<'_>> {
        let rules = &*self.checked;
        rules.items.iter().map(|item| ItemView {
            name: rules.full_name(item),
            title: &item.title,
            by: rules.hold_points.get(item.by).map_or("", |point| &point.name),
            zone: item.zone.and_then(|zone| rules.zones.get(zone)).map(|zone| zone.name.as_str()),
            basis: item.basis,
            each: item.each.and_then(|list| rules.list(list)).map(|list| list.name.as_str()),
            stops_the_visit: item.stops_the_visit,
        })
    }

    /// The hold points in their order: name and title.
    pub fn hold_points(&self) -> impl Iterator<Item = (&str, &str)> {
        self.checked.hold_points.iter().map(|point| (point.name.as_str(), point.title.as_str()))
    }

    /// The zones in the order in which one walks round the aircraft: name and title.
    pub fn zones(&self) -> impl Iterator<Item = (&str, &str)> {
        self.checked.zones.iter().map(|zone| (zone.name.as_str(), zone.title.as_str()))
    }
}

fn fact<'r>(name: &'r str, fact: &'r ir::Fact) -> FactView<'r> {
    FactView { name, ask: &fact.ask, example: fact.example.as_deref(), optional: fact.optional }
}

//! What is disturbed by work on one part: itself, the parts above and below
//! it, and whatever a pack says is disturbed with it, in turn.

use crate::ir::{Arena, Disturbance, IdOf, Rules, ZoneId};
use crate::project::{Entry, Record};
use crate::vocabulary::Event;
use std::collections::{BTreeMap, BTreeSet, VecDeque};

/// The parts that lie in a zone, and in which.
pub(super) type Places<'a> = Vec<(&'a str, ZoneId)>;

/// Where the parts lie that a pack or the builder names.
pub(super) fn places<'a>(rules: &'a Rules, record: &'a Record) -> Places<'a> {
    let declared = rules.subjects.iter().map(|part| part.name.as_str());
    let parts = declared.chain(record.parts.keys().map(String::as_str));
    let at = |zone: &str| rules.zones.position(|known| known.name == zone);
    parts.filter_map(|part| Some((part, zone_of(rules, record, part).and_then(at)?))).collect()
}

/// How far a step of an entry reaches.
#[derive(Debug, Clone, Copy)]
pub(super) struct Extent {
    /// To what its part is a part of, as well.
    pub(super) upward: bool,
    /// It only lies open there.
    pub(super) laid_open: bool,
}

/// Everything one entry disturbs.
#[derive(Debug)]
pub(crate) struct Reach<'a> {
    steps: Arena<StepId, Step<'a>>,
}

/// One step from what was worked on to a part that this disturbs.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Through {
    /// One is a part of the other.
    PartOf {
        /// The part.
        small: String,
        /// What it is a part of.
        large: String,
    },
    /// A part lies where something was opened.
    LiesIn {
        /// The part.
        part: String,
        /// Its zone.
        zone: String,
    },
    /// A pack says that one disturbs the other.
    Declared {
        /// The pack.
        pack: String,
        /// What is disturbed.
        before: String,
        /// The part that the pack names, if it is another.
        by_way_of: Option<String>,
        /// What is disturbed by it.
        after: String,
    },
}

type StepId = IdOf<Step<'static>>;

/// A part that is disturbed, and through which other one.
#[derive(Debug, Clone, Copy)]
struct Step<'a> {
    part: &'a str,
    /// What stands above it is disturbed as well. Opening a cowl does not
    /// disturb the engine.
    upward: bool,
    /// It only lies where something was opened for the visit.
    laid_open: bool,
    /// Its zone, where that is what was opened, or reaches into it.
    zone: Option<ZoneId>,
    /// The step and the pack's declaration it follows from.
    from: Option<(StepId, &'a Disturbance)>,
}

/// Whether one is the other, or a part of it.
pub(super) fn related(a: &str, b: &str) -> bool {
    a == b || is_below(a, b) || is_below(b, a)
}

/// Whether `part` is a part of `whole`.
pub(crate) fn is_below(part: &str, whole: &str) -> bool {
    // Most names are no longer, or go on otherwise: that is seen without comparing them.
    part.as_bytes().get(whole.len()) == Some(&b'.') && part.starts_with(whole)
}

/// That one is a part of the other, where they are two.
pub(super) fn part_of(one: &str, other: &str) -> Option<Through> {
    let (small, large) = if is_below(one, other) { (one, other) } else { (other, one) };
    (one != other).then(|| Through::PartOf { small: small.to_owned(), large: large.to_owned() })
}

/// The zone a part is in: its own, or that of the nearest part above it.
pub(crate) fn zone_of<'a>(rules: &'a Rules, record: &'a Record, part: &str) -> Option<&'a str> {
    let own = record.parts.get(part).and_then(|own| own.zone.as_deref());
    let declared = || rules.subjects.iter().find(|known| known.name == part).and_then(|known| known.zone);
    own.or_else(|| declared().and_then(|at| rules.zones.get(at)).map(|zone| zone.name.as_str()))
        .or_else(|| part.rsplit_once('.').and_then(|(above, _)| zone_of(rules, record, above)))
}

/// What packs declare, by the part that is worked on, each with its number in their order.
type BySubject<'a> = BTreeMap<&'a str, Vec<(usize, &'a Disturbance)>>;

fn by_subject(rules: &Rules) -> BySubject<'_> {
    let mut declared = BySubject::new();
    for (number, one) in rules.disturbances.iter().enumerate() {
        declared.entry(one.subject.as_str()).or_default().push((number, one));
    }
    declared
}

/// What of it a step meets, in the order of the packs: what is declared of its part, of those below, and where it goes
/// upward of those above. No others are looked at.
fn met<'a>(declared: &BySubject<'a>, step: &Step<'_>) -> impl Iterator<Item = &'a Disturbance> + use<'a> {
    let below = format!("{}.", step.part);
    let below = declared.range(below.as_str()..).take_while(|(part, _)| part.starts_with(&below)).map(|(_, all)| all);
    let above = step.part.match_indices('.').filter(|_| step.upward).filter_map(|(at, _)| step.part.get(..at));
    let itself = above.chain([step.part]).filter_map(|part| declared.get(part));
    let mut met: Vec<(usize, &Disturbance)> = itself.chain(below).flatten().copied().collect();
    met.sort_unstable_by_key(|(number, _)| *number);
    met.into_iter().map(|(_, one)| one)
}

impl Step<'_> {
    fn reaches(&self, part: &str) -> bool {
        if self.upward { related(self.part, part) } else { self.part == part || is_below(part, self.part) }
    }
}

impl<'a> Reach<'a> {
    /// What a snag that was found reaches: nothing was touched, but whoever looked at the part before did not see it, or
    /// it came later.
    pub(crate) fn of_snag(part: &'a str) -> Self {
        let mut steps = Arena::default();
        steps.push(Step { part, upward: true, laid_open: true, zone: None, from: None });
        Self { steps }
    }

    /// What reaches no part.
    pub(crate) fn of_no_part() -> Self {
        Self { steps: Arena::default() }
    }

    /// What an entry that disturbs reaches.
    pub(crate) fn of(rules: &'a Rules, record: &'a Record, places: &Places<'a>, entry: &'a Entry) -> Self {
        let opened = entry.event == Event::Opened;
        let named = entry.subject.as_str();
        let a_part = rules.subjects.iter().any(|part| part.name == named) || record.parts.contains_key(named);
        let mut steps: Arena<StepId, Step<'_>> = Arena::default();
        // To open a zone that merely shares the first word of a part's name is to look.
        if a_part || !opened {
            steps.push(Step { part: named, upward: !opened, laid_open: false, zone: None, from: None });
        }
        if entry.for_visit {
            let zones = zones_shown(rules, record, entry);
            // What reaches into the zone is laid open with it: the wings' attachment with one wing.
            let at = |zone: &str| rules.zones.position(|known| known.name == zone);
            let open: Vec<ZoneId> = zones.into_iter().filter_map(at).collect();
            let lies_there = |zone: ZoneId| open.iter().any(|open| rules.zones_overlap(zone, *open));
            for (part, zone) in places.iter().filter(|(_, zone)| lies_there(*zone)) {
                steps.push(Step { part, upward: true, laid_open: true, zone: Some(*zone), from: None });
            }
        }
        let mut next: VecDeque<StepId> = steps.ids().collect();
        // The parts from which all is disturbed already, and whether they only lie open.
        let upward = steps.iter().filter(|step| step.upward);
        let mut known: BTreeSet<(&str, bool)> = upward.map(|step| (step.part, step.laid_open)).collect();
        let declared = by_subject(rules);
        while let Some((from, step)) = next.pop_front().and_then(|from| Some((from, *steps.get(from)?))) {
            for declared in met(&declared, &step).filter(|declared| !declared.itself || step.from.is_none()) {
                for also in &declared.also {
                    let also = also.as_str();
                    let as_much = known.contains(&(also, false)) || step.laid_open && known.contains(&(also, true));
                    if !as_much {
                        let laid_open = step.laid_open;
                        known.insert((also, laid_open));
                        let also =
                            Step { part: also, upward: true, laid_open, zone: None, from: Some((from, declared)) };
                        next.push_back(steps.push(also));
                    }
                }
            }
        }
        Self { steps }
    }

    /// The parts from which something is disturbed: each of them with its own parts, and what it is a part of as far as
    /// is said.
    pub(super) fn parts(&self) -> impl Iterator<Item = (&'a str, Extent)> {
        self.steps.iter().map(|step| (step.part, Extent { upward: step.upward, laid_open: step.laid_open }))
    }

    /// Whether anything may be fitted otherwise.
    pub(crate) fn touches_anything_as_fitted(&self) -> bool {
        self.steps.is_empty() || self.steps.iter().any(|step| !step.laid_open)
    }

    /// What the entry reaches by itself comes before what follows from it, and the part itself before what it is a
    /// part of.
    fn step(&self, part: &str) -> Option<StepId> {
        let itself = self.steps.position(|step| step.from.is_none() && step.part == part);
        itself.or_else(|| self.steps.position(|step| step.reaches(part)))
    }

    /// How a part came to be disturbed, where that needs a word: through which
    /// others, by whose declaration.
    pub(crate) fn how(&self, rules: &Rules, part: &str) -> Vec<Through> {
        self.steps_to(rules, part).unwrap_or_default()
    }

    fn steps_to(&self, rules: &Rules, part: &str) -> Option<Vec<Through>> {
        let mut at = self.step(part)?;
        let mut said = Vec::new();
        let reached = self.steps.get(at)?.part;
        said.extend(part_of(reached, part));
        while let Some((from, declared)) = self.steps.get(at).and_then(|step| step.from) {
            let (before, after) = (self.steps.get(from)?.part, self.steps.get(at)?.part);
            let pack = rules.packs.get(declared.pack).map_or("", |pack| pack.name.as_str());
            said.push(Through::Declared {
                pack: pack.to_owned(),
                before: before.to_owned(),
                by_way_of: (declared.subject != before).then(|| declared.subject.to_string()),
                after: after.to_owned(),
            });
            at = from;
        }
        let first = self.steps.get(at)?;
        said.extend(
            first
                .zone
                .and_then(|zone| rules.zones.get(zone))
                .map(|zone| Through::LiesIn { part: first.part.to_owned(), zone: zone.name.to_string() }),
        );
        said.reverse();
        Some(said)
    }
}

/// The zones that an opening for the visit lays open. A name that is both a
/// part's and a zone's may mean either, so it means both; so does a zone that
/// is written of a part that lies elsewhere.
fn zones_shown<'a>(rules: &'a Rules, record: &'a Record, entry: &'a Entry) -> Vec<&'a str> {
    let itself = rules.zones.iter().map(|zone| zone.name.as_str()).find(|zone| *zone == entry.subject);
    let written = entry.zone.as_deref();
    let at = |zone: &str| rules.zones.position(|known| known.name == zone);
    let within =
        |own: &str| matches!((written.and_then(at), at(own)), (Some(one), Some(own)) if rules.zones_overlap(one, own));
    let own = zone_of(rules, record, &entry.subject).filter(|own| !within(own));
    itself.into_iter().chain(written).chain(own).collect()
}

/// The zone an entry is about.
pub(crate) fn zone_of_entry<'a>(rules: &'a Rules, record: &'a Record, entry: &'a Entry) -> Option<&'a str> {
    let itself = || rules.zones.iter().map(|zone| zone.name.as_str()).find(|zone| *zone == entry.subject);
    entry.zone.as_deref().or_else(|| zone_of(rules, record, &entry.subject)).or_else(itself)
}

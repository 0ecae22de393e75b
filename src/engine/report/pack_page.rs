//! A pack set out for reading: what it covers, what it rests on, and every item
//! in the pack's own words. Made of few kinds of parts, so that text and HTML
//! say the same in the same order.

use super::packs::{amended_by, counts, pack_rows};
use super::{days, phrases};
use crate::ir::{
    Added, Aside, Bound, Cite, Condition, ConditionId, Document, DocumentId, Item, Pack, PackId, Rules, Show,
};
use crate::plan::minutes_of;
use crate::source::Span;
use crate::vocabulary::{Basis, Mark};

/// What no page of a pack may leave out.
pub(super) const REMINDER: &str = "This is what a pack asks, as its author wrote it. It gives no permission to fly, and signs \
nothing. Regulations change: compare with the present text. The local authority's inspector has the final say.";

/// A pack set out for reading.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PackPage {
    /// Name and title of the pack.
    pub title: String,
    /// Its parts, in order.
    pub parts: Vec<Part>,
    /// What must stand on every page.
    pub reminder: &'static str,
}

/// One part of a [`PackPage`].
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Part {
    /// The heading of a section.
    Section(String),
    /// The heading of one item or source: its name, and what it says.
    Entry(String, String),
    /// Labels, each with what is said under it.
    Labelled(Vec<Line>),
    /// Things of equal rank.
    List(Vec<String>),
}

/// One label with what is said under it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// The label; empty where it is that of the line before.
    pub label: &'static str,
    /// What is said.
    pub text: String,
    /// Whether it is the pack's own text rather than prose.
    pub own_words: bool,
}

/// The pack of that name set out for reading; none if it is not among the rules.
///
/// ```
/// use cotterpin_engine::report::{pack_page_text, pack_page};
/// use cotterpin_packs::{LIBRARY, built_in};
/// use cotterpin_engine::rules::load_packs;
/// let texts = built_in(&["transparencies"]).map_err(|message| message.message)?;
/// let rules = load_packs(&LIBRARY, &texts).map_err(|_| "the pack has mistakes")?;
/// let page = pack_page(&rules, "transparencies").ok_or("no such pack")?;
/// assert!(pack_page_text(&page, 80).contains("Canopy and windows"));
/// # Ok::<(), String>(())
/// ```
#[must_use]
pub fn pack_page(rules: &Rules, name: &str) -> Option<PackPage> {
    let place = rules.packs.position(|pack| pack.name == name)?;
    let pack = rules.packs.get(place)?;
    let writer = Writer::new(rules, place);
    let mut parts = writer.about(pack);
    writer.sources(&mut parts);
    writer.items(&mut parts);
    writer.amended(&mut parts);
    writer.set_aside(&mut parts);
    Some(PackPage { title: format!("{}: {}", pack.name, pack.title), parts, reminder: REMINDER })
}

/// One pack among the rules.
pub(super) struct Writer<'a> {
    pub(super) rules: &'a Rules,
    place: PackId,
}

/// The items of other packs that a pack amends.
pub(super) fn amended_in(rules: &Rules, pack: PackId) -> impl Iterator<Item = &Item> {
    rules.items.iter().filter(move |item| amended_by(item, pack))
}

/// The items of other packs that a pack sets aside.
pub(super) fn set_aside_in(rules: &Rules, pack: PackId) -> impl Iterator<Item = (&Item, &Aside)> {
    rules.items.iter().filter_map(move |item| Some((item, item.set_aside.iter().find(|aside| aside.pack == pack)?)))
}

impl<'a> Writer<'a> {
    pub(super) fn new(rules: &'a Rules, place: PackId) -> Self {
        Self { rules, place }
    }

    fn about(&self, pack: &Pack) -> Vec<Part> {
        let mut lines = vec![
            line_of("edition", &pack.edition),
            line_of("authority", &phrases::sentence(&pack.authority)),
            line_of("scope", &phrases::sentence(&pack.scope)),
        ];
        let used = self.rules.packs.iter().filter(|other| pack.uses.contains(&other.name));
        lines.extend(under("builds on", used.map(|other| format!("{}: {}", other.name, other.title))));
        let mut parts = vec![Part::Labelled(lines)];
        if !pack.not_covered.is_empty() {
            parts.push(Part::Section("Not covered".to_owned()));
            parts.push(Part::List(pack.not_covered.iter().map(ToString::to_string).collect()));
        }
        if let Some(row) = pack_rows(self.rules).get(self.place.index()) {
            parts.push(Part::Section("Counted".to_owned()));
            let counted = counts(row).into_iter().map(|(label, count, meaning)| Line {
                label: label.trim_start(),
                text: format!("{count} {meaning}").trim_end().to_owned(),
                own_words: false,
            });
            parts.push(Part::Labelled(counted.collect()));
        }
        parts
    }

    /// Its own documents first, then those of other packs that it cites.
    pub(super) fn documents(&self) -> impl Iterator<Item = &'a Document> {
        let cited: Vec<DocumentId> = self.cites().filter_map(|cite| cite.document).collect();
        let (own, lent): (Vec<_>, Vec<_>) = self
            .rules
            .documents
            .with_ids()
            .filter(|(at, document)| document.pack == self.place || cited.contains(at))
            .partition(|(_, document)| document.pack == self.place);
        own.into_iter().chain(lent).map(|(_, document)| document)
    }

    fn sources(&self, parts: &mut Vec<Part>) {
        let mut documents = self.documents().peekable();
        if documents.peek().is_some() {
            parts.push(Part::Section("Sources".to_owned()));
        }
        for document in documents {
            parts.push(Part::Entry(document.name.to_string(), document.title.to_string()));
            parts.push(Part::Labelled(self.document(document)));
        }
    }

    /// Everything this pack cites, whether for items of its own or of others.
    fn cites(&self) -> impl Iterator<Item = &Cite> {
        let own = self.rules.items.iter().filter(|item| item.pack == self.place).flat_map(Item::own_cites);
        let of_others = self.rules.items.iter().flat_map(|item| {
            let added = item.added.iter().filter(|added| added.pack == self.place).flat_map(|added| &added.cites);
            let bound = item.bound.iter().filter(|bound| bound.pack == self.place).flat_map(|bound| &bound.cites);
            let aside = item.set_aside.iter().filter(|aside| aside.pack == self.place).flat_map(|aside| &aside.cites);
            added.chain(bound).chain(aside)
        });
        own.chain(of_others)
    }

    fn document(&self, document: &Document) -> Vec<Line> {
        let mark = mark_words(document.mark);
        let seen = document.seen_on.as_ref().map_or_else(|| mark.to_owned(), |day| format!("{mark}, on {day}"));
        let mut lines = vec![
            line_of("number", &document.number),
            line_of("edition", &document.edition),
            line_of("issuer", &document.issuer),
            line_of("mark", &seen),
        ];
        lines.extend(document.superseded_by.as_ref().map(|later| line_of("superseded by", later)));
        if document.pack != self.place {
            let owner = self.rules.packs.get(document.pack).map_or("", |pack| pack.name.as_str());
            lines.push(line_of("declared by", owner));
        }
        lines
    }

    fn items(&self, parts: &mut Vec<Part>) {
        let own: Vec<&Item> = self.rules.items.iter().filter(|item| item.pack == self.place).collect();
        let system_of = |item: &Item| item.name.split('.').next().unwrap_or("").to_owned();
        for system in &self.rules.systems {
            let here: Vec<&&Item> = own.iter().filter(|item| system_of(item) == system.name).collect();
            if here.is_empty() {
                continue;
            }
            parts.push(Part::Section(system.title.to_string()));
            for item in here {
                parts.push(Part::Entry(item.name.to_string(), item.title.to_string()));
                parts.push(Part::Labelled(self.item(item)));
            }
        }
    }

    fn item(&self, item: &Item) -> Vec<Line> {
        let rules = self.rules;
        let mut lines = Vec::new();
        if let Some(list) = item.each.and_then(|id| rules.list(id)) {
            lines.push(line_of("raised", &format!("once for each record of {}", list.name)));
        }
        let when = item.when.map(|node| self.clauses(node, item.place)).unwrap_or_default();
        lines.extend(under_own("applies when", when));
        lines.extend(under_own(
            "where",
            item.lets.iter().map(|one| format!("{} = {}", one.name, rules.sources.one_line(one.place))),
        ));
        lines.extend(under_own("need", self.clauses(item.own_need, item.place)));
        lines.extend(under("show", item.shows.iter().map(|show| self.show(show))));
        lines.extend(item.ask.as_deref().map(|ask| line_of("question", ask)));
        lines.extend(rules.hold_points.get(item.by).map(|point| line_of("by", &point.title)));
        lines.extend(item.zone.and_then(|zone| rules.zones.get(zone)).map(|zone| line_of("zone", &zone.title)));
        lines.push(line_of("basis", phrases::basis(item.own_basis)));
        lines.extend(under("source", item.own_cites().iter().map(|cite| self.cite(cite))));
        lines.extend(force(item).map(|text| line_of("in force", &text)));
        if item.stops_the_visit {
            lines.push(line_of("visit", "while it is open it can end the visit"));
        }
        if item.no_concession {
            lines.push(line_of("concession", "nobody can concede it"));
        }
        let after = item.after.iter().filter_map(|id| rules.item(*id));
        lines.extend(under("after", after.map(|before| rules.full_name(before))));
        lines.extend(item.takes.as_ref().map(|time| line_of("takes", &days::hours(u64::from(minutes_of(time))))));
        lines.extend(item.check.as_deref().map(|text| line_of("how to find out", &phrases::sentence(text))));
        lines.extend(item.remedy.as_deref().map(|text| line_of("if it is not so", &phrases::sentence(text))));
        lines.extend(item.caution.as_deref().map(|text| line_of("CAUTION", &phrases::sentence(text))));
        lines
    }

    /// Each clause in the pack's own words. Several were joined under the item's own name.
    pub(super) fn clauses(&self, node: ConditionId, place: Span) -> Vec<String> {
        let program = &self.rules.program;
        let span = |node: ConditionId| program.condition_spans.get(node).copied();
        let text = |node: ConditionId| span(node).map(|span| self.rules.sources.one_line(span)).unwrap_or_default();
        match program.conditions.get(node) {
            Some(Condition::And(parts)) if span(node) == Some(place) => {
                program.arguments.get(*parts).iter().map(|part| text(*part)).collect()
            }
            _ => vec![text(node)],
        }
    }

    fn show(&self, show: &Show) -> String {
        let titles = show.kinds.iter().filter_map(|kind| self.rules.evidence.get(*kind));
        let titles: Vec<&str> = titles.map(|kind| kind.title.as_str()).collect();
        format!("{}, of {}", titles.join(" or "), show.subject)
    }

    fn cite(&self, cite: &Cite) -> String {
        let mark = mark_words(cite.mark);
        match cite.document.and_then(|at| self.rules.documents.get(at)) {
            Some(document) if cite.paragraph.is_empty() => format!("{} ({mark})", document.number),
            Some(document) => format!("{}, at {} ({mark})", document.number, cite.paragraph),
            None => mark.to_owned(),
        }
    }

    fn amended(&self, parts: &mut Vec<Part>) {
        let mut amended = amended_in(self.rules, self.place).peekable();
        if amended.peek().is_some() {
            parts.push(Part::Section("Amended items of other packs".to_owned()));
        }
        for item in amended {
            parts.push(Part::Entry(self.rules.full_name(item), item.title.to_string()));
            let added = item.added.iter().filter(|added| added.pack == self.place);
            let bound = item.bound.iter().filter(|bound| bound.pack == self.place);
            let lines = added.flat_map(|added| self.added(added)).chain(bound.flat_map(|bound| self.bound(bound)));
            parts.push(Part::Labelled(lines.collect()));
        }
    }

    fn added(&self, added: &Added) -> Vec<Line> {
        let mut lines: Vec<Line> = under_own("added need", self.clauses(added.need, added.place)).collect();
        lines.push(line_of("basis", phrases::basis(added.basis)));
        lines.extend(under("source", added.cites.iter().map(|cite| self.cite(cite))));
        lines.extend(added.check.as_deref().map(|text| line_of("how to find out", &phrases::sentence(text))));
        lines.extend(added.remedy.as_deref().map(|text| line_of("if it is not so", &phrases::sentence(text))));
        lines.extend(added.caution.as_deref().map(|text| line_of("CAUTION", &phrases::sentence(text))));
        lines
    }

    fn bound(&self, bound: &Bound) -> Vec<Line> {
        let mut lines = vec![line_of("asked as", phrases::basis(bound.basis))];
        lines.extend(under("source", bound.cites.iter().map(|cite| self.cite(cite))));
        lines
    }

    fn set_aside(&self, parts: &mut Vec<Part>) {
        let mut set_aside = set_aside_in(self.rules, self.place).peekable();
        if set_aside.peek().is_some() {
            parts.push(Part::Section("Items of other packs set aside".to_owned()));
        }
        for (item, aside) in set_aside {
            parts.push(Part::Entry(self.rules.full_name(item), item.title.to_string()));
            let mut lines = vec![line_of("because", &phrases::sentence(&aside.because))];
            lines.extend(aside.basis.map(|basis: Basis| line_of("basis", phrases::basis(basis))));
            lines.extend(under("source", aside.cites.iter().map(|cite| self.cite(cite))));
            parts.push(Part::Labelled(lines));
        }
    }
}

fn mark_words(mark: Mark) -> &'static str {
    phrases::mark(mark).unwrap_or("read")
}

/// The days on which this wording applies, if it says any.
fn force(item: &Item) -> Option<String> {
    match (item.from, item.until) {
        (None, None) => None,
        (Some(from), None) => Some(format!("from {from}")),
        (None, Some(until)) => Some(format!("until {until}")),
        (Some(from), Some(until)) => Some(format!("from {from} until {until}")),
    }
}

fn line_of(label: &'static str, text: &str) -> Line {
    Line { label, text: text.to_owned(), own_words: false }
}

/// The same label once, then lines under it.
fn under(label: &'static str, texts: impl IntoIterator<Item = String>) -> impl Iterator<Item = Line> {
    let label_at = move |at: usize| if at == 0 { label } else { "" };
    texts.into_iter().enumerate().map(move |(at, text)| Line { label: label_at(at), text, own_words: false })
}

fn under_own(label: &'static str, texts: impl IntoIterator<Item = String>) -> impl Iterator<Item = Line> {
    under(label, texts).map(|line| Line { own_words: true, ..line })
}

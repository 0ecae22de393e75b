//! The checker: names resolved, types known, everything lowered to the program.

use super::lower::Records;
use crate::diagnostic::{Diagnostic, nearest};
use crate::ir::regex_form::Form;
use crate::ir::{
    Arena, Choice, ChoiceId, Cite, Condition, ConditionId, ConstantId, Disturbance, Document, DocumentId, Item, ItemId,
    Kind, NumberId, Numbers, Pack, PackId, Part, PartId, Pattern, PatternId, Role, Rules, TableId, Texts, Titled,
    ZoneId,
};
use crate::quantity::{Dimension, Truth};
use crate::source::{SharedText, Span};
use crate::syntax::ast::{CiteDecl, Declaration, FormulaDecl, Name, SourceDecl, Text, WordDecl, WordsKind};
use crate::vocabulary::Mark;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

/// The most words a choice can have.
const MAX_WORDS: usize = 60;

/// A declared table: its place, the kinds of its keys, the dimensions of its
/// columns (none for a date).
pub(super) type KnownTable = (TableId, Vec<Kind>, Vec<Option<Dimension>>);

/// The state of checking: what is declared so far, and what is wrong.
#[derive(Debug, Default)]
pub(crate) struct Checker {
    pub(crate) rules: Rules,
    pub(crate) messages: Vec<Diagnostic>,
    pub(super) formulas: BTreeMap<SharedText, (Rc<FormulaDecl>, PackId)>,
    pub(super) tables: BTreeMap<SharedText, KnownTable>,
    pub(super) patterns: BTreeMap<SharedText, PatternId>,
    pub(super) texts: BTreeMap<SharedText, ConstantId<Texts>>,
    /// Constant numbers by the bits of their intervals.
    pub(super) constants: BTreeMap<(u64, u64), ConstantId<Numbers>>,
    /// How many steps each number and each condition comes to, what it is made of included.
    pub(super) costs: (Arena<NumberId, u64>, Arena<ConditionId, u64>),
    /// The records that each number and each condition reads, of the loops around it.
    pub(super) read_records: (Arena<NumberId, Records>, Arena<ConditionId, Records>),
    pub(super) choice_names: BTreeMap<SharedText, ChoiceId>,
    /// Place and pack of each declared name, by kind: so that a name is looked up without a copy of it.
    pub(super) places: BTreeMap<SharedText, BTreeMap<SharedText, (Span, PackId)>>,
    /// Names of facts and lists that packs share which know nothing of each
    /// other: what each of them is called in full.
    pub(super) shared: BTreeMap<SharedText, BTreeMap<PackId, SharedText>>,
    /// Documents by name.
    pub(super) documents_by_name: BTreeMap<SharedText, DocumentId>,
    /// Sets of words without a name, so that equal ones are one.
    pub(super) choices_by_words: BTreeMap<Vec<SharedText>, ChoiceId>,
    pub(super) used_documents: BTreeSet<DocumentId>,
    /// Zones of parts, by place of the part, until all zones are known.
    pub(super) part_zones: Vec<(PartId, Name)>,
    /// Larger zones, by place of the zone, until all zones are known.
    pub(super) larger_zones: Vec<(ZoneId, Name)>,
    /// The pack of each file, in the order of the files.
    pub(crate) pack_of_file: Vec<PackId>,
    /// The packs visible from each pack, itself included.
    pub(super) visible: Arena<PackId, BTreeSet<PackId>>,
}

/// So many parts may be declared to be disturbed by others: for each part that somebody works on they are gone through.
const MOST_DISTURBED: usize = 1000;

impl Checker {
    /// Adds a pack, after those it builds on; nothing of what it says is looked at yet.
    pub(crate) fn add_pack(&mut self, pack: Pack) -> PackId {
        let at = self.rules.packs.next();
        let mut sees = BTreeSet::from([at]);
        for (other, seen) in self.rules.packs.iter().zip(&self.visible) {
            if pack.uses.contains(&other.name) {
                sees.extend(seen);
            }
        }
        self.visible.push(sees);
        self.rules.packs.push(pack)
    }

    pub(super) fn error(&mut self, message: Diagnostic) {
        self.messages.push(message);
    }

    /// Notes a name of a kind; two of one name are an error that shows both.
    pub(super) fn declare(&mut self, kind: &'static str, name: &Name, pack: PackId) -> bool {
        let places = self.places.entry(kind.into()).or_default();
        if let Some((first, _)) = places.get(name.as_str()) {
            let message = Diagnostic::error("name::twice", format!("the {kind} `{}` is declared twice", name.text))
                .at(name.span, "declared here again")
                .at(*first, "first declared here")
                .help("rename one of the two, or take one out");
            self.error(message);
            return false;
        }
        places.insert(name.text.clone(), (name.span, pack));
        true
    }

    /// Every edition of the items of that name, by place.
    pub(super) fn items_named(&self, name: &str) -> impl Iterator<Item = ItemId> {
        self.rules.items_by_name.get(name).into_iter().flatten().copied()
    }

    /// What can only be said of all packs together.
    pub(crate) fn whole(&mut self) {
        // A pack with mistakes is not run, not even to warn of more.
        if !self.messages.iter().any(Diagnostic::is_error) {
            self.always_met();
        }
        self.unused_documents();
    }

    /// A need that is a plain `yes` is a mistake; a condition that comes to the same may be
    /// meant, for a value that a later edition will change.
    fn always_met(&mut self) {
        for item in &self.rules.items {
            if let Some(Condition::Constant(Truth::True)) = self.rules.program.conditions.get(item.need) {
                self.messages.push(
                    Diagnostic::error("item::always-met", "this item is met whatever is recorded")
                        .at(item.place, "this item")
                        .help("write what must hold"),
                );
            }
        }
    }

    /// Adds an item under its name and gives its place.
    pub(super) fn add_item(&mut self, name: &Name, item: Item) -> ItemId {
        let id = self.rules.items.push(item);
        self.rules.items_by_name.entry(name.text.clone()).or_default().push(id);
        id
    }

    /// Whether a declared name may be used from a pack.
    pub(super) fn sees(&self, pack: PackId, owner: PackId) -> bool {
        self.visible.get(pack).is_some_and(|seen| seen.contains(&owner))
    }

    /// The pack that a place stands in, if it stands in any.
    pub(super) fn pack_at(&self, span: Span) -> Option<PackId> {
        self.pack_of_file.get(span.source.index() as usize).copied()
    }

    /// The pack that declares a name of a kind, where the pack that writes it does not build on that one.
    fn hidden(&self, kind: &str, name: &Name) -> Option<PackId> {
        let (_, owner) = self.places.get(kind)?.get(name.as_str())?;
        let writer = self.pack_at(name.span);
        if ["fact", "list"].contains(&kind) && writer.is_some_and(|pack| self.only_seen(name.as_str(), pack).is_some())
        {
            return None;
        }
        let seen = self.pack_at(name.span).is_some_and(|pack| self.sees(pack, *owner));
        (!seen).then_some(*owner)
    }

    /// Whether a name of a kind may be used where it is written.
    pub(super) fn in_sight(&self, kind: &str, name: &Name) -> bool {
        self.hidden(kind, name).is_none()
    }

    /// Says which pack a name is from that cannot be used here.
    pub(super) fn out_of_sight(&mut self, kind: &str, name: &Name, owner: PackId) {
        let of = |pack: PackId| self.rules.packs.get(pack).map_or_else(SharedText::default, |pack| pack.name.clone());
        let (owner, here) = (of(owner), self.pack_at(name.span).map_or_else(SharedText::default, of));
        self.error(
            Diagnostic::error(
                "pack::not-used",
                format!(
                    "the {kind} `{}` is declared by the pack `{owner}`, which this pack does not build on",
                    name.text
                ),
            )
            .at(name.span, "from another pack")
            .help(format!("add \"{owner}\" to `uses` in the pack.toml of `{here}`")),
        );
    }

    pub(super) fn unknown<'n>(&mut self, kind: &str, name: &Name, known: impl IntoIterator<Item = &'n str>) {
        if let Some(owner) = self.hidden(kind, name) {
            self.out_of_sight(kind, name, owner);
            return;
        }
        let near = nearest(&name.text, known).map(str::to_owned);
        let message = Diagnostic::error("name::unknown", format!("there is no {kind} `{}`", name.text))
            .at(name.span, format!("no {kind} of this name"));
        self.error(match near {
            Some(near) => message.help(format!("did you mean `{near}`?")),
            None => message.help("declare it, or name the pack that declares it in `uses` of pack.toml"),
        });
    }

    /// An error the first time that more is declared to be disturbed than is gone through.
    fn too_many_disturbed(&mut self, subject: &Name, also: usize) -> bool {
        let before = self.rules.disturbances.iter().map(|known| known.also.len()).sum::<usize>();
        let is_too_much = before.saturating_add(also) > MOST_DISTURBED;
        if is_too_much && !self.messages.iter().any(|message| message.code == "program::too-many-disturbed") {
            let message = format!("the packs name more than {MOST_DISTURBED} parts behind `also disturbs`");
            self.error(
                Diagnostic::error("program::too-many-disturbed", message)
                    .at(subject.span, "too many from here on")
                    .help("name a part that others are parts of: what disturbs it disturbs them"),
            );
        }
        is_too_much
    }

    /// First pass over one pack's file: words, documents, choices, patterns.
    pub(crate) fn declare_words(&mut self, declarations: &[Declaration], pack: PackId) {
        for declaration in declarations {
            match declaration {
                Declaration::Source(source) => self.document(source, pack),
                Declaration::Words(kind, words) => self.words(*kind, words, pack),
                Declaration::Choice(name, words) => {
                    if self.declare("choice", name, pack) {
                        let n = self.choice(words, Some(name.text.clone()));
                        self.choice_names.insert(name.text.clone(), n);
                    }
                }
                Declaration::Pattern(name, title, form) => self.pattern(name, title, form, pack),
                Declaration::Formula(formula) => {
                    if self.declare("formula", &formula.name, pack) {
                        self.formulas.insert(formula.name.text.clone(), (Rc::new(formula.clone()), pack));
                    }
                }
                Declaration::Disturb { subject, itself, also } => {
                    if self.too_many_disturbed(subject, also.len()) {
                        continue;
                    }
                    let also = also.iter().map(|name| name.text.clone()).collect();
                    let (subject, itself) = (subject.text.clone(), *itself);
                    self.rules.disturbances.push(Disturbance { subject, itself, also, pack });
                }
                Declaration::Fact(_)
                | Declaration::List(_)
                | Declaration::Table(_)
                | Declaration::Item(_)
                | Declaration::Amend(_)
                | Declaration::SetAside(..) => {}
            }
        }
    }

    fn words(&mut self, kind: WordsKind, words: &[WordDecl], pack: PackId) {
        let label = match kind {
            WordsKind::HoldPoints => "hold point",
            WordsKind::Zones => "zone",
            WordsKind::Systems => "system",
            WordsKind::Evidence => "kind of evidence",
            WordsKind::Roles => "role",
            WordsKind::Subjects => "subject",
        };
        for word in words {
            self.only_where_it_belongs(kind, word);
            if !self.declare(label, &word.name, pack) {
                continue;
            }
            let (name, title, place) = (word.name.text.clone(), word.title.text.clone(), word.name.span);
            let titled = Titled { name, title, place, pack };
            match kind {
                WordsKind::HoldPoints => {
                    self.rules.hold_points.push(titled);
                }
                WordsKind::Zones => {
                    self.larger_zones.extend(word.larger.clone().map(|larger| (self.rules.zones.next(), larger)));
                    self.rules.zones.push(titled);
                }
                WordsKind::Systems => {
                    self.rules.systems.push(titled);
                }
                WordsKind::Evidence => {
                    self.rules.evidence.push(titled);
                }
                WordsKind::Roles => {
                    let Titled { name, title, place, pack } = titled;
                    let (concedes, other_than_builder) = (self.concedes(word), self.is_other_than_builder(word));
                    self.rules.roles.push(Role {
                        name,
                        title,
                        signs: word.never_signs.is_none(),
                        concedes,
                        other_than_builder,
                        place,
                        pack,
                    });
                }
                WordsKind::Subjects => {
                    let Titled { name, title, place, pack } = titled;
                    self.part_zones.extend(word.zone.clone().map(|zone| (self.rules.subjects.next(), zone)));
                    let can_be_left_off = word.can_be_left_off.is_some();
                    self.rules.subjects.push(Part { name, title, zone: None, can_be_left_off, place, pack });
                }
            }
        }
    }

    /// `zone` and `can be left off` stand behind a part, `in` behind a zone, `never signs`,
    /// `may concede` and `other than` behind a role, and nowhere else.
    fn only_where_it_belongs(&mut self, kind: WordsKind, word: &WordDecl) {
        let wrong = [
            word.zone
                .as_ref()
                .filter(|_| kind != WordsKind::Subjects)
                .map(|zone| (zone.span, "only a part of `subjects` has a zone")),
            word.larger
                .as_ref()
                .filter(|_| kind != WordsKind::Zones)
                .map(|larger| (larger.span, "only a zone of `zones` lies in a larger one")),
            word.never_signs
                .filter(|_| kind != WordsKind::Roles)
                .map(|span| (span, "only a role of `roles` can never sign")),
            word.may_concede
                .first()
                .filter(|_| kind != WordsKind::Roles)
                .map(|name| (name.span, "only a role of `roles` may concede")),
            word.other_than
                .first()
                .filter(|_| kind != WordsKind::Roles)
                .map(|name| (name.span, "only a role of `roles` is other than a builder's")),
            word.can_be_left_off
                .filter(|_| kind != WordsKind::Subjects)
                .map(|span| (span, "only a part of `subjects` can be left off")),
        ];
        for (span, why) in wrong.into_iter().flatten() {
            self.error(Diagnostic::error("name::misplaced", why).at(span, "not here").help("take it out"));
        }
    }

    /// Zones of parts and larger zones, when the zones of all packs are known.
    pub(crate) fn zones_of_parts(&mut self) {
        for (part, zone) in std::mem::take(&mut self.part_zones) {
            let at = self.known_zone(&zone);
            if let Some(part) = self.rules.subjects.get_mut(part) {
                part.zone = at;
            }
        }
        for (zone, larger) in std::mem::take(&mut self.larger_zones) {
            if let Some(at) = self.known_zone(&larger) {
                self.rules.larger_zones.insert(zone, at);
            }
        }
    }

    fn known_zone(&mut self, zone: &Name) -> Option<ZoneId> {
        let at = self.rules.zones.position(|known| known.name == zone.text);
        let at = at.filter(|_| self.in_sight("zone", zone));
        if at.is_none() {
            let known: Vec<_> = self.rules.zones.iter().map(|zone| zone.name.clone()).collect();
            self.unknown("zone", zone, known.iter().map(AsRef::as_ref));
        }
        at
    }

    fn document(&mut self, source: &SourceDecl, pack: PackId) {
        if !self.declare("source", &source.name, pack) {
            return;
        }
        let mut part = |text: &Option<Text>, what: &str| {
            text.as_ref().map(|t| t.text.clone()).unwrap_or_else(|| {
                self.messages.push(
                    Diagnostic::error("source::incomplete", format!("the source `{}` has no {what}", source.name.text))
                        .at(source.name.span, "this source")
                        .help(format!("add `{what} \"...\"`")),
                );
                SharedText::default()
            })
        };
        let (number, edition, issuer) =
            (part(&source.number, "number"), part(&source.edition, "edition"), part(&source.issuer, "issuer"));
        let Some((mark, seen_on)) = source.mark else {
            self.error(
                Diagnostic::error(
                    "source::incomplete",
                    format!("the source `{}` does not say how its text was seen", source.name.text),
                )
                .at(source.name.span, "this source")
                .help("add `mark read`, `mark quoted` or `mark memory`"),
            );
            return;
        };
        self.documents_by_name.insert(source.name.text.clone(), self.rules.documents.next());
        self.rules.documents.push(Document {
            name: source.name.text.clone(),
            title: source.title.text.clone(),
            number,
            edition,
            superseded_by: source.superseded_by.as_ref().map(|text| text.text.clone()),
            issuer,
            mark,
            seen_on: seen_on.map(|on| on.to_string().into()),
            place: source.name.span,
            pack,
        });
    }

    fn pattern(&mut self, name: &Name, title: &Text, form: &Text, pack: PackId) {
        if !self.declare("pattern", name, pack) {
            return;
        }
        match Form::new(&form.text) {
            Ok(compiled) => {
                let (own, title) = (name.text.to_string(), title.text.to_string());
                let id = self.rules.program.patterns.push(Pattern { name: own, title, form: compiled });
                self.patterns.insert(name.text.clone(), id);
            }
            Err(why) => {
                let why = why.lines().last().unwrap_or("").to_owned();
                self.error(
                    Diagnostic::error(
                        "pattern::invalid",
                        format!("the form of `{}` is no regular expression: {why}", name.text),
                    )
                    .at(form.span, "this form")
                    .help("try the form on the examples you have in mind"),
                );
            }
        }
    }

    pub(super) fn choice(&mut self, words: &[Name], name: Option<SharedText>) -> ChoiceId {
        let mut texts: Vec<SharedText> = Vec::new();
        for word in words {
            if texts.contains(&word.text) {
                self.error(
                    Diagnostic::error("name::twice", format!("`{}` stands twice in this choice", word.text))
                        .at(word.span, "again")
                        .help("take it out"),
                );
            } else {
                texts.push(word.text.clone());
            }
        }
        if let (true, Some(word)) = (texts.len() > MAX_WORDS, words.last()) {
            self.error(
                Diagnostic::error("choice::too-long", format!("a choice has at most {MAX_WORDS} words"))
                    .at(word.span, "this is one of too many")
                    .help("use a text, or two facts"),
            );
            texts.truncate(MAX_WORDS);
        }
        if let ([_], Some(word)) = (texts.as_slice(), words.first()) {
            self.error(
                Diagnostic::error("choice::too-short", "a choice has at least two words")
                    .at(word.span, "the only one")
                    .help("a choice of one would be known before anybody recorded it; add a word, or use `yes or no`"),
            );
        }
        if let (None, Some(same)) = (&name, self.choices_by_words.get(&texts)) {
            return *same;
        }
        let at = self.rules.choices.push(Choice { name, words: texts.clone() });
        self.choices_by_words.entry(texts).or_insert(at);
        at
    }

    /// Resolves citations; common practice is one of its own.
    pub(super) fn cites(&mut self, cites: &[CiteDecl], pack: PackId) -> Vec<Cite> {
        let mut found = Vec::new();
        for cite in cites {
            let Some(name) = &cite.document else {
                found.push(Cite { document: None, paragraph: SharedText::default(), mark: Mark::CommonPractice });
                continue;
            };
            let at = self.documents_by_name.get(name.as_str()).copied();
            let at =
                at.filter(|at| self.rules.documents.get(*at).is_some_and(|document| self.sees(pack, document.pack)));
            let Some(at) = at else {
                let known: Vec<_> = self.rules.documents.iter().map(|d| d.name.clone()).collect();
                self.unknown("source", name, known.iter().map(AsRef::as_ref));
                continue;
            };
            self.used_documents.insert(at);
            let mark = cite.mark.or_else(|| self.rules.documents.get(at).map(|d| d.mark)).unwrap_or(Mark::Memory);
            found.push(Cite {
                document: Some(at),
                paragraph: cite.paragraph.as_ref().map(|p| p.text.clone()).unwrap_or_default(),
                mark,
            });
        }
        found
    }

    /// Warns of documents that nothing cites. A pack without items lends its documents
    /// to others, and which of those are loaded is no fault of its own.
    pub(super) fn unused_documents(&mut self) {
        for (at, document) in self.rules.documents.with_ids() {
            let lends = !self.rules.items.iter().any(|item| item.pack == document.pack);
            if !lends && !self.used_documents.contains(&at) {
                self.messages.push(
                    Diagnostic::warning("source::unused", format!("nothing cites the source `{}`", document.name))
                        .at(document.place, "this source")
                        .help("cite it, or take it out"),
                );
            }
        }
    }

    /// The id of a constant text.
    pub(super) fn constant_text(&mut self, text: &SharedText) -> ConstantId<Texts> {
        if let Some(id) = self.texts.get(text) {
            return *id;
        }
        let id = self.rules.program.texts.push(text.to_string());
        self.texts.insert(text.clone(), id);
        id
    }
}

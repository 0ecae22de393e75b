//! Mutants of the projects and the demo: each person made the builder, each role taken away, each
//! day moved to before what it must follow, each file emptied, each piece of evidence missing.
//! Nothing is met that its need, read slowly, cannot be met by; and nothing becomes met.

use super::lists::PROJECTS;
use super::may_be_met::{Slow, person};
use crate::fixtures::packs::load;
use crate::fixtures::projects::file;
use crate::fixtures::values::day;
use cotterpin_engine::audit::Judge;
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::files::read_pack;
use cotterpin_engine::files::read_project;
use cotterpin_engine::ir::{
    Child, Condition, Fact, FactId, FieldId, InStore, ItemId, Kind, ListId, Named, Number, Origin, RoleSet, Rules,
    Value,
};
use cotterpin_engine::project::{
    Confirmation, Entry, FileText, PROJECT, Person, Record, Recorded, Row, Rows, Whole, read, read_header, record_names,
};
use cotterpin_engine::quantity::{DateRange, Exact, ExactInterval};
use cotterpin_engine::source::{Sources, Span};
use cotterpin_engine::vocabulary::{Event, Verdict};
use cotterpin_packs::{PackText, built_in};
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

const ON: &str = "2026-11-25";

/// Long before anything else in the projects.
const LONG_AGO: &str = "2020-01-01";

fn long_ago() -> DateRange {
    DateRange::day(day(LONG_AGO))
}

const BUILDER: &str = "builder";

/// It did not apply; now nobody knows whether it does, and what it asks for holds.
const APPLIES: &str = "whether it applies is no longer known";

/// What must come later came later than it does now.
const FOLLOWS: &str = "what it had to follow is long ago";

/// What becomes met by a mutant: project, mutant, item, and why it may.
const GAINED: [(&str, &str, &str, &str); 17] = [
    ("demo", "lists.toml emptied", "fasteners/fasteners.wired.recorded", APPLIES),
    ("demo", "all lists found whole and all evidence made long ago", "fasteners/fasteners.wired.recorded", APPLIES),
    ("demo", "tests.toml emptied", "us/beacon.standard", APPLIES),
    ("demo", "tests.toml emptied", "us/beacon.place", APPLIES),
    ("demo", "tests.toml emptied", "us/beacon.battery.use", APPLIES),
    ("demo", "tests.toml emptied", "us/beacon.battery.date", APPLIES),
    ("demo", "tests.toml emptied", "us/beacon.inspection", APPLIES),
    ("demo", "identity.toml emptied", "us/marks.size.light", APPLIES),
    ("demo", "papers.toml emptied", "us/equipment.day.sensible", APPLIES),
    ("demo", "tests.toml emptied", "us/beacon.fitted", APPLIES),
    ("nz-ready", "static.opened_on long ago", "nz/air-data.nz.test.opened", FOLLOWS),
    ("au-ready", "au.beacon_programmed_on long ago", "au/beacon.au.registered.after", FOLLOWS),
    // The values of these parts had lapsed once they were taken before what was done since.
    ("demo", "spacing taken long ago", "electrical/electrical.ties", APPLIES),
    ("demo", "enclosed taken long ago", "electrical/electrical.ties", APPLIES),
    ("demo", "enclosed taken long ago", "electrical/electrical.support", APPLIES),
    ("demo", "enclosed taken long ago", "electrical/electrical.sag", APPLIES),
    ("demo", "locking taken long ago", "fasteners/fasteners.wired.recorded", APPLIES),
];

/// A project as its files say it.
struct Project {
    name: &'static str,
    rules: Rules,
    header: FileText,
    files: Vec<FileText>,
    paths: Vec<String>,
    record: Record,
    before: Verdicts,
    asks: BTreeMap<ItemId, Asks>,
}

type Verdicts = BTreeMap<(ItemId, Option<String>), Verdict>;

fn verdicts(rules: &Rules, record: &Record) -> Verdicts {
    let mut verdicts = Verdicts::new();
    for one in Judge::new(rules, record, day(ON)).verdicts() {
        let verdict = if one.verdict == Verdict::Conceded { Verdict::Conceded } else { one.bare };
        verdicts.insert((one.item, one.subject.clone()), verdict);
    }
    verdicts
}

type Texts<'t> = (&'t FileText, &'t [FileText], &'t [String]);

fn read_texts(rules: &Rules, (header, files, paths): Texts<'_>) -> (Record, Vec<Diagnostic>) {
    let mut sources = rules.sources.clone();
    let (header, mut messages) = read_header(header, &mut sources);
    let (record, said) = read(files, paths, &header.expect("a header"), rules, sources);
    messages.extend(said);
    (record, messages)
}

/// The packs that a project names, its own among them.
fn packs(folder: &Path, header: &FileText) -> Vec<PackText> {
    let named = read_header(header, &mut Sources::default()).0.expect("a header").packs;
    let (own, built): (Vec<&str>, Vec<&str>) =
        named.iter().map(|(name, _)| name.as_str()).partition(|name| name.starts_with("./"));
    let mut packs = built_in(&built).expect("built-in packs");
    packs.extend(own.into_iter().map(|name| read_pack(&folder.join(name)).expect("a pack")));
    packs
}

impl Project {
    fn open(folder: &'static str) -> Self {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
        let (found, _) = read_project(&path);
        let header = found.header_file.expect("project.toml");
        let rules = load(&packs(&path, &header));
        let header = file(&header.name, &header.bytes);
        let files: Vec<FileText> = found.files.iter().map(|text| file(&text.name, &text.bytes)).collect();
        let (record, messages) = read_texts(&rules, (&header, &files, &found.paths));
        assert!(!messages.iter().any(Diagnostic::is_error), "{folder}: {messages:#?}");
        let before = verdicts(&rules, &record);
        let name = folder.rsplit('/').next().expect("a name");
        let asks = rules.items.ids().map(|id| (id, asks(&rules, id))).collect();
        Self { name, rules, header, files, paths: found.paths, record, before, asks }
    }
}

/// What an item's need asks; `Item::reads` tells as well what the item reads to know whether it applies.
#[derive(Default)]
struct Asks {
    facts: BTreeSet<FactId>,
    fields: BTreeSet<(ListId, FieldId)>,
    logged: BTreeSet<(Event, String)>,
    /// Whether it asks for somebody who has not a role.
    somebody_else: bool,
    /// Whether it hears the builder.
    builder: bool,
}

fn asks(rules: &Rules, item: ItemId) -> Asks {
    let mut asks = Asks::default();
    let mut open = vec![Child::Condition(rules.item(item).expect("an item").need)];
    while let Some(child) = open.pop() {
        match child {
            Child::Condition(id) => {
                let condition = *rules.program.conditions.get(id).expect("a condition");
                match condition {
                    Condition::Confirmed(need) => {
                        let need = rules.program.confirmed.get(need).expect("a need");
                        asks.somebody_else |= need.other_than != RoleSet::ANY;
                        let builder = rules.roles.position(|role| role.name == BUILDER).expect("a builder");
                        asks.builder |= need.roles.hears(builder) && need.other_than == RoleSet::ANY;
                    }
                    Condition::Logged(need) => {
                        let need = rules.program.logged.get(need).expect("a need");
                        asks.somebody_else |= need.other_than != RoleSet::ANY;
                        asks.logged.insert((need.event, need.subject.clone()));
                    }
                    Condition::SomebodyElse(..) => asks.somebody_else = true,
                    _ => {}
                }
                open.extend(rules.program.children_of_condition(condition));
            }
            Child::Number(id) | Child::IfEmpty(id) => {
                open.extend(rules.program.children_of_number(*rules.program.numbers.get(id).expect("a number")));
            }
            // How many there are is told by their names.
            Child::Records(over) => {
                asks.fields.insert((over.list, rules.list(over.list).expect("a list").named_by));
                open.extend(over.condition.map(Child::Condition));
            }
            Child::Column { list, column } => {
                let columns = rules.program.columns.get(list).expect("columns");
                asks.fields.insert((list, columns.field(InStore::Texts(column)).expect("a field")));
            }
            Child::Read(operand) => match operand.origin() {
                Some(Origin::Slot(slot)) => asks.facts.extend(rules.program.slots.fact(slot)),
                Some(Origin::Field { list, column, .. }) => {
                    let columns = rules.program.columns.get(list).expect("columns");
                    asks.fields.insert((list, columns.field(column).expect("a field")));
                }
                None => {}
            },
        }
    }
    asks
}

/// What differs between two records, as far as a need can read it.
struct Changed {
    /// By short name.
    people: BTreeSet<String>,
    items: BTreeSet<ItemId>,
    shown: BTreeSet<(Event, String)>,
    facts: BTreeSet<FactId>,
    /// Fields by the name of their record.
    fields: BTreeSet<(ListId, FieldId, String)>,
    files: BTreeSet<String>,
}

/// Those that stand in one of two and not in the other, or otherwise.
fn differ<'a, T: PartialEq>(these: &'a [T], those: &'a [T], place: fn(&T) -> Span) -> Vec<&'a T> {
    let by_place = |all: &'a [T]| -> BTreeMap<Span, &'a T> { all.iter().map(|one| (place(one), one)).collect() };
    let (these, those) = (by_place(these), by_place(those));
    let not_in = |all: &BTreeMap<Span, &'a T>, others: &BTreeMap<Span, &'a T>| -> Vec<&'a T> {
        all.iter().filter(|(place, one)| others.get(place) != Some(one)).map(|(_, one)| *one).collect()
    };
    let mut all = not_in(&these, &those);
    all.extend(not_in(&those, &these));
    all
}

/// The keys under which two maps have not the same.
fn keys<K: Ord + Clone, T: PartialEq>(these: &BTreeMap<K, T>, those: &BTreeMap<K, T>) -> BTreeSet<K> {
    these.keys().chain(those.keys()).filter(|key| these.get(key) != those.get(key)).cloned().collect()
}

/// The name and the roles of everybody, by short name.
fn who_is_who(record: &Record) -> BTreeMap<String, (&str, &[String])> {
    record
        .people
        .iter()
        .map(|(short, person)| (short.clone(), (person.name.as_str(), person.roles.as_slice())))
        .collect()
}

/// The fields that differ, by the names of their records.
fn cells(rules: &Rules, before: &Record, after: &Record) -> BTreeSet<(ListId, FieldId, String)> {
    let mut cells = BTreeSet::new();
    for id in keys(&before.lists, &after.lists) {
        let named = |record: &Record| -> BTreeMap<String, Row> {
            let Some(rows) = record.lists.get(&id) else { return BTreeMap::new() };
            record_names(rules, id, rows).into_iter().zip(rows.rows.iter().cloned()).collect()
        };
        let (before, after) = (named(before), named(after));
        for name in before.keys().chain(after.keys()) {
            let of = |rows: &BTreeMap<String, Row>, field| rows.get(name).and_then(|row| row.field(field).cloned());
            let fields = rules.list(id).expect("a list").fields.ids();
            let differs = fields.filter(|field| of(&before, *field) != of(&after, *field));
            cells.extend(differs.map(|field| (id, field, name.clone())));
        }
    }
    cells
}

impl Changed {
    fn between(rules: &Rules, before: &Record, after: &Record) -> Self {
        let words = differ(&before.confirmations, &after.confirmations, |word| word.place);
        let entries = differ(&before.log, &after.log, |entry| entry.place);
        let files = differ(&before.evidence, &after.evidence, |file| file.place);
        Self {
            people: keys(&who_is_who(before), &who_is_who(after)),
            items: words.iter().flat_map(|word| rules.find_items(&word.item)).collect(),
            shown: entries.iter().map(|entry| (entry.event, entry.subject.clone())).collect(),
            facts: keys(&before.facts, &after.facts),
            fields: cells(rules, before, after),
            files: files.iter().map(|file| file.subject.clone()).collect(),
        }
    }
}

/// What was tried, and what came of it.
#[derive(Default)]
struct Tally {
    tried: usize,
    refused: usize,
    lost: usize,
    /// Findings that stay met, by why, and their items.
    kept: BTreeMap<&'static str, (usize, BTreeSet<String>)>,
    gained: BTreeSet<(&'static str, String, String)>,
    wrong: Vec<String>,
}

impl Tally {
    /// Judges a mutant.
    fn look(&mut self, project: &Project, what: &str, mutant: &Record) {
        self.tried += 1;
        let after = verdicts(&project.rules, mutant);
        let slow = Slow::new(&project.rules, mutant, day(ON));
        let changed = Changed::between(&project.rules, &project.record, mutant);
        let met = |verdicts: &Verdicts, key| verdicts.get(key) == Some(&Verdict::Met);
        self.lost += project.before.keys().filter(|key| met(&project.before, *key) && !met(&after, *key)).count();
        for (key @ (id, subject), now) in &after {
            let item = || project.rules.full_name(project.rules.item(*id).expect("an item"));
            let was = project.before.get(key);
            let mut wrong =
                |how: &str| self.wrong.push(format!("{}, {what}: {} {subject:?} {how}", project.name, item()));
            match now {
                Verdict::Conceded if was != Some(now) => wrong("became conceded"),
                Verdict::Met if !slow.may_be_met(*id, subject.as_deref()) => {
                    wrong("is met, and what it asks for is not there");
                }
                Verdict::Met if was == Some(now) => {
                    let kept = self.kept.entry(project.why_kept(key, mutant, &changed)).or_default();
                    kept.0 += 1;
                    kept.1.insert(item());
                }
                Verdict::Met => {
                    let row = (project.name, what.to_owned(), item());
                    let reason = GAINED.iter().find(|known| (known.0, known.1, known.2) == (row.0, &*row.1, &*row.2));
                    let unknown = was == Some(&Verdict::NotApplicable);
                    if reason.is_none_or(|known| (known.3 == APPLIES) != unknown) {
                        wrong(&format!("was {was:?} and became met"));
                    }
                    self.gained.insert(row);
                }
                _ => {}
            }
        }
    }

    /// Reads a mutant of the files and judges it. What is refused is not audited.
    fn read(&mut self, project: &Project, what: &str, header: &FileText, files: &[FileText]) -> Record {
        self.read_with(project, what, (header, files, &project.paths))
    }

    fn read_with(&mut self, project: &Project, what: &str, texts: Texts<'_>) -> Record {
        let (mutant, messages) = read_texts(&project.rules, texts);
        if messages.iter().any(Diagnostic::is_error) {
            self.refused += 1;
        } else {
            self.look(project, what, &mutant);
        }
        mutant
    }

    /// Tells what came of it; `expected` became met, as [`GAINED`] has it.
    fn ends(self, what: &str, expected: fn(&str) -> bool) {
        let Self { tried, refused, lost, kept, gained, wrong } = self;
        println!("{what}: {tried} mutants judged, {refused} refused; {lost} findings no longer met");
        for (why, (count, items)) in &kept {
            let items = if TELLING.contains(why) { format!(": {items:?}") } else { String::new() };
            println!("  {count} stay met: {why}{items}");
        }
        assert!(wrong.is_empty(), "{}: {wrong:#?}", wrong.len());
        let listed = GAINED.iter().filter(|known| expected(known.1));
        let idle: Vec<_> =
            listed.filter(|known| !gained.contains(&(known.0, known.1.to_owned(), known.2.to_owned()))).collect();
        assert!(idle.is_empty(), "these do not become met: {idle:#?}");
    }
}

const LONG_AGO_COUNTS: &str = "a word of long ago still counts";
const IN_ANOTHER_ROLE: &str = "said in another role by somebody who builds, or whom the project does not name";
const NOBODY_SINCE: &str = "looked at long ago, and nothing was done since";

/// Why something stays met that a reader may want to see by name.
const TELLING: [&str; 3] = [LONG_AGO_COUNTS, IN_ANOTHER_ROLE, NOBODY_SINCE];

impl Project {
    /// Why an item stays met: it does not read what changed, or what it reads of it is enough still.
    fn why_kept(&self, (id, subject): &(ItemId, Option<String>), mutant: &Record, changed: &Changed) -> &'static str {
        let (item, asks) = (self.rules.item(*id).expect("an item"), &self.asks[id]);
        let own = |list: &ListId, name: &String| item.each != Some(*list) || subject.as_ref() == Some(name);
        let field = |(list, field, name): &(_, _, _)| asks.fields.contains(&(*list, *field)) && own(list, name);
        let shows = |file: &String| item.shows.iter().any(|show| file.starts_with(show.subject.as_str()));
        let of_item = |word: &&Confirmation| self.rules.find_items(&word.item).contains(id);
        if item.confirm && changed.items.contains(id) {
            let mut words = mutant.confirmations.iter().filter(of_item);
            if words.all(|word| word.on == long_ago()) { LONG_AGO_COUNTS } else { "a word that counts is left" }
        } else if asks.logged.iter().any(|need| changed.shown.contains(need)) {
            let of_need = |entry: &&Entry| asks.logged.contains(&(entry.event, entry.subject.clone()));
            let mut entries = mutant.log.iter().filter(of_need);
            if entries.all(|entry| entry.on == long_ago()) { NOBODY_SINCE } else { "entries enough are left" }
        } else if asks.somebody_else && !changed.people.is_empty() {
            "somebody else has looked"
        } else if item.confirm && self.spoke(*id, subject.as_deref(), &changed.people) {
            if asks.builder { "the builder could have said it" } else { IN_ANOTHER_ROLE }
        } else if !item.shows.is_empty() && changed.files.iter().any(shows) {
            "another file shows it"
        } else if !asks.facts.is_disjoint(&changed.facts) {
            "what is left of the facts is enough"
        } else if changed.fields.iter().any(field) {
            "what is left of the records is enough"
        } else if item.reads.iter().any(|fact| changed.facts.contains(fact))
            || changed.fields.iter().any(|(list, _, _)| item.reads_lists.contains(list))
        {
            "reads it only to know whether it applies, or beside it"
        } else {
            "does not read it"
        }
    }

    /// Whether one of some people spoke about an item.
    fn spoke(&self, id: ItemId, subject: Option<&str>, people: &BTreeSet<String>) -> bool {
        let names: Vec<String> = people.iter().map(|short| person(&self.record, short)).collect();
        let of = self.record.confirmations.iter().filter(|word| word.subject.as_deref() == subject);
        let mut by = of.filter(|word| word.role != BUILDER && names.contains(&person(&self.record, &word.who)));
        by.any(|word| self.rules.find_items(&word.item).contains(&id))
    }

    /// Goes on from another record.
    fn set(&mut self, record: &Record) {
        self.record.clone_from(record);
        self.before = verdicts(&self.rules, record);
    }

    /// The full name of the builder.
    fn builder(&self) -> &str {
        let builder = self.record.people.values().find(|person| person.roles.iter().any(|role| role == BUILDER));
        &builder.expect("a builder").name
    }
}

fn projects() -> Vec<Project> {
    PROJECTS.iter().map(|(folder, _)| Project::open(folder)).collect()
}

/// Every value of a record that is a fact's or a field's.
fn each_value(rules: &Rules, record: &mut Record, mut change: impl FnMut(&Fact, &mut Recorded)) {
    for (id, recorded) in &mut record.facts {
        change(rules.fact(*id).expect("a fact"), recorded);
    }
    for (id, rows) in &mut record.lists {
        let list = rules.list(*id).expect("a list");
        for row in &mut rows.rows {
            for (field, cell) in list.fields.iter().zip(&mut row.fields) {
                cell.iter_mut().for_each(|recorded| change(field, recorded));
            }
        }
    }
}

/// The record in which somebody is the builder, and has said in that role whatever that person said.
fn is_builder(project: &Project, short: &str) -> Record {
    let (mut mutant, builder) = (project.record.clone(), project.builder());
    let name = person(&project.record, short);
    let is = |who: &str| person(&project.record, who) == name;
    let (builder, role) = (builder.to_owned(), BUILDER.to_owned());
    for word in mutant.confirmations.iter_mut().filter(|word| is(&word.who)) {
        (word.who, word.role) = (builder.clone(), role.clone());
    }
    for leave in mutant.concessions.iter_mut().filter(|leave| is(&leave.granted_by)) {
        (leave.granted_by, leave.role) = (builder.clone(), role.clone());
    }
    mutant.log.iter_mut().filter(|entry| is(&entry.who)).for_each(|entry| entry.role.clone_from(&role));
    each_value(&project.rules, &mut mutant, |fact, recorded| match &mut recorded.value {
        Value::Text(who) if fact.kind == Kind::Named(Named::Person) && is(who) => who.clone_from(&builder),
        _ => {}
    });
    let place = project.record.people[short].place;
    mutant.people.insert(short.to_owned(), Person { name: builder, roles: vec![role], place });
    mutant
}

/// `project.toml` with one person's line changed; every project has one line for each person.
fn with_line(project: &Project, short: &str, change: impl Fn(&str) -> String) -> FileText {
    let text = String::from_utf8(project.header.bytes.clone()).expect("UTF-8");
    let is = |line: &str| line.split('=').next().is_some_and(|key| key.trim() == short);
    let changed: Vec<String> = text.lines().map(|line| if is(line) { change(line) } else { line.to_owned() }).collect();
    assert_eq!(text.lines().filter(|line| is(line)).count(), 1, "{short} in {text}");
    file("project.toml", changed.join("\n"))
}

#[test]
fn whoever_is_the_builder_is_nobody_else() {
    let mut tally = Tally::default();
    for project in &projects() {
        for (short, person) in &project.record.people {
            if person.roles.iter().any(|role| role == BUILDER) {
                continue;
            }
            tally.look(project, &format!("{short} is the builder"), &is_builder(project, short));
            // The builder as well, in whatever role the person spoke.
            let mut mutant = project.record.clone();
            mutant.people.get_mut(short).expect("somebody").roles.push(BUILDER.to_owned());
            tally.look(project, &format!("{short} is a builder too"), &mutant);
            // Said in `project.toml` alone, of somebody who spoke in another role, it is refused.
            let role = |line: &str| line.replace(&format!("role = \"{}\"", person.roles[0]), "role = \"builder\"");
            let header = with_line(project, short, role);
            tally.read(project, &format!("{short} has the role of the builder"), &header, &project.files);
            let name = |line: &str| role(line).replace(&person.name, project.builder());
            let header = with_line(project, short, name);
            tally.read(project, &format!("{short} has the name of the builder"), &header, &project.files);
        }
    }
    assert!(tally.tried > 20 && tally.refused > 5, "{} {}", tally.tried, tally.refused);
    tally.ends("somebody made the builder", |_| false);
}

/// The record in which one person alone has said today all that is asked of anybody, in each role the
/// person has, and has logged, together with the builder, all that the log is asked for.
fn said_by(project: &Project, short: &str) -> Record {
    let (rules, mut record) = (&project.rules, project.record.clone());
    let (first, today) = (record.people[short].place, DateRange::day(day(ON)));
    let mut places = 0;
    let mut place = || {
        places += 1;
        Span::new(first.source, places, places)
    };
    let roles = record.people[short].roles.clone();
    record.confirmations.clear();
    for (_, item) in rules.items_with_ids().filter(|(_, item)| item.confirm) {
        let rows = item.each.map(|list| (list, record.lists.get(&list)));
        let names = |(list, rows): (_, &Rows)| record_names(rules, list, rows).into_iter().map(Some).collect();
        let of = match rows {
            None => vec![None],
            Some((list, rows)) => rows.map_or_else(Vec::new, |rows| names((list, rows))),
        };
        for (subject, role) in of.into_iter().flat_map(|subject| roles.iter().map(move |role| (subject.clone(), role)))
        {
            let (who, item) = (short.to_owned(), rules.full_name(item));
            let (role, on, holds) = (role.clone(), today, true);
            let (note, wording, place) = (None, None, place());
            let word = Confirmation { item, subject, who, role, on, at: None, holds, note, wording, place };
            record.confirmations.push(word);
        }
    }
    let builder = record.people.iter().find(|(_, one)| one.name == project.builder()).expect("a builder").0.clone();
    for need in rules.program.logged.iter() {
        for who in [short, &builder] {
            let role = record.people[who].roles[0].clone();
            let entry = Entry::new(need.event, &need.subject, who, today, place());
            record.log.push(Entry { role, points: need.points.clone(), at: Some(86_399), ..entry });
        }
    }
    // Whatever is asked for since a day that is not recorded.
    let since = rules
        .program
        .confirmed
        .iter()
        .filter_map(|need| need.since)
        .chain(rules.program.logged.iter().filter_map(|need| need.since));
    for number in since {
        if let Some(Number::Read(operand)) = rules.program.numbers.get(number)
            && let Some(Origin::Slot(slot)) = InStore::Numbers(*operand).origin()
        {
            let before = ExactInterval::point(Exact::from_int(i64::from(day("2026-11-20").days())));
            let fact = rules.program.slots.fact(slot).expect("a fact");
            let value = Value::Number(before);
            record.facts.entry(fact).or_insert(Recorded {
                value,
                text: String::new(),
                read_as: None,
                unit: None,
                taken: None,
                place: first,
            });
        }
    }
    record
}

#[test]
fn what_one_person_says_alone_is_no_more_than_that_person() {
    let mut tally = Tally::default();
    let mut all_met = 0;
    for mut project in projects() {
        let people = project.record.people.clone();
        let builder = people.iter().find(|(_, one)| one.name == project.builder()).expect("a builder").0;
        let said: BTreeMap<&String, Record> = people.keys().map(|short| (short, said_by(&project, short))).collect();
        for (short, record) in &said {
            project.set(record);
            all_met += project.before.values().filter(|verdict| **verdict == Verdict::Met).count();
            tally.look(&project, &format!("all said by {short}"), record);
            for role in people[*short].roles.iter().map(String::as_str).chain([BUILDER]) {
                let mutant = without_role(record, role);
                tally.look(&project, &format!("all said by {short}, without the role {role}"), &mutant);
            }
            let mut mutant = record.clone();
            mutant.people.get_mut(*short).expect("somebody").roles.push(BUILDER.to_owned());
            tally.look(&project, &format!("all said by {short}, a builder too"), &mutant);
            let mut mutant = record.clone();
            said_long_ago(&mut mutant);
            tally.look(&project, &format!("all said by {short}, long ago"), &mutant);
            // Said by the builder, it is no more than what the builder says.
            let mutant = is_builder(&project, short);
            project.set(&said[builder]);
            tally.look(&project, &format!("all said by {short}, the builder"), &mutant);
        }
    }
    println!("{all_met} met where one person has said all");
    assert!(tally.tried > 60 && tally.lost > 500, "{} {}", tally.tried, tally.lost);
    tally.ends("all said by one person", |_| false);
}

/// A record of which nobody has a role, and nothing is said in it.
fn without_role(record: &Record, role: &str) -> Record {
    let mut mutant = record.clone();
    mutant.people.values_mut().for_each(|person| person.roles.retain(|known| known != role));
    mutant.people.retain(|_, person| !person.roles.is_empty());
    let said = mutant.confirmations.iter_mut().map(|word| &mut word.role);
    let given = mutant.concessions.iter_mut().map(|leave| &mut leave.role);
    let made = mutant.log.iter_mut().map(|entry| &mut entry.role);
    said.chain(given).chain(made).filter(|known| *known == role).for_each(String::clear);
    mutant
}

#[test]
fn without_a_role_nothing_is_shown_in_it() {
    let mut tally = Tally::default();
    for project in &projects() {
        for role in project.rules.roles.iter().map(|role| role.name.as_str()) {
            tally.look(project, &format!("without the role {role}"), &without_role(&project.record, role));
            // As texts: no line that gives the role.
            let without = |text: &FileText| {
                let text_of = String::from_utf8(text.bytes.clone()).expect("UTF-8");
                let gives = |line: &str| {
                    let line: String = line.chars().filter(|letter| !letter.is_whitespace()).collect();
                    line.contains(&format!("role=\"{role}\""))
                };
                let left: Vec<&str> = text_of.lines().filter(|line| !gives(line)).collect();
                file(&text.name, left.join("\n"))
            };
            let files: Vec<FileText> = project.files.iter().map(without).collect();
            let people_only = format!("with nobody of the role {role}");
            tally.read(project, &people_only, &without(&project.header), &project.files);
            tally.read(project, &format!("with no line of the role {role}"), &without(&project.header), &files);
        }
    }
    assert!(tally.tried > 50 && tally.refused > 20, "{} {}", tally.tried, tally.refused);
    tally.ends("a role taken away", |_| false);
}

fn shows(entry: &Entry) -> bool {
    matches!(entry.event, Event::Inspected | Event::Tested | Event::Measured)
}

fn said_long_ago(record: &mut Record) {
    record.confirmations.iter_mut().for_each(|word| word.on = long_ago());
    record.log.iter_mut().filter(|entry| shows(entry)).for_each(moved);
}

fn moved(entry: &mut Entry) {
    (entry.on, entry.at, entry.in_order) = (long_ago(), None, false);
}

#[test]
fn what_was_shown_long_ago_shows_nothing_that_came_after() {
    let mut tally = Tally::default();
    for project in &projects() {
        for at in 0..project.record.confirmations.len() {
            let mut mutant = project.record.clone();
            let word = &mut mutant.confirmations[at];
            word.on = long_ago();
            let what = format!("word of {} on {} long ago", word.who, word.item);
            tally.look(project, &what, &mutant);
        }
        for at in (0..project.record.log.len()).filter(|at| shows(&project.record.log[*at])) {
            let mut mutant = project.record.clone();
            let entry = &mut mutant.log[at];
            let what = format!("{} {} by {} on {} long ago", entry.event.words(), entry.subject, entry.who, entry.on);
            moved(entry);
            tally.look(project, &what, &mutant);
        }
        let mut mutant = project.record.clone();
        said_long_ago(&mut mutant);
        tally.look(project, "all words and looks long ago", &mutant);
        let mut mutant = project.record.clone();
        for whole in mutant.whole.values_mut() {
            if let Whole::Said { word, .. } = whole {
                word.on = long_ago();
            }
        }
        mutant
            .evidence
            .iter_mut()
            .flat_map(|file| &mut file.dated)
            .for_each(|dated| (dated.on, dated.at) = (long_ago(), None));
        tally.look(project, "all lists found whole and all evidence made long ago", &mutant);
        tally.values_long_ago(project);
    }
    assert!(tally.tried > 900, "{}", tally.tried);
    tally.ends("a day moved to long ago", |mutant| mutant.ends_with(" long ago"));
}

impl Tally {
    /// Each dated value taken long ago, and each day that is a value itself.
    fn values_long_ago(&mut self, project: &Project) {
        let as_value = ExactInterval::point(Exact::from_int(i64::from(day(LONG_AGO).days())));
        let mut values = 0;
        each_value(&project.rules, &mut project.record.clone(), |_, _| values += 1);
        for at in 0..values {
            let (mut taken, mut itself) = (project.record.clone(), project.record.clone());
            let (mut n, mut what) = (0, None);
            each_value(&project.rules, &mut taken, |fact, recorded| {
                let on = recorded.taken.as_mut().and_then(|taken| taken.on.as_mut());
                if let Some(on) = on.filter(|_| n == at) {
                    (on.on, on.at) = (long_ago(), None);
                    what = Some(format!("{} taken long ago", fact.name));
                }
                n += 1;
            });
            if let Some(what) = what {
                self.look(project, &what, &taken);
            }
            let (mut n, mut what) = (0, None);
            each_value(&project.rules, &mut itself, |fact, recorded| {
                if let Value::Number(days) = &mut recorded.value
                    && n == at
                    && fact.kind == Kind::Date
                    && !days.is_absent()
                {
                    days.clone_from(&as_value);
                    what = Some(format!("{} long ago", fact.name));
                }
                n += 1;
            });
            if let Some(what) = what {
                self.look(project, &what, &itself);
            }
        }
    }
}

#[test]
fn what_stood_in_an_emptied_file_is_not_shown() {
    let mut tally = Tally::default();
    for project in &projects() {
        for at in 0..project.files.len() {
            let mut files: Vec<FileText> = project.files.iter().map(|text| file(&text.name, &text.bytes)).collect();
            files[at].bytes.clear();
            let what = format!("{} emptied", files[at].name);
            let mutant = tally.read(project, &what, &project.header, &files);
            project.holds_nothing_of(&files[at].name, &mutant);
        }
    }
    // Where somebody said how many entries the log has, a log that has fewer is refused.
    assert!(tally.tried > 30, "{}", tally.tried);
    tally.ends("a file emptied", |mutant| mutant.ends_with(" emptied"));
}

impl Project {
    /// What is read without a file is all that stands in the others.
    fn holds_nothing_of(&self, name: &str, mutant: &Record) {
        let elsewhere = |place: Span| self.record.sources.place(place).file != name;
        // What the project means by its country stands in none of them.
        let written = |record: &Record, one: &Recorded| record.sources.place(one.place).file != PROJECT;
        let of_files = |record: &Record, all: bool| -> Vec<FactId> {
            let facts = record.facts.iter().filter(|(_, one)| written(record, one) && (all || elsewhere(one.place)));
            facts.map(|(id, _)| *id).collect()
        };
        assert_eq!(of_files(mutant, true), of_files(&self.record, false), "{}: facts of {name}", self.name);
        let rows = |record: &Record, all: bool| -> usize {
            record.lists.values().flat_map(|rows| &rows.rows).filter(|row| all || elsewhere(row.place)).count()
        };
        assert_eq!(rows(mutant, true), rows(&self.record, false), "{}: records of {name}", self.name);
        let words = self.record.confirmations.iter().filter(|word| elsewhere(word.place)).count();
        assert_eq!(mutant.confirmations.len(), words, "{}: words of {name}", self.name);
        let entries = self.record.log.iter().filter(|entry| elsewhere(entry.place)).count();
        assert_eq!(mutant.log.len(), entries, "{}: entries of {name}", self.name);
    }
}

#[test]
fn a_file_that_is_missing_shows_nothing() {
    let mut tally = Tally::default();
    for project in &projects() {
        let named: BTreeSet<&str> = project.record.evidence.iter().map(|file| file.file.as_str()).collect();
        let mut named: BTreeSet<String> = named.into_iter().map(str::to_owned).collect();
        each_value(&project.rules, &mut project.record.clone(), |fact, recorded| {
            if let (Kind::Named(Named::File), Value::Text(name)) = (fact.kind, &recorded.value) {
                named.insert(name.clone());
            }
        });
        for missing in &named {
            let paths: Vec<String> = project.paths.iter().filter(|path| *path != missing).cloned().collect();
            tally.read_with(project, &format!("{missing} missing"), (&project.header, &project.files, &paths));
        }
    }
    assert!(tally.tried >= 10, "{}", tally.tried);
    tally.ends("a piece of evidence missing", |_| false);
}

/// The slow reading says no often enough to be heard, and never of what is met.
#[test]
fn what_cannot_be_met_is_not_met() {
    let (mut met, mut open, mut lacking) = (0, 0, 0);
    for project in &projects() {
        let slow = Slow::new(&project.rules, &project.record, day(ON));
        for ((id, subject), verdict) in &project.before {
            let may = slow.may_be_met(*id, subject.as_deref());
            let item = project.rules.item(*id).expect("an item");
            match verdict {
                Verdict::Met => {
                    assert!(may, "{}: {} {subject:?}", project.name, project.rules.full_name(item));
                    met += 1;
                }
                Verdict::NotShown => {
                    open += 1;
                    lacking += usize::from(!may);
                }
                _ => {}
            }
        }
    }
    println!("{met} met; of {open} not shown {lacking} lack something by the slow reading");
    assert!(met > 400 && lacking * 10 > open * 7, "{met} {lacking} {open}");
}

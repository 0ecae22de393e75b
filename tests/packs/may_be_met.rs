//! What an item's need asks of people, the log, facts and files, read slowly from its condition:
//! whether it can be met at all by what is recorded. It says no only where the record certainly
//! lacks something, and no other part of the need makes up for it.

use cotterpin_engine::ir::{
    AnyOperand, Child, Condition, ConditionId, Confirmed, Fact, InStore, Item, ItemId, Kind, ListId, Logged, Loop,
    Named, Number, NumberId, Operand, Order, Origin, PartOrAll, RoleId, RoleSet, Rules, Value,
};
use cotterpin_engine::project::{Confirmation, Entry, Record, Recorded, Row, record_names};
use cotterpin_engine::quantity::{Date, DateRange, ExactInterval, Truth};
use cotterpin_engine::vocabulary::Event;
use std::collections::{BTreeMap, BTreeSet};

/// A record with the rules it is held against.
pub(super) struct Slow<'a> {
    rules: &'a Rules,
    record: &'a Record,
    on: Date,
    words: BTreeMap<ItemId, Vec<&'a Confirmation>>,
    /// The roles of each person, by [`one_person`].
    roles: BTreeMap<String, RoleSet>,
}

/// An item, and the record that it is raised for.
#[derive(Clone, Copy)]
struct Asked<'a> {
    id: ItemId,
    item: &'a Item,
    subject: Option<&'a str>,
    row: Option<&'a Row>,
}

/// What stands where a need reads.
enum Read<'a> {
    /// A value that may count.
    Value(&'a Recorded),
    /// Nothing, or nothing that still counts.
    Nothing,
    /// Something of which no more is known here: a constant, or a field of a record that a loop comes to.
    Something,
}

/// A name in whatever order its words stand: `Sample, Robin` is `Robin Sample`.
pub(super) fn one_person(name: &str) -> String {
    let words = name.split(|letter: char| !letter.is_alphanumeric()).filter(|word| !word.is_empty());
    let mut words: Vec<String> = words.map(str::to_lowercase).collect();
    words.sort_unstable();
    words.join(" ")
}

/// The person behind a short name or a full one.
pub(super) fn person(record: &Record, who: &str) -> String {
    one_person(record.people.get(who).map_or(who, |person| &person.name))
}

/// Whether something done to one part is done to another: to the same, or to a part of it.
fn is_of(part: &PartOrAll, done_to: &str) -> bool {
    let below = |part: &str| done_to.strip_prefix(part).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'));
    part.part().is_none_or(below)
}

/// What is so of a part in itself, whoever takes it off and puts it back.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Aspect {
    Fitted,
    Itself,
}

impl<'a> Slow<'a> {
    pub(super) fn new(rules: &'a Rules, record: &'a Record, on: Date) -> Self {
        let mut words: BTreeMap<ItemId, Vec<&Confirmation>> = BTreeMap::new();
        for word in &record.confirmations {
            rules.find_items(&word.item).into_iter().for_each(|id| words.entry(id).or_default().push(word));
        }
        let mut slow = Self { rules, record, on, words, roles: BTreeMap::new() };
        for one in record.people.values() {
            let known: Vec<RoleId> = one.roles.iter().filter_map(|name| slow.role(name)).collect();
            let of = slow.roles.entry(one_person(&one.name)).or_insert(RoleSet::ANY);
            known.into_iter().for_each(|role| of.add(role));
        }
        slow
    }

    /// Whether an item, of a record, may be met.
    pub(super) fn may_be_met(&self, id: ItemId, subject: Option<&str>) -> bool {
        let item = self.rules.item(id).expect("an item");
        let row = item.each.and_then(|list| self.row(list, subject?));
        let asked = Asked { id, item, subject, row };
        self.can(asked, item.need, true) && self.has_files(asked)
    }

    fn role(&self, name: &str) -> Option<RoleId> {
        self.rules.roles.position(|role| role.name == name)
    }

    fn row(&self, list: ListId, name: &str) -> Option<&'a Row> {
        let rows = self.record.lists.get(&list)?;
        let at = record_names(self.rules, list, rows).iter().position(|known| known == name)?;
        rows.rows.get(at)
    }

    /// Whether a condition may be so, or may not be so.
    fn can(&self, asked: Asked<'_>, id: ConditionId, so: bool) -> bool {
        let program = &self.rules.program;
        let condition = *program.conditions.get(id).expect("a condition");
        let parts = |run| program.arguments.get(run).iter();
        match condition {
            Condition::Constant(truth) => truth == if so { Truth::True } else { Truth::False },
            Condition::Not(part) => self.can(asked, part, !so),
            Condition::And(run) if so => parts(run).all(|part| self.can(asked, *part, true)),
            Condition::And(run) => parts(run).any(|part| self.can(asked, *part, false)),
            Condition::Or(run) if so => parts(run).any(|part| self.can(asked, *part, true)),
            Condition::Or(run) => parts(run).all(|part| self.can(asked, *part, false)),
            Condition::Every(over, body) if so => {
                self.has_records(over) && (over.condition.is_some() || self.can(asked, body, true))
            }
            Condition::Some(over, body) if so => {
                let which = over.condition.is_none_or(|which| self.can(asked, which, true));
                self.has_records(over) && which && self.can(asked, body, true)
            }
            Condition::Every(..) | Condition::Some(..) => true,
            Condition::Confirmed(need) => {
                let need = program.confirmed.get(need).expect("what is to be confirmed");
                let words = self.words.get(&asked.id).map_or(&[][..], Vec::as_slice);
                words.iter().any(|word| word.holds == so && self.says(asked, word, need))
            }
            Condition::Logged(need) => so && self.logs(asked, program.logged.get(need).expect("what is to be logged")),
            Condition::SomebodyElse(operand, than) if so => match self.read(asked, InStore::Texts(operand)) {
                Read::Value(Recorded { value: Value::Text(name), .. }) => {
                    self.roles.get(&person(self.record, name)).is_some_and(|roles| !roles.meets(than))
                }
                Read::Value(_) | Read::Nothing => false,
                Read::Something => true,
            },
            _ => self.has_all_it_reads(asked, condition) && self.compares(asked, condition, so),
        }
    }

    /// Whether a loop has records: with none, and nobody's word that there is none, it shows nothing.
    fn has_records(&self, over: Loop) -> bool {
        let any = self.record.lists.get(&over.list).is_some_and(|rows| !rows.rows.is_empty());
        any || self.rules.list(over.list).expect("a list").derived() || self.record.whole.contains_key(&over.list)
    }

    /// Whether something stands wherever a condition surely looks.
    fn has_all_it_reads(&self, asked: Asked<'_>, condition: Condition) -> bool {
        self.rules.program.children_of_condition(condition).all(|child| match child {
            Child::Read(operand) => !matches!(self.read(asked, operand), Read::Nothing),
            Child::Number(number) => self.number_may_be_known(asked, number),
            Child::Condition(_) | Child::Records(_) | Child::Column { .. } | Child::IfEmpty(_) => true,
        })
    }

    fn number_may_be_known(&self, asked: Asked<'_>, id: NumberId) -> bool {
        let number = *self.rules.program.numbers.get(id).expect("a number");
        // Of the larger of two, of nothing times something, of tables and of lists, a part may tell enough.
        if let Number::Larger(..)
        | Number::Smaller(..)
        | Number::Multiply(..)
        | Number::Lookup { .. }
        | Number::Aggregate(..)
        | Number::Mean(..)
        | Number::Count(_) = number
        {
            return true;
        }
        self.rules.program.children_of_number(number).all(|child| match child {
            Child::Read(operand) => !matches!(self.read(asked, operand), Read::Nothing),
            Child::Number(part) => self.number_may_be_known(asked, part),
            Child::Condition(_) | Child::Records(_) | Child::Column { .. } | Child::IfEmpty(_) => true,
        })
    }

    /// Whether two numbers or days, as they are recorded, compare so.
    fn compares(&self, asked: Asked<'_>, condition: Condition, so: bool) -> bool {
        let both = |left, right| Some((self.number(asked, left)?, self.number(asked, right)?));
        match condition {
            Condition::After(later, earlier) => {
                let wanted = if so { Truth::True } else { Truth::False };
                both(later, earlier).is_none_or(|(later, earlier)| earlier.less(&later) == wanted)
            }
            Condition::Compare { order, left, right } => both(left, right).is_none_or(|(left, right)| {
                let truth = match order {
                    Order::Less => left.less(&right),
                    Order::AtMost => left.at_most(&right),
                    Order::More => left.more(&right),
                    Order::AtLeast => left.at_least(&right),
                };
                truth == if so { Truth::True } else { Truth::False }
            }),
            Condition::WithinLast(date, span) if so => {
                let days = self.number(asked, date).and_then(|days| days.days());
                let first = Date::new(1970, 1, 1).expect("a day");
                let last = days.and_then(|(_, last)| first.add_days(last));
                let until = last.and_then(|last| span.after(last));
                until.is_none_or(|until| until.last >= self.on)
            }
            _ => true,
        }
    }

    /// A number that stands in the record itself.
    fn number(&self, asked: Asked<'_>, id: NumberId) -> Option<ExactInterval> {
        let Number::Read(operand) = *self.rules.program.numbers.get(id)? else { return None };
        if let Operand::Constant(constant) = operand {
            return self.rules.program.ranges.get(constant).cloned();
        }
        match self.read(asked, InStore::Numbers(operand)) {
            Read::Value(Recorded { value: Value::Number(number), .. }) => Some(number.clone()),
            _ => None,
        }
    }

    fn read(&self, asked: Asked<'_>, operand: AnyOperand) -> Read<'a> {
        let (fact, recorded, part) = match operand.origin() {
            None => return Read::Something,
            Some(Origin::Slot(slot)) => {
                let id = self.rules.program.slots.fact(slot).expect("a fact");
                (self.rules.fact(id).expect("a fact"), self.record.facts.get(&id), None)
            }
            Some(Origin::Field { list, column, frame }) => {
                if asked.item.each != Some(list)
                    || frame.index() != 0
                    || self.rules.list(list).expect("a list").derived()
                {
                    return Read::Something;
                }
                let Some(row) = self.find_row(asked, list) else { return Read::Nothing };
                let field = self.rules.program.columns.get(list).and_then(|columns| columns.field(column));
                let (field, list) = (field.expect("a field"), self.rules.list(list).expect("a list"));
                let own = row.part.clone().map(PartOrAll::Part).or_else(|| list.part.clone());
                (list.fields.get(field).expect("a field"), row.field(field), own)
            }
        };
        match recorded {
            Some(recorded) if self.still_counts(fact, recorded, part) => Read::Value(recorded),
            _ => Read::Nothing,
        }
    }

    fn find_row(&self, asked: Asked<'_>, list: ListId) -> Option<&'a Row> {
        asked.row.and(asked.subject).and_then(|name| self.row(list, name))
    }

    /// Whether nothing has certainly undone a value since.
    fn still_counts(&self, fact: &Fact, recorded: &Recorded, own: Option<PartOrAll>) -> bool {
        if let (Kind::Named(Named::File), Value::Text(file)) = (fact.kind, &recorded.value)
            && self.record.unknown_names.contains(&(Named::File, file.clone()))
        {
            return false;
        }
        let Some(state) = fact.state.as_ref().filter(|state| !state.own_day) else { return true };
        let Some(part) = state.of.clone().or(own) else { return true };
        let aspect = if state.itself { Aspect::Itself } else { Aspect::Fitted };
        let taken = recorded.taken.as_ref().and_then(|taken| taken.on);
        !self.disturbed_after(&part, taken.map(|taken| taken.on), aspect)
    }

    /// Whether a part was certainly disturbed after a day; without a day, at all.
    fn disturbed_after(&self, part: &PartOrAll, day: Option<DateRange>, aspect: Aspect) -> bool {
        let for_good = |entry: &&Entry| entry.for_good && entry.event == Event::Removed;
        if self
            .record
            .log
            .iter()
            .filter(for_good)
            .any(|entry| part.part().is_some_and(|part| part.starts_with(&entry.subject)))
        {
            return false;
        }
        self.record.log.iter().any(|entry| {
            let disturbs = match entry.event {
                Event::WorkDone | Event::Adjusted | Event::SnagCleared => true,
                Event::Removed | Event::Refitted => aspect == Aspect::Fitted,
                _ => false,
            };
            let later = entry.on.last <= self.on && day.is_none_or(|day| entry.on.first > day.last);
            disturbs && later && is_of(part, &entry.subject)
        })
    }

    /// Whether a day may be one after which something is asked to have been.
    fn is_after(&self, asked: Asked<'_>, on: DateRange, since: Option<NumberId>) -> bool {
        let Some(since) = since else { return true };
        let Some((first, _)) = self.number(asked, since).and_then(|days| days.days()) else {
            return self.number_may_be_known(asked, since);
        };
        on.first.days() > first
    }

    /// Whether a word may be one that counts.
    fn says(&self, asked: Asked<'_>, word: &Confirmation, need: &Confirmed) -> bool {
        let in_role = self.role(&word.role).is_some_and(|role| need.roles.hears(role));
        let roles = self.roles.get(&person(self.record, &word.who));
        let somebody_else = need.other_than == RoleSet::ANY || roles.is_some_and(|roles| !roles.meets(need.other_than));
        let parts = need.about.and_then(|about| self.rules.program.abouts.get(about)).map_or(&[][..], Vec::as_slice);
        word.subject.as_deref() == asked.subject
            && in_role
            && somebody_else
            && word.on.last <= self.on
            && self.is_after(asked, word.on, need.since)
            && !parts.iter().any(|part| self.disturbed_after(part, Some(word.on), Aspect::Fitted))
    }

    /// Whether the log may show what is asked of it.
    fn logs(&self, asked: Asked<'_>, need: &Logged) -> bool {
        let part = PartOrAll::Part(need.subject.clone());
        let counts = |entry: &&Entry| {
            let role = self.role(&entry.role);
            let signs = role.and_then(|at| self.rules.roles.get(at)).is_some_and(|role| role.signs);
            let roles = self.roles.get(&person(self.record, &entry.who));
            let else_than = need.other_than == RoleSet::ANY || roles.is_some_and(|roles| !roles.meets(need.other_than));
            entry.event == need.event
                && entry.subject == need.subject
                && signs
                && role.is_some_and(|role| need.roles.signs(role))
                && else_than
                && entry.on.last <= self.on
                && self.is_after(asked, entry.on, need.since)
                && !self.disturbed_after(&part, Some(entry.on), Aspect::Fitted)
        };
        let mut noted: BTreeMap<String, BTreeSet<&str>> = BTreeMap::new();
        for entry in self.record.log.iter().filter(counts) {
            let points = noted.entry(person(self.record, &entry.who)).or_default();
            points.extend(entry.points.iter().map(String::as_str));
        }
        let complete = |points: &&BTreeSet<&str>| need.points.iter().all(|point| points.contains(point.as_str()));
        noted.values().filter(complete).count() >= need.people as usize
    }

    /// Whether every kind of file that an item asks for may be there.
    fn has_files(&self, asked: Asked<'_>) -> bool {
        asked.item.shows.iter().all(|show| {
            let list = asked.item.each.and_then(|list| self.rules.list(list));
            let wanted = match (show.subject.as_str(), list) {
                ("", Some(list)) => format!("{}[{}]", list.name, asked.subject.unwrap_or_default()),
                (subject, _) => subject.to_owned(),
            };
            let kinds: Vec<&str> = show
                .kinds
                .iter()
                .filter_map(|kind| self.rules.evidence.get(*kind))
                .map(|kind| kind.name.as_str())
                .collect();
            self.record
                .evidence
                .iter()
                .any(|file| file.found && kinds.contains(&file.kind.as_str()) && file.subject.starts_with(&wanted))
        })
    }
}

//! Rules and records made for measuring: invented, and of any size.

use cotterpin_engine::ir::{ChoiceSet, FactId, Rules};
use cotterpin_engine::project::{Entry, Moment, Person, Record, Recorded, Row, Rows, Taken, Value, Whole};
use cotterpin_engine::quantity::{Date, DateRange, Exact, ExactInterval};
use cotterpin_engine::rules::{Prebuilt, load_packs};
use cotterpin_engine::source::Span;
use cotterpin_engine::vocabulary::Event;
use cotterpin_packs::PackText;
use std::fmt::Write;

const HEAD: &str = "hold-points\n  visit \"Visit\"\nsystems\n  s \"System\"\n";
const TAIL: &str = "by visit basis own cite common practice\n";

/// Chance without a library: a linear congruential generator, the multiplier
/// and increment of D. E. Knuth's MMIX (from memory).
pub(crate) struct Chance(pub(crate) u64);

impl Chance {
    pub(crate) fn below(&mut self, n: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % n
    }
}

/// Text of `rules` items of the shape `a >= 1.5*b and (mode is x or c < 20) and
/// flag`, each over facts of its own.
pub(crate) fn w1_text(rules: usize) -> String {
    let mut text = format!("{HEAD}choice mode : x or y or z\n");
    for n in 0..rules {
        let _ = write!(
            text,
            "fact s.a{n} : length ask \"?\"\nfact s.b{n} : length ask \"?\"\nfact s.c{n} : length ask \"?\"\n\
             fact s.m{n} : mode ask \"?\"\nfact s.f{n} : yes or no ask \"?\"\n\
             item s.i{n} \"t\" need s.a{n} >= 150 % of s.b{n} and (s.m{n} is x or s.c{n} < 20 in) and s.f{n} {TAIL}"
        );
    }
    text
}

/// Text of one item over a list.
pub(crate) fn w2_text() -> String {
    format!(
        "{HEAD}list s.runs ask \"?\"\n  field load : current ask \"?\"\n  field fixed : yes or no ask \"?\"\n\
           field name : text ask \"?\"\n  named by name\n\
         item s.all \"t\" need every r in s.runs has r.load <= 12 A and r.fixed {TAIL}"
    )
}

/// Text of one item over a list, with arithmetic: `a >= 1.25 * b and q < 90.5 in`.
pub(crate) fn w2_scaled_text() -> String {
    format!(
        "{HEAD}list s.runs ask \"?\"\n  field a : length ask \"?\"\n  field b : length ask \"?\"\n\
           field q : length ask \"?\"\n\
           field name : text ask \"?\"\n  named by name\n\
         item s.all \"t\" need every r in s.runs has r.a >= 1.25 * r.b and r.q < 90.5 in {TAIL}"
    )
}

/// Text of `items` items, 20 of which read each of the facts.
pub(crate) fn shared_text(items: usize) -> String {
    let mut text = HEAD.to_owned();
    for n in 0..items.div_ceil(20).max(4) {
        let _ = writeln!(text, "fact s.a{n} : length ask \"?\"");
    }
    for n in 0..items {
        let _ = write!(text, "item s.i{n} \"t\" need s.a{} >= {} in {TAIL}", n / 20, 1 + n % 20);
    }
    text
}

/// Text of 20 parts, each with a part of its own, what disturbs what among
/// them, a need of each, and the lists that the log keeps.
pub(crate) fn log_text() -> String {
    let mut text = format!("{HEAD}roles\n  builder \"Builder\"\nzones\n  z \"Zone\"\nsubjects\n  p \"All\"\n");
    for n in 0..PARTS {
        let _ = writeln!(text, "  p.a{n} \"Part\" zone z\n  p.a{n}.b \"Part of it\"");
    }
    for n in 0..PARTS / 2 {
        let _ = writeln!(text, "disturbing p.a{} also disturbs p.a{n}", n + PARTS / 2);
    }
    for n in 0..PARTS {
        let _ = write!(text, "item s.i{n} \"t\" need inspected p.a{n} by 2 people {TAIL}");
    }
    text += "list log.snags ask \"?\"\n  field snag : text ask \"?\"\n  field cleared : optional date ask \"?\"\n  named by snag\n\
        list log.fittings ask \"?\"\n  field part : text ask \"?\"\n  field fit : trial or temporary or final ask \"?\"\n  named by part\n\
        list log.openings ask \"?\"\n  field what : text ask \"?\"\n  field closed : yes or no ask \"?\"\n  named by what\n";
    text + &format!("item s.open \"t\" need every o in log.openings has o.closed {TAIL}")
}

/// How many parts the log is about.
const PARTS: usize = 20;

/// A log of so many entries, some known to the month only; the last day is of
/// inspections, and if `undone` the last entry is work on everything.
pub(crate) fn log_record(rules: &Rules, entries: usize, undone: bool) -> Record {
    let mut chance = Chance(3);
    let place = rules.lists.first().unwrap().place;
    let mut record = Record::default();
    for (name, full) in PEOPLE {
        let person = Person { name: full.to_owned(), roles: vec!["builder".into()], place };
        record.people.insert(name.to_owned(), person);
    }
    let last = Date::new(2026, 10, 1).map_or(0, Date::days);
    for n in 0..entries {
        let at = Span::new(place.source, n, n);
        let day = last - 3_000 + i32::try_from(n * 3_000 / entries).unwrap_or(0);
        let ending = n + 2 * PARTS >= entries;
        let day = DateRange::day(Date::from_days(if ending { last } else { day }));
        let event = match chance.below(6) {
            _ if ending => Event::Inspected,
            0..3 => Event::Inspected,
            3 => Event::Adjusted,
            4 => Event::Opened,
            _ => Event::Closed,
        };
        let part = if ending { (n % PARTS) as u64 } else { chance.below(PARTS as u64) };
        let part = if event == Event::Adjusted { format!("p.a{part}.b") } else { format!("p.a{part}") };
        let (who, _) = PEOPLE[if ending { n / PARTS % 2 } else { chance.below(4) as usize }];
        record.log.push(Entry { role: "builder".into(), ..Entry::new(event, &part, who, day, at) });
    }
    // Of half of the parts the last inspection is of a month that is not over.
    let month = DateRange::parse("2026-12").unwrap_or(DateRange::day(Date::from_days(last)));
    for entry in record.log.iter_mut().rev().take(PARTS / 2) {
        entry.on = month;
    }
    if let Some(entry) = record.log.last_mut().filter(|_| undone) {
        let place = entry.place;
        let day = DateRange::day(Date::from_days(last + 1));
        *entry = Entry { role: "builder".into(), ..Entry::new(Event::WorkDone, "p", PEOPLE[0].0, day, place) };
    }
    record
}

/// A list of values, each of a part, and a need of all of them.
pub(crate) fn states_text() -> String {
    format!(
        "list s.bonds of p ask \"?\"\n  field name : text ask \"?\"\n  field ohms : resistance of its part ask \"?\"\n  named by name\n\
         item s.bonded \"t\" need every b in s.bonds has b.ohms <= 3 ohm {TAIL}"
    )
}

/// So many of them, of as many days as the log tells of.
pub(crate) fn add_states(rules: &Rules, record: &mut Record, values: usize) {
    let list = rules.list_by_name["s.bonds"];
    let place = rules.lists.first().unwrap().place;
    let last = Date::new(2026, 10, 1).map_or(0, Date::days);
    let row = |n: usize| {
        let on = DateRange::day(Date::from_days(last - i32::try_from(n % 3_000).unwrap_or(0)));
        let taken = Taken { on: Some(Moment { on, at: None, place }), ..Taken::default() };
        let ohms = recorded_at(place, Value::Number(ExactInterval::point(Exact::from_int(1))));
        Row {
            fields: vec![
                Some(recorded_at(place, Value::Text(n.to_string()))),
                Some(Recorded { taken: Some(Box::new(taken)), ..ohms }),
            ],
            how_many: std::num::NonZeroU32::MIN,
            part: Some(format!("p.a{}", n % PARTS)),
            place,
        }
    };
    record.lists.insert(list, Rows { rows: (0..values).map(row).collect(), place });
    record.whole.insert(list, Whole::Given);
}

const PEOPLE: [(&str, &str); 4] =
    [("ann", "Ann Example"), ("bo", "Bo Specimen"), ("cy", "Cyril Sample"), ("di", "Diana Invented")];

/// A pack of one file.
pub(crate) fn pack(text: String) -> PackText {
    let manifest = "name='made'\ntitle='Made'\nedition='1'\nauthority='none'\nscope='measuring'".to_owned();
    PackText { name: "made".into(), manifest, files: vec![("made.checklist".into(), text.into())] }
}

pub(crate) fn rules(text: String) -> Rules {
    match load_packs(&Prebuilt::empty(), &[pack(text)]) {
        Ok(rules) => rules,
        Err(failed) => panic!("the made pack has mistakes: {:?}", failed.1.first()),
    }
}

/// One fact as if it had been read from a file.
pub(crate) fn recorded(rules: &Rules, value: Value) -> Recorded {
    Recorded {
        value,
        text: String::new(),
        read_as: None,
        unit: None,
        taken: None,
        place: rules.facts.first().unwrap().place,
    }
}

/// Tenths of an inch, in metres: 0.00254 m each.
pub(crate) fn tenths(n: u64) -> ExactInterval {
    let metres = Exact::ratio(i64::try_from(n).unwrap_or(0) * 254, 100_000);
    metres.map_or_else(ExactInterval::everything, ExactInterval::point)
}

/// A few tenths of an inch that were measured to half a tenth on either side.
pub(crate) fn about(n: u64) -> ExactInterval {
    let end = |half_tenths: i64| Exact::ratio(half_tenths * 127, 100_000);
    let twice = i64::try_from(n).unwrap_or(0) * 2;
    ExactInterval::new(end(twice - 1), end(twice + 1))
}

/// What one rule of W1 sees, before any engine's own form.
#[derive(Clone, Copy)]
pub(crate) struct Observed {
    pub(crate) a: Option<u64>,
    pub(crate) b: Option<u64>,
    pub(crate) c: Option<u64>,
    pub(crate) mode: Option<u8>,
    pub(crate) flag: Option<bool>,
}

/// Values for W1; of a hundred facts, `missing` are not recorded.
pub(crate) fn w1_values(rules: usize, missing: u64) -> Vec<Observed> {
    let mut chance = Chance(7);
    (0..rules)
        .map(|_| {
            let seen = Observed {
                a: Some(200 + chance.below(800)),
                b: Some(100 + chance.below(400)),
                c: Some(100 + chance.below(200)),
                mode: Some(u8::try_from(chance.below(3)).unwrap_or(0)),
                flag: Some(chance.below(4) > 0),
            };
            let mut there = || chance.below(100) >= missing;
            Observed {
                a: seen.a.filter(|_| there()),
                b: seen.b.filter(|_| there()),
                c: seen.c.filter(|_| there()),
                mode: seen.mode.filter(|_| there()),
                flag: seen.flag.filter(|_| there()),
            }
        })
        .collect()
}

/// The record that W1's values make; `wide` records quantities with a spread.
pub(crate) fn w1_record(rules: &Rules, values: &[Observed], wide: bool) -> Record {
    let mut record = Record::default();
    let number = |n: u64| Value::Number(if wide { about(n) } else { tenths(n) });
    for (n, seen) in values.iter().enumerate() {
        let mut put = |k: usize, value: Option<Value>| {
            if let Some(value) = value {
                record.facts.insert(FactId::new(5 * n + k), recorded(rules, value));
            }
        };
        put(0, seen.a.map(number));
        put(1, seen.b.map(number));
        put(2, seen.c.map(number));
        put(3, seen.mode.map(|mode| Value::Words(ChoiceSet::of_bits(1 << mode))));
        put(4, seen.flag.map(|flag| Value::Words(ChoiceSet::yes_or_no(flag))));
    }
    record
}

/// A record with `records` wire runs, every one as it should be.
pub(crate) fn w2_record(rules: &Rules, records: usize) -> Record {
    let place = rules.lists.first().unwrap().place;
    let current = |n: usize| {
        Exact::ratio(10 + i64::try_from(n % 100).unwrap_or(0), 10)
            .map_or_else(ExactInterval::everything, ExactInterval::point)
    };
    let row = |n: usize| Row {
        fields: vec![
            Some(recorded_at(place, Value::Number(current(n)))),
            Some(recorded_at(place, Value::Words(ChoiceSet::yes_or_no(true)))),
            Some(recorded_at(place, Value::Text(n.to_string()))),
        ],
        how_many: std::num::NonZeroU32::MIN,
        part: None,
        place,
    };
    let rows = Rows { rows: (0..records).map(row).collect(), place };
    let mut record = Record::default();
    record.lists.insert(cotterpin_engine::ir::ListId::new(0), rows);
    record.whole.insert(cotterpin_engine::ir::ListId::new(0), Whole::Given);
    record
}

/// A record with so many runs for the item with arithmetic, every one as it should be.
pub(crate) fn w2_scaled_record(rules: &Rules, records: usize) -> Record {
    let place = rules.lists.first().unwrap().place;
    let row = |n: usize| {
        let (b, q) = (100 + n as u64 % 100, 10 + n as u64 % 800);
        // A quarter more, and a tenth of an inch.
        let numbers = [b + b.div_ceil(4) + 1, b, q].map(|n| Value::Number(tenths(n)));
        let fields = numbers.into_iter().chain([Value::Text(n.to_string())]);
        Row {
            fields: fields.map(|value| Some(recorded_at(place, value))).collect(),
            how_many: std::num::NonZeroU32::MIN,
            part: None,
            place,
        }
    };
    let rows = Rows { rows: (0..records).map(row).collect(), place };
    let mut record = Record::default();
    record.lists.insert(cotterpin_engine::ir::ListId::new(0), rows);
    record.whole.insert(cotterpin_engine::ir::ListId::new(0), Whole::Given);
    record
}

fn recorded_at(place: Span, value: Value) -> Recorded {
    Recorded { value, text: String::new(), read_as: None, unit: None, taken: None, place }
}

//! Conditions with missing facts against SQLite's NULL logic.
//!
//! Source: SQLite's documentation, "NULL Handling in SQLite Versus Other
//! Database Engines" and "SQL Language Expressions"; the oracle is the library
//! itself. A missing fact is NULL; 1 is met, 0 unmet, NULL not shown.
//!
//! Left out, because the two differ there on purpose: zero times an unknown
//! number is zero here and NULL there; a word that is one of *all* the words
//! of its choice is known to be so here and NULL there.

use super::setup::{HEAD, fact, item};
use crate::fixtures::dice::Dice;
use crate::fixtures::packs::rules;
use crate::fixtures::projects::audited;
use crate::fixtures::seed::with_dice;
use crate::fixtures::values::recorded;
use cotterpin_engine::eval::{Evaluation, Facts};
use cotterpin_engine::ir::{ChoiceSet, Rules};
use cotterpin_engine::project::{Record, Value};
use cotterpin_engine::quantity::{Date, DateRange, Exact, ExactInterval, Truth};
use cotterpin_engine::vocabulary::Verdict;
use rusqlite::Connection;

const PACKS: u64 = 6;
const ITEMS: usize = 500;
const PROJECTS: usize = 6;
const NUMBERS: usize = 5;
const OTHERS: usize = 3;
const COLOURS: [&str; 3] = ["red", "green", "blue"];
const TEXTS: [&str; 3] = ["0107", "107", "N00XY"];
const DAYS: [&str; 3] = ["2026-05-01", "2026-05-31", "2026-06-01"];

/// A condition in both languages, with how tightly it binds (0 `or`, 1 `and`,
/// 2 `not`, 3 comparison), the same in both.
struct Both {
    rule: String,
    sql: String,
    binds: u8,
}

fn both(rule: String, sql: String, binds: u8) -> Both {
    Both { rule, sql, binds }
}

/// A number: a half-integer constant, a fact, or a sum of two.
fn number(dice: &mut Dice, deep: bool) -> (String, String) {
    match dice.below(if deep { 4 } else { 2 }) {
        0 => {
            let halves = dice.between(0, 6);
            let text = format!("{}.{}", halves / 2, halves % 2 * 5);
            (text.clone(), text)
        }
        1 | 2 => {
            let at = dice.below(NUMBERS);
            (format!("a.n{at}"), format!("n{at}"))
        }
        _ => {
            let ((a, x), (b, y)) = (number(dice, false), number(dice, false));
            let sign = *dice.pick(&["+", "-"]);
            (format!("({a} {sign} {b})"), format!("({x} {sign} {y})"))
        }
    }
}

/// A word, text, date or number compared.
fn leaf(dice: &mut Dice) -> Both {
    let at = dice.below(OTHERS);
    let other = dice.below(OTHERS);
    let order = *dice.pick(&["<", "<=", ">", ">="]);
    let (is, equals) = *dice.pick(&[("is", "="), ("is not", "<>")]);
    match dice.below(16) {
        0..=3 => {
            let ((a, x), (b, y)) = (number(dice, true), number(dice, true));
            both(format!("{a} {order} {b}"), format!("{x} {order} {y}"), 3)
        }
        4 => {
            let ((a, x), (b, y)) = (number(dice, true), number(dice, true));
            both(format!("{a} {is} {b}"), format!("{x} {equals} {y}"), 3)
        }
        5 => {
            let n = dice.below(NUMBERS);
            let ((low, l), (high, h)) = (number(dice, false), number(dice, false));
            both(format!("a.n{n} is between {low} and {high}"), format!("(n{n} BETWEEN {l} AND {h})"), 3)
        }
        6 => {
            let (n, m) = (dice.below(NUMBERS), dice.below(NUMBERS));
            both(format!("a.n{n} {order} 150 % of a.n{m}"), format!("n{n} {order} 1.5 * n{m}"), 3)
        }
        7 | 8 => {
            let word = *dice.pick(&COLOURS);
            both(format!("a.c{at} {is} {word}"), format!("c{at} {equals} '{word}'"), 3)
        }
        9 => {
            let mut words = COLOURS;
            dice.shuffle(&mut words);
            let (is, inside) = *dice.pick(&[("is one of", "IN"), ("is not one of", "NOT IN")]);
            both(
                format!("a.c{at} {is} {}, {}", words[0], words[1]),
                format!("c{at} {inside} ('{}', '{}')", words[0], words[1]),
                3,
            )
        }
        10 => both(format!("a.c{at} {is} a.c{other}"), format!("c{at} {equals} c{other}"), 3),
        11 => both(format!("a.y{at}"), format!("y{at}"), 3),
        12 => {
            let (word, bit) = *dice.pick(&[("yes", 1), ("no", 0)]);
            both(format!("a.y{at} {is} {word}"), format!("y{at} {equals} {bit}"), 3)
        }
        13 => {
            let text = *dice.pick(&TEXTS);
            both(format!("a.t{at} {is} \"{text}\""), format!("t{at} {equals} '{text}'"), 3)
        }
        14 => both(format!("a.t{at} {is} a.t{other}"), format!("t{at} {equals} t{other}"), 3),
        _ => match dice.below(4) {
            0 => both(format!("a.n{at} is recorded"), format!("n{at} = n{at}"), 3),
            1 => both(format!("a.d{at} {order} a.d{other}"), format!("d{at} {order} d{other}"), 3),
            // A need that is met whatever is recorded does not load, so the
            // constants stand where they decide nothing.
            2 => {
                let rest = leaf(dice);
                let (word, bit) = *dice.pick(&[("and yes", "AND 1"), ("or no", "OR 0")]);
                both(format!("({} {word})", rest.rule), format!("({} {bit})", rest.sql), 3)
            }
            _ => {
                let day = *dice.pick(&DAYS);
                both(format!("a.d{at} {order} {day}"), format!("d{at} {order} '{day}'"), 3)
            }
        },
    }
}

/// The part inside another that binds as tightly as `binds`; parentheses
/// where they are needed, and sometimes where they are not.
fn inside(dice: &mut Dice, part: Both, binds: u8) -> (String, String) {
    if part.binds < binds || dice.once_in(4) {
        (format!("({})", part.rule), format!("({})", part.sql))
    } else {
        (part.rule, part.sql)
    }
}

fn condition(dice: &mut Dice, depth: u32) -> Both {
    if depth == 0 || dice.once_in(5) {
        return leaf(dice);
    }
    if dice.once_in(4) {
        let part = condition(dice, depth - 1);
        let (rule, sql) = inside(dice, part, 3);
        return both(format!("not {rule}"), format!("NOT {sql}"), 2);
    }
    let (word, upper, binds) = *dice.pick(&[(" and ", " AND ", 1), (" or ", " OR ", 0)]);
    let (mut parts, mut sqls) = (Vec::new(), Vec::new());
    for _ in 0..=dice.between(1, 3) {
        let part = condition(dice, depth - 1);
        let (rule, sql) = inside(dice, part, binds + 1);
        parts.push(rule);
        sqls.push(sql);
    }
    both(parts.join(word), sqls.join(upper), binds)
}

fn pack(conditions: &[Both]) -> Rules {
    let mut text = format!("{HEAD}choice colour : red or green or blue\n");
    for at in 0..NUMBERS {
        text.push_str(&format!("fact a.n{at} : number ask \"?\"\n"));
    }
    for at in 0..OTHERS {
        for (name, kind) in [("c", "colour"), ("y", "yes or no"), ("t", "text"), ("d", "date")] {
            text.push_str(&format!("fact a.{name}{at} : {kind} ask \"?\"\n"));
        }
    }
    for (at, condition) in conditions.iter().enumerate() {
        text.push_str(&item(&format!("a.i{at}"), &condition.rule));
    }
    rules(&text)
}

/// A project with some facts missing: the record, and the values as SQL has them.
fn project(dice: &mut Dice, rules: &Rules, missing: usize) -> (Record, Vec<String>) {
    let mut record = Record::default();
    let mut values = Vec::new();
    let mut add = |dice: &mut Dice, name: String, value: Value, sql: String| {
        if dice.below(100) < missing {
            values.push("NULL".to_owned());
            return;
        }
        record.facts.insert(fact(rules, &name), recorded(value, None));
        values.push(sql);
    };
    for at in 0..NUMBERS {
        let halves = dice.between(-4, 6);
        let range = ExactInterval::point(Exact::ratio(halves, 2).expect("a number"));
        add(dice, format!("a.n{at}"), Value::Number(range), format!("{:.1}", halves as f64 / 2.0));
    }
    for at in 0..OTHERS {
        let (colour, yes, text, day) = (dice.below(3), dice.below(2), dice.below(3), dice.below(3));
        add(dice, format!("a.c{at}"), Value::Words(ChoiceSet::word(colour)), format!("'{}'", COLOURS[colour]));
        add(dice, format!("a.y{at}"), Value::Words(ChoiceSet::word(yes)), yes.to_string());
        add(dice, format!("a.t{at}"), Value::Text(TEXTS[text].into()), format!("'{}'", TEXTS[text]));
        let days = Exact::from_int(Date::parse(DAYS[day]).expect("a date").days().into());
        add(dice, format!("a.d{at}"), Value::Number(ExactInterval::point(days)), format!("'{}'", DAYS[day]));
    }
    (record, values)
}

fn columns() -> String {
    let mut names: Vec<String> = (0..NUMBERS).map(|at| format!("n{at} REAL")).collect();
    for at in 0..OTHERS {
        names.extend(
            [("c", "TEXT"), ("y", "INTEGER"), ("t", "TEXT"), ("d", "TEXT")]
                .map(|(name, kind)| format!("{name}{at} {kind}")),
        );
    }
    names.join(", ")
}

/// What SQLite says of every condition.
fn asked(conditions: &[Both], values: &[String]) -> Vec<Truth> {
    let database = Connection::open_in_memory().expect("a database");
    database.execute(&format!("CREATE TABLE facts ({})", columns()), ()).expect("a table");
    database.execute(&format!("INSERT INTO facts VALUES ({})", values.join(", ")), ()).expect("a row");
    let all: Vec<String> = conditions.iter().map(|condition| format!("({})", condition.sql)).collect();
    let answer = |row: &rusqlite::Row<'_>| {
        (0..conditions.len())
            .map(|at| {
                Ok(match row.get::<_, Option<i64>>(at)? {
                    Some(0) => Truth::False,
                    Some(_) => Truth::True,
                    None => Truth::Undecided,
                })
            })
            .collect::<rusqlite::Result<Vec<Truth>>>()
    };
    database.query_row(&format!("SELECT {} FROM facts", all.join(", ")), (), answer).expect("an answer")
}

fn as_verdict(truth: Truth) -> Verdict {
    match truth {
        Truth::True => Verdict::Met,
        Truth::False => Verdict::Unmet,
        Truth::Undecided => Verdict::NotShown,
    }
}

#[test]
fn missing_facts_are_decided_as_sqlite_decides_null() {
    with_dice(&[], |dice| {
        let (mut conditions, mut compared, mut audits, mut seen) = (0, 0, 0, [0_usize; 3]);
        let today = DateRange::day(Date::parse("2026-11-25").expect("a date"));
        for _ in 0..PACKS {
            let written: Vec<Both> = (0..ITEMS).map(|_| condition(dice, 3)).collect();
            let rules = pack(&written);
            conditions += written.len();
            for (n, missing) in (0..PROJECTS).zip([0, 15, 30, 50, 75, 100]) {
                let (record, values) = project(dice, &rules, missing);
                let expected = asked(&written, &values);
                let facts = Facts::bind(&rules, &record);
                let evaluation = Evaluation::new(&rules.program, &facts, today);
                for ((item, want), wrote) in rules.items.iter().zip(&expected).zip(&written) {
                    let got = evaluation.decide(item.need);
                    assert_eq!(got, *want, "{}\n{}\n{values:?}", wrote.rule, wrote.sql);
                    seen[got as usize] += 1;
                    compared += 1;
                }
                if n % 3 == 1 {
                    audits += audited_alike(&rules, &record, &expected);
                }
            }
        }
        println!(
            "compared {conditions} conditions on {PROJECTS} projects each with SQLite {}: {compared} truths (false, undecided, true: {seen:?}), {audits} verdicts of whole audits",
            rusqlite::version()
        );
        assert!(conditions >= 2000 && seen.iter().all(|count| *count > 1000), "{seen:?}");
    });
}

/// Compares the verdicts of a whole audit; how many there were.
fn audited_alike(rules: &Rules, record: &Record, expected: &[Truth]) -> usize {
    let audit = audited(rules, record, "2026-11-25");
    assert_eq!(audit.findings.len(), expected.len());
    for finding in &audit.findings {
        let at: usize = finding.item.trim_start_matches("mine/a.i").parse().expect("an item's number");
        assert_eq!(finding.verdict, as_verdict(expected[at]), "{}", finding.item);
    }
    audit.findings.len()
}

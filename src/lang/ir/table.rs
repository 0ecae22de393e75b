//! Published values by row, and how a value is found among them.

use super::{ChoiceSet, NumberId, Operand, TableColumn, Texts, Words};
use crate::quantity::{ExactInterval, Truth};

/// One key of a lookup.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Key {
    /// Words.
    Words(Operand<Words>),
    /// A text.
    Text(Operand<Texts>),
    /// A number, by node.
    Number(NumberId),
}

/// How rows are found by one key.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TableKey {
    /// The same words, text or number.
    Exact,
    /// Straight between rows.
    Linear,
    /// The greatest row at or below.
    StepDown,
    /// The least row at or above.
    StepUp,
}

/// A key cell of a row.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell {
    /// One word.
    Words(ChoiceSet),
    /// A text.
    Text(String),
    /// A number.
    Number(ExactInterval),
}

/// A row.
#[derive(Debug, Clone, PartialEq)]
pub struct TableRow {
    /// Its keys.
    pub keys: Vec<Cell>,
    /// Its values; `None` where the document prints none.
    pub cells: Vec<Option<ExactInterval>>,
}

/// A table.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// Its name.
    pub name: String,
    /// How each key is looked up; only the last may be other than exact.
    pub keys: Vec<TableKey>,
    /// Names of its columns.
    pub columns: Vec<String>,
    /// Its rows, ascending in a numeric last key.
    pub rows: Vec<TableRow>,
}

/// The value of a key at the time of a lookup.
#[derive(Debug, Clone, PartialEq)]
pub enum KeyValue<'v> {
    /// Possible words.
    Words(ChoiceSet),
    /// A text; `None` if not known.
    Text(Option<&'v str>),
    /// Possible numbers.
    Number(ExactInterval),
}

/// A single key, of those that a value may stand for.
#[derive(Clone, Copy)]
enum Single<'v> {
    Word(ChoiceSet),
    Text(&'v str),
    Number(&'v ExactInterval),
}

impl Table {
    /// Every value the column can take for these keys; everything, if some
    /// possible key has no value.
    #[must_use]
    pub fn find(&self, keys: &[KeyValue<'_>], column: TableColumn) -> ExactInterval {
        let stepped = self.keys.last().filter(|mode| **mode != TableKey::Exact).and(keys.split_last());
        let (exact, last) = match stepped {
            Some((KeyValue::Number(last), exact)) => (exact, Some(last)),
            _ => (keys, None),
        };
        let Some(groups) = self.groups(exact) else { return ExactInterval::everything() };
        let mut found: Option<ExactInterval> = None;
        for rows in groups {
            let value = match last {
                None => rows.first().and_then(|row| cell(row, column)).cloned(),
                Some(at) => self.along(&rows, at, column),
            };
            let Some(value) = value else { return ExactInterval::everything() };
            found = Some(found.map_or_else(|| value.clone(), |so_far| so_far.hull(&value)));
        }
        found.unwrap_or_else(ExactInterval::everything)
    }

    /// The rows for each possible combination of the exact keys; `None` if
    /// some possible combination has no row.
    fn groups(&self, exact: &[KeyValue<'_>]) -> Option<Vec<Vec<&TableRow>>> {
        let Some((first, others)) = exact.split_first() else { return Some(vec![self.rows.iter().collect()]) };
        let mut groups = Vec::new();
        for wanted in possible(first)? {
            groups.push(rows_with(self.rows.iter(), 0, wanted)?);
        }
        for (at, key) in (1..).zip(others) {
            let mut next = Vec::with_capacity(groups.len());
            for rows in groups {
                for wanted in possible(key)? {
                    next.push(rows_with(rows.iter().copied(), at, wanted)?);
                }
            }
            groups = next;
        }
        Some(groups)
    }

    /// The values over an interval of the numeric key; `None` outside the rows.
    fn along(&self, rows: &[&TableRow], at: &ExactInterval, column: TableColumn) -> Option<ExactInterval> {
        let mut knots: Vec<(&ExactInterval, Option<&ExactInterval>)> = rows
            .iter()
            .filter_map(|row| match row.keys.last()? {
                Cell::Number(key) => Some((key, cell(row, column))),
                Cell::Words(_) | Cell::Text(_) => None,
            })
            .collect();
        // Rows ascend within each group; groups may stand mixed.
        knots.sort_by(|(a, _), (b, _)| a.lo().cmp(&b.lo()));
        let (low, high) = (ExactInterval::point(at.lo()?.clone()), ExactInterval::point(at.hi()?.clone()));
        let mut found: Option<ExactInterval> = None;
        let mut take = |value: ExactInterval| {
            found = Some(found.take().map_or_else(|| value.clone(), |so_far| so_far.hull(&value)));
        };
        for end in [&low, &high] {
            take(self.value_at(&knots, end)?);
        }
        for (key, value) in &knots {
            let inside = low.at_most(key) == Truth::True && key.at_most(&high) == Truth::True;
            if inside {
                take((*value)?.clone());
            }
        }
        if self.keys.last() != Some(&TableKey::Linear) {
            // Between two rows a step takes the value of the row it leads to.
            for pair in knots.windows(2) {
                if let [(a, _), (b, _)] = pair {
                    let reaches = low.less(b) == Truth::True && a.less(&high) == Truth::True;
                    if reaches {
                        let probe = if self.keys.last() == Some(&TableKey::StepDown) { a } else { b };
                        take(self.value_at(&knots, probe)?);
                    }
                }
            }
        }
        found
    }

    fn value_at(
        &self,
        knots: &[(&ExactInterval, Option<&ExactInterval>)],
        at: &ExactInterval,
    ) -> Option<ExactInterval> {
        let below = knots.iter().rev().find(|(key, _)| key.at_most(at) == Truth::True)?;
        let above = knots.iter().find(|(key, _)| at.at_most(key) == Truth::True)?;
        match self.keys.last()? {
            TableKey::StepUp => above.1.cloned(),
            TableKey::Exact | TableKey::StepDown => below.1.cloned(),
            TableKey::Linear => {
                let (from, to) = (below.1?, above.1?);
                if below.0 == above.0 {
                    return Some(from.clone());
                }
                let share = at.sub(below.0).div(&above.0.sub(below.0));
                Some(from.add(&to.sub(from).mul(&share)))
            }
        }
    }
}

fn cell(row: &TableRow, column: TableColumn) -> Option<&ExactInterval> {
    row.cells.get(column.index()).and_then(Option::as_ref)
}

/// The single keys a value may stand for; `None` if there is no telling.
fn possible<'v>(key: &'v KeyValue<'v>) -> Option<Vec<Single<'v>>> {
    match key {
        KeyValue::Words(set) if set.may_be_absent() => None,
        KeyValue::Words(set) => Some(set.each().map(Single::Word).collect()),
        KeyValue::Text(text) => text.map(|text| vec![Single::Text(text)]),
        KeyValue::Number(range) => range.as_point().map(|_| vec![Single::Number(range)]),
    }
}

/// Of some rows, those with that key at a place; `None` if there is none.
fn rows_with<'t>(rows: impl Iterator<Item = &'t TableRow>, at: usize, wanted: Single<'_>) -> Option<Vec<&'t TableRow>> {
    let rows: Vec<_> = rows.filter(|row| row.keys.get(at).is_some_and(|cell| matches(cell, wanted))).collect();
    (!rows.is_empty()).then_some(rows)
}

fn matches(cell: &Cell, key: Single<'_>) -> bool {
    match (cell, key) {
        (Cell::Words(a), Single::Word(b)) => *a == b,
        (Cell::Text(a), Single::Text(b)) => a == b,
        (Cell::Number(a), Single::Number(b)) => a.equal(b) == Truth::True,
        (Cell::Words(_) | Cell::Text(_) | Cell::Number(_), _) => false,
    }
}

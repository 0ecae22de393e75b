//! Published values by row, and how a value is found among them.

use super::{ChoiceSet, NumberId, Operand, TableColumn, Texts, Words};
use crate::quantity::{ExactInterval, Truth};
use std::cmp::Ordering;

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

impl Cell {
    /// An order of keys for looking them up: equal are those that are the same.
    pub(crate) fn in_a_row(a: &[Self], b: &[Self]) -> Ordering {
        let one = |(a, b): (&Self, &Self)| match (a, b) {
            (Self::Words(a), Self::Words(b)) => a.cmp(b),
            (Self::Text(a), Self::Text(b)) => a.cmp(b),
            (Self::Number(a), Self::Number(b)) => a.in_a_row(b),
            (Self::Words(_), _) | (Self::Text(_), Self::Number(_)) => Ordering::Less,
            (Self::Number(_) | Self::Text(_), _) => Ordering::Greater,
        };
        a.iter().zip(b).map(one).find(|order| order.is_ne()).unwrap_or_else(|| a.len().cmp(&b.len()))
    }
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
        let mut found: Option<ExactInterval> = None;
        let all = each_combination(exact, &mut Vec::with_capacity(exact.len()), &mut |wanted| {
            let is_meant = |row: &&TableRow| row.keys.iter().zip(wanted).all(|(cell, key)| matches(cell, *key));
            let mut rows = self.rows.iter().filter(is_meant);
            let value = match last {
                None => cell(rows.next()?, column)?.clone(),
                Some(at) => self.along(rows, at, column)?,
            };
            found = Some(found.take().map_or_else(|| value.clone(), |so_far| so_far.hull(&value)));
            Some(())
        });
        all.and(found).unwrap_or_else(ExactInterval::everything)
    }

    /// The values over an interval of the numeric key; `None` outside the rows.
    fn along<'t>(
        &self,
        rows: impl Iterator<Item = &'t TableRow>,
        at: &ExactInterval,
        column: TableColumn,
    ) -> Option<ExactInterval> {
        let mut knots: Vec<(&ExactInterval, Option<&ExactInterval>)> = rows
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

/// Calls `visit` for each combination of single keys that the values may stand for. `None` where there is no telling
/// which there are, or as soon as `visit` finds nothing for one: of no more than there are rows it finds something.
fn each_combination<'v>(
    keys: &'v [KeyValue<'v>],
    chosen: &mut Vec<Single<'v>>,
    visit: &mut impl FnMut(&[Single<'v>]) -> Option<()>,
) -> Option<()> {
    let Some((first, others)) = keys.split_first() else { return visit(chosen) };
    for wanted in possible(first)? {
        chosen.push(wanted);
        each_combination(others, chosen, visit)?;
        chosen.pop();
    }
    Some(())
}

/// The single keys a value may stand for; `None` if there is no telling.
fn possible<'v>(key: &'v KeyValue<'v>) -> Option<impl Iterator<Item = Single<'v>>> {
    let (words, other) = match key {
        KeyValue::Words(set) if set.may_be_absent() => return None,
        KeyValue::Words(set) => (Some(*set), None),
        KeyValue::Text(text) => (None, Some(Single::Text((*text)?))),
        KeyValue::Number(range) => (None, range.as_point().map(|_| Single::Number(range)).map(Some)?),
    };
    Some(words.into_iter().flat_map(ChoiceSet::each).map(Single::Word).chain(other))
}

fn matches(cell: &Cell, key: Single<'_>) -> bool {
    match (cell, key) {
        (Cell::Words(a), Single::Word(b)) => *a == b,
        (Cell::Text(a), Single::Text(b)) => a == b,
        (Cell::Number(a), Single::Number(b)) => a.equal(b) == Truth::True,
        (Cell::Words(_) | Cell::Text(_) | Cell::Number(_), _) => false,
    }
}

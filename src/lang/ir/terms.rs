//! What a number is worked out from, for all who walk down from one: those who
//! tell values, those who ask for them, those who look for a list.

use super::{Key, Loop, Number, Operand, Program, Store};

/// Something that a number is directly worked out from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Term {
    /// A value read from a store.
    Read(Store, Operand),
    /// Another number.
    Number(u32),
    /// The records of a list; what is worked out for each of them follows.
    Records(Loop),
}

impl Program {
    /// What a number is directly worked out from, in the order written. What a
    /// sum is where the list is empty is none of them.
    pub fn terms_of(&self, number: Number) -> impl Iterator<Item = Term> {
        let (terms, keys) = match number {
            Number::Read(operand) => ([Some(Term::Read(Store::Numbers, operand)), None, None], &[][..]),
            Number::Today => ([None; 3], &[][..]),
            Number::Add(a, b)
            | Number::Subtract(a, b)
            | Number::Multiply(a, b)
            | Number::Divide(a, b)
            | Number::Larger(a, b)
            | Number::Smaller(a, b) => ([Some(Term::Number(a)), Some(Term::Number(b)), None], &[][..]),
            Number::Absolute(a) | Number::Root(a) | Number::Shift(a, _) => {
                ([Some(Term::Number(a)), None, None], &[][..])
            }
            Number::Lookup { table, keys, .. } => ([None; 3], self.keys_of(table, keys)),
            Number::Gather(_, over, value, _) => {
                ([Some(Term::Records(over)), Some(Term::Number(value)), None], &[][..])
            }
            Number::Mean(over, value, weight) => {
                ([Some(Term::Records(over)), Some(Term::Number(value)), Some(Term::Number(weight))], &[][..])
            }
            Number::Count(over) => ([Some(Term::Records(over)), None, None], &[][..]),
        };
        let keys = keys.iter().map(|key| match *key {
            Key::Words(operand) => Term::Read(Store::Words, operand),
            Key::Text(operand) => Term::Read(Store::Texts, operand),
            Key::Number(node) => Term::Number(node),
        });
        terms.into_iter().flatten().chain(keys)
    }

    /// The keys of a look-up, from the first.
    pub fn keys_of(&self, table: u32, first: u32) -> &[Key] {
        let count = self.tables.get(table as usize).map_or(0, |table| table.keys.len());
        let first = first as usize;
        self.keys.get(first..first.saturating_add(count)).unwrap_or(&[])
    }
}

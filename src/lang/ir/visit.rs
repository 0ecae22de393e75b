//! What a condition or a number is directly made of, for all who walk down
//! from one: those who tell values, those who ask for them, those who look for
//! a list, those who count steps.

use super::{
    AlikePart, AnyOperand, ColumnId, Condition, ConditionId, InStore, Key, ListId, Loop, Number, NumberId, Program,
    Texts,
};

/// Something that a condition or a number is directly made of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Child {
    /// A condition.
    Condition(ConditionId),
    /// A number.
    Number(NumberId),
    /// A value read from a store.
    Read(AnyOperand),
    /// The records of a list; what is asked of each of them, or worked out for
    /// each, follows.
    Records(Loop),
    /// A text of every record of a list.
    Column {
        /// The list.
        list: ListId,
        /// The column.
        column: ColumnId<Texts>,
    },
    /// What a sum is where its list is empty.
    IfEmpty(NumberId),
}

/// A few children, then those of a run.
type Children<'p> = ([Option<Child>; 3], &'p [ConditionId], &'p [AlikePart], &'p [Key]);

impl Program {
    /// What a condition is directly made of, in the order written.
    pub fn children_of_condition(&self, condition: Condition) -> impl Iterator<Item = Child> {
        let few = |children| (children, &[][..], &[][..], &[][..]);
        let two = |a, b| few([Some(a), Some(b), None]);
        let one = |a| few([Some(a), None, None]);
        let words = |operand| Child::Read(InStore::Words(operand));
        let text = |operand| Child::Read(InStore::Texts(operand));
        all(match condition {
            Condition::And(parts) | Condition::Or(parts) => ([None; 3], self.arguments.get(parts), &[], &[]),
            Condition::Not(part) => one(Child::Condition(part)),
            Condition::Compare { left, right, .. } | Condition::Equal(left, right) => {
                two(Child::Number(left), Child::Number(right))
            }
            Condition::Words(operand, _) => one(words(operand)),
            Condition::SameWords(a, b) => two(words(a), words(b)),
            Condition::SameText(a, b) | Condition::SameLetters(a, b) => two(text(a), text(b)),
            Condition::Fits(operand, _) => one(text(operand)),
            Condition::Alike(parts) => ([None; 3], &[], self.alikes.get(parts), &[]),
            Condition::Absent(operand) | Condition::Recorded(operand) => one(Child::Read(operand)),
            Condition::Every(over, body) | Condition::Some(over, body) => {
                two(Child::Records(over), Child::Condition(body))
            }
            Condition::WithinLast(date, _) => one(Child::Number(date)),
            Condition::Constant(_) | Condition::Confirmed { .. } | Condition::Logged(_) => few([None; 3]),
        })
    }

    /// What a number is directly made of, in the order written.
    pub fn children_of_number(&self, number: Number) -> impl Iterator<Item = Child> {
        let few = |children| (children, &[][..], &[][..], &[][..]);
        all(match number {
            Number::Read(operand) => few([Some(Child::Read(InStore::Numbers(operand))), None, None]),
            Number::Today => few([None; 3]),
            Number::Add(a, b)
            | Number::Subtract(a, b)
            | Number::Multiply(a, b)
            | Number::Divide(a, b)
            | Number::Larger(a, b)
            | Number::Smaller(a, b) => few([Some(Child::Number(a)), Some(Child::Number(b)), None]),
            Number::Absolute(a) | Number::Root(a) | Number::Shift(a, _) => few([Some(Child::Number(a)), None, None]),
            Number::Lookup { keys, .. } => ([None; 3], &[], &[], self.keys.get(keys)),
            Number::Gather(_, over, value, if_empty) => {
                few([Some(Child::Records(over)), Some(Child::Number(value)), if_empty.map(Child::IfEmpty)])
            }
            Number::Mean(over, value, weight) => {
                few([Some(Child::Records(over)), Some(Child::Number(value)), Some(Child::Number(weight))])
            }
            Number::Count(over) => few([Some(Child::Records(over)), None, None]),
        })
    }
}

fn all((few, conditions, alikes, keys): Children<'_>) -> impl Iterator<Item = Child> {
    let alikes = alikes.iter().map(|part| match *part {
        AlikePart::One(operand) => Child::Read(InStore::Texts(operand)),
        AlikePart::Every { list, column } => Child::Column { list, column },
    });
    let keys = keys.iter().map(|key| match *key {
        Key::Words(operand) => Child::Read(InStore::Words(operand)),
        Key::Text(operand) => Child::Read(InStore::Texts(operand)),
        Key::Number(node) => Child::Number(node),
    });
    few.into_iter().flatten().chain(conditions.iter().copied().map(Child::Condition)).chain(alikes).chain(keys)
}

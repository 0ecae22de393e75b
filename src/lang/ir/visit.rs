//! What a condition or a number is directly made of, for all who walk down
//! from one: those who tell values, those who ask for them, those who look for
//! a list, those who count steps.

use super::{
    AlikePart, AnyOperand, ColumnId, Condition, ConditionId, Confirmed, InStore, Key, ListId, Logged, Loop, Number,
    NumberId, Program, Texts,
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
#[derive(Debug)]
struct Children<'p> {
    few: std::iter::Flatten<std::array::IntoIter<Option<Child>, 3>>,
    rest: Rest<'p>,
}

#[derive(Debug)]
enum Rest<'p> {
    Nothing,
    Conditions(std::slice::Iter<'p, ConditionId>),
    Alikes(std::slice::Iter<'p, AlikePart>),
    Keys(std::slice::Iter<'p, Key>),
}

impl<'p> Children<'p> {
    fn few(few: [Option<Child>; 3]) -> Self {
        Self { few: few.into_iter().flatten(), rest: Rest::Nothing }
    }

    fn one(child: Child) -> Self {
        Self::few([Some(child), None, None])
    }

    fn two(a: Child, b: Child) -> Self {
        Self::few([Some(a), Some(b), None])
    }

    /// The day after which something must have been, if any is asked.
    fn since(day: Option<NumberId>) -> Self {
        Self::few([day.map(Child::Number), None, None])
    }

    fn none() -> Self {
        Self::few([None; 3])
    }

    fn of(rest: Rest<'p>) -> Self {
        Self { rest, ..Self::none() }
    }
}

impl Iterator for Children<'_> {
    type Item = Child;

    fn next(&mut self) -> Option<Child> {
        if let Some(child) = self.few.next() {
            return Some(child);
        }
        match &mut self.rest {
            Rest::Nothing => None,
            Rest::Conditions(parts) => parts.next().copied().map(Child::Condition),
            Rest::Alikes(parts) => parts.next().map(|part| match *part {
                AlikePart::One(operand) => Child::Read(InStore::Texts(operand)),
                AlikePart::Every { list, column } => Child::Column { list, column },
            }),
            Rest::Keys(keys) => keys.next().map(|key| match *key {
                Key::Words(operand) => Child::Read(InStore::Words(operand)),
                Key::Text(operand) => Child::Read(InStore::Texts(operand)),
                Key::Number(node) => Child::Number(node),
            }),
        }
    }
}

impl Program {
    /// What a condition is directly made of, in the order written.
    pub fn children_of_condition(&self, condition: Condition) -> impl Iterator<Item = Child> {
        let words = |operand| Child::Read(InStore::Words(operand));
        let text = |operand| Child::Read(InStore::Texts(operand));
        match condition {
            Condition::And(parts) | Condition::Or(parts) => {
                Children::of(Rest::Conditions(self.arguments.get(parts).iter()))
            }
            Condition::Not(part) => Children::one(Child::Condition(part)),
            Condition::Compare { left, right, .. } | Condition::Equal(left, right) | Condition::After(left, right) => {
                Children::two(Child::Number(left), Child::Number(right))
            }
            Condition::Words(operand, _) => Children::one(words(operand)),
            Condition::SameWords(a, b) => Children::two(words(a), words(b)),
            Condition::SameText(a, b) | Condition::SameLetters(a, b) => Children::two(text(a), text(b)),
            Condition::Fits(operand, _) | Condition::SomebodyElse(operand, _) => Children::one(text(operand)),
            Condition::Alike(parts) => Children::of(Rest::Alikes(self.alikes.get(parts).iter())),
            Condition::Absent(operand) | Condition::Recorded(operand) => Children::one(Child::Read(operand)),
            Condition::Every(over, body) | Condition::Some(over, body) => {
                Children::two(Child::Records(over), Child::Condition(body))
            }
            Condition::WithinLast(date, _) => Children::one(Child::Number(date)),
            Condition::Confirmed(need) => Children::since(self.confirmed.get(need).and_then(|need| need.since)),
            Condition::Logged(need) => Children::since(self.logged.get(need).and_then(|need| need.since)),
            Condition::Constant(_) => Children::none(),
        }
    }

    /// The words of people that a condition asks for, wherever in it.
    #[must_use]
    pub fn words_of(&self, condition: ConditionId) -> Vec<&Confirmed> {
        let word = |condition| if let Condition::Confirmed(need) = condition { self.confirmed.get(need) } else { None };
        self.conditions_in(condition).into_iter().filter_map(word).collect()
    }

    /// What a condition asks of the log, wherever in it.
    #[must_use]
    pub fn logged_in(&self, condition: ConditionId) -> Vec<&Logged> {
        let logged = |condition| if let Condition::Logged(need) = condition { self.logged.get(need) } else { None };
        self.conditions_in(condition).into_iter().filter_map(logged).collect()
    }

    /// A condition with all that it is made of.
    fn conditions_in(&self, condition: ConditionId) -> Vec<Condition> {
        let (mut found, mut left) = (Vec::new(), vec![Child::Condition(condition)]);
        while let Some(child) = left.pop() {
            match child {
                Child::Condition(id) => {
                    let Some(condition) = self.conditions.get(id).copied() else { continue };
                    found.push(condition);
                    left.extend(self.children_of_condition(condition));
                }
                Child::Number(id) | Child::IfEmpty(id) => {
                    let number = self.numbers.get(id).copied();
                    left.extend(number.into_iter().flat_map(|number| self.children_of_number(number)));
                }
                Child::Records(over) => left.extend(over.condition.map(Child::Condition)),
                Child::Column { .. } | Child::Read(_) => {}
            }
        }
        found
    }

    /// What a number is directly made of, in the order written.
    pub fn children_of_number(&self, number: Number) -> impl Iterator<Item = Child> {
        match number {
            Number::Read(operand) => Children::one(Child::Read(InStore::Numbers(operand))),
            Number::Today => Children::none(),
            Number::Add(a, b)
            | Number::Subtract(a, b)
            | Number::Multiply(a, b)
            | Number::Divide(a, b)
            | Number::Larger(a, b)
            | Number::Smaller(a, b) => Children::two(Child::Number(a), Child::Number(b)),
            Number::Absolute(a) | Number::Root(a) | Number::Shift(a, _) => Children::one(Child::Number(a)),
            Number::Lookup { keys, .. } => Children::of(Rest::Keys(self.keys.get(keys).iter())),
            Number::Aggregate(_, over, value, if_empty) => {
                Children::few([Some(Child::Records(over)), Some(Child::Number(value)), if_empty.map(Child::IfEmpty)])
            }
            Number::Mean(over, value, weight) => {
                Children::few([Some(Child::Records(over)), Some(Child::Number(value)), Some(Child::Number(weight))])
            }
            Number::Count(over) => Children::one(Child::Records(over)),
        }
    }
}

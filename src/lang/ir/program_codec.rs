//! The program as it is stored: all but its rows, which are laid out when all packs are known.

use super::regex_form::Form;
use super::{
    AboutId, Aggregate, AlikePart, Calendar, Cell, ChoiceId, ColumnId, Columns, Condition, ConditionId, Confirmed,
    ConfirmedId, ConstantId, DocumentId, EvidenceId, FactId, FieldId, HoldPointId, Id, InStore, ItemId, Key, ListId,
    Logged, LoggedId, Loop, LoopId, Number, NumberId, NumberOf, Operand, Order, PackId, PartId, PartOrAll, Pattern,
    PatternId, Place, Program, Rows, Run, Sameness, SlotId, Slots, Table, TableColumn, TableId, TableKey, TableRow,
    WordsOf, ZoneId,
};
use crate::codec::{Codec, Reader, Writer, all_of, one_of};

all_of! {
    Loop { list, frame, condition, same }
    Logged { event, subject, people, roles, other_than, points, since }
    Confirmed { roles, other_than, about, since }
    Pattern { name, title, form }
    Slots { numbers, words, texts }
    Columns { numbers, words, texts }
    Table { name, keys, columns, rows }
    TableRow { keys, cells }
    Program {
        conditions, condition_spans, numbers, number_spans, dimensions, arguments, intervals, ranges, texts, words, alikes,
        patterns, tables, keys, confirmed, logged, abouts, slots, columns; rows: Rows::default()
    }
}

one_of! {
    Sameness { 0 Never, 1 OnADay, 2 Always }
    Order { 0 Less, 1 AtMost, 2 More, 3 AtLeast }
    Calendar { 0 MonthEnd(n), 1 Months(n), 2 Days(n) }
    Condition {
        0 Constant(truth), 1 And(parts), 2 Or(parts), 3 Not(part), 4 Compare { order, left, right }, 7 Equal(left, right),
        8 Words(operand, allowed), 9 SameWords(left, right), 10 SameText(left, right), 20 SameLetters(left, right), 11 Fits(operand, pattern),
        12 Alike(parts), 13 Absent(operand), 14 Recorded(operand), 15 Every(over, body), 16 Some(over, body),
        17 WithinLast(date, length), 18 Confirmed(n), 19 Logged(n),
        21 After(later, earlier), 22 SomebodyElse(person, roles),
    }
    PartOrAll { 0 Everything, 1 Part(name) }
    AlikePart { 0 One(operand), 1 Every { list, column } }
    Aggregate { 0 Sum, 1 Least, 2 Greatest }
    Number {
        0 Read(operand), 1 Today, 2 Add(a, b), 3 Subtract(a, b), 4 Multiply(a, b), 5 Divide(a, b), 6 Larger(a, b),
        7 Smaller(a, b), 8 Absolute(a), 9 Root(a), 10 Shift(date, length), 11 Lookup { table, column, keys, same },
        12 Aggregate(how, over, value, if_empty), 13 Mean(over, value, weight), 14 Count(over),
    }
    Key { 0 Words(operand), 1 Text(operand), 2 Number(node) }
    TableKey { 0 Exact, 1 Linear, 2 StepDown, 3 StepUp }
    Cell { 0 Words(set), 1 Text(text), 2 Number(value) }
    Place { 0 Slot(slot), 1 Column(column) }
}

impl Codec for Form {
    fn encode(&self, to: &mut Writer<'_>) {
        self.text().to_owned().encode(to);
    }

    fn decode(from: &mut Reader<'_>) -> Option<Self> {
        String::decode(from).map(Form::known)
    }
}

/// Types that hold something of one store, or of some kind of thing.
macro_rules! with_parameter {
    ($(impl<$($parameter:ident),+> $type:ty: |$self:ident, $to:ident| $write:expr, |$from:ident| $read:expr;)+) => {$(
        impl<$($parameter: Codec),+> Codec for $type {
            fn encode(&self, $to: &mut Writer<'_>) {
                let $self = self;
                $write;
            }

            fn decode($from: &mut Reader<'_>) -> Option<Self> {
                $read
            }
        }
    )+};
}

with_parameter! {
    impl<I> NumberOf<I>: |one, to| { one.of.encode(to); one.optional.encode(to); one.never_negative.encode(to) },
        |from| Some(Self { of: Codec::decode(from)?, optional: Codec::decode(from)?, never_negative: Codec::decode(from)? });
    impl<I> WordsOf<I>: |one, to| { one.of.encode(to); one.all.encode(to) },
        |from| Some(Self { of: Codec::decode(from)?, all: Codec::decode(from)? });
}

impl<N: Codec, W: Codec, T: Codec> Codec for InStore<N, W, T> {
    fn encode(&self, to: &mut Writer<'_>) {
        match self {
            Self::Numbers(one) => {
                to.number(0);
                one.encode(to);
            }
            Self::Words(one) => {
                to.number(1);
                one.encode(to);
            }
            Self::Texts(one) => {
                to.number(2);
                one.encode(to);
            }
        }
    }

    fn decode(from: &mut Reader<'_>) -> Option<Self> {
        match from.number()? {
            0 => N::decode(from).map(Self::Numbers),
            1 => W::decode(from).map(Self::Words),
            2 => T::decode(from).map(Self::Texts),
            _ => None,
        }
    }
}

impl<S: Copy> Codec for Operand<S> {
    fn encode(&self, to: &mut Writer<'_>) {
        match self {
            Self::Slot(slot) => {
                to.number(0);
                slot.encode(to);
            }
            Self::Field { list, column, frame } => {
                to.number(1);
                list.encode(to);
                column.encode(to);
                frame.encode(to);
            }
            Self::Constant(constant) => {
                to.number(2);
                constant.encode(to);
            }
        }
    }

    fn decode(from: &mut Reader<'_>) -> Option<Self> {
        match from.number()? {
            0 => SlotId::decode(from).map(Self::Slot),
            1 => Some(Self::Field {
                list: Codec::decode(from)?,
                column: Codec::decode(from)?,
                frame: Codec::decode(from)?,
            }),
            2 => ConstantId::decode(from).map(Self::Constant),
            _ => None,
        }
    }
}

impl<T> Codec for Run<T> {
    fn encode(&self, to: &mut Writer<'_>) {
        let places = self.range();
        places.start.encode(to);
        places.len().encode(to);
    }

    fn decode(from: &mut Reader<'_>) -> Option<Self> {
        Some(Self::new(Codec::decode(from)?, Codec::decode(from)?))
    }
}

/// An id is stored as its place.
macro_rules! ids {
    ($($id:ident $(<$store:ident>)?),+ $(,)?) => {$(
        impl$(<$store: Copy>)? Codec for $id$(<$store>)? {
            fn encode(&self, to: &mut Writer<'_>) {
                to.number(self.index() as u64);
            }

            fn decode(from: &mut Reader<'_>) -> Option<Self> {
                usize::decode(from).map(Self::new)
            }
        }
    )+};
}
ids!(
    PackId,
    DocumentId,
    HoldPointId,
    ZoneId,
    EvidenceId,
    PartId,
    ChoiceId,
    FactId,
    ListId,
    ItemId,
    FieldId,
    ConditionId,
    NumberId,
    TableId,
    TableColumn,
    PatternId,
    LoggedId,
    ConfirmedId,
    AboutId,
    LoopId,
    SlotId<S>,
    ColumnId<S>,
    ConstantId<S>,
);

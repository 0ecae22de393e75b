//! The program as it is stored: all but its rows, which are laid out when all packs are known.

use super::regex_form::Form;
use super::{
    AlikePart, Calendar, Cell, Columns, Condition, Gather, Key, Logged, Loop, Number, Operand, Order, Pattern, Program,
    Rows, Slots, Store, Table, TableKey, TableRow,
};
use crate::codec::{Reader, Stored, Writer, all_of, one_of};

all_of! {
    Loop { list, frame, condition }
    Logged { event, subject, people, roles, points }
    Pattern { name, title, form }
    Slots { numbers, words, texts }
    Columns { numbers, words, texts }
    Table { name, keys, columns, rows }
    TableRow { keys, cells }
    Program {
        conditions, condition_spans, numbers, number_spans, dimensions, arguments, intervals, ranges, texts, words, alikes,
        patterns, tables, keys, logged, abouts, slots, columns; rows: Rows::default()
    }
}

one_of! {
    Operand { 0 Slot(slot), 1 Field { list, column, frame }, 2 Constant(n) }
    Order { 0 Less, 1 AtMost, 2 More, 3 AtLeast }
    Calendar { 0 MonthEnd(n), 1 Months(n), 2 Days(n) }
    Condition {
        0 Constant(truth), 1 And { start, len }, 2 Or { start, len }, 3 Not(part), 4 Compare { order, left, right },
        5 CompareConstant { order, slot, constant, sides }, 6 CompareScaled { order, slot, sides }, 7 Equal(left, right),
        8 Words(operand, allowed), 9 SameWords(left, right), 10 SameText(left, right), 20 SameLetters(left, right), 11 Fits(operand, pattern),
        12 Alike { start, len }, 13 Absent(store, operand), 14 Recorded(store, operand), 15 Every(over, body),
        16 Some(over, body), 17 WithinLast(date, length), 18 Confirmed { roles, about }, 19 Logged(n),
    }
    Store { 0 Numbers, 1 Words, 2 Texts }
    AlikePart { 0 One(operand), 1 Every { list, column } }
    Gather { 0 Sum, 1 Least, 2 Greatest }
    Number {
        0 Read(operand), 1 Today, 2 Add(a, b), 3 Subtract(a, b), 4 Multiply(a, b), 5 Divide(a, b), 6 Larger(a, b),
        7 Smaller(a, b), 8 Absolute(a), 9 Root(a), 10 Shift(date, length), 11 Lookup { table, column, keys },
        12 Gather(how, over, value, if_empty), 13 Mean(over, value, weight), 14 Count(over),
    }
    Key { 0 Words(operand), 1 Text(operand), 2 Number(node) }
    TableKey { 0 Exact, 1 Linear, 2 StepDown, 3 StepUp }
    Cell { 0 Words(set), 1 Text(text), 2 Number(value) }
}

impl Stored for Form {
    fn write(&self, to: &mut Writer<'_>) {
        self.text().to_owned().write(to);
    }

    fn read(from: &mut Reader<'_>) -> Option<Self> {
        String::read(from).map(Form::known)
    }
}

//! What runs: conditions and numbers as flat arrays, facts as typed slots.
//!
//! Ids are places in the arrays. Spans stand in arrays of their own, which the
//! evaluator never reads; only an explanation does.

use super::arena::{Arena, Runs};
use super::fast_path::Rows;
use super::ids::{
    AboutId, AnyColumn, AnySlot, ColumnId, ConditionId, ConfirmedId, ConstantId, FactId, FieldId, InStore, ListId,
    LoggedId, LoopId, NumberId, Numbers, PatternId, RowId, Run, SlotId, TableColumn, TableId, Texts, Words,
};
use super::sets::{ChoiceSet, RoleSet};
use super::store::{AnyOperand, Operand};
use super::table::{Key, Table};
use crate::quantity::{Date, DateRange, Dimension, ExactInterval, Interval, Truth};
use crate::source::Span;
use crate::vocabulary::Event;

/// The deepest nest of `every`, `some`, `sum` and their like, the item's own
/// `for each` included.
pub const MAX_FRAMES: usize = 6;

/// The record that each loop a condition stands in has come to.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Frame([Option<RowId>; MAX_FRAMES]);

impl Frame {
    /// An item raised for one record; `None` where it has no record.
    #[must_use]
    pub fn of(row: Option<RowId>) -> Self {
        let mut frame = Self::default();
        if let Some(first) = frame.0.first_mut() {
            *first = row;
        }
        frame
    }

    /// The record a loop stands at.
    #[inline]
    #[must_use]
    pub fn row(&self, of: LoopId) -> Option<RowId> {
        self.0.get(of.index()).copied().flatten()
    }

    /// Moves a loop to a record.
    #[inline]
    pub fn set(&mut self, of: LoopId, row: RowId) {
        if let Some(place) = self.0.get_mut(of.index()) {
            *place = Some(row);
        }
    }
}

/// An ordering of two numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Order {
    /// `<`
    Less,
    /// `<=`
    AtMost,
    /// `>`
    More,
    /// `>=`
    AtLeast,
}

impl Order {
    /// The ordering with its sides exchanged.
    #[must_use]
    pub fn turned(self) -> Self {
        match self {
            Self::Less => Self::More,
            Self::AtMost => Self::AtLeast,
            Self::More => Self::Less,
            Self::AtLeast => Self::AtMost,
        }
    }
}

/// A length of calendar time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Calendar {
    /// The last day of the Nth month after.
    MonthEnd(i32),
    /// The same day N months on; where there is none, the last of that month or the day after.
    Months(i32),
    /// N days on.
    Days(i32),
}

impl Calendar {
    /// The days that are so long after a day. Moving never changes the order of
    /// dates; `None` outside the calendar.
    #[must_use]
    pub fn after(self, date: Date) -> Option<DateRange> {
        match self {
            Self::MonthEnd(n) => date.end_of_month_after(n).map(DateRange::day),
            Self::Months(n) => date.add_months(n),
            Self::Days(n) => date.add_days(n).map(DateRange::day),
        }
    }
}

/// Records of a list, some of them left out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Loop {
    /// The list.
    pub list: ListId,
    /// The loop's number.
    pub frame: LoopId,
    /// The condition on a record, if there is one.
    pub condition: Option<ConditionId>,
    /// Where what it is the loop of comes to the same.
    pub same: Sameness,
}

/// Where a loop or a lookup comes to the same, as long as the facts are the same.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sameness {
    /// Nowhere: it reads the record of a loop around it, or a word about its item.
    Never,
    /// Wherever it is asked for on one day.
    OnADay,
    /// Wherever it is asked for.
    Always,
}

/// What a person's word can be about, and what a recorded state can be of.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum PartOrAll {
    /// The whole aircraft.
    Everything,
    /// A part.
    Part(String),
}

impl PartOrAll {
    /// The part; `None` for the whole aircraft.
    #[must_use]
    pub fn part(&self) -> Option<&str> {
        if let Self::Part(part) = self { Some(part) } else { None }
    }
}

/// A condition.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Condition {
    /// `yes`
    Constant(Truth),
    /// `a and b`: those in [`Program::arguments`].
    And(Run<ConditionId>),
    /// `a or b`
    Or(Run<ConditionId>),
    /// `not a`
    Not(ConditionId),
    /// `a <= b`
    Compare {
        /// The ordering.
        order: Order,
        /// Left number.
        left: NumberId,
        /// Right number.
        right: NumberId,
    },
    /// `a is after b`, dates: undecided where both are of one day.
    After(NumberId, NumberId),
    /// `a is b`, numbers
    Equal(NumberId, NumberId),
    /// `a is one of b, c`: the words allowed.
    Words(Operand<Words>, ChoiceSet),
    /// `a is b`, words of two facts
    SameWords(Operand<Words>, Operand<Words>),
    /// `a is b`, texts
    SameText(Operand<Texts>, Operand<Texts>),
    /// `a is b ignoring capitals`, texts
    SameLetters(Operand<Texts>, Operand<Texts>),
    /// `a fits us-mark`
    Fits(Operand<Texts>, PatternId),
    /// `alike a, every l.f`: those in [`Program::alikes`].
    Alike(Run<AlikePart>),
    /// `a is none`
    Absent(AnyOperand),
    /// `a is recorded`
    Recorded(AnyOperand),
    /// `every r in l where w has c`
    Every(Loop, ConditionId),
    /// `some r in l where w has c`
    Some(Loop, ConditionId),
    /// `d is within the last 24 calendar months`
    WithinLast(NumberId, Calendar),
    /// `person is somebody other than builder`: somebody known, and in none of the roles.
    SomebodyElse(Operand<Texts>, RoleSet),
    /// `confirmed by builder or adviser about controls.elevator`
    Confirmed(ConfirmedId),
    /// `inspected x by 2 people`
    Logged(LoggedId),
}

/// Which store the values of a kind live in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Store {
    /// Numbers, quantities, dates, counts.
    Numbers,
    /// Choices, yes or no.
    Words,
    /// Texts.
    Texts,
}

/// A part of `alike`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AlikePart {
    /// One text.
    One(Operand<Texts>),
    /// A text column of every record of a list.
    Every {
        /// The list.
        list: ListId,
        /// The column.
        column: ColumnId<Texts>,
    },
}

/// What an aggregate does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Aggregate {
    /// `sum of`
    Sum,
    /// `least of`
    Least,
    /// `greatest of`
    Greatest,
}

/// A number, a quantity in its base, or a date in days.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Number {
    /// A fact, field or constant.
    Read(Operand<Numbers>),
    /// `today`
    Today,
    /// `a + b`
    Add(NumberId, NumberId),
    /// `a - b`
    Subtract(NumberId, NumberId),
    /// `a * b`
    Multiply(NumberId, NumberId),
    /// `a / b`
    Divide(NumberId, NumberId),
    /// `larger(a, b)`
    Larger(NumberId, NumberId),
    /// `smaller(a, b)`
    Smaller(NumberId, NumberId),
    /// `absolute(a)`
    Absolute(NumberId),
    /// `root(a)`
    Root(NumberId),
    /// `d + 24 calendar months`
    Shift(NumberId, Calendar),
    /// `wire[g].r`
    Lookup {
        /// The table.
        table: TableId,
        /// The column.
        column: TableColumn,
        /// Its keys, in [`Program::keys`].
        keys: Run<Key>,
        /// Where it comes to the same.
        same: Sameness,
    },
    /// `sum of e for r in l where w`; the value if the list is empty, or none.
    Aggregate(Aggregate, Loop, NumberId, Option<NumberId>),
    /// `mean of a weighted by w for r in l`
    Mean(Loop, NumberId, NumberId),
    /// `count r in l where w`
    Count(Loop),
}

/// What the log must show.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Logged {
    /// `inspected`, `tested` or `measured`.
    pub event: Event,
    /// The part.
    pub subject: String,
    /// By how many people.
    pub people: u32,
    /// The roles that count, of those that sign.
    pub roles: RoleSet,
    /// The role that none of them may have.
    pub other_than: RoleSet,
    /// What each person must have noted.
    pub points: Vec<String>,
    /// The day after which it must have been, if any is asked.
    pub since: Option<NumberId>,
}

/// What somebody must have said.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Confirmed {
    /// Who may say it.
    pub roles: RoleSet,
    /// The roles that none of them may have.
    pub other_than: RoleSet,
    /// What the word is about; `None` for nothing that work could disturb.
    pub about: Option<AboutId>,
    /// The day after which it must have been said, if any is asked.
    pub since: Option<NumberId>,
}

/// A named form of text.
#[derive(Debug, Clone)]
pub struct Pattern {
    /// Its name.
    pub name: String,
    /// What it is, in words.
    pub title: String,
    /// The form, anchored at both ends.
    pub form: regex_form::Form,
}

/// Keeps the matching library out of the public surface.
pub mod regex_form {
    use regex_lite::{Regex, RegexBuilder};
    use std::sync::OnceLock;

    /// The longest text that is held against a form, in bytes: what a form is of is a number or a name on a plate.
    pub const LONGEST: usize = 1000;
    /// The most room that a compiled form may take. It is held against each letter of a text.
    const MOST_BYTES: usize = 1 << 16;

    /// A form, compiled when it is first asked for.
    #[derive(Clone)]
    pub struct Form {
        text: String,
        /// None for a text that is no regular expression, which nothing fits.
        compiled: OnceLock<Option<Regex>>,
    }

    impl Form {
        /// Compiles a form that must match the whole text; the message if it is none.
        ///
        /// # Errors
        /// When the text is no regular expression.
        pub fn new(text: &str) -> Result<Self, String> {
            let compiled = compile(text).map_err(|error| error.to_string())?;
            Ok(Self { text: text.to_owned(), compiled: Some(compiled).into() })
        }

        /// A form that was compiled before, when its pack was checked.
        pub(crate) fn known(text: String) -> Self {
            Self { text, compiled: OnceLock::new() }
        }

        /// As the pack writes it.
        #[must_use]
        pub fn text(&self) -> &str {
            &self.text
        }

        /// Whether the whole text has the form.
        #[must_use]
        ///
        /// `None` of a longer text than is held against any form.
        pub fn fits(&self, text: &str) -> Option<bool> {
            let compiled = self.compiled.get_or_init(|| compile(&self.text).ok());
            (text.len() <= LONGEST).then(|| compiled.as_ref().is_some_and(|form| form.is_match(text)))
        }
    }

    /// Compiled or not, it is the same form.
    impl std::fmt::Debug for Form {
        fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
            f.debug_tuple("Form").field(&self.text).finish()
        }
    }

    fn compile(text: &str) -> Result<Regex, regex_lite::Error> {
        RegexBuilder::new(&format!("^(?:{text})$")).size_limit(MOST_BYTES).build()
    }
}

/// What a number slot, or a number column, holds the values of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NumberOf<I> {
    /// The fact, or the field.
    pub of: I,
    /// Whether it may be known to be none.
    pub optional: bool,
    /// Whether its limits keep it from being below zero.
    pub never_negative: bool,
}

/// What a words slot, or a words column, holds the values of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WordsOf<I> {
    /// The fact, or the field.
    pub of: I,
    /// All that it can be.
    pub all: ChoiceSet,
}

/// Which facts the slots of each store belong to.
#[derive(Debug, Clone, Default)]
pub struct Slots {
    /// Those of numbers.
    pub numbers: Arena<SlotId<Numbers>, NumberOf<FactId>>,
    /// Those of words.
    pub words: Arena<SlotId<Words>, WordsOf<FactId>>,
    /// Those of texts.
    pub texts: Arena<SlotId<Texts>, FactId>,
}

impl Slots {
    /// The fact whose values stand in a slot.
    #[must_use]
    pub fn fact(&self, slot: AnySlot) -> Option<FactId> {
        match slot {
            InStore::Numbers(slot) => self.numbers.get(slot).map(|one| one.of),
            InStore::Words(slot) => self.words.get(slot).map(|one| one.of),
            InStore::Texts(slot) => self.texts.get(slot).copied(),
        }
    }
}

/// Which fields the columns of a list belong to.
#[derive(Debug, Clone, Default)]
pub struct Columns {
    /// Those of numbers.
    pub numbers: Arena<ColumnId<Numbers>, NumberOf<FieldId>>,
    /// Those of words.
    pub words: Arena<ColumnId<Words>, WordsOf<FieldId>>,
    /// Those of texts.
    pub texts: Arena<ColumnId<Texts>, FieldId>,
}

impl Columns {
    /// The field whose values stand in a column.
    #[must_use]
    pub fn field(&self, column: AnyColumn) -> Option<FieldId> {
        match column {
            InStore::Numbers(column) => self.numbers.get(column).map(|one| one.of),
            InStore::Words(column) => self.words.get(column).map(|one| one.of),
            InStore::Texts(column) => self.texts.get(column).copied(),
        }
    }
}

/// Everything that runs.
#[derive(Debug, Clone, Default)]
pub struct Program {
    /// Conditions.
    pub conditions: Arena<ConditionId, Condition>,
    /// Where each condition is written.
    pub condition_spans: Arena<ConditionId, Span>,
    /// Numbers.
    pub numbers: Arena<NumberId, Number>,
    /// Where each number is written.
    pub number_spans: Arena<NumberId, Span>,
    /// Dimension of each number; `None` for a date.
    pub dimensions: Arena<NumberId, Option<Dimension>>,
    /// Parts of `and` and `or`.
    pub arguments: Runs<ConditionId>,
    /// Constant numbers, rounded outward.
    pub intervals: Arena<ConstantId<Numbers>, Interval>,
    /// Constant numbers, exact.
    pub ranges: Arena<ConstantId<Numbers>, ExactInterval>,
    /// Constant texts.
    pub texts: Arena<ConstantId<Texts>, String>,
    /// Constant sets of words.
    pub words: Arena<ConstantId<Words>, ChoiceSet>,
    /// Parts of `alike`.
    pub alikes: Runs<AlikePart>,
    /// Named forms of text.
    pub patterns: Arena<PatternId, Pattern>,
    /// Tables.
    pub tables: Arena<TableId, Table>,
    /// Keys of lookups.
    pub keys: Runs<Key>,
    /// What somebody must have said.
    pub confirmed: Arena<ConfirmedId, Confirmed>,
    /// What the log must show.
    pub logged: Arena<LoggedId, Logged>,
    /// What people's words are about.
    pub abouts: Arena<AboutId, Vec<PartOrAll>>,
    /// Slots of facts.
    pub slots: Slots,
    /// Columns of each list.
    pub columns: Arena<ListId, Columns>,
    /// The plain ones among the items' conditions, laid out to be decided in one sweep.
    pub rows: Rows,
}

impl Program {
    /// Whether a number that is not recorded may yet turn out to be none.
    #[must_use]
    pub fn may_be_absent(&self, operand: Operand<Numbers>) -> bool {
        match operand {
            Operand::Slot(slot) => self.slots.numbers.get(slot).is_none_or(|one| one.optional),
            Operand::Field { list, column, .. } => self.number_field(list, column).is_none_or(|one| one.optional),
            Operand::Constant(_) => false,
        }
    }

    /// Whether a number that is not recorded cannot be below zero, by the limits of its fact or field.
    #[must_use]
    pub fn never_negative(&self, operand: Operand<Numbers>) -> bool {
        match operand {
            Operand::Slot(slot) => self.slots.numbers.get(slot).is_some_and(|one| one.never_negative),
            Operand::Field { list, column, .. } => {
                self.number_field(list, column).is_some_and(|one| one.never_negative)
            }
            Operand::Constant(constant) => self.intervals.get(constant).is_some_and(|one| one.lo >= 0.0),
        }
    }

    fn number_field(&self, list: ListId, column: ColumnId<Numbers>) -> Option<&NumberOf<FieldId>> {
        self.columns.get(list)?.numbers.get(column)
    }
}

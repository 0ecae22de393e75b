//! What runs: conditions and numbers as flat arrays, facts as typed slots.
//!
//! Ids are places in the arrays. Spans stand in arrays of their own, which the
//! evaluator never reads; only an explanation does.

use super::quick::Rows;
use super::rules::FactId;
use super::table::{Key, Table};
use crate::quantity::{Dimension, Interval, Range, Truth};
use crate::source::Span;
use crate::vocabulary::Event;

/// The deepest nest of `every`, `some`, `sum` and their like, the item's own
/// `for each` included.
pub const MAX_FRAMES: usize = 6;

/// A row number for each loop a condition stands in.
pub type Frame = [u32; MAX_FRAMES];

/// The bit of a set of words that stands for "known to be absent".
pub const ABSENT_WORD: u64 = 1 << 63;

/// Where a value is read from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Operand {
    /// A fact's slot.
    Slot(u32),
    /// A column of the record that a loop stands at.
    Field {
        /// The list.
        list: u32,
        /// The column in its store.
        column: u32,
        /// The loop.
        frame: u8,
    },
    /// A constant of the program.
    Constant(u32),
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

/// A length of calendar time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Calendar {
    /// The last day of the Nth month after.
    MonthEnd(i32),
    /// The same day N months on.
    Months(i32),
    /// N days on.
    Days(i32),
}

/// Records of a list, some of them left out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Loop {
    /// The list.
    pub list: u32,
    /// The loop's number.
    pub frame: u8,
    /// The condition on a record; `u32::MAX` for none.
    pub condition: u32,
}

/// No condition.
pub const NO_NODE: u32 = u32::MAX;

/// Stands among the parts that a word is about for the whole aircraft: no part is called this.
pub const EVERYTHING: &str = "";

/// A condition.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Condition {
    /// `yes`
    Constant(Truth),
    /// `a and b`: `len` ids from `start` in [`Program::arguments`].
    And {
        /// First argument.
        start: u32,
        /// How many.
        len: u32,
    },
    /// `a or b`
    Or {
        /// First argument.
        start: u32,
        /// How many.
        len: u32,
    },
    /// `not a`
    Not(u32),
    /// `a <= b`
    Compare {
        /// The ordering.
        order: Order,
        /// Left number.
        left: u32,
        /// Right number.
        right: u32,
    },
    /// `a <= 12 in`, with `a` a fact: the same as `Compare`, faster.
    CompareConstant {
        /// The ordering.
        order: Order,
        /// The slot.
        slot: u32,
        /// The constant.
        constant: u32,
        /// Left and right number: consecutive ids in [`Program::arguments`].
        sides: u32,
    },
    /// `a <= 150 % of b`, with `a` and `b` facts: the same as `Compare`, faster.
    CompareScaled {
        /// The ordering.
        order: Order,
        /// The slot.
        slot: u32,
        /// Constant factor and other slot, then left and right number:
        /// four consecutive entries in [`Program::arguments`].
        sides: u32,
    },
    /// `a is b`, numbers
    Equal(u32, u32),
    /// `a is one of b, c`, words: the bits allowed.
    Words(Operand, u64),
    /// `a is b`, words of two facts
    SameWords(Operand, Operand),
    /// `a is b`, texts
    SameText(Operand, Operand),
    /// `a is b ignoring capitals`, texts
    SameLetters(Operand, Operand),
    /// `a fits us-mark`
    Fits(Operand, u32),
    /// `alike a, every l.f`: ids in [`Program::alikes`].
    Alike {
        /// First part.
        start: u32,
        /// How many.
        len: u32,
    },
    /// `a is none`
    Absent(Store, Operand),
    /// `a is recorded`
    Recorded(Store, Operand),
    /// `every r in l where w has c`
    Every(Loop, u32),
    /// `some r in l where w has c`
    Some(Loop, u32),
    /// `d is within the last 24 calendar months`
    WithinLast(u32, Calendar),
    /// `confirmed by builder or adviser about controls.elevator`
    Confirmed {
        /// The bits of the roles, 0 for anybody.
        roles: u64,
        /// What the word is about: place in [`Program::abouts`]; [`NO_NODE`] for nothing that work could disturb.
        about: u32,
    },
    /// `inspected x by 2 people`: place in [`Program::logged`].
    Logged(u32),
}

/// Which store an operand lives in.
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
    One(Operand),
    /// A text column of every record of a list.
    Every {
        /// The list.
        list: u32,
        /// The column.
        column: u32,
    },
}

/// What an aggregate does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Gather {
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
    Read(Operand),
    /// `today`
    Today,
    /// `a + b`
    Add(u32, u32),
    /// `a - b`
    Subtract(u32, u32),
    /// `a * b`
    Multiply(u32, u32),
    /// `a / b`
    Divide(u32, u32),
    /// `larger(a, b)`
    Larger(u32, u32),
    /// `smaller(a, b)`
    Smaller(u32, u32),
    /// `absolute(a)`
    Absolute(u32),
    /// `root(a)`
    Root(u32),
    /// `d + 24 calendar months`
    Shift(u32, Calendar),
    /// `wire[g].r`: table, column, and the first key in [`Program::keys`].
    Lookup {
        /// The table.
        table: u32,
        /// The column.
        column: u32,
        /// The first key.
        keys: u32,
    },
    /// `sum of e for r in l where w`; the value if the list is empty, or none.
    Gather(Gather, Loop, u32, u32),
    /// `mean of a weighted by w for r in l`
    Mean(Loop, u32, u32),
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
    /// The bits of the roles that count; 0 for every role that signs.
    pub roles: u64,
    /// What each person must have noted.
    pub points: Vec<String>,
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
        pub fn fits(&self, text: &str) -> bool {
            let compiled = self.compiled.get_or_init(|| compile(&self.text).ok());
            compiled.as_ref().is_some_and(|form| form.is_match(text))
        }
    }

    /// Compiled or not, it is the same form.
    impl std::fmt::Debug for Form {
        fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
            f.debug_tuple("Form").field(&self.text).finish()
        }
    }

    fn compile(text: &str) -> Result<Regex, regex_lite::Error> {
        RegexBuilder::new(&format!("^(?:{text})$")).size_limit(1 << 20).build()
    }
}

/// Which facts the slots of a store belong to.
#[derive(Debug, Clone, Default)]
pub struct Slots {
    /// Fact of each number slot.
    pub numbers: Vec<FactId>,
    /// Fact of each words slot, and all its words.
    pub words: Vec<(FactId, u64)>,
    /// Fact of each text slot.
    pub texts: Vec<FactId>,
}

/// Which fields the columns of a list belong to.
#[derive(Debug, Clone, Default)]
pub struct Columns {
    /// Field of each number column.
    pub numbers: Vec<u32>,
    /// Field of each words column, and all its words.
    pub words: Vec<(u32, u64)>,
    /// Field of each text column.
    pub texts: Vec<u32>,
}

/// Everything that runs.
#[derive(Debug, Clone, Default)]
pub struct Program {
    /// Conditions.
    pub conditions: Vec<Condition>,
    /// Where each condition is written.
    pub condition_spans: Vec<Span>,
    /// Numbers.
    pub numbers: Vec<Number>,
    /// Where each number is written.
    pub number_spans: Vec<Span>,
    /// Dimension of each number; `None` for a date.
    pub dimensions: Vec<Option<Dimension>>,
    /// Ids of arguments.
    pub arguments: Vec<u32>,
    /// Constant numbers, rounded outward.
    pub intervals: Vec<Interval>,
    /// Constant numbers, exact.
    pub ranges: Vec<Range>,
    /// Constant texts.
    pub texts: Vec<String>,
    /// Constant sets of words.
    pub words: Vec<u64>,
    /// Parts of `alike`.
    pub alikes: Vec<AlikePart>,
    /// Named forms of text.
    pub patterns: Vec<Pattern>,
    /// Tables.
    pub tables: Vec<Table>,
    /// Keys of lookups.
    pub keys: Vec<Key>,
    /// What the log must show.
    pub logged: Vec<Logged>,
    /// The parts that people's words are about.
    pub abouts: Vec<Vec<String>>,
    /// Slots of facts.
    pub slots: Slots,
    /// Columns of each list.
    pub columns: Vec<Columns>,
    /// The plain ones among the items' conditions, laid out to be decided in one sweep.
    pub rows: Rows,
}

impl Program {
    /// The ids of `len` arguments from `start`.
    #[inline]
    #[must_use]
    pub fn arguments(&self, start: u32, len: u32) -> &[u32] {
        let start = start as usize;
        self.arguments.get(start..start.saturating_add(len as usize)).unwrap_or(&[])
    }
}

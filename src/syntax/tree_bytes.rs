//! The tree as bytes and back: one line per type, in the order of its fields.
//!
//! Names, texts and quantities are written by their places and read from the
//! pack's text again, so the bytes hold little more than the shape of the tree.

use super::tree::{
    AmendDecl, CiteDecl, Clauses, Declaration, EntryDecl, Expr, ExprKind, FactDecl, FormulaDecl, Gather, Given,
    ItemDecl, KeyMode, LimitsDecl, ListDecl, Literal, LiteralKind, Measured, Name, Order, Over, SetAsideDecl, Sign,
    SourceDecl, SpanUnit, TableDecl, TableRow, Text, TryDecl, TypeDecl, TypeExpr, WordDecl, WordsKind,
};
use crate::measure::{Date, DateRange, Quantity};
use crate::rules::{Basis, Event, Mark};
use crate::source::{SourceId, Span};

/// A part of the tree that can be written and read again.
pub(super) trait Stored: Sized {
    /// Adds it to the bytes.
    fn write(&self, to: &mut Writer<'_>);
    /// Takes it from the bytes; `None` if they hold something else.
    fn read(from: &mut Reader<'_>) -> Option<Self>;
}

/// Bytes being written.
pub(super) struct Writer<'t> {
    bytes: Vec<u8>,
    text: &'t str,
    last: Span,
}

impl<'t> Writer<'t> {
    pub(super) fn new(text: &'t str) -> Self {
        Self { bytes: Vec::new(), text, last: Span::new(SourceId(0), 0, 0) }
    }

    pub(super) fn finish(self) -> Vec<u8> {
        self.bytes
    }

    /// Seven bits to a byte, the lowest first.
    #[expect(clippy::cast_possible_truncation, reason = "the lowest bits are what is written")]
    fn number(&mut self, mut value: u64) {
        while value >= 0x80 {
            self.bytes.push(value as u8 | 0x80);
            value >>= 7;
        }
        self.bytes.push(value as u8);
    }

    /// A part that a reader can step over.
    fn apart(&mut self, part: &impl Stored) {
        let mut inner = Writer { bytes: Vec::new(), text: self.text, last: self.last };
        part.write(&mut inner);
        self.number(inner.bytes.len() as u64);
        self.bytes.extend(inner.bytes);
    }
}

/// Bytes being read.
pub(super) struct Reader<'t> {
    bytes: &'t [u8],
    source: SourceId,
    text: &'t str,
    examples: bool,
    last: Span,
}

impl<'t> Reader<'t> {
    pub(super) fn new(bytes: &'t [u8], source: SourceId, text: &'t str, examples: bool) -> Self {
        Self { bytes, source, text, examples, last: Span::new(source, 0, 0) }
    }

    pub(super) fn is_at_end(&self) -> bool {
        self.bytes.is_empty()
    }

    fn number(&mut self) -> Option<u64> {
        let (mut value, mut shift) = (0_u64, 0_u32);
        loop {
            let (byte, rest) = self.bytes.split_first()?;
            self.bytes = rest;
            value |= u64::from(byte & 0x7f).checked_shl(shift)?;
            if *byte < 0x80 {
                return Some(value);
            }
            shift = shift.saturating_add(7);
        }
    }

    fn take(&mut self, len: u64) -> Option<&'t [u8]> {
        let (part, rest) = self.bytes.split_at_checked(usize::try_from(len).ok()?)?;
        self.bytes = rest;
        Some(part)
    }

    fn examples(&mut self) -> Option<Vec<TryDecl>> {
        let len = self.number()?;
        let bytes = self.take(len)?;
        if !self.examples {
            return Some(Vec::new());
        }
        Stored::read(&mut Reader { bytes, source: self.source, text: self.text, examples: true, last: self.last })
    }
}

/// The text of a string's place without its quotes.
fn unquoted(text: &str) -> Option<&str> {
    text.strip_prefix('"')?.strip_suffix('"')
}

/// A string is nearly always what stands at the place written last, as it is
/// or between quotes.
impl Stored for String {
    fn write(&self, to: &mut Writer<'_>) {
        let there = to.text.get(to.last.range());
        if there == Some(self) {
            to.number(0);
        } else if there.and_then(unquoted) == Some(self) {
            to.number(1);
        } else {
            to.number((self.len() as u64).saturating_add(2));
            to.bytes.extend(self.as_bytes());
        }
    }

    fn read(from: &mut Reader<'_>) -> Option<Self> {
        let there = from.text.get(from.last.range());
        match from.number()? {
            0 => there.map(str::to_owned),
            1 => there.and_then(unquoted).map(str::to_owned),
            len => {
                let bytes = from.take(len.checked_sub(2)?)?;
                std::str::from_utf8(bytes).ok().map(str::to_owned)
            }
        }
    }
}

/// A quantity is what stands at the place written last.
impl Stored for Quantity {
    fn write(&self, _: &mut Writer<'_>) {}

    fn read(from: &mut Reader<'_>) -> Option<Self> {
        Quantity::parse(from.text.get(from.last.range())?).ok()
    }
}

/// By how far it begins after the one before, and its length.
impl Stored for Span {
    fn write(&self, to: &mut Writer<'_>) {
        let ahead = i64::from(self.start).wrapping_sub(i64::from(to.last.start));
        to.number(ahead.wrapping_shl(1).cast_unsigned() ^ (ahead >> 63).cast_unsigned());
        to.number(u64::from(self.end.saturating_sub(self.start)));
        to.last = *self;
    }

    fn read(from: &mut Reader<'_>) -> Option<Self> {
        let ahead = from.number()?;
        let ahead = (ahead >> 1).cast_signed() ^ (ahead & 1).cast_signed().wrapping_neg();
        let start = u32::try_from(i64::from(from.last.start).checked_add(ahead)?).ok()?;
        let end = start.checked_add(u32::try_from(from.number()?).ok()?)?;
        from.last = Span { source: from.source, start, end };
        Some(from.last)
    }
}

impl Stored for u32 {
    fn write(&self, to: &mut Writer<'_>) {
        to.number(u64::from(*self));
    }

    fn read(from: &mut Reader<'_>) -> Option<Self> {
        from.number()?.try_into().ok()
    }
}

impl Stored for bool {
    fn write(&self, to: &mut Writer<'_>) {
        to.number(u64::from(*self));
    }

    fn read(from: &mut Reader<'_>) -> Option<Self> {
        Some(from.number()? == 1)
    }
}

impl Stored for Date {
    fn write(&self, to: &mut Writer<'_>) {
        self.days().cast_unsigned().write(to);
    }

    fn read(from: &mut Reader<'_>) -> Option<Self> {
        u32::read(from).map(|days| Date::from_days(days.cast_signed()))
    }
}

impl<T: Stored> Stored for Box<T> {
    fn write(&self, to: &mut Writer<'_>) {
        (**self).write(to);
    }

    fn read(from: &mut Reader<'_>) -> Option<Self> {
        T::read(from).map(Box::new)
    }
}

impl<T: Stored> Stored for Option<T> {
    fn write(&self, to: &mut Writer<'_>) {
        self.is_some().write(to);
        if let Some(value) = self {
            value.write(to);
        }
    }

    fn read(from: &mut Reader<'_>) -> Option<Self> {
        if bool::read(from)? { T::read(from).map(Some) } else { Some(None) }
    }
}

impl<T: Stored> Stored for Vec<T> {
    fn write(&self, to: &mut Writer<'_>) {
        to.number(self.len() as u64);
        for one in self {
            one.write(to);
        }
    }

    fn read(from: &mut Reader<'_>) -> Option<Self> {
        let len = usize::try_from(from.number()?).ok()?;
        // Each takes a byte at least, so no wrong length asks for much.
        let mut all = Vec::with_capacity(len.min(from.bytes.len()));
        for _ in 0..len {
            all.push(T::read(from)?);
        }
        Some(all)
    }
}

impl<A: Stored, B: Stored> Stored for (A, B) {
    fn write(&self, to: &mut Writer<'_>) {
        self.0.write(to);
        self.1.write(to);
    }

    fn read(from: &mut Reader<'_>) -> Option<Self> {
        Some((A::read(from)?, B::read(from)?))
    }
}

impl<A: Stored, B: Stored, C: Stored> Stored for (A, B, C) {
    fn write(&self, to: &mut Writer<'_>) {
        self.0.write(to);
        self.1.write(to);
        self.2.write(to);
    }

    fn read(from: &mut Reader<'_>) -> Option<Self> {
        Some((A::read(from)?, B::read(from)?, C::read(from)?))
    }
}

/// All fields of a type; a place stands before what is read from it.
macro_rules! all_of {
    ($($type:ident { $($field:ident),+ })+) => {$(
        impl Stored for $type {
            fn write(&self, to: &mut Writer<'_>) {
                let Self { $($field),+ } = self;
                $($field.write(to);)+
            }

            fn read(from: &mut Reader<'_>) -> Option<Self> {
                $(let $field = Stored::read(from)?;)+
                Some(Self { $($field),+ })
            }
        }
    )+};
}

/// One of several forms, by a number of its own.
macro_rules! one_of {
    ($($type:ident { $($number:literal $form:ident $(($($part:ident),+))? $({ $($field:ident),+ })?),+ $(,)? })+) => {$(
        impl Stored for $type {
            fn write(&self, to: &mut Writer<'_>) {
                match self {
                    $(Self::$form $(($($part),+))? $({ $($field),+ })? => {
                        to.number($number);
                        $($($part.write(to);)+)?
                        $($($field.write(to);)+)?
                    })+
                }
            }

            fn read(from: &mut Reader<'_>) -> Option<Self> {
                match from.number()? {
                    $($number => {
                        $($(let $part = Stored::read(from)?;)+)?
                        $($(let $field = Stored::read(from)?;)+)?
                        Some(Self::$form $(($($part),+))? $({ $($field),+ })?)
                    })+
                    _ => None,
                }
            }
        }
    )+};
}

all_of! {
    Name { span, text }
    Text { span, text }
    DateRange { first, last }
    SourceDecl { name, title, number, edition, issuer, mark }
    TypeDecl { optional, kind, limits }
    LimitsDecl { low, high, above, below, span }
    Measured { span, quantity }
    FactDecl { name, kind, ask, example }
    ListDecl { name, ask, fields, named_by }
    TableDecl { name, keys, columns, cites, rows }
    TableRow { keys, cells, span }
    Literal { span, kind }
    FormulaDecl { name, parameters, body }
    CiteDecl { document, paragraph, mark }
    ItemDecl { name, each, title, clauses }
    AmendDecl { name, clauses }
    SetAsideDecl { name, because, basis, cites }
    WordDecl { name, title, zone, never_signs }
    EntryDecl { event, subject, who, role, points, instrument, on, span }
    TryDecl { name, given, verdict, span }
    Expr { span, kind }
    Over { variable, list, condition }
}

one_of! {
    Declaration {
        0 Source(source), 1 Words(kind, words), 2 Choice(name, words), 3 Pattern(name, title, form), 4 Fact(fact),
        5 List(list), 6 Table(table), 7 Formula(formula), 8 Item(item), 9 Amend(amend), 10 SetAside(decl),
        11 Disturb(name, also),
    }
    WordsKind { 0 HoldPoints, 1 Zones, 2 Systems, 3 Evidence, 4 Roles, 5 Subjects }
    TypeExpr { 0 YesNo, 1 Words(words), 2 Quantity(words) }
    KeyMode { 0 Exact, 1 Linear, 2 StepDown, 3 StepUp }
    LiteralKind { 0 Measured(quantity), 1 Date(date), 2 Text(text), 3 Word(word), 4 None, 5 Empty, 6 Records(records) }
    Mark { 0 Read, 1 Quoted, 2 Memory, 3 CommonPractice }
    Basis { 0 Law, 1 Advice, 2 Handbook, 3 Association, 4 Kit, 5 CommonPractice, 6 Own }
    Given {
        0 On(date), 1 Visit(date), 2 Confirmed { holds, by, on, span }, 3 Evidence(kind, subject), 4 Fact(name, value),
        5 Entry(entry),
    }
    Event {
        0 WorkDone, 1 Inspected, 2 Tested, 3 Measured, 4 Removed, 5 Refitted, 6 Adjusted, 7 Opened, 8 Closed, 9 SnagFound,
        10 SnagCleared,
    }
    Order { 0 Less, 1 AtMost, 2 More, 3 AtLeast }
    Sign { 0 Plus, 1 Minus, 2 Times, 3 Divide }
    SpanUnit { 0 CalendarMonths, 1 Months, 2 Years, 3 Days }
    Gather { 0 Sum, 1 Least, 2 Greatest }
    ExprKind {
        0 Or(parts), 1 And(parts), 2 Not(part), 3 Compare(order, left, right), 4 Is { left, right, negated },
        5 OneOf { left, among, negated }, 6 Between(value, low, high), 7 Within(value, by, of),
        8 WithinLast(date, n, unit), 9 Recorded(value), 10 IsNone(value, negated), 11 Fits(value, pattern),
        12 Alike(parts), 13 Quantified { every, over, body }, 14 Confirmed(roles), 15 Logged { event, subject, people, roles, points },
        16 Arithmetic(sign, left, right), 17 Shift(date, ahead, n, unit), 18 PercentOf(percent, of),
        19 Gather { how, value, over, if_empty }, 20 Mean { value, weight, over }, 21 Count(over), 22 Call(name, given),
        23 Lookup { table, keys, column }, 24 Measured(measured), 25 Date(date), 26 Text(text), 27 YesNo(yes), 28 Today,
        29 Name(name),
    }
}

/// The examples stand last and apart, to be stepped over.
impl Stored for Clauses {
    fn write(&self, to: &mut Writer<'_>) {
        let Self { whens, lets, needs, shows, by, zone, basis, cites, remedy, caution, ask, stops, .. } = self;
        let Self { no_concession, in_force, after, takes, tries, .. } = self;
        whens.write(to);
        lets.write(to);
        needs.write(to);
        shows.write(to);
        by.write(to);
        zone.write(to);
        basis.write(to);
        cites.write(to);
        remedy.write(to);
        caution.write(to);
        ask.write(to);
        stops.write(to);
        no_concession.write(to);
        in_force.write(to);
        after.write(to);
        takes.write(to);
        to.apart(tries);
    }

    fn read(from: &mut Reader<'_>) -> Option<Self> {
        Some(Self {
            whens: Stored::read(from)?,
            lets: Stored::read(from)?,
            needs: Stored::read(from)?,
            shows: Stored::read(from)?,
            by: Stored::read(from)?,
            zone: Stored::read(from)?,
            basis: Stored::read(from)?,
            cites: Stored::read(from)?,
            remedy: Stored::read(from)?,
            caution: Stored::read(from)?,
            ask: Stored::read(from)?,
            stops: Stored::read(from)?,
            no_concession: Stored::read(from)?,
            in_force: Stored::read(from)?,
            after: Stored::read(from)?,
            takes: Stored::read(from)?,
            tries: from.examples()?,
        })
    }
}

//! Bytes of a tree, written and read: numbers, places, texts, and lists of such.
//!
//! Names, texts and quantities are written by their places and read from the
//! pack's text again, so the bytes hold little more than the shape of the tree.

use super::tree::{TryDecl, Written};
use crate::measure::{Date, Quantity};
use crate::source::{SourceId, Span};
use std::borrow::Cow;

/// A part of the tree that can be written and read again.
pub(super) trait Stored: Sized {
    /// Adds it to the bytes.
    fn write(&self, to: &mut Writer<'_>);
    /// Takes it from the bytes; `None` if they hold something else.
    fn read(from: &mut Reader) -> Option<Self>;
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
    pub(super) fn number(&mut self, mut value: u64) {
        while value >= 0x80 {
            self.bytes.push(value as u8 | 0x80);
            value >>= 7;
        }
        self.bytes.push(value as u8);
    }

    /// A part that a reader can step over.
    pub(super) fn apart(&mut self, part: &impl Stored) {
        let mut inner = Writer { bytes: Vec::new(), text: self.text, last: self.last };
        part.write(&mut inner);
        self.number(inner.bytes.len() as u64);
        self.bytes.extend(inner.bytes);
    }
}

/// Bytes being read. They and the text last as long as the program does, so the tree borrows from both.
pub(super) struct Reader {
    bytes: &'static [u8],
    source: SourceId,
    text: &'static str,
    examples: bool,
    last: Span,
}

impl Reader {
    pub(super) fn new(bytes: &'static [u8], source: SourceId, text: &'static str, examples: bool) -> Self {
        Self { bytes, source, text, examples, last: Span::new(source, 0, 0) }
    }

    pub(super) fn is_at_end(&self) -> bool {
        self.bytes.is_empty()
    }

    pub(super) fn number(&mut self) -> Option<u64> {
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

    fn take(&mut self, len: u64) -> Option<&'static [u8]> {
        let (part, rest) = self.bytes.split_at_checked(usize::try_from(len).ok()?)?;
        self.bytes = rest;
        Some(part)
    }

    /// The examples that stand apart, if they are asked for.
    pub(super) fn examples(&mut self) -> Option<Vec<TryDecl>> {
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
impl Stored for Written {
    fn write(&self, to: &mut Writer<'_>) {
        let there = to.text.get(to.last.range());
        if there == Some(&**self) {
            to.number(0);
        } else if there.and_then(unquoted) == Some(&**self) {
            to.number(1);
        } else {
            to.number((self.len() as u64).saturating_add(2));
            to.bytes.extend(self.as_bytes());
        }
    }

    fn read(from: &mut Reader) -> Option<Self> {
        let there = from.text.get(from.last.range());
        match from.number()? {
            0 => there.map(Cow::Borrowed),
            1 => there.and_then(unquoted).map(Cow::Borrowed),
            len => {
                let bytes = from.take(len.checked_sub(2)?)?;
                std::str::from_utf8(bytes).ok().map(Cow::Borrowed)
            }
        }
    }
}

/// A quantity is what stands at the place written last.
impl Stored for Quantity {
    fn write(&self, _: &mut Writer<'_>) {}

    fn read(from: &mut Reader) -> Option<Self> {
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

    fn read(from: &mut Reader) -> Option<Self> {
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

    fn read(from: &mut Reader) -> Option<Self> {
        from.number()?.try_into().ok()
    }
}

impl Stored for bool {
    fn write(&self, to: &mut Writer<'_>) {
        to.number(u64::from(*self));
    }

    fn read(from: &mut Reader) -> Option<Self> {
        Some(from.number()? == 1)
    }
}

impl Stored for Date {
    fn write(&self, to: &mut Writer<'_>) {
        self.days().cast_unsigned().write(to);
    }

    fn read(from: &mut Reader) -> Option<Self> {
        u32::read(from).map(|days| Date::from_days(days.cast_signed()))
    }
}

impl<T: Stored> Stored for Box<T> {
    fn write(&self, to: &mut Writer<'_>) {
        (**self).write(to);
    }

    fn read(from: &mut Reader) -> Option<Self> {
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

    fn read(from: &mut Reader) -> Option<Self> {
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

    fn read(from: &mut Reader) -> Option<Self> {
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

    fn read(from: &mut Reader) -> Option<Self> {
        Some((A::read(from)?, B::read(from)?))
    }
}

impl<A: Stored, B: Stored, C: Stored> Stored for (A, B, C) {
    fn write(&self, to: &mut Writer<'_>) {
        self.0.write(to);
        self.1.write(to);
        self.2.write(to);
    }

    fn read(from: &mut Reader) -> Option<Self> {
        Some((A::read(from)?, B::read(from)?, C::read(from)?))
    }
}

//! Bytes of what is stored, written and read: numbers, places, texts, and lists of such.
//!
//! What stands in the text at the place written last is read from there again,
//! so the bytes hold little more than the shape. Other texts stand together in
//! front of them, so that one look tells that all of them are text.

use crate::source::{SharedText, SourceId, Span};
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

/// What can be written and read again.
pub(crate) trait Codec: Sized {
    /// Adds it to the bytes.
    fn encode(&self, to: &mut Writer<'_>);
    /// Takes it from the bytes; `None` if they hold something else.
    fn decode(from: &mut Reader<'_>) -> Option<Self>;
}

/// Bytes being written.
#[derive(Debug, Clone)]
pub(crate) struct Writer<'t> {
    bytes: Vec<u8>,
    /// The texts among them, one after the other.
    strings: String,
    texts: &'t [&'static str],
    last: Span,
}

impl<'t> Writer<'t> {
    /// The places to be written point into these texts, of which the first is source 0.
    pub(crate) fn new(texts: &'t [&'static str]) -> Self {
        Self { bytes: Vec::new(), strings: String::new(), texts, last: Span::new(SourceId::FIRST, 0, 0) }
    }

    pub(crate) fn finish(self) -> Vec<u8> {
        let mut all = Self::new(self.texts);
        all.part(self.strings.as_bytes());
        all.raw(&self.bytes);
        all.bytes
    }

    /// Bytes as they are.
    pub(crate) fn raw(&mut self, bytes: &[u8]) {
        self.bytes.extend(bytes);
    }

    /// Seven bits to a byte, the lowest first.
    #[expect(clippy::cast_possible_truncation, reason = "the lowest bits are what is written")]
    pub(crate) fn number(&mut self, mut value: u64) {
        while value >= 0x80 {
            self.bytes.push(value as u8 | 0x80);
            value >>= 7;
        }
        self.bytes.push(value as u8);
    }

    /// A number that may be below zero.
    pub(crate) fn signed(&mut self, value: i64) {
        self.number(value.wrapping_shl(1).cast_unsigned() ^ (value >> 63).cast_unsigned());
    }

    /// A part that a reader can step over.
    pub(crate) fn apart(&mut self, part: &impl Codec) {
        let mut inner = Writer { last: self.last, ..Writer::new(self.texts) };
        part.encode(&mut inner);
        self.part(&inner.finish());
    }

    /// Bytes that a reader takes as one part.
    pub(crate) fn part(&mut self, bytes: &[u8]) {
        self.number(bytes.len() as u64);
        self.raw(bytes);
    }

    /// What stands at the place written last.
    fn there(&self) -> Option<&'static str> {
        self.texts.get(self.last.source.index() as usize)?.get(self.last.range())
    }
}

/// Bytes being read. They and the texts last as long as the program does, so what is read borrows from both.
#[derive(Debug)]
pub(crate) struct Reader<'t> {
    bytes: &'static [u8],
    /// The texts that come next.
    strings: &'static str,
    texts: &'t [&'static str],
    /// The source that the first of the texts is now.
    first: SourceId,
    apart: bool,
    last: Span,
}

impl<'t> Reader<'t> {
    /// Reads what was written with the same texts; without the parts that stand apart unless they are asked for.
    pub(crate) fn new(bytes: &'static [u8], first: SourceId, texts: &'t [&'static str], apart: bool) -> Self {
        let mut reader = Self { bytes, strings: "", texts, first, apart, last: Span::new(first, 0, 0) };
        // Of bytes that hold something else, no text is found.
        let strings = reader.part().and_then(|strings| std::str::from_utf8(strings).ok());
        reader.strings = strings.unwrap_or_default();
        reader
    }

    pub(crate) fn is_at_end(&self) -> bool {
        self.bytes.is_empty()
    }

    #[inline]
    pub(crate) fn number(&mut self) -> Option<u64> {
        let (byte, rest) = self.bytes.split_first()?;
        self.bytes = rest;
        if *byte < 0x80 {
            return Some(u64::from(*byte));
        }
        self.long_number(u64::from(byte & 0x7f))
    }

    fn long_number(&mut self, mut value: u64) -> Option<u64> {
        let mut shift = 7_u32;
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

    pub(crate) fn signed(&mut self) -> Option<i64> {
        let value = self.number()?;
        Some((value >> 1).cast_signed() ^ (value & 1).cast_signed().wrapping_neg())
    }

    /// So many bytes as they are.
    pub(crate) fn raw(&mut self, len: u64) -> Option<&'static [u8]> {
        let (part, rest) = self.bytes.split_at_checked(usize::try_from(len).ok()?)?;
        self.bytes = rest;
        Some(part)
    }

    /// Bytes that were written as one part.
    pub(crate) fn part(&mut self) -> Option<&'static [u8]> {
        let len = self.number()?;
        self.raw(len)
    }

    /// The text that comes next, of so many bytes.
    fn text(&mut self, len: u64) -> Option<&'static str> {
        let (text, rest) = self.strings.split_at_checked(usize::try_from(len).ok()?)?;
        self.strings = rest;
        Some(text)
    }

    /// What stands apart, or nothing where it was not asked for.
    pub(crate) fn apart<T: Codec + Default>(&mut self) -> Option<T> {
        let bytes = self.part()?;
        if !self.apart {
            return Some(T::default());
        }
        T::decode(&mut Reader { last: self.last, ..Reader::new(bytes, self.first, self.texts, true) })
    }

    /// What stands at the place read last.
    pub(crate) fn there(&self) -> Option<&'static str> {
        let at = self.last.source.index().checked_sub(self.first.index())?;
        self.texts.get(at as usize)?.get(self.last.range())
    }
}

/// The text of a string's place without its quotes.
fn unquoted(text: &str) -> Option<&str> {
    text.strip_prefix('"')?.strip_suffix('"')
}

impl Codec for SharedText {
    fn encode(&self, to: &mut Writer<'_>) {
        write_text(self, to);
    }

    fn decode(from: &mut Reader<'_>) -> Option<Self> {
        read_text(from).map(Self::from)
    }
}

impl Codec for String {
    fn encode(&self, to: &mut Writer<'_>) {
        write_text(self, to);
    }

    fn decode(from: &mut Reader<'_>) -> Option<Self> {
        read_text(from).map(str::to_owned)
    }
}

/// A text is often what stands at the place written last, as it is or between quotes.
fn write_text(text: &str, to: &mut Writer<'_>) {
    let there = to.there();
    if there == Some(text) {
        to.number(0);
    } else if there.and_then(unquoted) == Some(text) {
        to.number(1);
    } else {
        to.number((text.len() as u64).saturating_add(2));
        to.strings.push_str(text);
    }
}

fn read_text(from: &mut Reader<'_>) -> Option<&'static str> {
    match from.number()? {
        0 => from.there(),
        1 => from.there().and_then(unquoted),
        len => from.text(len.checked_sub(2)?),
    }
}

/// By how far it begins after the one before, whether it stands in another text, and its length.
impl Codec for Span {
    fn encode(&self, to: &mut Writer<'_>) {
        let ahead = i64::from(self.start).wrapping_sub(i64::from(to.last.start));
        let elsewhere = self.source != to.last.source;
        to.signed(ahead.wrapping_shl(1) | i64::from(elsewhere));
        if elsewhere {
            to.number(u64::from(self.source.index()));
        }
        to.number(u64::from(self.end.saturating_sub(self.start)));
        to.last = *self;
    }

    fn decode(from: &mut Reader<'_>) -> Option<Self> {
        let ahead = from.signed()?;
        let mut source = from.last.source;
        if ahead & 1 == 1 {
            source = from.first.after(u32::decode(from)?)?;
        }
        let start = u32::try_from(i64::from(from.last.start).checked_add(ahead >> 1)?).ok()?;
        let end = start.checked_add(u32::decode(from)?)?;
        from.last = Span { source, start, end };
        Some(from.last)
    }
}

/// Whole numbers that fit into 64 bits.
macro_rules! numbers {
    ($($type:ty),+) => {$(
        impl Codec for $type {
            fn encode(&self, to: &mut Writer<'_>) {
                // None of these types is wider.
                to.number(u64::try_from(*self).unwrap_or(u64::MAX));
            }

            fn decode(from: &mut Reader<'_>) -> Option<Self> {
                from.number()?.try_into().ok()
            }
        }
    )+};
}
numbers!(u8, u32, u64, usize);

impl Codec for i32 {
    fn encode(&self, to: &mut Writer<'_>) {
        to.signed(i64::from(*self));
    }

    fn decode(from: &mut Reader<'_>) -> Option<Self> {
        from.signed()?.try_into().ok()
    }
}

/// Its bits, so that it comes back as it was.
impl Codec for f64 {
    fn encode(&self, to: &mut Writer<'_>) {
        to.raw(&self.to_le_bytes());
    }

    fn decode(from: &mut Reader<'_>) -> Option<Self> {
        from.raw(8)?.try_into().ok().map(f64::from_le_bytes)
    }
}

impl Codec for bool {
    fn encode(&self, to: &mut Writer<'_>) {
        to.number(u64::from(*self));
    }

    fn decode(from: &mut Reader<'_>) -> Option<Self> {
        Some(from.number()? == 1)
    }
}

impl<T: Codec> Codec for Box<T> {
    fn encode(&self, to: &mut Writer<'_>) {
        (**self).encode(to);
    }

    fn decode(from: &mut Reader<'_>) -> Option<Self> {
        T::decode(from).map(Box::new)
    }
}

impl<T: Codec> Codec for Option<T> {
    fn encode(&self, to: &mut Writer<'_>) {
        self.is_some().encode(to);
        if let Some(value) = self {
            value.encode(to);
        }
    }

    fn decode(from: &mut Reader<'_>) -> Option<Self> {
        if bool::decode(from)? { T::decode(from).map(Some) } else { Some(None) }
    }
}

impl<T: Codec> Codec for Vec<T> {
    fn encode(&self, to: &mut Writer<'_>) {
        to.number(self.len() as u64);
        for one in self {
            one.encode(to);
        }
    }

    fn decode(from: &mut Reader<'_>) -> Option<Self> {
        let len = usize::try_from(from.number()?).ok()?;
        // Each takes a byte at least, so no wrong length asks for much.
        let mut all = Vec::with_capacity(len.min(from.bytes.len()));
        for _ in 0..len {
            all.push(T::decode(from)?);
        }
        Some(all)
    }
}

impl<A: Codec, B: Codec> Codec for (A, B) {
    fn encode(&self, to: &mut Writer<'_>) {
        self.0.encode(to);
        self.1.encode(to);
    }

    fn decode(from: &mut Reader<'_>) -> Option<Self> {
        Some((A::decode(from)?, B::decode(from)?))
    }
}

impl<A: Codec, B: Codec, C: Codec> Codec for (A, B, C) {
    fn encode(&self, to: &mut Writer<'_>) {
        self.0.encode(to);
        self.1.encode(to);
        self.2.encode(to);
    }

    fn decode(from: &mut Reader<'_>) -> Option<Self> {
        Some((A::decode(from)?, B::decode(from)?, C::decode(from)?))
    }
}

impl<T: Codec> Codec for Rc<T> {
    fn encode(&self, to: &mut Writer<'_>) {
        (**self).encode(to);
    }

    fn decode(from: &mut Reader<'_>) -> Option<Self> {
        T::decode(from).map(Rc::new)
    }
}

impl<K: Codec + Ord, V: Codec> Codec for BTreeMap<K, V> {
    fn encode(&self, to: &mut Writer<'_>) {
        to.number(self.len() as u64);
        for (key, value) in self {
            key.encode(to);
            value.encode(to);
        }
    }

    fn decode(from: &mut Reader<'_>) -> Option<Self> {
        // Those in order already are made a map without a look-up for each.
        Vec::<(K, V)>::decode(from).map(Self::from_iter)
    }
}

impl<T: Codec + Ord> Codec for BTreeSet<T> {
    fn encode(&self, to: &mut Writer<'_>) {
        to.number(self.len() as u64);
        for one in self {
            one.encode(to);
        }
    }

    fn decode(from: &mut Reader<'_>) -> Option<Self> {
        Vec::decode(from).map(Self::from_iter)
    }
}

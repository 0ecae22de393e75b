//! Numbers, units and days as they are stored.

use super::exact_interval::End;
use super::rational::Rational;
use super::{Date, DateRange, Dimension, Exact, ExactInterval, Interval, Truth, Unit};
use crate::codec::{Codec, Reader, Writer, all_of, one_of};
use crate::source::SharedText;
use num_bigint::BigInt;
use num_rational::BigRational;

all_of! {
    DateRange { first, last }
    Interval { lo, hi }
    ExactInterval { lo, hi, absent }
}

one_of! {
    End { 0 Below, 1 At(value), 2 Above }
    Truth { 0 False, 1 Undecided, 2 True }
}

impl Codec for Date {
    fn encode(&self, to: &mut Writer<'_>) {
        self.days().encode(to);
    }

    fn decode(from: &mut Reader<'_>) -> Option<Self> {
        i32::decode(from).map(Date::from_days)
    }
}

/// The number under the line is never zero, so that one stands for a number of any size.
impl Codec for Exact {
    fn encode(&self, to: &mut Writer<'_>) {
        match &self.0 {
            Rational::Small(over, under) => {
                to.signed(*under);
                to.signed(*over);
            }
            Rational::Big(big) => {
                to.signed(0);
                for part in [big.numer(), big.denom()] {
                    let bytes = part.to_signed_bytes_le();
                    to.number(bytes.len() as u64);
                    to.raw(&bytes);
                }
            }
        }
    }

    fn decode(from: &mut Reader<'_>) -> Option<Self> {
        let under = from.signed()?;
        if under != 0 {
            return Some(Self(Rational::Small(from.signed()?, under)));
        }
        let mut part = || {
            let len = from.number()?;
            from.raw(len).map(BigInt::from_signed_bytes_le)
        };
        let (over, under) = (part()?, part()?);
        Some(Self(BigRational::new_raw(over, under).into()))
    }
}

/// The powers as the bytes of one number: most have only the first few.
impl Codec for Dimension {
    fn encode(&self, to: &mut Writer<'_>) {
        let [a, b, c, d, e, f] = self.powers.map(i8::cast_unsigned);
        to.number(u64::from_le_bytes([self.point.into(), a, b, c, d, e, f, 0]));
    }

    fn decode(from: &mut Reader<'_>) -> Option<Self> {
        let [point, powers @ .., _] = from.number()?.to_le_bytes();
        Some(Self { powers: powers.map(u8::cast_signed), point: point == 1 })
    }
}

/// A unit is what its symbol says.
impl Codec for Unit {
    fn encode(&self, to: &mut Writer<'_>) {
        self.symbol().to_owned().encode(to);
    }

    fn decode(from: &mut Reader<'_>) -> Option<Self> {
        let symbol = SharedText::decode(from)?;
        if symbol.is_empty() { Some(Unit::number()) } else { Unit::parse(&symbol).ok() }
    }
}

//! The table of units that are not made of others.
//!
//! Factors to the SI are those of NIST Special Publication 811 (2008),
//! *Guide for the Use of the International System of Units*, appendix B, in
//! their exact definitions: the yard of 0.9144 m, the avoirdupois pound of
//! 0.453 592 37 kg, standard gravity of 9.806 65 m/s2, the US gallon of 231
//! cubic inches, the imperial gallon of 4.546 09 L. The conventional inch and
//! millimetre of mercury are rounded there (3386.389 Pa and 133.3224 Pa) and
//! those figures are taken as exact here. Angles are kept in degrees, because
//! the radian's factor is not a rational number.

use super::exact::Exact;

/// A unit as the table holds it.
pub(super) struct Simple {
    /// Every way to write it, the usual one first.
    pub symbols: &'static [&'static str],
    /// The name of its dimension.
    pub dimension: &'static str,
    /// What multiplies a reading to give the SI: factors, multiplied.
    over: &'static [&'static str],
    /// What the product is divided by.
    under: &'static [&'static str],
    /// Added after multiplying, in the SI; a quotient of two numbers.
    offset: (&'static str, &'static str),
}

impl Simple {
    /// The factor, exact.
    pub(super) fn factor(&self) -> Option<Exact> {
        let over = product(self.over)?;
        if self.under.is_empty() {
            return Some(over);
        }
        over.div(&product(self.under)?)
    }

    /// The offset, exact.
    pub(super) fn offset(&self) -> Option<Exact> {
        Exact::parse(self.offset.0)?.div(&Exact::parse(self.offset.1)?)
    }
}

fn product(factors: &[&str]) -> Option<Exact> {
    let mut factors = factors.iter().map(|factor| Exact::parse(factor));
    let first = factors.next().unwrap_or_else(|| Some(Exact::one()));
    factors.fold(first, |product, factor| Some(product?.mul(&factor?)))
}

const fn unit(dimension: &'static str, symbols: &'static [&'static str], over: &'static [&'static str]) -> Simple {
    quotient(dimension, symbols, over, &[])
}

const fn quotient(
    dimension: &'static str,
    symbols: &'static [&'static str],
    over: &'static [&'static str],
    under: &'static [&'static str],
) -> Simple {
    Simple { symbols, dimension, over, under, offset: ("0", "1") }
}

const fn scale(
    symbols: &'static [&'static str],
    under: &'static [&'static str],
    over: &'static [&'static str],
    offset: (&'static str, &'static str),
) -> Simple {
    Simple { symbols, dimension: "temperature", over, under, offset }
}

/// The pound in kilograms.
const LB: &str = "0.45359237";
/// Standard gravity in metres per second squared.
const GN: &str = "9.80665";
/// The foot in metres.
const FT: &str = "0.3048";
/// The inch in metres.
const IN: &str = "0.0254";
/// The US gallon in cubic metres.
const GAL: &str = "0.003785411784";

/// Every simple unit.
pub(super) const SIMPLE: &[Simple] = &[
    unit("number", &["%"], &["0.01"]),
    // Length.
    unit("length", &["m"], &[]),
    unit("length", &["mm"], &["0.001"]),
    unit("length", &["cm"], &["0.01"]),
    unit("length", &["km"], &["1000"]),
    unit("length", &["in", "inch", "inches"], &[IN]),
    unit("length", &["ft", "foot", "feet"], &[FT]),
    unit("length", &["yd"], &["0.9144"]),
    unit("length", &["mi"], &["1609.344"]),
    unit("length", &["nmi", "NM"], &["1852"]),
    // Mass.
    unit("mass", &["kg"], &[]),
    unit("mass", &["g"], &["0.001"]),
    unit("mass", &["mg"], &["0.000001"]),
    unit("mass", &["t"], &["1000"]),
    unit("mass", &["lb"], &[LB]),
    quotient("mass", &["oz"], &[LB], &["16"]),
    // Time.
    unit("time", &["s"], &[]),
    unit("time", &["min"], &["60"]),
    unit("time", &["h"], &["3600"]),
    unit("time", &["day", "days"], &["86400"]),
    unit("time", &["week", "weeks"], &["604800"]),
    // Speed and acceleration.
    quotient("speed", &["kt", "kts", "knots"], &["1852"], &["3600"]),
    quotient("speed", &["mph"], &["1609.344"], &["3600"]),
    unit("acceleration", &["gn"], &[GN]),
    // Force and torque.
    unit("force", &["N"], &[]),
    unit("force", &["kN"], &["1000"]),
    unit("force", &["lbf"], &[LB, GN]),
    unit("force", &["kgf"], &[GN]),
    unit("torque", &["Nm"], &[]),
    // Pressure.
    unit("pressure", &["Pa"], &[]),
    unit("pressure", &["hPa"], &["100"]),
    unit("pressure", &["kPa"], &["1000"]),
    unit("pressure", &["MPa"], &["1000000"]),
    unit("pressure", &["bar"], &["100000"]),
    unit("pressure", &["mbar"], &["100"]),
    quotient("pressure", &["psi"], &[LB, GN], &[IN, IN]),
    unit("pressure", &["inHg"], &["3386.389"]),
    unit("pressure", &["mmHg"], &["133.3224"]),
    // Temperature on a scale, and differences.
    scale(&["K"], &[], &[], ("0", "1")),
    scale(&["degC", "°C"], &[], &[], ("273.15", "1")),
    scale(&["degF", "°F"], &["9"], &["5"], ("2298.35", "9")),
    unit("temperature-difference", &["deltaK"], &[]),
    unit("temperature-difference", &["deltaC"], &[]),
    quotient("temperature-difference", &["deltaF"], &["5"], &["9"]),
    // Angle.
    unit("angle", &["deg", "°"], &[]),
    // Electricity.
    unit("voltage", &["V", "volts"], &[]),
    unit("voltage", &["mV"], &["0.001"]),
    unit("voltage", &["kV"], &["1000"]),
    unit("current", &["A", "amps"], &[]),
    unit("current", &["mA"], &["0.001"]),
    unit("charge", &["Ah"], &["3600"]),
    unit("resistance", &["ohm", "Ω", "\u{2126}"], &[]),
    unit("resistance", &["milliohm", "mohm"], &["0.001"]),
    unit("resistance", &["kohm"], &["1000"]),
    // Power and frequency.
    unit("power", &["W"], &[]),
    unit("power", &["kW"], &["1000"]),
    unit("power", &["hp"], &["550", FT, LB, GN]),
    unit("frequency", &["Hz"], &[]),
    unit("frequency", &["kHz"], &["1000"]),
    unit("frequency", &["MHz"], &["1000000"]),
    quotient("frequency", &["rpm"], &[], &["60"]),
    // Volume.
    unit("volume", &["L", "l", "litre", "litres"], &["0.001"]),
    unit("volume", &["mL", "ml"], &["0.000001"]),
    unit("volume", &["gal", "usgal"], &[GAL]),
    unit("volume", &["impgal"], &["0.00454609"]),
    quotient("volume", &["qt"], &[GAL], &["4"]),
    quotient("volume", &["pt"], &[GAL], &["8"]),
    quotient("volume", &["floz"], &[GAL], &["128"]),
];

//! What kind of quantity a number is: units are types.

use std::fmt;

/// The powers of the base quantities length, mass, time, current, temperature
/// difference and angle; and, apart from all others, a temperature on a scale.
///
/// A temperature (`20 degC`) is a point on a scale, a temperature difference
/// (`20 deltaC`) a distance along it: the first can be compared and shifted,
/// never multiplied. Angle counts as a base quantity so that it is never
/// mistaken for a plain number. Energy has no name here: force times length is
/// torque.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Dimension {
    pub(super) powers: [i8; 6],
    pub(super) point: bool,
}

/// The base quantities with the SI unit each is kept in.
const BASES: [(&str, &str); 6] = [
    ("length", "m"),
    ("mass", "kg"),
    ("time", "s"),
    ("current", "A"),
    ("temperature-difference", "deltaK"),
    ("angle", "deg"),
];

const fn of(powers: [i8; 6]) -> Dimension {
    Dimension { powers, point: false }
}

/// Every quantity with a name of its own.
const NAMED: [(&str, Dimension); 21] = [
    ("number", Dimension::NUMBER),
    ("length", Dimension::LENGTH),
    ("mass", Dimension::MASS),
    ("time", Dimension::TIME),
    ("current", of([0, 0, 0, 1, 0, 0])),
    ("temperature", Dimension::TEMPERATURE),
    ("temperature-difference", of([0, 0, 0, 0, 1, 0])),
    ("angle", of([0, 0, 0, 0, 0, 1])),
    ("area", of([2, 0, 0, 0, 0, 0])),
    ("volume", of([3, 0, 0, 0, 0, 0])),
    ("speed", of([1, 0, -1, 0, 0, 0])),
    ("acceleration", of([1, 0, -2, 0, 0, 0])),
    ("force", of([1, 1, -2, 0, 0, 0])),
    ("torque", of([2, 1, -2, 0, 0, 0])),
    ("moment", of([1, 1, 0, 0, 0, 0])),
    ("pressure", of([-1, 1, -2, 0, 0, 0])),
    ("voltage", of([2, 1, -3, -1, 0, 0])),
    ("resistance", of([2, 1, -3, -2, 0, 0])),
    ("power", of([2, 1, -3, 0, 0, 0])),
    ("frequency", of([0, 0, -1, 0, 0, 0])),
    ("charge", of([0, 0, 1, 1, 0, 0])),
];

impl Dimension {
    /// A plain number.
    pub const NUMBER: Dimension = of([0; 6]);
    /// Length.
    pub const LENGTH: Dimension = of([1, 0, 0, 0, 0, 0]);
    /// Mass.
    pub const MASS: Dimension = of([0, 1, 0, 0, 0, 0]);
    /// Time.
    pub const TIME: Dimension = of([0, 0, 1, 0, 0, 0]);
    /// A temperature on a scale, not a difference.
    pub const TEMPERATURE: Dimension = Dimension { powers: [0, 0, 0, 0, 1, 0], point: true };

    /// Whether this is a temperature on a scale.
    #[must_use]
    pub const fn is_point_temperature(self) -> bool {
        self.point
    }

    /// The dimension of a distance between two such values: for a temperature
    /// the temperature difference, else itself. An uncertainty has it.
    #[must_use]
    pub const fn difference(self) -> Dimension {
        of(self.powers)
    }

    /// The dimension of a product. `None` where a temperature on a scale would
    /// be multiplied, or a power leaves -128..=127.
    #[must_use]
    pub fn times(self, other: Dimension) -> Option<Dimension> {
        self.joined(other, i8::checked_add)
    }

    /// The dimension of a quotient; `None` as for [`Dimension::times`].
    #[must_use]
    pub fn per(self, other: Dimension) -> Option<Dimension> {
        self.joined(other, i8::checked_sub)
    }

    fn joined(self, other: Dimension, join: fn(i8, i8) -> Option<i8>) -> Option<Dimension> {
        if self.point || other.point {
            return None;
        }
        let mut powers = self.powers;
        for (power, with) in powers.iter_mut().zip(other.powers) {
            *power = join(*power, with)?;
        }
        Some(of(powers))
    }

    /// The dimension of a sum: both the same, or a temperature shifted by a
    /// difference. Two temperatures on a scale have no sum.
    #[must_use]
    pub fn plus(self, other: Dimension) -> Option<Dimension> {
        match (self.point, other.point) {
            (true, true) => None,
            (true, false) | (false, true) if self.difference() == other.difference() => Some(Dimension::TEMPERATURE),
            _ => (self == other).then_some(self),
        }
    }

    /// The dimension of a difference: two temperatures on a scale differ by a
    /// temperature difference; a scale cannot be taken from a difference.
    #[must_use]
    pub fn minus(self, other: Dimension) -> Option<Dimension> {
        match (self.point, other.point) {
            (true, true) => Some(self.difference()),
            (true, false) if self.difference() == other => Some(self),
            _ => (self == other).then_some(self),
        }
    }

    /// The dimension of a square root; `None` where a power is odd.
    #[must_use]
    pub fn root(self) -> Option<Dimension> {
        let even = self.powers.iter().all(|power| power.checked_rem(2) == Some(0));
        (even && !self.point).then(|| of(self.powers.map(|power| power.wrapping_div(2))))
    }

    /// The dimension by its name: `length`, `temperature-difference`, ...
    #[must_use]
    pub fn named(name: &str) -> Option<Dimension> {
        NAMED.iter().find(|(known, _)| *known == name).map(|(_, dimension)| *dimension)
    }

    /// Every name that [`Dimension::named`] knows.
    pub fn names() -> impl Iterator<Item = &'static str> {
        NAMED.iter().map(|(name, _)| *name)
    }

    /// The name of this dimension, where it has one of its own.
    #[must_use]
    pub fn name(self) -> Option<&'static str> {
        NAMED.iter().find(|(_, known)| *known == self).map(|(name, _)| *name)
    }

    /// The dimension in words: `length`, `resistance per length`, or the base
    /// quantities with their powers.
    #[must_use]
    pub fn describe(self) -> String {
        if let Some(name) = self.name() {
            return name.to_owned();
        }
        let pair = |join: fn(Dimension, Dimension) -> Option<Dimension>, word: &str| {
            let mut pairs = NAMED.iter().flat_map(|a| NAMED.iter().map(move |b| (a, b)));
            pairs.find(|(a, b)| join(a.1, b.1) == Some(self)).map(|(a, b)| format!("{} {word} {}", a.0, b.0))
        };
        pair(Dimension::per, "per")
            .or_else(|| pair(Dimension::times, "times"))
            .unwrap_or_else(|| self.spelt(0, " times ", " per "))
    }

    /// A unit symbol made of SI base units: `kg-m2/s3`.
    #[must_use]
    pub fn base_symbol(self) -> String {
        if self.point {
            return "K".to_owned();
        }
        self.spelt(1, "-", "/")
    }

    /// The base quantities (`which` 0) or base units (1) with their powers.
    fn spelt(self, which: usize, times: &str, per: &str) -> String {
        let word = |(base, power): &((&'static str, &'static str), i8)| {
            let word = if which == 0 { base.0 } else { base.1 };
            match power.unsigned_abs() {
                1 => word.to_owned(),
                power if which == 0 => format!("{word} to the {power}"),
                power => format!("{word}{power}"),
            }
        };
        let all: Vec<_> = BASES.into_iter().zip(self.powers).collect();
        let over: Vec<String> = all.iter().filter(|(_, p)| *p > 0).map(word).collect();
        let under: Vec<String> = all.iter().filter(|(_, p)| *p < 0).map(word).collect();
        let one = if which == 0 { "number" } else { "1" };
        let mut text = if over.is_empty() && !under.is_empty() { one.to_owned() } else { over.join(times) };
        for word in under {
            text.push_str(per);
            text.push_str(&word);
        }
        text
    }
}

impl fmt::Display for Dimension {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.describe())
    }
}

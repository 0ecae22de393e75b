//! Things that stand under the names of parts, found for a part: its own, those
//! of what it is a part of, those of its own parts.

use super::disturbance::is_below;
use std::collections::BTreeMap;
use std::ops::Bound;

/// Things by the names of parts.
#[derive(Debug)]
pub(super) struct ByPart<'a, T>(BTreeMap<&'a str, Vec<T>>);

impl<T> Default for ByPart<'_, T> {
    fn default() -> Self {
        Self(BTreeMap::new())
    }
}

impl<'a, T: Copy> ByPart<'a, T> {
    pub(super) fn of(things: impl Iterator<Item = (&'a str, T)>) -> Self {
        let mut all: BTreeMap<&str, Vec<T>> = BTreeMap::new();
        for (part, thing) in things {
            all.entry(part).or_default().push(thing);
        }
        Self(all)
    }

    /// Those of a part itself.
    pub(super) fn at(&self, part: &str) -> impl Iterator<Item = T> {
        self.0.get(part).into_iter().flatten().copied()
    }

    /// Those of all that it is a part of.
    pub(super) fn above(&self, part: &str) -> impl Iterator<Item = T> {
        let above = part.match_indices('.').filter_map(|(at, _)| part.get(..at));
        above.flat_map(|above| self.at(above))
    }

    /// Those of its own parts.
    pub(super) fn below(&self, part: &str) -> impl Iterator<Item = T> {
        let after = self.0.range::<str, _>((Bound::Excluded(part), Bound::Unbounded));
        let alike = after.take_while(move |(name, _)| name.starts_with(part));
        alike.filter(move |(name, _)| is_below(name, part)).flat_map(|(_, things)| things.iter().copied())
    }
}

#[cfg(test)]
mod tests {
    use super::ByPart;

    #[test]
    fn finds_what_stands_above_and_below() {
        let names = ["engine", "engine.mount", "engine.mount.bolt", "engine-bay", "engines", "wings"];
        let by_part = ByPart::of(names.into_iter().map(|name| (name, name)));
        let all = |found: &mut dyn Iterator<Item = &'static str>| found.collect::<Vec<_>>();
        assert_eq!(all(&mut by_part.at("engine")), ["engine"]);
        assert_eq!(all(&mut by_part.below("engine")), ["engine.mount", "engine.mount.bolt"]);
        assert_eq!(all(&mut by_part.above("engine.mount.bolt")), ["engine", "engine.mount"]);
        assert_eq!(all(&mut by_part.above("engine-bay")), [""; 0]);
        assert_eq!(all(&mut by_part.below("wing")), [""; 0]);
    }
}

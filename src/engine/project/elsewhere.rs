//! Which packs of the library declare a name that the packs in use do not.

use crate::ir::Rules;
use std::collections::BTreeSet;

/// The names of facts and lists that packs of the library declare which are not in use, each with its pack. Gathered
/// once somebody asks for a name that is not known; each declaration of these packs begins a line, so nothing need be
/// parsed.
#[derive(Debug)]
pub struct Elsewhere(BTreeSet<(&'static str, &'static str)>);

impl Elsewhere {
    /// Those of the packs that the rules do not use.
    pub fn of(rules: &Rules) -> Self {
        let in_use = |pack: &str| rules.packs.iter().any(|used| used.name == pack);
        let mut names = BTreeSet::new();
        for (pack, files) in rules.library.iter().filter(|(pack, _)| !in_use(pack)) {
            let lines = files.iter().flat_map(|(_, text)| text.lines());
            names.extend(lines.filter_map(declared).map(|name| (name, *pack)));
        }
        Self(names)
    }

    /// The packs that declare a fact or a list of that name, or of a name below it.
    pub fn knows(&self, name: &str) -> Vec<&'static str> {
        let itself = self.0.range((name, "")..).take_while(|(known, _)| *known == name);
        let below = format!("{name}.");
        let inside = self.0.range((below.as_str(), "")..).take_while(|(known, _)| known.starts_with(&below));
        let packs: BTreeSet<&'static str> = itself.chain(inside).map(|(_, pack)| *pack).collect();
        packs.into_iter().collect()
    }
}

/// The name that a line declares: `fact nz.aerobatic : yes or no`.
fn declared(line: &str) -> Option<&str> {
    let rest = line.strip_prefix("fact ").or_else(|| line.strip_prefix("list "))?;
    rest.split_whitespace().next()
}

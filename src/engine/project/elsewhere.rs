//! Which packs of the library declare a name that the packs in use do not.

use crate::ir::Rules;

/// The packs of the library that are not in use and declare a fact or a list of that
/// name, or of a name below it. Looked for only when a name is not known; each
/// declaration of these packs begins a line, so nothing need be parsed.
pub fn knows(rules: &Rules, name: &str) -> Vec<&'static str> {
    let in_use = |pack: &str| rules.packs.iter().any(|used| used.name == pack);
    let unused = rules.library.iter().filter(|(pack, _)| !in_use(pack));
    let declaring = unused.filter(|(_, files)| {
        let lines = files.iter().flat_map(|(_, text)| text.lines());
        lines.filter_map(declared).any(|known| is_or_lies_in(known, name))
    });
    declaring.map(|(pack, _)| *pack).collect()
}

/// The name that a line declares: `fact nz.aerobatic : yes or no`.
fn declared(line: &str) -> Option<&str> {
    let rest = line.strip_prefix("fact ").or_else(|| line.strip_prefix("list "))?;
    rest.split_whitespace().next()
}

fn is_or_lies_in(known: &str, name: &str) -> bool {
    known.strip_prefix(name).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
}

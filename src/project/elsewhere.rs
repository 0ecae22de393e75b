//! Which of the packs in the binary declare a name that the packs in use do not.

use crate::ir::Rules;
use crate::packs::{built_in, built_in_names};

/// The built-in packs that are not in use and declare a fact or a list of that
/// name, or of a name below it. Looked for only when a name is not known; each
/// declaration of these packs begins a line, so nothing need be parsed.
pub(super) fn knows(rules: &Rules, name: &str) -> Vec<&'static str> {
    let in_use = |pack: &str| rules.packs.iter().any(|used| used.name == pack);
    built_in_names().into_iter().filter(|pack| !in_use(pack) && declares(pack, name)).collect()
}

fn declares(pack: &str, name: &str) -> bool {
    let texts = built_in(&[pack]).unwrap_or_default();
    let own = texts.iter().filter(|text| text.name == pack).flat_map(|text| &text.files);
    own.flat_map(|(_, text)| text.lines()).filter_map(declared).any(|known| is_or_lies_in(known, name))
}

/// The name that a line declares: `fact nz.aerobatic : yes or no`.
fn declared(line: &str) -> Option<&str> {
    let rest = line.strip_prefix("fact ").or_else(|| line.strip_prefix("list "))?;
    rest.split_whitespace().next()
}

fn is_or_lies_in(known: &str, name: &str) -> bool {
    known.strip_prefix(name).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::load_packs_to_audit;

    /// Every fact and list of every pack is found, and in that pack alone.
    #[test]
    fn every_declaration_begins_a_line() -> Result<(), crate::diagnostic::Diagnostic> {
        for pack in built_in_names() {
            let Ok(rules) = load_packs_to_audit(&built_in(&[pack])?) else { continue };
            let names = rules.fact_by_name.keys().chain(rules.list_by_name.keys());
            let used: Vec<&str> = rules.packs.iter().map(|used| used.name.as_str()).collect();
            for name in names {
                assert!(used.iter().any(|pack| declares(pack, name)), "{name} of {pack}");
            }
        }
        Ok(())
    }

    #[test]
    fn a_group_of_a_country_is_that_packs() {
        assert_eq!(knows(&Rules::default(), "nz"), ["nz"]);
        assert_eq!(knows(&Rules::default(), "nosuch.fork.serial"), ["kit-nosuch-2"]);
        assert!(knows(&Rules::default(), "nosuch.for").is_empty());
    }
}

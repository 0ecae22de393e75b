//! Who is who: the people of a project, under their short and their full names.

use super::Person;
use super::full_names::one_name;
use crate::ir::{BUILDER, RoleSet, Rules};
use std::collections::{BTreeMap, BTreeSet};

/// The people whom a project names, each with all the roles given to that person.
#[derive(Debug, Default)]
pub(crate) struct Persons<'r> {
    /// By full name, as names are compared.
    roles: BTreeMap<String, BTreeSet<&'r str>>,
    /// Full names by short name, and by the names as written: looked up first.
    written: BTreeMap<&'r str, String>,
    /// The same by short names as names are compared.
    compared: BTreeMap<String, String>,
}

impl<'r> Persons<'r> {
    /// The people of a project. Two entries of one full name are one person.
    pub(crate) fn of(people: &'r BTreeMap<String, Person>) -> Self {
        let mut persons = Self::default();
        for (short, person) in people {
            let key = one_name(&person.name);
            // A name without a letter names nobody.
            if key.is_empty() {
                continue;
            }
            persons.roles.entry(key.clone()).or_default().extend(person.roles.iter().map(String::as_str));
            persons.written.insert(&person.name, key.clone());
            persons.compared.insert(one_name(short), key.clone());
            persons.written.insert(short, key);
        }
        persons
    }

    /// All the roles of somebody, by the short name or the full one; `None` for somebody whom the project does not name.
    pub(crate) fn roles(&self, who: &str) -> Option<&BTreeSet<&'r str>> {
        if let Some(key) = self.written.get(who) {
            return self.roles.get(key);
        }
        let name = one_name(who);
        let key = self.compared.get(&name).unwrap_or(&name);
        self.roles.get(key)
    }

    /// The same, as far as the packs know the roles. Where the project names no builder, nobody can be told from one.
    pub(crate) fn role_set(&self, rules: &Rules, who: &str) -> Option<RoleSet> {
        let mut set = RoleSet::ANY;
        for role in self.roles(who).filter(|_| self.builders().next().is_some())? {
            rules.roles.position(|known| known.name == **role).into_iter().for_each(|at| set.add(at));
        }
        Some(set)
    }

    /// Whether somebody is a builder, in whatever role they speak. Whom the project does not name
    /// may be one if the name is a builder's, in part or with more to it, or a word for oneself.
    /// Where people are named and none of them builds, anybody may be the one.
    pub(crate) fn is_builder(&self, who: &str) -> bool {
        if !self.roles.is_empty() && self.builders().next().is_none() {
            return true;
        }
        match self.roles(who) {
            Some(roles) => roles.contains(BUILDER),
            None => {
                let name = one_name(who);
                let is_own = |word: &str| MYSELF.iter().any(|myself| one_name(myself) == word);
                name.split(' ').any(is_own) || self.builders().any(|builder| may_be(&name, builder))
            }
        }
    }

    /// The full names of those who build, as names are compared.
    fn builders(&self) -> impl Iterator<Item = &str> {
        self.roles.iter().filter(|(_, roles)| roles.contains(BUILDER)).map(|(name, _)| name.as_str())
    }
}

/// What people write for themselves.
const MYSELF: [&str; 7] = ["me", "my", "myself", "I", "self", "builder", "owner"];
/// What stands before a name and is no part of it.
const TITLES: [&str; 8] = ["Mr", "Mrs", "Ms", "Miss", "Dr", "Sir", "Herr", "Frau"];

/// Whether a name may be that of a builder: it holds all of it, with an initial perhaps and among
/// other words, or it is a part of it, or all of it run together.
fn may_be(name: &str, builder: &str) -> bool {
    let is_title = |word: &&str| TITLES.iter().any(|title| one_name(title) == **word);
    let words: Vec<&str> = name.split(' ').filter(|word| !is_title(word)).collect();
    let of: Vec<&str> = builder.split(' ').collect();
    let same = |word: &str, of: &str| word == of || word.chars().count() == 1 && of.starts_with(word);
    let all = of.iter().all(|of| words.iter().any(|word| same(word, of)));
    let some = of.iter().any(|of| words.contains(of));
    let part = !words.is_empty() && words.iter().all(|word| of.iter().any(|of| same(word, of)));
    let (onwards, backwards) = (of.concat(), of.iter().rev().copied().collect::<String>());
    let together = of.len() > 1 && words.iter().any(|word| word.contains(&onwards) || word.contains(&backwards));
    all && some || part || together
}

/// Whether what is written is nobody's name.
pub(crate) fn is_nobody(who: &str) -> bool {
    let plain = who.trim().to_lowercase();
    NOBODY.contains(&plain.as_str())
        || who.chars().filter(|letter| letter.is_alphabetic()).take(2).count() < 2 && !is_one_sign(who)
}

/// Some names are one sign, in scripts whose signs are words.
fn is_one_sign(who: &str) -> bool {
    let mut letters = who.chars().filter(|letter| letter.is_alphabetic());
    letters.next().is_some_and(|letter| letter >= '\u{2E80}')
}

/// What people write where nobody is meant yet.
const NOBODY: [&str; 14] = [
    "n/a",
    "na",
    "none",
    "nobody",
    "unknown",
    "tbd",
    "tba",
    "tbc",
    "ditto",
    "to be asked",
    "to be confirmed",
    "to be done",
    "somebody",
    "anybody",
];

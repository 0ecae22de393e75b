//! Who is who: the people of a project, under their short and their full names.

use super::Person;
use super::full_names::{is_myself, may_be, one_name};
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
                name.split(' ').any(is_myself) || self.builders().any(|builder| may_be(&name, builder))
            }
        }
    }

    /// The full names of those who build, as names are compared.
    fn builders(&self) -> impl Iterator<Item = &str> {
        self.roles.iter().filter(|(_, roles)| roles.contains(BUILDER)).map(|(name, _)| name.as_str())
    }
}

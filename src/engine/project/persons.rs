//! Who is who: the people of a project, under their short and their full names.

use super::Person;
use super::full_names::{is_myself, may_be, may_be_one, one_name};
use crate::ir::{BUILDER, RoleSet, Rules};
use std::collections::{BTreeMap, BTreeSet};

/// The people whom a project names, each with all the roles given to that person.
#[derive(Debug, Default)]
pub(crate) struct Persons<'r> {
    /// By the one name that stands for all of a person's.
    roles: BTreeMap<String, BTreeSet<&'r str>>,
    /// That name, by each full name as names are compared.
    full: BTreeMap<String, String>,
    /// Full names by short name, and by the names as written: looked up first.
    written: BTreeMap<&'r str, String>,
    /// The same by short names as names are compared.
    compared: BTreeMap<String, String>,
}

impl<'r> Persons<'r> {
    /// The people of a project. Two entries whose full names may be one person's are one person.
    pub(crate) fn of(people: &'r BTreeMap<String, Person>) -> Self {
        // A name without a letter names nobody.
        let names = people.values().map(|person| one_name(&person.name)).filter(|name| !name.is_empty());
        let mut persons = Self { full: first_of_alike(names.collect()), ..Self::default() };
        for (short, person) in people {
            let Some(key) = persons.full.get(&one_name(&person.name)).cloned() else { continue };
            persons.roles.entry(key.clone()).or_default().extend(person.roles.iter().map(String::as_str));
            persons.written.insert(&person.name, key.clone());
            persons.compared.insert(one_name(short), key.clone());
            persons.written.insert(short, key);
        }
        persons
    }

    /// One name for all names of a person.
    pub(crate) fn person<'s>(&'s self, who: &'s str) -> Option<&'s str> {
        self.written.get(who).map(String::as_str)
    }

    /// All the roles of somebody, by the short name or the full one; `None` for somebody whom the project does not name.
    pub(crate) fn roles(&self, who: &str) -> Option<&BTreeSet<&'r str>> {
        if let Some(key) = self.written.get(who) {
            return self.roles.get(key);
        }
        let name = one_name(who);
        let key = self.compared.get(&name).or_else(|| self.full.get(&name))?;
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
        let builds = |person: &String| self.roles.get(person).is_some_and(|roles| roles.contains(BUILDER));
        self.full.iter().filter(move |(_, person)| builds(person)).map(|(name, _)| name.as_str())
    }
}

/// Of each name the first of those that may be the same person's, by one step or several.
fn first_of_alike(names: BTreeSet<String>) -> BTreeMap<String, String> {
    let mut first: BTreeMap<String, String> = BTreeMap::new();
    for name in &names {
        let alike: BTreeSet<String> =
            first.iter().filter(|(known, _)| may_be_one(known, name)).map(|(_, first)| first.clone()).collect();
        let least = alike.first().unwrap_or(name).clone();
        for known in first.values_mut().filter(|known| alike.contains(*known)) {
            known.clone_from(&least);
        }
        first.insert(name.clone(), least);
    }
    first
}

//! What `project.toml` says of people, parts and planned days, against the packs.

use super::Record;
use super::full_names::{is_no_name, may_be_one, names_of_roles, one_name};
use super::header::Header;
use super::keys::header::VISIT;
use super::known_names::nearest_or_all;
use super::planned::FIRST_FLIGHT;
use crate::diagnostic::{Diagnostic, near_sibling};
use crate::ir::Rules;
use crate::source::{Span, is_invisible};
use std::collections::{BTreeMap, BTreeSet};

/// Takes people, parts and planned days over into the record.
pub(super) fn take_over(header: &Header, rules: &Rules, record: &mut Record) -> Vec<Diagnostic> {
    let mut messages = Vec::new();
    let roles: Vec<&str> = rules.roles.iter().map(|role| role.name.as_str()).collect();
    let zones: Vec<&str> = rules.zones.iter().map(|zone| zone.name.as_str()).collect();
    for (short, person) in &header.people {
        for role in person.roles.iter().filter(|role| !roles.contains(&role.as_str())) {
            messages.push(unknown("role", role, &roles, person.place));
        }
        record.people.insert(short.clone(), person.clone());
    }
    messages.extend(same_name(header, rules));
    for part in header.parts.values() {
        let zone = part.zone.as_ref().filter(|zone| !zones.contains(&zone.as_str()));
        messages.extend(zone.map(|zone| unknown("zone", zone, &zones, part.place)));
    }
    for (zone, (day, place)) in &header.closing {
        if zones.contains(&zone.as_str()) {
            record.closing.insert(zone.clone(), *day);
        } else {
            messages.push(unknown("zone", zone, &zones, *place));
        }
    }
    // Under a mistyped name what runs out before the first flight would be good for it.
    let mut points: Vec<&str> = rules.hold_points.iter().map(|point| point.name.as_str()).collect();
    for looked_ahead in [VISIT, FIRST_FLIGHT] {
        if !points.contains(&looked_ahead) {
            points.push(looked_ahead);
        }
    }
    for (name, (day, place)) in &header.planned {
        if points.contains(&name.as_str()) {
            record.planned.insert(name.clone(), *day);
        } else {
            messages.push(unknown("hold point", name, &points, *place));
        }
    }
    messages.extend(parts(header, rules));
    record.parts.clone_from(&header.parts);
    messages
}

/// Two short names of one full name: one person, which the builder should know.
fn same_name(header: &Header, rules: &Rules) -> Vec<Diagnostic> {
    let mut named: BTreeMap<String, (&str, Span)> = BTreeMap::new();
    let mut called = BTreeMap::new();
    let mut messages = Vec::new();
    let roles = if header.people.is_empty() { Vec::new() } else { names_of_roles(rules) };
    for (short, person) in &header.people {
        for (what, text) in [("short name", short), ("full name", &person.name)] {
            if let Some(why) = not_on_a_line(text) {
                let message = format!("the {what} of somebody under [people] {why}");
                let help = "write a name on one line, such as rosa = { name = \"Rosa Example\", role = \"builder\" }";
                messages.push(Diagnostic::error("project::no-name", message).at(person.place, "").help(help));
            }
        }
        if let Some((before, place)) = called.insert(one_name(short), (short.as_str(), person.place)) {
            let message = format!("the short names `{before}` and `{short}` differ in capitals or signs only");
            let message = Diagnostic::error("project::short-name", message);
            let help = "who is meant would hang on a capital letter: give one of them another short name";
            messages.push(message.at(person.place, "here again").at(place, "first here").help(help));
        }
        if is_no_name(&roles, &person.name) {
            let message = format!("`{}` is nobody's name", person.name);
            let message = Diagnostic::error("project::no-name", message).at(person.place, "");
            messages.push(message.help("write the full name; leave the person out until you know it"));
        }
        let name = one_name(&person.name);
        let alike = named.get_key_value(&name).or_else(|| named.iter().find(|(known, _)| may_be_one(known, &name)));
        if let Some((known, (before, place))) = alike {
            let (message, help) = if *known == name {
                let message = format!("`{before}` and `{short}` have one full name, and count as one person");
                (message, "give one person one short name with several roles, or write out what sets two people apart")
            } else {
                let message = format!("`{before}` and `{short}` may be one person, and count as one");
                (
                    message,
                    "give one person one short name; if they are two, write out both full names, a second first name too",
                )
            };
            let message = Diagnostic::warning("project::one-person", message);
            messages.push(message.at(person.place, "here again").at(*place, "first here").help(help));
        } else {
            named.insert(name, (short.as_str(), person.place));
        }
    }
    messages
}

/// What is wrong with a name that shows nothing, or does not stay on its line.
fn not_on_a_line(name: &str) -> Option<&'static str> {
    if name.chars().any(char::is_control) {
        Some("has a line break or another control character in it")
    } else if name.chars().all(|letter| letter.is_whitespace() || is_invisible(letter)) {
        Some("is empty")
    } else {
        None
    }
}

fn unknown(kind: &str, name: &str, known: &[&str], place: Span) -> Diagnostic {
    let message = Diagnostic::error("project::unknown", format!("no pack knows a {kind} `{name}`"));
    message.at(place, "").help(nearest_or_all(name, known, "the packs know"))
}

/// The parts below which one of one's own may stand: those that packs declare, what they begin with, and one's own.
#[must_use]
pub fn may_stand_above<'n>(
    declared: impl Iterator<Item = &'n str>,
    own: impl Iterator<Item = &'n str>,
) -> BTreeSet<&'n str> {
    let mut known: BTreeSet<&str> = own.collect();
    for name in declared {
        known.extend(name.match_indices('.').filter_map(|(at, _)| name.get(..at)));
        known.insert(name);
    }
    known
}

/// A part of one's own stands below a known one, or on its own: under a
/// mistyped name, work on it would disturb nothing.
fn parts(header: &Header, rules: &Rules) -> Vec<Diagnostic> {
    let mut messages = Vec::new();
    let declared: Vec<&str> = rules.subjects.iter().map(|part| part.name.as_str()).collect();
    let known = may_stand_above(declared.iter().copied(), header.parts.keys().map(String::as_str));
    for (name, part) in &header.parts {
        if let Some(why) = name.split('.').find_map(not_on_a_line) {
            let message = format!("the name of a part of your own {why}");
            let help = "write a dotted name in quotes, such as \"controls.elevator.pushrod\"";
            messages.push(Diagnostic::error("project::form", message).at(part.place, "").help(help));
        } else if declared.contains(&name.as_str()) {
            let message = format!("`{name}` is a part that a pack names already");
            // A later edition of a pack may have come to name it, which stops nobody's audit.
            messages.push(Diagnostic::warning("project::twice", message).at(part.place, "").help("take it out"));
        } else if let Some((above, _)) = name.rsplit_once('.')
            && !known.contains(above)
        {
            let names: Vec<&str> = known.iter().copied().filter(|known| known != name).collect();
            messages.push(unknown("part", above, &names, part.place));
        } else if let Some(near) = near_sibling(name, declared.iter().copied()) {
            let message = format!("the part `{name}` is new, and almost the name of `{near}`");
            let help = format!("if `{near}` is meant, write that: work on one does not disturb the other");
            messages.push(Diagnostic::warning("project::near", message).at(part.place, "").help(help));
        }
    }
    messages
}

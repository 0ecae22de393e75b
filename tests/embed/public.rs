//! The list of what the crate shows to those who embed it.

use std::collections::BTreeSet;

const LIB: &str = include_str!("../../src/lib.rs");
const RENDER: &str = include_str!("../../src/surface/render.rs");
const PROGRAM: &str = include_str!("shed.rs");

/// At most so many.
const MOST: usize = 80;

/// Every item that can be named from outside: types, functions and modules. Methods, fields and variants are their type's.
const ITEMS: &str = include_str!("public.txt");

/// The names that a `pub use` hands on, and public modules and their functions.
fn items() -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for used in LIB.split("\npub use ").skip(1) {
        let (path, rest) = used.split_once(';').expect("an end");
        let _ = rest;
        let names = path.split_once('{').map_or(path.rsplit("::").next().unwrap_or(path), |(_, names)| names);
        for name in names.trim_end_matches('}').split(',').map(str::trim).filter(|name| !name.is_empty()) {
            found.insert(name.rsplit(" as ").next().unwrap_or(name).to_owned());
        }
    }
    for module in LIB.split("\npub mod ").skip(1) {
        found.insert(format!("mod {}", module.split(';').next().unwrap_or_default()));
    }
    for item in RENDER.split("\npub ").skip(1) {
        let name = item.split_once(' ').map_or("", |(_, name)| name);
        let end = name.find(|letter: char| !letter.is_alphanumeric() && letter != '_').unwrap_or(name.len());
        found.insert(format!("render::{}", &name[..end]));
    }
    found
}

#[test]
fn the_public_items_are_those_of_the_list() {
    let listed: BTreeSet<String> = ITEMS.lines().map(str::to_owned).collect();
    let items = items();
    assert!(!LIB.contains("pub use surface::*") && !LIB.contains("::*;"), "each is named");
    assert_eq!(
        items, listed,
        "the list is tests/embed/public.txt; what goes or changes there is told in the changelog"
    );
    assert!(items.len() <= MOST, "{} public items", items.len());
}

/// The program of the first page does what it says in so many lines beside its texts.
#[test]
fn the_embedders_program_is_short() {
    let start = PROGRAM.find("fn main").expect("main");
    let uses = PROGRAM.lines().filter(|line| line.starts_with("use ")).count();
    let lines = PROGRAM[start..].lines().filter(|line| !line.trim().is_empty()).count() + uses;
    assert!(lines <= 45, "{lines} lines");
    let facts = PROGRAM.lines().filter(|line| line.ends_with(".into()),")).count();
    assert_eq!(facts, 20);
}

/// Whatever a server keeps may go from thread to thread, and says what it is.
#[test]
fn what_is_public_is_send_sync_and_debug() {
    fn held<T: Send + Sync + std::fmt::Debug>() {}
    held::<cotterpin::Session>();
    held::<cotterpin::Project>();
    held::<cotterpin::Rules>();
    held::<cotterpin::Pack>();
    held::<cotterpin::Audit>();
    held::<cotterpin::Plan>();
    held::<cotterpin::Snapshot>();
    held::<cotterpin::Value>();
    held::<cotterpin::Entry>();
    held::<cotterpin::Given>();
    held::<cotterpin::Options>();
    held::<cotterpin::Message>();
    fn error<T: std::error::Error + Send + Sync + 'static>() {}
    error::<cotterpin::LoadError>();
    error::<cotterpin::ValueError>();
}

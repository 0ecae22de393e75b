//! The house as DEVELOPERS.md draws it: what each room imports, read from the
//! sources, held against the map there; and no circle, between rooms or files.

mod graph;
mod harmless;
mod imports;
mod weight;

use graph::circles;
use imports::{Import, imports_of, sources};
use std::collections::{BTreeMap, BTreeSet};

const DEVELOPERS: &str = include_str!("../../DEVELOPERS.md");

/// The floors of a map in DEVELOPERS.md, from the top: a room may import what stands on a lower one.
fn floors(head: &str) -> BTreeMap<&'static str, usize> {
    let fence = format!("```text {head}\n");
    let map = DEVELOPERS.split(fence.as_str()).nth(1).and_then(|rest| rest.split("```").next()).expect("a map");
    let rooms =
        map.lines().enumerate().flat_map(|(floor, line)| line.split_whitespace().map(move |room| (room, floor)));
    let found: BTreeMap<&str, usize> = rooms.clone().collect();
    assert_eq!(found.len(), rooms.count(), "a room stands twice in the map of {head}");
    found
}

/// Imports between rooms, and that each goes down.
fn held_against(head: &str, folder: &str) -> usize {
    let floors = floors(head);
    let mut rooms_seen = BTreeSet::new();
    let mut count = 0;
    for file in sources(folder) {
        let Some(floor) = floors.get(file.room.as_str()) else {
            panic!("{}: the room `{}` is not on the map of {head} in DEVELOPERS.md", file.path, file.room)
        };
        rooms_seen.insert(file.room.clone());
        for Import { room, line, .. } in imports_of(&file) {
            if room == file.room {
                continue;
            }
            let below = floors.get(room.as_str());
            let below = below.unwrap_or_else(|| panic!("{}:{line}: `{room}` is not on the map of {head}", file.path));
            count += 1;
            assert!(
                below > floor,
                "{}:{line}: `{}` imports `{room}`, which does not stand below it on the map of {head}",
                file.path,
                file.room
            );
        }
    }
    let empty: Vec<_> = floors
        .keys()
        .filter(|room| !rooms_seen.contains(**room) && !["lang", "engine", "packs"].contains(room))
        .collect();
    assert!(empty.is_empty(), "rooms on the map that are not there: {empty:?}");
    count
}

#[test]
fn every_import_goes_down_the_map() {
    let held = [("surface", "src"), ("engine", "src/engine"), ("lang", "src/lang")];
    let held = held.map(|(head, folder)| held_against(head, folder));
    // So that a reader of imports that finds none does not pass.
    assert!(held.iter().zip([60, 100, 60]).all(|(found, least)| *found > least), "{held:?}");
}

#[test]
fn no_file_of_a_room_imports_itself_by_way_of_others() {
    for folder in ["src", "src/engine", "src/lang"] {
        let files = sources(folder);
        let mut edges: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
        for file in &files {
            let to = imports_of(file).into_iter().filter_map(|import| import.file).filter(|to| *to != file.path);
            edges.entry(file.path.clone()).or_default().extend(to);
        }
        assert!(edges.values().map(BTreeSet::len).sum::<usize>() > 50, "{folder}");
        assert_eq!(circles(&edges), Vec::<Vec<String>>::new(), "files that import each other");
    }
}

/// The circle finder finds one.
#[test]
fn a_circle_is_found() {
    let edge = |from: &str, to: &[&str]| (from.to_owned(), to.iter().map(|to| (*to).to_owned()).collect());
    let edges = BTreeMap::from([edge("a", &["b", "d"]), edge("b", &["c"]), edge("c", &["a"]), edge("d", &[])]);
    assert_eq!(circles(&edges), [["a", "b", "c"].map(str::to_owned).to_vec()]);
}

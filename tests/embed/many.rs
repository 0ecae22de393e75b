//! Many projects by program.

use super::{MANIFEST, RULES, rules};
use cotterpin::{Audit, Given, LoadError, Options, Project, Snapshot, audit, audit_all};
use std::collections::BTreeSet;
use std::sync::atomic::{AtomicUsize, Ordering};

type Files = Vec<(String, Vec<u8>)>;

/// A project of files with a pack of its own; every fifth has a mistake.
fn files(number: usize) -> Files {
    let width = if number % 5 == 3 { format!("wide{number}") } else { format!("\"{number} in\"") };
    let texts = [
        ("project.toml", format!("name = 'Shed {number}'\npacks = ['./shed']\n")),
        ("shed/pack.toml", MANIFEST.to_owned()),
        ("shed/shed.checklist", RULES.to_owned()),
        ("cabin.toml", format!("[cabin]\nwidth = {width}\n")),
    ];
    texts.map(|(name, text)| (name.to_owned(), text.into_bytes())).to_vec()
}

fn options() -> Options {
    Options::on("2026-11-25").expect("a day")
}

/// What is kept of each: its name and its audit made small, or what was wrong.
fn kept(outcome: Result<Audit, LoadError>) -> Result<(String, String), String> {
    let small = |audit: Audit| (audit.project.clone(), Snapshot::of(&audit).to_json());
    outcome.map(small).map_err(|error| error.to_string())
}

#[test]
fn many_come_out_in_order_each_as_it_does_alone() {
    let alone: Vec<_> = (0..14)
        .map(|number| {
            let project = Project::from_files(files(number));
            kept(project.and_then(|project| Ok(audit(&project, &options())?)))
        })
        .collect();
    assert!(alone.iter().any(Result::is_err) && alone.iter().filter(|one| one.is_ok()).count() > 10);
    assert_eq!(alone.iter().collect::<BTreeSet<_>>().len(), 14, "no two are alike");
    for workers in [0, 1, 2, 9] {
        assert_eq!(audit_all((0..14).map(files), &options(), workers, kept), alone, "{workers}");
    }
    assert_eq!(audit_all(Vec::<Files>::new(), &options(), 2, kept), []);
}

#[test]
fn projects_that_were_read_and_unknown_hold_points_are_taken_too() {
    let rules = rules();
    let mut narrow = Project::new("narrow", &rules);
    narrow.set("cabin.width", "3 in").expect("a width");
    let projects = vec![Project::new("empty", &rules), narrow];
    let unmet = audit_all(projects.clone(), &options(), 2, |audit| audit.map(|audit| audit.summary.unmet).ok());
    assert_eq!(unmet, [Some(0), Some(1)]);
    let wrong = audit_all(projects, &options().by("vist"), 1, |audit| audit.err().map(|error| error.to_string()));
    assert_eq!(wrong.len(), 2);
    assert!(wrong.iter().flatten().all(|error| error.contains("did you mean `visit`?")) && wrong[0].is_some());
}

/// What waits to be judged, and what is judged and not yet made small, is never more than there are workers.
#[test]
fn no_more_are_held_than_there_are_workers() {
    for workers in [1, 3] {
        let (held, most) = (AtomicUsize::new(0), AtomicUsize::new(0));
        let projects = (0..30).map(|number| {
            let now = held.fetch_add(1, Ordering::SeqCst) + 1;
            most.fetch_max(now, Ordering::SeqCst);
            files(number)
        });
        let kept = audit_all(projects, &options(), workers, |outcome| {
            held.fetch_sub(1, Ordering::SeqCst);
            outcome.is_ok()
        });
        assert_eq!(kept.iter().filter(|ok| **ok).count(), 24);
        assert!((1..=workers).contains(&most.into_inner()), "{workers}");
    }
}

#[test]
fn folders_are_taken_and_a_pack_beside_them_is_read_once() {
    let run = crate::fixtures::folder::Run::new("embed-many")
        .file("shed/pack.toml", MANIFEST)
        .file("shed/shed.checklist", RULES)
        .file("a/project.toml", "name = 'Shed 4'\npacks = ['../shed']\n")
        .file("b/project.toml", "name = 'Shed 5'\npacks = ['../shed']\n")
        .file("b/cabin.toml", "[cabin]\nwidth = \"3 in\"\n");
    let folders = ["a", "b", "none"].map(|name| run.folder().join(name));
    let with_packs = folders.clone().map(|folder| Given::from(folder).with_packs_in(run.folder().to_owned()));
    let seen = |audit: Result<_, _>| audit.map(|audit: Audit| (audit.project, audit.summary.unmet)).ok();
    let found = audit_all(with_packs, &options(), 2, seen);
    assert_eq!(found, [Some(("Shed 4".to_owned(), 0)), Some(("Shed 5".to_owned(), 1)), None]);
    fn taken<T: Into<Given>>() {}
    taken::<&std::path::Path>();
    // Whoever wrote the projects does not say where packs are read.
    assert_eq!(audit_all(folders.clone(), &options(), 2, seen), [None, None, None]);
    let [a, ..] = folders;
    let why = Project::from_folder(&a).expect_err("outside").to_string();
    assert!(why.contains("the pack `../shed` lies outside the project's folder"), "{why}");
    assert!(Project::from_folder_with_packs_in(&a, run.folder().join("shed")).is_ok());
    assert!(Project::from_folder_with_packs_in(&a, run.folder().join("b")).is_err());
}

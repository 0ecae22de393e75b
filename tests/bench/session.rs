//! What a change costs a session, at three sizes: a fact, a record, a line of the log, a word, a day.

use super::clock;
use cotterpin::{Entry, Options, Pack, Project, Rules, Session};
use std::fmt::Write;

const MANIFEST: &str = "name='made'\ntitle='Made'\nedition='1'\nauthority='none'\nscope='a bench'";

/// A pack of so many items: of ten, six read a fact, two a list, one the log and one a person's word.
fn rules(items: usize) -> Rules {
    let mut text = "hold-points visit \"V\"\nsystems s \"S\"\nroles builder \"B\" adviser \"A\"\n".to_owned();
    let groups = items / 10;
    for at in 0..groups {
        let _ = writeln!(text, "subjects p{at} \"A part\"");
        for n in 0..6 {
            let _ = writeln!(text, "fact s.f{at}_{n} : length ask \"?\"");
            let _ = writeln!(
                text,
                "item s.i{at}_{n} \"I\" need s.f{at}_{n} >= 10 in by visit basis own cite common practice"
            );
        }
        let _ = writeln!(
            text,
            "list s.l{at} of p{at} ask \"?\" field name : text ask \"?\" field m : mass, above 0 lb of its part ask \"?\" named by name"
        );
        let _ = writeln!(
            text,
            "item s.e{at} for each r in s.l{at} \"E\" need r.m >= 1 lb by visit basis own cite common practice\n\
             item s.s{at} \"S\" need sum of r.m for r in s.l{at} >= 4 lb by visit basis own cite common practice\n\
             item s.g{at} \"G\" need inspected p{at} by visit basis own cite common practice\n\
             item s.w{at} \"W\" ask \"?\" need confirmed by adviser about p{at} by visit basis own cite common practice"
        );
    }
    Rules::new([Pack::new("made", MANIFEST, [("made.checklist", text)])]).unwrap_or_else(|error| panic!("{error}"))
}

fn record(at: usize, n: usize) -> Entry {
    Entry::record(&format!("s.l{at}")).with("name", format!("r{n}")).with("m", "2 lb")
}

fn line(at: usize, what: &str, day: usize) -> Entry {
    let line = Entry::log().with("on", format!("2026-{:02}-{:02}", 1 + day / 28 % 10, 1 + day % 28)).with("what", what);
    line.with("subject", format!("p{at}")).with("who", "rosa")
}

/// Everything recorded, and as many lines of the log as there are tens of items.
fn session(rules: &Rules, items: usize) -> Session {
    let mut project = Project::new("made", rules);
    project.set_person("rosa", "Rosa Example", &["builder"]).unwrap();
    for at in 0..items / 10 {
        for n in 0..6 {
            project.set(&format!("s.f{at}_{n}"), "12 in").unwrap();
        }
        project.set_list(&format!("s.l{at}"), [record(at, 0), record(at, 1)]).unwrap();
        project.add(&line(at, "inspected", at)).unwrap();
    }
    let session = Session::new(project, &Options::on("2026-12-01").unwrap()).unwrap();
    assert!(session.findings().count() > items);
    session
}

/// Prints a line for each kind of change, in microseconds.
pub(crate) fn print() {
    println!("\n{:<44} {:>12} {:>12} {:>12}", "a change of a session, us", "300 items", "3,000", "10,000");
    let sizes = [300, 3_000, 10_000];
    let figures: Vec<Vec<(&str, f64)>> = sizes.iter().map(|items| changes(*items)).collect();
    for (at, (what, small)) in figures[0].iter().enumerate() {
        println!("{what:<44} {small:>12.1} {:>12.1} {:>12.1}", figures[1][at].1, figures[2][at].1);
    }
}

fn changes(items: usize) -> Vec<(&'static str, f64)> {
    let rules = rules(items);
    let micro = |rounds, call: &mut dyn FnMut()| clock::milliseconds(rounds, call) * 1e3;
    let mut s = session(&rules, items);
    let mut n = 0;
    let mut flip = |s: &mut Session| {
        n += 1;
        let changed = s.set("s.f3_2", if n % 2 == 0 { "12 in" } else { "9 in" }).unwrap();
        assert_eq!(changed.len(), 1);
    };
    let fact = micro(200, &mut || flip(&mut s));
    let mut n = 10;
    let added = micro(15, &mut || {
        n += 1;
        assert!(!s.add(&record(5, n)).unwrap().is_empty());
    });
    let mut n = 0;
    let logged = micro(15, &mut || {
        n += 1;
        let what = if n % 2 == 0 { "inspected" } else { "work done" };
        assert!(!s.add(&line(7, what, 280 + n)).unwrap().is_empty());
    });
    let mut n = 0;
    let word = micro(15, &mut || {
        n += 1;
        let word = Entry::confirmed().with("item", "s.w9").with("who", "Tomas Invented").with("role", "adviser");
        let word = word.with("on", format!("2026-11-{:02}", n % 28 + 1)).with("holds", n % 2 == 0);
        assert!(!s.add(&word).unwrap().is_empty());
    });
    let mut n = 0;
    let day = micro(9, &mut || {
        n += 1;
        s.ask(&Options::on(&format!("2026-12-{:02}", 1 + n % 28)).unwrap()).unwrap();
    });
    let audit = micro(5, &mut || assert!(!s.audit().unwrap().findings.is_empty()));
    let opened = micro(3, &mut || drop(Session::new(s.project(), &Options::on("2026-12-01").unwrap()).unwrap()));
    vec![
        ("a fact, with what reads it", fact),
        ("a record of a list", added),
        ("a line of the log", logged),
        ("a person's word", word),
        ("another day: all anew", day),
        ("(an audit of all of it)", audit),
        ("(a session begun)", opened),
    ]
}

//! Every sample on the language's own page loads, and its examples come out
//! as written.

use super::{come_out, load, pack, told};
use crate::fixtures::packs::load_packs;
use cotterpin_engine::lint::run_examples;

const PAGE: &str = include_str!("../../grammar/README.md");

/// The fenced samples: the line of the fence, whether it extends the first item, its text.
fn samples() -> Vec<(usize, bool, String)> {
    let mut found: Vec<(usize, bool, String)> = Vec::new();
    let mut open = false;
    // What the builder writes, and what the command says to it, is for tests/docs.
    let mut other = false;
    for (n, line) in PAGE.lines().enumerate() {
        match (line.strip_prefix("```"), open) {
            (Some(_), true) => (open, other) = (false, false),
            (Some(head), false) if ["toml", "text", "json"].contains(&head.split(' ').next().unwrap_or("")) => {
                (open, other) = (true, true);
            }
            (Some(head), false) => {
                let extends = match head.trim() {
                    "checklist" => false,
                    "checklist extends" => true,
                    other => panic!("line {}: a fence begins with {other:?}", n + 1),
                };
                found.push((n + 1, extends, String::new()));
                open = true;
            }
            (None, true) if other => {}
            (None, true) => {
                let (_, _, text) = found.last_mut().expect("a fence is open");
                text.push_str(line);
                text.push('\n');
            }
            (None, false) => {}
        }
    }
    assert!(!open, "a fence is left open");
    found
}

#[test]
fn the_page_has_samples_of_both_kinds() {
    let samples = samples();
    assert!(samples.iter().filter(|(_, extends, _)| !extends).count() >= 6, "{samples:#?}");
    assert!(samples.iter().any(|(_, extends, _)| *extends), "{samples:#?}");
    assert!(samples[0].2.contains("item fuel.flow.gravity"), "the first sample is the first item");
}

#[test]
fn every_sample_loads() {
    let samples = samples();
    let first = pack("first", &[], &samples[0].2);
    for (line, extends, text) in &samples {
        let packs = if *extends {
            vec![first.clone(), pack("second", &["first"], text)]
        } else {
            vec![pack("first", &[], text)]
        };
        if let Err(failed) = load_packs(&packs) {
            panic!("the sample at line {line} does not load: {:#?}", told(&failed.0, &failed.1));
        }
    }
}

#[test]
fn every_example_of_a_sample_comes_out_as_written() {
    let samples = samples();
    let mut run = 0;
    for (line, _, text) in samples.iter().filter(|(_, extends, text)| !extends && text.contains("\n  try ")) {
        let rules = come_out(&[pack("first", &[], text)]);
        let written = text.matches("\n  try ").count();
        assert_eq!(run_examples(&rules).len(), written, "examples of the sample at line {line}");
        run += written;
    }
    assert!(run >= 11, "only {run} examples were found");
}

#[test]
fn the_sample_of_layers_shows_both_words() {
    let samples = samples();
    let (_, _, text) = samples.iter().find(|(_, extends, _)| *extends).expect("a sample that extends");
    let rules = load(&[pack("first", &[], &samples[0].2), pack("second", &["first"], text)]);
    let item = &rules.items.first().unwrap();
    assert_eq!(item.added.len(), 1);
    let aside = item.set_aside.first().expect("it is set aside");
    assert_eq!(rules.packs.get(aside.pack).unwrap().name, "second");
    assert!(aside.because.contains("header tank"), "{}", aside.because);
}

/// The page's first sample, for whoever wants a good pack.
pub(crate) fn first_sample() -> String {
    samples().swap_remove(0).2
}

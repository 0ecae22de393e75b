//! Whole messages: each sample of a mistake, and all that the command says of it.

use super::Texts;
use super::recording::{Named, Sample, samples};
use crate::{cli, lang, lapse, plan, record, since};
use std::collections::BTreeMap;
use std::fmt::Write;

/// The tests of each file of messages.
fn groups() -> Vec<(&'static str, &'static [Named])> {
    vec![
        ("packs-on-disk", cli::bad_packs::GOLDEN),
        ("projects", cli::bad_projects::GOLDEN),
        #[cfg(unix)]
        ("not-read", cli::not_read::GOLDEN),
        ("usage", cli::usage::GOLDEN),
        ("many", cli::many::GOLDEN),
        ("next", cli::next::GOLDEN),
        ("since", since::project::GOLDEN),
        ("saved", since::file::GOLDEN),
        ("rules", lang::mistakes::GOLDEN),
        ("packs", lang::mistakes::packs::GOLDEN),
        ("log", lapse::mistakes::GOLDEN),
        ("kept-lists", lapse::derived::GOLDEN),
        ("jobs", plan::reading::GOLDEN),
        ("header", record::project::GOLDEN),
        ("values", record::values::GOLDEN),
        ("lists", record::lists::GOLDEN),
        ("files", record::files::GOLDEN),
        ("evidence", record::evidence::GOLDEN),
        ("people", record::people::GOLDEN),
        ("consequences", record::consequences::GOLDEN),
        #[cfg(unix)]
        ("writing", crate::writing::GOLDEN),
    ]
}

pub(super) fn texts(runs: &str) -> Texts {
    groups().into_iter().map(|(name, tests)| (path(name), page(&samples(&format!("{runs}-{name}"), tests)))).collect()
}

pub(super) fn paths() -> Vec<String> {
    groups().into_iter().map(|(name, _)| path(name)).collect()
}

fn path(name: &str) -> String {
    format!("messages/{name}.txt")
}

/// The samples one below the other; what most of them have stands once, at the top.
fn page(samples: &[Sample]) -> String {
    let (common, heads) = (common(samples), heads(samples));
    let mut text = String::from("Each of the samples below has this, where it says nothing else:\n");
    for (path, shown) in &common {
        write!(text, "-------- {path}\n{shown}").unwrap();
    }
    for (path, head) in &heads {
        write!(text, "-------- {path} begins with {} lines\n{head}", head.lines().count()).unwrap();
    }
    for (n, sample) in samples.iter().enumerate() {
        let of_test = samples[..n].iter().filter(|other| other.test == sample.test).count() + 1;
        writeln!(text, "\n======== {} {of_test}", sample.test).unwrap();
        for (path, shown) in sample.files.iter().filter(|file| !common.contains(file)) {
            match heads.get(path.as_str()).and_then(|head| shown.strip_prefix(head.as_str())) {
                Some(rest) => write!(text, "-------- {path} goes on\n{rest}").unwrap(),
                None => write!(text, "-------- {path}\n{shown}").unwrap(),
            }
        }
        writeln!(text, "$ cotterpin {}\n{}[{}]", sample.args, sample.said, sample.status).unwrap();
    }
    text
}

/// The files that most samples have.
fn common(samples: &[Sample]) -> Vec<&(String, String)> {
    let mut common: Vec<&(String, String)> = Vec::new();
    for file in samples.iter().flat_map(|sample| &sample.files) {
        let having = samples.iter().filter(|sample| sample.files.contains(file)).count();
        if having > 2 && having * 2 > samples.len() && !common.contains(&file) {
            common.push(file);
        }
    }
    common
}

/// The lines with which each of several short files of one path begins.
fn heads(samples: &[Sample]) -> BTreeMap<&str, String> {
    let mut heads: BTreeMap<&str, (usize, String)> = BTreeMap::new();
    let short = |file: &&(String, String)| !file.1.ends_with(" bytes)\n");
    for (path, shown) in samples.iter().flat_map(|sample| &sample.files).filter(short) {
        let (files, head) = heads.entry(path).or_insert_with(|| (0, shown.clone()));
        *files += 1;
        let same = head.split_inclusive('\n').zip(shown.split_inclusive('\n')).take_while(|(a, b)| a == b);
        *head = same.map(|(line, _)| line).collect();
    }
    heads.retain(|path, (files, head)| {
        let common = common(samples).iter().any(|file| file.0 == *path);
        *files > 2 && head.lines().count() > 4 && !common
    });
    heads.into_iter().map(|(path, (_, head))| (path, head)).collect()
}

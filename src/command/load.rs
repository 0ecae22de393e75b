//! Brings a project and its packs together: folder, header, packs, record.

use super::args::ProjectArgs;
use super::demo::{demo_pack, demo_project};
use super::messages::Messages;
use cotterpin_engine::diagnostic::{Diagnostic, nearest};
use cotterpin_engine::files::passed_over;
use cotterpin_engine::files::read_pack;
use cotterpin_engine::files::{ProjectFiles, is_folder, read_project};
use cotterpin_engine::ir::Rules;
use cotterpin_engine::project::{self, FileText, Header, Record};
use cotterpin_engine::rules;
use cotterpin_engine::source::Sources;
use cotterpin_packs::{self as packs, LIBRARY, PackText};

/// A project ready to be audited.
pub(super) struct Loaded {
    pub(super) name: String,
    pub(super) rules: Rules,
    pub(super) record: Record,
    /// Warnings, and what is said of files that were not read; any other error would have ended it.
    pub(super) warnings: Messages,
}

/// Reads everything, and gives either all of it or every message there is.
pub(super) fn load(args: &ProjectArgs) -> Result<Loaded, Messages> {
    let mut messages = Messages::default();
    let files = if args.demo {
        demo_project()
    } else {
        let (files, found) = read_project(&args.folder);
        messages.add(&Sources::default(), found);
        files
    };
    let Some(header) = header(&files, &mut messages) else {
        return Err(messages);
    };
    let packs = pack_texts(args, header.value, &header.sources, &mut messages);
    let rules = match packs.map(|packs| rules::load_packs_to_audit(&LIBRARY, &packs)) {
        Some(Ok(rules)) => rules,
        Some(Err(failed)) => {
            let (sources, found) = *failed;
            messages.add(&sources, found);
            return Err(messages);
        }
        None => return Err(messages),
    };
    let loaded = bind(&files, rules, &mut messages);
    let stops = messages.any_error();
    let mut sources = Sources::default();
    let read: Vec<&FileText> = files.header_file.iter().chain(&files.files).collect();
    let (not_read, found) =
        passed_over(&files.looked_into, &read, loaded.as_ref().map(|(_, rules, _)| rules), &mut sources);
    messages.add(&sources, found);
    match loaded {
        Some((name, rules, mut record)) if !stops => {
            record.not_read = not_read;
            Ok(Loaded { name, rules, record, warnings: messages.of_the_rest() })
        }
        _ => Err(messages),
    }
}

/// A header with the texts its places point into.
struct ReadHeader {
    value: Header,
    sources: Sources,
}

fn header(files: &ProjectFiles, messages: &mut Messages) -> Option<ReadHeader> {
    let mut sources = Sources::default();
    let (value, found) = project::read_header(files.header_file.as_ref()?, &mut sources);
    messages.add(&sources, found);
    Some(ReadHeader { value: value?, sources })
}

/// The header and the facts once more, now against the packs: places in packs
/// and in the project then share one set of texts.
fn bind(files: &ProjectFiles, rules: Rules, messages: &mut Messages) -> Option<(String, Rules, Record)> {
    let mut sources = rules.sources.clone();
    // Its messages were taken when it was read first.
    let (header, _) = project::read_header(files.header_file.as_ref()?, &mut sources);
    let header = header?;
    let (record, found) = project::read(&files.files, &files.paths, &header, &rules, sources);
    messages.add(&record.sources, rules.warnings.clone());
    messages.add(&record.sources, found);
    Some((header.name, rules, record))
}

/// The texts of all packs that the header names and that those build on.
fn pack_texts(args: &ProjectArgs, header: Header, sources: &Sources, messages: &mut Messages) -> Option<Vec<PackText>> {
    let known = packs::built_in_names();
    let mut built_in: Vec<String> = Vec::new();
    let mut local = Vec::new();
    let mut found = Vec::new();
    for (name, place) in header.packs {
        if let Some(pack) = demo_pack(&name).filter(|_| args.demo) {
            local.push(pack);
        } else if is_folder(&name) {
            let own = name.strip_prefix("./").unwrap_or(&name);
            match read_pack(&args.folder.join(own)) {
                Ok(pack) => local.push(pack),
                Err(problem) => found.push(problem.at(place, "named here")),
            }
        } else if known.contains(&name.as_str()) {
            built_in.push(name);
        } else {
            found.push(unknown_pack(&name, &known).at(place, "named here"));
        }
    }
    let complete = found.is_empty();
    messages.add(sources, found);
    built_in.extend(local.iter().flat_map(PackText::uses).filter(|name| known.contains(&name.as_str())));
    if !complete {
        return None;
    }
    with_built_in(&built_in, local, messages)
}

/// The named built-in packs with all they build on, then the local ones.
pub(super) fn with_built_in(names: &[String], local: Vec<PackText>, messages: &mut Messages) -> Option<Vec<PackText>> {
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    match packs::built_in(&names) {
        Ok(mut packs) => {
            packs.extend(local);
            Some(packs)
        }
        Err(problem) => {
            messages.add(&Sources::default(), vec![problem]);
            None
        }
    }
}

pub(super) fn unknown_pack(name: &str, known: &[&str]) -> Diagnostic {
    let message = Diagnostic::error("pack::missing", format!("there is no built-in pack `{name}`"));
    let local = "a pack of your own is named by its folder, such as \"./packs/mine\"";
    match nearest(name, known.iter().copied()) {
        Some(near) => message.help(format!("did you mean `{near}`? {local}")),
        None => message.help(format!("the built-in packs are {}; {local}", known.join(", "))),
    }
}

//! The ways in for a program: files as bytes, a log, calls of a session, an audit that was kept as JSON.

use super::shed::{HEADER, RULES};
use super::{ON, files as split, twice};
use cotterpin::render::{Exchange, exchange};
use cotterpin::{
    Audit, Entry, Finding, FindingKind, LoadError, Options, Project, Session, Snapshot, Value, ValueError, audit, plan,
    render,
};

/// So many calls of a session are made, and so many files handed over.
const MOST: usize = 40;

fn options() -> Options {
    Options::on(ON).expect("a day")
}

/// A whole project with the packs in it, each file after a line `#file NAME`.
pub(super) fn files(bytes: &[u8]) {
    let files = split(bytes);
    twice(|| {
        let files = files.iter().take(MOST).map(|file| (file.name.clone(), file.bytes.clone()));
        shown(Project::from_files(files))
    });
}

/// A file of the log, in a project that has people and parts. With a key in quotes, which says the same, it is read by
/// the parser of TOML, and comes to the same.
pub(super) fn log(bytes: &[u8]) {
    let read = |text: Vec<u8>| {
        let files = [("project.toml", HEADER.as_bytes().to_vec()), ("evidence/pins.jpg", b"a picture".to_vec())];
        Project::from_files_with(&RULES, files.into_iter().chain([("log.toml", text)]))
    };
    twice(|| shown(read(bytes.to_vec())));
    const KEY: &[u8] = b"\non = ";
    if let Some(at) = bytes.windows(KEY.len()).position(|here| here == KEY) {
        let with_a_tree = [&bytes[..at], b"\n\"on\"=", &bytes[at + KEY.len()..]].concat();
        let verdicts = |project: Result<Project, LoadError>| -> Option<Vec<String>> {
            let audit = audit(&project.ok()?, &options()).ok()?;
            Some(
                audit.findings.iter().map(|finding| format!("{:?} {}", key(finding), finding.verdict.word())).collect(),
            )
        };
        assert_eq!(verdicts(read(bytes.to_vec())), verdicts(read(with_a_tree)));
    }
}

/// All that is shown of a project, or what is wrong with it.
fn shown(project: Result<Project, LoadError>) -> String {
    let project = match project {
        Ok(project) => project,
        Err(error) => return error.to_string(),
    };
    let warnings = project.warnings();
    match audit(&project, &options()) {
        Err(error) => format!("{warnings:?} {error}"),
        Ok(audit) => {
            let planned = plan(&project, &options(), Some(120)).map(|plan| plan.to_text(80));
            let redacted = project.redacted(&audit);
            assert_eq!(redacted.findings.len(), audit.findings.len());
            format!("{warnings:?} {} {planned:?} {}", rendered(&audit), render::text(&redacted, 80))
        }
    }
}

/// An audit in every form.
fn rendered(audit: &Audit) -> String {
    let findings: Vec<&Finding> = audit.findings.iter().take(20).collect();
    let kept = Snapshot::of(audit);
    let again = Snapshot::from_json(&kept.to_json()).unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(again.to_json(), kept.to_json());
    [
        render::text(audit, 80),
        render::json(audit, &[]),
        render::why(audit, &findings, 80),
        exchange(audit, Exchange::Sarif { since: Some(&kept) }),
        exchange(audit, Exchange::Junit),
        exchange(audit, Exchange::Csv),
        format!("{:?}", kept.diff(audit)),
    ]
    .concat()
}

/// An audit as JSON, kept by a program and read again. Its day is a text, and one that is no day was never audited.
pub(super) fn kept_audit(bytes: &[u8]) {
    let Ok(audit) = serde_json::from_slice::<Audit>(bytes) else { return };
    if Options::on(&audit.on).is_err() {
        return;
    }
    twice(|| rendered(&audit));
    let again = serde_json::from_str::<Audit>(&render::json(&audit, &[]));
    assert_eq!(again.ok().as_ref(), Some(&audit));
}

/// Calls of a session, a line each. After each of them it has the findings of an audit of all of it, and after one
/// that is refused those that it had.
pub(super) fn session(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    let project = Project::from_files_with(&RULES, [("project.toml", HEADER)]).expect("it is right");
    let mut options = options();
    let mut session = Session::new(project, &options).expect("it is right");
    let mut known = sorted(session.findings());
    for line in text.lines().take(MOST) {
        let parts: Vec<&str> = line.split('|').collect();
        let answer = call(&mut session, &mut options, &parts);
        let now = sorted(session.findings());
        match answer {
            None => continue,
            Some(Err(_)) => assert!(now == known, "a call that was refused changed something: {line}"),
            Some(Ok(())) => {
                let whole = audit(&session.project(), &options).expect("what was taken can be judged");
                assert!(now == sorted(&whole.findings), "after {line}\n{now:#?}\n\nafresh\n{:#?}", whole.findings);
                assert!(session.audit().as_ref() == Ok(&whole), "the audit after {line}");
                known = now;
            }
        }
    }
}

fn key(finding: &Finding) -> (FindingKind, &str, Option<&str>) {
    (finding.kind, &finding.item, finding.subject.as_deref())
}

fn sorted<'f>(findings: impl IntoIterator<Item = &'f Finding>) -> Vec<Finding> {
    let mut findings: Vec<&Finding> = findings.into_iter().collect();
    findings.sort_by(|a, b| key(a).cmp(&key(b)));
    findings.into_iter().cloned().collect()
}

/// One call by its words; none if they are no call.
fn call(session: &mut Session, options: &mut Options, parts: &[&str]) -> Option<Result<(), ValueError>> {
    let done = match *parts {
        ["set", fact, value_of, ref more @ ..] => {
            let mut call = value(value_of);
            if let Some(day) = more.first().filter(|day| !day.is_empty()) {
                call = call.dated(*day);
            }
            if let Some(name) = more.get(1).filter(|name| !name.is_empty()) {
                call = call.measured_with(name);
            }
            session.set(fact, more.iter().skip(2).fold(call, |call, file| call.shown_by(file)))
        }
        ["unset", name] => session.unset(name),
        ["add", kind, ref keys @ ..] => {
            let start = match (kind, kind.split_once(' ')) {
                ("log", _) => Entry::log(),
                ("confirmed", _) => Entry::confirmed(),
                ("concession", _) => Entry::concession(),
                ("deferred", _) => Entry::deferred(),
                ("job", _) => Entry::job(),
                (_, Some(("whole", list))) => Entry::whole(list),
                _ => Entry::record(kind),
            };
            session.add(&with_keys(start, keys.iter().copied()))
        }
        ["list", list, ref records @ ..] => {
            let record = |record: &&str| with_keys(Entry::record(list), record.split(';'));
            session.set_list(list, records.iter().map(record))
        }
        ["person", short, name, ref roles @ ..] => session.change(|project| project.set_person(short, name, roles)),
        ["planned", hold_point, day] => session.change(|project| project.set_planned(hold_point, day)),
        ["part", name, title] => session.change(|project| project.set_part(name, title)),
        ["file", path, text] => session.change(|project| {
            project.add_file(path, text.as_bytes());
            Ok(())
        }),
        // Several at once, of which the last may be refused.
        ["both", one, other] => session.change(|project| {
            project.set("cabin.width", one)?;
            project.set("fuel.pull", other)
        }),
        ["ask", day, by, closing] => {
            let mut asked = match Options::on(day) {
                Ok(asked) => asked,
                Err(error) => return Some(Err(error)),
            };
            asked = if by.is_empty() { asked } else { asked.by(by) };
            asked = if closing.is_empty() { asked } else { asked.closing(closing) };
            let answer = session.ask(&asked);
            if answer.is_ok() {
                *options = asked;
            }
            answer
        }
        _ => return None,
    };
    Some(done.map(|_| ()))
}

fn with_keys<'t>(start: Entry, keys: impl Iterator<Item = &'t str>) -> Entry {
    keys.filter_map(|key| key.split_once('=')).fold(start, |entry, (key, text)| entry.with(key, value(text)))
}

/// What a program hands over: yes or no, a count, a number, several texts, or a text.
fn value(text: &str) -> Value {
    match text.strip_prefix('[') {
        Some(several) => Value::from(several.split(',').collect::<Vec<_>>()),
        None if text == "true" || text == "false" => Value::from(text == "true"),
        None => match (text.parse::<i64>(), text.parse::<f64>()) {
            (Ok(count), _) => Value::from(count),
            (_, Ok(number)) => Value::from(number),
            _ => Value::from(text),
        },
    }
}

//! A world as the files of a pack and of a project, and what the engine makes of them.

use super::reference::{Day, Line, Need, Until, World};
use crate::fixtures::findings::finding;
use crate::fixtures::packs::{load, pack};
use crate::fixtures::projects::{Reading, file, read_project};
use cotterpin::audit::{Finding, Judge};
use cotterpin::ir::Rules;
use cotterpin::project::FileText;
use cotterpin::quantity::Date;
use cotterpin::vocabulary::Verdict;
use std::fmt::Write;

const HEAD: &str = "hold-points visit \"Before the visit\"\nsystems s \"S\"\nroles\n  builder \"The builder\"\n  \
     helper \"A helper\"\n  adviser \"An adviser\" never signs\nlist measuring.equipment\n  ask \"Each instrument\"\n  \
     field name : text ask \"Its name\"\n  field calibrated_until : optional date ask \"Until when\"\n  named by name\n";
const TAIL: &str = "by visit basis own cite common practice\n";

pub(super) fn pack_text(world: &World) -> String {
    let mut text = HEAD.to_owned();
    for zone in &world.zones {
        let _ = writeln!(text, "zones {zone} \"A zone\"");
    }
    for part in world.parts.iter().filter(|part| !part.own) {
        let zone = part.zone.as_ref().map_or_else(String::new, |zone| format!(" zone {zone}"));
        let _ = writeln!(text, "subjects {} \"A part\"{zone}", part.name);
    }
    for (of, also) in &world.disturbs {
        let _ = writeln!(text, "disturbing {of} also disturbs {}", also.join(", "));
    }
    for (n, need) in world.needs.iter().enumerate() {
        let _ = writeln!(text, "item s.n{n} \"A need\" need {} {TAIL}", need_text(need));
    }
    for ask in &world.asks {
        let about = if ask.about.is_empty() { "everything".to_owned() } else { ask.about.join(", ") };
        let (name, roles) = (&ask.name, ask.roles.join(" or "));
        let _ = writeln!(text, "item {name} \"A word\" ask \"?\" need confirmed by {roles} about {about} {TAIL}");
    }
    let part = &world.parts[0].name;
    let _ =
        writeln!(text, "item s.points \"Names the points\" need inspected {part} noting (assembly, locking) {TAIL}");
    text
}

fn need_text(need: &Need) -> String {
    let roles = if need.roles.is_empty() { String::new() } else { format!(" in role {}", need.roles.join(" or ")) };
    let points = if need.points.is_empty() { String::new() } else { format!(" noting ({})", need.points.join(", ")) };
    format!("{} {} by {} people{roles}{points}", need.event, need.subject, need.people)
}

pub(super) fn rules(world: &World) -> Rules {
    load(&[pack("made", &[], &pack_text(world))])
}

pub(super) fn date(day: Day) -> Date {
    Date::from_days(day)
}

/// A day, or the month or year that a range is.
fn range(first: Day, last: Day) -> String {
    let text = date(first).to_string();
    match last - first {
        0 => text,
        days if days > 31 => format!("\"{}\"", &text[..4]),
        _ => format!("\"{}\"", &text[..7]),
    }
}

fn line_text(line: &Line) -> String {
    let mut on = range(line.first, line.last);
    if let Some(minute) = line.minute {
        let _ = write!(on, "T{:02}:{:02}:00", minute / 60, minute % 60);
    }
    let mut text = format!(
        "[[log]]\non = {on}\nwhat = \"{}\"\nsubject = \"{}\"\nwho = \"p{}\"\nrole = \"{}\"\n",
        line.event, line.subject, line.who, line.role
    );
    if !line.points.is_empty() {
        let _ = writeln!(text, "points = {:?}", line.points);
    }
    if line.visit {
        text.push_str("for = \"visit\"\n");
    }
    if let Some(zone) = &line.zone {
        let _ = writeln!(text, "zone = \"{zone}\"");
    }
    if let Some(instrument) = line.instrument {
        let _ = writeln!(text, "instrument = \"i{instrument}\"");
    }
    text
}

/// A person's word, if the line is one: it stands in no file of the log.
fn word_text(line: &Line) -> Option<String> {
    let holds = match line.event {
        "confirmed" => true,
        "confirmed not" => false,
        _ => return None,
    };
    let (item, role, on) = (&line.subject, line.role, range(line.first, line.last));
    Some(format!(
        "[[confirmed]]\nitem = \"{item}\"\nwho = \"Ann Example\"\nrole = \"{role}\"\non = {on}\nholds = {holds}\n"
    ))
}

fn header_text(world: &World) -> String {
    let mut text = "name = \"Shed\"\npacks = [\"./made\"]\n[people]\n".to_owned();
    for (n, name) in world.people.iter().enumerate() {
        let _ = writeln!(text, "p{n} = {{ name = \"{name}\", roles = [\"builder\", \"helper\", \"adviser\"] }}");
    }
    text.push_str("[parts]\n");
    for part in world.parts.iter().filter(|part| part.own) {
        let zone = part.zone.as_ref().map_or_else(String::new, |zone| format!(", zone = \"{zone}\""));
        let _ = writeln!(text, "\"{}\" = {{ title = \"Own\"{zone} }}", part.name);
    }
    text
}

/// The builder's files; those of the log are named in the order of `names`.
pub(super) fn files(world: &World, names: &[&str]) -> Vec<FileText> {
    let of = |n: usize| world.lines.iter().filter(move |line| line.file == n).map(line_text).collect::<String>();
    let mut files: Vec<FileText> = (0..names.len()).map(|n| file(names[n], of(n))).collect();
    let mut equipment = String::new();
    for (n, until) in world.instruments.iter().enumerate() {
        let until = match *until {
            Until::NoNeed => "\"none\"".to_owned(),
            Until::Between(first, last) => range(first, last),
            Until::Unknown => continue,
        };
        let _ = write!(equipment, "[[measuring.equipment]]\nname = \"i{n}\"\ncalibrated_until = {until}\n");
    }
    files.push(file("equipment.toml", equipment));
    files.push(file("words.toml", world.lines.iter().filter_map(word_text).collect::<String>()));
    files
}

fn reading<'r>(world: &World, rules: &'r Rules, files: &[FileText]) -> Reading<'r> {
    let reading = read_project(rules, &header_text(world), files, &[]);
    let errors: Vec<_> = reading.messages.iter().filter(|message| message.is_error()).collect();
    assert!(errors.is_empty(), "{errors:#?}\n{world:#?}");
    reading
}

pub(super) const NAMES: [&str; 3] = ["a.toml", "b.toml", "c.toml"];

/// Of each need whether the engine calls it met; anything else must be not shown.
pub(super) fn engine(world: &World) -> Vec<bool> {
    engine_with(world, &files(world, &NAMES))
}

/// What the engine says of each ask, and whether the finding tells what undid it.
pub(super) fn engine_of_words(world: &World) -> Vec<(Verdict, Finding)> {
    let rules = rules(world);
    let audit = reading(world, &rules, &files(world, &NAMES)).audited(&date(world.today).to_string());
    let of = |name: &str| {
        let finding = finding(&audit, &format!("made/{name}"));
        (finding.verdict, finding.clone())
    };
    world.asks.iter().map(|ask| of(&ask.name)).collect()
}

pub(super) fn engine_with(world: &World, files: &[FileText]) -> Vec<bool> {
    let rules = rules(world);
    let record = reading(world, &rules, files).record;
    let verdicts = Judge::new(&rules, &record, date(world.today)).verdicts();
    let of_needs = verdicts.iter().take(world.needs.len());
    of_needs
        .map(|judged| match judged.verdict {
            Verdict::Met => true,
            Verdict::NotShown => false,
            other => panic!("the log makes a need {other:?}: {world:#?}"),
        })
        .collect()
}

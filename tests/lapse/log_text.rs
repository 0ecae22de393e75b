//! A world as the files of a pack and of a project, and what the engine makes of them.

use super::reference::{Calibration, Day, Days, Disturbs, Instrument, Line, Moment, Need, Of, Value, World};
use crate::fixtures::findings::finding;
use crate::fixtures::packs::{load, pack};
use crate::fixtures::projects::{Reading, file, read_project};
use cotterpin_engine::audit::{Finding, Judge};
use cotterpin_engine::ir::Rules;
use cotterpin_engine::project::FileText;
use cotterpin_engine::quantity::Date;
use cotterpin_engine::vocabulary::Verdict;
use std::fmt::Write;

const HEAD: &str = "hold-points visit \"Before the visit\"\nsystems s \"S\"\nroles\n  builder \"The builder\" may concede (other)\n  \
     helper \"A helper\"\n  adviser \"An adviser\" never signs\nevidence photo \"A photograph\"\n\
     list measuring.equipment\n  ask \"Each instrument\"\n  field name : text ask \"Its name\"\n  \
     field calibrated_from : optional date ask \"From when\"\n  \
     field calibrated_until : optional date ask \"Until when\"\n  named by name\n\
     list measuring.calibrations\n  ask \"Each further calibration\"\n  field certificate : text ask \"Its number\"\n  \
     field equipment : text ask \"Of what\"\n  field from : date ask \"From when\"\n  \
     field until : date ask \"Until when\"\n  field found_good : yes or no ask \"Was it good\"\n  named by certificate\n";
const TAIL: &str = "by visit basis own cite common practice\n";

pub(super) fn pack_text(world: &World) -> String {
    let mut text = HEAD.to_owned();
    for (n, zone) in world.zones.iter().enumerate() {
        let larger = if n == 1 && world.nested { format!(" in {}", world.zones[0]) } else { String::new() };
        let _ = writeln!(text, "zones {zone} \"A zone\"{larger}");
    }
    for part in world.parts.iter().filter(|part| !part.own) {
        let zone = part.zone.as_ref().map_or_else(String::new, |zone| format!(" zone {zone}"));
        let left_off = if part.left_off { " can be left off" } else { "" };
        let _ = writeln!(text, "subjects {} \"A part\"{zone}{left_off}", part.name);
    }
    for Disturbs { of, itself, also } in &world.disturbs {
        let itself = if *itself { " itself" } else { "" };
        let _ = writeln!(text, "disturbing {of}{itself} also disturbs {}", also.join(", "));
    }
    for (n, need) in world.needs.iter().enumerate() {
        let _ = writeln!(text, "item s.n{n} \"A need\" need {} {TAIL}", need_text(need));
    }
    for ask in &world.asks {
        let about = if ask.about.is_empty() { "everything".to_owned() } else { ask.about.join(", ") };
        let (name, roles) = (&ask.name, ask.roles.join(" or "));
        let _ = writeln!(text, "item {name} \"A word\" ask \"?\" need confirmed by {roles} about {about} {TAIL}");
    }
    for (n, value) in world.values.iter().enumerate() {
        value_rules(n, value, &mut text);
    }
    let part = &world.parts[0].name;
    let _ =
        writeln!(text, "item s.points \"Names the points\" need inspected {part} noting (assembly, locking) {TAIL}");
    text
}

/// The fact, or the list of one record, and the item that is about it.
fn value_rules(n: usize, value: &Value, text: &mut String) {
    let of = match (&value.of, value.in_list) {
        (Of::Design, _) => String::new(),
        (Of::Fitted(_), true) => " of its part".to_owned(),
        (Of::Itself(_), true) => " of its part itself".to_owned(),
        (Of::Fitted(None), false) => " of everything".to_owned(),
        (Of::Fitted(Some(part)), false) => format!(" of {part}"),
        (Of::Itself(part), false) => format!(" of {part} itself"),
    };
    let that_day = if value.own_day.is_some() { " on that day" } else { "" };
    let (kind, needs) = match (value.own_day, value.said) {
        (Some(_), _) if value.good == Some(true) => ("date", ">= 2000-01-01"),
        (Some(_), _) => ("date", "< 2000-01-01"),
        (None, Some(_)) => ("length", "<= 1 in"),
        (None, None) => ("yes or no", "is yes"),
    };
    let needs = |name: &str| format!("{name} {needs}");
    let show = if value.evidence.is_some() { format!("show photo of shed.v{n}") } else { String::new() };
    if value.in_list {
        let (Of::Fitted(Some(part)) | Of::Itself(part)) = &value.of else { panic!("of a part: {value:?}") };
        let _ = writeln!(
            text,
            "list shed.l{n} of {part} ask \"Each\" field name : text ask \"?\" field v : {kind}{of}{that_day} ask \"?\" \
             named by name\nitem s.v{n} for each r in shed.l{n} \"A value\" need {} {TAIL}",
            needs("r.v")
        );
    } else {
        let _ = writeln!(
            text,
            "fact shed.v{n} : {kind}{of}{that_day} ask \"?\"\nitem s.v{n} \"A value\" need {} {show} {TAIL}",
            needs(&format!("shed.v{n}"))
        );
    }
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

/// With the time of day, where it is known.
fn moment((first, last): Days, minute: Option<u32>) -> String {
    let mut on = range(first, last);
    if let Some(minute) = minute {
        let _ = write!(on, "T{:02}:{:02}:00", minute / 60, minute % 60);
    }
    on
}

fn line_text((n, line): (usize, &Line)) -> String {
    let on = moment((line.first, line.last), line.minute);
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
    if line.good {
        text.push_str("for = \"good\"\n");
    }
    if line.another {
        text.push_str("another = true\n");
    }
    if let Some(fit) = line.fit {
        let _ = writeln!(text, "fit = \"{fit}\"");
    }
    if line.event == "snag cleared" {
        let _ = writeln!(text, "snag = {n}");
    }
    if line.event == "snag found" {
        let _ = writeln!(text, "snag = {}", n + 1000);
    }
    if let Some(zone) = &line.zone {
        let _ = writeln!(text, "zone = \"{zone}\"");
    }
    if let Some(instrument) = line.instrument {
        let _ = writeln!(text, "instrument = \"i{instrument}\"");
    }
    text
}

/// Long before, each snag was found that is cleared later.
fn snag_text((n, line): (usize, &Line)) -> String {
    if line.event != "snag cleared" {
        return String::new();
    }
    let (subject, who) = (&line.subject, line.who);
    format!(
        "[[log]]\non = 2020-01-01\nwhat = \"snag found\"\nsubject = \"{subject}\"\nwho = \"p{who}\"\n\
         role = \"builder\"\nsnag = {n}\n"
    )
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

pub(super) fn header_text(world: &World) -> String {
    let mut text = "name = \"Shed\"\npacks = [\"./made\"]\n[people]\n".to_owned();
    for (n, name) in world.people.iter().enumerate() {
        let _ = writeln!(text, "p{n} = {{ name = \"{name}\", roles = [\"builder\", \"helper\", \"adviser\"] }}");
    }
    text.push_str("[parts]\n");
    for part in world.parts.iter().filter(|part| part.own) {
        let zone = part.zone.as_ref().map_or_else(String::new, |zone| format!(", zone = \"{zone}\""));
        let left_off = if part.left_off { ", can_be_left_off = true" } else { "" };
        let _ = writeln!(text, "\"{}\" = {{ title = \"Own\"{zone}{left_off} }}", part.name);
    }
    text
}

/// The builder's files; those of the log are named in the order of `names`.
pub(super) fn files(world: &World, names: &[&str]) -> Vec<FileText> {
    let lines = || world.lines.iter().enumerate();
    let of = |n: usize| lines().filter(move |(_, line)| line.file == n).map(line_text).collect::<String>();
    let mut files: Vec<FileText> = (0..names.len()).map(|n| file(names[n], of(n))).collect();
    files.push(file("found.toml", lines().map(snag_text).collect::<String>()));
    files.push(file("equipment.toml", world.instruments.iter().enumerate().map(instrument_text).collect::<String>()));
    files.push(file("facts.toml", world.values.iter().enumerate().map(value_text).collect::<String>()));
    files.push(file("words.toml", world.lines.iter().filter_map(word_text).collect::<String>()));
    files
}

fn instrument_text((n, instrument): (usize, &Instrument)) -> String {
    let mut text = String::new();
    let (beside, further): (Vec<&Calibration>, Vec<&Calibration>) =
        instrument.calibrations.iter().partition(|one| one.found_good.is_none());
    if instrument.listed {
        let _ = writeln!(text, "[[measuring.equipment]]\nname = \"i{n}\"");
        for one in beside {
            let _ = writeln!(text, "calibrated_from = {}", range(one.from.0, one.from.1));
            let _ = writeln!(text, "calibrated_until = {}", range(one.until.0, one.until.1));
        }
        if instrument.needs_none {
            text.push_str("calibrated_from = \"none\"\ncalibrated_until = \"none\"\n");
        }
    }
    for (m, one) in further.into_iter().enumerate() {
        let (from, until) = (range(one.from.0, one.from.1), range(one.until.0, one.until.1));
        let _ = writeln!(
            text,
            "[[measuring.calibrations]]\ncertificate = \"{n}/{m}\"\nequipment = \"i{n}\"\nfrom = {from}\nuntil = {until}"
        );
        if let Some(Some(good)) = one.found_good {
            let _ = writeln!(text, "found_good = {good}");
        }
    }
    text
}

/// A value with its day and instrument, the file beside it, and the leave given for its item.
fn value_text((n, value): (usize, &Value)) -> String {
    let taken = |of: &Moment| {
        let dated = of.days.map(|days| format!("dated = {}", moment(days, of.minute)));
        let instrument = of.instrument.map(|at| format!("instrument = \"i{at}\""));
        dated.into_iter().chain(instrument).collect::<Vec<_>>()
    };
    let said = match (value.own_day, value.said) {
        (Some((first, last)), _) => range(first, last),
        (None, Some(length)) => format!("\"{length}\""),
        (None, None) => (value.good == Some(true)).to_string(),
    };
    let mut keys = vec![format!("value = {said}")];
    keys.extend(taken(&value.line));
    if let Some(evidence) = &value.evidence {
        // Of the value's own day, if it has none.
        let same = (evidence.days, evidence.minute) == (value.line.days, value.line.minute);
        let dated = if same { Vec::new() } else { taken(evidence) };
        let file = ["kind = \"photo\"".to_owned(), "file = \"evidence/a.jpg\"".to_owned()];
        keys.push(format!("evidence = {{ {} }}", file.into_iter().chain(dated).collect::<Vec<_>>().join(", ")));
    }
    let mut text = if value.in_list {
        format!("[[shed.l{n}]]\nname = \"a\"\nv = {{ {} }}\n", keys.join(", "))
    } else {
        format!("[shed.v{n}]\n{}\n", keys.join("\n"))
    };
    if let Some((first, last)) = value.leave {
        let of = if value.in_list { "of = \"a\"\n" } else { "" };
        let _ = writeln!(
            text,
            "[[concession]]\nitem = \"s.v{n}\"\n{of}reason = \"It works\"\ngranted_by = \"Ann Example\"\n\
             role = \"builder\"\non = {}\nuntil = 2099-01-01",
            range(first, last)
        );
    }
    text
}

fn reading<'r>(world: &World, rules: &'r Rules, files: &[FileText]) -> Reading<'r> {
    let reading = read_project(rules, &header_text(world), files, &["evidence/a.jpg"]);
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
            // Not applicable where the aircraft is without the part.
            Verdict::NotShown | Verdict::NotApplicable => false,
            other => panic!("the log makes a need {other:?}: {world:#?}"),
        })
        .collect()
}

/// What the engine says of the item about each value.
pub(super) fn engine_of_values(world: &World, header: &str, files: &[FileText]) -> Vec<Verdict> {
    let rules = rules(world);
    let reading = read_project(&rules, header, files, &["evidence/a.jpg"]);
    let errors: Vec<_> = reading.messages.iter().filter(|message| message.is_error()).collect();
    assert!(errors.is_empty(), "{errors:#?}\n{world:#?}");
    let judge = Judge::new(&rules, &reading.record, date(world.today));
    let verdict = |n| {
        let items = rules.find_items(&format!("s.v{n}"));
        let [item] = items.as_slice() else { panic!("one item: {items:?}") };
        let judged = judge.judge(*item);
        assert_eq!(judged.len(), 1, "{world:#?}");
        judged[0].verdict
    };
    (0..world.values.len()).map(verdict).collect()
}

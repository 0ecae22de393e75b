//! The log: `[[log]]` entries, one line of a builder's day each.

use super::dates;
use super::entry::{Entry, Fit};
use super::evidence::Files;
use super::form::{Form, not_a_list};
use super::freehand::{self, Asked, Freehand};
use super::full_names::one_name;
use super::keys::log::{
    ALL, ANOTHER, BY, EVIDENCE, FIT, FOR, FOR_GOOD, FOR_VISIT, INSTRUMENT, LOG, NOTE, ON, POINTS, ROLE, SNAG, SUBJECT,
    TAKES, WHAT, WHO, ZONE, events_with, is_of_zones,
};
use super::plain_log;
use super::taken::Moment;
use super::text::Page;
use super::unread::Unread;
use super::value::snag_number;
use super::words::normal_word;
use super::{Evidence, Person, Record};
use crate::diagnostic::{Diagnostic, nearest};
use crate::ir::Rules;
use crate::quantity::{DateRange, Dimension, ExactInterval};
use crate::source::{SourceId, Span};
use crate::vocabulary::Event;
use toml::de::{DeTable, DeValue};

/// Lists that the log keeps.
pub(super) use crate::ir::DERIVED_LISTS;

/// The names and points that packs know, made ready to look many entries up.
#[derive(Debug)]
pub(super) struct Words<'r> {
    /// The parts, in order.
    parts: Vec<&'r str>,
    /// The zones, in order.
    zones: Vec<&'r str>,
    /// The points that something asks for, in order.
    points: Vec<&'r str>,
}

impl<'r> Words<'r> {
    pub(super) fn of(rules: &'r Rules) -> Self {
        let in_order = |mut words: Vec<&'r str>| {
            words.sort_unstable();
            words.dedup();
            words
        };
        Self {
            parts: in_order(rules.subjects.iter().map(|part| part.name.as_str()).collect()),
            zones: in_order(rules.zones.iter().map(|zone| zone.name.as_str()).collect()),
            points: in_order(rules.program.logged.iter().flat_map(|one| &one.points).map(String::as_str).collect()),
        }
    }
}

/// What entries are read against.
#[derive(Clone, Copy)]
pub(super) struct Against<'a> {
    pub(super) rules: &'a Rules,
    pub(super) words: &'a Words<'a>,
    pub(super) files: &'a Files<'a>,
    /// Whose people and parts are known.
    pub(super) record: &'a Record,
}

/// Entries that were read, and what is to be said of them.
#[derive(Debug, Default)]
pub(super) struct Read {
    log: Vec<Entry>,
    evidence: Vec<Evidence>,
    unread: Unread,
    messages: Vec<Diagnostic>,
}

impl Read {
    /// How many they are.
    pub(super) fn len(&self) -> usize {
        self.log.len()
    }

    /// Puts them after those that were read before.
    pub(super) fn put_into(mut self, record: &mut Record, unread: &mut Unread, messages: &mut Vec<Diagnostic>) {
        record.log.append(&mut self.log);
        record.evidence.append(&mut self.evidence);
        unread.join(self.unread);
        messages.append(&mut self.messages);
    }

    /// Takes in one entry, or says what is wrong with it.
    fn take_in(&mut self, mut form: Form<'_>, against: Against<'_>) {
        let entry = entry(&mut form, against.words, against.record);
        if entry.is_none() {
            self.unread.entry(&form);
        }
        self.messages.append(&mut form.messages);
        let Some(entry) = entry else { return };
        if let Some(evidence) = form.find(EVIDENCE) {
            let moment = Moment { on: entry.on, at: entry.at, place: entry.place };
            // The picture of a fault does not show that the part is as it should be.
            let of_snag = entry.snag.filter(|_| entry.event == Event::SnagFound);
            let subject = of_snag.map_or(entry.subject.clone(), |number| format!("log.snags[snag {number}]"));
            let (found, said) = against.files.read(form.page, &subject, evidence, Some(moment));
            self.evidence.extend(found);
            self.messages.extend(said);
        }
        self.log.push(entry);
    }
}

/// Reads all entries of one file.
pub(super) fn read(against: Against<'_>, page: &Page<'_>, (key, written): (Span, &DeValue<'_>)) -> Read {
    let mut read = Read::default();
    let derived = derived_keys();
    let Some(pieces) = written.as_array() else {
        read.messages.extend(written.as_table().into_iter().flat_map(|table| kept_lists(&derived, page, table)));
        if read.messages.is_empty() {
            read.messages.push(not_a_list(LOG, key, written));
        }
        return read;
    };
    for piece in pieces {
        let place = page.span(piece);
        let Some(table) = piece.get_ref().as_table() else {
            read.messages.push(not_a_list(LOG, place, piece.get_ref()));
            continue;
        };
        let kept = kept_lists(&derived, page, table);
        if kept.is_empty() {
            read.take_in(Form::new(LOG, &ALL, against.rules, page, (table, place)), against);
        }
        read.messages.extend(kept);
    }
    read
}

/// The same of a text that is plainly written; nothing where it is not.
pub(super) fn read_plain(against: Against<'_>, (source, text): (SourceId, &str)) -> Option<Read> {
    let (page, mut read) = (Page::without_tree(source), Read::default());
    let taken = plain_log::entries(text, |entry| {
        let place = page.span_of(entry.heading.clone());
        read.take_in(Form::of_known((LOG, &ALL), against.rules, &page, (&entry.written, place)), against);
    });
    taken.then_some(read)
}

/// The keys below the log under which it keeps a list by itself.
fn derived_keys() -> Vec<&'static str> {
    DERIVED_LISTS.iter().filter_map(|list| list.strip_prefix(LOG)?.strip_prefix('.')).collect()
}

/// `[[log.snags]]` and its like, which the log keeps by itself.
fn kept_lists(derived: &[&str], page: &Page<'_>, table: &DeTable<'_>) -> Vec<Diagnostic> {
    let kept = table.keys().filter(|key| derived.contains(&key.get_ref().as_ref()));
    kept.map(|key| self::kept(&format!("{LOG}.{}", key.get_ref())).at(page.span(key), "not written by hand")).collect()
}

/// Says that a list is none that anybody writes.
pub(super) fn kept(list: &str) -> Diagnostic {
    let message = format!("`{list}` is kept from the log; nobody writes it");
    let help = "take it out, and write what happened as entries: [[log]] on = ..., what = \"snag found\", ...";
    Diagnostic::error("log::kept", message).help(help)
}

fn entry(form: &mut Form<'_>, words: &Words<'_>, record: &Record) -> Option<Entry> {
    let event = event(form);
    let subject = subject(form, words, event, record);
    let (when, who) = (when(form), who(form, record));
    let role = who.as_ref().and_then(|who| role(form, who, record));
    let points = points(form, words);
    let fit = form.find(FIT).is_some().then(|| fit(form)).flatten();
    let (for_visit, for_good) = purpose(form);
    let another = another(form);
    let (snag, takes) = (snag(form), takes(form));
    let by = form.find(BY).is_some().then(|| form.hold_point(BY, "the hold point")).flatten();
    let zone = zone(form);
    if let Some(event) = event {
        belongs(form, event);
        if let Some(subject) = subject.as_deref().filter(|_| for_good) {
            can_be_left_off(form, event, subject, record);
        }
        if let Some(subject) = subject.as_deref().filter(|_| for_visit && zone.is_none()) {
            shown_zone(form, subject, record);
        }
    }
    let (instrument, note) = (form.optional_text(INSTRUMENT), form.optional_text(NOTE));
    (!form.messages.iter().any(Diagnostic::is_error)).then_some(())?;
    let (on, at) = when?;
    Some(Entry {
        on,
        at,
        event: event?,
        subject: subject?,
        who: who?,
        role: role?,
        points,
        fit,
        instrument,
        for_visit,
        for_good,
        another,
        snag,
        takes,
        by,
        zone,
        note,
        in_order: true,
        place: form.place,
    })
}

fn event(form: &mut Form<'_>) -> Option<Event> {
    let written = form.text(WHAT, "what happened: inspected, work done, removed ...")?;
    let event = event_named(&written);
    if event.is_none() {
        let known = Event::ALL.map(Event::words);
        let label = match nearest(&event_words(&written), known) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None => format!("expected one of {}", known.join(", ")),
        };
        form.wrong(WHAT, "log::what", label);
    }
    event
}

/// The event that a word of the log stands for, such as `work done` or `snag-found`.
pub fn event_named(word: &str) -> Option<Event> {
    let named = |words: &str| Event::ALL.into_iter().find(|event| event.words() == words);
    // As nearly always: in the log's own words.
    named(word).or_else(|| named(&event_words(word)))
}

fn event_words(word: &str) -> String {
    normal_word(word).replace('-', " ")
}

/// A part that a pack or the builder named; for what was opened or closed also a zone.
fn subject(form: &mut Form<'_>, words: &Words<'_>, event: Option<Event>, record: &Record) -> Option<String> {
    let subject = form.text(SUBJECT, "the part, such as controls.elevator")?;
    let rules = form.rules;
    let of_zones = event.is_some_and(is_of_zones);
    let is_one_of = |names: &[&str]| names.binary_search(&subject.as_str()).is_ok();
    if is_one_of(&words.parts) || of_zones && is_one_of(&words.zones) || record.parts.contains_key(&subject) {
        return Some(subject);
    }
    let zones = of_zones.then_some(&rules.zones);
    let zones = zones.into_iter().flatten().map(|zone| zone.name.as_str());
    let declared = rules.subjects.iter().map(|part| part.name.as_str());
    let known: Vec<&str> = declared.chain(record.parts.keys().map(String::as_str)).chain(zones).collect();
    let label = match nearest(&subject, known.iter().copied()) {
        _ if rules.zones.iter().any(|zone| zone.name == subject) => no_part_but_a_zone(rules, &subject),
        Some(near) => format!("no part of this name; did you mean \"{near}\"?"),
        None => "no part of this name; name it under [parts] in project.toml if it is one of your own".to_owned(),
    };
    form.wrong(SUBJECT, "log::subject", label);
    None
}

/// A zone is opened and closed; everything else is done to a part.
fn no_part_but_a_zone(rules: &Rules, zone: &str) -> String {
    const FEW: usize = 4;
    let at = rules.zones.position(|known| known.name == zone);
    let there = rules.subjects.iter().filter(|part| at.is_some() && part.zone == at);
    let mut parts: Vec<String> = there.map(|part| format!("\"{}\"", part.name)).collect();
    if parts.len() > FEW {
        parts.truncate(FEW);
        parts.push("...".to_owned());
    }
    let there = if parts.is_empty() { String::new() } else { format!(": {}", parts.join(", ")) };
    format!("this is a zone, which is only opened or closed; name a part in it{there}")
}

/// Keys that only some events have: elsewhere they would be lost in silence.
fn belongs(form: &mut Form<'_>, event: Event) {
    let has = |key: &str| events_with(key).is_none_or(|events| events.contains(&event));
    let cases = [
        (SNAG, "only \"snag found\" and \"snag cleared\" have a number"),
        (TAKES, "only what was found as a snag takes its time; write it in `note`"),
        (BY, "only \"snag found\" is to be cleared by a hold point"),
        (FOR, "only what is opened or removed is so for something"),
        (ANOTHER, "only what is refitted can be another one"),
    ];
    for (key, why) in cases {
        if !has(key) && form.find(key).is_some() {
            form.wrong(key, "log::misplaced", why.to_owned());
        }
    }
    if has(SNAG) && form.find(SNAG).is_none() {
        form.missing(SNAG, "the number by which it is found and cleared");
    }
}

/// What is opened for the visit lays its zone open, so that must be known.
fn shown_zone(form: &mut Form<'_>, subject: &str, record: &Record) {
    if !lies_in_a_zone(form.rules, record, subject) {
        form.missing(ZONE, "the zone that is open for the visit: all that lies there counts as disturbed");
    }
}

/// Whether it is known in which zone a part lies, by itself or by what it is a part of; or whether it is a zone.
#[must_use]
pub fn lies_in_a_zone(rules: &Rules, record: &Record, subject: &str) -> bool {
    let lies = |part: &str| {
        let own = record.parts.get(part).is_some_and(|own| own.zone.is_some());
        own || rules.subjects.iter().any(|known| known.name == part && known.zone.is_some())
    };
    let parts = std::iter::successors(Some(subject), |part| part.rsplit_once('.').map(|(before, _)| before));
    parts.into_iter().any(lies) || rules.zones.iter().any(|zone| zone.name == subject)
}

/// The day, and the time of day where it was written.
fn when(form: &mut Form<'_>) -> Option<(DateRange, Option<u32>)> {
    let Some(written) = form.find(ON) else {
        form.missing(ON, "the day, or the month where no more is known");
        return None;
    };
    let read = dates::read_with_time(written.get_ref());
    read.map_err(|why| form.wrong(ON, "value::date", why)).ok()
}

/// Somebody whom `project.toml` names.
pub(super) fn who(form: &mut Form<'_>, record: &Record) -> Option<String> {
    let who = form.text(WHO, "somebody by the name under [people] in project.toml")?;
    if record.people.contains_key(&who) {
        return Some(who);
    }
    let full = one_name(&who);
    let of_full = |(_, person): &(&String, &Person)| !full.is_empty() && one_name(&person.name) == full;
    let short: Vec<String> = record.people.iter().filter(of_full).map(|(short, _)| format!("\"{short}\"")).collect();
    let same = || record.people.keys().find(|known| known.to_lowercase() == who.to_lowercase()).map(String::as_str);
    let label = match nearest(&who, record.people.keys().map(String::as_str)).or_else(same) {
        _ if !short.is_empty() => format!("this is the full name; write the short one, {}", short.join(" or ")),
        Some(near) => format!("nobody of this name; did you mean \"{near}\"?"),
        None if is_bare(&who) => format!(
            "nobody of this name; write {who} = {{ name = \"...\", role = \"builder\" }} under [people] in project.toml"
        ),
        None => "nobody of this name; give the person a short one under [people] in project.toml, such as rosa = { name = \"Rosa Example\", role = \"builder\" }, and write that".to_owned(),
    };
    form.wrong(WHO, "log::who", label);
    None
}

/// Whether a name can be a key of TOML without quotes.
fn is_bare(name: &str) -> bool {
    name.chars().all(|letter| letter.is_ascii_alphanumeric() || matches!(letter, '-' | '_'))
}

/// The role written, or the only one the person has. Of several none that is not written counts: whoever got another
/// later wrote the line when there was one, and which it was nobody knows.
fn role(form: &mut Form<'_>, who: &str, record: &Record) -> Option<String> {
    let roles = record.people.get(who).map_or(&[][..], |person| person.roles.as_slice());
    if form.find(ROLE).is_none() {
        if let [role] = roles {
            return Some(role.clone());
        }
        let message = Diagnostic::warning("log::role-open", "this `log` is no signature: its `role` is missing");
        let help = format!("add `role`, as {who} has several: {}", roles.join(", "));
        form.messages.push(message.at(form.place, "").help(help));
        return Some(String::new());
    }
    let role = form.role()?;
    if !roles.contains(&role) {
        let label = format!("{who} is named in project.toml as {}", roles.join(", "));
        form.wrong(ROLE, "log::role", label);
        return None;
    }
    Some(role)
}

/// What was looked at. More may be noted than any need asks for; a point that is
/// nearly one of those asked for is probably mistyped, which takes nothing from the entry.
fn points(form: &mut Form<'_>, known: &Words<'_>) -> Vec<String> {
    let Some(written) = form.find(POINTS) else { return Vec::new() };
    let pieces = written.get_ref().as_array();
    let words: Option<Vec<String>> = pieces
        .map(|pieces| pieces.iter().map(|piece| piece.get_ref().as_str().map(normal_word)).collect())
        .unwrap_or_default();
    let place = form.page.span(written);
    let Some(words) = words else {
        form.wrong(POINTS, "record::form", "expected texts such as [\"assembly\", \"locking\"]".to_owned());
        return Vec::new();
    };
    for word in words.iter().filter(|word| known.points.binary_search(&word.as_str()).is_err()) {
        if let Some(near) = nearest(word, known.points.iter().copied()) {
            let message = Diagnostic::warning("log::points", format!("nothing asks for the point \"{word}\""));
            let message = message.at(place, format!("did you mean \"{near}\"?"));
            form.messages.push(message.help("it stays as it is, and does not count as the other"));
        }
    }
    words
}

fn fit(form: &mut Form<'_>) -> Option<Fit> {
    let written = form.text(FIT, "trial, temporary or final")?;
    let fit = Fit::named(&written);
    if fit.is_none() {
        form.wrong(FIT, "log::fit", "expected \"trial\", \"temporary\" or \"final\"".to_owned());
    }
    fit
}

/// For the visit, for good, or neither.
fn purpose(form: &mut Form<'_>) -> (bool, bool) {
    let Some(written) = form.optional_text(FOR) else { return (false, false) };
    if ![FOR_VISIT, FOR_GOOD].contains(&written.as_str()) {
        form.wrong(FOR, "log::for", "expected \"visit\", \"good\", or nothing".to_owned());
    }
    (written == FOR_VISIT, written == FOR_GOOD)
}

fn another(form: &mut Form<'_>) -> bool {
    let Some(written) = form.find(ANOTHER) else { return false };
    match written.get_ref() {
        DeValue::Boolean(another) => *another,
        _ => {
            form.wrong(ANOTHER, "log::another", "expected true: another one was fitted in its place".to_owned());
            true
        }
    }
}

/// What is removed for good the aircraft must be able to fly without.
fn can_be_left_off(form: &mut Form<'_>, event: Event, subject: &str, record: &Record) {
    if event != Event::Removed {
        form.wrong(FOR, "log::for", "only what is removed is so for good".to_owned());
        return;
    }
    let own = record.parts.get(subject).is_some_and(|part| part.can_be_left_off);
    if !own && !form.rules.subjects.iter().any(|part| part.name == subject && part.can_be_left_off) {
        let label = format!("nobody says that the aircraft can be without `{subject}`");
        form.wrong(FOR, "log::for", label);
    }
}

fn snag(form: &mut Form<'_>) -> Option<u32> {
    let number = snag_number(form.find(SNAG)?.get_ref());
    if number.is_none() {
        form.wrong(SNAG, "log::snag", "expected the number of the snag".to_owned());
    }
    number
}

pub(super) fn takes(form: &mut Form<'_>) -> Option<ExactInterval> {
    let written = form.optional_text(TAKES)?;
    match length_of_time(&written) {
        Ok(time) => Some(time.value),
        Err(why) => {
            form.wrong(TAKES, "record::takes", format!("{why}; write a time such as \"45 min\" or \"2 h\""));
            None
        }
    }
}

/// A time that something takes, in seconds: more than none, and not without end.
///
/// # Errors
/// Why it is none.
pub fn length_of_time(text: &str) -> Result<Freehand<ExactInterval>, String> {
    let read = freehand::quantity(text, &Asked::of(Dimension::TIME));
    let Freehand { value: time, strict } = read.map_err(|why| why.to_string())?;
    let some = time.range.lo().is_some_and(|least| least.signum() > 0) && time.range.hi().is_some();
    if some {
        Ok(Freehand { value: time.range, strict })
    } else {
        Err("a time is more than none, and has an end".to_owned())
    }
}

pub(super) fn zone(form: &mut Form<'_>) -> Option<String> {
    let zone = normal_word(&form.optional_text(ZONE)?);
    let known: Vec<&str> = form.rules.zones.iter().map(|zone| zone.name.as_str()).collect();
    if known.contains(&zone.as_str()) {
        return Some(zone);
    }
    let label = match nearest(&zone, known.iter().copied()) {
        Some(near) => format!("did you mean \"{near}\"?"),
        None => format!("the zones are {}", known.join(", ")),
    };
    form.wrong(ZONE, "record::zone", label);
    None
}

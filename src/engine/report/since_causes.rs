//! Why a finding is not what it was, in words.

use super::cause_sentences;
use super::phrases;
use crate::history::{Aside, Cause, CauseKind, Content, Leave, SavedLapse, SavedLine, SavedNote};

/// The label beside a cause in a block.
pub(super) fn label(kind: CauseKind) -> &'static str {
    match kind {
        CauseKind::Value => "value",
        CauseKind::Recorded | CauseKind::NoLongerRecorded => "recorded",
        CauseKind::Missing | CauseKind::MissingNoMore => "missing",
        CauseKind::Lapsed | CauseKind::LapsedNoMore => "lapsed",
        CauseKind::Concession => "leave",
        CauseKind::SetAside => "set aside",
        CauseKind::WorkedOut => "worked out",
        CauseKind::SeenNow | CauseKind::SeenThen => "seen",
        CauseKind::Edition => "pack",
        CauseKind::Asked => "asked",
        CauseKind::Record | CauseKind::Item => "because",
        CauseKind::LookedAt => "looked at",
        CauseKind::Day => "day",
        CauseKind::Engine => "cotterpin",
        CauseKind::Note => "note",
    }
}

/// A cause beside its label.
pub(super) fn sentence(cause: &Cause) -> String {
    let Cause { kind, name, was, now } = cause;
    let (was, now) = (was.as_ref().map(content), now.as_ref().map(content));
    let before = was.as_deref().unwrap_or("nothing");
    let after = now.as_deref().unwrap_or("nothing");
    match kind {
        CauseKind::Value | CauseKind::WorkedOut => format!("{name}: was {before}, now {after}"),
        CauseKind::Recorded => format!("{name}: was not recorded, now {after}"),
        CauseKind::NoLongerRecorded => format!("{name}: was {before}, now not recorded"),
        CauseKind::Missing if after.is_empty() => format!("{name}, not recorded"),
        CauseKind::Missing => format!("{name}, {after}"),
        CauseKind::MissingNoMore => format!("{name} is missing no more; then: {before}"),
        CauseKind::Lapsed => phrases::sentence(after),
        CauseKind::LapsedNoMore => format!("no more: {}", phrases::sentence(after)),
        CauseKind::Concession => match &now {
            Some(now) => phrases::sentence(now),
            None => format!("it counts no more: {}", phrases::sentence(before)),
        },
        CauseKind::SetAside => match &now {
            Some(now) => phrases::sentence(now),
            None => format!("no more: {}", phrases::sentence(before)),
        },
        CauseKind::SeenNow => format!("{name}: {after}"),
        CauseKind::SeenThen => format!("{name}: was {before}, is not looked at any more"),
        CauseKind::Edition => pack(name, &was, &now),
        CauseKind::Asked => asked(was.as_deref(), now.as_deref()),
        CauseKind::Record => record(name, now.is_some()),
        CauseKind::Item if now.is_some() => "it was not among the items judged then".to_owned(),
        CauseKind::Item => "it is not among the items judged now".to_owned(),
        CauseKind::LookedAt => {
            format!(
                "due by {} then, by {} now",
                was.as_deref().unwrap_or("any hold point"),
                now.as_deref().unwrap_or("any hold point")
            )
        }
        CauseKind::Day => day(name, was.as_deref(), now.as_deref()),
        CauseKind::Engine => format!("version {before} judged then, version {after} now"),
        CauseKind::Note => phrases::sentence(after),
    }
}

/// One side of a difference.
pub(super) fn content(content: &Content) -> String {
    match content {
        Content::Text(text) => text.clone(),
        Content::Value(value) => cause_sentences::value(value),
        Content::Missing(cause) => cause_sentences::missing_cause(cause),
        Content::Lapse(SavedLapse { shown, undone_by }) => {
            let line = |line: &SavedLine| {
                let on = if line.on.is_empty() { " without a day".to_owned() } else { format!(" on {}", line.on) };
                let by = if line.who.is_empty() { String::new() } else { format!(" by {}", line.who) };
                format!("{}{on}{by}", line.what)
            };
            format!("{}, undone by {}", line(shown), line(undone_by))
        }
        Content::Leave(Leave { granted_by, role, on, until, reason }) => {
            format!("{granted_by} ({role}) gave leave from {on} until {until}: {reason}")
        }
        Content::Asides(asides) => {
            let aside = |aside: &Aside| format!("pack {} set it aside: {}", aside.pack, aside.because);
            asides.iter().map(aside).collect::<Vec<_>>().join("; ")
        }
        Content::Note(SavedNote::Remark(remark)) => cause_sentences::remark(remark),
        Content::Note(SavedNote::Note(note)) => cause_sentences::note(note),
        Content::Note(SavedNote::Worded(text)) => text.clone(),
    }
}

/// A cause as a sentence of its own.
pub(super) fn in_a_sentence(cause: &Cause) -> String {
    let told = phrases::sentence(&sentence(cause));
    match cause.kind {
        CauseKind::Missing => format!("Missing: {told}"),
        CauseKind::Lapsed | CauseKind::LapsedNoMore => format!("Lapsed: {told}"),
        CauseKind::WorkedOut => format!("Worked out: {told}"),
        CauseKind::Concession => format!("Leave: {told}"),
        CauseKind::SetAside => format!("Set aside: {told}"),
        CauseKind::Asked => format!("Asked: {told}"),
        _ => capital(&told, cause.name.is_empty() || cause.kind == CauseKind::Item),
    }
}

/// A pack whose edition is another, or that is on one side only.
pub(super) fn pack(name: &str, was: &Option<String>, now: &Option<String>) -> String {
    match (was, now) {
        (Some(was), Some(now)) => format!("{name}: edition {was} then, edition {now} now"),
        (None, Some(now)) => format!("{name} is new, edition {now}"),
        (Some(was), None) => format!("{name}, edition {was}, is not used any more"),
        (None, None) => name.to_owned(),
    }
}

fn asked(was: Option<&str>, now: Option<&str>) -> String {
    match (was, now) {
        (Some(was), Some(now)) => format!("decided then by {was}; now by {now}"),
        (None, Some(now)) => format!("decided now by {now}"),
        (Some(was), None) => format!("decided then by {was}"),
        (None, None) => String::new(),
    }
}

fn record(name: &str, is_new: bool) -> String {
    match (name.is_empty(), is_new) {
        (true, _) => "its records are listed otherwise than they were".to_owned(),
        (false, true) => format!("{name} was not among the records"),
        (false, false) => format!("{name} is not among the records any more"),
    }
}

fn day(name: &str, was: Option<&str>, now: Option<&str>) -> String {
    let said = |day: Option<&str>| day.unwrap_or("not recorded").to_owned();
    format!("the {name} was {}, now {}", said(was), said(now))
}

/// Begins with a capital, unless it begins with a name.
fn capital(text: &str, wanted: bool) -> String {
    let mut letters = text.chars();
    match letters.next().filter(|_| wanted) {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => text.to_owned(),
    }
}

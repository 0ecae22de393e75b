//! The sentences of findings: what was seen, what is missing, what is to be
//! said besides, and what does not count.

use crate::audit::{
    Ahead, Calibration, ConfirmationOutcome, EntryRef, EntryState, ItemRef, MissingCause, NoDeferral, NoLeave, Note,
    Notice, ObservedValue, Planned, PlannedDay, Remark, Shortfall, Through,
};
use crate::ir::NotSetAside;
use crate::source::Place;
use crate::vocabulary::Basis;
use std::collections::BTreeMap;

/// A value that was looked at.
pub fn value(value: &ObservedValue) -> String {
    match value {
        ObservedValue::NotRecorded => "not recorded".to_owned(),
        ObservedValue::Recorded(text) | ObservedValue::WorkedOut(text) => text.clone(),
        ObservedValue::Records(count) => records(u64::try_from(*count).unwrap_or(u64::MAX)),
        ObservedValue::WorkedOutWithoutUnit => "worked out".to_owned(),
        ObservedValue::NoLonger(text, state) => format!("{text}; {}", entry_state(state)),
        ObservedValue::NotYet => "cannot be worked out yet".to_owned(),
        ObservedValue::Entry(on, state) => {
            let state = entry_state(state);
            if state.is_empty() { on.clone() } else { format!("{on}; {state}") }
        }
    }
}

fn records(count: impl Into<u64>) -> String {
    let count = count.into();
    if count == 1 { "1 record".to_owned() } else { format!("{count} records") }
}

fn entry_state(state: &EntryState) -> String {
    match state {
        EntryState::Counts(points) if points.is_empty() => String::new(),
        EntryState::Counts(points) => format!("noted {}", points.join(", ")),
        EntryState::UnclearOrder(other) => unclear_order(other),
        EntryState::Undone(by) => format!("undone since by {}", entry(by)),
        EntryState::Undated(by) => format!("without a day, and perhaps undone by {}", entry(by)),
        EntryState::Off(by) => format!("the part is off: {}", entry(by)),
        EntryState::UnclearBeforeAudit => "not clear whether before the audit date".to_owned(),
        EntryState::Weak(calibration) => format!("weak: {}", self::calibration(calibration)),
        EntryState::Nobody => "nobody whom [people] of project.toml names".to_owned(),
        EntryState::NoFile => "no such file is there, or it is empty, or one of the project's own texts".to_owned(),
        EntryState::NotKnown(named) => format!("no {} is called so", named.word()),
        EntryState::ItIsSo => "it is so".to_owned(),
        EntryState::ItIsNotSo => "it is not so".to_owned(),
    }
}

fn unclear_order(other: &EntryRef) -> String {
    format!("not clear whether before or after: {}", entry(other))
}

fn entry(EntryRef { event, subject, on, place }: &EntryRef) -> String {
    format!("{event} {subject}, {on} ({place})")
}

fn calibration(calibration: &Calibration) -> String {
    let Calibration { instrument, until, list } = calibration;
    match until {
        Some(until) => format!("`{instrument}` was in calibration until {until}"),
        None => format!("the calibration of `{instrument}` is not recorded in `{list}`"),
    }
}

/// Why a line of the log shows less than may be thought, in one sentence.
#[must_use]
pub fn shortfall(shortfall: &Shortfall) -> String {
    match shortfall {
        Shortfall::NothingAsks(instead) if instead.is_empty() => {
            "No item of the packs asks for this of this part, so it shows nothing.".to_owned()
        }
        Shortfall::NothingAsks(instead) => {
            let asked: Vec<String> =
                instead.iter().map(|(event, part)| format!("`{} {part}`", event.words())).collect();
            format!(
                "No item of the packs asks for this of this part, so it shows nothing. Asked for is {}.",
                asked.join(", ")
            )
        }
        Shortfall::NoSignature(role, counts) if counts.is_empty() => {
            format!("What is signed as {role} counts for no item.")
        }
        // The role counts, and this person in it does not.
        Shortfall::NoSignature(role, counts) if counts.contains(role) => {
            format!(
                "It does not count: as {role} somebody else is asked, and this is the builder, or one who had a hand in it."
            )
        }
        Shortfall::MorePeople(have, asked, None) => {
            format!("That makes {have} of {asked} people: somebody else has to do it too.")
        }
        Shortfall::MorePeople(have, asked, Some((before, by))) => format!(
            "That makes {have} of {asked} people: {} no longer counts, undone by {}. Somebody else has to do it again.",
            entry(before),
            entry(by)
        ),
        Shortfall::OrderUnknown(others) => {
            let others: Vec<String> = others.iter().map(entry).collect();
            format!(
                "Nobody knows whether it came before or after {}, which does not count until that is known: give the time with --on, such as 2026-11-25T14:30.",
                others.join(" and ")
            )
        }
        Shortfall::NoSignature(role, counts) => {
            format!(
                "What is signed as {role} counts for no item here; what counts is signed as {}.",
                counts.join(" or ")
            )
        }
        Shortfall::PointsNotAsked(points, asked) if asked.is_empty() => {
            format!("No item asks for points here, so {} shows nothing more.", points.join(", "))
        }
        Shortfall::PointsNotAsked(points, asked) => {
            format!("No item asks for the point {}; it asks for {}.", points.join(", "), asked.join(", "))
        }
        Shortfall::PointsLeftOut(points) => {
            format!("It is not enough yet: the points {} are asked for, and it does not name them.", points.join(", "))
        }
        Shortfall::Instrument(instrument) => format!("It does not count: {}.", calibration(instrument)),
        Shortfall::InstrumentOfWork(instrument) => {
            format!("Nothing that is measured with it counts: {}.", calibration(instrument))
        }
        Shortfall::Off(by) => format!("It does not count while the part is off: {}.", entry(by)),
        Shortfall::Undone(by) => format!("It does not count: what came later has undone it: {}.", entry(by)),
        Shortfall::Unclear(other) => {
            format!("It does not count: nobody knows whether it came after {}.", entry(other))
        }
    }
}

/// Why something missing is wanted; nothing where it needs no word.
pub fn missing_cause(cause: &MissingCause) -> String {
    let plain = match cause {
        MissingCause::NotRecorded => "not recorded",
        MissingCause::NoRecords => "no records",
        MissingCause::NotSaidWhole => "nobody has said whether these are all",
        MissingCause::WholePerhapsToCome => {
            "said to be whole, but the day it was said on, or said for, may still be to come: write the day itself"
        }
        MissingCause::WholeOfOthers { came, went } => return whole_of_others(came, went),
        MissingCause::WholeOfOtherEntries { said, now } => {
            return format!("the log was said to be whole with {said} entries, and has {now} up to that day");
        }
        MissingCause::WholeBefore(by) => {
            return format!("the log was said to be whole before this entry: {}", entry(by));
        }
        MissingCause::WholeUndone(by) => {
            return format!("said to be whole, and that may be otherwise since {}: look again", entry(by));
        }
        MissingCause::Undone(by) => {
            return format!("recorded, but undone since by {}: look again, and record it with its day", entry(by));
        }
        MissingCause::Undated(by) => {
            return format!(
                "recorded without a day, and perhaps undone by {}: look again, and record it with its day (dated)",
                entry(by)
            );
        }
        MissingCause::Off(by) => {
            return format!("the part is off: {}; nothing of it counts until it is refitted", entry(by));
        }
        MissingCause::InstrumentWithoutDay(instrument) => {
            return format!("measured with `{instrument}`, nobody says on which day: write the day beside it (dated)");
        }
        MissingCause::TooManySteps(most) => {
            return format!(
                "not worked out: its records, held against each other, take more than {most} steps, or all such items \
                 together too many; make the lists shorter, or the pack ask less of them"
            );
        }
        MissingCause::LogLeavesOpen => {
            "the log leaves it open: write the day and time of the entries, or log what is missing"
        }
        MissingCause::NoConfirmation => "no recorded confirmation with who, role and day",
        MissingCause::NoneSettles => "no recorded word settles it; a later one by somebody who is asked would",
        MissingCause::PerhapsToCome => "recorded, but perhaps for a day still to come: write the day itself",
        MissingCause::Contradicting => {
            "to be confirmed again: nobody knows which of the words that contradict each other came last"
        }
        MissingCause::ConfirmationLapsed => "to be confirmed again: what had been confirmed no longer counts",
        MissingCause::NoEntry => "no log entry",
        MissingCause::EntryLapsed => "what the log had shown no longer counts",
        MissingCause::NoEvidence => "no such evidence is named",
        MissingCause::Confirmed => "",
        MissingCause::TooCoarse(text) => return format!("recorded as {text}, which is too coarse to decide"),
        MissingCause::UnclearSince(other) => return format!("to be confirmed again; {}", unclear_order(other)),
        MissingCause::People { have, asked, points } => {
            let each = if points.is_empty() { String::new() } else { format!(", each noting {}", points.join(", ")) };
            return format!("{have} of {asked} different people so far{each}");
        }
        MissingCause::TimesOf(entries, on) => {
            let of = texts(entries).join(" and of ");
            return format!("the time of day of {of} would settle which came first: write it as {on}T14:30:00");
        }
        MissingCause::DaysOf(entries) => {
            return format!("the day of {} would settle which came first", texts(entries).join(" and of "));
        }
        MissingCause::DayBeforeAudit(entry) => {
            return format!("the day of {entry} would settle whether it lies before the audit");
        }
        MissingCause::Calibration(calibration) => {
            return format!("do it again with an instrument in calibration: {}", self::calibration(calibration));
        }
        MissingCause::NoSuchFile(file) => {
            return format!("`{file}` is named, but no such file is there, or it is empty");
        }
        MissingCause::NotKnown(named, name) => return format!("`{name}` is no {} that is known", named.word()),
        MissingCause::Nobody(name) => {
            return format!("`{name}` is nobody whom [people] of project.toml names; name them there");
        }
        MissingCause::Worded(text) => text,
    };
    plain.to_owned()
}

fn texts(places: &[Place]) -> Vec<String> {
    places.iter().map(ToString::to_string).collect()
}

/// The notes of a reason in one; nothing where there are none.
pub(super) fn notes(notes: &[Note]) -> Option<String> {
    let parts: Vec<String> = notes.iter().map(note).collect();
    (!parts.is_empty()).then(|| parts.join("; "))
}

/// What an expression and its values do not say.
pub(super) fn note(note: &Note) -> String {
    match note {
        Note::NotSomebodyElse(names) => format!(
            "{} does not count here: a builder in whatever role, or nobody whom [people] of project.toml names",
            names.join(", ")
        ),
        Note::JudgedFor(day) => format!("judged for {day}"),
        Note::EitherDay(last, after) => {
            format!("that month has no such day: {last} or {after} may be meant, and the rule does not say which")
        }
        Note::ListNotRecorded(list) => format!("`{list}` is not recorded"),
        Note::ListEmpty(list) => format!("`{list}` is whole with no record, which proves nothing"),
        Note::ListNotWhole(list) => format!("`{list}` is not known to be whole"),
        Note::LookedAt(count, list) => format!("looked at {} of `{list}`", records(*count)),
        Note::MoreRecords(1, list) => format!("and 1 more record of `{list}`"),
        Note::MoreRecords(count, list) => format!("and {count} more records of `{list}`"),
        Note::Pattern(title) => title.clone(),
        Note::DifferentTexts(count) => format!("{count} different texts, compared character for character"),
        Note::Confirmation(outcome) => confirmation_outcome(*outcome).to_owned(),
        Note::NothingInLog(part) => format!("nothing in the log shows it for `{part}`"),
        Note::People(have, asked) => format!("{have} of {asked} different people"),
        Note::NoSignature(1, roles) => format!("one entry is no signature here: made {}", made_as(roles)),
        Note::NoSignature(count, roles) => {
            format!("{count} entries are no signature here: made {}", made_as(roles))
        }
    }
}

/// `as adviser`, or that a line says no role.
fn made_as(roles: &[String]) -> String {
    let roles = roles.iter().map(|role| match role.as_str() {
        "" => "in a role that is not written".to_owned(),
        role => format!("as {role}"),
    });
    roles.collect::<Vec<_>>().join(", ")
}

/// What people's words come to.
fn confirmation_outcome(outcome: ConfirmationOutcome) -> &'static str {
    match outcome {
        ConfirmationOutcome::Nothing => "nobody in an accepted role has confirmed it",
        ConfirmationOutcome::NotYet => "the day on which it was confirmed may be after the audit",
        ConfirmationOutcome::Yes | ConfirmationOutcome::No => "that word is the last of those who are asked",
        ConfirmationOutcome::Unclear => "some say yes, some no, and the days do not tell which was the last word",
        ConfirmationOutcome::Doubted => {
            "confirmed, but somebody who is not asked said no, then or later: look again, and record a new word"
        }
        ConfirmationOutcome::Lapsed => "to be confirmed again",
    }
}

/// So many records that came or went are named.
const NAMED: usize = 5;

/// Which records came or went since a list was said to be whole.
fn whole_of_others(came: &[String], went: &[String]) -> String {
    let told = |names: &[String], what: &str| match names {
        [] => None,
        names if names.len() > NAMED => {
            let first = names.get(..NAMED).unwrap_or(names).join("; ");
            Some(format!("{what} {first} and {} others", names.len().saturating_sub(NAMED)))
        }
        names => Some(format!("{what} {}", names.join("; "))),
    };
    match (told(came, "came"), told(went, "went")) {
        (None, None) => "said to be whole, but with one name twice".to_owned(),
        (Some(one), None) | (None, Some(one)) => format!("said to be whole; since then {one}"),
        (Some(came), Some(went)) => format!("said to be whole; since then {came}, and {went}"),
    }
}

/// What is to be said of a finding besides its reasons.
pub(super) fn remark(remark: &Remark) -> String {
    match remark {
        Remark::NotOnPlannedDay(then) => {
            format!("It holds on the audit date, but not on the planned {}.", planned(then))
        }
        Remark::OtherwiseOnPlannedDay(today, then, bare) => format!(
            "On the audit date it is {}; for the planned {}, it is {}.",
            today.word(),
            planned(then),
            bare.word()
        ),
        Remark::DeferralOver => {
            "It was deferred to a test in flight; that time is over, and no result is recorded.".to_owned()
        }
        Remark::UnmetIfWhole(list) => {
            format!("If `{list}` is whole as it is recorded, this is unmet.")
        }
        Remark::LacksEvidence => "What is recorded would meet it, but the evidence asked for is not there.".to_owned(),
        Remark::HoldPointPassed(day) => format!("Its hold point was planned for {day}, which has passed."),
        Remark::LeaveDoesNotCount(by, why) => format!("A concession was granted by {by}, but {}.", no_leave(why)),
        Remark::NeedAdded(pack) => format!("The pack `{pack}` added a need of its own."),
        Remark::NotSetAside(pack, because, why) => {
            let why = match why {
                NotSetAside::NoConcession => "nobody can concede it",
                NotSetAside::BindsLess => "what that rests on binds less than the item",
                NotSetAside::NotCited => "law and limitations are only set aside by what is written, and cited",
            };
            format!("The pack `{pack}` wanted it away, and it stays, for {why}. Its reason: {because}")
        }
        Remark::WentWithIt(parts) => format!("Off with it: {}.", parts.join(", ")),
        Remark::GoneForGood(by) => format!("The aircraft is without it: {}.", entry(by)),
        Remark::WordingFrom(from) => format!("Another wording holds from {from}."),
        Remark::WordingUntil(until) => format!("Its last wording held until {until}."),
        Remark::EitherWording => {
            "Two wordings may be in force when it must be met; this is told by the one that shows less.".to_owned()
        }
        Remark::NoRecord => "No record is concerned.".to_owned(),
        Remark::NoneUntil(fact, day) => {
            format!("Nobody has recorded `{fact}`, and it is taken as none until {day}. If it is not so, record it.")
        }
    }
}

fn planned(then: &Planned) -> String {
    let what = match then.what {
        PlannedDay::Visit => "visit",
        PlannedDay::FirstFlight => "first flight",
    };
    format!("{what}, {}", then.on)
}

fn no_leave(why: &NoLeave) -> String {
    match why {
        NoLeave::NoSuchItem => "there is no such item".to_owned(),
        NoLeave::Forbidden => "nobody can concede this".to_owned(),
        NoLeave::DatedAfter(on) => format!("it is dated {on}, after the audit"),
        NoLeave::RanOut(until) => format!("it ran out on {until}"),
        NoLeave::RunsOut(until) => format!("it runs out on {until}, before the planned visit"),
        NoLeave::Undone(by) => undone_since(by),
        NoLeave::OtherWording => "it was given to another wording of the item".to_owned(),
        NoLeave::MayNot(basis) => {
            let what = match basis {
                Basis::Law | Basis::Limitations => "binds the aircraft",
                Basis::Advice => "the authority advises",
                _ => "is neither law nor the authority's advice",
            };
            format!("nobody in that role may concede what {what}; see `roles` of the packs")
        }
        NoLeave::ByBuilder => "a builder never concedes what binds the aircraft".to_owned(),
    }
}

/// Something recorded that does not count.
pub(super) fn notice(notice: &Notice) -> String {
    match notice {
        Notice::FileNotRead(file) => {
            format!("`{file}` was not read. It holds what no file that was read holds, and that was not judged.")
        }
        Notice::ValueNotRead(name, place) => {
            format!("What is written of `{name}` could not be read ({place}), so it was not judged.")
        }
        Notice::ComparedLongAgo(packs) => {
            let mut by_day: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
            packs.iter().for_each(|(pack, on)| by_day.entry(on).or_default().push(pack));
            let days = by_day.iter().map(|(on, packs)| format!("on {on} {}", packs.join(", ")));
            format!(
                "These packs were compared with what they cite over a year ago; look for later editions: {}.",
                days.collect::<Vec<_>>().join("; ")
            )
        }
        Notice::Concession(about, why) => {
            format!("The concession for {} does not count: {}.", self::about(about), no_leave(why))
        }
        Notice::ConcessionNotNeeded(about) => format!(
            "The concession for {} is not needed, or names no record of it; take it out or correct it.",
            self::about(about)
        ),
        Notice::ConfirmationOfNoRecord(about, who) => format!(
            "The confirmation of {} by {who} names no record of it, and does not count: see its `of`.",
            self::about(about)
        ),
        Notice::ConfirmationUnasked(item, who) => {
            format!("The confirmation of {item} by {who} answers no item that asks for one.")
        }
        Notice::ConfirmationAhead(item, who, on, ahead) => {
            let when = match ahead {
                Ahead::After => "after the audit, and does not count yet",
                Ahead::Perhaps => "which may be after the audit, and does not count yet",
                Ahead::PerhapsNot => "which may be after the audit; it leaves open whether a yes still stands",
            };
            format!("The confirmation of {item} by {who} is dated {on}, {when}.")
        }
        Notice::ConfirmationOfOtherWording(item, who, on) => format!(
            "The confirmation of {item} by {who} of {on} was given to another wording, and does not count for the one in force."
        ),
        Notice::Deferral(item, why) => {
            let worked_on;
            let why = match why {
                NoDeferral::Undone(by) => {
                    worked_on = undone_since(by);
                    &worked_on
                }
                NoDeferral::OtherWording => "it was given to another wording of the item",
                NoDeferral::NoSuchItem => "there is no such item",
                NoDeferral::CannotWait => "this item cannot wait for a flight",
                NoDeferral::DatedAfter => "it is dated after the audit",
                NoDeferral::NotOpen => {
                    "the item is not open, or contradicted by what is recorded, which no test in flight can mend"
                }
            };
            format!("The deferral of {item} does not count: {why}.")
        }
        Notice::LoggedOfGone(later, gone) => format!(
            "The log tells of a part that the aircraft is without, {}, since {}: if it is back, log that it was refitted.",
            entry(later),
            entry(gone)
        ),
        Notice::LogAhead(1) => "One entry of the log is dated after the audit and was left out.".to_owned(),
        Notice::LogAhead(count) => format!("{count} entries of the log are dated after the audit and were left out."),
        Notice::LogNotOver(1) => {
            "One entry of the log is of a month or year that is not over. It shows nothing yet, and no snag of it is raised: write its day.".to_owned()
        }
        Notice::LogNotOver(count) => format!(
            "{count} entries of the log are of a month or year that is not over. They show nothing yet, and no snag of them is raised: write their days."
        ),
        Notice::NoneUntil(fact, day, 1) => format!(
            "Nobody has recorded `{fact}`. It is taken as none until {day}, and for that 1 finding does not apply. If it is not so, record it."
        ),
        Notice::NoneUntil(fact, day, count) => format!(
            "Nobody has recorded `{fact}`. It is taken as none until {day}, and for that {count} findings do not apply. If it is not so, record it."
        ),
        Notice::EvidenceNotThere(file, of) => {
            format!("The evidence `{file}` for {of} is not there, or is an empty file.")
        }
    }
}

fn undone_since(by: &EntryRef) -> String {
    format!("what it was given for has been undone since, or may have been, by {}", entry(by))
}

fn about(about: &ItemRef) -> String {
    let of = about.subject.as_ref().map_or_else(String::new, |subject| format!(" of {subject}"));
    format!("{}{of}", about.item)
}

/// How one part comes to disturb another; nothing where it is the same part.
pub(super) fn through(steps: &[Through]) -> Option<String> {
    let parts: Vec<String> = steps.iter().map(step).collect();
    (!parts.is_empty()).then(|| parts.join("; "))
}

fn step(step: &Through) -> String {
    match step {
        Through::PartOf { small, large } => format!("`{small}` is a part of `{large}`"),
        Through::LiesIn { part, zone } => format!("`{part}` lies in the zone `{zone}`"),
        Through::Declared { pack, before, by_way_of, after } => {
            let by_way = by_way_of.as_ref().map_or_else(String::new, |part| format!(" (by way of `{part}`)"));
            format!("the pack `{pack}` says that disturbing `{before}`{by_way} also disturbs `{after}`")
        }
    }
}

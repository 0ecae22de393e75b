//! Every text of an audit, and what kind of text it is. Each type is taken
//! apart whole, so that a new field has to be put somewhere.

use super::StandIns;
use crate::audit::ItemRef;
use crate::audit::{
    AddedNeed, Audit, Calibration, Cited, Conceded, Deferred, EntryRef, EntryState, Finding, FindingKind, Lapse,
    LineKind, LogLine, Missing, MissingCause, MissingKind, NoDeferral, NoLeave, Note, Notice, Observed, ObservedValue,
    Question, Reason, Remark, SetAside, Through, Titles, TypedValue,
};
use crate::ir::Pack;
use crate::source::{Place, SharedText};

/// What an audit holds, walked with the stand-ins.
struct Walk<'a> {
    by: &'a StandIns,
    /// Whether what a pack says here is the builder's own.
    own: bool,
}

pub(super) fn audit(by: &StandIns, audit: &mut Audit) {
    let Audit {
        project,
        on: _,
        visit: _,
        by: until,
        closing,
        packs,
        summary: _,
        findings,
        later,
        questions,
        notices,
        recorded: _,
        titles,
        reminder: _,
    } = audit;
    let walk = Walk { by, own: true };
    walk.text(project);
    until.iter_mut().for_each(|until| walk.name(until));
    closing.iter_mut().for_each(|closing| walk.name(closing));
    packs.iter_mut().for_each(|pack| walk.pack(pack));
    for finding in findings {
        Walk { by, own: is_own(by, finding) }.finding(finding);
    }
    later.iter_mut().for_each(|later| walk.shared_name(&mut later.by));
    questions.iter_mut().for_each(|question| walk.question(question));
    notices.iter_mut().for_each(|notice| walk.notice(notice));
    let Titles { hold_points, zones, systems } = titles;
    for (name, title) in hold_points.iter_mut().chain(zones).chain(systems) {
        Walk { by, own: !by.names.contains(name.as_str()) }.said(title);
        walk.shared_name(name);
    }
}

/// Whether what a finding is told by is of a pack of the builder's own.
fn is_own(by: &StandIns, finding: &Finding) -> bool {
    let own = |pack: &SharedText| !by.packs.contains(pack.as_str());
    // The title of a part that is off may be the builder's.
    finding.kind == FindingKind::Removed
        || !by.is_published(&finding.item)
        || finding.added_by.as_ref().is_some_and(own)
}

impl Walk<'_> {
    /// What the builder wrote.
    fn text(&self, text: &mut String) {
        self.by.text(text);
    }

    /// A name that a pack or the project declares.
    fn name(&self, name: &mut String) {
        self.by.name(name);
    }

    fn shared_name(&self, name: &mut SharedText) {
        let mut changed = name.to_string();
        self.name(&mut changed);
        if *name != *changed.as_str() {
            *name = changed.into();
        }
    }

    /// What a pack says: published, or the builder's own.
    fn said(&self, text: &mut SharedText) {
        let mut changed = text.to_string();
        self.of_a_pack(&mut changed);
        if *text != *changed.as_str() {
            *text = changed.into();
        }
    }

    fn of_a_pack(&self, text: &mut String) {
        if self.own { self.by.text(text) } else { self.by.published_text(text) }
    }

    fn maybe_said(&self, text: &mut Option<SharedText>) {
        text.iter_mut().for_each(|text| self.said(text));
    }

    /// The same, of what another pack says.
    fn of_pack(&self, pack: &str) -> Self {
        Self { by: self.by, own: !self.by.packs.contains(pack) }
    }

    fn place(&self, place: &mut Place) {
        let Place { file, line: _, column: _, end_line: _, end_column: _ } = place;
        self.text(file);
    }

    /// A file of a published pack stays.
    fn place_of_rule(&self, place: &mut Place) {
        if self.own {
            self.place(place);
        }
    }

    fn pack(&self, pack: &mut Pack) {
        let walk = self.of_pack(&pack.name);
        let Pack {
            name,
            title,
            edition,
            authority,
            scope,
            not_covered,
            uses,
            asked_back: _,
            country_means: _,
            digest: _,
        } = pack;
        self.shared_name(name);
        [title, edition, authority, scope].into_iter().for_each(|text| walk.said(text));
        not_covered.iter_mut().for_each(|text| walk.said(text));
        uses.iter_mut().for_each(|name| self.shared_name(name));
    }

    fn question(&self, question: &mut Question) {
        let own = !self.by.declares(&question.fact);
        let Question { fact, ask, example, settles: _, decides: _ } = question;
        let walk = Self { by: self.by, own };
        self.name(fact);
        walk.said(ask);
        walk.maybe_said(example);
    }

    fn finding(&self, finding: &mut Finding) {
        let Finding {
            kind: _,
            item,
            subject,
            verdict: _,
            title,
            added_by,
            basis: _,
            because,
            worked_out,
            missing,
            sources,
            by,
            zone,
            system,
            stops_the_visit: _,
            check,
            remedy,
            caution,
            concession,
            set_aside,
            deferred,
            added,
            notes,
            after,
            waits_for,
            waiting,
            place,
        } = finding;
        place.iter_mut().for_each(|place| self.place_of_rule(place));
        self.name(item);
        subject.iter_mut().for_each(|subject| self.text(subject));
        self.said(title);
        added_by.iter_mut().for_each(|pack| self.shared_name(pack));
        because.iter_mut().for_each(|reason| self.reason(reason));
        worked_out.iter_mut().for_each(|seen| self.observed(seen));
        missing.iter_mut().for_each(|missing| self.missing(missing));
        sources.iter_mut().for_each(|source| self.cited(source));
        self.shared_name(by);
        zone.iter_mut().for_each(|zone| self.shared_name(zone));
        self.name(system);
        self.maybe_said(check);
        self.maybe_said(remedy);
        self.maybe_said(caution);
        concession.iter_mut().for_each(|concession| self.conceded(concession));
        set_aside.iter_mut().for_each(|aside| self.set_aside(aside));
        deferred.iter_mut().for_each(|deferred| self.deferred(deferred));
        added.iter_mut().for_each(|need| self.added(need));
        notes.iter_mut().for_each(|remark| self.remark(remark));
        after.iter_mut().for_each(|item| self.name(item));
        waits_for.iter_mut().for_each(|list| self.name(list));
        for ItemRef { item, subject } in waiting {
            self.name(item);
            subject.iter_mut().for_each(|subject| self.text(subject));
        }
    }

    fn reason(&self, reason: &mut Reason) {
        let Reason { clause: _, expression, held: _, values, notes, lapses, join: _, parts } = reason;
        self.of_a_pack(expression);
        values.iter_mut().for_each(|seen| self.observed(seen));
        notes.iter_mut().for_each(|note| self.note(note));
        lapses.iter_mut().for_each(|lapse| self.lapse(lapse));
        parts.iter_mut().for_each(|part| self.reason(part));
    }

    fn observed(&self, seen: &mut Observed) {
        let Observed { name, value, typed, place, evidence } = seen;
        evidence.iter_mut().for_each(|file| self.text(file));
        match value {
            ObservedValue::Recorded(text) | ObservedValue::WorkedOut(text) => self.by.value(name, text),
            ObservedValue::NoLonger(text, state) => {
                self.by.value(name, text);
                self.entry_state(state);
            }
            ObservedValue::Entry(_, state) => self.entry_state(state),
            ObservedValue::NotRecorded
            | ObservedValue::Records(_)
            | ObservedValue::WorkedOutWithoutUnit
            | ObservedValue::NotYet => {}
        }
        typed.iter_mut().for_each(|typed| self.typed(name, typed));
        self.name(name);
        place.iter_mut().for_each(|place| self.place(place));
    }

    /// A value as data: a number that says which is told by its stand-in, which is a text.
    fn typed(&self, name: &str, typed: &mut TypedValue) {
        match typed {
            TypedValue::Text { text } => self.text(text),
            TypedValue::Words { words } => words.iter_mut().for_each(|word| self.by.recorded(name, word)),
            TypedValue::Number { lower: Some(lower), .. } => {
                let mut text = lower.as_str().to_owned();
                self.by.recorded(name, &mut text);
                if text != lower.as_str() {
                    *typed = TypedValue::Text { text };
                }
            }
            TypedValue::Number { .. } | TypedValue::Date { .. } | TypedValue::None => {}
        }
    }

    fn entry_state(&self, state: &mut EntryState) {
        match state {
            EntryState::Counts(points) => points.iter_mut().for_each(|point| self.name(point)),
            EntryState::UnclearOrder(entry)
            | EntryState::Undone(entry)
            | EntryState::Undated(entry)
            | EntryState::Off(entry) => self.entry(entry),
            EntryState::Weak(calibration) => self.calibration(calibration),
            EntryState::UnclearBeforeAudit
            | EntryState::Nobody
            | EntryState::NoFile
            | EntryState::NotKnown(_)
            | EntryState::ItIsSo
            | EntryState::ItIsNotSo => {}
        }
    }

    fn entry(&self, entry: &mut EntryRef) {
        let EntryRef { event: _, subject, on: _, place } = entry;
        self.name(subject);
        self.place(place);
    }

    fn calibration(&self, calibration: &mut Calibration) {
        let Calibration { instrument, until: _, list } = calibration;
        self.text(instrument);
        self.name(list);
    }

    fn lapse(&self, lapse: &mut Lapse) {
        let Lapse { shown, undone_by, through } = lapse;
        self.log_line(shown);
        self.log_line(undone_by);
        for step in through {
            match step {
                Through::PartOf { small, large } => [small, large].into_iter().for_each(|part| self.name(part)),
                Through::LiesIn { part, zone } => [part, zone].into_iter().for_each(|name| self.name(name)),
                Through::Declared { pack, before, by_way_of, after } => {
                    [pack, before, after].into_iter().chain(by_way_of).for_each(|name| self.name(name));
                }
            }
        }
    }

    fn log_line(&self, line: &mut LogLine) {
        let LogLine { kind, on: _, event: _, subject, who, role: _, note, place, evidence } = line;
        evidence.iter_mut().for_each(|file| self.text(file));
        match subject.split_once(" = ") {
            // A value that was undone, after the name of what it was of.
            Some((name, value)) if *kind == LineKind::Value => {
                let (mut name, mut value) = (name.to_owned(), value.to_owned());
                self.by.recorded(&name, &mut value);
                self.name(&mut name);
                *subject = format!("{name} = {value}");
            }
            _ => self.name(subject),
        }
        self.text(who);
        note.iter_mut().for_each(|note| self.text(note));
        self.place(place);
    }

    fn missing(&self, missing: &mut Missing) {
        let Missing { kind, fact, ask, example, why } = missing;
        // What is asked of the log names a part, which may be the builder's.
        let walk = Self { by: self.by, own: self.own || *kind == MissingKind::LogEntry };
        self.name(fact);
        walk.said(ask);
        walk.maybe_said(example);
        self.missing_cause(why);
    }

    fn missing_cause(&self, why: &mut MissingCause) {
        match why {
            MissingCause::WholeOfOthers { came, went } => {
                came.iter_mut().chain(went).for_each(|record| self.text(record));
            }
            MissingCause::WholeBefore(entry)
            | MissingCause::WholeUndone(entry)
            | MissingCause::Undone(entry)
            | MissingCause::Undated(entry)
            | MissingCause::Off(entry)
            | MissingCause::UnclearSince(entry) => self.entry(entry),
            MissingCause::InstrumentWithoutDay(text)
            | MissingCause::NoSuchFile(text)
            | MissingCause::Nobody(text)
            | MissingCause::NotKnown(_, text)
            | MissingCause::Worded(text) => self.text(text),
            MissingCause::People { have: _, asked: _, points } => {
                points.iter_mut().for_each(|point| self.name(point));
            }
            MissingCause::TimesOf(places, _) | MissingCause::DaysOf(places) => {
                places.iter_mut().for_each(|place| self.place(place));
            }
            MissingCause::DayBeforeAudit(place) => self.place(place),
            MissingCause::Calibration(calibration) => self.calibration(calibration),
            // A number that is too coarse, and what has no text.
            MissingCause::TooCoarse(_)
            | MissingCause::TooManySteps(_)
            | MissingCause::NotRecorded
            | MissingCause::NoRecords
            | MissingCause::NotSaidWhole
            | MissingCause::WholePerhapsToCome
            | MissingCause::WholeOfOtherEntries { said: _, now: _ }
            | MissingCause::LogLeavesOpen
            | MissingCause::NoConfirmation
            | MissingCause::NoneSettles
            | MissingCause::PerhapsToCome
            | MissingCause::Contradicting
            | MissingCause::ConfirmationLapsed
            | MissingCause::NoEntry
            | MissingCause::EntryLapsed
            | MissingCause::NoEvidence
            | MissingCause::Confirmed => {}
        }
    }

    fn note(&self, note: &mut Note) {
        match note {
            Note::ListNotRecorded(name)
            | Note::ListEmpty(name)
            | Note::ListNotWhole(name)
            | Note::LookedAt(_, name)
            | Note::MoreRecords(_, name)
            | Note::NothingInLog(name) => self.name(name),
            Note::NotSomebodyElse(names) => names.iter_mut().for_each(|name| self.text(name)),
            Note::Pattern(title) => self.of_a_pack(title),
            Note::JudgedFor(_)
            | Note::EitherDay(..)
            | Note::DifferentTexts(_)
            | Note::Confirmation(_)
            | Note::People(..)
            | Note::NoSignature(..) => {}
        }
    }

    fn remark(&self, remark: &mut Remark) {
        match remark {
            Remark::UnmetIfWhole(name) | Remark::NeedAdded(name) | Remark::NoneUntil(name, _) => self.name(name),
            Remark::LeaveDoesNotCount(by, why) => {
                self.text(by);
                self.no_leave(why);
            }
            Remark::NotSetAside(pack, because, _) => {
                self.of_pack(pack).of_a_pack(because);
                self.name(pack);
            }
            Remark::WentWithIt(parts) => parts.iter_mut().for_each(|part| self.name(part)),
            Remark::GoneForGood(entry) => self.entry(entry),
            Remark::NotOnPlannedDay(_)
            | Remark::OtherwiseOnPlannedDay(..)
            | Remark::DeferralOver
            | Remark::LacksEvidence
            | Remark::HoldPointPassed(_)
            | Remark::WordingFrom(_)
            | Remark::WordingUntil(_)
            | Remark::EitherWording
            | Remark::NoRecord => {}
        }
    }

    fn no_leave(&self, why: &mut NoLeave) {
        match why {
            NoLeave::Undone(entry) => self.entry(entry),
            NoLeave::NoSuchItem
            | NoLeave::Forbidden
            | NoLeave::DatedAfter(_)
            | NoLeave::RanOut(_)
            | NoLeave::RunsOut(_)
            | NoLeave::OtherWording
            | NoLeave::MayNot(_)
            | NoLeave::ByBuilder => {}
        }
    }

    fn notice(&self, notice: &mut Notice) {
        match notice {
            Notice::FileNotRead(file) => self.text(file),
            Notice::ValueNotRead(_, place) => self.place(place),
            Notice::ComparedLongAgo(packs) => packs.iter_mut().for_each(|(pack, _)| self.name(pack)),
            Notice::Concession(about, why) => {
                self.about(about);
                self.no_leave(why);
            }
            Notice::ConcessionNotNeeded(about) => self.about(about),
            Notice::ConfirmationOfNoRecord(about, who) => {
                self.about(about);
                self.text(who);
            }
            Notice::ConfirmationUnasked(item, who)
            | Notice::ConfirmationAhead(item, who, _, _)
            | Notice::ConfirmationOfOtherWording(item, who, _) => {
                self.name(item);
                self.text(who);
            }
            Notice::Deferral(item, why) => {
                self.name(item);
                match why {
                    NoDeferral::Undone(entry) => self.entry(entry),
                    NoDeferral::NoSuchItem
                    | NoDeferral::CannotWait
                    | NoDeferral::DatedAfter
                    | NoDeferral::NotOpen
                    | NoDeferral::OtherWording => {}
                }
            }
            Notice::LoggedOfGone(later, gone) => [later, gone].into_iter().for_each(|entry| self.entry(entry)),
            Notice::EvidenceNotThere(file, of) => {
                self.text(file);
                self.name(of);
            }
            Notice::NoneUntil(fact, _, _) => self.name(fact),
            Notice::LogAhead(_) | Notice::LogNotOver(_) => {}
        }
    }

    fn about(&self, about: &mut ItemRef) {
        let ItemRef { item, subject } = about;
        self.name(item);
        subject.iter_mut().for_each(|subject| self.text(subject));
    }

    fn conceded(&self, conceded: &mut Conceded) {
        let Conceded { reason, granted_by, role: _, on: _, until: _, instead_of: _ } = conceded;
        self.text(reason);
        self.text(granted_by);
    }

    fn deferred(&self, deferred: &mut Deferred) {
        let Deferred { reason, limit, test, who, on: _, instead_of, result } = deferred;
        [reason, limit, test, who].into_iter().chain(result).for_each(|text| self.text(text));
        self.shared_name(instead_of);
    }

    fn set_aside(&self, aside: &mut SetAside) {
        let walk = self.of_pack(&aside.pack);
        let SetAside { pack, because, basis: _, sources, instead_of: _, silenced } = aside;
        walk.said(because);
        sources.iter_mut().for_each(|source| walk.cited(source));
        self.shared_name(pack);
        silenced.iter_mut().for_each(|pack| self.shared_name(pack));
    }

    fn added(&self, need: &mut AddedNeed) {
        let walk = self.of_pack(&need.pack);
        let AddedNeed { pack, basis: _, held: _, because, sources, check, remedy, caution, place } = need;
        place.iter_mut().for_each(|place| walk.place_of_rule(place));
        because.iter_mut().for_each(|reason| walk.reason(reason));
        sources.iter_mut().for_each(|source| walk.cited(source));
        walk.maybe_said(check);
        walk.maybe_said(remedy);
        walk.maybe_said(caution);
        self.shared_name(pack);
    }

    fn cited(&self, cited: &mut Cited) {
        let Cited { id, title, number, edition, superseded_by, paragraph, mark: _ } = cited;
        [id, title, number, edition, paragraph].into_iter().for_each(|text| self.said(text));
        self.maybe_said(superseded_by);
    }
}

//! Leave: a concession to use what does not conform, or a deferral of what can
//! only be shown in flight; and what has become of it.

use super::cause::NoLeave;
use super::judge::{Judge, Judged};
use super::proof::entry_ref;
use crate::ir::{Item, ItemId, RowId};
use crate::lapse::EntryStanding;
use crate::project::{Concession, Deferral, Entry, Moment, record_names};
use crate::vocabulary::Verdict;

impl<'a> Judge<'a> {
    /// What is deferred to test flying stays open until the planned day of its hold point
    /// has passed; then, without a result, it is unmet, whatever is looked at.
    pub(super) fn defer(&self, judged: &mut Judged<'a>) {
        let about = |deferral: &&Deferral| {
            deferral.subject == judged.subject
                && deferral.on.last <= self.today.first
                && self.rules.find_items(&deferral.item).contains(&judged.item)
                && self.rules.item(judged.item).is_some_and(|item| self.given_to(item, deferral.wording, deferral.on))
                && self.deferral_undone(deferral, judged.item).is_none()
        };
        let Some(deferral) = self.record.deferrals.iter().find(about) else { return };
        judged.deferral = Some(deferral);
        let over = self.record.planned.get(&deferral.by).is_some_and(|planned| *planned < self.today.first);
        if over && deferral.result.is_none() {
            judged.bare = Verdict::Unmet;
            judged.verdict = Verdict::Unmet;
        }
    }

    /// The row of the record that an item is about.
    pub(super) fn row_of(&self, item: &Item, subject: Option<&str>) -> Option<RowId> {
        let list = item.each?;
        let names = record_names(self.rules, list, self.rows(list)?);
        names.iter().position(|name| Some(name.as_str()) == subject).map(RowId::new)
    }

    /// What has undone a deferral, or may have.
    pub(super) fn deferral_undone(&self, deferral: &Deferral, id: ItemId) -> Option<&'a Entry> {
        let on = Moment { on: deferral.on, at: None, place: deferral.place };
        self.leave_undone(on, id, deferral.subject.as_deref())
    }

    /// The concession that counts for an item and record, if there is one.
    pub(super) fn concession(&self, id: ItemId, subject: Option<&str>) -> Option<&'a Concession> {
        self.record.concessions.iter().find(|concession| {
            concession.subject.as_deref() == subject
                && self.rules.find_items(&concession.item).contains(&id)
                && self.why_not(concession, id).is_none()
        })
    }

    /// Why a concession does not count for an item; `None` if nothing speaks against it.
    pub(super) fn why_not(&self, concession: &Concession, id: ItemId) -> Option<NoLeave> {
        if !self.rules.item(id).is_some_and(|item| self.given_to(item, concession.wording, concession.on)) {
            return Some(NoLeave::OtherWording);
        }
        if let Some(why) = self.may_not(concession, id) {
            return Some(why);
        }
        let last_day = self.visit.map_or(self.today.last, |visit| visit.last);
        if concession.on.last > self.today.first {
            return Some(NoLeave::DatedAfter(concession.on.to_string()));
        }
        if concession.until.first < self.today.last {
            return Some(NoLeave::RanOut(concession.until.to_string()));
        }
        if concession.until.first < last_day {
            return Some(NoLeave::RunsOut(concession.until.to_string()));
        }
        let on = Moment { on: concession.on, at: None, place: concession.place };
        let undone = self.leave_undone(on, id, concession.subject.as_deref());
        undone.map(|by| NoLeave::Undone(entry_ref(self.record, by)))
    }

    /// Why somebody may not give leave for an item: by the role, or for building it.
    fn may_not(&self, concession: &Concession, id: ItemId) -> Option<NoLeave> {
        let asks = self.rules.item(id)?.strictest();
        let role = self.rules.roles.iter().find(|role| role.name == concession.role);
        if !role.is_some_and(|role| role.concedes.over(asks)) {
            return Some(NoLeave::MayNot(asks));
        }
        (asks.binds() && self.logbook.persons().is_builder(&concession.granted_by)).then_some(NoLeave::ByBuilder)
    }

    /// What has undone leave given for an item, or may have: something of the
    /// parts whose state the item asks for was disturbed after it.
    pub(super) fn leave_undone(&self, on: Moment, id: ItemId, subject: Option<&str>) -> Option<&'a Entry> {
        let item = self.rules.item(id)?;
        let states = self.states_asked(item, self.row_of(item, subject), subject);
        states.into_iter().find_map(|of| match self.logbook.standing_of_moment(Some(on), None, Some(of)) {
            EntryStanding::Lapsed(by)
            | EntryStanding::Unclear(by)
            | EntryStanding::Undated(by)
            | EntryStanding::Off(by) => Some(by),
            EntryStanding::Counts | EntryStanding::NotYet | EntryStanding::Weak => None,
        })
    }
}

//! All that one pack asks, for programs, as `schemas/pack.json` says.

use super::document::document;
use super::message::Message;
use super::pack_page::{Writer, amended_in, set_aside_in};
use super::packs::{PackRow, pack_rows};
use super::schemas::PACK;
use crate::audit::Cited;
use crate::ir::{Added, Bound, Cite, ConditionId, Document, Item, Pack, PackId, Rules};
use crate::plan::minutes_of;
use crate::quantity::Date;
use crate::source::{Place, Span};
use crate::vocabulary::{Basis, Mark};
use serde::Serialize;

#[derive(Serialize)]
struct PackOut<'a> {
    packs: Vec<&'a Pack>,
    pack: &'a str,
    counts: Option<&'a PackRow>,
    documents: Vec<DocumentOut<'a>>,
    items: Vec<ItemOut<'a>>,
    amended: Vec<AmendedOut<'a>>,
    set_aside: Vec<AsideOut<'a>>,
    reminder: &'static str,
}

/// A document that the pack declares or cites.
#[derive(Serialize)]
struct DocumentOut<'a> {
    id: &'a str,
    title: &'a str,
    number: &'a str,
    edition: &'a str,
    issuer: &'a str,
    mark: Mark,
    seen_on: Option<&'a str>,
    superseded_by: Option<&'a str>,
    pack: &'a str,
    place: Place,
}

#[derive(Serialize)]
struct ItemOut<'a> {
    item: String,
    title: &'a str,
    each: Option<&'a str>,
    when: Vec<String>,
    lets: Vec<LetOut<'a>>,
    need: Vec<String>,
    shows: Vec<ShowOut<'a>>,
    ask: Option<&'a str>,
    by: &'a str,
    zone: Option<&'a str>,
    basis: Basis,
    sources: Vec<Cited>,
    from: Option<Date>,
    until: Option<Date>,
    stops_the_visit: bool,
    no_concession: bool,
    after: Vec<String>,
    minutes: Option<u32>,
    check: Option<&'a str>,
    remedy: Option<&'a str>,
    caution: Option<&'a str>,
    examples: usize,
    place: Place,
}

#[derive(Serialize)]
struct LetOut<'a> {
    name: &'a str,
    expression: String,
}

#[derive(Serialize)]
struct ShowOut<'a> {
    kinds: Vec<&'a str>,
    subject: &'a str,
}

/// An item of another pack with what this one adds.
#[derive(Serialize)]
struct AmendedOut<'a> {
    item: String,
    title: &'a str,
    added: Vec<AddedOut<'a>>,
    bound: Vec<BoundOut>,
}

#[derive(Serialize)]
struct AddedOut<'a> {
    need: Vec<String>,
    basis: Basis,
    sources: Vec<Cited>,
    check: Option<&'a str>,
    remedy: Option<&'a str>,
    caution: Option<&'a str>,
    place: Place,
}

/// That this pack asks for the same, with its own word.
#[derive(Serialize)]
struct BoundOut {
    basis: Basis,
    sources: Vec<Cited>,
}

#[derive(Serialize)]
struct AsideOut<'a> {
    item: String,
    title: &'a str,
    because: &'a str,
    basis: Option<Basis>,
    sources: Vec<Cited>,
}

/// The pack of that name as pretty JSON with a line end; none if it is not among the rules.
#[must_use]
pub fn pack_json(rules: &Rules, name: &str, messages: &[Message]) -> Option<String> {
    let place = rules.packs.position(|pack| pack.name == name)?;
    let writer = Writer::new(rules, place);
    let rows = pack_rows(rules);
    let out = PackOut {
        packs: rules.packs.iter().collect(),
        pack: name,
        counts: rows.iter().find(|row| row.name == name),
        documents: writer.documents().map(|document| document_out(rules, document)).collect(),
        items: rules.items.iter().filter(|item| item.pack == place).map(|item| item_out(&writer, item)).collect(),
        amended: amended_in(rules, place).map(|item| amended_out(&writer, place, item)).collect(),
        set_aside: set_aside_in(rules, place)
            .map(|(item, aside)| AsideOut {
                item: rules.full_name(item),
                title: &item.title,
                because: &aside.because,
                basis: aside.basis,
                sources: cited(rules, &aside.cites),
            })
            .collect(),
        reminder: super::pack_page::REMINDER,
    };
    Some(document(&PACK, &out, messages))
}

fn cited(rules: &Rules, cites: &[Cite]) -> Vec<Cited> {
    cites.iter().map(|cite| Cited::of(rules, cite)).collect()
}

fn document_out<'a>(rules: &'a Rules, document: &'a Document) -> DocumentOut<'a> {
    DocumentOut {
        id: &document.name,
        title: &document.title,
        number: &document.number,
        edition: &document.edition,
        issuer: &document.issuer,
        mark: document.mark,
        seen_on: document.seen_on.as_deref(),
        superseded_by: document.superseded_by.as_deref(),
        pack: rules.packs.get(document.pack).map_or("", |pack| pack.name.as_str()),
        place: rules.sources.place(document.place),
    }
}

fn item_out<'a>(writer: &Writer<'a>, item: &'a Item) -> ItemOut<'a> {
    let rules = writer.rules;
    let clauses = |node: ConditionId, place: Span| writer.clauses(node, place);
    ItemOut {
        item: rules.full_name(item),
        title: &item.title,
        each: item.each.and_then(|id| rules.list(id)).map(|list| list.name.as_str()),
        when: item.when.map(|node| clauses(node, item.place)).unwrap_or_default(),
        lets: item
            .lets
            .iter()
            .map(|one| LetOut { name: &one.name, expression: rules.sources.one_line(one.place) })
            .collect(),
        need: clauses(item.own_need, item.place),
        shows: item
            .shows
            .iter()
            .map(|show| ShowOut {
                kinds: show.kinds.iter().filter_map(|at| Some(rules.evidence.get(*at)?.name.as_str())).collect(),
                subject: &show.subject,
            })
            .collect(),
        ask: item.ask.as_deref(),
        by: rules.hold_points.get(item.by).map_or("", |point| point.name.as_str()),
        zone: item.zone.and_then(|zone| rules.zones.get(zone)).map(|zone| zone.name.as_str()),
        basis: item.own_basis,
        sources: cited(rules, item.own_cites()),
        from: item.from,
        until: item.until,
        stops_the_visit: item.stops_the_visit,
        no_concession: item.no_concession,
        after: item.after.iter().filter_map(|id| rules.item(*id)).map(|before| rules.full_name(before)).collect(),
        minutes: item.takes.as_ref().map(minutes_of),
        check: item.check.as_deref(),
        remedy: item.remedy.as_deref(),
        caution: item.caution.as_deref(),
        examples: item.examples.len(),
        place: rules.sources.place(item.place),
    }
}

fn amended_out<'a>(writer: &Writer<'a>, pack: PackId, item: &'a Item) -> AmendedOut<'a> {
    let rules = writer.rules;
    let added = |added: &'a Added| AddedOut {
        need: writer.clauses(added.need, added.place),
        basis: added.basis,
        sources: cited(rules, &added.cites),
        check: added.check.as_deref(),
        remedy: added.remedy.as_deref(),
        caution: added.caution.as_deref(),
        place: rules.sources.place(added.place),
    };
    let bound = |bound: &Bound| BoundOut { basis: bound.basis, sources: cited(rules, &bound.cites) };
    AmendedOut {
        item: rules.full_name(item),
        title: &item.title,
        added: item.added.iter().filter(|added| added.pack == pack).map(added).collect(),
        bound: item.bound.iter().filter(|bound| bound.pack == pack).map(bound).collect(),
    }
}

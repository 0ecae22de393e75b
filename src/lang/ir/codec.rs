//! Checked packs as they are stored: what [`Rules`] hold, and what the checker
//! knows of them, for the packs that come on top.

use super::{
    Added, Aside, Bound, Choice, Cite, Concedes, Disturbance, Document, Fact, Item, Kind, Let, Limits, List, Named,
    Pack, Part, Role, Rules, Show, State, Titled,
};
use crate::codec::{all_of, one_of};
use crate::source::Sources;

all_of! {
    Pack { name, title, edition, authority, scope, not_covered, uses, asked_back, country_means, digest }
    Document { place, name, title, number, edition, issuer, mark, seen_on, superseded_by, pack }
    Cite { document, paragraph, mark }
    Titled { place, name, title, pack }
    Concedes { law, advice, other }
    Role { place, name, title, signs, concedes, other_than_builder, pack }
    Part { place, name, title, zone, can_be_left_off, pack }
    Choice { name, words }
    Limits { range, above, below, text }
    State { of, itself, own_day }
    Fact { place, name, kind, optional, limits, ask, example, unit, state, none_until, pack, slot }
    List { place, name, ask, part, fields, named_by, many_alike, pack }
    Disturbance { subject, itself, also, pack }
    Show { kinds, subject }
    Let { name, node, dimension, place }
    Added { pack, need, basis, cites, check, remedy, caution, place }
    Bound { pack, basis, cites }
    Aside { pack, because, basis, cites }
    Item {
        place, name, pack, title, each, each_name, when, need, lets, shows, by, zone, basis, cites, check, remedy, caution, ask,
        stops_the_visit, no_concession, after, takes, from, until, uses_today, confirm, set_aside, own_need, own_basis,
        added, bound, reads, reads_lists; examples: Vec::new()
    }
    Rules {
        packs, documents, hold_points, zones, larger_zones, systems, evidence, roles, subjects, choices, facts, lists,
        items, disturbances, program, fact_by_name, list_by_name, items_by_name; sources: Sources::default(); warnings: Vec::new(); prebuilt_packs: 0; library: Vec::new()
    }
}

one_of! {
    Kind { 0 YesNo, 1 Choice(n), 2 Text, 3 Count, 4 Number(dimension), 5 Date, 6 Named(named) }
    Named { 0 Person, 1 File, 2 Part, 3 Zone, 4 Instrument }
}

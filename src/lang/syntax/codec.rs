//! The tree as bytes and back: one line per type, in the order of its fields.

use super::ast::{
    Aggregate, AmendDecl, ByWhom, CiteDecl, Clauses, Declaration, EntryDecl, Expr, ExprKind, FactDecl, FormulaDecl,
    Given, ItemDecl, KeyMode, LimitsDecl, ListDecl, Literal, LiteralKind, Measured, Name, Order, Over, PartOrAll,
    SetAsideDecl, Sign, SourceDecl, SpanUnit, StateDecl, TableDecl, TableRow, TakenDecl, Text, TryDecl, TypeDecl,
    TypeExpr, WordDecl, WordsKind,
};
use crate::codec::{Codec, Reader, Writer, all_of, one_of};
use crate::quantity::Quantity;

all_of! {
    Name { span, text }
    Text { span, text }
    SourceDecl { name, title, number, edition, issuer, mark, superseded_by }
    TypeDecl { optional, kind, limits }
    LimitsDecl { low, high, above, below, span }
    Measured { span, quantity }
    FactDecl { name, kind, state, none_until, ask, example }
    StateDecl { of, itself, own_day, span }
    ListDecl { name, part, ask, fields, named_by, many_alike }
    TableDecl { name, keys, columns, cites, rows }
    TableRow { keys, cells, span }
    Literal { span, kind, taken }
    TakenDecl { on, instrument }
    FormulaDecl { name, parameters, body }
    CiteDecl { document, paragraph, mark }
    ItemDecl { name, each, title, clauses }
    AmendDecl { name, clauses }
    SetAsideDecl { name, because, basis, cites }
    WordDecl { name, title, zone, larger, never_signs, may_concede, other_than, can_be_left_off }
    EntryDecl { event, subject, who, role, points, instrument, for_good, another, on, span }
    TryDecl { name, given, verdict, span }
    Expr { span, kind }
    Over { variable, list, condition }
    ByWhom { roles, other_than }
}

one_of! {
    Declaration {
        0 Source(source), 1 Words(kind, words), 2 Choice(name, words), 3 Pattern(name, title, form), 4 Fact(fact),
        5 List(list), 6 Table(table), 7 Formula(formula), 8 Item(item), 9 Amend(amend), 10 SetAside(decl),
        11 Disturb { subject, itself, also },
    }
    WordsKind { 0 HoldPoints, 1 Zones, 2 Systems, 3 Evidence, 4 Roles, 5 Subjects }
    TypeExpr { 0 YesNo, 1 Words(words), 2 Quantity(words) }
    PartOrAll { 0 Everything, 1 Part(name) }
    KeyMode { 0 Exact, 1 Linear, 2 StepDown, 3 StepUp }
    LiteralKind { 0 Measured(quantity), 1 Date(date), 2 Text(text), 3 Word(word), 4 None, 5 Empty, 6 Records(records, more) }
    Given {
        0 On(date), 1 Visit(date), 2 Confirmed { holds, by, on, span }, 3 Evidence(kind, subject), 4 Fact(name, value),
        5 Entry(entry), 6 Person(name, role),
    }
    Order { 0 Less, 1 AtMost, 2 More, 3 AtLeast }
    Sign { 0 Plus, 1 Minus, 2 Times, 3 Divide }
    SpanUnit { 0 CalendarMonths, 1 Months, 2 Years, 3 Days }
    Aggregate { 0 Sum, 1 Least, 2 Greatest }
    ExprKind {
        0 Or(parts), 1 And(parts), 2 Not(part), 3 Compare(order, left, right), 4 Is { left, right, negated },
        5 OneOf { left, among, negated }, 6 Between(value, low, high), 7 Within(value, by, of),
        8 WithinLast(date, n, unit), 9 Recorded(value), 10 IsNone(value, negated), 11 Fits(value, pattern),
        12 Alike(parts), 13 Quantified { every, over, body }, 14 Confirmed { by, about, since },
        15 Logged { event, subject, people, by, points, since },
        16 Arithmetic(sign, left, right), 17 Shift(date, ahead, n, unit), 18 PercentOf(percent, of),
        19 Aggregate { how, value, over, if_empty }, 20 Mean { value, weight, over }, 21 Count(over), 22 Call(name, given),
        23 Lookup { table, keys, column }, 24 Measured(measured), 25 Date(date), 26 Text(text), 27 YesNo(yes), 28 Today,
        29 Name(name), 30 SameLetters(left, right), 31 WithinShare(value, share, of), 32 After(later, earlier), 33 SomebodyElse(person, roles),
    }
}

/// A quantity is what stands at the place written last.
impl Codec for Quantity {
    fn encode(&self, _: &mut Writer<'_>) {}

    fn decode(from: &mut Reader<'_>) -> Option<Self> {
        Quantity::parse(from.there()?).ok()
    }
}

/// The examples stand last and apart, to be stepped over.
impl Codec for Clauses {
    fn encode(&self, to: &mut Writer<'_>) {
        let Self { whens, lets, needs, shows, by, zone, basis, cites, check, remedy, caution, ask, stops, .. } = self;
        let Self { no_concession, in_force, after, takes, tries, .. } = self;
        whens.encode(to);
        lets.encode(to);
        needs.encode(to);
        shows.encode(to);
        by.encode(to);
        zone.encode(to);
        basis.encode(to);
        cites.encode(to);
        check.encode(to);
        remedy.encode(to);
        caution.encode(to);
        ask.encode(to);
        stops.encode(to);
        no_concession.encode(to);
        in_force.encode(to);
        after.encode(to);
        takes.encode(to);
        to.apart(tries);
    }

    fn decode(from: &mut Reader<'_>) -> Option<Self> {
        Some(Self {
            whens: Codec::decode(from)?,
            lets: Codec::decode(from)?,
            needs: Codec::decode(from)?,
            shows: Codec::decode(from)?,
            by: Codec::decode(from)?,
            zone: Codec::decode(from)?,
            basis: Codec::decode(from)?,
            cites: Codec::decode(from)?,
            check: Codec::decode(from)?,
            remedy: Codec::decode(from)?,
            caution: Codec::decode(from)?,
            ask: Codec::decode(from)?,
            stops: Codec::decode(from)?,
            no_concession: Codec::decode(from)?,
            in_force: Codec::decode(from)?,
            after: Codec::decode(from)?,
            takes: Codec::decode(from)?,
            tries: from.apart()?,
            // Nothing that is made ready is.
            broken_off: false,
        })
    }
}

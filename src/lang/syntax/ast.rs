//! The tree as written: spans everywhere, nothing resolved. Each variant's
//! comment is the text it stands for.

use crate::quantity::{Date, DateRange, Quantity};
use crate::source::SharedText;
use crate::source::Span;
use crate::vocabulary::{Basis, Event, Mark};

/// A name with its place: `fuel.flow_test.rate`.
#[derive(Debug, Clone)]
pub(crate) struct Name {
    pub(crate) text: SharedText,
    pub(crate) span: Span,
}

impl Name {
    pub(crate) fn as_str(&self) -> &str {
        &self.text
    }
}

/// A string with its place: `"In service"`.
#[derive(Debug, Clone)]
pub(crate) struct Text {
    pub(crate) text: SharedText,
    pub(crate) span: Span,
}

/// One declaration of a file.
#[derive(Debug)]
pub(crate) enum Declaration {
    /// `source ac-43-13 "Acceptable Methods" number "AC 43.13-1B" ...`
    Source(SourceDecl),
    /// `zones  cabin "Cabin"  tail "Tail"`
    Words(WordsKind, Vec<WordDecl>),
    /// `choice nut : tension or shear`
    Choice(Name, Vec<Name>),
    /// `pattern us-mark "N, then ..." matching "N[1-9].*"`
    Pattern(Name, Text, Text),
    /// `fact fuel.feed : gravity or pump ask "..."`
    Fact(FactDecl),
    /// `list cabin.seats ask "..." field belt : yes or no named by name`
    List(ListDecl),
    /// `table wire (gauge : text) gives resistance : resistance per length ...`
    Table(TableDecl),
    /// `formula drop (i : current, r : resistance) = i * r`
    Formula(FormulaDecl),
    /// `item marks.height "..." need ... by visit basis law cite ...`
    Item(Box<ItemDecl>),
    /// `amend marks.height need ...`
    Amend(Box<AmendDecl>),
    /// `set aside marks.height because "..."`
    SetAside(SetAsideDecl),
    /// `disturbing engine.mount also disturbs exhaust`
    Disturb {
        subject: Name,
        /// Not where it is only disturbed with something else.
        itself: bool,
        also: Vec<Name>,
    },
}

/// Which block of titled words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum WordsKind {
    HoldPoints,
    Zones,
    Systems,
    Evidence,
    Roles,
    Subjects,
}

/// One word of a block.
#[derive(Debug)]
pub(crate) struct WordDecl {
    pub(crate) name: Name,
    pub(crate) title: Text,
    /// `zone tail`: of a part only.
    pub(crate) zone: Option<Name>,
    /// `in wings`: of a zone only.
    pub(crate) larger: Option<Name>,
    /// `never signs`: of a role only.
    pub(crate) never_signs: Option<Span>,
    /// `may concede (law, advice)`: of a role only.
    pub(crate) may_concede: Vec<Name>,
    /// `other than builder`: of a role only.
    pub(crate) other_than: Vec<Name>,
    /// `can be left off`: of a part only.
    pub(crate) can_be_left_off: Option<Span>,
}

#[derive(Debug)]
pub(crate) struct SourceDecl {
    pub(crate) name: Name,
    pub(crate) title: Text,
    pub(crate) number: Option<Text>,
    pub(crate) edition: Option<Text>,
    pub(crate) issuer: Option<Text>,
    pub(crate) mark: Option<(Mark, Option<DateRange>)>,
    pub(crate) superseded_by: Option<Text>,
}

/// A type as written.
#[derive(Debug, Clone)]
pub(crate) enum TypeExpr {
    /// `yes or no`
    YesNo,
    /// `gravity or pump`, or a single word: `length`, `text`, `wire-gauge`
    Words(Vec<Name>),
    /// `volume per time`: words, each after the first with whether it divides
    Quantity(Vec<(bool, Name)>),
}

#[derive(Debug, Clone)]
pub(crate) struct TypeDecl {
    pub(crate) optional: bool,
    pub(crate) kind: TypeExpr,
    pub(crate) limits: Option<Box<LimitsDecl>>,
}

#[derive(Debug, Clone)]
pub(crate) struct LimitsDecl {
    pub(crate) low: Option<Measured>,
    pub(crate) high: Option<Measured>,
    pub(crate) above: bool,
    pub(crate) below: bool,
    pub(crate) span: Span,
}

/// A quantity as written, with its place.
#[derive(Debug, Clone)]
pub(crate) struct Measured {
    pub(crate) quantity: Quantity,
    pub(crate) span: Span,
}

#[derive(Debug)]
pub(crate) struct FactDecl {
    pub(crate) name: Name,
    pub(crate) kind: TypeDecl,
    pub(crate) state: Option<StateDecl>,
    /// `none until visit`: the hold point.
    pub(crate) none_until: Option<Name>,
    pub(crate) ask: Option<Text>,
    pub(crate) example: Option<Text>,
}

/// Which part's state a value describes.
#[derive(Debug, Clone)]
pub(crate) struct StateDecl {
    /// The part; that of its record where it says `its part`.
    pub(crate) of: Option<PartOrAll>,
    /// `itself`: as the part is, not as it is fitted.
    pub(crate) itself: bool,
    /// `on that day`: as it was on the day that the value names.
    pub(crate) own_day: bool,
    pub(crate) span: Span,
}

#[derive(Debug)]
pub(crate) struct ListDecl {
    pub(crate) name: Name,
    /// The part its records are of.
    pub(crate) part: Option<PartOrAll>,
    pub(crate) ask: Option<Text>,
    pub(crate) fields: Vec<FactDecl>,
    pub(crate) named_by: Option<Name>,
    /// `many alike`: a record may stand for many.
    pub(crate) many_alike: bool,
}

/// How a numeric key of a table is looked up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum KeyMode {
    Exact,
    Linear,
    StepDown,
    StepUp,
}

#[derive(Debug)]
pub(crate) struct TableDecl {
    pub(crate) name: Name,
    pub(crate) keys: Vec<(Name, TypeDecl, KeyMode)>,
    pub(crate) columns: Vec<(Name, TypeDecl)>,
    pub(crate) cites: Vec<CiteDecl>,
    pub(crate) rows: Vec<TableRow>,
}

#[derive(Debug)]
pub(crate) struct TableRow {
    pub(crate) keys: Vec<Literal>,
    pub(crate) cells: Vec<Literal>,
    pub(crate) span: Span,
}

/// A constant: in a cell, or given in an example.
#[derive(Debug, Clone)]
pub(crate) struct Literal {
    pub(crate) kind: LiteralKind,
    pub(crate) span: Span,
    /// When and with what it was taken, in an example.
    pub(crate) taken: Option<Box<TakenDecl>>,
}

/// `dated 2026-10-04 with "kitchen scale"`
#[derive(Debug, Clone)]
pub(crate) struct TakenDecl {
    pub(crate) on: Option<DateRange>,
    pub(crate) instrument: Option<Text>,
}

#[derive(Debug, Clone)]
pub(crate) enum LiteralKind {
    /// `18 gal/h ± 1 gal/h`, `at least 3 in`
    Measured(Quantity),
    /// `2026-10`
    Date(DateRange),
    /// `"0107"`
    Text(SharedText),
    /// `gravity`, `yes`
    Word(SharedText),
    /// `none`
    None,
    /// `empty`
    Empty,
    /// `(title = "form", serial = none), (...)`, and whether `and maybe more` follows.
    Records(Vec<Vec<(Name, Literal)>>, bool),
}

#[derive(Debug, Clone)]
pub(crate) struct FormulaDecl {
    pub(crate) name: Name,
    pub(crate) parameters: Vec<(Name, TypeDecl)>,
    pub(crate) body: Expr,
}

#[derive(Debug, Clone)]
pub(crate) struct CiteDecl {
    pub(crate) document: Option<Name>,
    pub(crate) paragraph: Option<Text>,
    pub(crate) mark: Option<Mark>,
}

impl Declaration {
    /// What an item or an amendment says.
    pub(super) fn clauses_mut(&mut self) -> Option<&mut Clauses> {
        match self {
            Self::Item(item) => Some(&mut item.clauses),
            Self::Amend(amend) => Some(&mut amend.clauses),
            _ => None,
        }
    }
}

#[derive(Debug, Default)]
pub(crate) struct Clauses {
    /// What follows is not understood: others may stand there.
    pub(crate) broken_off: bool,
    pub(crate) whens: Vec<Expr>,
    /// `let` and `need` in the order written.
    pub(crate) lets: Vec<(Name, Expr)>,
    pub(crate) needs: Vec<Expr>,
    pub(crate) shows: Vec<(Vec<Name>, Name)>,
    pub(crate) by: Vec<Name>,
    pub(crate) zone: Vec<Name>,
    pub(crate) basis: Vec<(Basis, Span)>,
    pub(crate) cites: Vec<CiteDecl>,
    pub(crate) check: Vec<Text>,
    pub(crate) remedy: Vec<Text>,
    pub(crate) caution: Vec<Text>,
    pub(crate) ask: Vec<Text>,
    pub(crate) stops: bool,
    pub(crate) no_concession: bool,
    pub(crate) in_force: Vec<(Option<Date>, Option<Date>)>,
    /// Items that must be met before this job can be done.
    pub(crate) after: Vec<Name>,
    /// How long the job takes.
    pub(crate) takes: Vec<Measured>,
    pub(crate) tries: Vec<TryDecl>,
}

#[derive(Debug)]
pub(crate) struct ItemDecl {
    pub(crate) name: Name,
    pub(crate) each: Option<(Name, Name)>,
    pub(crate) title: Text,
    pub(crate) clauses: Clauses,
}

#[derive(Debug)]
pub(crate) struct AmendDecl {
    pub(crate) name: Name,
    pub(crate) clauses: Clauses,
}

#[derive(Debug)]
pub(crate) struct SetAsideDecl {
    pub(crate) name: Name,
    pub(crate) because: Text,
    pub(crate) basis: Vec<(Basis, Span)>,
    pub(crate) cites: Vec<CiteDecl>,
}

#[derive(Debug, Clone)]
pub(crate) struct TryDecl {
    pub(crate) name: Text,
    pub(crate) given: Vec<Given>,
    pub(crate) verdict: Name,
    pub(crate) span: Span,
}

/// One thing given in a worked example.
#[derive(Debug, Clone)]
pub(crate) enum Given {
    /// `on 2026-10-31`
    On(DateRange),
    /// `visit 2026-12-01`
    Visit(DateRange),
    /// `confirmed not by builder on 2026-10-01`
    Confirmed { holds: bool, by: Option<Name>, on: Option<DateRange>, span: Span },
    /// `person "Rosa Example" as builder`
    Person(Text, Name),
    /// `photo of fuel.flow_test`
    Evidence(Name, Name),
    /// `inspected controls.elevator by anna as builder on 2026-08-29`
    Entry(Box<EntryDecl>),
    /// `fuel.feed = gravity`
    Fact(Name, Literal),
}

/// A log entry given in a worked example.
#[derive(Debug, Clone)]
pub(crate) struct EntryDecl {
    pub(crate) event: Event,
    pub(crate) subject: Name,
    pub(crate) who: Option<Name>,
    pub(crate) role: Option<Name>,
    pub(crate) points: Vec<Name>,
    pub(crate) instrument: Option<Text>,
    /// Removed for good.
    pub(crate) for_good: bool,
    /// Refitted with another in its place.
    pub(crate) another: bool,
    pub(crate) on: DateRange,
    pub(crate) span: Span,
}

/// Who is asked.
#[derive(Debug, Clone, Default)]
pub(crate) struct ByWhom {
    /// `by builder or adviser`, `in role inspector`
    pub(crate) roles: Vec<Name>,
    /// `other than builder`: people with one of these roles do not count, in whatever role they speak.
    pub(crate) other_than: Vec<Name>,
}

/// What a person's word is about.
#[derive(Debug, Clone)]
pub(crate) enum PartOrAll {
    /// The whole aircraft: whatever is disturbed undoes it.
    Everything,
    /// `controls.elevator`
    Part(Name),
}

/// An expression with its place.
#[derive(Debug, Clone)]
pub(crate) struct Expr {
    pub(crate) kind: ExprKind,
    pub(crate) span: Span,
}

/// An ordering.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Order {
    Less,
    AtMost,
    More,
    AtLeast,
}

/// An arithmetic sign.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sign {
    Plus,
    Minus,
    Times,
    Divide,
}

/// A length of calendar time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum SpanUnit {
    CalendarMonths,
    Months,
    Years,
    Days,
}

/// What an aggregate does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Aggregate {
    Sum,
    Least,
    Greatest,
}

/// `NAME in LIST where COND`
#[derive(Debug, Clone)]
pub(crate) struct Over {
    pub(crate) variable: Name,
    pub(crate) list: Name,
    pub(crate) condition: Option<Box<Expr>>,
}

#[derive(Debug, Clone)]
pub(crate) enum ExprKind {
    /// `a or b`
    Or(Vec<Expr>),
    /// `a and b`
    And(Vec<Expr>),
    /// `not a`
    Not(Box<Expr>),
    /// `a <= b`
    Compare(Order, Box<Expr>, Box<Expr>),
    /// `a is b`, `a is not b`
    Is { left: Box<Expr>, right: Box<Expr>, negated: bool },
    /// `a is b ignoring capitals`
    SameLetters(Box<Expr>, Box<Expr>),
    /// `a is one of b, c`
    OneOf { left: Box<Expr>, among: Vec<Expr>, negated: bool },
    /// `a is between b and c`
    Between(Box<Expr>, Box<Expr>, Box<Expr>),
    /// `a is within 1 lb of b`
    Within(Box<Expr>, Box<Expr>, Box<Expr>),
    /// `a is within 3 % of b`
    WithinShare(Box<Expr>, Box<Measured>, Box<Expr>),
    /// `d is within the last 24 calendar months`
    WithinLast(Box<Expr>, u32, SpanUnit),
    /// `a is recorded`
    Recorded(Box<Expr>),
    /// `a is none`, `a is not none`
    IsNone(Box<Expr>, bool),
    /// `a fits us-mark`
    Fits(Box<Expr>, Name),
    /// `alike a, every papers.serial`
    Alike(Vec<(bool, Name)>),
    /// `every r in l where w has c`, `some r in l has c`
    Quantified { every: bool, over: Box<Over>, body: Box<Expr> },
    /// `confirmed by builder or adviser about controls.elevator`
    Confirmed { by: ByWhom, about: Vec<PartOrAll>, since: Option<Box<Expr>> },
    /// `inspected controls.elevator by 2 people in role builder noting (locking)`
    Logged { event: Event, subject: Name, people: Option<u32>, by: ByWhom, points: Vec<Name>, since: Option<Box<Expr>> },
    /// `a is after b`
    After(Box<Expr>, Box<Expr>),
    /// `person is somebody other than builder`
    SomebodyElse(Box<Expr>, Vec<Name>),
    /// `a + b`
    Arithmetic(Sign, Box<Expr>, Box<Expr>),
    /// `d + 24 calendar months`
    Shift(Box<Expr>, bool, u32, SpanUnit),
    /// `150 % of a`
    PercentOf(Box<Measured>, Box<Expr>),
    /// `sum of e for r in l where w or 0 lb if empty`
    Aggregate { how: Aggregate, value: Box<Expr>, over: Box<Over>, if_empty: Option<Box<Measured>> },
    /// `mean of e weighted by w for r in l`
    Mean { value: Box<Expr>, weight: Box<Expr>, over: Box<Over> },
    /// `count r in l where w`
    Count(Box<Over>),
    /// `drop(a, b)`
    Call(Name, Vec<Expr>),
    /// `wire[gauge].resistance`
    Lookup { table: Name, keys: Vec<Expr>, column: Option<Name> },
    /// `12 in`
    Measured(Box<Measured>),
    /// `2026-10-04`
    Date(DateRange),
    /// `"0107"`
    Text(SharedText),
    /// `yes`, `no`
    YesNo(bool),
    /// `today`
    Today,
    /// `fuel.feed`, `gravity`
    Name(SharedText),
}

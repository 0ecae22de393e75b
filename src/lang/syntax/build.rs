//! pest's pairs to the tree: one function per rule.

use super::Rule;
use super::ast::{
    CiteDecl, Declaration, FactDecl, FormulaDecl, KeyMode, LimitsDecl, ListDecl, Literal, LiteralKind, Measured, Name,
    PartOrAll, SourceDecl, StateDecl, TableDecl, TableRow, TakenDecl, Text, TypeDecl, TypeExpr, WordDecl, WordsKind,
};
use crate::diagnostic::Diagnostic;
use crate::quantity::{DateRange, Quantity, QuantityError};
use crate::source::{SourceId, Span};
use crate::vocabulary::{Basis, Mark};
use pest::iterators::{Pair, Pairs};

/// A message, boxed so that results stay small.
pub(super) type Fault = Box<Diagnostic>;
pub(super) type Node<'i> = Pair<'i, Rule>;

/// Builds the tree of one text.
pub(super) struct Builder<'i> {
    pub(super) source: SourceId,
    pub(super) text: &'i str,
}

/// A text that is no quantity, or one that nothing can be.
pub(crate) fn not_a_quantity(error: &QuantityError, message: String) -> Diagnostic {
    if error.impossible {
        Diagnostic::error("value::impossible", message)
    } else {
        Diagnostic::error("unit::unknown", message)
    }
}

/// The next inner pair; the grammar guarantees that it is there.
pub(super) fn next<'i>(pairs: &mut Pairs<'i, Rule>) -> Result<Node<'i>, Fault> {
    pairs.next().ok_or_else(|| {
        Box::new(Diagnostic::error("internal::syntax", "the grammar and the tree disagree; please report this text"))
    })
}

/// The next inner pair if it is of that rule.
pub(super) fn next_if<'i>(pairs: &mut Pairs<'i, Rule>, rule: Rule) -> Option<Node<'i>> {
    if pairs.peek().is_some_and(|pair| pair.as_rule() == rule) { pairs.next() } else { None }
}

/// The inner pairs without the one-token rules.
pub(super) fn parts(pair: Node<'_>) -> Vec<Node<'_>> {
    pair.into_inner().filter(|inner| !is_token(inner.as_rule())).collect()
}

/// Keywords and punctuation stand together in the grammar, and so in the order of rules.
fn is_token(rule: Rule) -> bool {
    (Rule::op_colon..=Rule::op_leads_to).contains(&rule) || (Rule::kw_source..=Rule::kw_today).contains(&rule)
}

impl<'i> Builder<'i> {
    pub(super) fn new(source: SourceId, text: &'i str) -> Self {
        Self { source, text }
    }

    pub(super) fn span(&self, pair: &Node<'_>) -> Span {
        Span::new(self.source, pair.as_span().start(), last_end(pair.clone()))
    }

    pub(super) fn name(&self, pair: &Node<'_>) -> Name {
        Name { text: pair.as_str().to_owned().into(), span: self.span(pair) }
    }

    /// A string: line breaks with their indentation become one space.
    pub(super) fn string(&self, pair: &Node<'_>) -> Text {
        let raw = pair.as_str();
        let inner = raw.get(1..raw.len().saturating_sub(1)).unwrap_or("").replace("\"\"", "\"");
        let mut lines = inner.split('\n');
        let mut text = lines.next().unwrap_or("").trim_end_matches('\r').to_owned();
        for line in lines {
            text = format!("{} {}", text.trim_end(), line.trim_start().trim_end_matches('\r'));
        }
        Text { text: text.into(), span: self.span(pair) }
    }

    pub(super) fn declaration(&self, pair: Node<'i>) -> Result<Declaration, Fault> {
        let inner = next(&mut pair.into_inner())?;
        Ok(match inner.as_rule() {
            Rule::source_decl => Declaration::Source(self.source_decl(inner)?),
            Rule::hold_points => self.words(WordsKind::HoldPoints, inner),
            Rule::zones => self.words(WordsKind::Zones, inner),
            Rule::systems => self.words(WordsKind::Systems, inner),
            Rule::evidence_kinds => self.words(WordsKind::Evidence, inner),
            Rule::roles => self.words(WordsKind::Roles, inner),
            Rule::subjects => self.words(WordsKind::Subjects, inner),
            Rule::choice_decl => {
                let parts = parts(inner);
                let mut parts = parts.into_iter();
                let name = parts.next().map(|p| self.name(&p));
                let words = parts.flat_map(self::parts).map(|p| self.name(&p)).collect();
                Declaration::Choice(name.ok_or_else(unreachable_fault)?, words)
            }
            Rule::pattern_decl => {
                let [name, title, form] = self.exactly(parts(inner))?;
                Declaration::Pattern(self.name(&name), self.string(&title), self.string(&form))
            }
            Rule::fact_decl => Declaration::Fact(self.fact(inner)?),
            Rule::list_decl => Declaration::List(self.list(inner)?),
            Rule::table_decl => Declaration::Table(self.table(inner)?),
            Rule::formula_decl => Declaration::Formula(self.formula(inner)?),
            Rule::item_decl => Declaration::Item(Box::new(self.item(inner)?)),
            Rule::amend_decl => Declaration::Amend(Box::new(self.amend(inner)?)),
            Rule::set_aside_decl => Declaration::SetAside(self.set_aside(inner)?),
            _ => {
                let itself = inner.clone().into_inner().any(|part| part.as_rule() == Rule::kw_itself);
                let mut names = parts(inner).into_iter().map(|p| self.name(&p));
                let subject = names.next().ok_or_else(unreachable_fault)?;
                Declaration::Disturb { subject, itself, also: names.collect() }
            }
        })
    }

    pub(super) fn exactly<const N: usize>(&self, pairs: Vec<Node<'i>>) -> Result<[Node<'i>; N], Fault> {
        pairs.try_into().map_err(|_| unreachable_fault())
    }

    fn words(&self, kind: WordsKind, pair: Node<'i>) -> Declaration {
        let rows = parts(pair).into_iter().filter_map(|row| {
            let mut inner = row.into_inner();
            let (name, title) = (self.name(&inner.next()?), self.string(&inner.next()?));
            let (mut zone, mut larger, mut never_signs, mut can_be_left_off) = (None, None, None, None);
            let (mut may_concede, mut other_than) = (Vec::new(), Vec::new());
            for part in inner {
                match part.as_rule() {
                    Rule::kw_never_signs => never_signs = Some(self.span(&part)),
                    Rule::kw_can_be_left_off => can_be_left_off = Some(self.span(&part)),
                    Rule::may_concede => may_concede.extend(parts_of(part).iter().map(|p| self.name(p))),
                    Rule::other_than => other_than.extend(parts_of(part).iter().map(|p| self.name(p))),
                    Rule::in_larger => larger = parts_of(part).first().map(|p| self.name(p)),
                    _ => zone = parts_of(part).first().map(|p| self.name(p)),
                }
            }
            Some(WordDecl { name, title, zone, larger, never_signs, may_concede, other_than, can_be_left_off })
        });
        Declaration::Words(kind, rows.collect())
    }

    fn source_decl(&self, pair: Node<'i>) -> Result<SourceDecl, Fault> {
        let mut inner = parts(pair).into_iter();
        let (Some(name), Some(title)) = (inner.next(), inner.next()) else { return Err(unreachable_fault()) };
        let mut decl = SourceDecl {
            name: self.name(&name),
            title: self.string(&title),
            number: None,
            edition: None,
            issuer: None,
            mark: None,
            superseded_by: None,
        };
        for clause in inner.flat_map(Pair::into_inner) {
            let rule = clause.as_rule();
            let parts = parts(clause);
            let text = parts.first().map(|p| self.string(p));
            match rule {
                Rule::number_clause => decl.number = text,
                Rule::edition_clause => decl.edition = text,
                Rule::issuer_clause => decl.issuer = text,
                Rule::superseded_clause => decl.superseded_by = text,
                _ => {
                    let mark = parts.first().map_or(Mark::Memory, mark);
                    let on = parts.get(1).map(|p| self.date(p)).transpose()?;
                    decl.mark = Some((mark, on));
                }
            }
        }
        Ok(decl)
    }

    pub(super) fn date(&self, pair: &Node<'_>) -> Result<DateRange, Fault> {
        DateRange::parse(pair.as_str()).map_err(|error| {
            Box::new(
                Diagnostic::error("date::invalid", error.to_string())
                    .at(self.span(pair), "this date")
                    .help("write a date as 2026-10-04, or a month as 2026-10"),
            )
        })
    }

    /// A whole day: where a month would leave the meaning open.
    pub(super) fn day(&self, pair: &Node<'_>) -> Result<crate::quantity::Date, Fault> {
        let range = self.date(pair)?;
        if range.first == range.last {
            return Ok(range.first);
        }
        Err(Box::new(
            Diagnostic::error("date::invalid", format!("`{}` is a month; a day is needed here", pair.as_str()))
                .at(self.span(pair), "a month")
                .help("write the day too: 2026-10-04"),
        ))
    }

    pub(super) fn measured(&self, pair: &Node<'_>) -> Result<Measured, Fault> {
        self.quantity_text(self.span(pair))
    }

    pub(super) fn quantity_text(&self, span: Span) -> Result<Measured, Fault> {
        let text = self.text.get(span.range()).unwrap_or("");
        Quantity::parse(text).map(|quantity| Measured { quantity, span }).map_err(|error| {
            let start = (span.start as usize).saturating_add(error.at.start);
            let end = (span.start as usize).saturating_add(error.at.end.max(error.at.start.saturating_add(1)));
            Box::new(
                not_a_quantity(&error, error.message.chars().take(300).collect())
                    .at(Span::new(self.source, start, end), "here")
                    .help(format!("write {}", error.expected)),
            )
        })
    }

    pub(super) fn type_decl(&self, pair: Node<'i>) -> Result<TypeDecl, Fault> {
        let mut decl = TypeDecl { optional: false, kind: TypeExpr::YesNo, limits: None };
        for inner in pair.into_inner() {
            match inner.as_rule() {
                Rule::kw_optional => decl.optional = true,
                Rule::quantity_type => {
                    let (mut divides, mut words) = (false, Vec::new());
                    for part in inner.into_inner() {
                        if part.as_rule() == Rule::type_join {
                            divides = part.as_str() == "per";
                        } else {
                            words.push((divides, self.name(&part)));
                        }
                    }
                    decl.kind = TypeExpr::Quantity(words);
                }
                Rule::kw_count => decl.kind = TypeExpr::Words(vec![self.name(&inner)]),
                Rule::words_type => decl.kind = TypeExpr::Words(parts(inner).iter().map(|p| self.name(p)).collect()),
                Rule::limits => decl.limits = Some(Box::new(self.limits(inner)?)),
                _ => {}
            }
        }
        Ok(decl)
    }

    fn limits(&self, pair: Node<'i>) -> Result<LimitsDecl, Fault> {
        let span = self.span(&pair);
        let form = parts(pair).into_iter().next().ok_or_else(unreachable_fault)?;
        let (rule, text_span) = (form.as_rule(), self.span(&form));
        let values = parts(form).iter().map(|p| self.measured(p)).collect::<Result<Vec<_>, _>>()?;
        let mut values = values.into_iter();
        let (first, second) = (values.next(), values.next());
        let base = LimitsDecl { low: None, high: None, above: false, below: false, span: text_span.to(span) };
        let base = LimitsDecl { span: text_span, ..base };
        Ok(match rule {
            Rule::above => LimitsDecl { low: first, above: true, ..base },
            Rule::at_least => LimitsDecl { low: first, ..base },
            Rule::below => LimitsDecl { high: first, below: true, ..base },
            Rule::at_most => LimitsDecl { high: first, ..base },
            _ => LimitsDecl { low: first, high: second, ..base },
        })
    }

    fn fact(&self, pair: Node<'i>) -> Result<FactDecl, Fault> {
        let mut parts = parts(pair).into_iter();
        let (Some(name), Some(kind)) = (parts.next(), parts.next()) else { return Err(unreachable_fault()) };
        let (mut state, mut none_until, mut asked) = (None, None, (None, None));
        for part in parts {
            match part.as_rule() {
                Rule::state_of => state = Some(self.state(part)),
                Rule::none_until => {
                    let point = part.into_inner().find(|inner| inner.as_rule() == Rule::name);
                    none_until = point.map(|point| self.name(&point));
                }
                _ => asked = self.question(part),
            }
        }
        let (ask, example) = asked;
        Ok(FactDecl { name: self.name(&name), kind: self.type_decl(kind)?, state, none_until, ask, example })
    }

    fn state(&self, pair: Node<'i>) -> StateDecl {
        let mut decl = StateDecl { of: None, itself: false, own_day: false, span: self.span(&pair) };
        for part in pair.into_inner() {
            match part.as_rule() {
                Rule::kw_itself => decl.itself = true,
                Rule::kw_on_that_day => decl.own_day = true,
                Rule::everything | Rule::name => decl.of = Some(self.part_or_all(&part)),
                _ => {}
            }
        }
        decl
    }

    pub(super) fn part_or_all(&self, part: &Node<'i>) -> PartOrAll {
        match part.as_rule() {
            Rule::everything => PartOrAll::Everything,
            _ => PartOrAll::Part(self.name(part)),
        }
    }

    fn question(&self, pair: Node<'i>) -> (Option<Text>, Option<Text>) {
        let strings: Vec<_> = parts(pair).iter().map(|p| self.string(p)).collect();
        let mut strings = strings.into_iter();
        (strings.next(), strings.next())
    }

    fn list(&self, pair: Node<'i>) -> Result<ListDecl, Fault> {
        let mut parts = parts(pair).into_iter();
        let name = parts.next().ok_or_else(unreachable_fault)?;
        let mut decl = ListDecl {
            name: self.name(&name),
            part: None,
            ask: None,
            fields: Vec::new(),
            named_by: None,
            many_alike: false,
        };
        for part in parts {
            match part.as_rule() {
                Rule::question => decl.ask = self.question(part).0,
                Rule::list_part => decl.part = self::parts(part).first().map(|part| self.part_or_all(part)),
                Rule::field => decl.fields.push(self.fact(part)?),
                Rule::many_alike => decl.many_alike = true,
                _ => decl.named_by = self::parts(part).first().map(|p| self.name(p)),
            }
        }
        Ok(decl)
    }

    fn table(&self, pair: Node<'i>) -> Result<TableDecl, Fault> {
        let mut decl: Option<TableDecl> = None;
        for part in parts(pair) {
            match (part.as_rule(), &mut decl) {
                (Rule::name, _) => {
                    decl = Some(TableDecl {
                        name: self.name(&part),
                        keys: Vec::new(),
                        columns: Vec::new(),
                        cites: Vec::new(),
                        rows: Vec::new(),
                    });
                }
                (Rule::table_key, Some(decl)) => decl.keys.push(self.table_key(part)?),
                (Rule::table_column, Some(decl)) => {
                    let [name, kind] = self.exactly(parts_of(part))?;
                    decl.columns.push((self.name(&name), self.type_decl(kind)?));
                }
                (Rule::cite, Some(decl)) => decl.cites.push(self.cite(part)),
                (Rule::row, Some(decl)) => decl.rows.push(self.table_row(part)?),
                _ => {}
            }
        }
        decl.ok_or_else(unreachable_fault)
    }

    fn table_key(&self, pair: Node<'i>) -> Result<(Name, TypeDecl, KeyMode), Fault> {
        let mut inner = parts_of(pair).into_iter();
        let (Some(name), Some(kind)) = (inner.next(), inner.next()) else { return Err(unreachable_fault()) };
        let mode =
            match inner.next().map(|mode| mode.as_str().split_whitespace().collect::<Vec<_>>().join(" ")).as_deref() {
                Some("linear") => KeyMode::Linear,
                Some("step down") => KeyMode::StepDown,
                Some("step up") => KeyMode::StepUp,
                _ => KeyMode::Exact,
            };
        Ok((self.name(&name), self.type_decl(kind)?, mode))
    }

    fn table_row(&self, pair: Node<'i>) -> Result<TableRow, Fault> {
        let span = self.span(&pair);
        let (mut keys, mut cells, mut after_colon) = (Vec::new(), Vec::new(), false);
        for part in pair.into_inner() {
            match part.as_rule() {
                Rule::op_colon => after_colon = true,
                Rule::cell if after_colon => cells.push(self.literal(part)?),
                Rule::cell => keys.push(self.literal(part)?),
                _ => {}
            }
        }
        Ok(TableRow { keys, cells, span })
    }

    /// A cell, or a value given in an example.
    pub(super) fn literal(&self, pair: Node<'i>) -> Result<Literal, Fault> {
        let span = self.span(&pair);
        let inner = next(&mut pair.into_inner())?;
        let kind = match inner.as_rule() {
            Rule::measured => LiteralKind::Measured(self.measured(&inner)?.quantity),
            Rule::given_range => LiteralKind::Measured(self.quantity_text(self.span(&inner))?.quantity),
            Rule::date => LiteralKind::Date(self.date(&inner)?),
            Rule::string => LiteralKind::Text(self.string(&inner).text),
            Rule::kw_none => LiteralKind::None,
            Rule::kw_empty => LiteralKind::Empty,
            Rule::records => {
                let (records, more): (Vec<_>, Vec<_>) =
                    parts(inner).into_iter().partition(|part| part.as_rule() == Rule::record);
                let records = records.into_iter().map(|record| self.record(record)).collect::<Result<_, _>>()?;
                LiteralKind::Records(records, !more.is_empty())
            }
            _ => LiteralKind::Word(inner.as_str().to_owned().into()),
        };
        Ok(Literal { kind, span, taken: None })
    }

    /// A value of an example, with when and with what it was taken.
    pub(super) fn given_literal(&self, value: Node<'i>, taken: Option<Node<'i>>) -> Result<Literal, Fault> {
        let mut literal = self.literal(value)?;
        if let Some(taken) = taken {
            let mut decl = TakenDecl { on: None, instrument: None };
            for part in parts(taken) {
                match part.as_rule() {
                    Rule::date => decl.on = Some(self.date(&part)?),
                    _ => decl.instrument = parts(part).first().map(|text| self.string(text)),
                }
            }
            literal.taken = Some(Box::new(decl));
        }
        Ok(literal)
    }

    fn record(&self, pair: Node<'i>) -> Result<Vec<(Name, Literal)>, Fault> {
        parts(pair)
            .into_iter()
            .map(|field| {
                let mut inner = parts(field).into_iter();
                let (Some(name), Some(value)) = (inner.next(), inner.next()) else { return Err(unreachable_fault()) };
                Ok((self.name(&name), self.given_literal(value, inner.next())?))
            })
            .collect()
    }

    fn formula(&self, pair: Node<'i>) -> Result<FormulaDecl, Fault> {
        let mut parts = parts(pair);
        let body = parts.pop().ok_or_else(unreachable_fault)?;
        let mut parts = parts.into_iter();
        let name = parts.next().ok_or_else(unreachable_fault)?;
        let parameters = parts.map(|p| {
            let [name, kind] = self.exactly(parts_of(p))?;
            Ok((self.name(&name), self.type_decl(kind)?))
        });
        Ok(FormulaDecl {
            name: self.name(&name),
            parameters: parameters.collect::<Result<_, Fault>>()?,
            body: self.expression(body)?,
        })
    }

    pub(super) fn cite(&self, pair: Node<'i>) -> CiteDecl {
        let mut decl = CiteDecl { document: None, paragraph: None, mark: None };
        for part in parts(pair) {
            match part.as_rule() {
                Rule::name => decl.document = Some(self.name(&part)),
                Rule::string => decl.paragraph = Some(self.string(&part)),
                _ => decl.mark = Some(mark(&part)),
            }
        }
        decl
    }
}

/// Where the last token of a pair ends: a composite rule also takes the blanks
/// and comments before an absent last part, which are none of its text.
fn last_end(pair: Node<'_>) -> usize {
    let end = pair.as_span().end();
    if matches!(pair.as_rule(), Rule::percentage | Rule::string) {
        return end;
    }
    pair.into_inner().last().map_or(end, last_end)
}

pub(super) fn parts_of(pair: Node<'_>) -> Vec<Node<'_>> {
    parts(pair)
}

/// The grammar makes these shapes impossible; a message beats a panic all the same.
pub(super) fn unreachable_fault() -> Fault {
    Box::new(Diagnostic::error("internal::syntax", "the grammar and the tree disagree; please report this text"))
}

fn mark(pair: &Node<'_>) -> Mark {
    match pair.as_str().trim() {
        "read" => Mark::Read,
        "quoted" => Mark::Quoted,
        _ => Mark::Memory,
    }
}

pub(super) fn basis(pair: &Node<'_>) -> Basis {
    match pair.as_str().trim() {
        "law" => Basis::Law,
        "limitations" => Basis::Limitations,
        "advice" => Basis::Advice,
        "handbook" => Basis::Handbook,
        "association" => Basis::Association,
        "kit" => Basis::Kit,
        "own" => Basis::Own,
        _ => Basis::CommonPractice,
    }
}

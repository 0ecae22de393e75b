//! Items, amendments and worked examples: pest's pairs to the tree.

use super::Rule;
use super::ast::{AmendDecl, Clauses, EntryDecl, Given, ItemDecl, SetAsideDecl, TryDecl};
use super::build::{Builder, Fault, Node, basis, next, parts, unreachable_fault};
use super::expression::event;
use crate::source::Span;

impl<'i> Builder<'i> {
    pub(super) fn item(&self, pair: Node<'i>) -> Result<ItemDecl, Fault> {
        let mut inner = parts(pair).into_iter().peekable();
        let name = inner.next().ok_or_else(unreachable_fault)?;
        let each = match inner.next_if(|p| p.as_rule() == Rule::for_each) {
            Some(each) => {
                let [variable, list] = self.exactly(parts(each))?;
                Some((self.name(&variable), self.name(&list)))
            }
            None => None,
        };
        let title = inner.next().ok_or_else(unreachable_fault)?;
        let mut clauses = Clauses::default();
        for clause in inner {
            self.clause(clause, &mut clauses)?;
        }
        Ok(ItemDecl { name: self.name(&name), each, title: self.string(&title), clauses })
    }

    pub(super) fn amend(&self, pair: Node<'i>) -> Result<AmendDecl, Fault> {
        let mut inner = parts(pair).into_iter();
        let name = inner.next().ok_or_else(unreachable_fault)?;
        let mut clauses = Clauses::default();
        for clause in inner {
            self.clause(clause, &mut clauses)?;
        }
        Ok(AmendDecl { name: self.name(&name), clauses })
    }

    pub(super) fn set_aside(&self, pair: Node<'i>) -> Result<SetAsideDecl, Fault> {
        let mut inner = parts(pair).into_iter();
        let (Some(name), Some(because)) = (inner.next(), inner.next()) else { return Err(unreachable_fault()) };
        let (name, because) = (self.name(&name), self.string(&because));
        let mut decl = SetAsideDecl { name, because, basis: Vec::new(), cites: Vec::new() };
        for clause in inner {
            let clause = next(&mut clause.into_inner())?;
            let span = self.span(&clause);
            if clause.as_rule() == Rule::cite {
                decl.cites.push(self.cite(clause));
            } else {
                decl.basis.extend(parts(clause).first().map(|word| (basis(word), span)));
            }
        }
        Ok(decl)
    }

    pub(super) fn clause(&self, pair: Node<'i>, clauses: &mut Clauses) -> Result<(), Fault> {
        let clause = next(&mut pair.into_inner())?;
        let (rule, span) = (clause.as_rule(), self.span(&clause));
        if rule == Rule::cite {
            clauses.cites.push(self.cite(clause));
            return Ok(());
        }
        if rule == Rule::try_clause {
            clauses.tries.push(self.try_clause(clause)?);
            return Ok(());
        }
        if rule == Rule::in_force_clause {
            let (mut from, mut until, mut second) = (None, None, false);
            for part in clause.into_inner() {
                match part.as_rule() {
                    Rule::kw_until => second = true,
                    Rule::date if second => until = Some(self.day(&part)?),
                    Rule::date => from = Some(self.day(&part)?),
                    _ => {}
                }
            }
            clauses.in_force.push((from, until));
            return Ok(());
        }
        let mut inner = parts(clause).into_iter();
        let first = inner.next();
        match (rule, first) {
            (Rule::when_clause, Some(e)) => clauses.whens.push(self.expression(e)?),
            (Rule::need_clause, Some(e)) => clauses.needs.push(self.expression(e)?),
            (Rule::let_clause, Some(name)) => {
                let value = inner.next().ok_or_else(unreachable_fault)?;
                clauses.lets.push((self.name(&name), self.expression(value)?));
            }
            (Rule::show_clause, Some(first)) => {
                let mut names: Vec<_> = std::iter::once(first).chain(inner).map(|p| self.name(&p)).collect();
                let subject = names.pop().ok_or_else(unreachable_fault)?;
                clauses.shows.push((names, subject));
            }
            (Rule::by_clause, Some(p)) => clauses.by.push(self.name(&p)),
            (Rule::zone_clause, Some(p)) => clauses.zone.push(self.name(&p)),
            (Rule::basis_clause, Some(p)) => clauses.basis.push((basis(&p), span)),
            (Rule::check_clause, Some(p)) => clauses.check.push(self.string(&p)),
            (Rule::remedy_clause, Some(p)) => clauses.remedy.push(self.string(&p)),
            (Rule::caution_clause, Some(p)) => clauses.caution.push(self.string(&p)),
            (Rule::ask_clause, Some(p)) => clauses.ask.push(self.string(&p)),
            (Rule::after_clause, Some(first)) => {
                clauses.after.extend(std::iter::once(first).chain(inner).map(|p| self.name(&p)));
            }
            (Rule::takes_clause, Some(p)) => clauses.takes.push(self.measured(&p)?),
            (Rule::stops_clause, _) => clauses.stops = true,
            (Rule::no_concession_clause, _) => clauses.no_concession = true,
            _ => return Err(unreachable_fault()),
        }
        Ok(())
    }

    pub(super) fn try_clause(&self, pair: Node<'i>) -> Result<TryDecl, Fault> {
        let span = self.span(&pair);
        let mut parts = parts(pair);
        let verdict = parts.pop().ok_or_else(unreachable_fault)?;
        let mut parts = parts.into_iter();
        let name = parts.next().ok_or_else(unreachable_fault)?;
        let given = parts.map(|p| self.given(p)).collect::<Result<_, _>>()?;
        Ok(TryDecl { name: self.string(&name), given, verdict: self.name(&verdict), span })
    }

    pub(super) fn given(&self, pair: Node<'i>) -> Result<Given, Fault> {
        let inner = next(&mut pair.into_inner())?;
        let (rule, span) = (inner.as_rule(), self.span(&inner));
        if rule == Rule::given_confirmed {
            let mut given = (true, None, None);
            for part in inner.into_inner() {
                match part.as_rule() {
                    Rule::kw_not => given.0 = false,
                    Rule::word => given.1 = Some(self.name(&part)),
                    Rule::date => given.2 = Some(self.date(&part)?),
                    _ => {}
                }
            }
            return Ok(Given::Confirmed { holds: given.0, by: given.1, on: given.2, span });
        }
        if rule == Rule::given_entry {
            return Ok(Given::Entry(Box::new(self.given_entry(inner, span)?)));
        }
        let mut inner = parts(inner).into_iter();
        let first = inner.next().ok_or_else(unreachable_fault)?;
        Ok(match rule {
            Rule::given_on => Given::On(self.date(&first)?),
            Rule::given_visit => Given::Visit(self.date(&first)?),
            Rule::given_person => {
                Given::Person(self.string(&first), self.name(&inner.next().ok_or_else(unreachable_fault)?))
            }
            Rule::given_evidence => {
                Given::Evidence(self.name(&first), self.name(&inner.next().ok_or_else(unreachable_fault)?))
            }
            _ => {
                let value = inner.next().ok_or_else(unreachable_fault)?;
                Given::Fact(self.name(&first), self.given_literal(value, inner.next())?)
            }
        })
    }

    fn given_entry(&self, pair: Node<'i>, span: Span) -> Result<EntryDecl, Fault> {
        let mut inner = parts(pair).into_iter();
        let (Some(verb), Some(subject), Some(on)) = (inner.next(), inner.next(), inner.next_back()) else {
            return Err(unreachable_fault());
        };
        let verb = event(next(&mut verb.into_inner())?.as_rule());
        let (subject, on) = (self.name(&subject), self.date(&on)?);
        let (who, role, points, instrument) = (None, None, Vec::new(), None);
        let (for_good, another) = (false, false);
        let mut decl = EntryDecl { event: verb, subject, who, role, points, instrument, for_good, another, on, span };
        for part in inner.flat_map(Node::into_inner) {
            let rule = part.as_rule();
            let words = parts(part);
            let first = words.first().map(|p| self.name(p));
            match rule {
                Rule::by_person => decl.who = first,
                Rule::as_role => decl.role = first,
                Rule::kw_for_good => decl.for_good = true,
                Rule::kw_with_another => decl.another = true,
                Rule::noting => decl.points = words.iter().map(|p| self.name(p)).collect(),
                _ => decl.instrument = words.first().map(|p| self.string(p)),
            }
        }
        Ok(decl)
    }
}

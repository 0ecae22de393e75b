//! Why a condition came out as it did: the parts that decided, the values
//! they saw, and where those are recorded. Worked out only when asked for.

use super::finding::{Held, Missing, Reason, Seen};
use super::judge::Judge;
use super::lapses::Shown;
use crate::eval::{Evaluation, set_row};
use crate::eval::{Wanting, store_number};
use crate::ir::{Condition, Frame, NO_NODE, Number, Operand, Store};
use crate::ir::{Fact, List};
use crate::project::Recorded;
use crate::quantity::{Date, Dimension, Exact, Range, Truth, Unit, show};
use crate::source::{Sources, Span};

/// At most so many records are named one by one in one reason.
const MAX_RECORDS: usize = 12;

/// Everything an explanation reads.
pub(super) struct Explanation<'a> {
    pub(super) judge: &'a Judge<'a>,
    pub(super) sources: &'a Sources,
    pub(super) evaluation: Evaluation<'a>,
}

impl Explanation<'_> {
    /// The reasons for a condition's outcome.
    pub(super) fn reasons(&self, node: u32, frame: &mut Frame, out: &mut Vec<Reason>) {
        let truth = self.evaluation.truth(node, frame);
        let Some(condition) = self.judge.rules.program.conditions.get(node as usize).copied() else { return };
        match condition {
            Condition::Not(part) => self.reasons(part, frame, out),
            Condition::And { start, len } | Condition::Or { start, len } => {
                for part in self.judge.rules.program.arguments(start, len) {
                    if self.evaluation.truth(*part, frame) == truth {
                        self.reasons(*part, frame, out);
                    }
                }
            }
            Condition::Every(over, body) | Condition::Some(over, body) => {
                self.loop_reasons(node, over, body, truth, frame, out);
            }
            _ => out.push(self.leaf(node, condition, truth, frame)),
        }
    }

    fn loop_reasons(
        &self,
        node: u32,
        over: crate::ir::Loop,
        body: u32,
        truth: Truth,
        frame: &mut Frame,
        out: &mut Vec<Reason>,
    ) {
        let every = matches!(self.judge.rules.program.conditions.get(node as usize), Some(Condition::Every(..)));
        let list = self.judge.rules.lists.get(over.list as usize).map_or("", |list| list.name.as_str());
        let len = self.evaluation.len(over.list);
        let mut reason = Reason {
            expression: self.text(self.condition_span(node)),
            held: held(truth),
            values: Vec::new(),
            note: None,
            lapses: Vec::new(),
        };
        let Some(len) = len.filter(|len| *len > 0) else {
            reason.note = Some(if len.is_none() {
                format!("`{list}` is not recorded")
            } else {
                format!("`{list}` is recorded as empty, which proves nothing")
            });
            out.push(reason);
            return;
        };
        // What every record agrees on is one reason; what sets some apart is theirs.
        let settled = (truth == Truth::True) == every && truth != Truth::Undecided;
        if settled {
            reason.note = Some(format!("looked at {len} records of `{list}`"));
            if !every {
                reason.values = self.why_none(over, body, len, frame);
            }
            out.push(reason);
            return;
        }
        let mut told = 0usize;
        for row in 0..len {
            set_row(frame, over.frame, row);
            let among = self.evaluation.among(over, frame);
            let holds = if every {
                (!among).or(self.evaluation.truth(body, frame))
            } else {
                among.and(self.evaluation.truth(body, frame))
            };
            if holds != truth {
                continue;
            }
            told = told.saturating_add(1);
            if told <= MAX_RECORDS {
                self.reasons(body, frame, out);
                if over.condition != NO_NODE && among == Truth::Undecided {
                    self.reasons(over.condition, frame, out);
                }
            }
        }
        if told > MAX_RECORDS {
            reason.note = Some(format!("and {} more records of `{list}`", told.saturating_sub(MAX_RECORDS)));
            out.push(reason);
        }
    }

    /// Where no record will do: what was seen of each that kept it from it.
    fn why_none(&self, over: crate::ir::Loop, body: u32, len: u32, frame: &mut Frame) -> Vec<Seen> {
        let mut reasons = Vec::new();
        for row in (0..len).take(MAX_RECORDS) {
            set_row(frame, over.frame, row);
            let left_out = self.evaluation.among(over, frame) == Truth::False;
            self.reasons(if left_out { over.condition } else { body }, frame, &mut reasons);
        }
        let mut values: Vec<Seen> = reasons.into_iter().flat_map(|reason| reason.values).collect();
        values.dedup();
        values
    }

    fn leaf(&self, node: u32, condition: Condition, truth: Truth, frame: &mut Frame) -> Reason {
        let (mut values, mut note, mut lapses) = (Vec::new(), None, Vec::new());
        match condition {
            Condition::Compare { left, right, .. } | Condition::Equal(left, right) => {
                self.sides(&[left, right], frame, &mut values);
            }
            Condition::CompareConstant { sides, .. } => {
                self.sides(self.judge.rules.program.arguments(sides, 2), frame, &mut values);
            }
            Condition::CompareScaled { sides, .. } => {
                self.sides(self.judge.rules.program.arguments(sides.saturating_add(2), 2), frame, &mut values);
            }
            Condition::WithinLast(date, _) => {
                self.sides(&[date], frame, &mut values);
                note = Some(format!("judged for {}", self.day()));
            }
            Condition::Words(operand, _) => values.extend(self.seen(Store::Words, operand, frame)),
            Condition::SameWords(a, b) => {
                values.extend([a, b].into_iter().filter_map(|o| self.seen(Store::Words, o, frame)));
            }
            Condition::SameText(a, b) | Condition::SameLetters(a, b) => {
                values.extend([a, b].into_iter().filter_map(|o| self.seen(Store::Texts, o, frame)));
            }
            Condition::Fits(operand, pattern) => {
                values.extend(self.seen(Store::Texts, operand, frame));
                note = self.judge.rules.program.patterns.get(pattern as usize).map(|pattern| pattern.title.clone());
            }
            Condition::Absent(store, operand) | Condition::Recorded(store, operand) => {
                values.extend(self.seen(store, operand, frame));
            }
            Condition::Alike { start, len } => note = self.variants(start, len, frame, &mut values),
            Condition::Confirmed { roles, about } => {
                let shown = self.spoken(roles, about);
                (values, note, lapses) = (shown.values, shown.note, shown.lapses);
            }
            Condition::Logged(entry) => {
                let shown = self.shown(entry);
                (values, note, lapses) = (shown.values, shown.note, shown.lapses);
            }
            Condition::Constant(_)
            | Condition::Not(_)
            | Condition::And { .. }
            | Condition::Or { .. }
            | Condition::Every(..)
            | Condition::Some(..) => {}
        }
        values.dedup();
        if self.reads_today(condition) && note.is_none() {
            note = Some(format!("judged for {}", self.day()));
        }
        Reason { expression: self.text(self.condition_span(node)), held: held(truth), values, note, lapses }
    }

    fn reads_today(&self, condition: Condition) -> bool {
        let sides = match condition {
            Condition::Compare { left, right, .. } | Condition::Equal(left, right) => [left, right],
            _ => return false,
        };
        sides.into_iter().any(|node| self.node_reads_today(node))
    }

    fn node_reads_today(&self, node: u32) -> bool {
        match self.judge.rules.program.numbers.get(node as usize) {
            Some(Number::Today) => true,
            Some(Number::Add(a, b) | Number::Subtract(a, b) | Number::Multiply(a, b) | Number::Divide(a, b)) => {
                self.node_reads_today(*a) || self.node_reads_today(*b)
            }
            Some(Number::Shift(a, _)) => self.node_reads_today(*a),
            _ => false,
        }
    }

    /// The day being judged.
    fn day(&self) -> String {
        date_text(&self.evaluation.today_exact())
    }

    /// A worked-out number in the unit its facts were written in.
    pub(super) fn value_text(&self, node: u32, frame: &mut Frame) -> String {
        let range: Range = self.evaluation.number(node, frame);
        if range.is_everything() {
            return "cannot be worked out yet".to_owned();
        }
        match self.judge.rules.program.dimensions.get(node as usize).copied().flatten() {
            None => date_text(&range),
            Some(dimension) => {
                let unit = self.unit_of(node, dimension, frame).or_else(|| Unit::usual(&dimension));
                unit.map_or_else(|| "worked out".to_owned(), |unit| show(&range, &unit))
            }
        }
    }

    /// The unit of the first fact of that dimension in a number.
    fn unit_of(&self, node: u32, dimension: Dimension, frame: &Frame) -> Option<Unit> {
        let number = self.judge.rules.program.numbers.get(node as usize).copied()?;
        let same = |unit: Unit| Some(unit).filter(|unit| unit.dimension() == dimension);
        match number {
            Number::Read(operand) => {
                let (_, fact, recorded) = self.operand(Store::Numbers, operand, frame)?;
                recorded.and_then(|recorded| recorded.unit.clone()).or_else(|| fact.unit.clone()).and_then(same)
            }
            Number::Add(a, b)
            | Number::Subtract(a, b)
            | Number::Multiply(a, b)
            | Number::Larger(a, b)
            | Number::Smaller(a, b) => self.unit_of(a, dimension, frame).or_else(|| self.unit_of(b, dimension, frame)),
            Number::Absolute(a) | Number::Gather(_, _, a, _) | Number::Mean(_, a, _) => {
                self.unit_of(a, dimension, frame)
            }
            Number::Today
            | Number::Divide(..)
            | Number::Root(_)
            | Number::Shift(..)
            | Number::Lookup { .. }
            | Number::Count(_) => None,
        }
    }

    /// What is wanting, in names and questions.
    pub(super) fn missing(&self, wanting: &Wanting, item_ask: &str) -> Option<Missing> {
        let store =
            |n: u8| [Store::Numbers, Store::Words, Store::Texts].into_iter().find(|store| store_number(*store) == n);
        let of = |name: String, fact: &Fact, coarse: bool, recorded: Option<&Recorded>| Missing {
            fact: name,
            ask: fact.ask.clone(),
            example: fact.example.clone(),
            why: if coarse {
                format!("recorded as {}, which is too coarse to decide", recorded.map_or("", |r| r.text.as_str()))
            } else {
                "not recorded".to_owned()
            },
        };
        match *wanting {
            Wanting::Slot(n, slot, coarse) => {
                let (name, fact, recorded) = self.operand(store(n)?, Operand::Slot(slot), &Frame::default())?;
                Some(of(name, fact, coarse, recorded))
            }
            Wanting::Field(list, row, n, column, coarse) => {
                let (name, fact, recorded) = self.field(list, row, store(n)?, column)?;
                let missing = of(name, fact, coarse, recorded);
                let kept = self.judge.rules.lists.get(list as usize).is_some_and(List::derived);
                Some(if kept { from_log(missing) } else { missing })
            }
            Wanting::List(list) => {
                let list = self.judge.rules.lists.get(list as usize)?;
                Some(Missing {
                    fact: list.name.to_string(),
                    ask: list.ask.clone(),
                    example: None,
                    why: "no records".to_owned(),
                })
            }
            Wanting::Word(roles, about) => Some(Missing {
                fact: "confirmed".to_owned(),
                ask: item_ask.to_owned().into(),
                example: None,
                why: self.spoken(roles, about).why,
            }),
            Wanting::Entry(entry) => {
                let logged = self.judge.rules.program.logged.get(entry as usize)?;
                let people =
                    if logged.people > 1 { format!(" by {} different people", logged.people) } else { String::new() };
                let (event, part) = (logged.event.words(), &logged.subject);
                Some(Missing {
                    fact: format!("{event} {part}"),
                    ask: format!("Has `{part}` been {event}{people} since it was last disturbed?").into(),
                    example: Some(format!("cotterpin log {event} {part}").into()),
                    why: self.shown(entry).why,
                })
            }
        }
    }

    /// What the log shows of a need.
    fn shown(&self, entry: u32) -> Shown {
        let logged = self.judge.rules.program.logged.get(entry as usize);
        logged
            .map(|logged| self.judge.logbook.tell(self.judge.rules, self.judge.record, self.sources, logged))
            .unwrap_or_default()
    }

    fn condition_span(&self, node: u32) -> Span {
        self.judge.rules.program.condition_spans.get(node as usize).copied().unwrap_or(Span::new(
            crate::source::SourceId(u32::MAX),
            0,
            0,
        ))
    }

    pub(super) fn number_span(&self, node: u32) -> Span {
        self.judge.rules.program.number_spans.get(node as usize).copied().unwrap_or(Span::new(
            crate::source::SourceId(u32::MAX),
            0,
            0,
        ))
    }

    pub(super) fn text(&self, span: Span) -> String {
        self.judge.rules.sources.one_line(span)
    }
}

pub(super) fn held(truth: Truth) -> Held {
    match truth {
        Truth::True => Held::True,
        Truth::False => Held::False,
        Truth::Undecided => Held::Undecided,
    }
}

/// A date, or the days it may be.
fn date_text(range: &Range) -> String {
    let day = |exact: Option<&Exact>| {
        let days = exact.map(Exact::to_f64_below).filter(|days| days.abs() < 1e6)?;
        #[expect(clippy::cast_possible_truncation, reason = "checked to be small")]
        Some(Date::from_days(days.floor() as i32).to_string())
    };
    match (day(range.lo()), day(range.hi())) {
        (Some(first), Some(last)) if first == last => first,
        (Some(first), Some(last)) => format!("{first} to {last}"),
        _ => "cannot be worked out yet".to_owned(),
    }
}

/// What a list that the log keeps does not tell: nobody is asked for it.
fn from_log(missing: Missing) -> Missing {
    Missing {
        why: "the log leaves it open: write the day and time of the entries, or log what is missing".to_owned(),
        example: None,
        ..missing
    }
}

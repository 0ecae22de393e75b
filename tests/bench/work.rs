//! The workloads of the table.

use super::{Line, clock, hand, make};
use cotterpin_engine::audit::{Index, Judge};
use cotterpin_engine::eval::{Evaluation, Facts};
use cotterpin_engine::ir::{ConditionId, FactId, Rules};
use cotterpin_engine::project::{Record, Value};
use cotterpin_engine::quantity::{Date, DateRange, Truth};
use cotterpin_engine::rules::{Prebuilt, load_packs};
use cotterpin_engine::vocabulary::Verdict;
use std::process::{Command, Stdio};

const RULES: usize = 1_000;

/// The day everything is judged on.
pub(crate) fn day() -> Date {
    Date::new(2026, 11, 25).unwrap_or_else(|| panic!("a date"))
}

/// W1: points, spreads, and facts missing and named.
pub(crate) fn w1() -> Vec<Line> {
    let rules = make::rules(make::w1_text(RULES));
    let by_hand = hand::rules(RULES);
    let mut lines = Vec::new();
    for (what, missing, wide, reach) in [
        ("W1, points, ns per rule", 0, false, 20.0),
        ("W1, measured with a spread, ns per rule", 0, true, 20.0),
        ("W1, 10 % missing, ns per rule", 10, false, 40.0),
    ] {
        let values = make::w1_values(RULES, missing);
        let facts = Facts::bind(&rules, &make::w1_record(&rules, &values, wide));
        let evaluation = Evaluation::new(&rules.program, &facts, DateRange::day(day()));
        let hand_facts = hand::facts(&values);
        for (item, rule) in rules.items.iter().zip(&by_hand) {
            let (decided, expected) = (evaluation.decide(item.need), rule(&hand_facts));
            assert!(decided == expected || (wide && decided == Truth::Undecided), "{}", item.name);
        }
        let exactly = evaluation.exact_comparisons();
        let per_rule = |total: f64| total / RULES as f64;
        let hand =
            per_rule(clock::nanoseconds(|| by_hand.iter().filter(|rule| rule(&hand_facts) == Truth::True).count()));
        // The ids side by side: an item carries its titles and sources with it.
        let needs: Vec<ConditionId> = rules.items.iter().map(|item| item.need).collect();
        let met = || needs.iter().filter(|need| evaluation.decide(**need) == Truth::True).count();
        assert_eq!(met(), count(&rules, &evaluation, Truth::True));
        let took = clock::nanoseconds(met);
        lines.push(Line::new(what, per_rule(took), reach, "ns/rule").by_hand(hand));
        if missing > 0 {
            let mut named = Vec::new();
            let took = clock::nanoseconds(|| {
                named.clear();
                name_missing(&rules, &needs, &evaluation, &mut named)
            });
            check_named(&values, count(&rules, &evaluation, Truth::Undecided), &named);
            lines.push(Line::new("  and the missing facts named", per_rule(took), reach, "ns/rule").by_hand(hand));
        }
        lines.push(Line::new("  of 1,000 rules, compared exactly", exactly as f64, None, "times"));
    }
    lines
}

/// How many rules come to a truth.
fn count(rules: &Rules, evaluation: &Evaluation<'_>, wanted: Truth) -> usize {
    rules.items.iter().filter(|item| evaluation.decide(item.need) == wanted).count()
}

/// Decides every rule; of the undecided ones, names what they wait for.
fn name_missing<'a>(
    rules: &'a Rules,
    needs: &[ConditionId],
    evaluation: &Evaluation<'_>,
    named: &mut Vec<&'a str>,
) -> usize {
    let mut waiting = Vec::new();
    for need in needs {
        if evaluation.decide(*need) == Truth::Undecided {
            evaluation.missing_facts(*need, &mut waiting);
        }
    }
    named.extend(waiting.iter().filter_map(|fact| rules.fact(*fact)).map(|fact| fact.name.as_str()));
    named.len()
}

/// Every fact named is one that is not recorded, and each undecided rule names one.
fn check_named(values: &[make::Observed], undecided: usize, named: &[&str]) {
    assert!(undecided > 0 && named.len() >= undecided);
    for name in named {
        let (letter, n) = name.trim_start_matches("s.").split_at(1);
        let seen = n.parse().map(|n: usize| values[n]).unwrap_or_else(|_| panic!("{name}"));
        let missing = match letter {
            "a" => seen.a.is_none(),
            "b" => seen.b.is_none(),
            "c" => seen.c.is_none(),
            "m" => seen.mode.is_none(),
            _ => seen.flag.is_none(),
        };
        assert!(missing, "{name} is recorded");
    }
}

/// W2: `every` over records.
pub(crate) fn w2() -> Vec<Line> {
    const RECORDS: usize = 200;
    let rules = make::rules(make::w2_text());
    let record = make::w2_record(&rules, RECORDS);
    let facts = Facts::bind(&rules, &record);
    let evaluation = Evaluation::new(&rules.program, &facts, DateRange::day(day()));
    let need = rules.items.first().unwrap().need;
    let rows: Vec<(f64, u8)> = (0..RECORDS).map(|n| ((10 + n % 100) as f64 / 10.0, 1)).collect();
    assert_eq!(evaluation.decide(need), Truth::True);
    assert_eq!(hand::every(&rows), Truth::True);
    let hand = clock::nanoseconds(|| hand::every(std::hint::black_box(&rows))) / RECORDS as f64;
    let took = clock::nanoseconds(|| evaluation.decide(std::hint::black_box(need))) / RECORDS as f64;
    let line = Line::new("W2, every of 200 records, ns per record", took, 12.0, "ns/record").by_hand(hand);
    vec![line, w2_scaled(RECORDS)]
}

/// W2 with arithmetic.
fn w2_scaled(records: usize) -> Line {
    let rules = make::rules(make::w2_scaled_text());
    let facts = Facts::bind(&rules, &make::w2_scaled_record(&rules, records));
    let evaluation = Evaluation::new(&rules.program, &facts, DateRange::day(day()));
    let need = rules.items.first().unwrap().need;
    let rows: Vec<[f64; 3]> = (0..records)
        .map(|n| (100 + n % 100, 10 + n % 800))
        .map(|(b, q)| [b + b.div_ceil(4) + 1, b, q].map(|n| n as f64 / 10.0))
        .collect();
    assert_eq!(evaluation.decide(need), Truth::True);
    assert_eq!(hand::every_scaled(&rows), Truth::True);
    let hand = clock::nanoseconds(|| hand::every_scaled(std::hint::black_box(&rows))) / records as f64;
    let took = clock::nanoseconds(|| evaluation.decide(std::hint::black_box(need))) / records as f64;
    Line::new("  with arithmetic, a >= 1.25 * b and q < 90.5", took, 7.0, "ns/record").by_hand(hand)
}

/// One fact changed, 20 of 10,000 items depend on it.
pub(crate) fn one_changed() -> Vec<Line> {
    let rules = make::rules(make::shared_text(10_000));
    vec![Line::new("one fact changed, 10,000 items, 20 depend on it", changed(&rules) / 1e3, 2.0, "us")]
}

/// Nanoseconds from a changed fact to the new verdicts.
pub(crate) fn changed(rules: &Rules) -> f64 {
    let record = Record::default();
    let mut judge = Judge::new(rules, &record, day());
    let index = Index::new(rules);
    let values = [10, 200].map(|n| make::recorded(rules, Value::Number(make::tenths(n))));
    let met = |judge: &mut Judge<'_>, at: usize| {
        let judged = index.changed(judge, FactId::new(3), values.get(at));
        (judged.len(), judged.iter().filter(|one| one.verdict == Verdict::Met).count())
    };
    // 1 in meets one of the 20 limits, 20 in all; unrecorded, none.
    assert_eq!((met(&mut judge, 0), met(&mut judge, 1), met(&mut judge, 2)), ((20, 1), (20, 20), (20, 0)));
    let mut at = 0;
    clock::nanoseconds(|| {
        at ^= 1;
        met(&mut judge, at)
    })
}

/// The whole command on the demo project: in this process, and as one of its own.
pub(crate) fn demo() -> Vec<Line> {
    let run = || {
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let status = cotterpin::command::run_with(
            ["cotterpin", "audit", "--demo", "--on", "2026-11-25"],
            &mut out,
            &mut err,
            false,
        );
        (status, out)
    };
    let (status, out) = run();
    assert_ne!(status, cotterpin::command::Status::NotDone);
    assert!(!cotterpin::command::demo().is_empty() && String::from_utf8_lossy(&out).contains("final say"));
    let mut lines = vec![Line::new("whole command on the demo, in process", clock::milliseconds(21, run), 10.0, "ms")];
    let binary = std::env::current_exe().ok().and_then(|exe| Some(exe.parent()?.parent()?.join("cotterpin")));
    if let Some(binary) = binary.filter(|binary| binary.exists()) {
        let process = |args: &[&str]| {
            let mut command = Command::new(&binary);
            command.args(args).stdout(Stdio::null()).stderr(Stdio::null());
            clock::milliseconds(41, || command.status().is_ok_and(|status| status.code().is_some()))
        };
        let audit = process(&["audit", "--demo", "--on", "2026-11-25"]);
        let bare = process(&["--version"]);
        lines.push(Line::new("  as a process of its own", audit, 10.0, "ms"));
        lines.push(Line::new("  of which a process that prints its version", bare, None, "ms"));
    }
    lines
}

/// Compiling 10,000 items: time here, memory in a fresh process.
pub(crate) fn compile() -> Vec<Line> {
    const ITEMS: usize = 10_000;
    let pack = [make::pack(make::shared_text(ITEMS))];
    let load = || load_packs(&Prebuilt::empty(), &pack).map_or(0, |rules| rules.items.len());
    assert_eq!(load(), ITEMS);
    let took = clock::milliseconds(3, load);
    let mut lines = vec![Line::new("10,000 items compiled", took * 1e3 / ITEMS as f64, None, "us/item")];
    let bytes = pack[0].files[0].1.len() as f64 / 1e6;
    lines.push(Line::new("  their text", bytes, None, "MB"));
    let child = std::env::current_exe().and_then(|exe| Command::new(exe).args(["--memory", "10000"]).output());
    let told = child.map(|output| String::from_utf8_lossy(&output.stdout).into_owned()).unwrap_or_default();
    let kept: Vec<f64> = told.split_whitespace().filter_map(|word| word.parse().ok()).collect();
    if let [kept, most] = kept.as_slice() {
        lines.push(Line::new("  memory kept above an empty process", *kept, 6.0, "MB"));
        lines.push(Line::new("  memory with all that compiling leaves behind", *most, None, "MB"));
    }
    lines
}

/// In a process of its own: what compiled items keep resident. The allocator
/// keeps freed pages, so the rules are cloned and the first copy's pages are
/// what the clone is measured against.
pub(crate) fn memory_of(items: usize) {
    let Some(empty) = clock::resident() else { return };
    let rules = make::rules(make::shared_text(items));
    let Some(after) = clock::resident() else { return };
    // Copies can only stand in pages the compiler left free, then in new ones:
    // the growth from the third copy on is the size of one.
    let copies: Vec<Rules> = (0..8).map(|_| rules.clone()).collect();
    let Some(full) = clock::resident() else { return };
    let more: Vec<Rules> = (0..4).map(|_| rules.clone()).collect();
    let Some(fuller) = clock::resident() else { return };
    assert_eq!(copies.iter().chain(&more).map(|rules| rules.items.len()).sum::<usize>(), 12 * items);
    println!("{:.3} {:.3}", (fuller - full) / 4.0, after - empty);
}

/// A thousand projects of 300 items.
pub(crate) fn projects() -> Vec<Line> {
    const PROJECTS: u64 = 1_000;
    let rules = make::rules(make::w1_text(300));
    let records: Vec<Record> =
        (0..PROJECTS).map(|n| make::w1_record(&rules, &make::w1_values(300, n % 20), false)).collect();
    let judge_all = || {
        let verdicts = records.iter().map(|record| Judge::new(&rules, record, day()).verdicts());
        verdicts.map(|judged| judged.iter().filter(|one| one.verdict == Verdict::Met).count()).sum::<usize>()
    };
    let request = cotterpin_engine::audit::Request { project: String::new(), on: day(), by: None, closing: None };
    let in_full = |records: &[Record]| {
        let audits = records.iter().map(|record| cotterpin_engine::audit::audit(&rules, record, &request));
        audits.map(|audit| audit.summary.met).sum::<usize>()
    };
    assert_eq!(judge_all(), in_full(&records));
    let took = clock::milliseconds(5, judge_all) / 1e3;
    let full = clock::milliseconds(3, || in_full(&records)) / 1e3;
    vec![
        Line::new("1,000 projects of 300 items, bound and judged", took, 0.5, "s"),
        Line::new("  with every finding explained", full, None, "s"),
    ]
}

/// W2 with arithmetic, so many times.
fn repeat_lists(times: usize) {
    let rules = make::rules(make::w2_scaled_text());
    let facts = Facts::bind(&rules, &make::w2_scaled_record(&rules, 200));
    let evaluation = Evaluation::new(&rules.program, &facts, DateRange::day(day()));
    let held = (0..times).filter(|_| count(&rules, &evaluation, Truth::True) == 1).count();
    println!("{held} of {times}");
}

/// One kind of work 1,000 times, its rules decided: for callgrind, which counts
/// this less the same with `none`.
///
/// `lists` is W2 with arithmetic, of 200 records, and `no-lists` its `none`.
pub(crate) fn repeat(kind: &str) {
    if kind == "lists" || kind == "no-lists" {
        return repeat_lists(if kind == "lists" { 100 } else { 0 });
    }
    let rules = make::rules(make::w1_text(RULES));
    let missing = if kind == "missing" { 10 } else { 0 };
    let values = make::w1_values(RULES, missing);
    let facts = Facts::bind(&rules, &make::w1_record(&rules, &values, false));
    let evaluation = Evaluation::new(&rules.program, &facts, DateRange::day(day()));
    let times = if kind == "none" { 0 } else { 100 };
    let held: usize = (0..times).map(|_| count(&rules, &evaluation, Truth::True)).sum();
    println!("{held} of {}", times * RULES);
}

//! How the work grows: three sizes of each, per unit. Linear work keeps its
//! figure per unit; the caches of the machine take their part of the last.

use super::{clock, make, work};
use cotterpin_engine::audit::{Judge, Request, audit};
use cotterpin_engine::eval::{Evaluation, Facts};
use cotterpin_engine::ir::Rules;
use cotterpin_engine::project::Record;
use cotterpin_engine::quantity::{DateRange, Truth};
use cotterpin_engine::rules::{Prebuilt, load_packs};
use cotterpin_engine::vocabulary::Verdict;

/// Prints each kind of work at three sizes.
pub(crate) fn print() {
    println!("\n{:<44} {:>12} {:>12} {:>12}", "growth, per unit", "1", "x 10", "x 100");
    row("items judged, ns per item (100 to 10,000)", [100, 1_000, 10_000].map(items));
    row("records of `every`, ns each (200 to 20,000)", [200, 2_000, 20_000].map(records));
    row("a changed fact, ns (20 depend; 100 to 10,000)", [100, 1_000, 10_000].map(changed));
    row_of("log audited, ns per entry", [5_000, 16_000, 50_000], log);
    row_of("the same, all of it lapsed, ns per entry", [5_000, 16_000, 50_000], lapsed_log);
    row_of("values of days judged, ns per value and entry", [5_000, 16_000, 50_000], values);
    row("text of rules, ns per byte (100 to 10,000 items)", [100, 1_000, 10_000].map(text));
}

fn row(what: &str, figures: [f64; 3]) {
    println!("{what:<50} {:>9.2} {:>12.2} {:>12.2}", figures[0], figures[1], figures[2]);
}

/// A kind of work at sizes of its own.
fn row_of(what: &str, sizes: [usize; 3], work: fn(usize) -> f64) {
    let what = format!("{what} ({} to {})", sizes[0], sizes[2]);
    row(&what, sizes.map(work));
}

/// A log of many parts, days and people, audited with every explanation: the
/// last of its entries are inspections, so that most of the needs are met and some stay open.
fn log(entries: usize) -> f64 {
    let rules = make::rules(make::log_text());
    let record = make::log_record(&rules, entries, false);
    audited(&rules, &record, entries, |met, open| met > 5 && open > 2)
}

/// Every inspection undone by one last work on everything.
fn lapsed_log(entries: usize) -> f64 {
    let rules = make::rules(make::log_text());
    let record = make::log_record(&rules, entries, true);
    audited(&rules, &record, entries, |met, open| met == 0 && open > 10)
}

/// As many values as entries, each of a part and a day: most of them undone, some not.
fn values(entries: usize) -> f64 {
    let rules = make::rules(make::log_text() + &make::states_text());
    let mut record = make::log_record(&rules, entries, false);
    make::add_states(&rules, &mut record, entries);
    let judge = || Judge::new(&rules, &record, work::day());
    // A judge alone: what is undone is taken out of the facts before anything is judged.
    let open = judge().verdicts().iter().filter(|one| one.verdict == Verdict::NotShown).count();
    assert!(open > 0 && record.log.len() == entries, "{open}");
    clock::milliseconds(7, judge) * 1e6 / entries as f64
}

fn audited(rules: &Rules, record: &Record, entries: usize, right: fn(usize, usize) -> bool) -> f64 {
    assert_eq!(record.log.len(), entries);
    let request = Request { project: String::new(), on: work::day(), by: None, closing: None };
    let audit = || audit(rules, record, &request);
    let found = audit();
    assert!(right(found.summary.met, found.summary.not_shown), "{:?}", found.summary);
    clock::milliseconds(7, audit) * 1e6 / entries as f64
}

fn items(count: usize) -> f64 {
    let rules = make::rules(make::w1_text(count));
    let facts = Facts::bind(&rules, &make::w1_record(&rules, &make::w1_values(count, 0), false));
    let evaluation = Evaluation::new(&rules.program, &facts, DateRange::day(work::day()));
    let undecided = || rules.items.iter().filter(|item| evaluation.decide(item.need) == Truth::Undecided).count();
    assert_eq!(undecided(), 0);
    clock::nanoseconds(undecided) / count as f64
}

fn records(count: usize) -> f64 {
    let rules = make::rules(make::w2_text());
    let facts = Facts::bind(&rules, &make::w2_record(&rules, count));
    let evaluation = Evaluation::new(&rules.program, &facts, DateRange::day(work::day()));
    let need = rules.items.first().unwrap().need;
    assert_eq!(evaluation.decide(need), Truth::True);
    clock::nanoseconds(|| evaluation.decide(std::hint::black_box(need))) / count as f64
}

fn changed(count: usize) -> f64 {
    work::changed(&make::rules(make::shared_text(count)))
}

fn text(count: usize) -> f64 {
    let pack = [make::pack(make::shared_text(count))];
    let load = || load_packs(&Prebuilt::empty(), &pack).map_or(0, |rules| rules.items.len());
    assert_eq!(load(), count);
    let rounds = if count > 5_000 { 3 } else { 9 };
    clock::milliseconds(rounds, load) * 1e6 / pack[0].files[0].1.len() as f64
}

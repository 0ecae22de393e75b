//! `cargo bench`: the engine's figures, each beside what it must reach and, in
//! the same run, beside the same work written by hand. Every measurement first
//! asserts that the work comes out right.

#![expect(
    clippy::panic,
    clippy::indexing_slicing,
    clippy::unwrap_used,
    clippy::print_stdout,
    clippy::arithmetic_side_effects,
    reason = "a measurement may fail loudly, and prints what it measured; the library may not"
)]

mod clock;
mod growth;
mod hand;
mod make;
mod many;
mod session;
mod work;
mod write;

/// One line of the table.
pub(crate) struct Line {
    /// What was measured.
    what: String,
    /// The figure.
    measured: f64,
    /// What it must reach; `None` where nothing is asked.
    reach: Option<f64>,
    /// Its unit.
    unit: &'static str,
    /// The same by hand.
    hand: Option<f64>,
}

impl Line {
    /// A line without a baseline.
    pub(crate) fn new(
        what: impl Into<String>,
        measured: f64,
        reach: impl Into<Option<f64>>,
        unit: &'static str,
    ) -> Self {
        Self { what: what.into(), measured, reach: reach.into(), unit, hand: None }
    }

    /// The same line beside the work by hand.
    pub(crate) fn by_hand(self, hand: f64) -> Self {
        Self { hand: Some(hand), ..self }
    }

    fn print(&self) {
        let reach = self.reach.map_or_else(String::new, |reach| format!("{reach}"));
        let ratio = self.hand.map_or_else(String::new, |hand| format!("{:.1} x {hand:.1}", self.measured / hand));
        let short = if self.reach.is_some_and(|reach| self.measured > reach) { "short" } else { "" };
        println!("{:<58} {:>10.3} {:>7}  {:<13} {:>14}  {short}", self.what, self.measured, reach, self.unit, ratio);
    }
}

fn main() {
    let args: Vec<String> = std::env::args().collect();
    if let [_, flag, items] = args.as_slice() {
        if flag == "--memory" {
            return work::memory_of(items.parse().unwrap_or(0));
        }
        if flag == "--only" && items == "session" {
            return session::print();
        }
        if flag == "--only" && items == "write" {
            return write::lines().iter().for_each(Line::print);
        }
        // One kind of work, many times over, for a counter of instructions.
        if flag == "--repeat" {
            return work::repeat(items);
        }
    }
    if let [_, flag, projects, workers] = args.as_slice()
        && flag == "--many"
    {
        return many::run(projects.parse().unwrap_or(0), workers);
    }
    // Nothing but folders of many projects.
    if args.iter().any(|arg| arg == "--many") {
        return many::print();
    }
    println!("{:<58} {:>10} {:>7}  {:<13} {:>14}", "", "measured", "reach", "", "x by hand");
    let parts: [fn() -> Vec<Line>; 7] =
        [work::w1, work::w2, work::one_changed, work::demo, work::compile, work::projects, write::lines];
    for part in parts {
        part().iter().for_each(Line::print);
    }
    growth::print();
    many::print();
    session::print();
}

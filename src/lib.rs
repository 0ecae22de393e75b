//! A rules engine with a small checklist language, by which an amateur
//! aircraft builder audits a project before the authority's inspector visits.
//!
//! Packs of rules and a record of facts go in; findings come out, each with
//! its verdict, its reasons and its sources. Nothing is guessed: a fact is a
//! set of possible values, and what is not known leaves an item *not shown*.
//!
//! ```
//! use cotterpin::audit::{Request, audit};
//! use cotterpin::vocabulary::Verdict;
//! use cotterpin::quantity::Date;
//! use cotterpin::project::Record;
//! use cotterpin::packs::PackText;
//! use cotterpin::rules::load_packs;
//!
//! let pack = PackText {
//!     name: "mine".into(),
//!     manifest: "name='mine'\ntitle='Mine'\nedition='1'\nauthority='none'\nscope='a latch'".into(),
//!     files: vec![("mine.checklist".into(), r#"
//!         hold-points  visit "Before the visit"
//!         systems      cabin "Cabin"
//!         fact cabin.latches : count ask "How many catches has the canopy?"
//!         item cabin.latch "The canopy has a second catch"
//!           need cabin.latches >= 2   by visit   basis own   cite common practice
//!     "#.into())],
//! };
//! let rules = load_packs(&[pack]).map_err(|_| "the pack has mistakes")?;
//! let request = Request { project: "shed".into(), on: Date::parse("2026-11-25").map_err(|_| "no date")?, by: None, closing: None };
//! let report = audit(&rules, &Record::default(), &request);
//! assert_eq!(report.findings[0].verdict, Verdict::NotShown);
//! # Ok::<(), &str>(())
//! ```

#[cfg(feature = "command")]
pub mod command;

/// The samples of the README, run as documentation tests.
#[cfg(doctest)]
#[doc = include_str!("../README.md")]
struct Readme;

//! Truth, exact numbers, intervals, units and dates: pure values, no syntax tree.
//!
//! A fact is a set of possible values. [`ExactInterval`] holds such a set with exact
//! rational ends, [`Interval`] the same set in floating point, rounded
//! outward; [`Truth`] is what a comparison of two sets can say. An engine
//! decides by [`Interval`] and asks [`ExactInterval`] only where that is undecided.
//!
//! ```
//! use cotterpin_lang::quantity::{Quantity, Truth};
//! let plate = Quantity::parse("2 in").map(|q| q.range);
//! let rule = Quantity::parse("50.8 mm").map(|q| q.range);
//! if let (Ok(plate), Ok(rule)) = (plate, rule) {
//!     assert_eq!(plate.at_least(&rule), Truth::True);
//! }
//! ```

mod codec;
mod date;
mod date_error;
mod date_range;
mod dimension;
mod exact;
mod exact_interval;
mod interval;
mod number_with_unit;
mod rational;
mod show;
mod simple_units;
mod truth;
mod unit;
mod unit_error;

pub use date::Date;
pub use date_error::{DateError, month_name};
pub use date_range::DateRange;
pub use dimension::Dimension;
pub use exact::Exact;
pub use exact_interval::ExactInterval;
pub use interval::Interval;
pub use number_with_unit::{Quantity, QuantityError};
pub use show::show;
pub use truth::Truth;
pub use unit::Unit;
pub use unit_error::UnitError;

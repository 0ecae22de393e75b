//! The log and lapse: a slow reference, random logs, and the stories that the
//! meaning was made for.

mod changes;
pub(crate) mod derived;
mod log_text;
pub(crate) mod mistakes;
mod parts;
mod random;
mod reference;
mod story;
mod values;

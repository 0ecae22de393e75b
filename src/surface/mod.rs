//! What those who embed the engine see: a small surface that cannot be given a wrong fact.

mod entry;
mod load;
mod message;
mod options;
mod pack;
mod plan;
mod project;
pub mod render;
mod rules;
mod session;
mod snapshot;
mod value;

pub use entry::Entry;
pub use message::{Label, LoadError, Message, ValueError};
pub use options::Options;
pub use pack::Pack;
pub use plan::{Job, Plan, plan};
pub use project::{Project, audit};
pub use rules::{FactView, ItemView, ListView, Rules};
pub use session::Session;
pub use snapshot::{Difference, Snapshot};
pub use value::Value;

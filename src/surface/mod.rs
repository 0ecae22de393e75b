//! What those who embed the engine see: a small surface that cannot be given a wrong fact.

mod entry;
pub(crate) mod load;
mod many;
pub(crate) mod message;
mod options;
mod pack;
pub(crate) mod plan;
pub(crate) mod project;
pub mod render;
mod rules;
mod session;
mod snapshot;
mod value;

pub use entry::Entry;
pub use many::{Given, audit_all};
pub use message::{LoadError, ValueError};
pub use options::Options;
pub use pack::Pack;
pub use plan::{Job, Plan, plan};
pub use project::{Project, audit};
pub use rules::{FactView, ItemView, ListView, Rules};
pub use session::Session;
pub use snapshot::{Difference, Snapshot};
pub use value::Value;

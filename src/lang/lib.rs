//! The checklist language: from the text of packs to checked rules.
//!
//! Nothing here knows a project, a recorded value or a verdict's reasons: what
//! evaluates rules depends on this crate, and never the other way round.
//!
//! ```text
//! .checklist -- parse --> ast -- check, lower --> Rules
//!  (syntax)              (syntax::ast)  (check)    (ir)
//! ```

mod check;
mod codec;
pub mod diagnostic;
pub mod ir;
pub mod packs;
pub mod quantity;
pub mod source;
mod syntax;
pub mod vocabulary;

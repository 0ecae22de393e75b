//! What changed since an earlier audit: an audit made small enough to keep for
//! years, and the comparison of one that was kept with one made now.
//!
//! A finding is the same finding when it has the same item and the same record
//! name. Files, lines and the order of named records say nothing about that.
//!
//! ```
//! use cotterpin_engine::audit::{Request, audit};
//! use cotterpin_engine::history::{Saved, compare};
//! use cotterpin_engine::quantity::Date;
//! use cotterpin_engine::project::Record;
//! use cotterpin_packs::{LIBRARY, built_in};
//! use cotterpin_engine::rules::load_packs;
//!
//! let texts = built_in(&["workmanship"]).map_err(|message| message.message)?;
//! let rules = load_packs(&LIBRARY, &texts).map_err(|failed| format!("{:?}", failed.1))?;
//! let on = Date::parse("2026-11-25").map_err(|error| error.to_string())?;
//! let request = Request { project: "shed".into(), on, by: None, closing: None };
//! let now = audit(&rules, &Record::default(), &request);
//!
//! let kept = Saved::of(&now).to_text();
//! let read = Saved::read("audits/2026-11-25.json", kept.as_bytes()).map_err(|message| message.message)?;
//! assert!(compare(&read, &now).is_empty());
//! # Ok::<(), String>(())
//! ```

mod causes;
mod changes;
mod file;
mod first_form;
mod saved;
mod standing;

pub use causes::{Cause, CauseKind, Content};
pub use changes::{Change, Changes, Class, PackChange, Side, compare};
pub use saved::{Aside, ENGINE, Leave, Saved, SavedFinding, SavedLapse, SavedLine, SavedNote, SavedPack};
pub use standing::{Gone, Standing, other_project, standing};

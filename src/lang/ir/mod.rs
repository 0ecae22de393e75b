//! Checked rules: names resolved, types known, conditions and numbers in flat
//! arrays. Nothing of the syntax tree is left, but the places explanations show.

mod codec;
mod example;
mod item;
mod program;
mod program_codec;
mod quick;
mod rules;
mod table;
mod terms;

pub use example::{Example, Given, GivenEntry, GivenEvidence, GivenList, GivenValue, GivenWord, Value};
pub use item::{Added, Aside, Bound, Item, Let, Show};
pub use program::{
    ABSENT_WORD, AlikePart, Calendar, Columns, Condition, EVERYTHING, Frame, Gather, Logged, Loop, MAX_FRAMES, NO_NODE,
    Number, Operand, Order, Pattern, Program, Slots, Store, regex_form,
};
pub use quick::{End, Quick, Rows};
pub use rules::{
    Choice, Cite, DERIVED_LISTS, Disturbance, Document, Fact, FactId, ItemId, Kind, Limits, List, ListId, Pack, Part,
    Role, Rules, Titled,
};
pub use table::{Cell, Key, KeyValue, Table, TableKey, TableRow};
pub use terms::Term;

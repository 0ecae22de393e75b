//! Checked rules: names resolved, types known, conditions and numbers in flat
//! arrays. Nothing of the syntax tree is left, but the places explanations show.

mod arena;
mod codec;
mod document;
mod example;
mod fast_path;
mod ids;
mod item;
mod program;
mod program_codec;
mod rules;
mod sets;
mod store;
mod table;
mod visit;

pub use arena::{Arena, Runs};
pub use document::{Cite, Document};
pub use example::{Example, Given, GivenEntry, GivenEvidence, GivenList, GivenValue, GivenWord, Value};
pub use fast_path::{End, OfFacts, OfRecords, Rows, Site, Test};
pub use ids::{
    AboutId, AnyColumn, AnySlot, ChoiceId, ColumnId, ConditionId, ConfirmedId, ConstantId, DocumentId, EvidenceId,
    FactId, FieldId, HoldPointId, Id, IdOf, InStore, ItemId, ListId, LoggedId, LoopId, NumberId, Numbers, PackId,
    PartId, PatternId, Place, RoleId, RowId, Run, SlotId, SystemId, TableColumn, TableId, TestId, TextId, Texts, Words,
    ZoneId,
};
pub use item::{Added, Aside, Bound, Item, Let, NotSetAside, Show};
pub use program::{
    Aggregate, AlikePart, Calendar, Columns, Condition, Confirmed, Frame, Logged, Loop, MAX_FRAMES, Number, NumberOf,
    Order, PartOrAll, Pattern, Program, Sameness, Slots, Store, WordsOf, regex_form,
};
pub use rules::LibraryPack;
pub use rules::{
    BUILDER, Choice, Concedes, DERIVED_LISTS, Disturbance, ENTRIES, Fact, HOW_MANY, Kind, Limits, List, Named, PART,
    Pack, Part, RESERVED, Role, Rules, State, Titled,
};
pub use sets::{ChoiceSet, RoleSet};
pub use store::{AnyOperand, Operand, Origin};
pub use table::{Cell, Key, KeyValue, Table, TableKey, TableRow};
pub use visit::Child;

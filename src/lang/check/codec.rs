//! The checker as bytes: what it knows beside the rules, for the packs that come on top.

use super::Checker;
use crate::codec::all_of;

all_of! {
    Checker {
        rules, formulas, tables, patterns, texts, constants, costs, read_records, choice_names, places, documents_by_name,
        choices_by_words, used_documents, pack_of_file, visible, shared;
        messages: Vec::new(); part_zones: Vec::new(); larger_zones: Vec::new()
    }
}

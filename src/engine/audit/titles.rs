//! Titles by name, as objects rather than pairs.

use crate::source::SharedText;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

#[derive(Serialize, Deserialize)]
struct Title {
    name: SharedText,
    title: SharedText,
}

pub(super) fn serialize<S: Serializer>(titles: &[(SharedText, SharedText)], to: S) -> Result<S::Ok, S::Error> {
    to.collect_seq(titles.iter().map(|(name, title)| Title { name: name.clone(), title: title.clone() }))
}

pub(super) fn deserialize<'de, D: Deserializer<'de>>(from: D) -> Result<Vec<(SharedText, SharedText)>, D::Error> {
    let titles = Vec::<Title>::deserialize(from)?;
    Ok(titles.into_iter().map(|Title { name, title }| (name, title)).collect())
}

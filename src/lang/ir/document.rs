//! Published documents, and references to their paragraphs.

use super::ids::{DocumentId, PackId};
use crate::source::{SharedText, Span};
use crate::vocabulary::Mark;

/// A published document.
#[derive(Debug, Clone)]
pub struct Document {
    /// The name packs cite it by.
    pub name: SharedText,
    /// Its title.
    pub title: SharedText,
    /// Its number.
    pub number: SharedText,
    /// Its edition.
    pub edition: SharedText,
    /// Who issued it.
    pub issuer: SharedText,
    /// How its text was seen.
    pub mark: Mark,
    /// The day of the copy.
    pub seen_on: Option<SharedText>,
    /// A later edition that is known and was not compared, if there is one.
    pub superseded_by: Option<SharedText>,
    /// Where it is declared.
    pub place: Span,
    /// The pack that declares it.
    pub pack: PackId,
}

/// A reference of one item to one paragraph.
#[derive(Debug, Clone)]
pub struct Cite {
    /// The document in [`Rules::documents`]; none for common practice.
    pub document: Option<DocumentId>,
    /// The paragraph.
    pub paragraph: SharedText,
    /// How this paragraph was seen.
    pub mark: Mark,
}

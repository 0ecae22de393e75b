//! A pack set out for reading, as text.

use super::pack_page::{PackPage, Part};
use super::phrases;
use super::wrap::Page;

/// Room for the labels.
const COLUMN: usize = 16;

/// The pack as text, no line wider than `width` characters (at least 40). The
/// reminder begins and ends it.
#[must_use]
pub fn pack_page_text(pack: &PackPage, width: usize) -> String {
    let mut page = Page::new(width);
    page.hanging(0, 4, &pack.title);
    page.gap();
    page.line(0, pack.reminder);
    page.gap();
    for part in &pack.parts {
        match part {
            Part::Section(title) => page.heading(&title.to_uppercase()),
            Part::Entry(name, title) => {
                page.gap();
                page.hanging(0, 4, name);
                page.line(4, &phrases::sentence(title));
            }
            Part::Labelled(lines) => lines.iter().for_each(|line| page.labelled(4, COLUMN, line.label, &line.text)),
            Part::List(texts) => texts.iter().for_each(|text| page.hanging(4, 6, &format!("- {text}"))),
        }
    }
    page.gap();
    page.line(0, pack.reminder);
    page.finish()
}

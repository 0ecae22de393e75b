//! A pack set out for reading, as one HTML file: no script, nothing fetched,
//! readable on paper. The file is small and its parts are few, so it is written
//! here rather than by a template; what comes from a pack goes through `escaped`.

use super::pack_page::{Line, PackPage, Part};
use crate::source::visible;
use std::fmt::Write;

/// Plain, dark on light, and on paper the reminder at the foot of each sheet.
const STYLE: &str = "\
body { font: 1rem/1.5 serif; color: #111; background: #fff; max-width: 46rem; margin: 2rem auto; padding: 0 1rem; }
h1, h2, h3 { line-height: 1.25; break-after: avoid; }
h2 { border-bottom: 1px solid #111; margin-top: 2.5rem; }
h3 { margin-bottom: 0.25rem; }
h3 code { display: block; font-weight: normal; }
dl { margin: 0 0 1.5rem; display: grid; grid-template-columns: 9rem 1fr; gap: 0.15rem 1rem; }
dt { font-style: italic; grid-column: 1; }
dd { margin: 0; grid-column: 2; overflow-wrap: anywhere; }
.caution { font-weight: bold; }
.reminder { border: 1px solid #111; padding: 0.5rem 0.75rem; }
@page { margin: 18mm 18mm 28mm; }
@media print {
  body { max-width: none; margin: 0; font-size: 10.5pt; }
  dl { break-inside: avoid; }
  footer.reminder { position: fixed; bottom: -20mm; left: 0; right: 0; font-size: 8pt; border-width: 1px 0 0; }
}
";

/// The pack as one self-contained HTML file. The reminder begins and ends it,
/// and stands at the foot of every printed sheet.
#[must_use]
pub fn pack_page_html(page: &PackPage) -> String {
    let (title, reminder) = (escaped(&page.title), escaped(page.reminder));
    let mut out = format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <title>{title}</title>\n<style>\n{STYLE}</style>\n</head>\n<body>\n<header>\n<h1>{title}</h1>\n\
         <p class=\"reminder\">{reminder}</p>\n</header>\n<main>\n"
    );
    for part in &page.parts {
        written(&mut out, part);
    }
    out.push_str(&format!("</main>\n<footer class=\"reminder\">{reminder}</footer>\n</body>\n</html>\n"));
    out
}

fn written(out: &mut String, part: &Part) {
    // Writing to a text cannot fail.
    let _: std::fmt::Result = match part {
        Part::Section(title) => writeln!(out, "<h2>{}</h2>", escaped(title)),
        Part::Entry(name, title) => writeln!(out, "<h3><code>{}</code> {}</h3>", escaped(name), escaped(title)),
        Part::Labelled(lines) => writeln!(out, "<dl>\n{}</dl>", lines.iter().map(line).collect::<String>()),
        Part::List(texts) => {
            let items: String = texts.iter().map(|text| format!("<li>{}</li>\n", escaped(text))).collect();
            writeln!(out, "<ul>\n{items}</ul>")
        }
    };
}

fn line(line: &Line) -> String {
    let text = escaped(&line.text);
    let text = if line.own_words { format!("<code>{text}</code>") } else { text };
    let class = if line.label == "CAUTION" { " class=\"caution\"" } else { "" };
    let label =
        if line.label.is_empty() { String::new() } else { format!("<dt{class}>{}</dt>\n", escaped(line.label)) };
    format!("{label}<dd{class}>{text}</dd>\n")
}

/// Text as it may stand in an element or in a quoted attribute. Characters that
/// turn or hide text are written out, as on the other pages.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in visible(text).chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            other => out.push(other),
        }
    }
    out
}

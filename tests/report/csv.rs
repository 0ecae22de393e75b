//! CSV, read by another library's reader and held against the grammar of the RFC.

use super::awkward::{self, written_out};
use super::made;
use crate::cli::Run;
use crate::fixtures::seed::with_dice;
use cotterpin_engine::audit::{Audit, REMINDER};
use cotterpin_engine::report::csv;
use cotterpin_engine::source::is_invisible;
use std::collections::BTreeMap;

/// A row by the names of its columns, as it was before the guard against formulas.
type Row = BTreeMap<String, String>;

/// What a spreadsheet takes for a formula, if a cell begins with it.
const FORMULA: [char; 8] = ['=', '+', '-', '@', '＝', '＋', '－', '＠'];

fn read(text: &str) -> Vec<Row> {
    let mut reader =
        ::csv::ReaderBuilder::new().flexible(false).terminator(::csv::Terminator::CRLF).from_reader(text.as_bytes());
    let columns: Vec<String> = reader.headers().expect("a first row").iter().map(str::to_owned).collect();
    let rows = reader.records().map(|row| row.unwrap_or_else(|error| panic!("{error}\n{text}")));
    rows.map(|row| columns.iter().cloned().zip(row.iter().map(undone)).collect()).collect()
}

/// The cell as it was, by the one rule: an apostrophe at the beginning goes.
fn undone(cell: &str) -> String {
    assert!(!cell.starts_with(FORMULA), "a formula: {cell}");
    cell.strip_prefix('\'').unwrap_or(cell).to_owned()
}

/// RFC 4180, section 2, with the text of RFC 7111: whether it is a file of that grammar.
fn is_by_the_grammar(text: &str) -> bool {
    let (mut letters, mut width, mut cells) = (text.chars().peekable(), None, 1);
    while letters.peek().is_some() {
        // A field, quoted or not.
        if letters.next_if_eq(&'"').is_some() {
            loop {
                match letters.next() {
                    Some('"') if letters.next_if_eq(&'"').is_none() => break,
                    Some('"' | '\r' | '\n') => {}
                    Some(letter) if !letter.is_control() => {}
                    _ => return false,
                }
            }
        } else {
            while letters.next_if(|letter| !letter.is_control() && !matches!(letter, '"' | ',')).is_some() {}
        }
        match letters.next() {
            Some(',') => cells += 1,
            Some('\r') if letters.next() == Some('\n') => {
                if *width.get_or_insert(cells) != cells {
                    return false;
                }
                cells = 1;
            }
            _ => return false,
        }
    }
    text.ends_with("\r\n")
}

fn told(text: &str) -> String {
    written_out(text, |letter| letter.is_control() && !matches!(letter, '\r' | '\n') || is_invisible(letter))
}

/// That a table has every finding.
fn holds(text: &str, audit: &Audit) {
    assert!(is_by_the_grammar(text), "{text:?}");
    let rows = read(text);
    if audit.findings.is_empty() {
        assert_eq!((rows.len(), rows[0]["item"].as_str(), rows[0]["reminder"].as_str()), (1, "", REMINDER));
        return;
    }
    assert_eq!(rows.len(), audit.findings.len());
    for (row, finding) in rows.iter().zip(&audit.findings) {
        let subject = finding.subject.clone().unwrap_or_default();
        let expected = [
            ("item", finding.item.clone()),
            ("subject", told(&subject)),
            ("verdict", finding.verdict.word().to_owned()),
            ("stops_the_visit", finding.stops_the_visit.to_string()),
            ("by", finding.by.to_string()),
            ("system", finding.system.clone()),
            ("project", told(&audit.project)),
            ("on", audit.on.clone()),
            ("reminder", REMINDER.to_owned()),
            ("check", told(finding.check.as_deref().unwrap_or_default())),
            ("remedy", told(finding.remedy.as_deref().unwrap_or_default())),
            ("caution", told(finding.caution.as_deref().unwrap_or_default())),
        ];
        for (column, value) in expected {
            assert_eq!(row[column], value, "{column} of {}", finding.item);
        }
        for reason in &finding.because {
            assert!(row["asked"].contains(&told(&reason.expression)), "{row:?}");
        }
        if let Some(concession) = &finding.concession {
            assert!(row["conceded"].contains(&told(concession.reason.trim_end())), "{row:?}");
        }
    }
}

#[test]
fn every_finding_has_a_row() {
    let audit = made::audit();
    let text = csv(&audit);
    holds(&text, &audit);
    let rows = read(&text);
    let serial = rows.iter().find(|row| row["item"] == "us/identity.serial").expect("the serial number");
    assert!(
        serial["seen"].starts_with("plate.serial = \"107\" (plate.toml:4); papers.serial = \"0107\""),
        "{serial:?}"
    );
    assert_eq!(serial["sources"], "14 CFR 45.13, edition 1 January 2024, at 45.13(a)");
    let aside = rows.iter().find(|row| row["item"] == "us/fuel.header").expect("set aside");
    assert_eq!(aside["set_aside"], "by the pack `kit`: The kit has a header tank. Instead of not shown.");
    assert!(text.starts_with("item,subject,verdict,title,kind,stops_the_visit,"), "{text}");
    holds(&csv(&Audit { findings: Vec::new(), ..audit.clone() }), &Audit { findings: Vec::new(), ..audit });
}

#[test]
fn awkward_texts_come_back_as_they_were() {
    let mut guarded = 0;
    with_dice(&[], |dice| {
        for _ in 0..300 {
            let audit = awkward::audit(dice);
            let text = csv(&audit);
            holds(&text, &audit);
            guarded += text.matches(",'").count() + text.matches(",\"'").count();
        }
    });
    assert!(guarded > 20, "{guarded} cells were guarded");
}

/// The reader of the grammar refuses what the RFC does.
#[test]
fn the_grammar_finds_what_is_wrong() {
    for fine in ["a,b\r\n", "\"a,\"\"b\r\n\",c\r\nd,\r\n"] {
        assert!(is_by_the_grammar(fine), "{fine:?}");
    }
    for wrong in ["a,b", "a\n", "a,b\r\nc\r\n", "a\"b\r\n", "\"a\"b\r\n", "\"a\r\n", "a\tb\r\n", "\"\u{1b}\"\r\n"] {
        assert!(!is_by_the_grammar(wrong), "{wrong:?}");
    }
}

#[test]
fn the_demo_is_whole() {
    let run = Run::new("csv-demo");
    let demo = |format: &str| run.step(&["audit", "--demo", "--on", "2026-11-25", "--format", format]).out;
    let text = demo("csv");
    assert!(is_by_the_grammar(&text));
    let rows = read(&text);
    let audit: serde_json::Value = serde_json::from_str(&demo("json")).unwrap();
    let findings = audit["findings"].as_array().unwrap();
    assert!(rows.len() > 300);
    assert_eq!(rows.len(), findings.len());
    for (row, finding) in rows.iter().zip(findings) {
        for column in
            ["item", "subject", "verdict", "by", "zone", "system", "basis", "added_by", "check", "remedy", "caution"]
        {
            assert_eq!(row[column], finding[column].as_str().unwrap_or_default(), "{column} of {}", finding["item"]);
        }
    }
}

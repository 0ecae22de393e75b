//! A kept audit as text, and back.
//!
//! The text is JSON with `schema` always `cotterpin-saved-audit` and `version`
//! a whole number from 1. A reader refuses a version it does not know, and
//! takes what is not there as empty. Only `schema`, `version`, `on`, and `item`
//! and `verdict` of a finding must be there.
//!
//! | key | what it holds |
//! |---|---|
//! | `project`, `on`, `visit`, `by`, `engine` | the frame of the audit; `on` is ISO 8601 |
//! | `packs[]` | `name`, `edition` |
//! | `values` | recorded values by fact: `"fuel.flow_test.rate": "18 gal/h"`; of a record by its name: `"electrical.runs[pump]": {"length": "20 ft"}`; null where nobody recorded it; in a list of one what is not as it was written: `[{"records": 4}]` |
//! | `items[]` | `item`, `title`, `by`, `stops_the_visit` if it can end the visit, `findings[]` |
//!
//! | key of a finding | what it holds; left out where empty |
//! |---|---|
//! | `of` | the record it is about |
//! | `verdict` | `met`, `unmet`, `not-shown`, `not-applicable`, `conceded` |
//! | `seen[]` | names of the values that decided, found under `values` |
//! | `worked_out`, `missing` | by name: the value, the cause for which it is wanted |
//! | `asked[]` | the deciding parts, as the pack writes them |
//! | `notes[]`, `lapsed[]`, `concession`, `set_aside[]` | what was said besides, what lapsed, leave, and what was set aside, each by its parts |
//!
//! The first form had sentences in place of causes, notes and the rest, and is
//! still read: a sentence decides nothing that is not known without it.
//!
//! One item is one line, in the order of names, so that two files can be laid
//! side by side.

use super::first_form;
use super::saved::{Aside, Leave, Saved, SavedFinding, SavedLapse, SavedNote, SavedPack};
use crate::audit::{MissingCause, ObservedValue};
use crate::diagnostic::Diagnostic;
use crate::project::encoding;
use crate::quantity::Date;
use crate::vocabulary::Verdict;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

const SCHEMA: &str = "cotterpin-saved-audit";
/// The newest form this version writes and knows.
const VERSION: u32 = 2;

/// What says whether the rest can be read.
#[derive(Deserialize)]
struct Head {
    schema: Option<String>,
    version: Option<u32>,
}

#[derive(Deserialize)]
struct Body {
    #[serde(default)]
    project: String,
    on: String,
    visit: Option<String>,
    by: Option<String>,
    #[serde(default)]
    engine: String,
    #[serde(default)]
    packs: Vec<PackText>,
    #[serde(default)]
    values: BTreeMap<String, ValuesText>,
    #[serde(default)]
    items: Vec<ItemText>,
}

#[derive(Serialize, Deserialize)]
struct PackText {
    name: String,
    #[serde(default)]
    edition: String,
}

/// A fact's value, or the values of a record's fields.
#[derive(Serialize, Deserialize)]
#[serde(untagged)]
enum ValuesText {
    Fact(ValueText),
    Record(BTreeMap<String, ValueText>),
}

/// A value: nothing, as it was written, or something else.
#[derive(Serialize, Deserialize)]
#[serde(untagged)]
enum ValueText {
    NotRecorded(()),
    SharedText(String),
    Other([ObservedValue; 1]),
}

/// What the first form says in a sentence.
#[derive(Serialize, Deserialize)]
#[serde(untagged)]
enum OrWorded<T> {
    Known(T),
    Worded(String),
}

#[derive(Serialize, Deserialize)]
struct ItemText {
    item: String,
    #[serde(default)]
    title: String,
    #[serde(default)]
    by: String,
    #[serde(default, skip_serializing_if = "is_false")]
    stops_the_visit: bool,
    #[serde(default)]
    findings: Vec<FindingText>,
}

/// What the findings of an item share.
struct ItemHead<'t> {
    item: &'t str,
    title: &'t str,
    by: &'t str,
    stops_the_visit: bool,
    first_form: bool,
}

#[derive(Serialize, Deserialize)]
struct FindingText {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    of: Option<String>,
    verdict: String,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    seen: Vec<String>,
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    worked_out: BTreeMap<String, ValueText>,
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    missing: BTreeMap<String, OrWorded<MissingCause>>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    asked: Vec<String>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    notes: Vec<SavedNote>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    concession: Option<OrWorded<Leave>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    set_aside: Option<OrWorded<Vec<Aside>>>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    lapsed: Vec<OrWorded<SavedLapse>>,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands the field over by reference")]
fn is_false(flag: &bool) -> bool {
    !flag
}

impl ValueText {
    fn of(value: &ObservedValue) -> Self {
        match value {
            ObservedValue::NotRecorded => Self::NotRecorded(()),
            ObservedValue::Recorded(text) => Self::SharedText(text.clone()),
            other => Self::Other([other.clone()]),
        }
    }

    /// A text is what the builder wrote; the first form has sentences there too.
    fn read(self, (first_form, worked_out): (bool, bool)) -> ObservedValue {
        match self {
            Self::NotRecorded(()) => ObservedValue::NotRecorded,
            Self::SharedText(text) if first_form => first_form::value(text, worked_out),
            Self::SharedText(text) => ObservedValue::Recorded(text),
            Self::Other([value]) => value,
        }
    }
}

impl<T> OrWorded<T> {
    fn or(self, read: impl FnOnce(String) -> T) -> T {
        match self {
            Self::Known(known) => known,
            Self::Worded(text) => read(text),
        }
    }

    fn or_some(self, read: impl FnOnce(&str) -> Option<T>) -> Option<T> {
        match self {
            Self::Known(known) => Some(known),
            Self::Worded(text) => read(&text),
        }
    }
}

impl Saved {
    /// The text to keep, with a line end.
    #[must_use]
    pub fn to_text(&self) -> String {
        let mut text = String::from("{\n");
        line(&mut text, "schema", &SCHEMA);
        line(&mut text, "version", &VERSION);
        line(&mut text, "project", &self.project);
        line(&mut text, "on", &self.on);
        line(&mut text, "visit", &self.visit);
        line(&mut text, "by", &self.by);
        line(&mut text, "engine", &self.engine);
        let packs = self.packs.iter().map(|pack| PackText { name: pack.name.clone(), edition: pack.edition.clone() });
        block(&mut text, "packs", "[]", packs.map(|pack| json(&pack)));
        text.push_str(",\n");
        let values = folded(&self.values);
        block(&mut text, "values", "{}", values.iter().map(|(name, value)| format!("{}: {}", json(name), json(value))));
        text.push_str(",\n");
        block(&mut text, "items", "[]", items(&self.findings).iter().map(json));
        text.push_str("\n}\n");
        text
    }

    /// Reads what [`Saved::to_text`] wrote, now or years ago. `name` is for messages.
    ///
    /// # Errors
    /// A message that says why the text is no kept audit.
    pub fn read(name: &str, bytes: &[u8]) -> Result<Self, Diagnostic> {
        let text = encoding::text(bytes).map_err(|wrong| wrong.told(name))?;
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let head: Head = serde_json::from_str(text).map_err(|problem| broken(name, &problem))?;
        if head.schema.as_deref() != Some(SCHEMA) {
            return Err(other_schema(name, head.schema.as_deref()));
        }
        let version = head.version.filter(|version| *version > 0).ok_or_else(|| {
            Diagnostic::error("saved::form", format!("`{name}` has no `version`, a whole number from 1")).help(AGAIN)
        })?;
        if version > VERSION {
            return Err(newer(name, version));
        }
        let body: Body = serde_json::from_str(text).map_err(|problem| broken(name, &problem))?;
        if let Err(problem) = Date::parse(&body.on) {
            return Err(Diagnostic::error("saved::date", format!("the audit date in `{name}`: {problem}")).help(AGAIN));
        }
        let first_form = version == 1;
        let mut findings = Vec::new();
        for ItemText { item, title, by, stops_the_visit, findings: of_item } in body.items {
            let head = ItemHead { item: &item, title: &title, by: &by, stops_the_visit, first_form };
            for finding in of_item {
                findings.push(finding_of(name, &head, finding)?);
            }
        }
        Ok(Self {
            project: body.project,
            on: body.on,
            visit: body.visit,
            by: body.by,
            engine: body.engine,
            packs: body.packs.into_iter().map(|PackText { name, edition }| SavedPack { name, edition }).collect(),
            values: unfolded(body.values, first_form),
            findings,
            first_form,
        })
    }
}

const AGAIN: &str = "the file may have been cut short or edited; take another saved audit, or save one \
anew";

/// What a later form means is not known here, and to leave it out could hide something.
fn newer(name: &str, version: u32) -> Diagnostic {
    let message =
        format!("`{name}` has version {version} of a saved audit; this cotterpin reads up to version {VERSION}");
    Diagnostic::error("saved::newer", message).help("compare with the cotterpin that saved it, or with a newer one")
}

fn broken(name: &str, problem: &serde_json::Error) -> Diagnostic {
    let message = format!("`{name}` is not a saved audit that can be read: {problem}");
    Diagnostic::error("saved::form", message).help(AGAIN)
}

fn other_schema(name: &str, schema: Option<&str>) -> Diagnostic {
    let message = match schema {
        Some(schema) => format!("`{name}` is not a saved audit: its schema is `{schema}`, not `{SCHEMA}`"),
        None => format!("`{name}` is not a saved audit: it has no `schema`"),
    };
    Diagnostic::error("saved::schema", message).help("a report cannot be compared: give an audit that was saved")
}

fn finding_of(name: &str, item: &ItemHead<'_>, text: FindingText) -> Result<SavedFinding, Diagnostic> {
    let known =
        [Verdict::Met, Verdict::Unmet, Verdict::NotShown, Verdict::NotApplicable, Verdict::Conceded, Verdict::SetAside];
    let verdict = known.into_iter().find(|verdict| verdict.word() == text.verdict).ok_or_else(|| {
        let message = format!("`{name}` gives `{}` the verdict `{}`, which is none", item.item, text.verdict);
        Diagnostic::error("saved::verdict", message)
            .help("the verdicts are met, unmet, not-shown, not-applicable, conceded and set-aside")
    })?;
    // What was set aside had the verdict of what does not apply, once.
    let once = verdict == Verdict::NotApplicable && text.set_aside.is_some();
    let verdict = if once { Verdict::SetAside } else { verdict };
    Ok(SavedFinding {
        item: item.item.to_owned(),
        subject: text.of,
        verdict,
        title: item.title.to_owned(),
        by: item.by.to_owned(),
        stops_the_visit: item.stops_the_visit,
        seen: text.seen,
        worked_out: text
            .worked_out
            .into_iter()
            .map(|(name, value)| (name, value.read((item.first_form, true))))
            .collect(),
        missing: text.missing.into_iter().map(|(name, why)| (name, why.or(first_form::missing_cause))).collect(),
        asked: text.asked,
        notes: text.notes,
        concession: text.concession.and_then(|leave| leave.or_some(first_form::leave)),
        set_aside: text.set_aside.map(|asides| asides.or(|text| first_form::asides(&text))).unwrap_or_default(),
        lapsed: text.lapsed.into_iter().filter_map(|lapse| lapse.or_some(first_form::lapse)).collect(),
    })
}

/// Findings of one item under one head.
fn items(findings: &[SavedFinding]) -> Vec<ItemText> {
    let mut items: Vec<ItemText> = Vec::new();
    for finding in findings {
        let text = FindingText {
            of: finding.subject.clone(),
            verdict: finding.verdict.word().to_owned(),
            seen: finding.seen.clone(),
            worked_out: finding.worked_out.iter().map(|(name, value)| (name.clone(), ValueText::of(value))).collect(),
            missing: finding.missing.iter().map(|(name, why)| (name.clone(), OrWorded::Known(why.clone()))).collect(),
            asked: finding.asked.clone(),
            notes: finding.notes.clone(),
            concession: finding.concession.clone().map(OrWorded::Known),
            set_aside: (!finding.set_aside.is_empty()).then(|| OrWorded::Known(finding.set_aside.clone())),
            lapsed: finding.lapsed.iter().cloned().map(OrWorded::Known).collect(),
        };
        match items.last_mut().filter(|item| item.item == finding.item) {
            Some(item) => item.findings.push(text),
            None => items.push(ItemText {
                item: finding.item.clone(),
                title: finding.title.clone(),
                by: finding.by.clone(),
                stops_the_visit: finding.stops_the_visit,
                findings: vec![text],
            }),
        }
    }
    items
}

/// `list[record].field` under `list[record]`; a field's name has no bracket,
/// so the last one ends the record's name, whatever stands in that.
fn folded(values: &BTreeMap<String, ObservedValue>) -> BTreeMap<String, ValuesText> {
    let mut folded = BTreeMap::new();
    for (name, value) in values {
        let Some((record, field)) = name.rsplit_once("].") else {
            folded.insert(name.clone(), ValuesText::Fact(ValueText::of(value)));
            continue;
        };
        let empty = || ValuesText::Record(BTreeMap::new());
        if let ValuesText::Record(fields) = folded.entry(format!("{record}]")).or_insert_with(empty) {
            fields.insert(field.to_owned(), ValueText::of(value));
        }
    }
    folded
}

fn unfolded(folded: BTreeMap<String, ValuesText>, first_form: bool) -> BTreeMap<String, ObservedValue> {
    let mut values = BTreeMap::new();
    for (name, value) in folded {
        match value {
            ValuesText::Fact(value) => {
                values.insert(name, value.read((first_form, false)));
            }
            ValuesText::Record(fields) => {
                let read = |value: ValueText| value.read((first_form, false));
                let named = |(field, value): (String, ValueText)| (format!("{name}.{field}"), read(value));
                values.extend(fields.into_iter().map(named));
            }
        }
    }
    values
}

fn line(text: &mut String, key: &str, value: &impl Serialize) {
    text.push_str(&format!("  {}: {},\n", json(&key), json(value)));
}

/// A list or an object with one line for each of its parts; no end of line after it.
fn block(text: &mut String, key: &str, ends: &str, parts: impl Iterator<Item = String>) {
    let (open, close) = ends.split_at(1);
    let parts: Vec<String> = parts.map(|part| format!("    {part}")).collect();
    text.push_str(&format!("  {}: {open}", json(&key)));
    if !parts.is_empty() {
        text.push_str(&format!("\n{}\n  ", parts.join(",\n")));
    }
    text.push_str(close);
}

/// Strings and maps of strings always become JSON.
fn json(value: &impl Serialize) -> String {
    serde_json::to_string(value).unwrap_or_else(|_| "null".to_owned())
}

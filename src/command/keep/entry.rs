//! One entry of the log as text.

use super::quoted::quoted;

/// What was done; the words of the log.
pub(in crate::command) const WHATS: [&str; 11] = [
    "work done",
    "inspected",
    "tested",
    "measured",
    "removed",
    "refitted",
    "adjusted",
    "opened",
    "closed",
    "snag found",
    "snag cleared",
];

/// An entry, every part of it as it shall be read; `on` already in TOML.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(in crate::command) struct Entry {
    pub(in crate::command) on: String,
    pub(in crate::command) what: String,
    pub(in crate::command) subject: String,
    pub(in crate::command) who: String,
    pub(in crate::command) role: Option<String>,
    pub(in crate::command) points: Vec<String>,
    pub(in crate::command) fit: Option<String>,
    pub(in crate::command) instrument: Option<String>,
    pub(in crate::command) purpose: Option<String>,
    pub(in crate::command) snag: Option<u32>,
    pub(in crate::command) takes: Option<String>,
    pub(in crate::command) by: Option<String>,
    pub(in crate::command) zone: Option<String>,
    pub(in crate::command) evidence: Vec<String>,
    pub(in crate::command) note: Option<String>,
}

impl Entry {
    /// `[[log]]` and its keys, those that are not used left out.
    pub(in crate::command) fn text(&self) -> String {
        let list = |texts: &[String]| {
            let texts: Vec<String> = texts.iter().map(|text| quoted(text)).collect();
            (!texts.is_empty()).then(|| format!("[{}]", texts.join(", ")))
        };
        let text = |text: &Option<String>| text.as_deref().map(quoted);
        let keys = [
            ("on", Some(self.on.clone())),
            ("what", Some(quoted(&self.what))),
            ("subject", Some(quoted(&self.subject))),
            ("who", Some(quoted(&self.who))),
            ("role", text(&self.role)),
            ("points", list(&self.points)),
            ("fit", text(&self.fit)),
            ("instrument", text(&self.instrument)),
            ("for", text(&self.purpose)),
            ("snag", self.snag.map(|number| number.to_string())),
            ("takes", text(&self.takes)),
            ("by", text(&self.by)),
            ("zone", text(&self.zone)),
            ("evidence", list(&self.evidence)),
            ("note", text(&self.note)),
        ];
        let lines = keys.into_iter().filter_map(|(key, value)| Some(format!("{key} = {}\n", value?)));
        format!("[[log]]\n{}", lines.collect::<String>())
    }
}

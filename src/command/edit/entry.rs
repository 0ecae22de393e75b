//! One entry of the log as text.

use super::quoted::quoted;
use cotterpin_engine::project::Fit;
use cotterpin_engine::project::keys::log::{
    ANOTHER, BY, EVIDENCE, FIT, FOR, FOR_GOOD, FOR_VISIT, INSTRUMENT, LOG, NOTE, ON, POINTS, ROLE, SNAG, SUBJECT,
    TAKES, WHAT, WHO, ZONE,
};
use cotterpin_engine::vocabulary::Event;

/// An entry to be written: `on` already in TOML, texts as they were given.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::command) struct Entry {
    pub(in crate::command) on: String,
    pub(in crate::command) what: Event,
    pub(in crate::command) subject: String,
    pub(in crate::command) who: String,
    pub(in crate::command) role: Option<String>,
    pub(in crate::command) points: Vec<String>,
    pub(in crate::command) fit: Option<Fit>,
    pub(in crate::command) instrument: Option<String>,
    pub(in crate::command) for_visit: bool,
    pub(in crate::command) for_good: bool,
    pub(in crate::command) another: bool,
    pub(in crate::command) snag: Option<u32>,
    pub(in crate::command) takes: Option<String>,
    pub(in crate::command) by: Option<String>,
    pub(in crate::command) zone: Option<String>,
    pub(in crate::command) evidence: Vec<String>,
    pub(in crate::command) note: Option<String>,
}

impl Entry {
    /// An entry with nothing but what every entry has.
    pub(in crate::command) fn new(what: Event, subject: String, who: String, on: String) -> Self {
        Self {
            on,
            what,
            subject,
            who,
            role: None,
            points: Vec::new(),
            fit: None,
            instrument: None,
            for_visit: false,
            for_good: false,
            another: false,
            snag: None,
            takes: None,
            by: None,
            zone: None,
            evidence: Vec::new(),
            note: None,
        }
    }

    /// What it was opened or removed for.
    pub(in crate::command) fn purpose(&self) -> Option<&'static str> {
        let good = self.for_good.then_some(FOR_GOOD);
        self.for_visit.then_some(FOR_VISIT).or(good)
    }

    /// `[[log]]` and its keys, those that are not used left out.
    pub(in crate::command) fn text(&self) -> String {
        let list = |texts: &[String]| {
            let texts: Vec<String> = texts.iter().map(|text| quoted(text)).collect();
            (!texts.is_empty()).then(|| format!("[{}]", texts.join(", ")))
        };
        let text = |text: &Option<String>| text.as_deref().map(quoted);
        let keys = [
            (ON, Some(self.on.clone())),
            (WHAT, Some(quoted(self.what.words()))),
            (SUBJECT, Some(quoted(&self.subject))),
            (WHO, Some(quoted(&self.who))),
            (ROLE, text(&self.role)),
            (POINTS, list(&self.points)),
            (FIT, self.fit.map(|fit| quoted(fit.word()))),
            (INSTRUMENT, text(&self.instrument)),
            (FOR, self.purpose().map(quoted)),
            (ANOTHER, self.another.then(|| true.to_string())),
            (SNAG, self.snag.map(|number| number.to_string())),
            (TAKES, text(&self.takes)),
            (BY, text(&self.by)),
            (ZONE, text(&self.zone)),
            (EVIDENCE, list(&self.evidence)),
            (NOTE, text(&self.note)),
        ];
        let lines = keys.into_iter().filter_map(|(key, value)| Some(format!("{key} = {}\n", value?)));
        format!("[[{LOG}]]\n{}", lines.collect::<String>())
    }
}

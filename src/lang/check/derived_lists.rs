//! Lists that the log keeps: a pack declares which of them it reads, and
//! nobody writes them.

use super::checker::Checker;
use crate::diagnostic::{Diagnostic, nearest};
use crate::ir::{Arena, DERIVED_LISTS, Fact, FieldId, Kind};
use crate::syntax::ast::Name;

/// What a field holds.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Holds {
    Text,
    TextOrNone,
    Day,
    DayOrNone,
    YesNo,
    Fit,
}

/// How a part can be fitted, in the words of the log.
const FITS: [&str; 3] = ["trial", "temporary", "final"];

const SNAGS: [(&str, Holds); 7] = [
    ("snag", Holds::Text),
    ("part", Holds::Text),
    ("found", Holds::Day),
    ("cleared", Holds::DayOrNone),
    ("due", Holds::TextOrNone),
    ("zone", Holds::TextOrNone),
    ("note", Holds::TextOrNone),
];

const FITTINGS: [(&str, Holds); 6] = [
    ("part", Holds::Text),
    ("fit", Holds::Fit),
    ("since", Holds::Day),
    ("zone", Holds::TextOrNone),
    ("closed", Holds::YesNo),
    ("note", Holds::TextOrNone),
];

const OPENINGS: [(&str, Holds); 5] = [
    ("what", Holds::Text),
    ("opened", Holds::Day),
    ("closed", Holds::YesNo),
    ("for_visit", Holds::YesNo),
    ("zone", Holds::TextOrNone),
];

fn fields_of(list: &str) -> Option<&'static [(&'static str, Holds)]> {
    match list {
        "log.snags" => Some(&SNAGS),
        "log.fittings" => Some(&FITTINGS),
        "log.openings" => Some(&OPENINGS),
        _ => None,
    }
}

/// The field by which the log names the records of a list that it keeps: their first. No two
/// records share it, and a pack that does not read it need not declare it.
pub(super) fn name_in_the_log(list: &str) -> Option<&'static str> {
    fields_of(list)?.first().map(|(name, _)| *name)
}

impl Holds {
    fn written(self) -> &'static str {
        match self {
            Self::Text => "text",
            Self::TextOrNone => "optional text",
            Self::Day => "date",
            Self::DayOrNone => "optional date",
            Self::YesNo => "yes or no",
            Self::Fit => "trial or temporary or final",
        }
    }
}

impl Checker {
    /// Names that begin with `log` are the log's own: only the lists it keeps
    /// can be declared. Says whether the name may stand.
    pub(super) fn of_the_log(&mut self, what: &str, name: &Name) -> bool {
        let of_log = name.text == "log" || name.text.starts_with("log.");
        if !of_log || what == "list" && DERIVED_LISTS.contains(&name.as_str()) {
            return true;
        }
        let message = format!("`{}` has a name of the log, and no {what} of this name could be recorded", name.text);
        let help = match nearest(&name.text, DERIVED_LISTS) {
            Some(near) if what == "list" => format!("did you mean `{near}`?"),
            _ => format!("the log keeps the lists {}; give others another name", DERIVED_LISTS.join(", ")),
        };
        self.error(Diagnostic::error("list::kept", message).at(name.span, "this name").help(help));
        false
    }

    /// A list that the log keeps has the fields that the log can fill.
    pub(super) fn derived_fields(&mut self, list: &str, fields: &Arena<FieldId, Fact>) {
        let Some(known) = fields_of(list) else { return };
        for field in fields {
            let Some((_, holds)) = known.iter().find(|(name, _)| *name == field.name) else {
                let all: Vec<String> =
                    known.iter().map(|(name, holds)| format!("`{name} : {}`", holds.written())).collect();
                let message = format!("the log keeps no `{}` in `{list}`", field.name);
                let near = nearest(&field.name, known.iter().map(|(name, _)| *name));
                let near = near.map_or_else(String::new, |near| format!("did you mean `{near}`? "));
                let help = format!("{near}its fields are {}", all.join(", "));
                self.error(Diagnostic::error("list::kept", message).at(field.place, "this field").help(help));
                continue;
            };
            if !self.can_hold(field, *holds) {
                let message = format!("the log keeps `{}` of `{list}` as `{}`", field.name, holds.written());
                let help = format!("write `field {} : {}`", field.name, holds.written());
                self.error(Diagnostic::error("list::kept", message).at(field.place, "of another kind").help(help));
            }
        }
    }

    fn can_hold(&self, field: &Fact, holds: Holds) -> bool {
        match holds {
            Holds::Text => field.kind == Kind::Text,
            Holds::TextOrNone => field.kind == Kind::Text && field.optional,
            Holds::Day => field.kind == Kind::Date,
            Holds::DayOrNone => field.kind == Kind::Date && field.optional,
            Holds::YesNo => field.kind == Kind::YesNo,
            Holds::Fit => {
                let words = self.rules.words(field.kind);
                matches!(field.kind, Kind::Choice(_)) && words.len() == 3 && FITS.iter().all(|fit| words.contains(fit))
            }
        }
    }
}

//! The schemas of all outputs for programs: JSON Schema, draft 2020-12. The
//! files of `schemas` have one output each; what several of them share stands
//! in `shared.json`, and goes into each as it is given out.

/// The schema of one output.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Schema {
    /// Its name: `audit`.
    pub name: &'static str,
    /// Its version. What may be added under the same one, the README says.
    pub version: u32,
    /// The output it is of.
    pub about: &'static str,
    own: &'static str,
}

const SHARED: &str = include_str!("schemas/shared.json");

/// A schema with its file.
macro_rules! schemas {
    ($($constant:ident = $name:literal, $version:literal, $about:literal;)+) => {
        $(pub(super) const $constant: Schema = Schema {
            name: $name,
            version: $version,
            about: $about,
            own: include_str!(concat!("schemas/", $name, ".json")),
        };)+

        /// All of them.
        pub const SCHEMAS: &[Schema] = &[$($constant),+];
    };
}

schemas! {
    AUDIT = "audit", 2, "cotterpin audit";
    WHY = "why", 1, "cotterpin why";
    NEXT = "next", 2, "cotterpin next";
    CLOSE_UP = "close-up", 2, "cotterpin next --close-up";
    SINCE = "since", 2, "cotterpin since";
    QUESTIONS = "questions", 1, "cotterpin questions";
    PACKS = "packs", 2, "cotterpin packs";
    PACK = "pack", 1, "cotterpin packs show";
    TRY = "try", 1, "cotterpin try";
    MESSAGES = "messages", 1, "any of them that could not be done";
}

impl Schema {
    /// The schema of that name.
    #[must_use]
    pub fn named(name: &str) -> Option<&'static Self> {
        SCHEMAS.iter().find(|schema| schema.name == name)
    }

    /// As an output names it: `cotterpin-audit/2`.
    #[must_use]
    pub fn full_name(&self) -> String {
        format!("cotterpin-{}/{}", self.name, self.version)
    }

    /// The whole schema with all it refers to, and a line end.
    #[must_use]
    pub fn text(&self) -> String {
        let own = self.own.trim_end().strip_suffix('}').unwrap_or(self.own).trim_end();
        let shared = SHARED.trim_end().replace('\n', "\n  ");
        format!("{own},\n  \"$defs\": {shared}\n}}\n")
    }
}

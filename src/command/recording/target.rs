//! What a question of the audit is about, and the way to it in a file.

use super::project::Project;
use crate::command::edit::{Step, value_at};
use cotterpin_engine::ir::{Fact, FactId, FieldId, ListId};
use cotterpin_engine::project::whole::LOG;

/// Something that can be asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::command) enum Target {
    Fact(FactId),
    /// A field of a record: list, row, field.
    Field(ListId, usize, FieldId),
    /// A list of which no record is known.
    List(ListId),
    /// The word that a list is whole.
    Whole(ListId),
    /// The word that the log is.
    WholeLog,
}

impl Target {
    /// What the name means; nothing for evidence, words of persons and entries
    /// of the log, which are not asked for here.
    pub(in crate::command) fn of(project: &Project, name: &str) -> Option<Self> {
        let rules = &project.rules;
        if let Some(id) = rules.fact_by_name.get(name) {
            return Some(Self::Fact(*id));
        }
        if let Some(id) = rules.list_by_name.get(name) {
            let any = project.record.lists.get(id).is_some_and(|rows| !rows.rows.is_empty());
            return Some(if any { Self::Whole(*id) } else { Self::List(*id) });
        }
        if name == LOG {
            return Some(Self::WholeLog);
        }
        let (record, field) = name.rsplit_once("].")?;
        let (list, record) = record.split_once('[')?;
        let id = *rules.list_by_name.get(list)?;
        let field = rules.list(id)?.fields.position(|known| known.name == field)?;
        let row = project.record_names(id).iter().position(|name| name == record)?;
        Some(Self::Field(id, row, field))
    }

    /// The fact, where it is one value.
    pub(in crate::command) fn fact(self, project: &Project) -> Option<&Fact> {
        match self {
            Self::Fact(id) => project.rules.fact(id),
            Self::Field(list, _, field) => project.rules.list(list)?.fields.get(field),
            Self::List(_) | Self::Whole(_) | Self::WholeLog => None,
        }
    }

    /// The record it is a field of, by its name.
    pub(in crate::command) fn name(self, project: &Project) -> Option<String> {
        let Self::Field(list, row, _) = self else { return None };
        project.record_names(list).get(row).cloned()
    }

    /// What is recorded of it already: the text and its place.
    pub(in crate::command) fn recorded(self, project: &Project) -> Option<(String, String)> {
        let recorded = match self {
            Self::Fact(id) => project.record.facts.get(&id),
            Self::Field(list, row, field) => project.record.lists.get(&list)?.rows.get(row)?.field(field),
            Self::List(_) | Self::Whole(_) | Self::WholeLog => None,
        }?;
        Some((recorded.told(), project.record.sources.place(recorded.place).to_string()))
    }

    /// What stands there, as it is written: a value, or a table of one with its day.
    pub(in crate::command) fn written(self, project: &Project) -> Option<String> {
        let recorded = match self {
            Self::Fact(id) => project.record.facts.get(&id),
            Self::Field(list, row, field) => project.record.lists.get(&list)?.rows.get(row)?.field(field),
            Self::List(_) | Self::Whole(_) | Self::WholeLog => None,
        }?;
        let sources = &project.record.sources;
        let file = sources.file(recorded.place.source)?;
        value_at(&file.text, &self.way(project)?)
    }

    /// The file in which it must stand, where there is no choice: that of a list has its other records too.
    pub(in crate::command) fn file(self, project: &Project) -> Option<String> {
        let place = match self {
            Self::Fact(id) => project.record.facts.get(&id)?.place,
            Self::Field(list, row, _) => project.record.lists.get(&list)?.rows.get(row)?.place,
            Self::List(list) | Self::Whole(list) => project.record.lists.get(&list)?.rows.first()?.place,
            Self::WholeLog => return None,
        };
        // What a project means by its country stands in no file of facts.
        (!self.is_by_country(project)).then(|| project.record.sources.place(place).file)
    }

    /// Whether it is recorded by the country of the project alone.
    pub(in crate::command) fn is_by_country(self, project: &Project) -> bool {
        let Self::Fact(id) = self else { return false };
        project.record.facts.get(&id).is_some_and(|one| one.place.source == project.header.place.source)
    }

    pub(in crate::command) fn way(self, project: &Project) -> Option<Vec<Step>> {
        Some(match self {
            Self::Fact(id) => keys(&project.rules.fact(id)?.name),
            Self::WholeLog => return None,
            Self::List(id) | Self::Whole(id) => keys(&project.rules.list(id)?.name),
            Self::Field(id, row, field) => {
                let list = project.rules.list(id)?;
                let mut way = keys(&list.name);
                way.extend([Step::Row(row), Step::Key(list.fields.get(field)?.name.to_string())]);
                way
            }
        })
    }
}

fn keys(name: &str) -> Vec<Step> {
    name.split('.').map(|part| Step::Key(part.to_owned())).collect()
}

//! A whole list, record by record.
//!
//! Half a list is worse than none: what must hold of every record would be
//! judged by those that happen to be written. So records are kept in a file that
//! no audit reads until the builder says that there are no more.

use super::Next;
use super::answer::{form, toml};
use super::dialogue::{Dialogue, Reply};
use super::project::{Project, SharedText, What};
use super::target::Target;
use crate::command::WIDTH;
use crate::command::edit::{Folder, key, parsed};
use crate::command::messages::Messages;
use crate::ir::{Fact, FieldId, List};
use crate::report::Page;

/// A list being answered.
struct Records<'l> {
    target: Target,
    list: &'l List,
    /// Where records wait until the list is whole.
    file: String,
    /// The records so far, each with its heading.
    text: String,
    count: usize,
}

/// What came of one record.
enum Record {
    Done,
    /// There are no more.
    Last,
    /// There is none at all.
    None,
    /// Not now.
    Later,
    Stop,
}

/// Asks for a list that is not recorded.
pub(super) fn ask(project: &mut Project, talk: &mut Dialogue<'_>, target: Target) -> Result<Next, Messages> {
    let Some(list) = target.list(project).cloned() else { return Ok(Next::Skipped) };
    let Some(mut records) = Records::resume(project, talk, target, &list)? else { return Ok(Next::Skipped) };
    talk.say("   Record by record. Where one would begin, no more ends the list, and\n   none says that there is nothing of the kind.\n");
    loop {
        match records.record(project, talk)? {
            Record::Done => {}
            Record::Last if records.count == 0 => {
                talk.say("No record was given. If there is nothing of the kind, answer none.\n");
                return Ok(Next::Skipped);
            }
            Record::Last => return records.finish(project, talk),
            Record::None => {
                let way = target.way(project).unwrap_or_default();
                let written = project.put(&way, None, What::Value("[]"))?;
                talk.say(&format!("Written to {}, line {}: {} is empty.\n", written.file, written.line, list.name));
                return Ok(Next::Answered);
            }
            Record::Later => {
                records.waiting(talk);
                return Ok(Next::Skipped);
            }
            Record::Stop => {
                records.waiting(talk);
                return Ok(Next::Stop);
            }
        }
    }
}

impl<'l> Records<'l> {
    /// With the records of an earlier run, if there are any.
    fn resume(
        project: &Project,
        talk: &mut Dialogue<'_>,
        target: Target,
        list: &'l List,
    ) -> Result<Option<Self>, Messages> {
        let file = format!("{}.unfinished.txt", list.name);
        let folder = Folder::open(&project.folder).map_err(Messages::one)?;
        let bytes = folder.read(&file).map_err(Messages::one)?.unwrap_or_default();
        let whole = parsed(&file, &bytes)?;
        let heading = format!("[[{}]]", list.name);
        let text = whole.find(&heading).and_then(|at| whole.get(at..)).unwrap_or("").to_owned();
        let count = text.lines().filter(|line| line.trim() == heading).count();
        let records = Self { target, list, file, text, count };
        if records.count > 0 {
            let way = target.way(project).unwrap_or_default();
            if let Err(messages) = project.would_hold(&way, What::Records(&records.text)) {
                talk.say(&messages.of_writing().shown(false));
                talk.say(&format!("The records in {} cannot be used; mend or remove that file.\n", records.file));
                return Ok(None);
            }
            talk.say(&format!("   {} of an earlier day wait in {}.\n", counted(records.count), records.file));
        }
        Ok(Some(records))
    }

    /// Says where the records of a list that is not whole are.
    fn waiting(&self, talk: &mut Dialogue<'_>) {
        if self.count > 0 {
            let mut page = Page::new(WIDTH);
            page.line(
                0,
                &format!(
                    "The list is not whole yet: its records wait in {}, which no audit reads, and `cotterpin ask` \
                     goes on from there.",
                    self.file
                ),
            );
            talk.say(&page.finish());
        }
    }

    fn record(&mut self, project: &Project, talk: &mut Dialogue<'_>) -> Result<Record, Messages> {
        let before = self.text.clone();
        let number = self.count.saturating_add(1);
        let mut begun = false;
        for (asked, (at, field)) in self.fields().into_iter().enumerate() {
            let first = asked == 0;
            let is_name = self.list.named_by == Some(at);
            talk.say(&question(project, number, field));
            loop {
                match talk.reply() {
                    Reply::Stop => return Ok(Record::Stop),
                    Reply::Text(text) if !begun && text == "no more" => return Ok(Record::Last),
                    Reply::Text(text) if !begun && number == 1 && text == "none" => return Ok(Record::None),
                    Reply::Skip if first => return Ok(Record::Later),
                    // A record cannot do without its name.
                    Reply::Unknown if first && is_name => return Ok(Record::Later),
                    Reply::Skip | Reply::Unknown => break,
                    Reply::Text(answer) => match toml(&project.rules, field, &answer) {
                        Err(why) => talk.say(&format!("{why}\n")),
                        Ok(value) if self.add(project, talk, &before, begun, field, &value)? => {
                            begun = true;
                            break;
                        }
                        Ok(_) => {}
                    },
                }
            }
        }
        if !begun {
            talk.say("Nothing was said of this record.\n");
        }
        Ok(Record::Done)
    }

    /// The field that names a record comes first.
    fn fields(&self) -> Vec<(FieldId, &'l Fact)> {
        let mut fields: Vec<(FieldId, &Fact)> = self.list.fields.with_ids().collect();
        fields.sort_by_key(|(at, _)| self.list.named_by != Some(*at));
        fields
    }

    /// Adds a field, if the record can be read with it; kept on disk at once.
    fn add(
        &mut self,
        project: &Project,
        talk: &mut Dialogue<'_>,
        before: &str,
        begun: bool,
        field: &Fact,
        value: &str,
    ) -> Result<bool, Messages> {
        let gap = if before.is_empty() { "" } else { "\n" };
        let head = if begun { String::new() } else { format!("{gap}[[{}]]\n", self.list.name) };
        let text = format!("{}{head}{} = {value}\n", self.text, key(&field.name));
        let way = self.target.way(project).unwrap_or_default();
        if let Err(messages) = project.would_hold(&way, What::Records(&text)) {
            talk.say(&messages.of_writing().shown(false));
            return Ok(false);
        }
        let note = format!(
            "# {}: not whole yet, and read by no audit. `cotterpin ask` goes on from here.\n\n",
            self.list.name
        );
        let folder = Folder::open(&project.folder).map_err(Messages::one)?;
        folder.replace(&self.file, format!("{note}{text}").as_bytes()).map_err(Messages::one)?;
        self.text = text;
        if !begun {
            self.count = self.count.saturating_add(1);
        }
        Ok(true)
    }

    /// The list is whole: from where it waited to where it counts.
    fn finish(self, project: &mut Project, talk: &mut Dialogue<'_>) -> Result<Next, Messages> {
        let way = self.target.way(project).unwrap_or_default();
        let SharedText { file, line } = project.put(&way, None, What::Records(&self.text))?;
        let folder = Folder::open(&project.folder).map_err(Messages::one)?;
        folder.remove(&self.file).map_err(Messages::one)?;
        talk.say(&format!("Written to {file}, line {line}: {} of {}.\n", counted(self.count), self.list.name));
        Ok(Next::Answered)
    }
}

fn counted(count: usize) -> String {
    if count == 1 { "1 record".to_owned() } else { format!("{count} records") }
}

fn question(project: &Project, number: usize, field: &Fact) -> String {
    let mut page = Page::new(WIDTH);
    page.hanging(0, 3, &format!("Record {number}, {}: {}", field.name, field.ask));
    let mut more = form(&project.rules, field);
    if let Some(example) = &field.example {
        more.push_str(&format!(". For example: {example}"));
    }
    page.line(3, &more);
    page.finish()
}

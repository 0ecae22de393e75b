//! A report without names: stand-ins for people, serial numbers, registrations
//! and addresses, the same for the same throughout, so that it can be shown to
//! strangers and still be followed.
//!
//! What is what, [`identities`] says, from the project's `[people]`, from whoever
//! is named beside an entry, a word or leave, and from the values of facts. Each
//! is then looked for wherever the builder's own words stand: in values, notes
//! and remarks, in names of records, parts and files, in the name of the
//! project, and in packs of the builder's own. It is found as a whole word,
//! whatever the letter case, accents, blanks and hyphens; the longest goes
//! first. Of a person's name each word is found alone as well. Words of one
//! letter, of roles (`inspector`), and such as `me` and `of` are not looked for.
//!
//! In the texts of the packs that come with the program, which are published,
//! only full names and designations of letters and digits are looked for.
//! Numbers with a unit, dates and words of a published choice stay: a length of
//! 107 mm is no serial number. What nobody recorded as a name or number of this kind is
//! not known to be one: a street in a note stays there.

mod identities;
mod table;
mod walk;

use super::message::{LabelledPlace, Message};
use crate::audit::Audit;
use crate::history::Standing;
use crate::ir::{Fact, Kind, PackId, Rules};
use crate::project::{Record, is_myself, is_nobody, one_name};
use identities::PERSON;
use std::collections::{BTreeMap, BTreeSet};
use table::{Table, folded};

/// What people put before a name or between its words; none of it is anybody's.
const NO_NAMES: [&str; 29] = [
    "a", "al", "and", "da", "de", "del", "den", "der", "di", "dos", "dr", "du", "el", "frau", "herr", "ii", "iii",
    "jr", "la", "le", "miss", "mr", "mrs", "ms", "of", "sir", "sr", "the", "van",
];

/// What stands where two people share a word of their names.
const EITHER: &str = "somebody";

/// A designation with fewer letters and digits may be that of a table, or of a paragraph.
const LONG_ENOUGH: usize = 5;

/// Stand-ins for what a record says of people, and of which aircraft it is.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct StandIns {
    table: Table,
    /// Stand-ins of whole texts, as they are written.
    written: BTreeMap<String, String>,
    /// How many there are of each sort.
    counts: BTreeMap<&'static str, usize>,
    /// People by full name, as names are compared.
    people: BTreeMap<String, String>,
    /// Words of their names, with the person's stand-in.
    words: BTreeMap<String, BTreeSet<String>>,
    /// How many ways of writing one thing there are.
    spellings: BTreeMap<String, usize>,
    /// Words of roles.
    roles: BTreeSet<String>,
    /// Facts and fields whose values are the builder's own words, or say who or which.
    told: BTreeSet<String>,
    /// Names that published packs declare.
    names: BTreeSet<String>,
    /// The published packs.
    packs: BTreeSet<String>,
}

impl StandIns {
    /// Stand-ins for everything in `record` that says who somebody is, or which aircraft it is.
    #[must_use]
    pub fn of(rules: &Rules, record: &Record) -> Self {
        let mut stand_ins = Self::default();
        for role in &rules.roles {
            stand_ins.roles.extend(folded(&role.name));
        }
        stand_ins.published(rules);
        identities::enter(&mut stand_ins, rules, record);
        stand_ins
    }

    /// Puts them into an audit.
    pub fn put_into(&self, audit: &mut Audit) {
        walk::audit(self, audit);
    }

    /// Puts them into what is told of an audit that was kept.
    pub fn put_into_standing(&self, standing: &mut Standing) {
        for gone in &mut standing.gone {
            self.name(&mut gone.item);
            gone.subject.iter_mut().for_each(|subject| self.text(subject));
            match self.is_published(&gone.item) {
                true => self.published_text(&mut gone.title),
                false => self.text(&mut gone.title),
            }
            self.name(&mut gone.by);
        }
    }

    /// Puts them into a message, which may quote what somebody wrote.
    pub fn put_into_message(&self, message: &mut Message) {
        let Message { code: _, severity: _, message, labels, help } = message;
        [message].into_iter().chain(help).for_each(|text| self.text(text));
        for LabelledPlace { text, place, written } in labels {
            self.text(text);
            self.text(&mut place.file);
            self.text(written);
        }
    }

    /// The names that published packs declare: those that come with the program.
    fn published(&mut self, rules: &Rules) {
        let is_published = |pack: PackId| pack.index() < rules.prebuilt_packs;
        let mut names: BTreeSet<String> = BTreeSet::new();
        let titled = rules.hold_points.iter().chain(&rules.zones).chain(&rules.systems).chain(&rules.evidence);
        names.extend(titled.filter(|titled| is_published(titled.pack)).map(|titled| titled.name.to_string()));
        names.extend(rules.subjects.iter().filter(|part| is_published(part.pack)).map(|part| part.name.to_string()));
        names.extend(rules.facts.iter().filter(|fact| is_published(fact.pack)).map(|fact| fact.name.to_string()));
        for list in rules.lists.iter().filter(|list| is_published(list.pack)) {
            names.insert(list.name.to_string());
            names.extend(
                list.fields.iter().flat_map(|field| [field.name.to_string(), format!("{}.{}", list.name, field.name)]),
            );
        }
        for item in rules.items.iter().filter(|item| is_published(item.pack)) {
            names.insert(item.name.to_string());
            names.extend(rules.packs.get(item.pack).map(|pack| format!("{}/{}", pack.name, item.name)));
        }
        let packs = rules.packs.with_ids().filter(|(id, _)| is_published(*id)).map(|(_, pack)| pack.name.to_string());
        self.packs = packs.collect();
        names.extend(self.packs.iter().cloned());
        self.names = names;
    }

    /// Notes whether values of a fact are texts, numbers that say which, or words that the builder chose.
    fn known_values(&mut self, name: &str, fact: &Fact, published: bool) {
        let of_words = match fact.kind {
            Kind::Text | Kind::Named(_) => true,
            Kind::Choice(_) => !published,
            Kind::YesNo | Kind::Count | Kind::Number(_) | Kind::Date => false,
        };
        if of_words || identities::sort(fact, name).is_some() {
            self.told.insert(name.to_owned());
        }
    }

    fn next(&mut self, sort: &'static str) -> String {
        let count = self.counts.entry(sort).or_default();
        *count = count.saturating_add(1);
        format!("{sort} {count}")
    }

    /// A serial number, a registration and the like.
    fn enter(&mut self, sort: &'static str, text: &str) {
        let words = folded(text);
        if words.is_empty() {
            return;
        }
        let known = self.table.get(&words).or_else(|| self.written.get(text).map(String::as_str)).map(str::to_owned);
        let stand_in = known.unwrap_or_else(|| self.next(sort));
        self.spelt(text, &stand_in);
        let is_telling = is_telling(sort, &words);
        self.found(words, &stand_in, is_telling);
    }

    /// Looked for from now on, with and without what parts its words.
    fn found(&mut self, words: Vec<String>, stand_in: &str, is_telling: bool) {
        // One letter or one digit is too little to look for.
        if words.iter().flat_map(|word| word.chars()).nth(1).is_none() {
            return;
        }
        let together = folded(&words.concat());
        self.table.enter(words, stand_in, is_telling);
        self.table.enter(together, stand_in, is_telling);
    }

    /// Each way of writing one thing keeps a stand-in of its own where it is
    /// told as a value: that two papers differ is still to be seen.
    fn spelt(&mut self, text: &str, stand_in: &str) {
        if self.written.contains_key(text) {
            return;
        }
        let spellings = self.spellings.entry(stand_in.to_owned()).or_default();
        *spellings = spellings.saturating_add(1);
        let told = if *spellings == 1 { stand_in.to_owned() } else { format!("{stand_in}, spelling {spellings}") };
        self.written.insert(text.to_owned(), told);
    }

    /// Somebody, by the full name.
    fn enter_person(&mut self, name: &str) {
        if is_nobody(name) || folded(name).is_empty() {
            return;
        }
        let whole = self.people.get(&one_name(name)).or_else(|| self.written.get(name)).cloned();
        let stand_in = whole.or_else(|| self.by_part_of(name)).unwrap_or_else(|| self.next(PERSON));
        self.people.insert(one_name(name), stand_in.clone());
        self.spelt(name, &stand_in);
        let words = folded(name);
        let telling = !words.iter().all(|word| self.is_plain(word));
        if telling || words.len() > 1 {
            self.found(words.clone(), &stand_in, telling && words.len() > 1);
        }
        let mut turned = words;
        for _ in turned.clone().iter().skip(1).filter(|_| telling) {
            turned.rotate_left(1);
            self.found(turned.clone(), &stand_in, true);
        }
        for word in
            name.split(|letter: char| !letter.is_alphanumeric()).filter(|word| !word.starts_with(char::is_lowercase))
        {
            self.word_of(word, &stand_in);
        }
    }

    /// The one person whose name has all words of another: `Robin`, where one Robin is known.
    fn by_part_of(&self, name: &str) -> Option<String> {
        let mut whose: Option<BTreeSet<String>> = None;
        for word in folded(name).iter().filter(|word| !self.is_plain(word)) {
            let of_word = self.words.get(word)?;
            whose = Some(whose.map_or_else(|| of_word.clone(), |whose| whose.intersection(of_word).cloned().collect()));
        }
        let mut whose = whose?.into_iter();
        whose.next().filter(|_| whose.next().is_none())
    }

    /// The name by which the log knows somebody.
    fn enter_short_name(&mut self, short: &str, name: &str) {
        let Some(stand_in) = self.people.get(&one_name(name)).cloned() else { return };
        self.written.entry(short.to_owned()).or_insert_with(|| stand_in.clone());
        let words = folded(short);
        if !words.iter().all(|word| self.is_plain(word)) {
            self.found(words, &stand_in, false);
        }
        // In [people] names are names, in whatever case.
        name.split(|letter: char| !letter.is_alphanumeric()).for_each(|word| self.word_of(word, &stand_in));
    }

    fn word_of(&mut self, word: &str, stand_in: &str) {
        let word = folded(word).concat();
        if !word.is_empty() && !self.is_plain(&word) {
            self.words.entry(word).or_default().insert(stand_in.to_owned());
        }
    }

    /// Each word of a name by itself, once all whole names are entered.
    fn enter_words_of_names(&mut self) {
        for (word, whose) in std::mem::take(&mut self.words) {
            let mut whose = whose.into_iter();
            let stand_in = match (whose.next(), whose.next()) {
                (Some(one), None) => one,
                _ => EITHER.to_owned(),
            };
            self.found(folded(&word), &stand_in, false);
        }
    }

    /// Whether a word says of nobody who it is.
    fn is_plain(&self, word: &str) -> bool {
        word.chars().nth(1).is_none()
            || NO_NAMES.contains(&word)
            || self.roles.contains(word)
            || is_myself(&one_name(word))
    }

    /// Whether an item's pack is published.
    fn is_published(&self, item: &str) -> bool {
        item.split_once('/').map_or_else(|| self.names.contains(item), |(pack, _)| self.packs.contains(pack))
    }

    /// A text of the builder's.
    fn text(&self, text: &mut String) {
        if let Some(stand_in) = self.written.get(text.as_str()) {
            text.clone_from(stand_in);
        } else if let Some(replaced) = self.table.replace(text, false, |range| self.is_name(text, range)) {
            *text = replaced;
        }
    }

    /// A text of a published pack, in which only what can hardly be an ordinary word is looked for.
    fn published_text(&self, text: &mut String) {
        if let Some(stand_in) = self.written.get(text.as_str()) {
            text.clone_from(stand_in);
        } else if let Some(replaced) = self.table.replace(text, true, |range| self.is_name(text, range)) {
            *text = replaced;
        }
    }

    /// A name of an item, a fact, a part and the like: one that a published pack declares stays.
    fn name(&self, name: &mut String) {
        if !self.names.contains(name.as_str()) {
            self.text(name);
        }
    }

    /// Whether what stands in a range belongs to a dotted name that a published pack declares.
    fn is_name(&self, text: &str, range: std::ops::Range<usize>) -> bool {
        let in_name = |letter: char| letter.is_ascii_alphanumeric() || matches!(letter, '.' | '/' | '_' | '-');
        let (Some(before), Some(after)) = (text.get(..range.start), text.get(range.end..)) else { return false };
        let start = before.trim_end_matches(in_name).len();
        let end = text.len().saturating_sub(after.trim_start_matches(in_name).len());
        let run = text.get(start..end).unwrap_or_default();
        let name = run.trim_matches('.');
        let of_record = run.starts_with('.') && text.get(..start).is_some_and(|before| before.ends_with(']'));
        (of_record || name.contains(['.', '/'])) && self.names.contains(name)
    }

    /// A value that was looked at, by the name of its fact or field: texts stand between quotation marks.
    fn value(&self, name: &str, value: &mut String) {
        let Some(mut text) = unquoted(value) else { return self.recorded(name, value) };
        self.text(&mut text);
        *value = format!("{text:?}");
    }

    /// A value as it was recorded, by the name of its fact or field.
    fn recorded(&self, name: &str, value: &mut String) {
        if self.told.contains(&without_record(name)) {
            self.text(value);
        }
    }

    /// Whether a published pack declares the fact, field or list of that name.
    fn declares(&self, name: &str) -> bool {
        self.names.contains(&without_record(name))
    }
}

/// Whether the words of a designation can hardly be anything else: in the text
/// of a published pack nothing shorter is taken for what was recorded.
fn is_telling(sort: &str, words: &[String]) -> bool {
    let any = |digits: bool| words.iter().any(|word| word.starts_with(char::is_numeric) == digits);
    let letters = words.iter().map(|word| word.chars().count()).sum::<usize>();
    // Marks and addresses are made to be like nothing else.
    let of_letters = any(false) && ["registration", "address"].contains(&sort);
    letters >= LONG_ENOUGH && (any(true) && any(false) || of_letters)
}

/// A text as it stands between quotation marks, as it was recorded; nothing where it does not stand so.
fn unquoted(shown: &str) -> Option<String> {
    let mut letters = shown.strip_prefix('"')?.strip_suffix('"')?.chars();
    let mut text = String::new();
    while let Some(letter) = letters.next() {
        let escaped = if letter == '\\' { letters.next()? } else { ' ' };
        text.push(match escaped {
            ' ' => letter,
            'n' => '\n',
            'r' => '\r',
            't' => '\t',
            '0' => '\0',
            'u' => {
                let digits: String = letters.by_ref().skip(1).take_while(|digit| *digit != '}').collect();
                char::from_u32(u32::from_str_radix(&digits, 16).ok()?)?
            }
            other => other,
        });
    }
    Some(text)
}

/// The name of a field without the record's: `papers[letter].serial` is `papers.serial`.
fn without_record(name: &str) -> String {
    match (name.split_once('['), name.rsplit_once(']')) {
        (Some((list, _)), Some((_, field))) => format!("{list}{field}"),
        _ => name.to_owned(),
    }
}

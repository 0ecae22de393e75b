//! The words that packs declare, found without checking the packs.
//!
//! A line of the log must be written quickly, and even where a pack of the
//! builder's own has a mistake. Only `subjects`, `zones`, `roles` and
//! `hold-points` are looked for: a word followed by names with titles.

use crate::rules::PackText;

/// A declared word and its title.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::command) struct Word {
    pub(in crate::command) name: String,
    pub(in crate::command) title: String,
}

/// The words of a set of packs.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(in crate::command) struct Words {
    pub(in crate::command) subjects: Vec<Word>,
    pub(in crate::command) zones: Vec<Word>,
    pub(in crate::command) roles: Vec<Word>,
    pub(in crate::command) hold_points: Vec<Word>,
}

impl Words {
    pub(in crate::command) fn of(packs: &[PackText]) -> Self {
        let mut words = Self::default();
        for (_, text) in packs.iter().flat_map(|pack| &pack.files) {
            words.text(text);
        }
        words
    }

    fn text(&mut self, text: &str) {
        let mut tokens = Tokens { rest: text }.peekable();
        while let Some(token) = tokens.next() {
            let Token::Bare(word) = token else { continue };
            let Some(list) = self.list(word) else { continue };
            while let Some(Token::Bare(name)) = tokens.peek().copied() {
                let mut ahead = tokens.clone();
                ahead.next();
                let Some(Token::Quoted(title)) = ahead.next() else { break };
                list.push(Word { name: name.to_owned(), title: one_line(title) });
                tokens = ahead;
                // `zone tail` of a part, `never signs` of a role.
                if let Some(Token::Bare("zone" | "never")) = tokens.peek() {
                    tokens.next();
                    tokens.next();
                }
            }
        }
    }

    fn list(&mut self, word: &str) -> Option<&mut Vec<Word>> {
        match word {
            "subjects" => Some(&mut self.subjects),
            "zones" => Some(&mut self.zones),
            "roles" => Some(&mut self.roles),
            "hold-points" => Some(&mut self.hold_points),
            _ => None,
        }
    }
}

/// A title may be broken over lines; `""` stands for a quotation mark.
fn one_line(title: &str) -> String {
    let mut lines = title.split('\n');
    let first = lines.next().unwrap_or("").trim_end_matches('\r').replace("\"\"", "\"");
    lines.fold(first, |text, line| {
        format!("{} {}", text.trim_end(), line.trim_start().trim_end_matches('\r').replace("\"\"", "\""))
    })
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Token<'t> {
    Bare(&'t str),
    Quoted(&'t str),
    Sign,
}

/// Words, strings and signs; comments and spaces are passed over.
#[derive(Debug, Clone, Copy)]
struct Tokens<'t> {
    rest: &'t str,
}

impl<'t> Iterator for Tokens<'t> {
    type Item = Token<'t>;

    fn next(&mut self) -> Option<Token<'t>> {
        loop {
            self.rest = self.rest.trim_start();
            if !self.rest.starts_with("--") {
                break;
            }
            let end = self.rest.find('\n').unwrap_or(self.rest.len());
            self.rest = self.rest.get(end..).unwrap_or("");
        }
        let first = self.rest.chars().next()?;
        let (length, token): (usize, fn(&'t str) -> Token<'t>) = match first {
            '"' => (string_length(self.rest), |text| {
                let inner = text.strip_prefix('"').unwrap_or(text);
                Token::Quoted(inner.strip_suffix('"').unwrap_or(inner))
            }),
            c if is_name(c) => (word_length(self.rest), Token::Bare),
            c => (c.len_utf8(), |_| Token::Sign),
        };
        let (token_text, rest) = self.rest.split_at_checked(length).unwrap_or((self.rest, ""));
        self.rest = rest;
        Some(token(token_text))
    }
}

fn is_name(letter: char) -> bool {
    letter.is_ascii_alphanumeric() || matches!(letter, '_' | '-' | '.')
}

/// A comment may follow a word without a space.
fn word_length(text: &str) -> usize {
    let end = text.find(|letter: char| !is_name(letter)).unwrap_or(text.len());
    text.get(..end).and_then(|word| word.find("--")).unwrap_or(end)
}

/// With both quotation marks; a doubled one inside does not end it.
fn string_length(text: &str) -> usize {
    let mut at = 1usize;
    while let Some(found) = text.get(at..).and_then(|rest| rest.find('"')) {
        at = at.saturating_add(found).saturating_add(1);
        if !text.get(at..).is_some_and(|rest| rest.starts_with('"')) {
            return at;
        }
        at = at.saturating_add(1);
    }
    text.len()
}

#[cfg(test)]
mod tests {
    use super::{Word, Words};
    use crate::rules::{PackText, Titled, built_in, built_in_names, load_packs};

    /// The packs checked in full say the same.
    #[test]
    fn the_quick_look_finds_what_checking_finds() {
        let packs = built_in(&built_in_names()).expect("built in");
        let rules = load_packs(&packs).unwrap_or_else(|_| panic!("they load"));
        let sorted = |mut words: Vec<Word>| {
            words.sort_by(|a, b| a.name.cmp(&b.name));
            words
        };
        let words = Words::of(&packs);
        assert!(words.subjects.len() > 10 && words.roles.len() > 4);
        let word = |name: &str, title: &str| Word { name: name.to_owned(), title: title.to_owned() };
        let (subjects, roles) = (rules.subjects.iter(), rules.roles.iter());
        let titled = |titled: &[Titled]| titled.iter().map(|t| word(&t.name, &t.title)).collect::<Vec<_>>();
        for (quick, full) in [
            (words.subjects, subjects.map(|part| word(&part.name, &part.title)).collect()),
            (words.roles, roles.map(|role| word(&role.name, &role.title)).collect()),
            (words.zones, titled(&rules.zones)),
            (words.hold_points, titled(&rules.hold_points)),
        ] {
            assert_eq!(sorted(quick), sorted(full));
        }
    }

    #[test]
    fn comments_strings_and_other_uses_do_not_mislead() {
        let text = "-- subjects a \"b\"\nitem x \"subjects a \"\"b\"\"\" need zones is 2\nsubjects -- here\n  \
                    one.two \"The \"\"one\"\"\n   and two\"--c\n three \"3\" fact y : count ask \"zones\"";
        let pack = PackText { files: vec![("f".into(), text.into())], ..PackText::default() };
        let words = Words::of(&[pack]);
        let shown: Vec<_> = words.subjects.iter().map(|w| (w.name.as_str(), w.title.as_str())).collect();
        assert_eq!(shown, [("one.two", "The \"one\" and two"), ("three", "3")]);
        assert_eq!((words.zones.len(), words.roles.len()), (0, 0));
    }
}

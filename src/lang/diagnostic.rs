//! Messages as data: what is wrong, where, what was expected, what to do.
//! Nothing here renders; the command does.

use crate::source::Span;
use serde::{Deserialize, Serialize};

/// How much a message weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Severity {
    /// The audit cannot be done, or not all that is written was taken in.
    Error,
    /// Something is probably not as meant.
    Warning,
}

/// A place with a few words about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Label {
    /// Where.
    pub span: Span,
    /// What this is; may be empty.
    pub text: String,
}

/// One message about a pack or a project.
///
/// ```
/// use cotterpin_lang::diagnostic::Diagnostic;
/// let message = Diagnostic::error("project::missing", "there is no project.toml in `shed`")
///     .help("give the project's folder, or begin one");
/// assert_eq!(message.code, "project::missing");
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diagnostic {
    /// A stable name such as `unit::mismatch`.
    pub code: &'static str,
    /// How much it weighs.
    pub severity: Severity,
    /// What is wrong, in one sentence without a full stop.
    pub message: String,
    /// The places, the first one being the main one.
    pub labels: Vec<Label>,
    /// What to do.
    pub help: Option<String>,
    /// Only the one value that it points at is passed over: all else can be judged.
    pub of_one_value: bool,
}

impl Diagnostic {
    /// An error without a place yet.
    #[must_use]
    pub fn error(code: &'static str, message: impl Into<String>) -> Self {
        Self {
            code,
            severity: Severity::Error,
            message: message.into(),
            labels: Vec::new(),
            help: None,
            of_one_value: false,
        }
    }

    /// A warning without a place yet.
    #[must_use]
    pub fn warning(code: &'static str, message: impl Into<String>) -> Self {
        Self { severity: Severity::Warning, ..Self::error(code, message) }
    }

    /// Adds a place.
    #[must_use]
    pub fn at(mut self, span: Span, text: impl Into<String>) -> Self {
        self.labels.push(Label { span, text: text.into() });
        self
    }

    /// Says what to do.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// Says that only one value is passed over because of it.
    #[must_use]
    pub fn of_one_value(mut self) -> Self {
        self.of_one_value = true;
        self
    }

    /// Whether something was not taken in because of it.
    #[must_use]
    pub fn is_error(&self) -> bool {
        self.severity == Severity::Error
    }

    /// Whether nothing can be judged because of it.
    #[must_use]
    pub fn stops(&self) -> bool {
        self.is_error() && !self.of_one_value
    }
}

/// Puts messages in the order of their places and drops repeats.
pub fn settle(messages: &mut Vec<Diagnostic>) {
    messages.sort_by(|a, b| {
        let place = |m: &Diagnostic| m.labels.first().map(|label| label.span);
        place(a).cmp(&place(b)).then_with(|| a.message.cmp(&b.message))
    });
    messages.dedup();
}

/// A name with its article.
///
/// ```
/// assert_eq!(cotterpin_lang::diagnostic::with_article("area"), "an area");
/// assert_eq!(cotterpin_lang::diagnostic::with_article("mass"), "a mass");
/// ```
#[must_use]
pub fn with_article(name: &str) -> String {
    let article = if name.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
    format!("{article} {name}")
}

/// A longer word is compared with nothing: nobody mistypes one so long.
const LONGEST: usize = 64;
/// So many of the known names, those that share most letters with the word, are compared with it.
const MOST_COMPARED: usize = 32;

/// The nearest of `known` to `word`, if any is near enough to be meant. However many names are known, and however long
/// they are, few are compared letter by letter.
#[must_use]
pub fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let letters = Letters::of(word)?;
    let limit = (letters.count / 3).max(1);
    let apart = |candidate: &&'a str| {
        // What differs by more letters than that differs by more changes.
        Some((letters.apart(&Letters::of(candidate)?), *candidate)).filter(|(apart, _)| *apart <= limit)
    };
    let mut alike: Vec<(usize, &str)> = known.into_iter().filter_map(|candidate| apart(&candidate)).collect();
    if alike.len() > MOST_COMPARED {
        alike.select_nth_unstable(MOST_COMPARED);
        alike.truncate(MOST_COMPARED);
    }
    alike
        .into_iter()
        .map(|(_, candidate)| (strsim::damerau_levenshtein(word, candidate), candidate))
        .filter(|(distance, _)| *distance <= limit)
        .min()
        .map(|(_, candidate)| candidate)
}

/// How often each letter stands in a word that is not too long, by the last bits of its number.
struct Letters {
    count: usize,
    of_each: [u8; 64],
}

impl Letters {
    fn of(word: &str) -> Option<Self> {
        let mut letters = Self { count: 0, of_each: [0; 64] };
        // Four bytes for a letter at most.
        if word.len() > LONGEST.saturating_mul(4) {
            return None;
        }
        for letter in word.chars() {
            letters.count = letters.count.saturating_add(1);
            let of_it = letters.of_each.get_mut(u32::from(letter) as usize % 64)?;
            *of_it = of_it.saturating_add(1);
        }
        (letters.count <= LONGEST).then_some(letters)
    }

    /// So many changes at least make one word of the other.
    fn apart(&self, other: &Self) -> usize {
        let (mut more, mut less) = (0usize, 0usize);
        for (a, b) in self.of_each.iter().zip(&other.of_each) {
            more = more.saturating_add(a.saturating_sub(*b).into());
            less = less.saturating_add(b.saturating_sub(*a).into());
        }
        more.max(less)
    }
}

/// The question after the nearest of `known`, if any is near enough to be meant.
///
/// ```
/// use cotterpin_lang::diagnostic::did_you_mean;
/// assert_eq!(did_you_mean("vist", ["visit", "taxi"]).as_deref(), Some("did you mean `visit`?"));
/// assert_eq!(did_you_mean("weighing", ["visit", "taxi"]), None);
/// ```
#[must_use]
pub fn did_you_mean<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<String> {
    nearest(word, known).map(|near| format!("did you mean `{near}`?"))
}

/// Of the dotted names in the same group as `name`, the one with almost the same last word.
pub fn near_sibling<'a>(name: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    fn split(name: &str) -> (&str, &str) {
        name.split_at(name.rfind('.').unwrap_or(0))
    }
    let (group, last) = split(name);
    let beside: Vec<&str> = known.into_iter().filter(|other| split(other).0 == group).collect();
    let near = nearest(last, beside.iter().map(|other| split(other).1))?;
    beside.into_iter().find(|other| split(other).1 == near)
}

#[cfg(test)]
mod tests {
    use super::{LONGEST, Letters, nearest};

    /// Twenty thousand words that are all alike, and words of a million letters: the least of the names that are
    /// nearest by their letters is found, and the long ones are looked at no further than their length.
    #[test]
    fn few_names_are_compared() {
        let known: Vec<String> = (0..20_000).map(|at| format!("fuel.tank{at:05}.level")).collect();
        let near = nearest("fuel.tnak00007.level", known.iter().map(String::as_str));
        assert_eq!(near, Some("fuel.tank00007.level"));
        let long = "a".repeat(1_000_000);
        assert!(Letters::of(&long).is_none() && nearest(&long, [long.as_str()]).is_none());
        let fits = "b".repeat(LONGEST);
        assert_eq!(nearest(&fits, [long.as_str(), fits.as_str()]), Some(fits.as_str()));
    }

    /// The count of letters never leaves out what is near: against all pairs of short words.
    #[test]
    fn letters_tell_no_less_than_the_words() {
        let words: Vec<String> =
            (0..243u32).map(|at| (0..5).map(|n| ["a", "b", ""][(at / 3u32.pow(n) % 3) as usize]).collect()).collect();
        for a in &words {
            for b in &words {
                let (by_letters, by_words) = (Letters::of(a).zip(Letters::of(b)), strsim::damerau_levenshtein(a, b));
                assert!(by_letters.is_some_and(|(a, b)| a.apart(&b) <= by_words), "{a} {b}");
            }
        }
    }
}

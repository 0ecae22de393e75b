//! Words in a note with which people say that something is not, or not yet, as it should be: beside a yes they are
//! asked back, because what is written as a yes counts as one.

/// What is said of a fault, or of what is still to be done.
const FAULTS: [&str; 43] = [
    "missing",
    "loose",
    "broken",
    "cracked",
    "crack",
    "bent",
    "leak",
    "leaks",
    "leaking",
    "leaked",
    "drips",
    "drip",
    "rubs",
    "rubbing",
    "chafed",
    "chafes",
    "chafing",
    "wrong",
    "backwards",
    "reversed",
    "scratched",
    "torn",
    "worn",
    "stiff",
    "binds",
    "sticks",
    "except",
    "later",
    "will",
    "until",
    "waiting",
    "ordered",
    "needs",
    "yet",
    "unable",
    "unfinished",
    "incomplete",
    "todo",
    "tomorrow",
    "fails",
    "failed",
    "fault",
    "defect",
];
/// What takes the word after it back.
const NONE: [&str; 8] = ["no", "not", "nothing", "none", "without", "never", "neither", "nor"];
/// What takes back whatever comes after it.
const NOTS: [&str; 12] = [
    "not", "isn't", "doesn't", "don't", "didn't", "won't", "hasn't", "haven't", "wasn't", "aren't", "weren't", "never",
];
/// What nobody did who writes so.
const UNDONE: [&str; 3] = ["couldn't", "can't", "cannot"];
/// Whoever begins so means that all is well.
const WELL: [&str; 5] = ["ok", "okay", "fine", "good", "well"];

/// The first word of a note that says so; nothing where it says that there is no fault, or begins with ok.
pub(in crate::command) fn doubt(note: &str) -> Option<String> {
    let lower = note.to_lowercase().replace('\u{2019}', "'");
    let words: Vec<&str> =
        lower.split(|sign: char| !(sign.is_alphanumeric() || sign == '\'')).filter(|word| !word.is_empty()).collect();
    if words.first().is_some_and(|first| WELL.contains(first)) {
        return None;
    }
    let fault = |word: &&str| FAULTS.contains(word);
    let near = |from: usize, to: usize| words.get(from..to.min(words.len())).unwrap_or(&[]);
    words.iter().enumerate().find_map(|(at, word)| {
        let before = near(at.saturating_sub(2), at);
        let said = if fault(word) {
            // "No leaks" is none; "not yet" is not done.
            *word == "yet" || !before.iter().any(|one| NONE.contains(one))
        } else {
            UNDONE.contains(word)
                || NOTS.contains(word) && !near(at.saturating_add(1), at.saturating_add(3)).iter().any(&fault)
        };
        said.then(|| (*word).to_owned())
    })
}

#[cfg(test)]
mod tests {
    use super::doubt;

    #[test]
    fn faults_are_heard_and_their_absence_is_not() {
        for note in [
            "cotter pin missing at the bellcrank",
            "nut loose, will tighten later",
            "pin not yet in",
            "rubs a bit",
            "couldn't see the aft bolt",
            "couldn\u{2019}t see it",
            "needs a longer bolt",
            "backwards",
            "will check Saturday",
            "not safetied",
            "not done yet, waiting for a part",
            "all there except the aft bolt",
            "serial partly scratched off",
        ] {
            assert!(doubt(note).is_some(), "{note}");
        }
        for note in [
            "",
            "seen by daylight",
            "no leaks, no chafing",
            "nothing loose",
            "not worn",
            "ok: the loose nut of last week is torqued",
            "full travel, free, stops met at 25 deg, no rubbing",
        ] {
            assert_eq!(doubt(note), None, "{note}");
        }
    }
}

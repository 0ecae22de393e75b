//! Words in a note with which people say that something is not, or not yet, as it should be: beside a yes they are
//! asked back, because what is written as a yes counts as one.

/// What is said of a fault, or of what is still to be done.
const FAULTS: [&str; 122] = [
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
    "kinked",
    "kink",
    "frayed",
    "corroded",
    "rusty",
    "dented",
    "seized",
    "jammed",
    "only",
    "half",
    "partly",
    "almost",
    "nearly",
    "probably",
    "guess",
    "guessed",
    "assume",
    "maybe",
    "rust",
    "corrosion",
    "oval",
    "hairline",
    "weeping",
    "weeps",
    "smoking",
    "forgot",
    "twisted",
    "nicked",
    "omitted",
    "sloppy",
    "grinding",
    "touches",
    "brushes",
    "jams",
    "swapped",
    "mistake",
    "worries",
    "should",
    "still",
    "too",
    "short",
    "hits",
    "bind",
    "stick",
    "rub",
    "leaky",
    "chafe",
    "upside",
    "continued",
    "play",
    "absent",
    "gone",
    "lost",
    "temporary",
    "temporarily",
    "follow",
    "follows",
    "binding",
    "fail",
    "unsafe",
    "disconnected",
    "rejected",
    "incorrect",
    "bad",
    "unchecked",
    "slack",
    "snapped",
    "sheared",
    "buckled",
    "stripped",
    "birdcaged",
    "rattles",
    "untorqued",
    "water",
    "smells",
    "snag",
    "ignored",
    "taped",
    "cracks",
];
/// What belongs there: said to be wanting, it is a fault.
const HARDWARE: [&str; 25] = [
    "cotter", "cotters", "pin", "pins", "split", "washer", "washers", "nut", "nuts", "bolt", "bolts", "screw",
    "screws", "rivet", "rivets", "wire", "lock", "locking", "clamp", "clip", "placard", "lockwire", "safety", "seal",
    "gasket",
];
/// What is so for a while, or still to come.
const FOR_NOW: [[&str; 2]; 15] = [
    ["for", "now"],
    ["to", "do"],
    ["finger", "tight"],
    ["hand", "tight"],
    ["not", "sure"],
    ["all", "but"],
    ["left", "out"],
    ["left", "inside"],
    ["left", "in"],
    ["came", "off"],
    ["fell", "out"],
    ["fell", "off"],
    ["bar", "one"],
    ["on", "order"],
    ["no", "good"],
];

/// What takes the word after it back.
const NONE: [&str; 8] = ["no", "not", "nothing", "none", "without", "never", "neither", "nor"];
/// What takes back whatever comes after it.
const NOTS: [&str; 12] = [
    "not", "isn't", "doesn't", "don't", "didn't", "won't", "hasn't", "haven't", "wasn't", "aren't", "weren't", "never",
];
/// What nobody did who writes so.
const UNDONE: [&str; 3] = ["couldn't", "can't", "cannot"];
/// Whoever begins so means that all is well, whatever comes after it.
const WELL: [&str; 2] = ["ok:", "okay:"];

/// The first word of a note that says so; nothing where it says that there is no fault, or begins with ok.
pub(in crate::command) fn doubt(note: &str) -> Option<String> {
    let lower = note.trim().to_lowercase().replace('\u{2019}', "'").replace("w/o", "without");
    if WELL.iter().any(|well| lower.starts_with(well)) {
        return None;
    }
    let words: Vec<&str> =
        lower.split(|sign: char| !(sign.is_alphanumeric() || sign == '\'')).filter(|word| !word.is_empty()).collect();
    let fault = |word: &&str| FAULTS.contains(word);
    let near = |from: usize, to: usize| words.get(from..to.min(words.len())).unwrap_or(&[]);
    words.iter().enumerate().find_map(|(at, word)| {
        let before = near(at.saturating_sub(3), at);
        let follows = |by: usize| words.get(at.saturating_add(by)).copied().unwrap_or("");
        // "Without a pin" is without one.
        let next = if ["a", "an", "the", "any"].contains(&follows(1)) { follows(2) } else { follows(1) };
        let said = if FOR_NOW.contains(&[*word, next]) {
            !before.iter().any(|one| NONE.contains(one))
        } else if matches!(*word, "no" | "without") && HARDWARE.contains(&next) {
            // "No pin missing" says that all are there.
            !near(at.saturating_add(2), at.saturating_add(4)).iter().any(&fault)
        } else if fault(word) {
            // "No leaks" is none; "not yet" is not done.
            *word == "yet" || !(before.iter().any(|one| NONE.contains(one) || NOTS.contains(one)) || next == "nothing")
        } else {
            UNDONE.contains(word)
                || NOTS.contains(word) && !near(at.saturating_add(1), at.saturating_add(4)).iter().any(&fault)
        };
        said.then(|| (*word).to_owned())
    })
}

/// Whether a note begins by saying that there is no fault: "no cracks found" is no no.
pub(in crate::command) fn denies_a_fault(note: &str) -> bool {
    let lower = note.to_lowercase();
    // One after the other: "no, it rubs" is a no.
    let mut words = lower.split_whitespace();
    let begins = words.next().is_some_and(|first| NONE.contains(&first));
    let fault = words.next().map(|word| word.trim_end_matches(|sign: char| !sign.is_alphanumeric()));
    begins && fault.is_some_and(|word| FAULTS.contains(&word)) && doubt(note).is_none()
}

#[cfg(test)]
mod tests {
    use super::{denies_a_fault, doubt};

    #[test]
    fn no_fault_is_no_no() {
        for note in ["no cracks found", "no play", "not loose", "No leaks, no chafing"] {
            assert!(denies_a_fault(note), "{note}");
        }
        for note in [
            "no",
            "no, loose",
            "No, it rubs",
            "no it rubs",
            "not done",
            "no pin",
            "none of it",
            "cracked",
            "no cracks yet, bolt missing",
        ] {
            assert!(!denies_a_fault(note), "{note}");
        }
    }

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
            "no cotter at the horn",
            "left bolt has no washer",
            "looked only at the right half",
            "one nut finger tight",
            "safety wire still to do",
            "half done",
            "pin replaced by a nail for now",
            "only guessed",
            "cable frayed",
            "kinked and chafed",
            "forgot the safety wire",
            "rust on the pin",
            "there is play in the fitting",
            "hole is oval",
            "clearance is 1 mm, should be 3",
            "cotter still to be put in",
            "too tight to move",
            "cotter pin omitted",
            "bolt in upside down",
            "the cable touches the tube",
            "jams when full aft",
            "serial partly scratched off",
            "fine except the pin at the horn",
            "good, but the nut is loose",
            "w/o cotter pin at the horn, pin absent",
            "pin to follow",
            "temporary bolt in the horn",
            "one washer lost",
            "unsafe, left elevator disconnected",
            "clevis without a pin",
            "pins seen, bar one",
            "all but the rear bolt",
            "pin fell out",
            "washer left out",
            "no good",
            "no lockwire on the turnbuckle",
            "smells of fuel",
            "see snag 3",
            "part on order",
        ] {
            assert!(doubt(note).is_some(), "{note}");
        }
        for note in [
            "",
            "seen by daylight",
            "no leaks, no chafing",
            "nothing loose",
            "no pin missing",
            "no bolt loose",
            "no sign of chafing",
            "no play",
            "does not bind over full travel",
            "doesn't rub",
            "no need to do anything",
            "needs nothing",
            "nothing touches",
            "not worn",
            "nothing wrong, no chafe, not binding",
            "fine, no leaks",
            "good, checked twice",
            "ok: the loose nut of last week is torqued",
            "full travel, free, stops met at 25 deg, no rubbing",
        ] {
            assert_eq!(doubt(note), None, "{note}");
        }
    }
}

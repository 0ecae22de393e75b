//! Words in a note with which people say that something is not, or not yet, as it should be: beside a yes they are
//! asked back, because what is written as a yes counts as one.

/// What is said of a fault, or of what is still to be done.
const FAULTS: [&str; 124] = [
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
    "sticking",
    "sticky",
    "stuck",
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
/// What no "not" before it takes back: "not hung, bench only".
const PLAIN: [&str; 14] = [
    "only", "half", "partly", "almost", "nearly", "until", "later", "still", "ordered", "waiting", "except",
    "tomorrow", "todo", "probably",
];
/// What a thing may well be without.
const WELL_WITHOUT: [&str; 12] = [
    "force",
    "effort",
    "problem",
    "problems",
    "trouble",
    "difficulty",
    "undue",
    "looking",
    "removing",
    "tools",
    "exception",
    "load",
];
/// What belongs there: said to be wanting, it is a fault.
const HARDWARE: [&str; 25] = [
    "cotter", "cotters", "pin", "pins", "split", "washer", "washers", "nut", "nuts", "bolt", "bolts", "screw",
    "screws", "rivet", "rivets", "wire", "lock", "locking", "clamp", "clip", "placard", "lockwire", "safety", "seal",
    "gasket",
];
/// What is so for a while, or still to come.
const FOR_NOW: [[&str; 2]; 18] = [
    ["for", "now"],
    ["to", "do"],
    ["to", "come"],
    ["to", "go"],
    ["leave", "it"],
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

/// After "to be", what is still to come; so is any word in "ed".
const STILL: [&str; 14] = [
    "done", "redone", "made", "bought", "cut", "sewn", "hung", "sent", "put", "got", "found", "rebuilt", "bent",
    "reset",
];
/// Before "to be", what somebody has seen: "checked to be torqued".
const SEEN: [&str; 10] =
    ["found", "seen", "checked", "shown", "known", "measured", "verified", "confirmed", "appears", "proved"];

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

/// Whether a note begins by saying that all is well.
pub(in crate::command) fn says_well(note: &str) -> bool {
    let lower = note.trim().to_lowercase();
    WELL.iter().any(|well| lower.starts_with(well))
}

/// The first word of a note that says so; nothing where it says that there is no fault, or begins with ok.
pub(in crate::command) fn doubt(note: &str) -> Option<String> {
    if says_well(note) {
        return None;
    }
    let lower = note.trim().to_lowercase().replace('\u{2019}', "'").replace("w/o", "without");
    let words: Vec<&str> =
        lower.split(|sign: char| !(sign.is_alphanumeric() || sign == '\'')).filter(|word| !word.is_empty()).collect();
    let fault = |word: &&str| FAULTS.contains(word);
    let near = |from: usize, to: usize| words.get(from..to.min(words.len())).unwrap_or(&[]);
    words.iter().enumerate().find_map(|(at, word)| {
        let before = near(at.saturating_sub(3), at);
        let follows = |by: usize| words.get(at.saturating_add(by)).copied().unwrap_or("");
        // "Without a pin" is without one.
        let next = if ["a", "an", "the", "any"].contains(&follows(1)) { follows(2) } else { follows(1) };
        let is_to_be =
            *word == "to" && follows(1) == "be" && (follows(2).ends_with("ed") || STILL.contains(&follows(2)));
        let denied = || before.iter().any(|one| NONE.contains(one));
        let phrase = |length: usize| near(at, at.saturating_add(length)).join(" ");
        if is_to_be && !before.last().is_some_and(|one| SEEN.contains(one)) {
            return (!denied()).then(|| phrase(3));
        }
        if FOR_NOW.contains(&[*word, next]) {
            return (!denied()).then(|| phrase(2));
        }
        let faults_near = |from: usize| {
            let deniable = |word: &&str| fault(word) && !PLAIN.contains(word);
            near(at.saturating_add(from), at.saturating_add(4)).iter().any(deniable)
        };
        let said = if *word == "no" && HARDWARE.contains(&next) {
            // "No pin missing" says that all are there.
            !faults_near(2)
        } else if *word == "without" {
            !faults_near(1) && !WELL_WITHOUT.contains(&next)
        } else if fault(word) {
            // "No leaks" is none; "not yet" is not done.
            *word == "yet"
                || PLAIN.contains(word)
                || !(denied() || before.iter().any(|one| NOTS.contains(one)) || next == "nothing")
        } else {
            UNDONE.contains(word) || NOTS.contains(word) && !faults_near(1)
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
            "one pin to be replaced",
            "bearing to be changed in spring",
            "moved clamp, grommet to come",
            "Kim says leave it",
            "brakes sticking",
            "pads stuck",
            "wings not hung, bench only",
            "not really, ordered a grommet",
            "without the left aileron",
            "cotter pins to go in",
        ] {
            assert!(doubt(note).is_some(), "{note}");
        }
        for note in [
            "",
            "seen by daylight",
            "stick back, trailing edge up",
            "followed it stick to surface with Kim",
            "checked to be torqued",
            "found to be locked",
            "nothing to be replaced",
            "moves without force",
            "full travel without binding",
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

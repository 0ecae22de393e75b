//! Any text at all: packs are read, run and audited without a panic, and every
//! message points at whole characters of a file that is there.

use super::FACTS;
use crate::fixtures::packs::load_packs;
use crate::lang::{mine, of_nothing, pack, samples::first_sample};
use cotterpin_engine::lint::run_examples;
use cotterpin_packs::PackText;
use proptest::prelude::*;

/// Tokens of the language, to be strung together without sense.
const TOKENS: [&str; 40] = [
    "fact ",
    "item ",
    "need ",
    "shed.n ",
    "shed.p ",
    "(",
    ")",
    "[",
    "]",
    "\"",
    "\"t\" ",
    "3 in ",
    "50 % of ",
    "2026-01-01 ",
    "every r in shed.l has ",
    "count r in shed.l where ",
    "sum of ",
    "for ",
    "and ",
    "or ",
    "not ",
    "is ",
    "is not ",
    "one of ",
    "none ",
    "=> ",
    "= ",
    "± ",
    ": ",
    ", ",
    "-- ",
    "\n",
    "list ",
    "table ",
    "row ",
    "try ",
    "by visit ",
    "basis own ",
    "cite common practice ",
    "é",
];

/// Every label points into its file, on whole characters.
fn looked_at(packs: &[PackText]) {
    match load_packs(packs) {
        Ok(rules) => {
            let _ = run_examples(&rules);
            let _ = of_nothing(&rules);
        }
        Err(failed) => {
            let (sources, messages) = *failed;
            for label in messages.iter().flat_map(|message| &message.labels) {
                let file = sources.file(label.span.source).expect("a file");
                assert!(
                    file.text.get(label.span.range()).is_some(),
                    "a label beside a character: {label:?} in {:?}",
                    file.text
                );
            }
        }
    }
}

proptest! {
    #![proptest_config(crate::fixtures::seed::fresh_cases(200))]
    #[test]
    fn any_text_is_read_without_a_panic(text in any::<String>()) {
        looked_at(&[pack("mine", &[], &text)]);
    }

    #[test]
    fn any_bytes_are_read_without_a_panic(bytes in proptest::collection::vec(any::<u8>(), 0..300)) {
        looked_at(&[pack("mine", &[], &String::from_utf8_lossy(&bytes))]);
    }

    #[test]
    fn any_words_are_read_without_a_panic(tokens in proptest::collection::vec(0usize..TOKENS.len(), 0..60)) {
        let text: String = tokens.iter().map(|n| TOKENS[*n]).collect();
        looked_at(&[mine(&format!("{FACTS}{text}"))]);
        looked_at(&[mine(&format!("{FACTS}item shed.door \"t\" need {text}"))]);
    }

    #[test]
    fn a_good_pack_with_a_piece_out_or_another_in_is_read_without_a_panic(
        at in 0usize..3000, length in 0usize..40, from in 0usize..TOKENS.len(), twice in any::<bool>()
    ) {
        let good: Vec<char> = first_sample().chars().collect();
        let at = at.min(good.len());
        let end = (at + length).min(good.len());
        let mut text: String = good[..at].iter().collect();
        text.push_str(TOKENS[from]);
        if twice { text.extend(&good[at..end]); text.extend(&good[at..]); } else { text.extend(&good[end..]); }
        looked_at(&[pack("mine", &[], &text)]);
    }

    #[test]
    fn any_manifest_is_read_without_a_panic(manifest in any::<String>()) {
        let wrong = load_packs(&[PackText { name: "mine".to_owned(), manifest, files: Vec::new() }]);
        prop_assert!(wrong.is_err());
    }
}

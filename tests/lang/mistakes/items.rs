//! Mistakes in items, sources and examples.

use super::{Sample, sample};

const BOOK: &str = "source book \"A book\" number \"B-1\" edition \"2026\" issuer \"Nobody\" mark read\n";
const FACT: &str = "fact shed.width : length, above 0 in ask \"?\"\n";

/// An item over one width; the clauses hold the mistake.
fn item(clauses: &str) -> String {
    format!("{FACT}item shed.door \"t\" {clauses}")
}

pub(super) fn samples() -> Vec<Sample> {
    let need = "need shed.width > 1 in";
    let own = "basis own cite common practice";
    let book = |cite: &str| format!("{BOOK}{}", item(&format!("{need} by visit basis law {cite}")));
    let source = |parts: &str| {
        format!("source book \"A book\" {parts}\n{}", item(&format!("{need} by visit basis law cite book, \"1\"")))
    };
    vec![
        sample("item::no-need", &item(&format!("@ by visit {own}")), "", "shed.door", need),
        sample("item::no-hold-point", &item(&format!("{need} @ {own}")), "", "shed.door", "by visit"),
        sample(
            "item::no-basis",
            &item(&format!("{need} by visit @ cite common practice")),
            "",
            "shed.door",
            "basis own",
        ),
        sample(
            "item::no-source",
            &item(&format!("{need} by visit basis own @")),
            "",
            "shed.door",
            "cite common practice",
        ),
        sample(
            "item::basis",
            &book("@ cite book, \"1\"").replace("basis law", ""),
            "basis common practice",
            "shed.door",
            "basis law",
        ),
        sample(
            "item::basis",
            &item(&format!("{need} by visit basis @ cite common practice")),
            "law",
            "shed.door",
            "own",
        ),
        sample(
            "item::twice",
            &item(&format!("{need} by visit {own} remedy \"a\" @")),
            "remedy \"b\"",
            "\"b\"",
            "caution \"b\"",
        ),
        sample(
            "item::twice",
            &item(&format!("{need} by visit {own} check \"a\" @")),
            "check \"b\"",
            "\"b\"",
            "remedy \"b\"",
        ),
        sample("item::twice", &item(&format!("{need} by visit @ {own}")), "by flight", "flight", "zone cabin"),
        sample(
            "choice::too-short",
            &format!("choice only : one @ {}", item(&format!("{need} by visit {own}"))),
            "",
            "one",
            "or two",
        ),
        sample(
            "item::in-force",
            &item(&format!("{need} by visit {own} in force from 2027-01-01 until @")),
            "2020-01-01",
            "shed.door",
            "2028-01-01",
        ),
        sample(
            "item::not-understood",
            &format!("fact shed.name : text ask \"?\" item shed.door \"t\" need alike shed.name, @ by visit {own}"),
            "every papers",
            "shed.door",
            "shed.name",
        ),
        sample("item::takes", &item(&format!("{need} by visit {own} takes @")), "3 lb", "3 lb", "3 h"),
        sample("item::takes", &item(&format!("{need} by visit {own} takes @")), "0 min", "0 min", "1 min"),
        sample("item::twice", &item(&format!("{need} by visit {own} takes 1 h @")), "takes 2 h", "2 h", ""),
        sample(
            "item::after-itself",
            &item(&format!("{need} by visit {own} after @")),
            "shed.door",
            "shed.door",
            &format!("shed.gate item shed.gate \"t\" {need} by visit {own}"),
        ),
        sample(
            "name::unknown",
            &item(&format!("{need} by visit {own} after @")),
            "shed.gaet",
            "shed.gaet",
            &format!("shed.gate item shed.gate \"t\" {need} by visit {own}"),
        ),
        sample("item::always-met", &item(&format!("need @ by visit {own}")), "yes", "shed.door", "shed.width > 1 in"),
        sample(
            "item::no-question",
            &item(&format!("need confirmed by builder @ by visit {own}")),
            "",
            "shed.door",
            "ask \"Is it so?\"",
        ),
        sample(
            "fact::limits",
            &item(&format!("{need} by visit {own} try \"x\" shed.width = @ => unmet")),
            "0 in",
            "0 in",
            "1 in",
        ),
        sample(
            "state::no-record",
            &format!(
                "subjects shed.bolt \"A bolt\"\nfact shed.tight : yes or no @ ask \"?\"\nitem shed.door \"t\" need shed.tight by visit {own}"
            ),
            "of its part",
            "of its part",
            "of shed.bolt",
        ),
        sample(
            "state::no-day",
            &format!(
                "subjects shed.bolt \"A bolt\"\nfact shed.tight : yes or no of shed.bolt @ ask \"?\"\nitem shed.door \"t\" need shed.tight by visit {own}"
            ),
            "on that day",
            "of shed.bolt on that day",
            "itself",
        ),
        sample(
            "try::for-good",
            &format!(
                "subjects shed.bolt \"A bolt\" shed.lamp \"A lamp\" can be left off\n{}",
                item(&format!(
                    "{need} by visit {own} try \"x\" shed.width = 1 in, removed @ for good on 2026-01-01 => unmet"
                ))
            ),
            "shed.bolt",
            "removed shed.bolt for good on 2026-01-01",
            "shed.lamp",
        ),
        sample(
            "try::misplaced",
            &format!(
                "subjects shed.bolt \"A bolt\"\n{}",
                item(&format!(
                    "{need} by visit {own} try \"x\" shed.width = 1 in, @ shed.bolt with another on 2026-01-01 => unmet"
                ))
            ),
            "adjusted",
            "adjusted shed.bolt with another on 2026-01-01",
            "refitted",
        ),
        sample(
            "try::twice",
            &item(&format!("{need} by visit {own} try \"x\" shed.width = 1 in, @ => unmet")),
            "shed.width = 2 in",
            "shed.width",
            "on 2026-01-01",
        ),
        sample(
            "try::twice",
            &item(&format!("{need} by visit {own} try \"x\" on 2026-01-01, @ => not-shown")),
            "on 2026-01-02",
            "\"x\"",
            "visit 2026-01-02",
        ),
        sample(
            "type::mismatch",
            &format!(
                "fact shed.doors : count ask \"?\"\nitem shed.door \"t\" need shed.doors > 1 by visit {own} try \"x\" shed.doors = @ => met"
            ),
            "2.5",
            "2.5",
            "2",
        ),
        sample(
            "fact::no-question",
            &format!("{FACT}fact shed.height : length @"),
            "",
            "shed.height",
            "ask \"How high?\"",
        ),
        sample(
            "fact::no-question",
            &format!("{FACT}list shed.l @ field n : text ask \"?\" named by n"),
            "",
            "shed.l",
            "ask \"?\"",
        ),
        sample("fact::never-none", "fact shed.issued : @date none until visit ask \"When?\"", "", "visit", "optional "),
        sample("source::incomplete", &source("@ edition \"1\" issuer \"I\" mark read"), "", "book", "number \"1\""),
        sample("source::incomplete", &source("number \"1\" edition \"1\" issuer \"I\" @"), "", "book", "mark memory"),
        sample(
            "source::unused",
            &format!("{BOOK}{}", item(&format!("{need} by visit @"))),
            own,
            "book",
            "basis law cite book, \"1\"",
        ),
        sample(
            "date::invalid",
            &item(&format!("{need} by visit {own} in force from @")),
            "2026-13-01",
            "2026-13-01",
            "2026-12-01",
        ),
        sample(
            "date::invalid",
            &item(&format!("{need} by visit {own} in force from @")),
            "2026-12",
            "2026-12",
            "2026-12-01",
        ),
        sample(
            "list::empty-passes",
            &format!(
                "list shed.l ask \"?\" field n : number ask \"?\" field name : text ask \"?\" named by name\nitem shed.door \"t\" need @ by visit {own}"
            ),
            "count r in shed.l <= 3",
            "shed.door",
            "count r in shed.l > 0 and count r in shed.l <= 3",
        ),
        sample(
            "list::named-by",
            "list shed.l ask \"?\" field n : number ask \"?\" field t : text ask \"?\" named by @",
            "n",
            "n",
            "t",
        ),
        sample(
            "list::nameless",
            "list shed.l ask \"?\" field n : number ask \"?\" field t : text ask \"?\" @",
            "",
            "shed.l",
            "named by t",
        ),
        sample(
            "list::nameless",
            "list shed.l ask \"?\" field n : number ask \"?\" field t : optional text ask \"?\" @",
            "",
            "shed.l",
            "field name : text ask \"Which one\" named by name",
        ),
        sample(
            "list::named-by",
            "list log.snags ask \"?\" field snag : text ask \"?\" field part : text ask \"?\" named by @",
            "part",
            "part",
            "snag",
        ),
    ]
}

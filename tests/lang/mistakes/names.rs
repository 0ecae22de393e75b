//! Mistakes in names and in the form of a text.

use super::{Sample, sample};

const FACT: &str = "fact shed.width : length ask \"?\"\nfact shed.name : text ask \"?\"\n";
const OWN: &str = "by visit basis own cite common practice";

fn item(need: &str) -> String {
    format!("{FACT}item shed.door \"t\" need {need} {OWN}")
}

/// A name of each kind that is not there.
fn unknown() -> Vec<Sample> {
    let near = |text: &str, wrong: &str, right: &str| sample("name::unknown", text, wrong, wrong, right);
    let list = "list shed.seats ask \"?\" field belt : yes or no ask \"?\" field name : text ask \"?\" named by name\n";
    let parts = "subjects shed.hinge \"The hinge\" shed.roof \"The roof\"\n";
    let clause = |clause: &str| format!("{FACT}item shed.door \"t\" need shed.width > 1 in {clause}");
    vec![
        near(&item("@ > 1 in"), "shed.widht", "shed.width"),
        near(&format!("{FACT}fact shed.high : @ ask \"?\""), "lenght", "length"),
        near(&format!("{FACT}fact shed.flow : volume per @ ask \"?\""), "tme", "time"),
        near(&format!("{list}{}", item("every s in @ has s.belt")), "shed.seat", "shed.seats"),
        near(&clause("by @ basis own cite common practice"), "vist", "visit"),
        near(&clause(&format!("zone @ {OWN}")), "cabn", "cabin"),
        near(&clause(&format!("show @ of shed.width {OWN}")), "foto", "photo"),
        near(&clause(&format!("show photo of @ {OWN}")), "shed.wdth", "shed.width"),
        near(&clause(&format!("{OWN} try \"x\" @ = 2 in => met")), "shed.wdth", "shed.width"),
        near(&clause(&format!("{OWN} try \"x\" shed.width = 2 in => @")), "mett", "met"),
        near(&clause(&format!("{OWN} try \"x\" photo of @ => not-shown")), "shed.wdth", "shed.width"),
        near(&format!("{parts}{}", item("inspected @")), "shed.hing", "shed.hinge"),
        near(&format!("{parts}{}", item("tested @ by 2 people")), "shed", "shed.roof"),
        near(
            &format!("{parts}{}", item("confirmed by builder about shed.roof, @ ask \"?\"")),
            "shed.hing",
            "shed.hinge",
        ),
        near(&format!("{parts}disturbing @ also disturbs shed.roof\n{FACT}"), "shed.hing", "shed.hinge"),
        near(&format!("{parts}disturbing shed.roof also disturbs @\n{FACT}"), "shed.hinge.pin", "shed.hinge"),
        near(&format!("{FACT}formula twice (w : length) = w + @"), "shed.widht", "shed.width"),
        near(&item("confirmed by @ ask \"?\""), "bilder", "builder"),
        near(&item("absolute(shed.width) > 1 in and @(shed.width) > 1 in"), "absolut", "absolute"),
        near(&format!("pattern mark \"M\" matching \"a\"\n{}", item("shed.name fits @")), "mrk", "mark"),
        near(&format!("fact shed.feed : gravity or pump ask \"?\"\n{}", item("shed.feed is @")), "gravty", "gravity"),
        near(&format!("{FACT}item @ \"t\" need shed.width > 1 in {OWN}"), "shd.door", "shed.door"),
    ]
}

pub(super) fn samples() -> Vec<Sample> {
    let long: Vec<String> = (0..61).map(|n| format!("w{n}")).collect();
    let mut all = unknown();
    all.extend([
        sample("name::twice", &format!("{FACT}fact @ : length ask \"?\""), "shed.width", "shed.width", "shed.height"),
        sample("name::twice", &format!("{FACT}fact shed.feed : @ ask \"?\""), "gravity or gravity", "gravity", "gravity or pump"),
        sample("name::twice", &format!("list shed.l ask \"?\" field a : text ask \"?\" field @ : text ask \"?\" named by a\n{FACT}"), "a", "a", "b"),
        sample("name::twice", &format!("{}\nitem @ \"t\" need shed.width > 1 in {OWN}", item("shed.width > 1 in")), "shed.door", "shed.door", "shed.gate"),
        sample("name::twice", &format!("list shed.l ask \"?\" field a : text ask \"?\" named by a\nfact @ : text ask \"?\"\n{FACT}"), "shed.l.b", "shed.l.b", "shed.m.b"),
        sample("name::reserved", &format!("fact @ : text ask \"?\"\n{FACT}"), "shed.part", "shed.part", "shed.bolt"),
        sample("name::reserved", &format!("list shed.l ask \"?\" field a : text ask \"?\" field @ : text ask \"?\" named by a\n{FACT}"), "instrument", "instrument", "gauge"),
        sample("record::how-many", &format!("list shed.l ask \"?\" field a : text ask \"?\" named by a\n{}\n  try \"t\" shed.l = (a = \"x\"@) => met", item("some r in shed.l has r.a is \"x\"")), ", how_many = 2", "how_many", ""),
        sample("record::how-many", &format!("list shed.l ask \"?\" field a : text ask \"?\" named by a many alike\n{}\n  try \"t\" shed.l = (a = \"x\", how_many = @) => met", item("some r in shed.l has r.a is \"x\"")), "0", "0", "2"),
        sample("name::hides", &format!("{FACT}item shed.door \"t\" let @ = 2 in need shed.width > 1 in {OWN}"), "shed.width", "shed.width", "most"),
        sample("name::hides", &format!("{FACT}item shed.door \"t\" let a = 2 in let @ = 3 in need shed.width > a {OWN}"), "a", "a", "b"),
        sample("name::hides", &format!("list seats ask \"?\" field b : length ask \"?\" field name : text ask \"?\" named by name\n{}", item("every @ in seats has @.b > 1 in")), "shed", "shed", "s"),
        sample("name::hides", &format!("list seats ask \"?\" field b : yes or no ask \"?\" field name : text ask \"?\" named by name\n{}", item("every s in seats has some @ in seats has s.b")), "s", "s", "r"),
        sample("name::hides", &format!("{FACT}list seats ask \"?\" field b : length ask \"?\" field name : text ask \"?\" named by name\nitem shed.door for each s in seats \"t\" let @ = 2 in need s.b > shed.width {OWN}"), "s.b", "s.b", "b"),
        sample("name::hides", "formula f (a : length, @ : length) = a + a", "a", "a", "b"),
        sample("name::hides", &format!("{FACT}formula f (@ : length) = shed.width"), "shed.width", "shed.width", "w"),
        sample("syntax::unclosed", &format!("fact shed.a : text ask @\nfact shed.b : text ask \"So\"\n{FACT}"), "\"How?", "\"How?", "\"How?\""),
        sample("name::misplaced", &format!("zones shed \"Shed\" @\n{FACT}"), "never signs", "never signs", ""),
        sample("list::kept", "list @ ask \"?\" field snag : text ask \"?\"", "log.snag", "log.snag", "log.snags"),
        sample("list::kept", "list log.snags ask \"?\" field @ : text ask \"?\"", "number", "number", "snag"),
        sample("log::nobody", &format!("subjects shed.hose \"H\"\nitem shed.door \"t\" need inspected shed.hose by @ people {OWN}"), "0", "inspected shed.hose by 0 people", "2"),
        sample("role::concedes", "roles looker \"L\" never signs @", "may concede (other)", "other", ""),
        sample("role::other-than", "roles looker \"L\" other than @", "looker", "looker", "builder"),
        sample("log::never-signs", &format!("roles looker \"L\" never signs\nroles doer \"D\"\nsubjects shed.hose \"H\"\nitem shed.door \"t\" need inspected shed.hose in role @ {OWN}"), "looker", "looker", "doer"),
        sample("choice::too-long", "choice c : @", &long.join(" or "), "w60", &long[..60].join(" or ")),
        sample("pattern::invalid", "pattern p \"P\" matching @", "\"a(\"", "\"a(\"", "\"a\""),
        sample("syntax::unexpected", &item("shed.width @ 1 in"), "=<", "=<", "<="),
        sample("syntax::unexpected", &format!("{FACT}@ shed.b : text ask \"?\""), "fct", "fct", "fact"),
        sample("syntax::unexpected", &format!("{FACT}item shed.door @ need shed.width > 1 in {OWN}"), "", "need", "\"t\""),
        sample("syntax::unexpected", &format!("{FACT}fact shed.b : text @ \"?\""), "aks", "aks", "ask"),
        sample("syntax::unexpected", &item("shed.width > 1 in @ shed.width < 9 in"), "&&", "&&", "and"),
        sample("syntax::unfinished", &format!("{FACT}fact shed.b@"), " :", "", " : text ask \"?\""),
        sample("syntax::line-break", &format!("-- a note@{FACT}"), "\r", "\r", "\n"),
        sample("syntax::nesting", &item("@"), &format!("{}shed.width > 1 in{}", "(".repeat(49), ")".repeat(49)), "(", "(shed.width > 1 in)"),
        sample(
            "number::too-large",
            "fact shed.day : date ask \"?\"\nitem shed.door \"t\" need shed.day is within the last @ days by visit basis own cite common practice",
            "99999999999",
            "99999999999",
            "30",
        ),
    ]);
    all
}

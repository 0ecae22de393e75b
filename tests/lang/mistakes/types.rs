//! Mistakes in kinds and units.

use super::{Sample, sample};

const OWN: &str = "by visit basis own cite common practice";
const FACTS: &str = "fact shed.w : length, above 0 in ask \"?\"
fact shed.v : voltage ask \"?\"
fact shed.p : yes or no ask \"?\"
fact shed.name : text ask \"?\"
fact shed.day : date ask \"?\"
fact shed.t : temperature ask \"?\"
list shed.l ask \"?\" field w : length ask \"?\" field on : date ask \"?\" field name : text ask \"?\" named by name
choice side : left or right
fact shed.side : side ask \"?\"
fact shed.hand : near or far ask \"?\"\n";

fn item(need: &str) -> String {
    format!("{FACTS}item shed.door \"t\" need {need} {OWN}")
}

pub(super) fn samples() -> Vec<Sample> {
    let disturbed = format!(
        "subjects\n  shed.a \"A\"\n  shed.b \"B\"\ndisturbing shed.b also disturbs {}\n@",
        ["shed.a"; 1000].join(", ")
    );
    let many = vec!["shed.p"; 21_000].join(" and ");
    vec![
        sample("unit::mismatch", &item("shed.w + @ > 1 in"), "shed.v", "shed.w", "shed.w"),
        sample("unit::mismatch", &item("shed.w >= @"), "3 V", "shed.w", "3 in"),
        sample("unit::mismatch", &format!("{FACTS}fact shed.high : length, above @ ask \"?\""), "0 lb", "0 lb", "0 in"),
        sample(
            "unit::mismatch",
            &format!("{FACTS}fact shed.high : length ask \"?\" such as @"),
            "\"3 lb\"",
            "\"3 lb\"",
            "\"3 in\"",
        ),
        sample(
            "unit::unknown",
            &format!("{FACTS}fact shed.high : length ask \"?\" such as @"),
            "\"3 furlongz\"",
            "\"3 furlongz\"",
            "\"3 in\"",
        ),
        sample("unit::unknown", &item("shed.w > 3 @"), "inchez", "inchez", "in"),
        sample("type::mismatch", &item("@"), "shed.w", "shed.w", "shed.w > 1 in"),
        sample("type::mismatch", &item("@ > 1 in"), "shed.p", "shed.p", "shed.w"),
        sample("type::mismatch", &item("@ is \"x\""), "shed.w", "shed.w", "shed.name"),
        sample("type::mismatch", &item("shed.name is @ ignoring capitals"), "shed.w", "shed.w", "\"x\""),
        sample("type::mismatch", &item("shed.side is @"), "shed.hand", "shed.hand", "left"),
        sample("type::mismatch", &item("@ is within the last 3 months"), "shed.w", "shed.w", "shed.day"),
        sample("type::mismatch", &item("(@) is recorded"), "shed.w + shed.w", "(shed.w + shed.w)", "shed.w"),
        sample("type::mismatch", &item("root(@) > 1 in"), "shed.w", "root(shed.w)", "shed.w * shed.w"),
        sample("type::mismatch", &item("sum of @ for r in shed.l > 1 in"), "r.on", "r.on", "r.w"),
        sample("type::mismatch", &item("absolute(@) > 20 deltaC"), "shed.t", "shed.t", "shed.t - 20 degC"),
        sample("type::mismatch", &item("absolute(@) > 3 days"), "shed.day", "shed.day", "shed.day - today"),
        sample("value::impossible", &item("shed.t > @"), "-300 degC", "-300 degC", "-200 degC"),
        sample(
            "value::impossible",
            &format!("{FACTS}fact shed.cold : temperature ask \"?\" such as @"),
            "\"-270 degC ± 4 degC\"",
            "\"-270 degC ± 4 degC\"",
            "\"-270 degC ± 3 degC\"",
        ),
        sample("type::mismatch", &item("alike shed.name, @"), "shed.w", "shed.w", "every shed.l.name"),
        sample("type::mismatch", &item("alike shed.name, every @"), "shed.l.w", "shed.l.w", "shed.l.name"),
        sample("type::mismatch", &item("shed.day + 30 days > @ + 3 months"), "shed.w", "shed.w", "shed.day"),
        sample("type::mismatch", &format!("{FACTS}fact shed.q : yes or no@ ask \"?\""), ", above 0", "above 0", ""),
        sample("type::mismatch", &format!("{} try \"x\" shed.p = @ => met", item("shed.p")), "3 in", "3 in", "yes"),
        sample(
            "type::mismatch",
            &format!("{} try \"x\" shed.l = @ => not-shown", item("some r in shed.l has r.w > 1 in")),
            "3 in",
            "3 in",
            "(name = \"a\")",
        ),
        sample(
            "type::mismatch",
            &format!("formula f (x : length) = x\n{}", item("f(@) > 1 in")),
            "shed.v",
            "shed.v",
            "shed.w",
        ),
        sample(
            "list::not-of-the-record",
            &item("every r in shed.l where r.w > 5 in has r.w > 1 in@"),
            " and shed.p is yes",
            "shed.p is yes",
            "",
        ),
        sample(
            "list::not-of-the-record",
            &item("(some r in shed.l has r.w > 1 in@"),
            " or shed.p)",
            "shed.p",
            ") or shed.p",
        ),
        sample(
            "list::not-of-the-record",
            &item("(count r in shed.l where r.w > 1 in@) > 1"),
            " or shed.p",
            "shed.p",
            "",
        ),
        sample("program::too-costly", &item("@"), &many, "shed.p", "shed.p"),
        sample("program::too-costly", &item("@ shed.p"), &"every r in shed.l has ".repeat(12), "shed.l", ""),
        sample("program::too-many-disturbed", &disturbed, "disturbing shed.a also disturbs shed.b", "shed.a", ""),
    ]
}

//! Mistakes in tables and formulas.

use super::{Sample, sample};

const OWN: &str = "by visit basis own cite common practice";
const FACTS: &str = "choice side : left or right\nfact shed.side : side ask \"?\"\nfact shed.w : length, above 0 in ask \"?\"\nfact shed.n : number ask \"?\"\n";

/// A table with these keys, columns and rows.
fn table(head: &str, rows: &str) -> String {
    format!("{FACTS}table t ({head} \"Invented\" cite common practice {rows}")
}

fn item(need: &str) -> String {
    format!("item shed.door \"t\" need {need} {OWN}")
}

pub(super) fn samples() -> Vec<Sample> {
    let one = table("side : side) gives most : length", "row left : 1 in row right : 2 in");
    let two = "side : side, other : side) gives most : length";
    vec![
        // A formula is checked whether or not anything calls it.
        sample("formula::recursion", "formula f (x : number) = x + @", "f(x)", "f", "1"),
        sample("unit::mismatch", "formula f (w : length) = w + @", "1 V", "w", "1 in"),
        sample("name::unknown", "formula f (w : @) = w", "lenght", "lenght", "length"),
        sample(
            "table::keys",
            &table("w : length@) gives most : length", "row 1 in : 1 in row 2 in : 2 in"),
            "",
            "w",
            ", linear",
        ),
        sample("table::keys", &table("s : side@) gives most : length", "row left : 1 in"), ", linear", "s", ""),
        sample(
            "table::keys",
            &format!("{FACTS}table t (@ : 1 in"),
            "v : length, linear, w : length, linear) gives most : length \"T\" cite common practice row 1 in, 1 in",
            "v",
            "v : text, w : length, linear) gives most : length \"T\" cite common practice row \"a\", 1 in",
        ),
        sample(
            "table::keys",
            &format!("{one}\n{}", item("t[@] > 1 in")),
            "shed.side, shed.side",
            "t[shed.side, shed.side]",
            "shed.side",
        ),
        sample("table::column", &table("s : text) gives most : @", "row \"a\" : none"), "text", "most", "length"),
        sample(
            "table::row",
            &table("s : side) gives most : length", "row left : @"),
            "1 in, 2 in",
            "row left : 1 in, 2 in",
            "1 in",
        ),
        sample(
            "table::overlap",
            &table("s : side) gives most : length", "row left : 1 in row @ : 2 in"),
            "left",
            "row left : 2 in",
            "right",
        ),
        sample(
            "table::overlap",
            &table("w : length, linear) gives most : length", "row 2 in : 1 in row @ : 2 in"),
            "1 in",
            "row 1 in : 2 in",
            "3 in",
        ),
        sample(
            "table::gap",
            &table(two, "row left, left : 1 in row left, right : 1 in row right, left : 1 in @"),
            "",
            "t",
            "row right, right : none",
        ),
        sample(
            "item::no-source",
            &table("s : side) gives most : length", "row left : 1 in").replace("cite common practice", "@"),
            "",
            "t",
            "cite common practice",
        ),
        sample("unit::mismatch", &table("s : side) gives most : length", "row left : @"), "1 lb", "1 lb", "1 in"),
        sample(
            "type::mismatch",
            &table("s : side) gives most : length", "row left : @"),
            "\"wide\"",
            "\"wide\"",
            "1 in",
        ),
        sample("type::mismatch", &table("s : text) gives most : length", "row @ : 1 in"), "left", "left", "\"left\""),
        sample("name::unknown", &table("s : side) gives most : length", "row @ : 1 in"), "lefd", "lefd", "left"),
        sample("name::unknown", &format!("{one}\n{}", item("@[shed.side] > 1 in")), "tt", "tt", "t"),
        sample("name::unknown", &format!("{one}\n{}", item("t[shed.side].@ > 1 in")), "mst", "mst", "most"),
        sample(
            "formula::recursion",
            &format!("{FACTS}formula f (x : number) = @ + 1\n{}", item("f(shed.n) > 1")),
            "f(x)",
            "f",
            "x",
        ),
        sample(
            "formula::arguments",
            &format!("{FACTS}formula f (x : number) = x + 1\n{}", item("f(@) > 1")),
            "shed.n, 2",
            "f(shed.n, 2)",
            "shed.n",
        ),
        sample("division::zero", &format!("{FACTS}{}", item("1 / @ > 2")), "shed.n", "shed.n", "4"),
    ]
}

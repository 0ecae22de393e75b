//! Texts compared with their capitals, and without.

use crate::lang::comes_out;

const TEXTS: &str = "fact shed.one : optional text ask \"?\"\nfact shed.other : optional text ask \"?\"\n";

#[test]
fn capitals_count_unless_the_rule_ignores_them() {
    comes_out(
        TEXTS,
        "shed.one is shed.other",
        "try \"the same\" shed.one = \"C87FFF\", shed.other = \"C87FFF\" => met\n\
         try \"small letters\" shed.one = \"c87fff\", shed.other = \"C87FFF\" => unmet\n",
    );
    comes_out(
        TEXTS,
        "shed.one is shed.other ignoring capitals",
        "try \"the same\" shed.one = \"C87FFF\", shed.other = \"C87FFF\" => met\n\
         try \"small letters\" shed.one = \"c87fff\", shed.other = \"C87FFF\" => met\n\
         try \"outside ASCII\" shed.one = \"Öl\", shed.other = \"ÖL\" => met\n\
         try \"other digits\" shed.one = \"c78fff\", shed.other = \"C87FFF\" => unmet\n\
         try \"a blank more\" shed.one = \"c87fff \", shed.other = \"C87FFF\" => unmet\n\
         try \"none\" shed.one = none, shed.other = \"C87FFF\" => not-shown\n\
         try \"one of them\" shed.one = \"c87fff\" => not-shown\n",
    );
}

#[test]
fn ignoring_capitals_can_be_denied_and_joined() {
    comes_out(
        TEXTS,
        "not shed.one is \"a\" ignoring capitals and (shed.other is \"b\" ignoring capitals or shed.one is \"c\")",
        "try \"neither\" shed.one = \"x\", shed.other = \"B\" => met\n\
         try \"denied\" shed.one = \"A\", shed.other = \"B\" => unmet\n\
         try \"a capital that counts\" shed.one = \"C\", shed.other = \"x\" => unmet\n\
         try \"open\" shed.other = \"b\" => not-shown\n",
    );
}

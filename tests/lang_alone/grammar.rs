//! The parser that is built in is what pest makes of `grammar/checklist.pest`.
//!
//! It is made here and kept, not at every build: what makes it carries a crate
//! that asks for a C compiler, which nobody who embeds the engine should need.

use proc_macro2::TokenStream;
use std::path::{Path, PathBuf};

const RENEW: &str = "cargo test renew_parser -- --ignored";

fn path() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("syntax/parser.rs")
}

/// What pest makes of the grammar.
fn made() -> TokenStream {
    let asked = r#"#[derive(Parser)] #[grammar = "grammar/checklist.pest"] struct Grammar;"#;
    let parser = pest_generator::derive_parser(asked.parse().unwrap(), false);
    let text = format!("#[derive(Debug)] pub struct Grammar; {parser}");
    text.parse().unwrap()
}

/// A rule to a line, so that a change of the grammar shows as one.
fn laid_out(parser: &TokenStream) -> String {
    let lines = parser.to_string().replace("# [inline]", "\n# [inline]").replace(" , Rule :: r#", " ,\nRule :: r#");
    let lines = lines.replace(" , r#", " ,\nr#").replace(" , # [doc", " ,\n# [doc");
    format!("// Made of grammar/checklist.pest by pest. Write it anew, do not edit it:\n// {RENEW}\n\n{lines}\n")
}

#[test]
fn the_parser_is_that_of_the_grammar() {
    let kept: TokenStream = std::fs::read_to_string(path()).unwrap().parse().unwrap();
    assert!(kept.to_string() == made().to_string(), "the grammar has changed; the parser is written anew by\n{RENEW}");
}

/// Not a test: writes the parser anew. Do it before the new rules are used, as it is built with the language.
#[test]
#[ignore = "writes src/lang/syntax/parser.rs"]
fn renew_parser() {
    std::fs::write(path(), laid_out(&made())).unwrap();
}

//! Several files, broken files, and names that nobody knows.

use super::{file, read_all, read_one, said};
use crate::golden::named;
use crate::golden::recording::Named;
use proptest::prelude::*;

/// Those whose messages are golden.
pub(crate) const GOLDEN: &[Named] = named![
    the_order_of_files_is_of_no_consequence,
    a_fact_given_twice_shows_both_places,
    a_fact_given_twice_in_one_file_shows_both_places,
    an_unknown_name_is_shown_with_the_nearest,
    a_table_is_no_fact_and_a_fact_no_table,
    bytes_that_are_no_text_are_placed,
    every_syntax_error_of_every_file_is_reported,
    a_month_without_quotes_is_told_to_stand_in_quotes,
    a_value_left_out_is_one_error,
    curly_quotes_are_told_as_that,
    deep_nesting_is_an_error_and_no_crash
];

#[test]
fn the_order_of_files_is_of_no_consequence() {
    let files = [
        file("b.toml", "marks.height = \"3 in\"\n[[loads]]\nname = \"nose\"\nmass = \"1 lb\"\n"),
        file("a.toml", "fuel.feed = \"pump\"\nmarks.height = \"4 in\"\nsparrow = 1\n"),
        file("c.toml", "[fuel]\nfeed = \"gravity\"\n"),
    ];
    let one = read_all(&files, &[]);
    let mut backwards = files.to_vec();
    backwards.reverse();
    let other = read_all(&backwards, &[]);
    assert_eq!(one.record, other.record);
    assert_eq!(one.messages, other.messages);
    assert_eq!(one.codes(), ["fact::unknown", "fact::twice", "fact::twice"]);
}

#[test]
fn a_table_may_stand_in_several_files() {
    let reading = read_all(
        &[
            file("a.toml", "[fuel]\nfeed = \"pump\"\n"),
            file("b.toml", "[fuel]\nflow_test = { rate = \"18 gal/h\", on = 2026-10-04 }\n"),
        ],
        &[],
    );
    reading.nothing_wrong();
    assert_eq!(reading.record.facts.len(), 3);
}

#[test]
fn a_fact_given_twice_shows_both_places() {
    let reading =
        read_all(&[file("a.toml", "\nfuel.feed = \"pump\"\n"), file("b.toml", "[fuel]\nfeed = \"pump\"\n")], &[]);
    let places = reading.places(reading.only("fact::twice"));
    assert_eq!(places, [("b.toml".to_owned(), 2, 1), ("a.toml".to_owned(), 2, 6)]);
}

#[test]
fn a_fact_given_twice_in_one_file_shows_both_places() {
    let reading = read_one("[fuel]\nfeed = \"pump\"\nfeed = \"gravity\"\n");
    let places = reading.places(reading.only("fact::twice"));
    assert_eq!(places, [("facts.toml".to_owned(), 3, 1), ("facts.toml".to_owned(), 2, 1)]);
}

#[test]
fn an_unknown_name_is_shown_with_the_nearest() {
    for (text, place, words) in [
        ("marks.hieght = \"3 in\"", (1, 7), "did you mean `marks.height`?"),
        ("[feul]\nfeed = \"pump\"", (1, 2), "did you mean `fuel`? nothing under `feul` was read"),
        ("[fuel.flowtest]\nrate = \"1 gal/h\"", (1, 7), "did you mean `fuel.flow_test`?"),
        ("[[electrical.run]]\nname = \"x\"", (1, 14), "did you mean `electrical.runs`?"),
        ("height = \"3 in\"", (1, 1), "did you mean `marks.height`?"),
        ("zebra = 1", (1, 1), "no pack knows a fact `zebra`"),
        ("evidence = \"a.jpg\"", (1, 1), "no pack knows a fact `evidence`"),
    ] {
        let reading = read_one(text);
        let message = reading.only("fact::unknown");
        assert_eq!(reading.places(message)[0], ("facts.toml".to_owned(), place.0, place.1));
        assert!(said(message).contains(words), "`{words}` is not in: {}", said(message));
    }
}

#[test]
fn a_table_is_no_fact_and_a_fact_no_table() {
    for (text, words) in [
        ("fuel = \"pump\"", "in it there is `fuel.feed`, `fuel.flow_test.on`, `fuel.flow_test.rate`"),
        ("[marks.height]\nis = \"3 in\"", "Height of the registration mark"),
        ("marks.height = {}", "Height of the registration mark"),
        ("electrical.runs = \"none\"", "begin each with [[electrical.runs]]"),
        ("[electrical.runs]\nname = \"x\"", "Each wire run from the bus to its load"),
        ("electrical.runs = [\"x\"]", "a table of its fields"),
        ("[[fuel]]\nfeed = \"pump\"", "a group of facts"),
    ] {
        let reading = read_one(text);
        let message = reading.only("fact::form");
        assert!(said(message).contains(words), "`{words}` is not in: {}", said(message));
        assert!(reading.record.facts.is_empty());
    }
}

#[test]
fn bytes_that_are_no_text_are_placed() {
    let mut bytes = "# größe\nfuel.feed = \"".as_bytes().to_vec();
    bytes.extend([0xE9, 0x22, 0xFF]);
    let reading = read_all(&[file("a.toml", bytes)], &[]);
    let message = reading.only("file::not-text");
    assert_eq!(reading.places(message), [("a.toml".to_owned(), 2, 14)]);
    assert!(said(message).contains("0xE9"));
}

/// A path with the backslashes of one system is told on all, with the line as it is to be.
#[test]
fn backslashes_in_double_quotes_are_told_once_a_line() {
    for (line, mended) in [
        ("fuel.evidence = \"evidence\\fuel\\a.JPG\"", "fuel.evidence = \"evidence/fuel/a.JPG\""),
        ("fuel.evidence = [\"evidence\\Fuel\\a.JPG\"] # two", "fuel.evidence = [\"evidence/Fuel/a.JPG\"] # two"),
        ("fuel.evidence = \"evidence\\user\\xa.jpg\"", "fuel.evidence = \"evidence/user/xa.jpg\""),
        ("fuel.evidence = \"C:\\\\evidence\\7.jpg\"", "fuel.evidence = \"C:/evidence/7.jpg\""),
        ("fuel.evidence = \"evidence\\\"", "fuel.evidence = \"evidence/\""),
    ] {
        let reading = read_one(&format!("{line}\naircraft.seats = 2\n"));
        let message = said(reading.only("toml::invalid"));
        assert!(message.contains("a backslash in double quotes"), "{message}");
        assert!(message.contains(mended), "{message}");
    }
}

#[test]
fn utf_16_is_told_as_that_and_the_mark_of_utf_8_is_read() {
    let text = "fuel.feed = \"pump\"\r\n";
    for order in [u16::to_le_bytes, u16::to_be_bytes] {
        for mark in ["\u{feff}", ""] {
            let bytes: Vec<u8> = format!("{mark}{text}").encode_utf16().flat_map(order).collect();
            let reading = read_all(&[file("a.toml", bytes)], &[]);
            let message = said(reading.only("file::not-text"));
            assert!(message.contains("UTF-16") && message.contains("Out-File -Encoding utf8"), "{message}");
        }
    }
    let reading = read_one(&format!("\u{feff}{text}"));
    reading.nothing_wrong();
    assert_eq!(reading.record.facts.len(), 1);
}

#[test]
fn curly_quotes_are_told_as_that() {
    for (line, mended) in [
        ("marks.height = “3 in”", "type marks.height = \"3 in\""),
        ("marks.height = ‘3 in’ # tape", "type marks.height = '3 in' # tape"),
        ("marks.height = \"3 in”", "type marks.height = \"3 in\""),
        ("marks.height = “3 in\"", "type marks.height = \"3 in\""),
        ("marks.height = “it's 3\"”", "type height = \"3 in\""),
    ] {
        let reading = read_one(&format!("{line}\naircraft.seats = 2\n"));
        let message = said(reading.only("toml::invalid"));
        assert!(message.contains("these are curly quotes, and TOML takes straight ones"), "{message}");
        assert!(message.contains(mended), "{message}");
    }
    // In a text they are letters, and what is wrong is something else.
    for line in ["marks.height = it’s # “3 in”", "fuel.feed = \"“pump”\" x"] {
        let reading = read_one(line);
        let curly = reading.messages.iter().any(|message| said(message).contains("curly"));
        assert!(!reading.messages.is_empty() && !curly, "{:?}", reading.messages);
    }
    read_one("[[loads]]\nname = \"“nose” wheel\"\n").nothing_wrong();
}

#[test]
fn every_syntax_error_of_every_file_is_reported() {
    let reading = read_all(
        &[
            file("a.toml", "fuel.feed = pump\nmarks.height = \"3 in\naircraft.seats = 2\n"),
            file("b.toml", "fuel.flow_test.on = 2026-02-30\nsparrow = 1\n"),
        ],
        &[],
    );
    assert_eq!(reading.codes(), ["toml::invalid", "toml::invalid", "toml::invalid", "fact::unknown"]);
    let lines: Vec<(String, u32)> =
        reading.messages.iter().map(|message| reading.places(message)[0].clone()).map(|p| (p.0, p.1)).collect();
    let expected = [("a.toml", 1), ("a.toml", 2), ("b.toml", 1), ("b.toml", 2)];
    assert_eq!(lines, expected.map(|(name, line)| (name.to_owned(), line)));
    let date = said(&reading.messages[2]);
    assert!(date.contains("`2026-02-30` is no date of the calendar"), "{date}");
    assert!(date.contains("February 2026 has 28 days"), "{date}");
}

#[test]
fn a_month_without_quotes_is_told_to_stand_in_quotes() {
    let reading = read_one("fuel.flow_test.on = 2026-09\n");
    let said = said(reading.only("toml::invalid"));
    assert!(said.contains("`2026-09` is no whole date") && said.contains("in quotes: \"2026-09\""), "{said}");
}

#[test]
fn a_value_left_out_is_one_error() {
    read_one("fuel.feed =\nplate.present = true\n").only("toml::invalid");
    read_one("marks.height =\n").only("toml::invalid");
}

#[test]
fn a_file_may_be_too_large() {
    let reading = read_all(&[file("a.toml", vec![b'#'; (16 << 20) + 1])], &[]);
    assert_eq!(reading.places(reading.only("file::too-large"))[0].0, "a.toml");
    read_all(&[file("a.toml", vec![b'#'; 16 << 20])], &[]).nothing_wrong();
}

#[test]
fn deep_nesting_is_an_error_and_no_crash() {
    let dots = |n: usize| vec!["a"; n].join(".");
    for text in [
        format!("a = {}", "[".repeat(10_000)),
        format!("a = {}{}", "[".repeat(10_000), "]".repeat(10_000)),
        format!("a = {}", "{a=".repeat(10_000)),
        format!("{} = 1", dots(100_000)),
        format!("[{}]\n", dots(100_000)),
        format!("x = 'a\n{} = 1", dots(100_000)),
        format!("x = {{ {} = 1 }}", dots(100_000)),
    ] {
        let reading = read_one(&text);
        assert!(reading.codes().contains(&"toml::invalid"), "{:?}", reading.codes());
    }
    let most = dots(33);
    let deep = format!("[{most}]\n{most} = {}1{}", format!("{{{most} = ").repeat(70), "}".repeat(70));
    assert_eq!(read_one(&deep).codes(), ["fact::unknown"]);
}

#[test]
fn dots_in_texts_and_comments_are_not_counted() {
    let dots = ".".repeat(200);
    let text = format!(
        "# {dots}\nplate.serial = \"x\\\"{dots}\" # '{dots}\nelt.hex_id = '''\nx'{dots}\n''{dots}'''''\nfuel.feed = \"pump\"\n"
    );
    let reading = read_one(&text);
    reading.nothing_wrong();
    assert_eq!(reading.record.facts.len(), 3);
}

#[test]
fn project_toml_holds_no_facts() {
    read_all(&[file("project.toml", "sparrow = 1")], &[]).nothing_wrong();
    read_all(&[file("sub/project.toml", "sparrow = 1")], &[]).only("fact::unknown");
}

proptest! {
    #![proptest_config(crate::fixtures::seed::fresh())]
    #[test]
    fn any_bytes_are_read_without_a_panic(bytes in proptest::collection::vec(any::<u8>(), 0..200)) {
        read_all(&[file("x.toml", bytes)], &[]);
    }

    #[test]
    fn any_toml_like_text_is_read_without_a_panic(
        text in "([\\[\\]{}=.,\"'#\n a-c0-9-]|fuel|feed|evidence|confirmed|item|on|\"3 in\"|é){0,60}"
    ) {
        let reading = read_one(&text);
        for message in &reading.messages {
            prop_assert!(!message.labels.is_empty(), "{message:?}");
            for (_, line, column) in reading.places(message) {
                prop_assert!(line >= 1 && column >= 1);
            }
        }
    }
}

//! The page of a pack: all of it, in text and HTML, and nothing that a pack writes can do harm.

use crate::fixtures::messages::words;
use crate::fixtures::packs::built;
use cotterpin_engine::report::{Line, PackPage, Part, pack_page, pack_page_html, pack_page_text};
use cotterpin_engine::source::SharedText;
use cotterpin_packs::built_in_names;

const REMINDER: &str = "The local authority's inspector has the final say.";

/// HTML read back: what stands between the tags, entities resolved.
fn shown(html: &str) -> String {
    let mut out = String::new();
    let mut inside = false;
    for letter in html.chars() {
        match letter {
            '<' => inside = true,
            '>' => {
                inside = false;
                out.push(' ');
            }
            _ if !inside => out.push(letter),
            _ => {}
        }
    }
    let out = out.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&#39;", "'");
    words(&out.replace("&amp;", "&"))
}

#[test]
fn every_item_of_every_pack_is_on_its_page() {
    let mut items = 0;
    for name in built_in_names() {
        let rules = built(&[name]);
        let page = pack_page(&rules, name).expect("it is loaded");
        let (text, html) = (pack_page_text(&page, 80), pack_page_html(&page));
        let (text, html) = (words(&text), shown(&html));
        for pack in rules.packs.iter().filter(|pack| pack.name == name) {
            for part in pack.not_covered.iter().chain([&pack.scope, &pack.authority, &pack.edition]) {
                assert!(text.contains(&words(part)) && html.contains(&words(part)), "{name}: {part}");
            }
        }
        for item in rules.items.iter().filter(|item| rules.packs.get(item.pack).unwrap().name == name) {
            items += 1;
            let need = rules.sources.one_line(*rules.program.condition_spans.get(item.own_need).unwrap());
            let parts = [
                Some(&item.name),
                Some(&item.title),
                item.check.as_ref(),
                item.remedy.as_ref(),
                item.caution.as_ref(),
                item.ask.as_ref(),
            ];
            for part in parts.into_iter().flatten().chain(&need.contains(' ').then_some(SharedText::from(need.clone())))
            {
                assert!(text.contains(&words(part)), "{name}: {part}");
                assert!(html.contains(&words(part)), "{name}: {part}");
            }
            for cite in &item.cites {
                assert!(
                    text.contains(&words(&cite.paragraph)) && html.contains(&words(&cite.paragraph)),
                    "{}",
                    item.name
                );
            }
        }
        for document in rules.documents.iter().filter(|document| rules.packs.get(document.pack).unwrap().name == name) {
            for part in [&document.number, &document.edition, &document.issuer] {
                assert!(text.contains(&words(part)) && html.contains(&words(part)), "{name}: {part}");
            }
        }
        assert_eq!(text.matches(REMINDER).count(), 2, "{name}");
        assert_eq!(html.matches(REMINDER).count(), 2, "{name}");
    }
    println!("{items} items on the pages of {} packs", built_in_names().len());
    assert!(items > 300);
}

#[test]
fn amendments_and_what_is_set_aside_are_told() {
    let rules = built(&["us"]);
    let us = words(&pack_page_text(&pack_page(&rules, "us").expect("us"), 80));
    assert!(us.contains("AMENDED ITEMS OF OTHER PACKS") && us.contains("paper-identity/identity.serial"));
    let rules = built(&["kit-nosuch-2"]);
    let kit = words(&pack_page_text(&pack_page(&rules, "kit-nosuch-2").expect("the kit"), 80));
    assert!(kit.contains("added need fuel.leak_test.full_hours >= 48 h"), "{kit}");
    assert!(kit.contains("ITEMS OF OTHER PACKS SET ASIDE transparencies/transparencies.holes"), "{kit}");
    assert!(kit.contains("where left = fork-left(fork-life[nosuch.fork], nosuch.fork.hours)"), "{kit}");
}

#[test]
fn no_line_of_a_pack_is_wider_than_the_page() {
    for name in built_in_names() {
        let page = pack_page(&built(&[name]), name).expect("it is loaded");
        for line in pack_page_text(&page, 80).lines() {
            assert!(line.chars().count() <= 80 && line == line.trim_end(), "{name}: {line}");
        }
    }
}

#[test]
fn a_pack_that_is_not_there_has_no_page() {
    assert_eq!(pack_page(&built(&["common"]), "us"), None);
}

/// A pack is anybody's file: what stands in it must stay text.
#[test]
fn what_a_pack_writes_stays_text() {
    let nasty = "<script>\"x\" & 'y'</script><!-- \u{202e}";
    let line = |label| Line { label, text: nasty.into(), own_words: true };
    let page = PackPage {
        title: nasty.into(),
        parts: vec![
            Part::Section(nasty.into()),
            Part::Entry(nasty.into(), nasty.into()),
            Part::Labelled(vec![line("need"), line(""), line("CAUTION")]),
            Part::List(vec![nasty.into()]),
        ],
        reminder: "<reminder & more>",
    };
    let html = pack_page_html(&page);
    assert!(!html.contains("<script") && !html.contains("<!--") && !html.contains('\u{202e}'), "{html}");
    assert!(!html.contains("<reminder"));
    let whole = "&lt;script&gt;&quot;x&quot; &amp; &#39;y&#39;&lt;/script&gt;&lt;!-- \\u{202e}";
    // Title twice, section, entry twice, three lines and the list.
    assert_eq!(html.matches(whole).count(), 9, "{html}");
}

/// Tags open and close in order; nothing is fetched and nothing runs.
#[test]
fn the_page_is_whole_and_by_itself() {
    const EMPTY: [&str; 2] = ["meta", "!DOCTYPE"];
    for name in built_in_names() {
        let html = pack_page_html(&pack_page(&built(&[name]), name).expect("it is loaded"));
        assert!(html.starts_with("<!DOCTYPE html>\n<html lang=\"en\">"), "{name}");
        for word in ["<script", "http:", "https:", "url(", "@import", "src=", "href=", "onload"] {
            assert!(!html.contains(word), "{name}: {word}");
        }
        let mut open: Vec<&str> = Vec::new();
        for tag in html.split('<').skip(1) {
            let tag = tag.split('>').next().expect("it ends");
            let word = tag.split(' ').next().expect("a name");
            match word.strip_prefix('/') {
                Some(closed) => assert_eq!(open.pop(), Some(closed), "{name}"),
                None if EMPTY.contains(&word) => {}
                None => open.push(word),
            }
        }
        assert!(open.is_empty(), "{name}: {open:?}");
    }
}

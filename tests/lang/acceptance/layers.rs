//! A11: packs on packs.

use crate::fixtures::projects::{self, file};
use crate::lang::{OWN, WORDS, codes, come_out, finding, load, mine, of_nothing, pack, refused, verdict};
use cotterpin_engine::audit::Remark;
use cotterpin_engine::ir::NotSetAside;
use cotterpin_engine::lint::run_examples;
use cotterpin_engine::report::text;
use cotterpin_engine::vocabulary::Verdict;
use cotterpin_packs::PackText;

/// What an item of law is set aside by.
const BY_LAW: &str = "basis law cite book, \"2\"";

fn base() -> PackText {
    mine(
        "source book \"A book\" number \"B-1\" edition \"2026\" issuer \"Nobody\" mark read
         fact shed.width : length ask \"?\"
         item shed.door \"t\" need shed.width >= 2 in by visit basis law cite book, \"1\"
           try \"two\" shed.width = 2 in => met",
    )
}

#[test]
fn a11_a_pack_adds_items_of_its_own() {
    let kit = pack("kit", &["mine"], &format!("item shed.gate \"t\" need shed.width >= 9 in {OWN}"));
    let report = of_nothing(&load(&[kit, base()]));
    let items: Vec<&str> = report.findings.iter().map(|finding| finding.item.as_str()).collect();
    assert_eq!(items, ["kit/shed.gate", "mine/shed.door"]);
}

#[test]
fn a11_a_pack_adds_needs_to_another_packs_item() {
    let kit = pack(
        "kit",
        &["mine"],
        "amend shed.door need shed.width >= 5 in basis kit cite common practice
           try \"the law's\" shed.width = 2 in => unmet
           try \"the kit's\" shed.width = 5 in => met",
    );
    let rules = load(&[base(), kit]);
    for result in run_examples(&rules) {
        assert_eq!(result.got.word(), result.expected.word(), "{}", result.example);
    }
    let report = of_nothing(&rules);
    let door = finding(&report, "mine/shed.door");
    assert!(door.notes.iter().any(|note| *note == Remark::NeedAdded("kit".into())));
    assert_eq!((door.sources.len(), door.added.len(), door.added[0].sources.len()), (1, 1, 1));
}

#[test]
fn a11_an_amendment_holds_for_every_edition_in_force() {
    let base = mine(&format!(
        "fact shed.width : length ask \"?\"
         item shed.door \"old\" need shed.width >= 1 in {OWN} in force until 2025-12-31
         item shed.door \"new\" need shed.width >= 1 in {OWN} in force from 2026-01-01"
    ));
    let kit = pack("kit", &["mine"], "amend shed.door need shed.width >= 5 in basis kit cite common practice");
    let rules = load(&[base.clone(), kit]);
    let audit = |day: &str| crate::lang::audited(&rules, "[shed]\nwidth = \"2 in\"\n", day, None);
    assert_eq!(finding(&audit("2025-06-01"), "mine/shed.door").verdict, Verdict::Unmet);
    assert_eq!(
        finding(&audit("2026-06-01"), "mine/shed.door").verdict,
        Verdict::Unmet,
        "the kit's need is lost with the new edition"
    );
    let aside = load(&[base, pack("kit", &["mine"], "set aside shed.door because \"It has none.\"")]);
    assert!(aside.items.iter().all(|item| !item.set_aside.is_empty()), "only one edition is set aside");
}

#[test]
fn a11_to_relax_an_item_it_is_set_aside_with_a_reason_and_both_are_shown() {
    let kit = pack("kit", &["mine"], &format!("set aside shed.door because \"This shed has no door.\" {BY_LAW}"));
    let report = of_nothing(&load(&[base(), kit]));
    let door = finding(&report, "mine/shed.door");
    assert_eq!((door.verdict, report.summary.set_aside), (Verdict::SetAside, 1));
    let aside = door.set_aside.first().expect("it says so");
    assert_eq!(
        (aside.pack.as_str(), aside.because.as_str(), aside.instead_of),
        ("kit", "This shed has no door.", Verdict::NotShown)
    );
    let shown = text(&report, 80);
    assert!(shown.contains("shed.door") && shown.contains("This shed has no door."), "{shown}");
    let empty = pack("kit", &["mine"], &format!("set aside shed.door because \" \" {BY_LAW}"));
    assert_eq!(codes(&refused(&[base(), empty]).1), ["item::no-reason"]);
    let silent = pack("kit", &["mine"], "set aside shed.door");
    assert!(codes(&refused(&[base(), silent]).1).iter().any(|code| code.starts_with("syntax::")));
}

#[test]
fn a11_where_two_packs_set_an_item_aside_the_reasons_of_both_are_shown() {
    let kit = pack("kit", &["mine"], &format!("set aside shed.door because \"This shed has no door.\" {BY_LAW}"));
    let club = pack("club", &["mine"], &format!("set aside shed.door because \"The club has a gate.\" {BY_LAW}"));
    let report = of_nothing(&load(&[base(), kit, club]));
    let said: Vec<&str> =
        finding(&report, "mine/shed.door").set_aside.iter().map(|aside| aside.because.as_str()).collect();
    assert_eq!(said.len(), 2, "{said:?}");
    let (shown, data) = (text(&report, 80), cotterpin_engine::report::json(&report));
    for reason in ["This shed has no door.", "The club has a gate."] {
        assert!(said.contains(&reason) && shown.contains(reason) && data.contains(reason), "{reason}: {shown}");
    }
}

#[test]
fn a11_an_item_per_record_is_set_aside_whatever_its_list_holds() {
    let base = mine(&format!(
        "list seats ask \"?\" field n : text ask \"?\" named by n item shed.seat for each s in seats \"t\" need s.n is \"x\" {OWN}"
    ));
    let rules = load(&[base, pack("kit", &["mine"], "set aside shed.seat because \"It has none.\"")]);
    for facts in ["seats = []\n", "[[seats]]\nn = \"y\"\n", ""] {
        let report = crate::lang::audited(&rules, facts, "2026-06-01", None);
        let seat = finding(&report, "mine/shed.seat");
        assert_eq!(seat.verdict, Verdict::SetAside, "with {facts:?}");
    }
}

#[test]
fn a11_names_of_two_packs_do_not_collide_silently() {
    let other = |text: &str| pack("other", &[], text);
    for text in [
        "source book \"Another\" number \"1\" edition \"1\" issuer \"I\" mark read",
        "hold-points visit \"Another\"",
        "roles builder \"Another\"",
    ] {
        let (sources, messages) = refused(&[base(), other(text)]);
        let twice = messages.iter().find(|message| message.code == "name::twice").expect("it is said");
        let files: Vec<String> = twice.labels.iter().map(|label| sources.place(label.span).file).collect();
        assert_eq!(files, ["other.checklist", "mine.checklist"], "{text}");
    }
    let item = pack("other", &["mine"], &format!("item shed.door \"t\" need shed.width >= 1 in {OWN}"));
    assert_eq!(codes(&refused(&[base(), item]).1), ["name::twice"]);
}

/// Everything a pack can declare, one of each.
const DECLARED: &str = "
subjects
  shed.hinge \"The hinge\"
choice wood : oak or pine
pattern mark \"An M\" matching \"M\"
fact shed.name : text ask \"?\"
fact shed.door_width : length ask \"?\"
list shed.seats ask \"?\" field belt : yes or no ask \"?\" field name : text ask \"?\" named by name
table most (w : text) gives most : length \"t\" cite common practice row \"a\" : 1 in
formula double (x : length) = x + x
item shed.roof \"t\" need shed.door_width > 1 in by visit basis own cite common practice
";

#[test]
fn a11_a_pack_sees_the_names_of_the_packs_it_uses_and_no_others() {
    let base = mine(DECLARED);
    let words = "hold-points due \"Due\"\nsystems barn \"Barn\"\nfact barn.name : text ask \"?\"\nfact barn.width : length ask \"?\"\n";
    let item = |clauses: &str| format!("item barn.door \"t\" {clauses} basis own cite common practice");
    let need = "need barn.width > 1 in by due";
    for (kind, name, text) in [
        ("fact", "shed.name", item("need shed.name is \"a\" by due")),
        ("list", "shed.seats", item("need every s in shed.seats has s.belt by due")),
        ("list", "shed.seats", format!("{} try \"x\" shed.seats = (belt = yes) => not-shown", item(need))),
        ("formula", "double", item("need double(barn.width) > 1 in by due")),
        ("table", "most", item("need most[barn.name] > 1 in by due")),
        ("pattern", "mark", item("need barn.name fits mark by due")),
        ("choice", "wood", "fact barn.wood : wood ask \"?\"".to_owned()),
        ("role", "builder", item("need confirmed by builder ask \"?\" by due")),
        (
            "role",
            "builder",
            format!(
                "roles owner \"O\" {} try \"x\" confirmed by builder => met",
                item("need confirmed by owner ask \"?\" by due")
            ),
        ),
        ("zone", "cabin", item(&format!("{need} zone cabin"))),
        ("hold point", "visit", item("need barn.width > 1 in by visit")),
        (
            "system",
            "shed",
            "item shed.door \"t\" need barn.width > 1 in by due basis own cite common practice".to_owned(),
        ),
        ("kind of evidence", "photo", item(&format!("{need} show photo of barn.name"))),
        ("kind of evidence", "photo", format!("{} try \"x\" photo of barn.name => not-shown", item(need))),
        ("fact", "shed.name", format!("evidence scan \"S\" {}", item(&format!("{need} show scan of shed.name")))),
        ("subject", "shed.hinge", item("need inspected shed.hinge by due")),
        ("subject", "shed.hinge", "subjects barn.roof \"R\"\ndisturbing barn.roof also disturbs shed.hinge".to_owned()),
        ("item", "shed.roof", "amend shed.roof need barn.width > 1 in basis own cite common practice".to_owned()),
        ("item", "shed.roof", "set aside shed.roof because \"It has none.\"".to_owned()),
    ] {
        let text = format!("{words}{text}");
        let (sources, messages) = refused(&[base.clone(), pack("other", &[], &text)]);
        let all = crate::lang::told(&sources, &messages);
        let hidden = messages.iter().find(|message| message.code == "pack::not-used");
        let hidden = hidden.unwrap_or_else(|| panic!("{kind} {name} is seen: {all:#?}"));
        assert_eq!(sources.text(hidden.labels[0].span).split('.').next(), name.split('.').next(), "{all:#?}");
        let words = format!("the {kind} `{name}` is declared by the pack `mine`");
        assert!(hidden.message.starts_with(&words), "{all:#?}");
        assert!(hidden.help.as_deref().is_some_and(|help| help.contains("\"mine\"") && help.contains("`other`")));
        // With the pack among those it uses the same text loads, and so does a pack that uses that one.
        load(&[base.clone(), pack("other", &["mine"], &text)]);
        load(&[base.clone(), pack("between", &["mine"], ""), pack("other", &["between"], &text)]);
    }
}

#[test]
fn a11_what_a_pack_sets_aside_on_is_kept_and_shown() {
    let text = "source notice \"A notice\" number \"K-7\" edition \"3\" issuer \"The kit\" mark read
        set aside shed.door because \"This shed has no door.\" basis kit cite ";
    let kit = |cite: &str| pack("kit", &["mine"], &format!("{text}{cite}"));
    let mut advised = base();
    advised.files[0].1 = advised.files[0].1.replace("basis law", "basis advice").into();
    let report = of_nothing(&load(&[advised, kit("notice, \"page 2\"")]));
    let aside = &finding(&report, "mine/shed.door").set_aside[0];
    assert_eq!(aside.basis, Some(cotterpin_engine::vocabulary::Basis::Kit));
    assert_eq!((aside.sources[0].number.as_str(), aside.sources[0].paragraph.as_str()), ("K-7", "page 2"));
    let shown = text_of(&report);
    assert!(shown.contains("K-7, edition 3, at page 2") && shown.contains("the kit's own word"), "{shown}");
    assert!(codes(&refused(&[base(), kit("notise, \"page 2\"")]).1).contains(&"name::unknown"));
}

fn text_of(report: &cotterpin_engine::audit::Audit) -> String {
    text(report, 120)
}

#[test]
fn a11_packs_may_come_in_any_order() {
    let kit = pack("kit", &["mine"], &format!("item shed.gate \"t\" need shed.width >= 9 in {OWN}"));
    let names = |packs: &[PackText]| load(packs).packs.iter().map(|pack| pack.name.clone()).collect::<Vec<_>>();
    assert_eq!(names(&[kit.clone(), base()]), names(&[base(), kit]));
    assert!(WORDS.contains("hold-points"));
}

/// Packs of strangers that have the same names: a fact, a list and an item.
fn strangers() -> Vec<PackText> {
    let text = |least: &str| {
        format!(
            "fact canopy.pull : force, at least 0 N ask \"What pull?\" such as \"10 N\"
list canopy.catches ask \"Each catch\" field name : text ask \"Which?\" field shut : yes or no ask \"Shut?\" named by name
item canopy.held \"The canopy is held\" need canopy.pull >= {least} show photo of canopy.pull {OWN}
  try \"held\" canopy.pull = 60 N, photo of canopy.pull => met
  try \"not\" canopy.pull = 1 N, photo of canopy.pull => unmet
  try \"open\" => not-shown
item canopy.caught for each catch in canopy.catches \"It is shut\" need catch.shut {OWN}
  try \"shut\" canopy.catches = (name = \"a\", shut = yes) => met
item canopy.said \"It is so\" ask \"Is it?\" need confirmed by builder {OWN}
"
        )
    };
    let base = pack("base", &[], &WORDS.replace("shed \"Shed\"", "shed \"Shed\" canopy \"Canopy\""));
    let one = pack("latch", &["base"], &text("10 N"));
    let other = pack("hood", &["base"], &text("50 N"));
    vec![base, one, other]
}

#[test]
fn a11_same_names_of_two_packs_do_not_collide_and_are_told_apart_by_their_packs() {
    let rules = come_out(&strangers());
    let names = |name: &str| rules.fact_by_name.contains_key(name) || rules.list_by_name.contains_key(name);
    for name in ["latch/canopy.pull", "hood/canopy.pull", "latch/canopy.catches", "hood/canopy.catches"] {
        assert!(names(name), "{name}");
    }
    assert!(!names("canopy.pull") && !names("canopy.catches"));
    let project = "name = \"Shed\"\npacks = [\"./base\", \"./latch\", \"./hood\"]\n";
    let read = |facts: &str| projects::read_project(&rules, project, &[file("facts.toml", facts)], &["evidence/a.jpg"]);
    let facts = "[\"latch/canopy\"]\npull = { value = \"20 N\", evidence = \"evidence/a.jpg\" }\n\
        [\"hood/canopy\"]\npull = { value = \"20 N\", evidence = \"evidence/a.jpg\" }\n\
        [[\"hood/canopy\".catches]]\nname = \"left\"\nshut = true\n";
    let audit = read(facts).clean().audited("2026-06-01");
    assert_eq!(verdict(&audit, "latch/canopy.held"), Verdict::Met);
    assert_eq!(verdict(&audit, "hood/canopy.held"), Verdict::Unmet);
    assert_eq!(verdict(&audit, "hood/canopy.caught"), Verdict::Met);
    // Which of the two is meant nobody can guess.
    let short = read("canopy.pull = \"20 N\"\n");
    let message = short.only("fact::unknown");
    let help = message.help.as_deref().unwrap_or("");
    assert!(help.contains("\"hood/canopy\".pull or ") && help.contains("\"latch/canopy\".pull"), "{help}");
    let list = read("[[canopy.catches]]\nname = \"left\"\n");
    assert!(list.only("fact::unknown").message.contains("more than one pack"));
    let word = |item: &str| {
        format!("[[confirmed]]\nitem = \"{item}\"\nwho = \"Rosa Example\"\nrole = \"builder\"\non = 2026-05-01\n")
    };
    assert_eq!(read(&word("canopy.said")).codes(), ["record::two-items"]);
    let said = read(&word("hood/canopy.said")).clean().audited("2026-06-01");
    assert_eq!(verdict(&said, "hood/canopy.said"), Verdict::Met);
    assert_eq!(verdict(&said, "latch/canopy.said"), Verdict::NotShown);
    // The questions are those of the full names.
    let asked = read("").clean().audited("2026-06-01");
    assert!(asked.questions.iter().any(|question| question.fact == "latch/canopy.pull"), "{:?}", asked.questions);
}

#[test]
fn a11_a_name_is_short_where_only_one_pack_has_it() {
    let mut packs = strangers();
    packs.pop();
    let rules = come_out(&packs);
    assert!(rules.fact_by_name.contains_key("canopy.pull") && rules.list_by_name.contains_key("canopy.catches"));
}

#[test]
fn a11_a_pack_has_a_name_once_and_none_that_it_builds_on_has() {
    let twice = "fact canopy.pull : count ask \"?\"\n";
    let mut packs = strangers();
    packs.push(pack("third", &["latch"], twice));
    assert_eq!(codes(&refused(&packs).1), ["name::twice"]);
    // Of a pack that builds on both nobody knows which it means.
    let mut packs = strangers();
    packs.push(pack("both", &["latch", "hood"], &format!("item canopy.x \"t\" need canopy.pull >= 1 N {OWN}")));
    assert_eq!(codes(&refused(&packs).1), ["name::unknown"]);
    let mut packs = strangers();
    packs.push(pack("both", &["latch", "hood"], "set aside canopy.held because \"which?\""));
    assert_eq!(codes(&refused(&packs).1), ["name::twice"]);
    let mut packs = strangers();
    packs.push(pack("own", &["base"], &twice.repeat(2)));
    assert_eq!(codes(&refused(&packs).1), ["name::twice"]);
}

/// An item of a basis, set aside with these words by a pack of the builder's own: what it comes to, and why it stays.
fn aside(basis: &str, more: &str, words: &str) -> (Verdict, Vec<NotSetAside>) {
    let cite = if basis == "own" { "common practice" } else { "book, \"1\"" };
    let book = "source book \"A book\" number \"B-1\" edition \"2026\" issuer \"Nobody\" mark read\n";
    let base = mine(&format!(
        "{book}fact shed.width : length ask \"?\"
         item shed.door \"t\" need shed.width >= 2 in by visit basis {basis} cite {cite} {more}"
    ));
    let own = pack("own", &["mine"], &format!("set aside shed.door because \"I do not like it\" {words}"));
    let report = crate::lang::audited(&load(&[base, own]), "shed.width = \"1 in\"\n", "2026-06-01", None);
    let door = finding(&report, "mine/shed.door");
    let why = door.notes.iter().filter_map(|note| match note {
        Remark::NotSetAside(_, _, why) => Some(*why),
        _ => None,
    });
    (door.verdict, why.collect())
}

#[test]
fn a11_to_relax_an_item_takes_a_basis_at_least_as_binding() {
    assert_eq!(aside("law", "", ""), (Verdict::Unmet, vec![NotSetAside::BindsLess]));
    assert_eq!(aside("law", "", "basis limitations cite book, \"2\""), (Verdict::Unmet, vec![NotSetAside::BindsLess]));
    assert_eq!(aside("law", "", "basis law cite book, \"2\""), (Verdict::SetAside, vec![]));
    assert_eq!(aside("limitations", "", "basis law cite book, \"2\""), (Verdict::SetAside, vec![]));
    assert_eq!(
        aside("limitations", "", "basis advice cite book, \"2\""),
        (Verdict::Unmet, vec![NotSetAside::BindsLess])
    );
    assert_eq!(
        aside("handbook", "", "basis association cite book, \"2\""),
        (Verdict::Unmet, vec![NotSetAside::BindsLess])
    );
    assert_eq!(aside("own", "", ""), (Verdict::SetAside, vec![]));
}

#[test]
fn a11_and_a_citation_where_that_is_law_or_the_aircrafts_limitations() {
    assert_eq!(aside("law", "", "basis law"), (Verdict::Unmet, vec![NotSetAside::NotCited]));
    assert_eq!(aside("limitations", "", "basis limitations"), (Verdict::Unmet, vec![NotSetAside::NotCited]));
}

#[test]
fn a11_an_item_that_allows_no_concession_stays_open() {
    let all = "basis law cite book, \"2\"";
    assert_eq!(aside("law", "no concession stops the visit", all), (Verdict::Unmet, vec![NotSetAside::NoConcession]));
}

#[test]
fn a11_the_kits_own_instruction_cited_also_relaxes_advice_handbook_and_association() {
    for basis in ["advice", "handbook", "association"] {
        assert_eq!(aside(basis, "", "basis kit cite book, \"2\""), (Verdict::SetAside, vec![]), "{basis}");
        assert_eq!(aside(basis, "", "basis kit"), (Verdict::Unmet, vec![NotSetAside::BindsLess]), "{basis}, uncited");
    }
    assert_eq!(aside("law", "", "basis kit cite book, \"2\""), (Verdict::Unmet, vec![NotSetAside::BindsLess]));
}

#[test]
fn a11_every_amendment_silenced_with_it_is_named_and_what_it_asks_counts() {
    let own = |words: &str| pack("own", &["mine", "kit"], &format!("set aside shed.door because \"Not here\" {words}"));
    let kit = || pack("kit", &["mine"], "amend shed.door need shed.width >= 5 in basis kit cite common practice");
    let shed =
        || mine(&format!("fact shed.width : length ask \"?\" item shed.door \"t\" need shed.width >= 2 in {OWN}"));
    let judged = |words: &str| {
        let rules = load(&[shed(), kit(), own(words)]);
        let report = crate::lang::audited(&rules, "shed.width = \"1 in\"\n", "2026-06-01", None);
        let door = finding(&report, "mine/shed.door");
        let silenced = door.set_aside.iter().flat_map(|aside| aside.silenced.iter().map(ToString::to_string)).collect();
        (door.verdict, silenced)
    };
    assert_eq!(judged(""), (Verdict::Unmet, Vec::<String>::new()), "the kit's need binds more");
    assert_eq!(judged("basis kit"), (Verdict::SetAside, vec!["kit".to_owned()]));
}

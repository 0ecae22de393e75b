//! A2, A8: the ends of measures. Below absolute zero there is nothing, a limit
//! leaves its own end out, and what stands on both sides counts once.

use crate::fixtures::seed::with_dice;
use crate::fixtures::values::recorded;
use crate::lang::{OWN, codes, comes_out, file, header, load, mine, refused};
use cotterpin_engine::audit::Judge;
use cotterpin_engine::ir::ItemId;
use cotterpin_engine::project::{Record, Value, read};
use cotterpin_engine::quantity::{Date, Exact, ExactInterval, Quantity};
use cotterpin_engine::vocabulary::Verdict;

const WARM: &str = "fact shed.warm : temperature ask \"How warm?\" such as \"20 degC\"
fact shed.warmer : temperature-difference ask \"How much warmer?\" such as \"20 deltaC\"
fact shed.day : date ask \"When?\" such as \"2026-05-14\"\n";

#[test]
fn a8_a_temperature_on_a_scale_and_a_date_have_no_absolute() {
    for (of, than) in [("shed.warm", "20 degC"), ("shed.day", "2026-01-01"), ("shed.day + 3 months", "2026-01-01")] {
        let text = format!("{WARM}item shed.door \"t\" need absolute({of}) > {than} {OWN}");
        let (sources, messages) = refused(&[mine(&text)]);
        assert_eq!(codes(&messages), ["type::mismatch"], "{of}");
        assert_eq!(sources.text(messages[0].labels[0].span), of);
    }
    comes_out(
        WARM,
        "absolute(shed.warm - 20 degC) <= 5 deltaC and absolute(shed.day - 2026-01-01) <= 2 days",
        "try \"near\" shed.warm = 16 degC, shed.day = 2025-12-30 => met
         try \"far\" shed.warm = 14 degC, shed.day = 2025-12-30 => unmet",
    );
}

/// 0 K is -273.15 °C and -459.67 °F: NIST SP 811 (2008), section 4.2.1.1 and appendix B.8.
const COLD: [(&str, bool); 14] = [
    ("-273.15 degC", true),
    ("-273.16 degC", false),
    ("-459.67 degF", true),
    ("-459.68 degF", false),
    ("0 K", true),
    ("-1 K", false),
    ("-270 degC ± 3.15 degC", true),
    ("-270 degC ± 3.16 degC", false),
    ("-273.15 degC ± 0.01 deltaC", false),
    ("-273.16 degC to 20 degC", false),
    ("-273.15 degC to 20 degC", true),
    ("at least -274 degC", false),
    ("at most -274 degC", false),
    ("at most 20 degC", true),
];

#[test]
fn a8_nothing_is_below_absolute_zero() {
    for (text, can_be) in COLD {
        let read = Quantity::parse(text);
        assert_eq!(read.is_ok(), can_be, "{text}");
        if let Err(error) = read {
            assert!(error.impossible && error.message.contains("below absolute zero"), "{error}");
            assert_eq!(text.get(error.at.clone()), Some(text));
        }
    }
    // A difference may be as great as it likes.
    assert!(Quantity::parse("-500 deltaC").is_ok());
}

#[test]
fn a8_a_builder_who_writes_less_than_absolute_zero_is_told_where() {
    let rules = load(&[mine(&format!("{WARM}item shed.door \"t\" need shed.warm < 30 degC {OWN}"))]);
    for (text, can_be) in COLD {
        let line = format!("[shed]\nwarm = \"{text}\"\n");
        let (record, messages) = read(&[file("facts.toml", &line)], &[], &header(None), &rules, rules.sources.clone());
        assert_eq!(messages.is_empty(), can_be, "{text}");
        assert_eq!(record.facts.len(), usize::from(can_be), "{text}");
        for message in &messages {
            assert_eq!(message.code, "value::impossible", "{message:#?}");
            assert_eq!(record.sources.text(message.labels[0].span), text);
        }
    }
}

#[test]
fn a8_a_pack_that_writes_less_than_absolute_zero_is_told_where() {
    for wrong in ["-300 degC", "-460 degF", "-1 K", "-270 degC ± 4 degC"] {
        let text = format!("{WARM}item shed.door \"t\" need shed.warm > {wrong} {OWN}");
        let (sources, messages) = refused(&[mine(&text)]);
        assert_eq!(codes(&messages), ["value::impossible"], "{wrong}");
        assert_eq!(sources.text(messages[0].labels[0].span), wrong);
    }
}

const DIVIDED: &str = "fact shed.load : mass ask \"?\" such as \"3 lb\"
fact shed.arm : length, above 0 in ask \"?\" such as \"3 in\"
fact shed.hang : length, below 0 in ask \"?\" such as \"-3 in\"\n";

/// What is left open of a value goes as far as the limit, and never to it.
#[test]
fn a2_a_limit_leaves_its_own_end_out_of_a_divisor() {
    for (need, given, verdict) in [
        ("shed.load / shed.arm >= 2 lb/in", "shed.load = 6 lb, shed.arm = at most 3 in", "met"),
        ("shed.load / shed.arm < 2 lb/in", "shed.load = 6 lb, shed.arm = at most 3 in", "unmet"),
        ("shed.load / shed.arm > 2 lb/in", "shed.load = 6 lb, shed.arm = at most 3 in", "not-shown"),
        ("shed.load / shed.arm <= 100 lb/in", "shed.load = 6 lb, shed.arm = at most 3 in", "not-shown"),
        ("shed.load / shed.arm <= -2 lb/in", "shed.load = -6 lb, shed.arm = at most 3 in", "met"),
        ("shed.load / shed.arm is 0 lb/in", "shed.load = 0 lb, shed.arm = at most 3 in", "met"),
        ("shed.load / shed.arm >= 0 lb/in", "shed.load = 0 lb to 5 lb, shed.arm = at most 3 in", "met"),
        ("shed.load / shed.arm >= 0 lb/in", "shed.load = -1 lb to 1 lb, shed.arm = at most 3 in", "not-shown"),
        ("shed.load / shed.arm > 0 lb/in", "shed.load = 6 lb, shed.arm = at least 3 in", "not-shown"),
        ("shed.load / shed.arm <= 2 lb/in", "shed.load = 6 lb, shed.arm = at least 3 in", "met"),
        ("shed.load / shed.hang <= -2 lb/in", "shed.load = 6 lb, shed.hang = at least -3 in", "met"),
        ("shed.load / (shed.arm * 2) >= 1 lb/in", "shed.load = 6 lb, shed.arm = at most 3 in", "met"),
        ("shed.load / (shed.arm * shed.arm) >= 0.6 lb/in2", "shed.load = 6 lb, shed.arm = at most 3 in", "met"),
        ("shed.load / shed.arm >= 2 lb/in", "shed.load = 6 lb", "not-shown"),
    ] {
        comes_out(DIVIDED, need, &format!("try \"divided\" {given} => {verdict}"));
    }
    // A project says it as an example does.
    let rules = comes_out(DIVIDED, "shed.load / shed.arm >= 2 lb/in", "try \"none known\" => not-shown");
    let text = "[shed]\nload = \"6 lb\"\narm = \"at most 3 in\"\n";
    assert_eq!(
        crate::lang::verdict(&crate::lang::audited(&rules, text, "2026-06-01", None), "mine/shed.door"),
        Verdict::Met
    );
}

#[test]
fn a2_a_mean_is_no_divisor_where_a_weight_can_be_below_zero() {
    let list = |limit: &str| {
        format!(
            "{DIVIDED}list shed.loads ask \"?\" field arm : length, above 0 in ask \"?\" field mass : mass{limit} ask \"?\"
               field name : text ask \"?\" named by name
             item shed.door \"t\"
               need shed.load / (mean of r.arm weighted by r.mass for r in shed.loads) >= 1 lb/in {OWN}"
        )
    };
    load(&[mine(&list(", at least 0 lb"))]);
    let (_, messages) = refused(&[mine(&list(""))]);
    assert_eq!(codes(&messages), ["division::zero"]);
}

/// Of `|x - y| <= p |y|` over a box of values: a function made of planes takes
/// its least and its greatest value in a corner of one of them.
fn within(x: &[Exact; 2], y: &[Exact; 2], share: &Exact) -> Verdict {
    let inside = |value: &Exact, [low, high]: &[Exact; 2]| low <= value && value <= high;
    let zero = Exact::zero();
    let mut corners: Vec<(Exact, Exact)> = Vec::new();
    for along in x {
        corners.extend(y.iter().chain([&zero, along]).map(|up| (along.clone(), up.clone())));
    }
    corners.extend(y.iter().map(|up| (up.clone(), up.clone())));
    corners.push((zero.clone(), zero));
    corners.retain(|(along, up)| inside(along, x) && inside(up, y));
    let holds = |(x, y): &(Exact, Exact)| x.sub(y).abs() <= share.mul(&y.abs());
    let held = corners.iter().filter(|corner| holds(corner)).count();
    match held {
        0 => Verdict::Unmet,
        all if all == corners.len() => Verdict::Met,
        _ => Verdict::NotShown,
    }
}

#[test]
fn a2_within_a_share_is_never_wrong_and_as_narrow_as_can_be() {
    const SHARES: [i64; 8] = [0, 3, 10, 50, 99, 100, 101, 250];
    const LIMITS: [&str; 4] = ["", ", at least 0 in", ", below 0 in", ", above 0 in"];
    let mut text = "fact shed.x : length ask \"?\"\n".to_owned();
    for (n, limit) in LIMITS.iter().enumerate() {
        text.push_str(&format!("fact shed.y{n} : length{limit} ask \"?\"\n"));
        for share in SHARES {
            text.push_str(&format!(
                "item shed.by{n}-{share} \"t\" need shed.x is within {share} % of shed.y{n} {OWN}\n                 item shed.minus{n}-{share} \"t\" need shed.x is within -{share} % of shed.y{n} {OWN}\n"
            ));
        }
    }
    let rules = load(&[mine(&text)]);
    with_dice(&[], |dice| {
        let mut found = [0u32; 3];
        for _ in 0..400 {
            let mut set = |low: i64, high: i64| {
                let first = dice.between(low, high);
                let second = if dice.once_in(3) { first } else { dice.between(first, high.min(first + 8)) };
                // Some of these have no exact double.
                [first, second].map(|n| Exact::ratio(n, 10).expect("not zero"))
            };
            let x = set(-30, 30);
            let ys = [set(-30, 30), set(0, 30), set(-30, -1), set(1, 30)];
            let mut record = Record::default();
            let mut give = |name: &str, [low, high]: &[Exact; 2]| {
                let value = Value::Number(ExactInterval::new(Some(low.clone()), Some(high.clone())));
                record.facts.insert(rules.fact_by_name[name], recorded(value, None));
            };
            give("shed.x", &x);
            for (n, y) in ys.iter().enumerate() {
                give(&format!("shed.y{n}"), y);
            }
            let judge = Judge::new(&rules, &record, Date::parse("2026-06-01").expect("a date"));
            for (n, item) in rules.items.iter().enumerate() {
                let (y, share) = (&ys[n / (2 * SHARES.len())], SHARES[n / 2 % SHARES.len()]);
                let wanted = within(&x, y, &Exact::ratio(share, 100).expect("not zero"));
                let got = judge.judge(ItemId::new(n))[0].verdict;
                assert_eq!(got, wanted, "{}: {x:?} within {share} % of {y:?}", item.name);
                found[usize::from(got == Verdict::Met) + 2 * usize::from(got == Verdict::Unmet)] += 1;
            }
        }
        println!("{found:?} open, within, beyond");
        assert!(found.iter().all(|times| *times > 500), "{found:?}");
    });
}

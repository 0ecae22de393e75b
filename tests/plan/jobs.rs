//! Where jobs come from, and what each says of itself.

use super::{at, day, id, job, names, project};
use cotterpin_engine::audit::REMINDER;
use cotterpin_engine::ir::Id;
use cotterpin_engine::plan::{JobKind, TimeSource};
use cotterpin_engine::report::{next_json, next_text};
use cotterpin_engine::vocabulary::Verdict;

/// What ends an item here.
const END: &str = "basis own cite common practice";

fn doors() -> String {
    format!(
        "list shed.doors ask \"Each door\" field name : text ask \"Which\" field width : length ask \"How wide\" named by name
         fact shed.light : yes or no ask \"Is it on?\"
         item shed.light \"The light is on\" need shed.light by visit zone cabin {END} takes 20 min
         item shed.door for each door in shed.doors \"The door is wide enough\" need door.width >= 2 in
           by visit zone tail {END} after shed.light takes 15 min
         item shed.hung for each door in shed.doors \"The door is hung\" need door.width >= 3 in
           by first-flight zone tail {END} after shed.door stops the visit"
    )
}

const NARROW: &str = "[shed]\nlight = false\n[[shed.doors]]\nname = \"left\"\nwidth = \"1 in\"\n\
    [[shed.doors]]\nname = \"right\"\nwidth = \"1 in\"\n[[shed.doors]]\nname = \"back\"\nwidth = \"4 in\"\n";

#[test]
fn findings_of_one_item_are_one_job_with_its_records() {
    let plan = project(&doors(), "visit = 2026-12-10", NARROW).plan();
    assert_eq!(names(&plan), ["shed/shed.light", "shed/shed.door", "shed/shed.hung"]);
    let door = job(&plan, "shed/shed.door");
    assert_eq!(door.subjects, ["left", "right"], "the third is wide enough");
    assert_eq!((door.takes.minutes, door.takes.said), (30, TimeSource::Pack), "a quarter of an hour for each record");
    assert_eq!(door.kind, JobKind::Finding(Verdict::Unmet));
    assert_eq!(door.due.as_ref().and_then(|due| due.day), Some(day("2026-12-10")));
    assert_eq!((door.after.as_slice(), door.blocks), (&[id(0)][..], 1));
    let hung = job(&plan, "shed/shed.hung");
    assert_eq!((hung.takes.minutes, hung.takes.said), (60, TimeSource::Assumed));
    assert!(hung.stops_the_visit && hung.due.as_ref().is_some_and(|due| due.day.is_none()));
}

#[test]
fn what_is_met_or_conceded_is_no_job_and_nothing_waits_for_it() {
    let conceded = "[[concession]]\nitem = \"shed.light\"\nreason = \"the lamp is ordered\"\ngranted_by = \"Rosa Example\"\n\
        role = \"builder\"\non = 2026-11-01\nuntil = 2027-01-01\n";
    for facts in [NARROW.replace("light = false", "light = true"), format!("{NARROW}{conceded}")] {
        let plan = project(&doors(), "", &facts).plan();
        assert_eq!(names(&plan), ["shed/shed.door", "shed/shed.hung"]);
        assert!(job(&plan, "shed/shed.door").after.is_empty());
    }
}

#[test]
fn the_builder_s_word_on_one_record_makes_it_a_job_of_its_own() {
    let said = "[[job]]\nabout = \"shed/shed.door\"\nof = \"left\"\ntakes = \"2 h ± 30 min\"\nzone = \"cabin\"\nby = \"close\"\n\
        waits = { for = \"hinge\", ordered = 2026-11-02, expected = 2026-12-01 }\n";
    let plan = project(&doors(), "closing = { cabin = 2026-11-28 }", &format!("{NARROW}{said}")).plan();
    let of = |name: &str, subject: &str| {
        plan.jobs.position(|job| job.name == name && job.subjects == [subject]).expect("the job")
    };
    let left = at(&plan, of("shed/shed.door", "left"));
    assert_eq!((left.takes.minutes, left.takes.said), (150, TimeSource::Builder), "the most it can be");
    assert_eq!((left.zone.as_deref(), left.closes), (Some("cabin"), Some(day("2026-11-28"))));
    assert_eq!(left.due.as_ref().map(|due| (due.by.as_str(), due.day)), Some(("close", left.closes)));
    assert!(left.part.as_ref().is_some_and(|part| part.awaited && part.expected == Some(day("2026-12-01"))));
    let right = at(&plan, of("shed/shed.door", "right"));
    assert_eq!((right.takes.minutes, right.zone.as_deref()), (15, Some("tail")));
    // What waits comes apart, and so does what waits for it.
    assert!(of("shed/shed.door", "right").index() < plan.ready && of("shed/shed.door", "left").index() >= plan.ready);
}

#[test]
fn jobs_of_one_record_wait_for_those_of_the_same_record() {
    let said = "[[job]]\nabout = \"shed.hung\"\nof = \"left\"\ntakes = \"1 h\"\n[[job]]\nabout = \"shed.door\"\nof = \"left\"\ntakes = \"1 h\"\n";
    let plan = project(&doors(), "", &format!("{NARROW}{said}")).plan();
    for subject in ["left", "right"] {
        let of = |name: &str| plan.jobs.position(|job| job.name == name && job.subjects == [subject]);
        let hung = of("shed/shed.hung").expect("a job");
        assert_eq!(at(&plan, hung).after, of("shed/shed.door").into_iter().collect::<Vec<_>>());
    }
}

#[test]
fn a_part_is_waited_for_until_the_day_it_is_expected() {
    let said = |expected: &str| {
        let said = format!("[[job]]\nabout = \"shed.light\"\nwaits = {{ for = \"lamp\"{expected} }}\n");
        project(&doors(), "", &format!("{NARROW}{said}")).plan()
    };
    let waits =
        |plan: &cotterpin_engine::plan::Plan| job(plan, "shed/shed.light").part.as_ref().map(|part| part.awaited);
    assert_eq!(waits(&said(", expected = 2026-11-26")), Some(true));
    assert_eq!(waits(&said(", expected = 2026-11-25")), Some(false));
    assert_eq!(waits(&said(", expected = \"2026-11\"")), Some(true), "some day of November may be the last");
    assert_eq!(waits(&said("")), Some(true));
    // What is waited for may be a part, a paper or a person.
    for (expected, words) in [
        (", expected = 2026-11-20", "It waited for lamp: expected by Friday 20 November 2026. Is the wait over?"),
        (", expected = 2026-11-27", "It waits for lamp: expected by Friday 27 November 2026, in 2 days."),
        ("", "It waits for lamp; nobody wrote down when that is expected."),
    ] {
        let text = next_text(&said(expected), 80);
        let line = text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(line.contains(words) && !line.contains("a part"), "{text}");
    }
}

const SNAGS: &str = "list log.snags ask \"Each snag\" field snag : text ask \"Number\" field part : text ask \"Part\"
      field cleared : optional date ask \"When\" field due : optional text ask \"By\" named by snag
    item snags.cleared for each snag in log.snags \"The snag is cleared\" need snag.cleared is not none
      by visit stops the visit basis own cite common practice";

fn snag(event: &str, number: u32, day: &str, more: &str) -> String {
    format!(
        "[[log]]\non = {day}\nwhat = \"snag {event}\"\nsubject = \"tail.hinge\"\nwho = \"rosa\"\nsnag = {number}\n{more}"
    )
}

#[test]
fn a_snag_is_one_job_whatever_the_packs_say_of_it() {
    let log = [
        snag("found", 14, "2026-11-02", "takes = \"45 min\"\nnote = \"Split pin too short\"\n"),
        snag("found", 15, "2026-11-03", ""),
        snag("cleared", 15, "2026-11-04", ""),
        snag("found", 16, "2026-11-26", ""),
    ]
    .concat();
    let plan = project(SNAGS, "", &log).plan();
    assert_eq!(names(&plan), ["snag 14"], "cleared ones and those of tomorrow are none");
    let one = job(&plan, "snag 14");
    assert_eq!((one.title.as_str(), one.kind), ("Split pin too short", JobKind::Snag));
    assert_eq!((one.takes.minutes, one.zone.as_deref()), (45, Some("tail")));
    assert!(one.stops_the_visit && one.due.as_ref().is_some_and(|due| due.by == "visit"));
    // Without any pack that speaks of snags it is there as well.
    assert_eq!(names(&project("", "", &log).plan()), ["snag 14"]);
}

#[test]
fn a_job_of_the_builder_s_own_stays_until_it_is_done() {
    let said = |done: &str| {
        let own = format!("[[job]]\nabout = \"own: wheel spats\"\ntitle = \"Fit the wheel spats\"\n{done}");
        let other = "[[job]]\nabout = \"own: taxi\"\nafter = \"own: wheel spats\"\n";
        project("", "", &format!("{own}{other}")).plan()
    };
    let plan = said("");
    assert_eq!(names(&plan), ["own: wheel spats", "own: taxi"]);
    assert_eq!(at(&plan, id(0)).title, "Fit the wheel spats");
    assert_eq!(at(&plan, id(1)).after, [id(0)]);
    assert_eq!(names(&said("done = 2026-11-26\n")), ["own: wheel spats", "own: taxi"], "tomorrow is not done yet");
    let plan = said("done = 2026-11-25\n");
    assert_eq!(names(&plan), ["own: taxi"]);
    assert!(at(&plan, id(0)).after.is_empty());
}

#[test]
fn a_circle_is_shown_and_its_jobs_stay() {
    let said = "[[job]]\nabout = \"own: a\"\nafter = [\"own: b\"]\n[[job]]\nabout = \"own: b\"\nafter = [\"own: a\"]\n\
        [[job]]\nabout = \"own: c\"\nafter = [\"own: b\"]\n";
    let plan = project("", "", said).plan();
    assert_eq!((plan.jobs.len(), plan.ready), (3, 0));
    let text = next_text(&plan, 80).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("own: a waits for own: b waits for own: a"), "{text}");
}

#[test]
fn an_empty_project_has_no_jobs_and_the_last_word_all_the_same() {
    let plan = project("", "", "").plan_for(Some(180));
    assert!(plan.jobs.is_empty() && plan.chain.is_none());
    assert_eq!(plan.sitting.as_ref().map(|sitting| sitting.jobs.len()), Some(0));
    let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words(&next_text(&plan, 80)).ends_with(REMINDER));
    assert!(next_json(&plan, &[]).contains(REMINDER));
}

#[test]
fn where_everything_waits_nothing_is_offered() {
    let said = "[[job]]\nabout = \"own: a\"\nby = \"visit\"\nwaits = { for = \"seal\", expected = 2026-12-01 }\n\
        [[job]]\nabout = \"own: b\"\nby = \"visit\"\nafter = \"own: a\"\n";
    let plan = project("", "visit = 2026-12-03", said).plan_for(Some(600));
    assert_eq!((plan.ready, plan.jobs.len()), (0, 2));
    let text = next_text(&plan, 80).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("No open job can be begun today."), "{text}");
    // Six days to the part; nobody said how long the two take, so no time is counted for them.
    let chain = plan.chain.expect("both are due by the visit");
    assert_eq!((chain.days, chain.days_left, chain.minutes, chain.without_time), (6, Some(8), 0, 2));
    assert!(chain.begins_with_part);
}

#[test]
fn a_chain_that_no_longer_fits_is_said_plainly() {
    let said = "[[job]]\nabout = \"own: a\"\nby = \"visit\"\ntakes = \"5 h\"\n[[job]]\nabout = \"own: b\"\nby = \"visit\"\n\
        after = \"own: a\"\ntakes = \"2 h\"\n[[job]]\nabout = \"own: c\"\nby = \"first-flight\"\ntakes = \"100 h\"\n";
    let text = |header: &str| {
        let plan = project("", header, said).plan();
        (plan.chain.as_ref().map(|chain| (chain.days, chain.all_jobs)), next_text(&plan, 80).replace("\n", " "))
    };
    let (chain, words) = text("visit = 2026-11-27\n[shed]\nhours-per-day = 2.5");
    assert_eq!(chain, Some((3, 2)), "7 h at 2.5 h a day; what is due later is not in it");
    assert!(words.contains("The chain does not fit: it needs 3 days, and the visit leaves 2 days."), "{words}");
    let (chain, words) = text("visit = 2026-11-28");
    assert_eq!(chain, Some((3, 2)), "3 h a day where nobody said");
    assert!(words.contains("it fits: the visit leaves 3 days."), "{words}");
    let (_, words) = text("visit = 2026-11-25");
    assert!(words.contains("The visit leaves no working day."), "{words}");
}

#[test]
fn what_closes_first_comes_first() {
    let said = "[[job]]\nabout = \"own: a\"\nzone = \"cabin\"\nby = \"visit\"\n[[job]]\nabout = \"own: b\"\nzone = \"tail\"\nby = \"first-flight\"\n";
    let plan = project("", "visit = 2026-12-10\n[closing]\ntail = 2026-12-05", said).plan();
    assert_eq!(names(&plan), ["own: b", "own: a"]);
    let text = next_text(&plan, 80).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("Tail closes on Saturday 5 December 2026, in 10 days."), "{text}");
    assert!(text.contains("Due before the inspector's visit, Thursday 10 December 2026, in 15 days."), "{text}");
}

#[test]
fn a_hold_point_without_a_day_comes_before_the_next_that_has_one() {
    let said = "[[job]]\nabout = \"own: a\"\nby = \"visit\"\n[[job]]\nabout = \"own: b\"\nby = \"close\"\n";
    let plan = project("", "visit = 2026-12-10", said).plan();
    let due = job(&plan, "own: b").due.clone().expect("a hold point");
    assert_eq!((due.day, due.then), (None, Some(("visit".to_owned(), day("2026-12-10")))));
    assert_eq!(job(&plan, "own: b").last_day(), job(&plan, "own: a").last_day());
    assert_eq!(names(&plan), ["own: b", "own: a"], "of those alike the earlier hold point comes first");
    let text = next_text(&plan, 80).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("no day is planned, and so at the latest before the inspector's visit"), "{text}");
}

#[test]
fn reports_keep_to_the_width() {
    let plan = project(&doors(), "visit = 2026-12-10", NARROW).plan_for(Some(60));
    for width in [40, 80] {
        let text = next_text(&plan, width);
        assert!(text.lines().all(|line| line.chars().count() <= width), "{text}");
    }
}

//! A fact that is none until a hold point: what would not apply if it were none is left out while the day is ahead, and
//! nothing is ever met or unmet by it.

use crate::fixtures::values::day;
use crate::lang::{OWN, audited, audited_with, finding, header, load, mine, nowhere, verdict};
use cotterpin_engine::audit::{Audit, MissingCause, Notice, Remark};
use cotterpin_engine::ir::Rules;
use cotterpin_engine::vocabulary::Verdict::{Met, NotApplicable, NotShown, Unmet};

const ON: &str = "2026-06-01";
const VISIT: Option<&str> = Some("2026-06-20");

fn rules() -> Rules {
    load(&[mine(&format!(
        "fact shed.issued : optional date none until visit ask \"Day of the paper, or none before it is issued\"
         fact shed.ends : optional date ask \"Its last day, or none\"
         fact other.kept : yes or no ask \"Is it kept?\"
         systems other \"Others\"
         item shed.service \"It is looked after\" when shed.issued is not none need other.kept is yes {OWN}
         item shed.first \"It is ready\" when shed.issued is none need other.kept is yes {OWN}
         item shed.paper \"It is issued\" need shed.issued <= today {OWN}
         item shed.denied \"It is not issued\" need shed.issued is none {OWN}"
    ))])
}

fn taken() -> Remark {
    Remark::NoneUntil("shed.issued".into(), "2026-06-20".into())
}

#[test]
fn what_would_not_apply_is_left_out_and_says_why() {
    let audit = audited(&rules(), "", ON, VISIT);
    let service = finding(&audit, "mine/shed.service");
    assert_eq!((service.verdict, service.notes.as_slice()), (NotApplicable, &[taken()][..]));
    assert_eq!(audit.notices, [Notice::NoneUntil("shed.issued".into(), "2026-06-20".into(), 1)]);
    let text = cotterpin_engine::report::text(&audit, 200);
    let told = "Nobody has recorded `shed.issued`. It is taken as none until 2026-06-20, and for that 1 finding does not apply.";
    assert!(text.contains(told), "{text}");
}

#[test]
fn nothing_is_met_or_unmet_by_it_and_the_question_stays() {
    for facts in ["", "[other]\nkept = true\n", "[other]\nkept = false\n"] {
        let audit = audited(&rules(), facts, ON, VISIT);
        for item in ["mine/shed.first", "mine/shed.paper", "mine/shed.denied"] {
            let open = finding(&audit, item);
            // What holds whether it applies or not needs no paper.
            let holds = item == "mine/shed.first" && facts.contains("true");
            assert_eq!(open.verdict, if holds { Met } else { NotShown }, "{item} {facts}");
            assert_eq!(open.notes, [], "{item}");
        }
        let paper = finding(&audit, "mine/shed.paper");
        assert_eq!(
            (paper.missing[0].fact.as_str(), &paper.missing[0].why),
            ("shed.issued", &MissingCause::NotRecorded)
        );
        assert!(audit.questions.iter().any(|question| question.fact == "shed.issued"));
    }
}

fn service(audit: &Audit) -> (cotterpin_engine::vocabulary::Verdict, bool) {
    (verdict(audit, "mine/shed.service"), finding(audit, "mine/shed.service").notes.contains(&taken()))
}

#[test]
fn what_is_recorded_goes_before() {
    let rules = rules();
    let not_kept = "[other]\nkept = false\n";
    let with = |text: &str| audited(&rules, &format!("{not_kept}{text}"), ON, VISIT);
    assert_eq!(service(&with("[shed]\nissued = 2026-05-01\n")), (Unmet, false));
    assert_eq!(service(&with("[shed]\nissued = \"none\"\n")), (NotApplicable, false));
    // A paper with a last day is issued, on whatever day.
    assert_eq!(service(&with("[shed]\nends = 2027-05-01\n")), (NotShown, false));
    assert_eq!(service(&with("[shed]\nends = \"none\"\n")), (NotShown, false));
}

#[test]
fn it_lasts_to_the_planned_day_and_no_longer() {
    let rules = rules();
    assert_eq!(service(&audited(&rules, "", "2026-06-20", VISIT)), (NotApplicable, true));
    assert_eq!(service(&audited(&rules, "", "2026-06-21", VISIT)), (NotShown, false));
    assert_eq!(service(&audited(&rules, "", ON, None)), (NotShown, false));
    // Of a month the last day may be it.
    let month = audited(&rules, "", "2026-06-30", Some("2026-06"));
    assert_eq!(verdict(&month, "mine/shed.service"), NotApplicable);
    assert_eq!(verdict(&audited(&rules, "", "2026-07-01", Some("2026-06")), "mine/shed.service"), NotShown);
}

/// Who has flown has the paper: this is another visit.
#[test]
fn a_later_hold_point_that_has_passed_speaks_against_it() {
    let mut header = header(VISIT);
    header.planned.insert("flight".into(), (day("2026-05-31"), nowhere()));
    assert_eq!(service(&audited_with(&rules(), "", ON, &header)), (NotShown, false));
    header.planned.insert("flight".into(), (day("2026-06-30"), nowhere()));
    assert_eq!(service(&audited_with(&rules(), "", ON, &header)), (NotApplicable, true));
}

//! Packs from bytes, twenty facts, a list, an audit, a change: the program of the first page.

#![expect(clippy::print_stdout, reason = "an example shows what it does")]

use cotterpin::{Entry, Options, Pack, Project, Rules, Session, Value, Verdict};
use std::error::Error;

const PACK: &str = "name='shed'\ntitle='Shed'\nedition='1'\nauthority='none'\nscope='an example'";
const RULES: &str = r#"
    hold-points  visit "Before the visit"
    systems      fuel "Fuel"  cabin "Cabin"
    roles        builder "Builder"
    fact cabin.latches : count ask "How many catches has the canopy?"
    fact cabin.seats : count ask "How many seats are there?"
    fact cabin.placard : yes or no ask "Is the placard on the panel?"
    fact cabin.belt_end : length ask "How far does the belt's end stand out?"
    fact cabin.belt_bolt : torque ask "How tight is the belt's bolt?"
    fact cabin.door_gap : length ask "How wide is the gap of the door?"
    fact engine.oil : volume ask "How much oil is in it?"
    fact engine.idle : frequency ask "How fast does it idle?"
    fact engine.static : frequency ask "How fast does it turn when held?"
    fact engine.compression : pressure ask "What is the lowest compression?"
    fact engine.mount_bolts : count ask "How many bolts hold the mount?"
    fact engine.cowl_gap : length ask "How far is the cowl from the hose?"
    fact electrical.battery : voltage ask "What does the battery have?"
    fact electrical.drop : voltage ask "What is lost on the wire of the pump?"
    fact electrical.load : current ask "What do all lamps take?"
    fact electrical.fuse : current ask "What does their fuse carry?"
    fact wheels.left : pressure ask "What has the left tyre?"
    fact wheels.right : pressure ask "What has the right tyre?"
    fact papers.serial : text ask "What serial number is on the plate?"
    fact papers.applied : date ask "When was it applied for?"
    list fuel.tanks ask "Which tanks are there?"
      field name   : text   ask "Which?"
      field usable : volume ask "How much of it can be used?"
      named by name
    item cabin.latch "The canopy has a second catch"
      need cabin.latches >= 2   by visit   basis own   cite common practice
    item fuel.reserve "An hour of fuel is left"
      need sum of tank.usable for tank in fuel.tanks >= 20 L   by visit   basis own   cite common practice
"#;
const BROKEN: &str = "item cabin.latch \"The canopy has a second catch\"\n  need cabin.latches >= two";

fn recorded() -> [(&'static str, Value); 20] {
    [
        ("cabin.latches", 1.into()),
        ("cabin.seats", 2.into()),
        ("cabin.placard", true.into()),
        ("cabin.belt_end", "4.5 in".into()),
        ("cabin.belt_bolt", "70 lbf-in ± 3 lbf-in".into()),
        ("cabin.door_gap", "2 mm".into()),
        ("engine.oil", "3.2 L".into()),
        ("engine.idle", "780 rpm".into()),
        ("engine.static", "2250 rpm".into()),
        ("engine.compression", "74 psi".into()),
        ("engine.mount_bolts", 4.into()),
        ("engine.cowl_gap", "12 mm".into()),
        ("electrical.battery", "12.7 V".into()),
        ("electrical.drop", "0.3 V".into()),
        ("electrical.load", "6.2 A".into()),
        ("electrical.fuse", "10 A".into()),
        ("wheels.left", "24 psi".into()),
        ("wheels.right", "24 psi".into()),
        ("papers.serial", "0107".into()),
        ("papers.applied", "2026-10-04".into()),
    ]
}

fn main() -> Result<(), Box<dyn Error>> {
    let rules = Rules::new([Pack::new("shed", PACK, [("shed.checklist", RULES)])])?;
    let mut project = Project::new("Nosuch 2", &rules);
    project.set_person("rosa", "Rosa Example", &["builder"])?;
    for (fact, value) in recorded() {
        project.set(fact, value)?;
    }
    for (tank, usable) in [("left", "11 L"), ("right", "10.5 L ± 0.2 L")] {
        project.add(&Entry::record("fuel.tanks").with("name", tank).with("usable", usable))?;
    }
    let all = Entry::whole("fuel.tanks").with("records", ["left", "right"]);
    project.add(&all.with("who", "rosa").with("on", "2026-11-20"))?;

    let mut session = Session::new(project, &Options::on("2026-11-25")?.by("visit"))?;
    for finding in session.audit()?.findings {
        println!("{}: {}", finding.item, finding.verdict.word());
    }
    for changed in session.set("cabin.latches", 2)? {
        let (before, now) = (changed.before.ok_or("new")?, changed.now.ok_or("gone")?);
        assert_eq!((before.verdict, now.verdict), (Verdict::Unmet, Verdict::Met));
        println!("{}: now {}, {:?}", now.item, now.verdict.word(), now.because);
    }
    if let Err(wrong) = session.set("cabin.latches", "2 lb") {
        println!("{wrong}"); // what is wrong, where, and what to do
    }
    if let Err(broken) = Rules::new([Pack::new("shed", PACK, [("shed.checklist", BROKEN)])]) {
        println!("{broken}");
    }
    Ok(())
}

//! The surface for those who embed the engine.

mod changes;
mod many;
mod public;
mod said;
mod taken;
mod wrong;

/// A pack of everything that a change can bear on.
const RULES: &str = r#"
source order
  "An invented order" number "1" edition "2026" issuer "nobody" mark read
hold-points
  visit "Before the visit"
  first-flight "Before the first flight"
systems
  cabin "Cabin"
  fuel "Fuel"
  log "The log"
zones
  tail "Tail"
  nose "Nose"
roles
  builder "The builder" may concede (other)
  adviser "An adviser" never signs other than builder
  inspector "The inspector" may concede (law, advice, other)
evidence
  photo "A photograph"
subjects
  fuel.tank "The tank" zone nose
  cabin.seat "The seat" zone tail can be left off
  cabin.belt "The belt" zone tail
disturbing fuel.tank also disturbs cabin.belt
choice colour : red or green or blue
list measuring.equipment
  ask "Each instrument"
  field name : text ask "Its name"
  field calibrated_from : optional date ask "From when"
  field calibrated_until : optional date ask "Until when"
  named by name
fact cabin.width : length ask "How wide?"
fact cabin.seats : count, at most 4 ask "How many seats?"
fact cabin.paint : colour ask "Which colour?"
fact cabin.clean : yes or no ask "Is it clean?"
fact cabin.signed_by : person ask "Who signed?"
fact cabin.placard : optional text ask "What does it say?"
fact fuel.pull : force, above 0 lbf
  of fuel.tank
  ask "How strong?"
fact fuel.leak : optional force
  of fuel.tank
  ask "How much?"
fact fuel.tested : date ask "When?"
list fuel.tanks
  of fuel.tank
  ask "Which tanks?"
  field name : text ask "Which?"
  field usable : volume, at least 0 L ask "How much?"
  field strap : force of its part ask "How tight?"
  named by name
list cabin.belts
  of cabin.belt
  ask "Which belts?"
  field name : text ask "Which?"
  field pull : force of its part ask "How strong?"
  named by name
  many alike
list log.snags
  ask "Each snag in the log"
  field snag    : text           ask "Its number"
  field part    : text           ask "The part"
  field found   : date           ask "When it was found"
  field cleared : optional date  ask "When it was cleared, or none"
  field due     : optional text  ask "The hold point by which it must be cleared"
  field zone    : optional text  ask "Where"
  field note    : optional text  ask "What is to be done"
  named by snag
item cabin.wide
  "Wide enough"
  need cabin.width >= 20 in
  by visit
  basis own
  cite common practice
item cabin.two
  "Two seats"
  when cabin.clean
  need cabin.seats is 2
  by visit
  basis kit
  cite common practice
item cabin.red
  "Red or green"
  need cabin.paint is one of red, green
  by first-flight
  basis own
  cite common practice
item cabin.said
  "Somebody else signed"
  need cabin.signed_by is somebody other than builder
  by visit
  basis own
  cite common practice
item cabin.words
  "The placard says it"
  need cabin.placard is "NO STEP"
  by visit
  basis own
  cite common practice
item fuel.strong
  "Strong"
  need fuel.pull >= 50 lbf
  by visit
  basis law
  no concession
  stops the visit
  cite order, "1"
item fuel.tight
  "No leak"
  need fuel.leak is none or fuel.leak <= 1 lbf
  by visit
  basis advice
  cite order, "1"
item fuel.fresh
  "Tested of late"
  need fuel.tested is within the last 30 days
  by visit
  basis own
  cite common practice
item fuel.sum
  "Enough"
  need sum of tank.usable for tank in fuel.tanks >= 20 L
  by visit
  basis own
  cite common practice
item fuel.straps for each tank in fuel.tanks
  "Tight"
  need tank.strap >= 10 lbf
  by visit
  basis own
  cite common practice
item cabin.belts.strong for each belt in cabin.belts
  "Strong"
  need belt.pull >= 100 lbf
  by first-flight
  basis advice
  cite order, "1"
item cabin.belts.two
  "Two belts"
  need count belt in cabin.belts >= 2
  by visit
  basis own
  cite common practice
item fuel.looked
  "Looked at"
  need inspected fuel.tank noting (assembly, locking)
  by visit
  basis own
  cite common practice
item cabin.looked
  "Looked at twice"
  need inspected cabin.belt by 2 people noting (assembly)
  by visit
  basis own
  cite common practice
item cabin.spoken
  "Spoken for"
  ask "Is it so?"
  need confirmed by adviser or inspector about cabin.belt
  by visit
  basis own
  cite common practice
item cabin.picture
  "Shown"
  need cabin.clean
  show photo of cabin.clean
  by visit
  basis own
  cite common practice
item log.snags for each snag in log.snags
  "No snag is open"
  need snag.cleared is not none
  by visit
  basis own
  cite common practice
"#;

const MANIFEST: &str = "name='shed'\ntitle='Shed'\nedition='1'\nauthority='none'\nscope='an example'";

fn rules() -> cotterpin::Rules {
    let pack = cotterpin::Pack::new("shed", MANIFEST, [("shed.checklist", RULES)]);
    cotterpin::Rules::new([pack]).unwrap_or_else(|error| panic!("{error}"))
}

//! A small invented pack, so that these tests say all they rest on.

use crate::fixtures::packs::{load, pack};
use cotterpin_engine::ir::Rules;
use std::sync::LazyLock;

const CHECKLIST: &str = r#"
hold-points
  visit "Before the inspector's visit"
zones
  cabin "Cabin"
systems
  fuel "Fuel"
evidence
  photo       "A photograph"
  document    "A document"
  weigh-sheet "The signed sheet of readings"
roles
  builder   "The builder" may concede (advice, other)
  inspector "The inspector" may concede (law, advice, other)
subjects
  controls.elevator "Elevator circuit"
choice wire-gauge : awg-22 or awg-20 or awg-18
fact fuel.feed : gravity or pump
  ask "How does fuel reach the engine?"
fact fuel.flow_test.rate : volume per time, above 0 gal/h
  ask "Fuel collected at the engine connection" such as "18.4 gal/h ± 0.2 gal/h"
fact fuel.flow_test.on : date
  ask "Day of the flow test" such as "2026-10-04"
fact plate.present : yes or no
  ask "Is the data plate fixed to the aircraft?"
fact plate.serial : text
  ask "Serial number on the data plate" such as "0107"
fact elt.hex_id : optional text
  ask "The beacon's identity, or none" such as "none"
fact aircraft.seats : count
  ask "How many seats does the aircraft have?" such as "2"
fact tasks.builder : number, at least 0
  ask "Tasks credited to the builder" such as "75.5"
fact marks.height : length, above 0 in
  ask "Height of the registration mark" such as "3 in"
fact ballast.mass : optional mass, at least 0 lb
  ask "Fixed ballast, or none" such as "4 lb"
fact electrical.main_gauge : wire-gauge
  ask "Gauge of the main feed"
list electrical.runs
  ask "Each wire run from the bus to its load"
  field name    : text                  ask "What the wire feeds" such as "landing light"
  field current : current, at least 0 A ask "Current it carries" such as "8.5 A"
  named by name
list loads
  ask "Each thing that was weighed"
  field name : text                 ask "What was weighed" such as "left main wheel"
  field mass : mass, at least 0 lb  ask "Its mass" such as "12 lb"
  named by name

item fuel.plate
  "There is a data plate"
  need  plate.present
  by    visit
  basis common practice
  cite  common practice
  try "there" plate.present = yes => met
  try "missing" plate.present = no => unmet
item fuel.run for each run in electrical.runs
  "The wire carries no more than 10 A"
  need  run.current <= 10 A
  by    visit
  basis common practice
  cite  common practice
  try "less" electrical.runs = (name = "light", current = 8 A) => met
  try "more" electrical.runs = (name = "light", current = 12 A) => unmet
"#;

/// The rules of the pack.
pub(super) static RULES: LazyLock<Rules> = LazyLock::new(|| load(&[pack("shed", &[], CHECKLIST)]));

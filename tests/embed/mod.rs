//! The surface for those who embed the engine.

mod changes;
mod many;
mod public;
mod said;
mod taken;
mod wrong;

/// A pack of everything that a change can bear on.
const RULES: &str = include_str!("everything.checklist");

const MANIFEST: &str = "name='shed'\ntitle='Shed'\nedition='1'\nauthority='none'\nscope='an example'";

fn rules() -> cotterpin::Rules {
    let pack = cotterpin::Pack::new("shed", MANIFEST, [("shed.checklist", RULES)]);
    cotterpin::Rules::new([pack]).unwrap_or_else(|error| panic!("{error}"))
}

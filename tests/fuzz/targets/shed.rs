//! Small rules that have something of everything, so that one try takes little time.

use cotterpin::{Pack, Rules};
use std::sync::LazyLock;

pub(super) const TEXT: &str = include_str!("../../embed/everything.checklist");

pub(super) const MANIFEST: &str = "name='shed'\ntitle='Shed'\nedition='1'\nauthority='none'\nscope='an example'";

/// The head of a project of these rules.
pub(super) const HEADER: &str = "name = \"Nosuch 2\"
packs = [\"./packs/shed\"]
visit = 2026-12-10
[people]
rosa = { name = \"Rosa Example\", roles = [\"builder\"] }
tomas = { name = \"Tomas Sample\", roles = [\"adviser\", \"inspector\"] }
[parts]
\"cabin.seat.rail\" = { title = \"Seat rail\", zone = \"tail\" }
";

pub(super) static RULES: LazyLock<Rules> = LazyLock::new(|| {
    let pack = Pack::new("shed", MANIFEST, [("shed.checklist", TEXT)]);
    Rules::new([pack]).unwrap_or_else(|error| panic!("{error}"))
});

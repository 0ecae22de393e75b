//! `cotterpin packs`: what is built in, and on what it rests.

use super::args::{Format, PacksArgs};
use super::messages::Messages;
use super::{Done, Status, WIDTH};
use crate::{report, rules};

pub(super) fn packs(args: &PacksArgs) -> Done {
    let texts = rules::built_in(&rules::built_in_names()).map_err(Messages::one)?;
    let rules = rules::load_packs(&texts).map_err(|failed| {
        let (sources, found) = *failed;
        let mut messages = Messages::default();
        messages.add(&sources, found);
        messages
    })?;
    let rows = report::pack_rows(&rules);
    let text = match args.format {
        Format::Text => report::packs_text(&rows, WIDTH),
        Format::Json => report::packs_json(&rows),
    };
    Ok((text, Status::Settled))
}

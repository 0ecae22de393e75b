//! `cotterpin packs`: what is built in, and on what it rests; or all that one pack asks.

use super::args::{Format, OnePack, PacksArgs, PageFormat, ShowArgs};
use super::messages::Messages;
use super::{Done, Status, try_pack, width};
use crate::surface::load::no_such_pack;
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::files::read_pack;
use cotterpin_engine::ir::Rules;
use cotterpin_engine::report;
use cotterpin_engine::rules;
use cotterpin_packs as packs;
use cotterpin_packs::LIBRARY;
use std::path::Path;

pub(super) fn packs(args: &PacksArgs) -> Done {
    if let Some(OnePack::Show(args)) = &args.one {
        return show(args);
    }
    let rules = built_in(&packs::built_in_names())?;
    let rows = report::pack_rows(&rules);
    let text = match args.format {
        Format::Text => report::packs_text(&rows, width()),
        Format::Json => report::packs_json(&rows, &[]),
    };
    Ok((text, Status::Settled))
}

/// One pack, with those it builds on and no others: what else is built in must
/// not change what it says.
fn show(args: &ShowArgs) -> Done {
    let names = packs::built_in_names();
    let folder = Path::new(&args.pack);
    let (name, rules) = if names.contains(&args.pack.as_str()) || !folder.exists() {
        if !names.contains(&args.pack.as_str()) {
            return Err(Messages::one(no_such_pack(&args.pack, &names)));
        }
        (args.pack.clone(), built_in(&[args.pack.as_str()])?)
    } else {
        let pack = read_pack(folder).map_err(Messages::one)?;
        let own = pack.manifest.clone();
        let rules = try_pack::load(pack)?;
        let named = toml::from_str::<toml::Table>(&own).ok().and_then(|table| table.get("name").cloned());
        (named.and_then(|name| name.as_str().map(str::to_owned)).unwrap_or_default(), rules)
    };
    let no_such = || {
        let message = Diagnostic::error("pack::missing", format!("there is no pack `{name}`"));
        Messages::one(message.help("see cotterpin packs"))
    };
    if args.format == PageFormat::Json {
        let mut warnings = Messages::default();
        warnings.add(&rules.sources, rules.warnings.clone());
        let text = report::pack_json(&rules, &name, &warnings.as_data()).ok_or_else(no_such)?;
        return Ok((text, Status::Settled));
    }
    let page = report::pack_page(&rules, &name).ok_or_else(no_such)?;
    let text = match args.format {
        PageFormat::Html => report::pack_page_html(&page),
        PageFormat::Text | PageFormat::Json => report::pack_page_text(&page, width()),
    };
    Ok((text, Status::Settled))
}

fn built_in(names: &[&str]) -> Result<Rules, Messages> {
    let texts = packs::built_in(names).map_err(Messages::one)?;
    rules::load_packs(&LIBRARY, &texts).map_err(|failed| {
        let (sources, found) = *failed;
        let mut messages = Messages::default();
        messages.add(&sources, found);
        messages
    })
}

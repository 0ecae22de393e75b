//! `cotterpin schema`: the schemas of what is for programs.

use super::args::SchemaArgs;
use super::messages::Messages;
use super::{Done, Status, width};
use cotterpin_engine::diagnostic::{Diagnostic, nearest};
use cotterpin_engine::report::{Page, SCHEMAS, Schema};

/// Room for the names.
const COLUMN: usize = 12;

pub(super) fn schema(args: &SchemaArgs) -> Done {
    let text = match &args.name {
        None => list(),
        Some(name) => Schema::named(name).ok_or_else(|| unknown(name))?.text(),
    };
    Ok((text, Status::Settled))
}

fn list() -> String {
    let mut page = Page::new(width());
    for schema in SCHEMAS {
        page.labelled(0, COLUMN, schema.name, &format!("{}, of {}", schema.full_name(), schema.about));
    }
    page.finish()
}

fn unknown(name: &str) -> Messages {
    let message = Diagnostic::error("schema::unknown", format!("there is no schema `{name}`"));
    Messages::one(match nearest(name, SCHEMAS.iter().map(|schema| schema.name)) {
        Some(near) => message.help(format!("did you mean `{near}`?")),
        None => message.help("`cotterpin schema` lists them"),
    })
}

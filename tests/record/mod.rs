//! The builder's files, read into a record.

pub(crate) mod consequences;
pub(crate) mod evidence;
pub(crate) mod files;
pub(crate) mod freehand;
pub(crate) mod lists;
mod logs;
mod pack;
pub(crate) mod people;
pub(crate) mod project;
mod unreadable;
pub(crate) mod values;

use crate::fixtures::messages::said;
use crate::fixtures::projects::{PLAIN, Reading, file, read_project};
use cotterpin_engine::project::FileText;

fn read_all(files: &[FileText], paths: &[&str]) -> Reading<'static> {
    read_with("", files, paths)
}

/// The same, with more in `project.toml`.
fn read_with(project: &str, files: &[FileText], paths: &[&str]) -> Reading<'static> {
    read_project(&pack::RULES, &format!("{PLAIN}visit = 2026-12-01\n{project}"), files, paths)
}

fn read_one(text: &str) -> Reading<'static> {
    read_all(&[file("facts.toml", text)], &[])
}

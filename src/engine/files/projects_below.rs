//! The projects in a folder that is none itself.

use super::file_names::names_in;
use super::passed_over::meant;
use crate::project::PROJECT;
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use walkdir::{DirEntry, WalkDir};

/// A project that stands in more folders than this, one in the other, is not found.
pub const MOST_FOLDERS_DEEP: usize = 6;

/// What was found in a folder; paths are from there, in the order of their names.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Below {
    /// The folders of projects.
    pub projects: Vec<PathBuf>,
    /// Folders that could not be looked into, each with the reason.
    pub shut: Vec<(PathBuf, String)>,
    /// The first folder that lies too deep to be looked into.
    pub too_deep: Option<PathBuf>,
}

/// Looks for projects in a folder and in those that stand in it. Hidden folders are left alone, and so is what stands in
/// a project: that is the project's. A link is followed if it leads to a project, and nowhere else; a
/// project that can be come by in two ways is one.
#[must_use]
pub fn projects_below(folder: &Path) -> Below {
    let mut below = Below::default();
    let mut links = Vec::new();
    let deepest = MOST_FOLDERS_DEEP.saturating_add(1);
    let mut entries = WalkDir::new(folder).min_depth(1).max_depth(deepest).sort_by_file_name().into_iter();
    while let Some(entry) = entries.next() {
        let entry = match entry {
            Ok(entry) => entry,
            Err(problem) => {
                let path = problem.path().unwrap_or(folder);
                let why = problem.io_error().map_or_else(|| problem.to_string(), ToString::to_string);
                below.shut.push((inner(folder, path), why));
                continue;
            }
        };
        let is_folder = entry.file_type().is_dir();
        if !is_folder && !entry.path_is_symlink() || is_hidden(&entry) {
            if is_folder {
                entries.skip_current_dir();
            }
            continue;
        }
        if entry.depth() == deepest {
            below.too_deep.get_or_insert_with(|| inner(folder, entry.path()));
        } else if entry.path_is_symlink() {
            links.push(entry.into_path());
        } else if is_meant_as_project(entry.path()) {
            below.projects.push(inner(folder, entry.path()));
            entries.skip_current_dir();
        }
    }
    let mut known: BTreeSet<PathBuf> = below.projects.iter().filter_map(|path| real(&folder.join(path))).collect();
    for link in links {
        if is_meant_as_project(&link) && real(&link).is_some_and(|real| known.insert(real)) {
            below.projects.push(inner(folder, &link));
        }
    }
    below.projects.sort();
    below
}

/// Whether a folder has a `project.toml`, or what somebody may have meant to be one.
#[must_use]
pub fn is_meant_as_project(folder: &Path) -> bool {
    let names = names_in(folder);
    names.iter().any(|name| name == PROJECT) || meant(&names, PROJECT).is_some()
}

/// The folder of a pack that a project names and that lies outside of the project, so that another may name the same.
#[must_use]
pub fn pack_elsewhere(project: &Path, pack: &str) -> Option<PathBuf> {
    let (project, pack) = (real(project)?, real(&project.join(pack))?);
    (!pack.starts_with(project)).then_some(pack)
}

/// Whether a path, as the disk has it, is a folder or lies below it.
#[must_use]
pub fn lies_in(real_path: &Path, folder: &Path) -> bool {
    real(folder).is_some_and(|folder| real_path.starts_with(folder))
}

fn real(path: &Path) -> Option<PathBuf> {
    fs::canonicalize(path).ok()
}

fn inner(folder: &Path, path: &Path) -> PathBuf {
    path.strip_prefix(folder).unwrap_or(path).to_owned()
}

fn is_hidden(entry: &DirEntry) -> bool {
    entry.file_name().to_string_lossy().starts_with('.')
}

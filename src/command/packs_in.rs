//! Where packs may lie that a project names outside its own folder: only whoever runs the command says so.

use std::env::{split_paths, var_os};
use std::path::PathBuf;

/// A folder, or several as in `PATH`.
const PACKS_IN: &str = "COTTERPIN_PACKS_IN";

/// The folders in which packs of several projects lie.
pub(super) fn packs_in() -> Vec<PathBuf> {
    let said = var_os(PACKS_IN).unwrap_or_default();
    // An empty name would be the folder one stands in.
    split_paths(&said).filter(|folder| !folder.as_os_str().is_empty()).collect()
}

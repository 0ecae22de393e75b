//! Where packs may lie that a project names outside its own folder: only whoever runs the command says so.

use crate::surface::load::{OwnPack, own_pack};
use cotterpin_engine::diagnostic::Diagnostic;
use std::env::{split_paths, var_os};
use std::path::{Path, PathBuf};

/// A folder, or several as in `PATH`.
const PACKS_IN: &str = "COTTERPIN_PACKS_IN";

/// The folders in which packs of several projects lie.
pub(super) fn packs_in() -> Vec<PathBuf> {
    let said = var_os(PACKS_IN).unwrap_or_default();
    // An empty name would be the folder one stands in.
    split_paths(&said).filter(|folder| !folder.as_os_str().is_empty()).collect()
}

/// A pack that a project names by its folder; where it lies elsewhere, how to let packs lie there.
pub(super) fn pack_of(project: &Path, name: &str, allowed: &[PathBuf]) -> Result<OwnPack, Diagnostic> {
    own_pack(project, name, allowed).map_err(|problem| match problem.help.as_deref() {
        Some(help) if problem.code == "pack::outside" => {
            let more = format!(
                "{help}; or, where several of your projects share it, set {PACKS_IN} to the folder that it lies in: packs \
                 are read there as well"
            );
            problem.help(more)
        }
        _ => problem,
    })
}

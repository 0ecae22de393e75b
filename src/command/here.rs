//! Where the project is: here, or in a folder that this one stands in.

use cotterpin_engine::files::is_meant_as_project;
use std::env;
use std::path::PathBuf;

/// The folder of a command that is not told one.
pub(super) const HERE: &str = ".";

/// The folder that one stands in, or the nearest above it that has a project.
pub(super) fn here() -> PathBuf {
    let here = PathBuf::from(HERE);
    if is_meant_as_project(&here) {
        return here;
    }
    let above = env::current_dir().ok().and_then(|at| at.ancestors().skip(1).position(is_meant_as_project));
    above.map_or(here, |above| vec![".."; above.saturating_add(1)].iter().collect())
}

//! Readers of folders: a project's, a pack's. They read and never write.

mod file_names;
mod pack;
mod passed_over;
mod project;

pub use file_names::names_in;
pub use pack::read_pack;
pub use passed_over::{LookedInto, passed_over};
pub use project::{ProjectFiles, bytes, is_folder, is_project, read_project};

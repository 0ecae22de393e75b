//! The files of a project and of a pack, from bytes or from folders. They are
//! read and never written.

mod file_names;
#[cfg(feature = "disk")]
mod folder;
#[cfg(feature = "disk")]
mod folder_of_pack;
mod from_bytes;
#[cfg(feature = "disk")]
mod in_use;
mod pack;
mod passed_over;
#[cfg(feature = "disk")]
mod projects_below;
#[cfg(feature = "disk")]
mod shown;

pub use file_names::{name_on_disk, names_in};
#[cfg(feature = "disk")]
pub use folder::{bytes, is_project, read_project};
#[cfg(feature = "disk")]
pub use folder_of_pack::read_pack;
pub use from_bytes::{
    ProjectFiles, given_twice, is_folder, may_show, pack_folders, pack_from_bytes, plain_path, project_from_bytes,
};
#[cfg(feature = "disk")]
pub use in_use::{patiently, what_to_do, why};
pub use passed_over::{LookedInto, passed_over};
#[cfg(feature = "disk")]
pub use projects_below::{Below, MOST_FOLDERS_DEEP, is_meant_as_project, lies_in, pack_elsewhere, projects_below};
#[cfg(feature = "disk")]
pub use shown::shown;

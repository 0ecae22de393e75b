//! From the files of a project to the project: its packs, then its record.

use super::message::LoadError;
use super::pack::Pack;
use super::project::Project;
use super::rules::Rules;
use cotterpin_engine::diagnostic::{Diagnostic, nearest};
use cotterpin_engine::files::{ProjectFiles, is_folder, pack_from_bytes, passed_over, project_from_bytes};
use cotterpin_engine::project::{FileText, PROJECT, read_header};
use cotterpin_engine::rules::PackText;
use cotterpin_engine::source::{Sources, Span};

impl Project {
    /// A project from its files: `project.toml`, every other `.toml`, evidence, and the folders of its own packs; names
    /// are paths from its folder, with `/`. Its rules are those that `project.toml` names.
    ///
    /// # Errors
    /// Everything that is wrong with it or with its packs.
    pub fn from_files<N: Into<String>, B: Into<Vec<u8>>>(
        files: impl IntoIterator<Item = (N, B)>,
    ) -> Result<Self, LoadError> {
        let files: Vec<(String, Vec<u8>)> =
            files.into_iter().map(|(name, bytes)| (name.into(), bytes.into())).collect();
        let sorted = project_from_bytes(&files);
        let rules = rules_of(&sorted, |folder| pack_from_bytes(&files, folder))?;
        Self::of_files(&rules, &sorted)
    }

    /// The same against rules that are checked already: for many projects of one kind.
    /// Those that `project.toml` names are not looked at.
    ///
    /// # Errors
    /// Everything that is wrong with it.
    pub fn from_files_with<N: Into<String>, B: Into<Vec<u8>>>(
        rules: &Rules,
        files: impl IntoIterator<Item = (N, B)>,
    ) -> Result<Self, LoadError> {
        let files: Vec<(String, Vec<u8>)> =
            files.into_iter().map(|(name, bytes)| (name.into(), bytes.into())).collect();
        Self::of_files(rules, &project_from_bytes(&files))
    }

    /// A project from its folder.
    ///
    /// # Errors
    /// Everything that is wrong with it or with its packs.
    #[cfg(feature = "disk")]
    pub fn from_folder(folder: impl AsRef<std::path::Path>) -> Result<Self, LoadError> {
        use cotterpin_engine::files::{read_pack, read_project};
        let folder = folder.as_ref();
        let (files, said) = read_project(folder);
        if said.iter().any(Diagnostic::is_error) {
            return Err(LoadError::of(&said, &Sources::default()));
        }
        let own = |name: &str| read_pack(&folder.join(name.strip_prefix("./").unwrap_or(name)));
        let rules = rules_of(&files, own)?;
        Self::of_files(&rules, &files)
    }

    fn of_files(rules: &Rules, files: &ProjectFiles) -> Result<Self, LoadError> {
        let header = files.header_file.as_ref().ok_or_else(no_header)?;
        let mut project = Self::read(rules, (header, &files.files), &files.paths)?;
        let read: Vec<&FileText> = std::iter::once(header).chain(&files.files).collect();
        let mut sources = Sources::default();
        let (not_read, said) = passed_over(&files.looked_into, &read, Some(&rules.checked), &mut sources);
        project.not_read = not_read;
        project.said.extend(super::message::Message::all(&said, &sources));
        Ok(project)
    }
}

fn no_header() -> LoadError {
    let message = Diagnostic::error("project::missing", format!("there is no {PROJECT} among the files"));
    LoadError::one(&message.help("a project begins with it: write name = \"...\" and packs = [\"...\"]"))
}

/// The rules of all packs that a header names, and of those that they build on.
fn rules_of(files: &ProjectFiles, own: impl Fn(&str) -> Result<PackText, Diagnostic>) -> Result<Rules, LoadError> {
    let mut sources = Sources::default();
    let (header, said) = read_header(files.header_file.as_ref().ok_or_else(no_header)?, &mut sources);
    let Some(header) = header else { return Err(LoadError::of(&said, &sources)) };
    let (mut built_in, mut local, mut found) = (Vec::new(), Vec::new(), Vec::new());
    let known = known_packs();
    for (name, place) in &header.packs {
        if is_folder(name) {
            match own(name) {
                Ok(pack) => local.push(pack),
                Err(problem) => found.push(problem.at(*place, "named here")),
            }
        } else if known.contains(&name.as_str()) {
            built_in.push(name.clone());
        } else {
            found.push(no_such_pack(name, *place, &known));
        }
    }
    if !found.is_empty() {
        return Err(LoadError::of(&found, &sources));
    }
    let uses = local.iter().flat_map(PackText::uses);
    built_in.extend(uses.filter(|name| known.contains(&name.as_str())));
    let packs = built_in_packs(&built_in)?;
    Rules::new(packs.into_iter().chain(local.into_iter().map(Pack)))
}

fn no_such_pack(name: &str, place: Span, known: &[&str]) -> Diagnostic {
    let message = Diagnostic::error("pack::missing", format!("there is no built-in pack `{name}`"));
    let help = nearest(name, known.iter().copied()).map_or_else(
        || "a pack of the project's own is named by its folder, such as \"./packs/mine\"".to_owned(),
        |near| format!("did you mean `{near}`?"),
    );
    message.at(place, "named here").help(help)
}

#[cfg(feature = "packs")]
fn known_packs() -> Vec<&'static str> {
    Pack::built_in_names()
}

#[cfg(not(feature = "packs"))]
fn known_packs() -> Vec<&'static str> {
    Vec::new()
}

#[cfg(feature = "packs")]
fn built_in_packs(names: &[String]) -> Result<Vec<Pack>, LoadError> {
    Pack::built_in(&names.iter().map(String::as_str).collect::<Vec<_>>())
}

#[cfg(not(feature = "packs"))]
fn built_in_packs(_: &[String]) -> Result<Vec<Pack>, LoadError> {
    Ok(Vec::new())
}

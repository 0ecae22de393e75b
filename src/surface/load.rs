//! From the files of a project to the project: its packs, then its record.

use super::message::{Batch, LoadError};
use super::pack::Pack;
use super::project::Project;
use super::rules::Rules;
use cotterpin_engine::diagnostic::{Diagnostic, nearest};
use cotterpin_engine::files::{ProjectFiles, given_twice, is_folder, pack_from_bytes, passed_over, project_from_bytes};
use cotterpin_engine::project::{Draft, FileText, PROJECT, read_header, together};
use cotterpin_engine::round::RuleSets;
use cotterpin_engine::rules::PackText;
use cotterpin_engine::source::Sources;

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
        Self::from_files_sharing(&files, &RuleSets::default())
    }

    /// The same with rules that projects of the same packs share.
    pub(super) fn from_files_sharing(files: &[(String, Vec<u8>)], sets: &RuleSets<Rules>) -> Result<Self, LoadError> {
        once(files)?;
        let sorted = project_from_bytes(files);
        let own = |name: &str| is_folder(name).then(|| Ok((pack_from_bytes(files, name)?, None)));
        load(&sorted, Vec::new(), own, sets)
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
        once(&files)?;
        read(rules, &project_from_bytes(&files), Vec::new())
    }

    /// A project from its folder. Nothing is read but what lies in it.
    ///
    /// # Errors
    /// Everything that is wrong with it or with its packs.
    #[cfg(feature = "disk")]
    pub fn from_folder(folder: impl AsRef<std::path::Path>) -> Result<Self, LoadError> {
        Self::from_folder_sharing(folder.as_ref(), None, &RuleSets::default())
    }

    /// The same, where packs that its `project.toml` names may also lie in another folder, or below it: one that several
    /// projects share. Whoever wrote the project says which packs it wants, and only the caller where they may lie.
    ///
    /// # Errors
    /// Everything that is wrong with it or with its packs.
    #[cfg(feature = "disk")]
    pub fn from_folder_with_packs_in(
        folder: impl AsRef<std::path::Path>,
        packs: impl AsRef<std::path::Path>,
    ) -> Result<Self, LoadError> {
        Self::from_folder_sharing(folder.as_ref(), Some(packs.as_ref()), &RuleSets::default())
    }

    /// The same with rules that projects of the same packs share.
    #[cfg(feature = "disk")]
    pub(super) fn from_folder_sharing(
        folder: &std::path::Path,
        packs: Option<&std::path::Path>,
        sets: &RuleSets<Rules>,
    ) -> Result<Self, LoadError> {
        let (files, said) = cotterpin_engine::files::read_project(folder);
        let own = |name: &str| is_folder(name).then(|| own_pack(folder, name, packs.as_slice()));
        load(&files, vec![(Sources::default(), said)], own, sets)
    }
}

/// Reads a project's packs and then the project; gives it, or every message there is. Packs that `own` knows are its own.
pub(crate) fn load(
    files: &ProjectFiles,
    mut said: Vec<Batch>,
    own: impl Fn(&str) -> Option<Result<OwnPack, Diagnostic>>,
    sets: &RuleSets<Rules>,
) -> Result<Project, LoadError> {
    match rules_of(files, &mut said, own, sets) {
        Some(rules) => read(&rules, files, said),
        None => Err(LoadError::of_all(said)),
    }
}

/// Reads the record of a project against its rules.
fn read(rules: &Rules, files: &ProjectFiles, mut said: Vec<Batch>) -> Result<Project, LoadError> {
    let mut sources = rules.checked.sources.clone();
    let Some(file) = &files.header_file else {
        said.push((Sources::default(), vec![no_header()]));
        return Err(LoadError::of_all(said));
    };
    let (header, found) = read_header(file, &mut sources);
    said.push((sources.clone(), found));
    let Some(header) = header else { return Err(LoadError::of_all(said)) };
    let (draft, gathered) = Draft::new(&files.files, &files.paths, &header, &rules.checked, sources);
    let mut project = Project::of(rules.clone(), draft, Vec::new());
    let (record, of_all) = project.finished();
    said.push((record.sources.clone(), rules.checked.warnings.clone()));
    said.push((record.sources.clone(), together(gathered, of_all.clone())));
    let stops = said.iter().any(|(_, found)| found.iter().any(Diagnostic::stops));
    let mut sources = Sources::default();
    let known: Vec<&FileText> = files.header_file.iter().chain(&files.files).collect();
    let (not_read, found) = passed_over(&files.looked_into, &known, Some(&rules.checked), &mut sources);
    said.push((sources, found));
    said.retain(|(_, found)| !found.is_empty());
    if stops {
        return Err(LoadError::of_all(said));
    }
    project.said = said;
    project.pass_over(not_read);
    Ok(project)
}

/// Nobody knows which of two files of one path is meant.
fn once(files: &[(String, Vec<u8>)]) -> Result<(), LoadError> {
    let Some(twice) = given_twice(files) else { return Ok(()) };
    let message = Diagnostic::error("file::twice", format!("there are two files `{twice}`"));
    Err(LoadError::one(&message.help("give each file once; `a`, `./a` and `/a` are one path")))
}

fn no_header() -> Diagnostic {
    let message = Diagnostic::error("project::missing", format!("there is no {PROJECT} among the files"));
    message.help("a project begins with it: write name = \"...\" and packs = [\"...\"]")
}

/// A pack of a project's own, and by which name another project can have the same one, if any can.
pub(crate) type OwnPack = (PackText, Option<String>);

/// A pack that a project names by its folder, which lies in the project's or in one of those allowed.
#[cfg(feature = "disk")]
pub(crate) fn own_pack<P: AsRef<std::path::Path>>(
    project: &std::path::Path,
    name: &str,
    allowed: &[P],
) -> Result<OwnPack, Diagnostic> {
    use cotterpin_engine::files::{lies_in, pack_elsewhere, read_pack};
    let inner = name.strip_prefix("./").unwrap_or(name);
    let elsewhere = pack_elsewhere(project, inner);
    if elsewhere.as_deref().is_some_and(|pack| !allowed.iter().any(|folder| lies_in(pack, folder.as_ref()))) {
        let message =
            Diagnostic::error("pack::outside", format!("the pack `{name}` lies outside the project's folder"));
        return Err(message.help("copy its folder into the project's, and name it there"));
    }
    let elsewhere = elsewhere.and_then(|real| Some(real.to_str()?.to_owned()));
    Ok((read_pack(&project.join(inner))?, elsewhere))
}

/// The rules of all packs that a header names, and of those that they build on.
pub(crate) fn rules_of(
    files: &ProjectFiles,
    said: &mut Vec<Batch>,
    own: impl Fn(&str) -> Option<Result<OwnPack, Diagnostic>>,
    sets: &RuleSets<Rules>,
) -> Option<Rules> {
    let mut sources = Sources::default();
    let Some(file) = &files.header_file else {
        // A reader of a folder has said so.
        if said.iter().all(|(_, found)| found.is_empty()) {
            said.push((sources, vec![no_header()]));
        }
        return None;
    };
    let (header, of_header) = read_header(file, &mut sources);
    let Some(header) = header else {
        said.push((sources, of_header));
        return None;
    };
    let (mut built_in, mut local, mut found) = (Vec::new(), Vec::new(), Vec::new());
    let mut elsewhere = Some(Vec::new());
    let known = known_packs();
    for (name, place) in &header.packs {
        match own(name) {
            Some(Ok((pack, elsewhere_as))) => {
                let own_name = pack.own_name().filter(|own_name| known.contains(&own_name.as_str()));
                found.extend(own_name.map(|own_name| like_a_built_in(name, &own_name).at(*place, "named here")));
                local.push(pack);
                elsewhere = elsewhere.zip(elsewhere_as).map(|(names, name)| [names, vec![name]].concat());
            }
            Some(Err(problem)) => found.push(problem.at(*place, "named here")),
            None if known.contains(&name.as_str()) => built_in.push(name.clone()),
            None => found.push(no_such_pack(name, &known).at(*place, "named here")),
        }
    }
    if !found.is_empty() {
        said.extend([(sources.clone(), of_header), (sources, found)]);
        return None;
    }
    let uses = local.iter().flat_map(PackText::uses);
    built_in.extend(uses.filter(|name| known.contains(&name.as_str())));
    let checked = built_in_packs(&built_in).and_then(|packs| {
        let same = elsewhere.map(|folders| packs.iter().map(|pack| pack.0.name.clone()).chain(folders).collect());
        sets.get(same, || Rules::new(packs.into_iter().chain(local.into_iter().map(Pack))))
    });
    let refused = |error: LoadError| {
        said.push((sources, of_header));
        said.extend(error.into_batches());
    };
    checked.map_err(refused).ok()
}

/// A pack of a project's own would be taken for another one, in reports and by packs that build on that.
fn like_a_built_in(folder: &str, name: &str) -> Diagnostic {
    let message =
        Diagnostic::error("pack::name", format!("the pack in `{folder}` has the name of a built-in one, `{name}`"));
    message.help("give it a name of its own in its pack.toml, or name the built-in pack here")
}

/// Says that no pack is called so.
pub(crate) fn no_such_pack(name: &str, known: &[&str]) -> Diagnostic {
    let message = Diagnostic::error("pack::missing", format!("there is no built-in pack `{name}`"));
    let local = "a pack of your own is named by its folder, such as \"./packs/mine\"";
    match nearest(name, known.iter().copied()) {
        Some(near) => message.help(format!("did you mean `{near}`? {local}")),
        None => message.help(format!("the built-in packs are {}; {local}", known.join(", "))),
    }
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

//! Many projects at once.

use super::message::LoadError;
use super::options::Options;
use super::project::{Project, audit};
use super::rules::Rules;
use cotterpin_engine::audit::Audit;
use cotterpin_engine::round::RuleSets;
use cotterpin_engine::workers::each_of;
use std::collections::BTreeMap;

/// A project as a program has it: read already, its files as [`Project::from_files`] takes them, or its folder (feature `disk`).
#[derive(Debug, Clone)]
pub struct Given(Kind);

#[derive(Debug, Clone)]
enum Kind {
    Read(Box<Project>),
    Files(Vec<(String, Vec<u8>)>),
    #[cfg(feature = "disk")]
    Folder {
        folder: std::path::PathBuf,
        /// Where packs may lie besides.
        packs: Option<std::path::PathBuf>,
    },
}

impl Given {
    fn project(self, sets: &RuleSets<Rules>) -> Result<Project, LoadError> {
        match self.0 {
            Kind::Read(project) => Ok(*project),
            Kind::Files(files) => Project::from_files_sharing(&files, sets),
            #[cfg(feature = "disk")]
            Kind::Folder { folder, packs } => Project::from_folder_sharing(&folder, packs.as_deref(), sets),
        }
    }

    /// Of a folder: packs that its `project.toml` names may also lie in this one, or below it. Of anything else: as it was.
    #[cfg(feature = "disk")]
    #[must_use]
    pub fn with_packs_in(self, packs: impl Into<std::path::PathBuf>) -> Self {
        match self.0 {
            Kind::Folder { folder, .. } => Self(Kind::Folder { folder, packs: Some(packs.into()) }),
            other => Self(other),
        }
    }
}

impl From<Project> for Given {
    fn from(project: Project) -> Self {
        Self(Kind::Read(Box::new(project)))
    }
}

impl<N: Into<String>, B: Into<Vec<u8>>> From<Vec<(N, B)>> for Given {
    fn from(files: Vec<(N, B)>) -> Self {
        Self(Kind::Files(files.into_iter().map(|(name, bytes)| (name.into(), bytes.into())).collect()))
    }
}

#[cfg(feature = "disk")]
impl From<&std::path::Path> for Given {
    fn from(folder: &std::path::Path) -> Self {
        Self(Kind::Folder { folder: folder.to_owned(), packs: None })
    }
}

#[cfg(feature = "disk")]
impl From<std::path::PathBuf> for Given {
    fn from(folder: std::path::PathBuf) -> Self {
        Self(Kind::Folder { folder, packs: None })
    }
}

/// Judges many projects, so many at once, and gives in their order what `keep` makes of each.
///
/// An audit is large: keep of it what is needed, such as its counts or a [`Snapshot`](crate::Snapshot). It is let go
/// before its worker takes the next project, and projects are taken as they are begun, so an iterator that reads them
/// holds as many as there are workers. Projects whose files name the same packs share their rules. One that cannot be
/// read or judged is an error in its place, and hinders no other. With one worker no thread is begun.
///
/// ```
/// use cotterpin::{Given, Options, audit_all};
///
/// let manifest = "name='mine'\ntitle='Mine'\nedition='1'\nauthority='none'\nscope='a latch'";
/// let rules = r#"
///     hold-points  visit "Before the visit"
///     systems      cabin "Cabin"
///     fact cabin.latches : count ask "How many catches has the canopy?"
///     item cabin.latch "The canopy has a second catch"
///       need cabin.latches >= 2   by visit   basis own   cite common practice
/// "#;
/// let club = ["latches = 2", "latches = 1", "latches = two"].map(|latches| vec![
///     ("project.toml", "name = 'Shed'\npacks = ['./mine']".to_owned()),
///     ("mine/pack.toml", manifest.to_owned()),
///     ("mine/mine.checklist", rules.to_owned()),
///     ("cabin.toml", format!("[cabin]\n{latches}")),
/// ]);
/// let unmet = audit_all(club, &Options::on("2026-11-25")?, 2, |audit| audit.map(|audit| audit.summary.unmet).ok());
/// assert_eq!(unmet, [Some(0), Some(1), None]);
/// # Ok::<(), cotterpin::ValueError>(())
/// ```
pub fn audit_all<P, T>(
    projects: P,
    options: &Options,
    workers: usize,
    keep: impl Fn(Result<Audit, LoadError>) -> T + Sync,
) -> Vec<T>
where
    P: IntoIterator<Item: Into<Given>, IntoIter: Send>,
    T: Send,
{
    let sets = RuleSets::default();
    let judged = |given: P::Item| {
        let project = given.into().project(&sets)?;
        Ok(audit(&project, options)?)
    };
    let mut kept = BTreeMap::new();
    each_of(
        projects,
        workers,
        |given| keep(judged(given)),
        |number, one| {
            kept.insert(number, one);
        },
    );
    kept.into_values().collect()
}

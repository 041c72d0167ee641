//! The plan that is written down before the first file of a set takes its name.

use std::path::Path;

/// Names that are to be given, and which of them replace a file.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub(super) struct Plan {
    /// The files of the set.
    pub(super) files: Vec<Planned>,
}

/// One file of a set.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub(super) struct Planned {
    /// Its name in the folder.
    pub(super) name: String,
    /// Whether a file of that name stood there before.
    pub(super) replaces: bool,
}

impl Plan {
    /// The plan as it is written down.
    pub(super) fn bytes(&self) -> Vec<u8> {
        serde_json::to_vec(self).unwrap_or_default()
    }

    /// A plan that was written down; `None` if the file holds something else. A plan
    /// may lie in a folder that came from a stranger, so a name that leads elsewhere
    /// makes it none of ours.
    pub(super) fn read(path: &Path) -> Option<Self> {
        let plan: Self = serde_json::from_slice(&std::fs::read(path).ok()?).ok()?;
        let plain = |planned: &Planned| {
            let name = Path::new(&planned.name);
            name.file_name().is_some_and(|only| only == name.as_os_str())
        };
        plan.files.iter().all(plain).then_some(plan)
    }
}

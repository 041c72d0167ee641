//! A set is put in its folder whole or not at all.
//!
//! Every byte is first written into a folder of our own, `.rodwright`, beside the
//! files it is to replace. Then a plan is written down, each file takes its name while
//! its predecessor is kept, and only when all stand is the plan thrown away. What goes
//! wrong on the way is undone; a run that is killed there is finished by the next one,
//! for then all its bytes are on the disk. Two runs at once wait for each other.

mod disk;
mod plan;
mod staging;
#[cfg(test)]
mod tests;

use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use disk::{Disk, System};
use staging::Staging;

use crate::File;

/// What could not be written, and why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WriteError {
    /// The file or folder.
    pub path: PathBuf,
    /// The reason, a sentence without a stop.
    pub why: String,
    /// Whether files that were there before may stand mixed with new ones, because
    /// putting them back failed too.
    pub mixed: bool,
}

impl WriteError {
    fn new(path: &Path, error: &std::io::Error) -> Self {
        Self { path: path.to_owned(), why: why(error), mixed: false }
    }

    /// What the user can do about it, and what state the folder is in.
    pub fn help(&self, cure: &str) -> String {
        if self.mixed {
            "some files are new and some old, for they could not be put back; put right what stands in the way and run \
             it again, which finishes them"
                .into()
        } else {
            format!("nothing was changed; {cure}")
        }
    }
}

/// Writes all files into `folder`, which is made if it is not there.
pub fn write_all(folder: &Path, files: &[File]) -> Result<(), WriteError> {
    let made = !folder.exists();
    let written = write_with(&System, folder, files);
    if written.is_err() && made {
        // Only goes if it is empty.
        let _stays_if_not_empty = fs::remove_dir(folder);
    }
    written
}

/// Whether a killed run left something in a folder, which the next set written there removes.
pub(super) fn left_over(folder: &Path) -> bool {
    folder.join(staging::NAME).exists()
}

/// [`write_all`] on any disk.
fn write_with(disk: &dyn Disk, folder: &Path, files: &[File]) -> Result<(), WriteError> {
    if fs::symlink_metadata(folder).is_ok_and(|data| data.is_symlink()) && !folder.exists() {
        let why = "it is a link to a folder that is not there".into();
        return Err(WriteError { path: folder.to_owned(), why, mixed: false });
    }
    disk.make_folder(folder).map_err(|e| WriteError::new(folder, &e))?;
    let target = |file: &File| folder.join(&file.name);
    if let Some(taken) = files.iter().map(target).find(|path| path.is_dir()) {
        return Err(WriteError { path: taken, why: "a folder has that name".into(), mixed: false });
    }
    let staging = Staging::open(disk, folder).map_err(|e| WriteError::new(folder, &e))?;
    staging.recover()?;
    staging.fill(files)?;
    staging.place(files)
}

/// A failure of the system in plain words.
pub(super) fn why(error: &std::io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "there is no such file or folder".into(),
        ErrorKind::PermissionDenied => "permission is denied".into(),
        ErrorKind::StorageFull => "the disk is full".into(),
        ErrorKind::QuotaExceeded => "the quota of the disk is used up".into(),
        ErrorKind::ReadOnlyFilesystem => "the disk can only be read".into(),
        ErrorKind::NotADirectory | ErrorKind::AlreadyExists => "a file is where a folder should be".into(),
        ErrorKind::IsADirectory => "it is a folder".into(),
        _ => {
            let text = error.to_string();
            text.rsplit_once(" (os error").map_or(text.as_str(), |(words, _)| words).to_lowercase()
        }
    }
}

//! Files written whole: each to a temporary name in its own folder, all of
//! them before any takes its real name. A run that fails leaves earlier files as
//! they were; nothing that is not ours is touched.

use std::fs;
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

use rayon::prelude::*;
use tempfile::NamedTempFile;

use crate::File;

/// What could not be written, and why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WriteError {
    /// The file or folder.
    pub path: PathBuf,
    /// The reason, a sentence without a stop.
    pub why: String,
}

/// Writes all files into `folder`, which is made if it is not there.
pub fn write_all(folder: &Path, files: &[File]) -> Result<(), WriteError> {
    let failed = |path: &Path, why: String| WriteError { path: path.to_owned(), why };
    fs::create_dir_all(folder).map_err(|e| failed(folder, why(&e)))?;
    let target = |file: &File| folder.join(&file.name);
    if let Some(taken) = files.iter().map(target).find(|path| path.is_dir()) {
        return Err(failed(&taken, "a folder has that name".into()));
    }
    // Waiting for the disk is most of the work, so files wait side by side.
    let write = |file: &File| {
        let temporary = write_one(folder, &file.bytes).map_err(|e| failed(&target(file), why(&e)))?;
        Ok((temporary, target(file)))
    };
    let written: Vec<Result<(NamedTempFile, PathBuf), WriteError>> = files.par_iter().map(write).collect();
    let written: Vec<(NamedTempFile, PathBuf)> = written.into_iter().collect::<Result<_, _>>()?;
    // All bytes are on the disk: from here on only names change. Dropping the
    // temporary files on an early return removes those not yet renamed.
    for (temporary, target) in written {
        temporary.persist(&target).map_err(|e| failed(&target, why(&e.error)))?;
    }
    Ok(())
}

/// Writes bytes under a temporary name, with the permissions any new file gets.
fn write_one(folder: &Path, bytes: &[u8]) -> std::io::Result<NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(".rodwright-").suffix(".part");
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    let mut temporary = builder.tempfile_in(folder)?;
    temporary.write_all(bytes)?;
    temporary.as_file().sync_data()?;
    Ok(temporary)
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

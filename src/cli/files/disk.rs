//! What is done to a disk, one operation at a time, so that a test can let any of them
//! fail or be the last.

use std::fs::{self, OpenOptions};
use std::io::{ErrorKind, Result, Write};
use std::path::Path;

/// The operations of which a set is put in place.
pub(super) trait Disk: Sync {
    /// Makes a folder and those it stands in; fine if it is there.
    fn make_folder(&self, path: &Path) -> Result<()>;

    /// Writes a file that must be on the disk when this returns.
    fn write(&self, path: &Path, bytes: &[u8]) -> Result<()>;

    /// Gives the file at `from` a second name, `to`; where a disk has no second names,
    /// a copy. `to` is there whole or not at all.
    fn keep(&self, from: &Path, to: &Path) -> Result<()>;

    /// Renames a file, replacing what has the name.
    fn rename(&self, from: &Path, to: &Path) -> Result<()>;

    /// Removes a file.
    fn remove(&self, path: &Path) -> Result<()>;

    /// Removes an empty folder.
    fn remove_folder(&self, path: &Path) -> Result<()>;
}

/// The disk of the machine.
#[derive(Debug)]
pub(super) struct System;

impl Disk for System {
    fn make_folder(&self, path: &Path) -> Result<()> {
        fs::create_dir_all(path)
    }

    fn write(&self, path: &Path, bytes: &[u8]) -> Result<()> {
        let mut file = OpenOptions::new().write(true).create(true).truncate(true).open(path)?;
        file.write_all(bytes)?;
        file.sync_data()
    }

    fn keep(&self, from: &Path, to: &Path) -> Result<()> {
        // Some disks have no second names, and some files may not be given one by
        // others than their owner.
        fs::hard_link(from, to).or_else(|_| {
            let part = to.with_extension("part");
            fs::copy(from, &part)?;
            fs::rename(&part, to)
        })
    }

    fn rename(&self, from: &Path, to: &Path) -> Result<()> {
        fs::rename(from, to)
    }

    fn remove(&self, path: &Path) -> Result<()> {
        fs::remove_file(path).or_else(|error| match error.kind() {
            ErrorKind::NotFound => Ok(()),
            _ => Err(error),
        })
    }

    fn remove_folder(&self, path: &Path) -> Result<()> {
        fs::remove_dir(path)
    }
}

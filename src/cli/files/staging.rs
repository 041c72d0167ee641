//! The folder in which a set is made ready, and how it takes its place.

use std::fs::{self, OpenOptions};
use std::io::{Error, ErrorKind, Result};
use std::path::{Path, PathBuf};

use rayon::prelude::*;

use super::WriteError;
use super::disk::Disk;
use super::plan::{Plan, Planned};
use crate::File;

/// Name of the folder within the one that is written to.
pub(super) const NAME: &str = ".rodwright";

/// How often a folder that another run has just removed is made again before giving up.
const TRIES: usize = 1000;

/// A folder of our own, held by this run alone.
pub(super) struct Staging<'a> {
    disk: &'a dyn Disk,
    /// Where the files are to stand.
    folder: &'a Path,
    /// Our own folder in it.
    own: PathBuf,
    /// Locked as long as this lives.
    lock: fs::File,
}

impl<'a> Staging<'a> {
    /// Makes the folder, or takes over what a killed run left, when no other run
    /// holds it any more.
    pub(super) fn open(disk: &'a dyn Disk, folder: &'a Path) -> Result<Self> {
        let own = folder.join(NAME);
        for _ in 0..TRIES {
            disk.make_folder(&own)?;
            if fs::symlink_metadata(&own)?.is_symlink() {
                // It would lead our tidying to somebody else's files.
                return Err(Error::other(format!("`{NAME}` in it is a link")));
            }
            let name = own.join("lock");
            let lock = match OpenOptions::new().write(true).create(true).truncate(false).open(&name) {
                // The run before has just removed it.
                Err(error) if error.kind() == ErrorKind::NotFound => continue,
                other => other?,
            };
            match lock.lock() {
                // A disk without locks, as some networks have, still takes one run.
                Err(error) if error.kind() != ErrorKind::Unsupported => return Err(error),
                _ => {}
            }
            if is_at(&lock, &name) {
                return Ok(Self { disk, folder, own, lock });
            }
        }
        Err(Error::other("other runs are writing to it"))
    }

    fn fresh(&self, name: &str) -> PathBuf {
        self.own.join("new").join(name)
    }

    fn kept(&self, name: &str) -> PathBuf {
        self.own.join("old").join(name)
    }

    fn target(&self, name: &str) -> PathBuf {
        self.folder.join(name)
    }

    /// The plan of a set that is taking its place.
    fn forward(&self) -> PathBuf {
        self.own.join("plan")
    }

    /// The plan of a set that is being taken back.
    fn backward(&self) -> PathBuf {
        self.own.join("undo")
    }

    /// Finishes or undoes what a killed run began, and removes what it left.
    pub(super) fn recover(&self) -> std::result::Result<(), WriteError> {
        if let Some(plan) = Plan::read(&self.forward()) {
            self.finish_or_undo(&plan)?;
        } else if let Some(plan) = Plan::read(&self.backward()) {
            self.undo(&plan)?;
        }
        self.clear();
        Ok(())
    }

    /// Gives the rest of a killed run's files their names; if one still cannot be
    /// given, all get their predecessors back.
    fn finish_or_undo(&self, plan: &Plan) -> std::result::Result<(), WriteError> {
        let waiting = plan.files.iter().filter(|file| self.fresh(&file.name).exists());
        for file in waiting {
            if self.place_one(file).is_err() {
                return self.take_back(plan);
            }
        }
        Ok(())
    }

    /// Writes all bytes, each file by itself: to wait for the disk is most of the work.
    pub(super) fn fill(&self, files: &[File]) -> std::result::Result<(), WriteError> {
        let folders = ["new", "old"].map(|name| self.disk.make_folder(&self.own.join(name)));
        let written =
            folders.into_iter().collect::<Result<()>>().map_err(|e| WriteError::new(self.folder, &e));
        let write = |file: &File| {
            let written = self.disk.write(&self.fresh(&file.name), &file.bytes);
            written.map_err(|e| WriteError::new(&self.target(&file.name), &e))
        };
        let written = written.and_then(|()| files.par_iter().map(write).collect());
        if written.is_err() {
            self.clear();
        }
        written
    }

    /// Gives all files their names, or none.
    pub(super) fn place(&self, files: &[File]) -> std::result::Result<(), WriteError> {
        let planned = |file: &File| Planned {
            name: file.name.clone(),
            replaces: fs::symlink_metadata(self.target(&file.name)).is_ok(),
        };
        let plan = Plan { files: files.iter().map(planned).collect() };
        // Written under another name first: a plan is there whole or not at all.
        let draft = self.own.join("draft");
        let wrote =
            self.disk.write(&draft, &plan.bytes()).and_then(|()| self.disk.rename(&draft, &self.forward()));
        if let Err(error) = wrote {
            self.clear();
            return Err(WriteError::new(self.folder, &error));
        }
        for file in &plan.files {
            if let Err(error) = self.place_one(file) {
                let failed = WriteError::new(&self.target(&file.name), &error);
                let mixed = self.take_back(&plan).is_err();
                if !mixed {
                    self.clear();
                }
                return Err(WriteError { mixed, ..failed });
            }
        }
        self.clear();
        Ok(())
    }

    fn place_one(&self, file: &Planned) -> Result<()> {
        let (target, kept) = (self.target(&file.name), self.kept(&file.name));
        // One that a killed run kept already is the same: its successor still waits.
        if file.replaces && !kept.exists() {
            self.disk.keep(&target, &kept)?;
        }
        self.disk.rename(&self.fresh(&file.name), &target)
    }

    /// Turns the plan round, then undoes it.
    fn take_back(&self, plan: &Plan) -> std::result::Result<(), WriteError> {
        // A name takes no room, so this also goes on a full disk.
        let turned = self.disk.rename(&self.forward(), &self.backward());
        turned.map_err(|e| WriteError { mixed: true, ..WriteError::new(self.folder, &e) })?;
        self.undo(plan)
    }

    /// Puts back what was replaced and takes away what was new. Each step sees for
    /// itself whether it is still to be done, so it can be cut short and done again.
    fn undo(&self, plan: &Plan) -> std::result::Result<(), WriteError> {
        for file in &plan.files {
            let (target, kept, fresh) =
                (self.target(&file.name), self.kept(&file.name), self.fresh(&file.name));
            // As long as the new one waits, the old one has its name still; one that may not
            // be replaced may not be put back on itself either.
            let undone = if file.replaces && kept.exists() && !fresh.exists() {
                self.disk.rename(&kept, &target)
            } else if !file.replaces && !fresh.exists() && target.exists() {
                self.disk.rename(&target, &fresh)
            } else {
                Ok(())
            };
            undone.map_err(|e| WriteError { mixed: true, ..WriteError::new(&target, &e) })?;
        }
        Ok(())
    }

    /// Removes our own folder, the plan first: without a plan all else is waste.
    /// What cannot be removed waits for the next run.
    fn clear(&self) {
        let files = [self.forward(), self.backward(), self.own.join("draft")];
        if files.iter().any(|path| self.disk.remove(path).is_err()) {
            return;
        }
        for folder in ["new", "old"].map(|name| self.own.join(name)) {
            for entry in fs::read_dir(&folder).into_iter().flatten().flatten() {
                let _waits = self.disk.remove(&entry.path());
            }
            let _waits = self.disk.remove_folder(&folder);
        }
    }
}

impl Drop for Staging<'_> {
    fn drop(&mut self) {
        // Nobody waits for a folder in which a plan stands: it is for the next run.
        if !self.forward().exists()
            && !self.backward().exists()
            && self.disk.remove(&self.own.join("lock")).is_ok()
        {
            let _stays_if_not_empty = self.disk.remove_folder(&self.own);
        }
        let _ends_with_the_process = self.lock.unlock();
    }
}

/// Whether the file held is still the one that has the name: a run that has just ended
/// removes it while others wait for it.
#[cfg(unix)]
fn is_at(held: &fs::File, name: &Path) -> bool {
    use std::os::unix::fs::MetadataExt;
    let id = |data: fs::Metadata| (data.dev(), data.ino());
    match (held.metadata(), fs::symlink_metadata(name)) {
        (Ok(held), Ok(named)) => id(held) == id(named),
        _ => false,
    }
}

/// Elsewhere a file that is held cannot be removed.
#[cfg(not(unix))]
fn is_at(_held: &fs::File, name: &Path) -> bool {
    name.exists()
}

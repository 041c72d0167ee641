//! Every operation of a write fails once, and is once the last that a run does.

use std::io::{Error, Result, Write};
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering::SeqCst};

use super::*;

#[derive(Clone, Copy, Debug, PartialEq)]
enum Harm {
    /// The operation fails, later ones do not.
    Fails,
    /// This and all after it fail: a target that is locked, a disk that is full.
    KeepsFailing,
    /// The run is killed in it.
    Kills,
    /// None fails but those on the file of this name in the folder: it is somebody else's.
    Locks(&'static str),
}

/// A disk on which one operation goes wrong.
struct Harmed {
    at: usize,
    harm: Harm,
    count: AtomicUsize,
    log: Mutex<Vec<&'static str>>,
}

impl Harmed {
    fn new(at: usize, harm: Harm) -> Self {
        Self { at, harm, count: AtomicUsize::new(0), log: Mutex::default() }
    }

    fn goes(&self, what: &'static str) -> Result<()> {
        let now = self.count.fetch_add(1, SeqCst);
        self.log.lock().unwrap().push(what);
        let harmed = match self.harm {
            Harm::Fails => now == self.at,
            Harm::KeepsFailing | Harm::Kills => now >= self.at,
            Harm::Locks(_) => false,
        };
        if harmed { Err(Error::from(ErrorKind::StorageFull)) } else { Ok(()) }
    }
}

impl Disk for Harmed {
    fn make_folder(&self, path: &Path) -> Result<()> {
        self.goes("make folder").and_then(|()| System.make_folder(path))
    }

    fn write(&self, path: &Path, bytes: &[u8]) -> Result<()> {
        if let Err(error) = self.goes("write") {
            // Half of it is on the disk.
            let half = bytes.get(..bytes.len() / 2).unwrap_or_default();
            let _half = fs::File::create(path).and_then(|mut file| file.write_all(half));
            return Err(error);
        }
        System.write(path, bytes)
    }

    fn keep(&self, from: &Path, to: &Path) -> Result<()> {
        self.goes("keep").and_then(|()| System.keep(from, to))
    }

    fn rename(&self, from: &Path, to: &Path) -> Result<()> {
        let inside = |path: &Path| path.components().any(|part| part.as_os_str() == ".rodwright");
        let locked = |path: &Path| matches!(self.harm, Harm::Locks(name) if path.ends_with(name));
        if [from, to].into_iter().any(|path| locked(path) && !inside(path)) {
            return Err(Error::from(ErrorKind::PermissionDenied));
        }
        self.goes("rename").and_then(|()| System.rename(from, to))
    }

    fn remove(&self, path: &Path) -> Result<()> {
        self.goes("remove").and_then(|()| System.remove(path))
    }

    fn remove_folder(&self, path: &Path) -> Result<()> {
        self.goes("remove folder").and_then(|()| System.remove_folder(path))
    }
}

fn set(names: &[&str], text: &str) -> Vec<File> {
    names
        .iter()
        .map(|name| File { name: (*name).into(), bytes: format!("{text} {name}").into_bytes() })
        .collect()
}

/// The files of a folder with what they hold, ours left out.
fn standing(folder: &Path) -> Vec<(String, String)> {
    let mut all: Vec<_> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.is_file())
        .map(|path| {
            (path.file_name().unwrap().to_string_lossy().into_owned(), fs::read_to_string(&path).unwrap())
        })
        .collect();
    all.sort();
    all
}

fn as_standing(files: &[File]) -> Vec<(String, String)> {
    files.iter().map(|f| (f.name.clone(), String::from_utf8(f.bytes.clone()).unwrap())).collect()
}

/// The old set has `a` and `b`; the new one replaces them and adds `c`.
const OLD: [&str; 2] = ["a.svg", "b.svg"];
const NEW: [&str; 3] = ["a.svg", "b.svg", "c.svg"];

/// Writes the new set over the old one on a disk that is harmed, and gives what stood
/// then: the folder, what the write said, how many operations were begun.
fn written_harmed(at: usize, harm: Harm) -> (tempfile::TempDir, std::result::Result<(), WriteError>, usize) {
    let folder = tempfile::tempdir().unwrap();
    write_all(folder.path(), &set(&OLD, "old")).unwrap();
    let disk = Harmed::new(at, harm);
    let said = write_with(&disk, folder.path(), &set(&NEW, "new"));
    (folder, said, disk.count.load(SeqCst))
}

fn operations() -> usize {
    written_harmed(usize::MAX, Harm::Fails).2
}

#[test]
fn a_write_that_fails_anywhere_leaves_the_old_set_and_says_so() {
    let (old, new) = (as_standing(&set(&OLD, "old")), as_standing(&set(&NEW, "new")));
    let (mut refused, mut done) = (0, 0);
    for at in 0..operations() {
        let (folder, said, _) = written_harmed(at, Harm::Fails);
        let now = standing(folder.path());
        if let Err(error) = said {
            assert!(!error.mixed, "operation {at}");
            assert_eq!(now, old, "operation {at}: it says that nothing was changed");
            refused += 1;
        } else {
            // Only the tidying afterwards went wrong.
            assert_eq!(now, new, "operation {at}");
            done += 1;
        }
        write_all(folder.path(), &set(&NEW, "next")).unwrap();
        assert_eq!(standing(folder.path()), as_standing(&set(&NEW, "next")));
        assert!(!folder.path().join(".rodwright").exists(), "operation {at}: something is left over");
    }
    assert!(refused > 8 && done > 3, "{refused} {done}");
}

#[test]
fn a_disk_that_goes_on_failing_is_never_called_unchanged_when_it_is_not() {
    let (old, new) = (as_standing(&set(&OLD, "old")), as_standing(&set(&NEW, "new")));
    for at in 0..operations() {
        let (folder, said, _) = written_harmed(at, Harm::KeepsFailing);
        let now = standing(folder.path());
        match said {
            Ok(()) => assert_eq!(now, new, "operation {at}"),
            Err(error) if error.mixed => assert!(error.help("x").starts_with("some files are new")),
            Err(_) => assert_eq!(now, old, "operation {at}: it says that nothing was changed"),
        }
    }
}

#[test]
fn a_run_that_is_killed_anywhere_is_finished_or_gone_after_the_next() {
    let (old, new) = (as_standing(&set(&OLD, "old")), as_standing(&set(&NEW, "new")));
    let (mut finished, mut gone) = (0, 0);
    for at in 0..operations() {
        let (folder, _, _) = written_harmed(at, Harm::Kills);
        // The next run sets out something else beside it.
        write_all(folder.path(), &set(&["z.pdf"], "other")).unwrap();
        let mut now = standing(folder.path());
        assert_eq!(now.pop().unwrap().0, "z.pdf");
        assert!(now == old || now == new, "killed in operation {at}: {now:?}");
        if now == new {
            finished += 1;
        } else {
            gone += 1;
        }
        assert!(
            !folder.path().join(".rodwright").exists(),
            "killed in operation {at}: something is left over"
        );
    }
    assert!(finished > 8 && gone > 4, "{finished} {gone}");
}

#[test]
fn a_file_that_cannot_be_replaced_keeps_the_whole_set() {
    for name in NEW {
        let (folder, said, _) = written_harmed(0, Harm::Locks(name));
        let error = said.unwrap_err();
        assert_eq!((error.path, error.mixed), (folder.path().join(name), false));
        assert_eq!(standing(folder.path()), as_standing(&set(&OLD, "old")), "{name} is locked");
        assert!(!folder.path().join(".rodwright").exists());
    }
}

#[test]
fn a_run_that_is_killed_is_undone_where_the_next_cannot_finish_it() {
    let (old, new) = (as_standing(&set(&OLD, "old")), as_standing(&set(&NEW, "new")));
    for at in 0..operations() {
        for name in NEW {
            let (folder, _, _) = written_harmed(at, Harm::Kills);
            let _the_rest_stands =
                write_with(&Harmed::new(0, Harm::Locks(name)), folder.path(), &set(&["z.pdf"], "other"));
            // Unlocked again, whatever was left is put right.
            write_all(folder.path(), &set(&["y.pdf"], "third")).unwrap();
            let mut now = standing(folder.path());
            now.retain(|(name, _)| Path::new(name).extension().is_none_or(|ending| ending != "pdf"));
            assert!(now == old || now == new, "killed in {at}, then {name} is locked: {now:?}");
        }
    }
}

#[test]
fn the_next_run_may_be_killed_as_well() {
    let (old, new) = (as_standing(&set(&OLD, "old")), as_standing(&set(&NEW, "new")));
    for at in 0..operations() {
        for again in 0..6 {
            let (folder, _, _) = written_harmed(at, Harm::Kills);
            let _killed =
                write_with(&Harmed::new(again, Harm::Kills), folder.path(), &set(&["z.pdf"], "other"));
            write_all(folder.path(), &set(&["y.pdf"], "third")).unwrap();
            let mut now = standing(folder.path());
            now.retain(|(name, _)| Path::new(name).extension().is_none_or(|ending| ending != "pdf"));
            assert!(now == old || now == new, "killed in {at}, then in {again}: {now:?}");
        }
    }
}

#[test]
fn of_runs_at_once_one_whole_set_stands() {
    let folder = tempfile::tempdir().unwrap();
    let sets: Vec<Vec<File>> = (0..8).map(|n| set(&NEW, &format!("run {n}"))).collect();
    std::thread::scope(|scope| {
        for files in &sets {
            scope.spawn(|| write_all(folder.path(), files).unwrap());
        }
    });
    let now = standing(folder.path());
    assert!(sets.iter().any(|files| as_standing(files) == now), "{now:?}");
    assert!(!folder.path().join(".rodwright").exists());
}

#[test]
fn a_plan_from_a_stranger_leads_nowhere() {
    let folder = tempfile::tempdir().unwrap();
    let outside = folder.path().join("mine.txt");
    fs::write(&outside, "mine").unwrap();
    let set_folder = folder.path().join("set");
    let own = set_folder.join(".rodwright");
    fs::create_dir_all(own.join("new")).unwrap();
    fs::create_dir_all(own.join("old")).unwrap();
    for plan in ["plan", "undo"] {
        fs::write(own.join(plan), r#"{"files":[{"name":"../mine.txt","replaces":false}]}"#).unwrap();
    }
    write_all(&set_folder, &set(&OLD, "old")).unwrap();
    assert_eq!(fs::read_to_string(&outside).unwrap(), "mine");
    assert_eq!(standing(&set_folder), as_standing(&set(&OLD, "old")));
}

#[cfg(unix)]
#[test]
fn a_link_in_place_of_our_folder_is_not_followed() {
    let folder = tempfile::tempdir().unwrap();
    let elsewhere = tempfile::tempdir().unwrap();
    fs::create_dir_all(elsewhere.path().join("new")).unwrap();
    fs::write(elsewhere.path().join("new/keep.txt"), "keep").unwrap();
    std::os::unix::fs::symlink(elsewhere.path(), folder.path().join(".rodwright")).unwrap();
    let error = write_all(folder.path(), &set(&OLD, "old")).unwrap_err();
    assert_eq!(error.why, "`.rodwright` in it is a link");
    assert!(elsewhere.path().join("new/keep.txt").exists());
    assert_eq!(standing(folder.path()), []);
}

#[cfg(unix)]
#[test]
fn a_link_that_leads_nowhere_is_said_to_be_one() {
    let folder = tempfile::tempdir().unwrap();
    let link = folder.path().join("out");
    std::os::unix::fs::symlink(folder.path().join("gone"), &link).unwrap();
    let error = write_all(&link, &set(&OLD, "old")).unwrap_err();
    assert_eq!(error.why, "it is a link to a folder that is not there");
    assert!(!folder.path().join("gone").exists());
}

/// A target that is a folder, in a folder that can only be read, or a file in place of the
/// folder: nothing is changed and nothing is left over.
#[cfg(unix)]
#[test]
fn a_target_that_cannot_be_taken_leaves_all_as_it_was() {
    let folder = tempfile::tempdir().unwrap();
    write_all(folder.path(), &set(&OLD, "old")).unwrap();
    fs::create_dir(folder.path().join("c.svg")).unwrap();
    let error = write_all(folder.path(), &set(&NEW, "new")).unwrap_err();
    assert_eq!((error.path, error.why.as_str()), (folder.path().join("c.svg"), "a folder has that name"));
    assert_eq!(standing(folder.path()), as_standing(&set(&OLD, "old")));
    assert!(!folder.path().join(".rodwright").exists());
}

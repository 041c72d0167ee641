//! The program where it may not write: a folder that can only be read, a target that
//! cannot be replaced, a disk without room. The set before stands untouched, nothing is
//! left over, and the message says so.
//!
//! Rules of access do not bind the superuser, so run as one the program is started as
//! nobody; a file of somebody else then takes a superuser to make, and without one that
//! test says that it shows nothing.

#![cfg(unix)]

use std::fs;
use std::os::unix::fs::{MetadataExt, PermissionsExt, chown};
use std::os::unix::process::CommandExt;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use super::kills::{SHELF, WIDE, set};

/// The user without rights, by the number it has on all Unix systems known to us.
const NOBODY: u32 = 65_534;

/// A folder that all may read, with the script and the program in it: what stands where
/// the tests are built may be closed to nobody.
struct Shop {
    folder: tempfile::TempDir,
    root: bool,
}

impl Shop {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let root = fs::metadata(folder.path()).unwrap().uid() == 0;
        allow(folder.path(), 0o755);
        fs::write(folder.path().join("shelf.rhai"), SHELF).unwrap();
        let program = folder.path().join("rodwright");
        fs::copy(env!("CARGO_BIN_EXE_rodwright"), &program).unwrap();
        allow(&program, 0o755);
        Self { folder, root }
    }

    /// A folder for the set, open to all, with a set in it.
    fn with_a_set(&self) -> PathBuf {
        let out = self.folder.path().join("out");
        fs::create_dir(&out).unwrap();
        allow(&out, 0o777);
        let done = self.run(&out, WIDE[0], &[]);
        assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
        out
    }

    /// Runs the program as somebody bound by the rules of access, behind the words of a
    /// command line that starts it, if any.
    fn run(&self, out: &Path, wide: u32, before: &[&str]) -> Output {
        let program = self.folder.path().join("rodwright");
        let line = before.iter().map(PathBuf::from).chain([program, "setout".into()]);
        let line: Vec<PathBuf> = line.chain([self.folder.path().join("shelf.rhai")]).collect();
        let mut command = Command::new(&line[0]);
        command.args(&line[1..]).arg("--out").arg(out).arg("--set").arg(format!("wide={wide}"));
        command.stdin(Stdio::null()).current_dir(self.folder.path());
        if self.root {
            command.uid(NOBODY).gid(NOBODY);
        }
        command.output().unwrap()
    }

    /// That a run of another width fails, says so, and leaves `out` as it is.
    fn is_refused(&self, out: &Path, before: &[&str], says: &str) {
        let old = set(out);
        let done = self.run(out, WIDE[1], before);
        let said = String::from_utf8(done.stderr).unwrap();
        assert_eq!(done.status.code(), Some(3), "{said}");
        assert!(said.starts_with("error[unwritable-file]: "), "{said}");
        assert!(said.contains(says) && said.contains("= help: nothing was changed; "), "{said}");
        assert!(done.stdout.is_empty());
        assert!(set(out) == old, "it says that nothing was changed");
        assert!(!out.join(".rodwright").exists(), "something is left over");
    }
}

fn allow(path: &Path, mode: u32) {
    fs::set_permissions(path, fs::Permissions::from_mode(mode)).unwrap();
}

mod slow_tests {
    use super::*;

    #[test]
    fn a_folder_that_can_only_be_read_keeps_its_set() {
        let shop = Shop::new();
        let out = shop.with_a_set();
        allow(&out, 0o555);
        shop.is_refused(&out, &[], "out` cannot be written: permission is denied");
        allow(&out, 0o755);
    }

    /// In a folder with the sticky bit only the owner of a file may replace it: each file
    /// of the set in turn is somebody else's, the first, one in the middle and the last.
    #[test]
    fn a_file_of_somebody_else_in_a_sticky_folder_keeps_the_whole_set() {
        let shop = Shop::new();
        if !shop.root {
            println!("not shown: only the superuser can give a file to somebody else");
            return;
        }
        let out = shop.with_a_set();
        allow(&out, 0o1777);
        let names: Vec<String> = set(&out).into_keys().collect();
        for at in [0, names.len() / 2, names.len() - 1] {
            let file = out.join(&names[at]);
            chown(&file, Some(0), Some(0)).unwrap();
            shop.is_refused(&out, &[], &names[at]);
            chown(&file, Some(NOBODY), Some(NOBODY)).unwrap();
        }
        // Free again, it is written.
        assert!(shop.run(&out, WIDE[1], &[]).status.success());
    }

    #[test]
    fn a_folder_in_place_of_a_file_keeps_the_whole_set() {
        let shop = Shop::new();
        let out = shop.with_a_set();
        let last = set(&out).into_keys().next_back().unwrap();
        fs::remove_file(out.join(&last)).unwrap();
        fs::create_dir(out.join(&last)).unwrap();
        shop.is_refused(&out, &[], "a folder has that name");
    }

    /// No room: files may grow to so many blocks of 512 bytes, and more is refused as on
    /// a disk that is full. Tried with too little for the least file and for all but the
    /// greatest.
    #[test]
    fn a_disk_without_room_keeps_the_whole_set() {
        let shop = Shop::new();
        let out = shop.with_a_set();
        let greatest = set(&out).values().map(Vec::len).max().unwrap();
        for blocks in [0, 8, greatest / 512] {
            let limited = format!("trap '' XFSZ; ulimit -f {blocks}; exec \"$@\"");
            shop.is_refused(&out, &["/bin/sh", "-c", &limited, "sh"], "cannot be written: ");
        }
    }
}

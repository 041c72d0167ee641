//! The command line: what it prints, how it ends, what it leaves on disk.

use std::ffi::OsString;
use std::fs;
use std::path::Path;

use rodwright::File;
use rodwright::cli::{Ended, Folder, Terminal, run, write_all};
use rodwright::script::{LoadError, Loader};

use crate::support::golden::golden;

/// Runs a command line: how it ended, what it answered, what it remarked.
fn rodwright(line: &[&str]) -> (Ended, String, String) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let line = std::iter::once("rodwright").chain(line.iter().copied()).map(OsString::from);
    let ended = run(line, rodwright::words(), &mut Terminal::new(&mut out, &mut err));
    (ended, String::from_utf8(out).unwrap(), String::from_utf8(err).unwrap())
}

#[test]
fn a_good_script_checks() {
    let line = ["check", "scripts/periodicals_cabinet.rhai", "--set", "width=1100", "--set", "tongue=12"];
    let clean = "scripts/periodicals_cabinet.rhai: no problems\n";
    assert_eq!(rodwright(&line), (Ended::Done, clean.into(), String::new()));
}

#[test]
fn a_bad_setting_is_a_problem() {
    let (ended, out, err) = rodwright(&["check", "scripts/low_bookcase.rhai", "--set", "width=3000"]);
    assert_eq!((ended, ended.code(), out.as_str()), (Ended::Problems, 1, ""));
    assert_eq!(
        err,
        "error[out-of-range]: `width` is set to `3000`: 3000 mm is out of its range\n\
         \x20 --> scripts/low_bookcase.rhai:14:15\n\
         \x20  |\n\
         14 | let width   = size(\"width\",  1000, #{ from: 500, to: 1200, says: \"overall width\" });\n\
         \x20  |               ^^^^ declared here\n\
         \x20  |\n\
         \x20  = help: it can be 500 mm to 1200 mm\n\n1 error\n"
    );
}

#[test]
fn settings_may_be_fractions_of_an_inch() {
    let (ended, _, err) = rodwright(&["check", "scripts/low_bookcase.rhai", "--set", "width=39 3/8"]);
    assert_eq!((ended, err.as_str()), (Ended::Done, ""));
}

#[test]
fn sizes_are_listed_without_running_the_script() {
    let (ended, out, err) = rodwright(&["sizes", "scripts/low_bookcase.rhai"]);
    assert_eq!((ended, err.as_str()), (Ended::Done, ""));
    assert_eq!(
        out,
        "name     value    can be            what it is\n\
         inches   no       yes, no           stock in inch thicknesses (3/4 and 1/4) instead of 18 and 6 mm\n\
         width    1000     500 to 1200 mm    overall width\n\
         height   850      500 to 1300 mm    overall height\n\
         depth    290      200 to 400 mm     overall depth\n\
         plinth   90       50 to 150 mm      height of the plinth\n\
         shelves  2        1 to 4            fixed shelves between bottom and top\n\
         housing  stopped  stopped, through  housings stopped behind the front edge, or through\n"
    );
}

#[test]
fn sizes_and_problems_come_as_json() {
    let (_, out, _) = rodwright(&["sizes", "scripts/notice_frame.rhai", "--json"]);
    let sizes: serde_json::Value = serde_json::from_str(&out).unwrap();
    assert_eq!(sizes["sizes"][4]["name"], "clearance");
    assert_eq!(sizes["sizes"][4]["to"], 3.0);
    let (ended, out, err) = rodwright(&["check", "tests/script/problems/words/american_word.rhai", "--json"]);
    assert_eq!((ended, err.as_str()), (Ended::Problems, ""));
    let problems: serde_json::Value = serde_json::from_str(&out).unwrap();
    assert_eq!(problems[0]["code"], "unknown-word");
    assert_eq!(problems[0]["places"][0]["line"], 6);
}

#[test]
fn a_script_that_cannot_be_read_is_said() {
    let cases = [
        ("scripts/none.rhai", "there is no such file"),
        ("scripts", "it is not a file"),
        ("src/paper/fonts/IBMPlexSansCondensed-Regular.ttf", "it is not UTF-8 text"),
    ];
    for (path, why) in cases {
        let (ended, out, err) = rodwright(&["check", path]);
        assert_eq!((ended.code(), out.as_str()), (3, ""), "{path}");
        assert!(
            err.starts_with(&format!("error[unreadable-file]: `{path}` cannot be read: {why}\n")),
            "{err}"
        );
    }
    let (_, _, err) = rodwright(&["check", "scripts/low_bookcase"]);
    assert!(err.contains("did you mean `scripts/low_bookcase.rhai`?"), "{err}");
}

#[test]
fn wrong_use_ends_with_two() {
    for line in
        [&["chek"][..], &["check"], &[], &["check", "x", "--set", "width"], &["check", "x", "--colour"]]
    {
        let (ended, out, err) = rodwright(line);
        assert_eq!((ended.code(), out.as_str()), (2, ""), "{line:?}");
        assert!(err.contains("Usage") || err.contains("--help"), "{err}");
    }
    let (ended, out, _) = rodwright(&["--help"]);
    assert_eq!(ended, Ended::Done);
    assert!(out.contains("check"), "{out}");
}

#[test]
fn the_licences_are_shown_with_the_whole_notice_of_the_lettering() {
    let (ended, out, err) = rodwright(&["--licences"]);
    assert_eq!((ended, err.as_str()), (Ended::Done, ""));
    assert!(
        out.starts_with("rodwright is licensed under the MIT License or the Apache License, Version 2.0\n")
    );
    assert!(out.contains("(SPDX: MIT OR Apache-2.0)"), "{out}");
    let notice = fs::read_to_string("src/paper/fonts/OFL.txt").unwrap();
    assert!(notice.contains("SIL OPEN FONT LICENSE Version 1.1"));
    assert!(out.ends_with(&notice), "{out}");
    // It is said alone.
    assert_eq!(rodwright(&["--licences", "check", "x"]).0, Ended::WrongUse);
    assert!(rodwright(&["--help"]).1.contains("--licences"));
}

/// A reader that has gone away.
struct Gone(std::io::ErrorKind);

impl std::io::Write for Gone {
    fn write(&mut self, _: &[u8]) -> std::io::Result<usize> {
        Err(self.0.into())
    }
    fn flush(&mut self) -> std::io::Result<()> {
        Ok(())
    }
}

#[test]
fn a_broken_pipe_is_success_and_a_full_disk_is_not() {
    for (kind, ended) in
        [(std::io::ErrorKind::BrokenPipe, Ended::Done), (std::io::ErrorKind::StorageFull, Ended::Files)]
    {
        let mut err = Vec::new();
        let line = ["rodwright", "sizes", "scripts/low_bookcase.rhai"].map(OsString::from);
        assert_eq!(run(line, rodwright::words(), &mut Terminal::new(&mut Gone(kind), &mut err)), ended);
        assert_eq!(err.is_empty(), ended == Ended::Done);
    }
}

#[test]
fn modules_stay_in_the_scripts_folder() {
    let folder = tempfile::tempdir().unwrap();
    let inner = folder.path().join("scripts");
    fs::create_dir(&inner).unwrap();
    fs::write(folder.path().join("secret.rhai"), "fn secret() {}").unwrap();
    fs::write(inner.join("own.rhai"), "\u{feff}fn own() {}").unwrap();
    fs::write(inner.join("large.rhai"), "x".repeat(100)).unwrap();
    #[cfg(unix)]
    std::os::unix::fs::symlink("../secret.rhai", inner.join("link.rhai")).unwrap();
    let loader = Folder::of_script(&inner.join("main.rhai"), 50);
    assert_eq!(loader.read("own.rhai"), Ok("fn own() {}".into()));
    assert_eq!(loader.read("large.rhai"), Err(LoadError::TooLarge));
    assert_eq!(loader.read("none.rhai"), Err(LoadError::NotFound));
    #[cfg(unix)]
    assert_eq!(loader.read("link.rhai"), Err(LoadError::Outside));
}

/// Names in a folder, sorted.
fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> =
        fs::read_dir(folder).unwrap().map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

/// A file to write.
fn file(name: &str, text: &str) -> File {
    File { name: name.into(), bytes: text.into() }
}

#[test]
fn files_are_written_whole_or_not_at_all() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("new/set");
    write_all(&out, &[file("a.svg", "one"), file("b.svg", "two")]).unwrap();
    fs::write(out.join("mine.txt"), "keep").unwrap();
    write_all(&out, &[file("a.svg", "three")]).unwrap();
    assert_eq!(names(&out), ["a.svg", "b.svg", "mine.txt"]);
    assert_eq!(fs::read_to_string(out.join("a.svg")).unwrap(), "three");

    // A folder where the second file should be: the first keeps its old text.
    fs::create_dir(out.join("c.svg")).unwrap();
    let error = write_all(&out, &[file("a.svg", "four"), file("c.svg", "five")]).unwrap_err();
    assert_eq!((error.path, error.why.as_str()), (out.join("c.svg"), "a folder has that name"));
    assert_eq!(fs::read_to_string(out.join("a.svg")).unwrap(), "three");
    assert_eq!(names(&out), ["a.svg", "b.svg", "c.svg", "mine.txt"]);
}

#[test]
fn a_folder_that_cannot_be_written_is_said() {
    let folder = tempfile::tempdir().unwrap();
    let taken = folder.path().join("taken");
    fs::write(&taken, "a file").unwrap();
    let error = write_all(&taken, &[file("a.svg", "one")]).unwrap_err();
    assert_eq!((error.path, error.why.as_str()), (taken.clone(), "a file is where a folder should be"));
    assert_eq!(fs::read_to_string(&taken).unwrap(), "a file");
    // The kernel's own folder refuses new files whoever asks.
    #[cfg(target_os = "linux")]
    assert!(write_all(Path::new("/proc/self"), &[file("a.svg", "one")]).is_err());
}

#[test]
fn what_files_and_names_are_refused_is_said() {
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(name).to_string_lossy().into_owned();
    fs::write(folder.path().join("taken"), "a file").unwrap();
    let refused = |line: &[&str]| {
        let (ended, out, err) = rodwright(line);
        assert!(ended != Ended::Done && out.is_empty(), "{line:?}: {out}");
        err.replace(&*folder.path().to_string_lossy(), "FOLDER").replace('\\', "/")
    };
    let cases = [
        ("no script", refused(&["check", &path("none.rhai")])),
        ("no type", refused(&["start", "bookcse"])),
        ("no type like it", refused(&["start", "xylophone"])),
        ("no example", refused(&["start", "--example", "own_prt"])),
        ("no example in inches", refused(&["start", "--example", "curves", "--units", "in"])),
        ("start over a file", refused(&["start", "bookcase", "--out", &path("taken")])),
        ("set into a file", refused(&["setout", "scripts/notice_frame.rhai", "--out", &path("taken")])),
        (
            "a size set twice",
            refused(&["check", "scripts/low_bookcase.rhai", "--set", "width=900", "--set", "width=950"]),
        ),
        ("page over a file", refused(&["words", "--page", &path("taken")])),
    ];
    golden(file!(), &cases);
}

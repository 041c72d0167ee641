//! Whole sets: every script through the whole tool, on every paper, in both
//! units and every practice, judged by the drawing lint.

use std::fmt::Write as _;
use std::fs;

use rodwright::paper::lint::{Finding, judge_set};
use rodwright::{Choices, draw, set_out};

use crate::support::sets::{describe, looks, none, request, root, scripts, worked};

/// Judges every sheet of every script in every look; `output-samples/lint.md` is the
/// table of what was judged and found, which `UPDATE=1` makes anew.
#[test]
fn the_lint_finds_nothing_on_any_sheet_of_any_script() {
    let mut wrong = Vec::new();
    let mut table = String::from(LINT_TABLE);
    let (mut all_sets, mut all_sheets, mut all_found) = (0, 0, 0);
    for script in scripts() {
        let (job, parts) = worked(&script, &[]);
        let (mut sets, mut sheets, mut found) = (0, 0, 0);
        for look in looks() {
            let drawn = draw(&job, &parts, &look);
            assert!(drawn.problems.is_empty(), "{script} {look:?}: {:?}", drawn.problems);
            assert!(drawn.sheets.len() >= 4, "{script} {look:?}");
            let here: Vec<Finding> = judge_set(&drawn.sheets);
            if !here.is_empty() {
                let at = (look.paper, look.unit, look.profile);
                wrong.push(format!("{script} {at:?}: {}", describe(&here)));
            }
            (sets, sheets, found) = (sets + 1, sheets + drawn.sheets.len(), found + here.len());
        }
        writeln!(table, "| {script} | {sets} | {sheets} | {found} |").unwrap();
        (all_sets, all_sheets, all_found) = (all_sets + sets, all_sheets + sheets, all_found + found);
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    writeln!(table, "| all | {all_sets} | {all_sheets} | {all_found} |").unwrap();
    let path = root().join("output-samples/lint.md");
    if std::env::var_os("UPDATE").is_some() {
        fs::write(&path, &table).unwrap();
    }
    assert_eq!(table, fs::read_to_string(path).unwrap_or_default(), "UPDATE=1 makes it anew");
}

/// The head of the table of findings.
const LINT_TABLE: &str = "\
# What the drawing lint finds

Each script of `scripts/` at its own sizes, drawn on every paper, in both units and
every practice, each sheet judged by the rules named in `src/paper/lint/mod.rs` (D01 to
D27 and the others). A test makes this table and fails on any finding; sizes drawn by lot,
every joint and every type of the library are judged by tests of their own.

| script | sets | sheets judged | findings |
|---|---|---|---|
";

#[test]
fn the_same_script_gives_the_same_bytes() {
    for script in scripts() {
        let choices = Choices::default();
        let (one, two) =
            (set_out(&request(&script, &[]), &choices), set_out(&request(&script, &[]), &choices));
        none(&one.problems, &one.sources, &script);
        assert!(one.files.len() >= 6, "{script}");
        assert!(one.files == two.files, "{script}: two runs differ");
    }
}

/// The script whose sheets are kept as SVG too; those of the others are held by hash.
const WITH_SHEETS: &str = "periodicals_cabinet";

/// Whether a file is kept among the samples, rather than held by its hash.
fn kept(script: &str, name: &str) -> bool {
    let list = [".csv", ".json", ".xlsx"].iter().any(|ending| name.ends_with(ending));
    let sheet = script == WITH_SHEETS && name.ends_with(".svg");
    name == ".pdf" || list || sheet
}

/// FNV-1a over 64 bits (Fowler, Noll and Vo; their published offset and prime): tells
/// other bytes from these, and is the same on every machine.
fn hash(bytes: &[u8]) -> u64 {
    bytes
        .iter()
        .fold(0xcbf2_9ce4_8422_2325, |sum, byte| (sum ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3))
}

/// Test vectors of the published function: nothing, and `foobar`.
#[test]
fn hashes_are_the_published_ones() {
    assert_eq!(hash(b""), 0xcbf2_9ce4_8422_2325);
    assert_eq!(hash(b"foobar"), 0x8594_4171_f739_67e8);
}

/// The committed samples are what the program makes today: the PDF and the lists of
/// each script, the sheets of one; all else by hash in `hashes.txt`. `UPDATE=1` makes
/// them anew.
#[test]
fn output_samples_are_current() {
    let update = std::env::var_os("UPDATE").is_some();
    let samples = root().join("output-samples");
    let mut hashes: Vec<String> = Vec::new();
    for script in scripts() {
        let folder = samples.join(&script);
        let set = set_out(&request(&script, &[]), &Choices::default());
        none(&set.problems, &set.sources, &script);
        let (files, rest): (Vec<_>, Vec<_>) = set.files.iter().partition(|file| kept(&script, &file.name));
        for file in rest {
            hashes.push(format!("{:016x} {script}{}\n", hash(&file.bytes), file.name));
        }
        if update {
            fs::create_dir_all(&folder).unwrap();
            for old in fs::read_dir(&folder).unwrap() {
                let old = old.unwrap().path();
                if old.extension().is_none_or(|e| e != "png") {
                    fs::remove_file(old).unwrap();
                }
            }
            for file in &files {
                fs::write(folder.join(format!("{script}{}", file.name)), &file.bytes).unwrap();
            }
        }
        for file in &files {
            let path = folder.join(format!("{script}{}", file.name));
            let have = fs::read(&path).unwrap_or_default();
            assert!(
                have == file.bytes,
                "{} is not what the program makes; run with UPDATE=1",
                path.display()
            );
        }
        let have = fs::read_dir(&folder)
            .unwrap()
            .filter(|e| e.as_ref().unwrap().path().extension().is_some_and(|x| x != "png"));
        assert_eq!(have.count(), files.len(), "{} holds a file that is no longer made", folder.display());
    }
    let hashes = hashes.concat();
    if update {
        fs::write(samples.join("hashes.txt"), &hashes).unwrap();
    }
    let have = fs::read_to_string(samples.join("hashes.txt")).unwrap_or_default();
    assert_eq!(have, hashes, "run with UPDATE=1");
}

//! Runs of the program that are killed, and runs at once: a set is whole or untouched.
//!
//! `KILLS=1000` kills that many; each at another moment of the run.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

pub(super) const SHELF: &str = r#"
job("Shelf", #{ unit: "mm" });
let wide = size("wide", 600, #{ from: 300, to: 900 });
let ply = sheet_stock("Ply", #{ thick: 18, sheet: [2440, 1220], grain: "length" });
piece("Shelf");
let left = panel("Left side", ply, #{ x: [0, 18], y: [0, 250], z: [0, 700], grain: "z" });
let right = panel("Right side", ply, #{ x: [wide - 18, wide], y: [0, 250], z: [0, 700], grain: "z" });
for z in [100, 400] {
    let shelf = panel("Shelf", ply, #{ x: between(left, right), y: [0, 250], z: [z, z + 18], grain: "x" });
    housing(shelf, left, #{ depth: 6 });
    housing(shelf, right, #{ depth: 6 });
}
"#;

/// The program, to set out `script` in `folder` so wide.
fn program(script: &Path, folder: &Path, wide: u32) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_rodwright"));
    command.arg("setout").arg(script).arg("--out").arg(folder).arg("--set").arg(format!("wide={wide}"));
    command.stdout(Stdio::null()).stderr(Stdio::null());
    command
}

/// The files of the set called `shelf`.
pub(super) fn set(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let entries = fs::read_dir(folder).into_iter().flatten().map(|entry| entry.unwrap());
    let named = entries.map(|entry| (entry.file_name().into_string().unwrap(), entry.path()));
    named
        .filter(|(name, path)| name.starts_with("shelf") && path.is_file())
        .map(|(name, path)| (name, fs::read(path).unwrap()))
        .collect()
}

/// A folder with the script, a small script to run after a kill, and the two sets that
/// may stand, each with how long it took to write.
struct Shop {
    folder: tempfile::TempDir,
    sets: [BTreeMap<String, Vec<u8>>; 2],
    longest: Duration,
}

/// Widths whose sets have as many files.
pub(super) const WIDE: [u32; 2] = [600, 650];

impl Shop {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        fs::write(folder.path().join("shelf.rhai"), SHELF).unwrap();
        let small = "job(\"Batten\", #{ unit: \"mm\" });\nlet oak = board_stock(\"Oak\", #{ thick: 27 });\n\
                     piece(\"Batten\");\nboard(\"Batten\", oak, #{ x: [0, 500], y: [0, 40], z: [0, 20], grain: \"x\" });\n";
        fs::write(folder.path().join("batten.rhai"), small).unwrap();
        let mut longest = Duration::ZERO;
        let sets = WIDE.map(|wide| {
            let alone = folder.path().join(format!("alone-{wide}"));
            let start = Instant::now();
            assert!(program(&folder.path().join("shelf.rhai"), &alone, wide).status().unwrap().success());
            longest = longest.max(start.elapsed());
            set(&alone)
        });
        assert!(sets[0].len() > 10 && sets[0] != sets[1]);
        assert!(sets[0].keys().eq(sets[1].keys()));
        Self { folder, sets, longest }
    }

    fn run(&self, folder: &Path, wide: u32) -> Command {
        program(&self.folder.path().join("shelf.rhai"), folder, wide)
    }

    fn is_whole(&self, folder: &Path) -> bool {
        let now = set(folder);
        self.sets.contains(&now)
    }
}

mod slow_tests {
    use super::*;

    #[test]
    fn a_set_is_whole_after_a_kill_and_the_next_run() {
        let shop = Shop::new();
        let folder = shop.folder.path().join("out");
        assert!(shop.run(&folder, WIDE[0]).status().unwrap().success());
        let kills: u32 = std::env::var("KILLS").ok().and_then(|n| n.parse().ok()).unwrap_or(30);
        for kill in 0..kills {
            let wide = WIDE[(kill % 2) as usize];
            let mut child = shop.run(&folder, wide).spawn().unwrap();
            // From the first moment to one after the end.
            std::thread::sleep(shop.longest.mul_f64(1.1 * f64::from(kill) / f64::from(kills)));
            let _may_have_ended = child.kill();
            child.wait().unwrap();
            // The next run is of another script: it has no set of its own to cover this up.
            let batten = shop.folder.path().join("batten.rhai");
            assert!(program_plain(&batten, &folder).status().unwrap().success());
            assert!(shop.is_whole(&folder), "kill {kill} of {kills} left a mixed set");
            assert!(!folder.join(".rodwright").exists(), "kill {kill} left something over");
        }
    }

    #[test]
    fn of_two_runs_at_once_one_whole_set_stands() {
        let shop = Shop::new();
        let folder = shop.folder.path().join("out");
        for _ in 0..6 {
            let children = WIDE.map(|wide| shop.run(&folder, wide).spawn().unwrap());
            for mut child in children {
                assert!(child.wait().unwrap().success());
            }
            assert!(shop.is_whole(&folder));
        }
    }

    /// A table that is interrupted, at five moments from soon to late: said once more, it is
    /// done as if nothing had been, and rows that were whole are not written again.
    #[test]
    fn a_table_that_is_interrupted_is_taken_up_where_it_was() {
        let folder = tempfile::tempdir().unwrap();
        let at = folder.path();
        fs::write(at.join("shelf.rhai"), SHELF).unwrap();
        fs::write(at.join("sizes.csv"), "name,wide\nA,600\nB,610\nC,620\nD,630\nE,640\nF,2000\n").unwrap();
        let run = |to: &Path| {
            let mut command = Command::new(env!("CARGO_BIN_EXE_rodwright"));
            command.arg("table").arg(at.join("shelf.rhai")).arg(at.join("sizes.csv"));
            command.args(["--files", "lists", "--out"]).arg(to);
            command.stdout(Stdio::piped()).stderr(Stdio::null());
            command
        };
        let rows = |to: &Path| ["A", "B", "C", "D", "E", "F"].map(|row| set(&to.join(row)));
        let alone = at.join("alone");
        let start = Instant::now();
        // The last row is out of range, so that a problem is among them.
        assert_eq!(run(&alone).status().unwrap().code(), Some(1));
        let (whole, longest) = (rows(&alone), start.elapsed());
        assert!(whole[..5].iter().all(|set| set.len() > 4) && whole[5].is_empty());
        for kill in 1..=5 {
            let to = at.join(format!("killed-{kill}"));
            let mut child = run(&to).spawn().unwrap();
            std::thread::sleep(longest.mul_f64(f64::from(kill) / 6.0));
            let _may_have_ended = child.kill();
            child.wait().unwrap();
            let done = rows(&to).iter().zip(&whole).filter(|(a, b)| a == b && !a.is_empty()).count();
            let again = run(&to).output().unwrap();
            let said = String::from_utf8(again.stdout).unwrap();
            assert_eq!(again.status.code(), Some(1), "{said}");
            let kept = if done > 0 { format!(", {done} of them from an earlier run") } else { String::new() };
            assert!(said.starts_with(&format!("5 of 6 rows done{kept};")), "kill {kill}: {said}");
            assert!(rows(&to) == whole, "kill {kill}");
            let summary = |to: &Path| fs::read(to.join("shelf-table.csv")).unwrap();
            assert!(summary(&to) == summary(&alone), "kill {kill}");
            assert!(!["A", "B", "C", "D", "E"].iter().any(|row| to.join(row).join(".rodwright").exists()));
        }
    }

    fn program_plain(script: &Path, folder: &Path) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_rodwright"));
        command.arg("setout").arg(script).arg("--out").arg(folder);
        command.stdout(Stdio::null()).stderr(Stdio::null());
        command
    }
}

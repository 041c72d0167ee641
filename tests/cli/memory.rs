//! How much memory the program takes for the largest sets it accepts.

use std::fs;
use std::process::{Command, Stdio};
use std::time::Duration;

/// Most memory of a run, MB.
const MOST: u64 = 500;

/// A job of so many corner cases, no two alike: some eleven crowded sheets each.
fn cases(count: usize) -> String {
    format!(
        "import \"corner_case\" as corner_case;\njob(\"Many\");\nfor i in 0..{count} {{\n\
         piece(\"Corner case \" + i);\n\
         corner_case::make(#{{ wall: 500 + i * 5, height: 1000 + 10 * i, depth: 200, shelves: 3 }});\n}}\n"
    )
}

/// Sets out a script and gives the most memory the program held, MB, and how many sheets
/// it wrote; `None` where a system does not say.
fn set_out(script: &str) -> Option<(u64, usize)> {
    let folder = tempfile::tempdir().unwrap();
    let (text, out) = (folder.path().join("many.rhai"), folder.path().join("out"));
    fs::write(&text, script).unwrap();
    let mut command = Command::new(env!("CARGO_BIN_EXE_rodwright"));
    command.arg("setout").arg(&text).arg("--out").arg(&out).stdout(Stdio::null()).stderr(Stdio::null());
    let mut child = command.spawn().unwrap();
    let status = format!("/proc/{}/status", child.id());
    let mut most = None;
    while child.try_wait().unwrap().is_none() {
        let text = fs::read_to_string(&status).unwrap_or_default();
        let line = text.lines().find_map(|line| line.strip_prefix("VmHWM:"));
        most = line.and_then(|line| line.trim().strip_suffix(" kB")?.parse::<u64>().ok()).or(most);
        std::thread::sleep(Duration::from_millis(2));
    }
    assert!(child.wait().unwrap().success());
    let svg = |name: &str| name.ends_with(".svg");
    let sheets = fs::read_dir(&out)
        .unwrap()
        .filter(|e| svg(&e.as_ref().unwrap().file_name().to_string_lossy()))
        .count();
    Some((most? / 1024, sheets))
}

mod slow_tests {
    use super::*;

    #[test]
    fn a_set_of_nearly_as_many_sheets_as_may_be_stays_within_its_memory() {
        let Some((held, sheets)) = set_out(&cases(40)) else {
            println!("not shown: the system does not say what a program holds");
            return;
        };
        println!("{sheets} sheets, {held} MB");
        assert!((400..=450).contains(&sheets), "{sheets} sheets");
        assert!(held < MOST, "{held} MB for {sheets} sheets");
    }
}

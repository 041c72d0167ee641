//! Scripts by lot that pass are set out with all their files, and programs that are not ours
//! read them: the PDF whole, its fonts embedded and its pages as many as the sheets, each
//! SVG well formed, the workbook a whole archive, the job JSON.
//!
//! `ATTACK_SETS=10000` sets out so many, from `ATTACK_SEED=7` on; they need what `.ci/run`
//! installs.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use rodwright::drawing::Also;
use rodwright::{Choices, set_out};

use crate::strangers::scripts::{Scripts, asked};
use crate::support::scripts::request;
use crate::support::sets::looks;

/// What a program says of a file; an error is what it complains of.
fn says(program: &str, arguments: &[&str], files: &[PathBuf]) -> Result<String, String> {
    let done = Command::new(program).args(arguments).args(files).output();
    let done = done.unwrap_or_else(|e| panic!("`{program}` cannot be run ({e}); .ci/run installs it"));
    let said = String::from_utf8_lossy(&done.stdout).into_owned();
    if done.status.success() {
        return Ok(said);
    }
    Err(format!("{program}: {said}{}", String::from_utf8_lossy(&done.stderr)))
}

/// The files in a folder with an ending.
fn ending(folder: &Path, ending: &str) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let mut all: Vec<PathBuf> =
        entries.filter(|path| path.extension().is_some_and(|e| e == ending)).collect();
    all.sort();
    all
}

/// What the readers find wrong with a set.
fn judged(folder: &Path) -> Result<(), String> {
    let sheets = ending(folder, "svg");
    says("xmllint", &["--noout"], &sheets)?;
    for document in ending(folder, "pdf") {
        let whole = [document.clone()];
        says("qpdf", &["--check"], &whole)?;
        let about = says("pdfinfo", &[], &whole)?;
        let pages = about.lines().find_map(|line| line.strip_prefix("Pages:")).unwrap_or_default().trim();
        if !document.ends_with("set-labels.pdf") && pages != sheets.len().to_string() {
            return Err(format!("{pages} pages of {} sheets", sheets.len()));
        }
        for font in says("pdffonts", &[], &whole)?.lines().skip(2) {
            let marks: Vec<&str> = font.split_whitespace().rev().skip(2).take(3).collect();
            if marks != ["yes"; 3] {
                return Err(format!("not embedded, subset and readable: {font}"));
            }
        }
    }
    for list in ending(folder, "json") {
        let text = fs::read_to_string(&list).unwrap();
        serde_json::from_str::<serde_json::Value>(&text).map_err(|e| format!("{}: {e}", list.display()))?;
    }
    says("unzip", &["-tqq"], &ending(folder, "xlsx")).map(|_| ())
}

/// Sets out the script of a seed; `None` if it does not pass.
fn tried(seed: u64, text: String) -> Option<Result<(), String>> {
    let looks = looks();
    let look = &looks[seed as usize % looks.len()];
    let choices = Choices {
        paper: Some(look.paper),
        unit: Some(look.unit),
        profile: Some(look.profile),
        also: vec![Also::Dxf, Also::Gltf],
        ..Choices::default()
    };
    let request = request("set.rhai", text);
    rodwright::examine(&request).worked.as_ref()?;
    let set = set_out(&request, &choices);
    if set.files.is_empty() {
        return Some(Err("passes `check` half way and is not set out".into()));
    }
    let folder = tempfile::tempdir().unwrap();
    for file in &set.files {
        fs::write(folder.path().join(format!("set{}", file.name)), &file.bytes).unwrap();
    }
    Some(judged(folder.path()))
}

#[test]
#[ignore = "needs qpdf, poppler, xmllint and unzip; .ci/run runs it"]
fn scripts_by_lot_that_pass_are_read_by_others() {
    let scripts = Scripts::new();
    let (first, count) = (asked("ATTACK_SEED", 0), asked("ATTACK_SETS", 30));
    let (mut sets, mut wrong) = (0, Vec::new());
    for seed in first..first + 10 * count {
        let Some(found) = tried(seed, scripts.of(seed)) else { continue };
        wrong.extend(found.err().map(|why| format!("ATTACK_SEED={seed} ATTACK_SETS=1 {why}")));
        sets += 1;
        if sets == count {
            break;
        }
    }
    println!("{sets} sets set out and read");
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong.join("\n"));
    assert_eq!(sets, count, "too few pass");
}

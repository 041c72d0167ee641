//! Tables of sizes: rows worked, rows reported, rows kept.

use std::ffi::OsString;
use std::fs;
use std::path::Path;

use rodwright::cli::{Ended, Terminal, run};

use crate::support::golden::golden;

/// Runs `table` for the cabinet with a table of this text; gives what was said and the
/// folder.
fn table(text: &str, folder: &Path, more: &[&str]) -> (Ended, String) {
    let sizes = folder.join("sizes.csv");
    fs::write(&sizes, text).unwrap();
    let line = ["rodwright", "table", "scripts/periodicals_cabinet.rhai", sizes.to_str().unwrap(), "--out"];
    let line =
        line.into_iter().chain([folder.to_str().unwrap()]).chain(more.iter().copied()).map(OsString::from);
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let ended = run(line, rodwright::words(), &mut Terminal::new(&mut out, &mut err));
    let text = String::from_utf8(out).unwrap() + String::from_utf8(err).unwrap().as_str();
    (ended, text.replace(folder.to_str().unwrap(), "OUT"))
}

fn summary(folder: &Path) -> String {
    fs::read_to_string(folder.join("periodicals_cabinet-table.csv")).unwrap().replace('\r', "")
}

#[test]
fn rows_with_problems_are_reported_and_the_others_are_done() {
    let folder = tempfile::tempdir().unwrap();
    let text = "\u{feff}name;width;height\r\nBay 1;950,5;\r\nBay 2;2000;\r\nbay 1;900;\r\nup/down;900;\r\n;\"37 1/2\"\"\";380\r\n";
    let (ended, said) = table(text, folder.path(), &["--files", "none", "--rates", "scripts/rates.toml"]);
    assert_eq!(ended, Ended::Problems);
    golden(file!(), &[("said", said), ("summary", summary(folder.path())), ("refused", refused())]);
}

fn refused() -> String {
    let folder = tempfile::tempdir().unwrap();
    let texts = [
        "",
        "width,height\n",
        "name\nBay\n",
        "widht,height\n900,400\n",
        "width,,width\n900,1,2\n",
        "width,height\n900,\"400\n",
        "width\n\"900\"x\n",
        "width\n900,400\n",
    ];
    texts.map(|text| table(text, folder.path(), &["--files", "none"]).1).concat()
}

/// The lists of a row are those that `setout` writes for its sizes.
#[test]
fn a_row_is_what_setout_makes_of_it() {
    let folder = tempfile::tempdir().unwrap();
    let (ended, said) = table("name,width\nBay 1,950\n", folder.path(), &["--files", "lists"]);
    assert_eq!(ended, Ended::Done, "{said}");
    let own = tempfile::tempdir().unwrap();
    let to = own.path().to_str().unwrap();
    let line = ["rodwright", "setout", "scripts/periodicals_cabinet.rhai", "--set", "width=950", "--out", to];
    let (mut out, mut err) = (Vec::new(), Vec::new());
    run(line.map(OsString::from), rodwright::words(), &mut Terminal::new(&mut out, &mut err));
    let names = |folder: &Path| {
        let mut all: Vec<String> =
            fs::read_dir(folder).unwrap().map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
        all.sort();
        all
    };
    let lists = names(&folder.path().join("Bay 1"));
    assert!(lists.len() > 5 && lists.iter().all(|name| !name.ends_with(".pdf")), "{lists:?}");
    for name in &lists {
        let (mine, theirs) =
            (fs::read(folder.path().join("Bay 1").join(name)), fs::read(own.path().join(name)));
        assert!(mine.unwrap() == theirs.unwrap(), "{name}");
    }
}

/// A row that is there already is not written again; one that was cut short is.
#[test]
fn a_second_run_takes_up_where_the_first_ended() {
    let folder = tempfile::tempdir().unwrap();
    let text = "name,width\nA,950\nB,960\nC,970\n";
    let run = || table(text, folder.path(), &["--files", "lists"]);
    assert!(run().1.starts_with("3 of 3 rows done; they are listed"));
    let kept = folder.path().join("A/periodicals_cabinet-cutting-list.csv");
    let torn = folder.path().join("B/periodicals_cabinet-cutting-list.csv");
    let (before, whole) = (fs::metadata(&kept).unwrap().modified().unwrap(), fs::read(&torn).unwrap());
    fs::write(&torn, &whole[..40]).unwrap();
    fs::remove_dir_all(folder.path().join("C")).unwrap();
    let (ended, said) = run();
    assert_eq!(ended, Ended::Done);
    assert!(said.starts_with("3 of 3 rows done, 1 of them from an earlier run"), "{said}");
    assert_eq!(fs::metadata(&kept).unwrap().modified().unwrap(), before);
    assert_eq!(fs::read(&torn).unwrap(), whole);
}

/// A folder that cannot be is a row's own problem.
#[test]
fn a_row_that_cannot_be_written_leaves_the_others() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("B"), "a file stands in the way").unwrap();
    let (ended, said) = table("name,width\nA,950\nB,960\n", folder.path(), &["--files", "lists"]);
    assert_eq!(ended, Ended::Files);
    assert!(
        said.contains("row 2 `B`:\n  `OUT/B` cannot be written: a file is where a folder should be"),
        "{said}"
    );
    assert!(folder.path().join("A/periodicals_cabinet-lists.xlsx").is_file());
    assert!(summary(folder.path()).contains("2,B,960,no"));
}

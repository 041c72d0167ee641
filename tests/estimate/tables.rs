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

/// The first sheet of a workbook is the same table: rows, units and what is refused.
#[test]
fn a_workbook_does_what_its_first_sheet_says() {
    let mut book = rust_xlsxwriter::Workbook::new();
    let sheet = book.add_worksheet();
    let rows: [[&str; 3]; 4] = [
        ["name", "width", "height"],
        ["Bay 1", "950.5", ""],
        ["Bay 2", "2000", "400"],
        ["Bay, 3", "37 1/2\"", "380"],
    ];
    for (line, cells) in (0..).zip(rows) {
        for (column, cell) in (0..).zip(cells).filter(|(_, cell)| !cell.is_empty()) {
            // As a spreadsheet does: what is a number is kept as one.
            match cell.parse::<f64>() {
                Ok(number) => sheet.write(line, column, number).unwrap(),
                Err(_) => sheet.write(line, column, cell).unwrap(),
            };
        }
    }
    let sum = rust_xlsxwriter::Formula::new("=900+20").set_result("920");
    sheet.write(4, 0, "Bay 4").unwrap().write(4, 1, sum).unwrap();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("sizes.xlsx");
    book.save(&path).unwrap();
    let to = folder.path().join("book");
    let line = ["rodwright", "table", "scripts/periodicals_cabinet.rhai", path.to_str().unwrap()];
    let more = ["--files", "none", "--rates", "scripts/rates.toml", "--out", to.to_str().unwrap()];
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let line = line.into_iter().chain(more).map(OsString::from);
    let ended = run(line, rodwright::words(), &mut Terminal::new(&mut out, &mut err));
    assert_eq!(ended, Ended::Problems);
    let plain = tempfile::tempdir().unwrap();
    let text = "name,width,height\nBay 1,950.5,\nBay 2,2000,400\n\"Bay, 3\",\"37 1/2\"\"\",380\nBay 4,920,\n";
    let (ended, _) = table(text, plain.path(), &["--files", "none", "--rates", "scripts/rates.toml"]);
    assert_eq!(ended, Ended::Problems);
    assert_eq!(summary(&to), summary(plain.path()));
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

/// Whole tables, and runs of the program itself.
mod slow_tests {
    use super::*;

    /// A hundred thousand rows are all accounted for: the first is done, the others are
    /// called like it. Twenty are told on the terminal and every one in the summary.
    #[test]
    fn a_hundred_thousand_rows_are_reported_by_twenty() {
        const ROWS: usize = 100_000;
        let folder = tempfile::tempdir().unwrap();
        let text = format!("name,width\n{}", "A,950\n".repeat(ROWS));
        let (ended, said) = table(&text, folder.path(), &["--files", "none"]);
        assert_eq!(ended, Ended::Problems);
        assert!(said.starts_with("1 of 100000 rows done; they are listed"), "{said}");
        assert_eq!(said.matches("a row above it is called `A` too").count(), 20);
        assert!(said.ends_with("99979 more rows have problems; the summary names them\n"), "{said}");
        let summary = summary(folder.path());
        assert_eq!(summary.lines().count(), ROWS + 1);
        assert_eq!(summary.lines().last(), Some("100000,A,950,no,,a row above it is called `A` too"));
    }

    /// A disk that takes no more: here files beyond 4096 bytes, which is what the system
    /// may be told to refuse. The row done before is kept, of the other nothing is there,
    /// and with room again only that is made.
    #[cfg(target_os = "linux")]
    #[test]
    fn rows_that_are_done_stay_when_the_disk_takes_no_more() {
        let folder = tempfile::tempdir().unwrap();
        let at = folder.path();
        let lists = ["--files", "lists"];
        assert_eq!(table("name,width\nA,950\n", at, &lists).0, Ended::Done);
        let set = |row: &str| -> Vec<(OsString, Vec<u8>)> {
            let entries = fs::read_dir(at.join(row)).into_iter().flatten().map(Result::unwrap);
            let mut all: Vec<_> =
                entries.map(|one| (one.file_name(), fs::read(one.path()).unwrap())).collect();
            all.sort();
            all
        };
        let first = set("A");
        fs::write(at.join("sizes.csv"), "name,width\nA,950\nB,960\n").unwrap();
        let line = format!(
            "trap '' XFSZ; ulimit -f 8; exec {} table scripts/periodicals_cabinet.rhai {at}/sizes.csv --out {at} --files lists",
            env!("CARGO_BIN_EXE_rodwright"),
            at = at.display()
        );
        let full = std::process::Command::new("dash").args(["-c", &line]).output();
        // Only the plain shell counts in blocks of 512 bytes for certain.
        let full = full.unwrap_or_else(|_| panic!("a plain shell is needed, `dash`"));
        let said = String::from_utf8([full.stdout, full.stderr].concat()).unwrap();
        assert_eq!(full.status.code(), Some(3), "{said}");
        assert!(said.contains("1 of 2 rows done, 1 of them from an earlier run"), "{said}");
        assert!(said.contains("row 2 `B`:") && said.contains("cannot be written: file too large"), "{said}");
        assert_eq!(set("A"), first);
        assert_eq!(set("B"), []);
        let (ended, said) = table("name,width\nA,950\nB,960\n", at, &lists);
        assert_eq!(ended, Ended::Done, "{said}");
        assert!(said.starts_with("2 of 2 rows done, 1 of them from an earlier run"), "{said}");
        assert_eq!(set("B").len(), first.len());
    }
}

//! The shop's list of what is cut: names on lines, or a table, such as the cutting list
//! itself with a column `cut`.

use std::path::Path;

use super::csv::{self, Csv, CsvRow};
use super::{Ended, Terminal, loader};
use crate::problem::Problem;
use crate::revision::Ticked;
use crate::source::Sources;

/// Heads under which a part is named, the surest first: on a cutting list several names
/// share a row, and a number with its hand means all of them.
const NAMED: [&str; 4] = ["part", "number", "mark", "name"];

/// Heads under which parts are ticked or counted.
const TICKED: [&str; 3] = ["cut", "done", "ticked"];

/// What in such a column is no tick.
const NOT: [&str; 5] = ["", "0", "no", "-", "n"];

/// Most bytes of a list.
const MOST: usize = 4_000_000;

/// The list in a file with its name; what is wrong with it is on the terminal.
pub(super) fn read(path: &Path, terminal: &mut Terminal<'_>) -> Result<(String, Vec<Ticked>), Ended> {
    let file = path.display().to_string();
    let text = loader::read_script(path, MOST).map_err(|why| {
        let problem = Problem::error("unreadable-file", format!("`{file}` cannot be read: {why}")).help(
            "give a text file with the name of a part on each line, or a CSV file with a column `part`",
        );
        terminal.problems(&[problem], &Sources::default());
        Ended::Files
    })?;
    match ticks(&text) {
        Ok(list) => Ok((format!("`{file}`"), list)),
        Err(why) => {
            let problem = Problem::error("bad-cut-list", format!("`{file}`{why}")).help(
                "write the name of a part on each line; or a table with the heads `part` and `cut`, where `cut` has a \
                 tick or how many",
            );
            terminal.problems(&[problem], &Sources::default());
            Err(Ended::Problems)
        }
    }
}

/// The ticks of a list, or what is wrong with it.
fn ticks(text: &str) -> Result<Vec<Ticked>, String> {
    let table = csv::read(text)
        .map_err(|fault| format!(", line {}, column {}: {}", fault.line, fault.column, fault.why))?;
    let heads: Vec<String> = table.heads.iter().map(|head| head.to_lowercase()).collect();
    let column = |names: &[&str]| names.iter().find_map(|name| heads.iter().position(|head| head == name));
    let Some(part) = column(&NAMED) else { return plain(&table) };
    let cut = column(&TICKED);
    let row = |row: &CsvRow| {
        let cell = |at: usize| row.cells.get(at).map_or("", |cell| cell.as_str());
        let tick = cut.map(cell);
        if cell(part).is_empty() || tick.is_some_and(|tick| NOT.contains(&tick.to_lowercase().as_str())) {
            return None;
        }
        let count = tick.and_then(|tick| tick.parse::<usize>().ok());
        Some(Ticked { line: row.line, part: cell(part).to_owned(), count })
    };
    Ok(table.rows.iter().filter_map(row).collect())
}

/// Names on lines, without heads.
fn plain(table: &Csv) -> Result<Vec<Ticked>, String> {
    if table.heads.len() > 1 {
        return Err(" has no column `part`".into());
    }
    let first = table.heads.first().filter(|name| !name.is_empty()).map(|name| (1, name.clone()));
    let rest = table.rows.iter().filter_map(|row| Some((row.line, row.cells.first()?.clone())));
    Ok(first.into_iter().chain(rest).map(|(line, part)| Ticked { line, part, count: None }).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Vec<(usize, String, Option<usize>)> {
        ticks(text).unwrap().into_iter().map(|tick| (tick.line, tick.part, tick.count)).collect()
    }

    #[test]
    fn a_list_may_be_names_or_a_table() {
        let two = [(1, "Left side".to_owned(), None), (2, "Top".to_owned(), None)];
        assert_eq!(read("Left side\r\nTop\r\n"), two);
        let cut = [(2, "Left side".to_owned(), None), (4, "Shelf".to_owned(), Some(2))];
        assert_eq!(read("\u{feff}Part;Cut\nLeft side;x\nTop;\nShelf;2\nBack;no\n"), cut);
        assert_eq!(read("kind,number,name,cut\npart,4 L,Left side,yes\n")[0].1, "4 L");
        assert_eq!(read("part\nTop\n"), [(2, "Top".to_owned(), None)]);
    }

    #[test]
    fn a_table_without_parts_is_refused() {
        assert_eq!(ticks("stock,cut\nAsh,x\n").unwrap_err(), " has no column `part`");
        assert!(ticks("part,cut\n\"Top,x\n").unwrap_err().starts_with(", line 2, column 1"));
    }
}

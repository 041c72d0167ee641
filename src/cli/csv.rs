//! Comma-separated values as spreadsheets write them: RFC 4180, and what they do besides.

/// A table of texts.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Csv {
    /// Its heads.
    pub(super) heads: Vec<String>,
    /// Its rows.
    pub(super) rows: Vec<CsvRow>,
}

/// A row with the line of the file it begins on.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct CsvRow {
    /// The line, from 1.
    pub(super) line: usize,
    /// Its cells, without the white round them.
    pub(super) cells: Vec<String>,
}

/// What is wrong with a text that is no such table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Fault {
    /// The line, from 1.
    pub(super) line: usize,
    /// The column, from 1.
    pub(super) column: usize,
    /// What is wrong there.
    pub(super) why: &'static str,
}

/// Reads a table. Cells stand apart by commas, by semicolons where a decimal comma is
/// usual, or by tabs: by which, the heads tell. Empty lines are left out.
pub(super) fn read(text: &str) -> Result<Csv, Fault> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let apart = separator(text.lines().next().unwrap_or_default());
    let mut rows = Vec::new();
    let mut reading =
        Reading { apart, line: 1, row: CsvRow { line: 1, cells: Vec::new() }, cell: Cell::default() };
    let mut letters = text.chars().peekable();
    while let Some(letter) = letters.next() {
        if letter == '\r' && letters.peek() == Some(&'\n') && reading.cell.state != State::Quoted {
            continue;
        }
        if reading.cell.state == State::Quoted && letter == '"' && letters.peek() == Some(&'"') {
            letters.next();
            reading.cell.text.push('"');
            continue;
        }
        if let Some(row) = reading.take(letter)? {
            rows.push(row);
        }
    }
    if reading.cell.state == State::Quoted {
        return Err(reading.fault("a quotation mark is opened here and never closed"));
    }
    reading.end_cell();
    rows.extend(reading.end_row());
    let decimal_comma = apart == ';';
    let mut rows = rows.into_iter();
    let heads = rows.next().map(|row| row.cells).unwrap_or_default();
    let rows = rows.map(|row| CsvRow {
        cells: row
            .cells
            .into_iter()
            .map(|cell| if decimal_comma { with_point(cell) } else { cell })
            .collect(),
        ..row
    });
    Ok(Csv { heads, rows: rows.collect() })
}

/// What stands between the heads most often.
fn separator(heads: &str) -> char {
    let count = |apart: char| {
        let mut quoted = false;
        heads
            .chars()
            .filter(|c| {
                quoted ^= *c == '"';
                !quoted && *c == apart
            })
            .count()
    };
    // The last of equals would win: a comma where nothing stands between.
    ['\t', ';', ','].into_iter().max_by_key(|apart| count(*apart)).unwrap_or(',')
}

/// `912,5` as `912.5`.
fn with_point(cell: String) -> String {
    match cell.split_once(',') {
        Some((whole, rest)) if !rest.contains(',') && whole.ends_with(|c: char| c.is_ascii_digit()) => {
            format!("{whole}.{rest}")
        }
        _ => cell,
    }
}

/// Where reading stands in a cell.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum State {
    /// At its beginning or in plain text.
    #[default]
    Plain,
    /// Between quotation marks.
    Quoted,
    /// After the mark that closes.
    Closed,
}

#[derive(Default)]
struct Cell {
    text: String,
    state: State,
    /// Line on which its quotation mark opens.
    opened: usize,
}

struct Reading {
    apart: char,
    line: usize,
    row: CsvRow,
    cell: Cell,
}

impl Reading {
    fn fault(&self, why: &'static str) -> Fault {
        let line = if self.cell.state == State::Quoted { self.cell.opened } else { self.line };
        Fault { line, column: self.row.cells.len() + 1, why }
    }

    /// Takes a letter; gives the row that it ends.
    fn take(&mut self, letter: char) -> Result<Option<CsvRow>, Fault> {
        let line_ends = letter == '\n' || letter == '\r';
        let before = self.line;
        self.line += usize::from(letter == '\n' || letter == '\r');
        match self.cell.state {
            State::Quoted if letter == '"' => self.cell.state = State::Closed,
            State::Plain | State::Closed if letter == self.apart => self.end_cell(),
            State::Plain | State::Closed if line_ends => {
                self.end_cell();
                return Ok(self.end_row());
            }
            State::Plain if letter == '"' && self.cell.text.trim().is_empty() => {
                self.cell = Cell { text: String::new(), state: State::Quoted, opened: before };
            }
            State::Quoted | State::Plain => self.cell.text.push(letter),
            State::Closed if letter.is_whitespace() => {}
            State::Closed => return Err(self.fault("text follows a closing quotation mark")),
        }
        Ok(None)
    }

    fn end_cell(&mut self) {
        let cell = std::mem::take(&mut self.cell);
        self.row.cells.push(cell.text.trim().to_owned());
    }

    fn end_row(&mut self) -> Option<CsvRow> {
        let row = std::mem::replace(&mut self.row, CsvRow { line: self.line, cells: Vec::new() });
        row.cells.iter().any(|cell| !cell.is_empty()).then_some(row)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cells(text: &str) -> Vec<Vec<String>> {
        let csv = read(text).unwrap();
        [vec![csv.heads], csv.rows.into_iter().map(|row| row.cells).collect()].concat()
    }

    /// RFC 4180, section 2, and what spreadsheets write besides.
    #[test]
    fn tables_are_read_however_they_are_written() {
        let wanted = [["name", "width"], ["Bay 1", "900"], ["a, \"b\"", "35 1/2\""]];
        for text in [
            "name,width\nBay 1,900\n\"a, \"\"b\"\"\",\"35 1/2\"\"\"\n",
            "\u{feff}name,width\r\nBay 1,900\r\n\r\n\"a, \"\"b\"\"\",35 1/2\"",
            "name;width\rBay 1;900\r\"a, \"\"b\"\"\";35 1/2\"\r",
            " name \twidth\nBay 1\t 900\n\n\"a, \"\"b\"\"\" \t35 1/2\"\n,,\n".trim_end_matches(",,\n"),
        ] {
            assert_eq!(cells(text), wanted, "{text:?}");
        }
        assert_eq!(cells("width;says\n912,5;one, two\n")[1], ["912.5", "one, two"]);
        assert_eq!(cells("width\n900\n")[1], ["900"]);
        assert_eq!(cells("name,x\n\"two\nlines\",1\n")[1], ["two\nlines", "1"]);
    }

    #[test]
    fn faults_have_their_place() {
        let fault = |text: &str| read(text).map(|_| ()).unwrap_err();
        let open = fault("a,b\n1,2\n3,\"4\n5,6\n");
        assert_eq!((open.line, open.column), (3, 2));
        let after = fault("a,b\n\"1\"x,2\n");
        assert_eq!((after.line, after.column), (2, 1));
    }

    #[test]
    fn rows_know_their_line() {
        let csv = read("a\n\n\"x\ny\"\n2\n").unwrap();
        assert_eq!(csv.rows.iter().map(|row| row.line).collect::<Vec<_>>(), [3, 5]);
    }

    #[test]
    fn a_hundred_thousand_rows_are_read() {
        let text: String = "name,width\n".chars().chain("Bay,900\n".repeat(100_000).chars()).collect();
        let csv = read(&text).unwrap();
        assert_eq!((csv.rows.len(), csv.rows.last().map(|row| row.line)), (100_000, Some(100_001)));
    }
}

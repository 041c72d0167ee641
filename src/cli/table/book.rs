//! The first sheet of a workbook as a table: ISO/IEC 29500, the parts of it that hold the
//! values of cells.

use std::io::{Cursor, Read};

use roxmltree::{Document, Node};
use zip::ZipArchive;

use crate::cli::csv::{Csv, CsvRow};

/// How a workbook begins: as any archive of the kind does.
const BEGINS: &[u8] = b"PK\x03\x04";
/// Most bytes of a part of a workbook: a small file can hold a very large one.
const MOST: u64 = 100_000_000;
/// Most columns that are read: a sheet has no more.
const COLUMNS: usize = 16_384;

/// Why a workbook cannot be read.
type Fault = &'static str;

/// Whether a file is a workbook and no text.
pub(super) fn is_book(bytes: &[u8]) -> bool {
    bytes.starts_with(BEGINS)
}

/// The first sheet of a workbook: its first row holds the heads.
pub(super) fn read(bytes: &[u8]) -> Result<Csv, Fault> {
    let mut book = ZipArchive::new(Cursor::new(bytes)).map_err(|_| "it is a damaged workbook")?;
    let strings = match text(&mut book, "xl/sharedStrings.xml")? {
        Some(text) => strings(&document(&text)?),
        None => Vec::new(),
    };
    let path = first_sheet(&mut book)?;
    let sheet = text(&mut book, &path)?.ok_or("its first sheet is not in it")?;
    let document = document(&sheet)?;
    let mut rows = Vec::new();
    for row in document.descendants().filter(|node| node.has_tag_name_of("row")) {
        let line = row.attribute("r").and_then(|r| r.parse().ok()).unwrap_or(rows.len() + 1);
        let cells = cells(row, &strings)?;
        if cells.iter().any(|cell| !cell.is_empty()) {
            rows.push(CsvRow { line, cells });
        }
    }
    let mut rows = rows.into_iter();
    let heads = rows.next().map(|row| row.cells).unwrap_or_default();
    // Cells without a value at the end of a row are none.
    let trimmed = rows.map(|mut row| {
        while row.cells.last().is_some_and(String::is_empty) {
            row.cells.pop();
        }
        row
    });
    Ok(Csv { heads, rows: trimmed.collect() })
}

/// Names of elements whatever the prefix of their space.
trait Named {
    fn has_tag_name_of(&self, name: &str) -> bool;
}

impl Named for Node<'_, '_> {
    fn has_tag_name_of(&self, name: &str) -> bool {
        self.is_element() && self.tag_name().name() == name
    }
}

/// A part of the workbook as text; `None` where it has none of that name.
fn text(book: &mut ZipArchive<Cursor<&[u8]>>, name: &str) -> Result<Option<String>, Fault> {
    let Ok(part) = book.by_name(name) else { return Ok(None) };
    let mut text = String::new();
    let read = part.take(MOST + 1).read_to_string(&mut text).map_err(|_| "it is a damaged workbook")?;
    if read as u64 > MOST { Err("its sheet is too large") } else { Ok(Some(text)) }
}

fn document(text: &str) -> Result<Document<'_>, Fault> {
    Document::parse(text).map_err(|_| "it is a damaged workbook")
}

/// Texts that cells name by their number.
fn strings(document: &Document<'_>) -> Vec<String> {
    document.descendants().filter(|node| node.has_tag_name_of("si")).map(written).collect()
}

/// What is written in a node, less what only says how it is read aloud.
fn written(node: Node<'_, '_>) -> String {
    let texts = node.descendants().filter(|inner| inner.has_tag_name_of("t"));
    let own = texts.filter(|inner| !inner.ancestors().any(|outer| outer.has_tag_name_of("rPh")));
    own.filter_map(|inner| inner.text()).collect()
}

/// Where the first sheet of the workbook lies in it.
fn first_sheet(book: &mut ZipArchive<Cursor<&[u8]>>) -> Result<String, Fault> {
    const NONE: &str = "it is an archive and no workbook";
    let workbook = text(book, "xl/workbook.xml")?.ok_or(NONE)?;
    let workbook = document(&workbook)?;
    let sheet = workbook.descendants().find(|node| node.has_tag_name_of("sheet")).ok_or(NONE)?;
    // Its one attribute in another space: which relation it is.
    let id = sheet.attributes().find(|a| a.name() == "id" && a.namespace().is_some()).ok_or(NONE)?.value();
    let relations = text(book, "xl/_rels/workbook.xml.rels")?.ok_or(NONE)?;
    let relations = document(&relations)?;
    let relation = relations.descendants().find(|node| node.attribute("Id") == Some(id)).ok_or(NONE)?;
    let target = relation.attribute("Target").ok_or(NONE)?;
    Ok(target.strip_prefix('/').map_or_else(|| format!("xl/{target}"), str::to_owned))
}

/// The values of a row, each in its column.
fn cells(row: Node<'_, '_>, strings: &[String]) -> Result<Vec<String>, Fault> {
    let mut cells: Vec<String> = Vec::new();
    for cell in row.children().filter(|node| node.has_tag_name_of("c")) {
        let at = cell.attribute("r").and_then(column).unwrap_or(cells.len());
        if at >= COLUMNS {
            return Err("a row of its first sheet is too long");
        }
        if at >= cells.len() {
            cells.resize(at + 1, String::new());
        }
        if let Some(place) = cells.get_mut(at) {
            *place = value(cell, strings);
        }
    }
    Ok(cells)
}

/// The column of a place such as `C7`, from 0.
fn column(place: &str) -> Option<usize> {
    let letters = place.bytes().take_while(u8::is_ascii_uppercase);
    let number = letters
        .fold(0_usize, |n, letter| n.saturating_mul(26).saturating_add(usize::from(letter - b'A') + 1));
    number.checked_sub(1)
}

/// What a cell holds, as a script's setting is written.
fn value(cell: Node<'_, '_>, strings: &[String]) -> String {
    let inner = |name| cell.children().find(|node| node.has_tag_name_of(name)).and_then(|node| node.text());
    let raw = inner("v").unwrap_or_default();
    // A sum that no one has worked out yet must not pass for an empty cell.
    if let (true, Some(sum)) = (raw.is_empty(), inner("f")) {
        return format!("={sum}");
    }
    let told = match cell.attribute("t") {
        Some("s") => raw.parse::<usize>().ok().and_then(|at| strings.get(at)).cloned().unwrap_or_default(),
        Some("inlineStr") => written(cell),
        Some("b") => if raw == "1" { "yes" } else { "no" }.to_owned(),
        // The shortest figure of the same number: a sum has steps that no one wrote.
        None | Some("n") => raw.parse::<f64>().map_or_else(|_| raw.to_owned(), plain),
        Some(_) => raw.to_owned(),
    };
    told.trim().to_owned()
}

/// A number as one writes it, without the steps that arithmetic leaves.
fn plain(number: f64) -> String {
    /// Parts of one that are kept: finer than any size is set.
    const KEPT: f64 = 1e9;
    let rounded = (number * KEPT).round() / KEPT;
    format!("{}", if (rounded - number).abs() < 1.0 / KEPT { rounded } else { number })
}

#[cfg(test)]
mod tests {
    use rust_xlsxwriter::{Formula, Workbook};

    use super::*;

    /// A workbook by a library that knows nothing of this reader.
    fn book() -> Vec<u8> {
        let mut book = Workbook::new();
        let sheet = book.add_worksheet();
        for (column, head) in ["name", "width", "doors"].into_iter().enumerate() {
            sheet.write(1, u16::try_from(column).unwrap(), head).unwrap();
        }
        sheet.write(2, 0, "Bay, left").unwrap();
        sheet.write(2, 1, 0.1 + 0.2).unwrap();
        sheet.write(2, 2, "none").unwrap();
        sheet.write(4, 0, "Bay right").unwrap();
        sheet.write(4, 1, Formula::new("=900*2").set_result("1800")).unwrap();
        sheet.write(5, 1, "35 1/2").unwrap();
        sheet.write(5, 2, true).unwrap();
        book.add_worksheet().write(0, 0, "another sheet").unwrap();
        book.save_to_buffer().unwrap()
    }

    #[test]
    fn the_first_sheet_is_read_as_it_reads_on_the_screen() {
        let row =
            |line, cells: &[&str]| CsvRow { line, cells: cells.iter().map(|c| (*c).to_owned()).collect() };
        let found = read(&book()).unwrap();
        assert!(is_book(&book()) && !is_book(b"name,width"));
        assert_eq!(found.heads, ["name", "width", "doors"]);
        let wanted = [
            row(3, &["Bay, left", "0.3", "none"]),
            row(5, &["Bay right", "1800"]),
            row(6, &["", "35 1/2", "yes"]),
        ];
        assert_eq!(found.rows, wanted);
    }

    /// A program that works nothing out leaves a sum without its value.
    #[test]
    fn a_sum_without_a_value_is_told_as_it_stands() {
        let cell = |text: &str| value(document(text).unwrap().root_element(), &[]);
        assert_eq!(cell("<c r=\"B2\"><f>900+20</f></c>"), "=900+20");
        assert_eq!(cell("<c r=\"B2\"><f>900+20</f><v>920</v></c>"), "920");
        assert_eq!(cell("<c r=\"B2\"/>"), "");
    }

    #[test]
    fn what_is_no_workbook_is_said() {
        let whole = book();
        // Every cut and many damages: a reason or a table, never worse.
        for end in (0..whole.len()).step_by(37) {
            let _fine_or_not = read(&whole[..end]);
        }
        assert_eq!(read(&whole[..whole.len() / 2]), Err("it is a damaged workbook"));
        assert_eq!(column("AB12"), Some(27));
        assert_eq!(column("12"), None);
    }
}

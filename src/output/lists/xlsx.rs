//! The lists as one workbook for a spreadsheet (Office Open XML, ISO/IEC 29500).

use std::io::{Cursor, Error, ErrorKind, Read, Write};

use rust_xlsxwriter::{DocProperties, ExcelDateTime, Format, Formula, Workbook, Worksheet, XlsxError};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipArchive, ZipWriter};

/// A sheet of the workbook: its name and its rows, the first of them the heads.
pub(super) struct Sheet<'a> {
    /// Its name, at most 31 characters.
    pub(super) name: &'a str,
    /// Rows of equal length; figures are written as numbers.
    pub(super) rows: Vec<Vec<String>>,
}

/// Heads of columns that hold marks and words even where they read as numbers.
const WORDS: [&str; 5] = ["number", "name", "what", "is", "remark"];

/// The workbook. It holds no time of making, so that the same job gives the same
/// bytes.
pub(super) fn write(title: &str, sheets: &[Sheet<'_>]) -> Result<Vec<u8>, String> {
    let book = workbook(title, sheets).map_err(|error| error.to_string())?;
    signed(book).map_err(|error| error.to_string())
}

/// Characters that a cell holds, as spreadsheets have it.
const CELL: usize = 32_767;

/// A text as a cell holds it: of the names of a thousand like parts the first. The whole of
/// it stands in the other files.
fn held(text: &str) -> String {
    if text.encode_utf16().count() <= CELL {
        return text.to_owned();
    }
    // Some letters are two in a workbook.
    let first = text.chars().take(CELL / 2 - 1).collect::<String>();
    first + "…"
}

/// The part of the package that names the program that made it.
const PROGRAM: &str = "docProps/app.xml";

/// The workbook with this program named as the one that made it: the library
/// names another and has no way to ask for it. All other parts are passed on as
/// they are.
fn signed(book: Vec<u8>) -> Result<Vec<u8>, Error> {
    let mut from = ZipArchive::new(Cursor::new(book))?;
    let mut into = ZipWriter::new(Cursor::new(Vec::new()));
    for index in 0..from.len() {
        let part = from.by_index_raw(index)?;
        if part.name()? != PROGRAM {
            into.raw_copy_file(part)?;
            continue;
        }
        drop(part);
        let mut text = String::new();
        from.by_index(index)?.read_to_string(&mut text)?;
        let text = with_content(&text, "Application", env!("CARGO_PKG_NAME"))?;
        let text = with_content(&text, "AppVersion", &version())?;
        // Without a day of its own, as the parts the library writes.
        let options = SimpleFileOptions::default()
            .compression_method(CompressionMethod::Deflated)
            .last_modified_time(DateTime::default());
        into.start_file(PROGRAM, options)?;
        into.write_all(text.as_bytes())?;
    }
    Ok(into.finish()?.into_inner())
}

/// The version of this program as the format wants it, `XX.YYYY` (ISO/IEC
/// 29500-1, extended properties).
fn version() -> String {
    format!("{:0>2}.{:0>4}", env!("CARGO_PKG_VERSION_MAJOR"), env!("CARGO_PKG_VERSION_MINOR"))
}

/// A page of XML with the content of its one element of that name replaced.
fn with_content(xml: &str, element: &str, content: &str) -> Result<String, Error> {
    let missing = || Error::new(ErrorKind::InvalidData, format!("{PROGRAM} has no {element}"));
    let (open, close) = (format!("<{element}>"), format!("</{element}>"));
    let (before, rest) = xml.split_once(&open).ok_or_else(missing)?;
    let (_, after) = rest.split_once(&close).ok_or_else(missing)?;
    Ok(format!("{before}{open}{content}{close}{after}"))
}

fn workbook(title: &str, sheets: &[Sheet<'_>]) -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    // The format wants a day; the library would take today.
    let day = ExcelDateTime::from_ymd(2000, 1, 1)?;
    book.set_properties(&DocProperties::new().set_title(title).set_creation_datetime(&day));
    let head = Format::new().set_bold().set_text_wrap();
    for one in sheets {
        let page = book.add_worksheet();
        page.set_name(one.name)?;
        // As it is printed: along the sheet, all columns on it, heads on every page.
        page.set_landscape().set_paper_size(A4).set_print_fit_to_pages(1, 0).set_repeat_rows(0, 0)?;
        page.set_header(format!("&L{}&R{}", title.replace('&', "&&"), one.name)).set_footer("&R&P / &N");
        let heads = one.rows.first().map(Vec::as_slice).unwrap_or_default();
        for (r, row) in (0_u32..).zip(&one.rows) {
            for (c, text) in (0_u16..).zip(row) {
                let words = heads.get(usize::from(c)).is_some_and(|head| WORDS.contains(&head.as_str()));
                let number = text.parse::<f64>().ok().filter(|n| n.is_finite() && !words && r > 0);
                match (r, number) {
                    (0, _) => page.write_string_with_format(r, c, text, &head)?,
                    (_, Some(number)) => page.write_number(r, c, number)?,
                    (_, None) if text.is_empty() => page,
                    (_, None) => page.write_string(r, c, held(text))?,
                };
            }
        }
        sums(page, one, &head)?;
        page.set_freeze_panes(1, 0)?;
        page.autofit();
    }
    book.save_to_buffer()
}

/// A4, as the format numbers papers.
const A4: u8 = 9;

/// Formulas for what is reckoned of other cells, so that a changed figure is carried on:
/// the cost of a line, and sums under the heads that have one.
fn sums(page: &mut Worksheet, sheet: &Sheet<'_>, bold: &Format) -> Result<(), XlsxError> {
    let heads = sheet.rows.first().map(Vec::as_slice).unwrap_or_default();
    let column =
        |name: &str| heads.iter().position(|head| head == name).and_then(|at| u16::try_from(at).ok());
    let Ok(last) = u32::try_from(sheet.rows.len()) else { return Ok(()) };
    let letter = |at: u16| rust_xlsxwriter::column_number_to_name(at);
    if let (Some(quantity), Some(price), Some(cost)) = (column("quantity"), column("price"), column("cost")) {
        for (row, cells) in (0_u32..).zip(&sheet.rows).skip(1) {
            let Some(known) = cells.get(usize::from(cost)).filter(|known| !known.is_empty()) else {
                continue;
            };
            let product = format!("ROUND({}{1}*{2}{1},2)", letter(quantity), row + 1, letter(price));
            page.write_formula(row, cost, Formula::new(product).set_result(known))?;
        }
    }
    let summed = |at: u16| -> f64 {
        let figures =
            sheet.rows.iter().skip(1).filter_map(|row| row.get(usize::from(at))?.parse::<f64>().ok());
        figures.sum()
    };
    let of_parts = if column("kind").is_some() { column("quantity") } else { None };
    for at in [column("cost"), of_parts].into_iter().flatten().filter(|_| last > 1) {
        let sum = Formula::new(format!("SUM({0}2:{0}{last})", letter(at)));
        let result = crate::measure::number(summed(at), 2);
        page.write_formula_with_format(last, at, sum.set_result(result), bold)?;
        page.write_string_with_format(last, 0, "together", bold)?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A small list.
    fn sheet() -> Sheet<'static> {
        Sheet {
            name: "Cutting list",
            rows: [["number", "name", "length mm"], ["4 L", "=Side", "812.5"], ["12", "Top", ""]]
                .map(|row| row.map(String::from).to_vec())
                .to_vec(),
        }
    }

    #[test]
    fn the_names_of_a_thousand_like_parts_go_into_a_cell() {
        let names = (0..4000).map(|n| format!("Part {n}")).collect::<Vec<_>>().join(", ");
        assert!(names.len() > CELL && held("Side") == "Side");
        let rows = vec![vec!["name".to_owned()], vec![names]];
        assert!(write("Case", &[Sheet { name: "Cutting list", rows }]).is_ok());
    }

    #[test]
    fn the_same_lists_give_the_same_bytes() {
        let once = write("Case", &[sheet()]).unwrap();
        std::thread::sleep(std::time::Duration::from_millis(2100));
        assert_eq!(write("Case", &[sheet()]).unwrap(), once);
        // A package of parts is a zip file.
        assert_eq!(&once[..4], b"PK\x03\x04");
    }

    /// What the elements of a part of the package hold, those that hold text.
    fn said(book: &[u8], part: &str) -> Vec<(String, String)> {
        let mut text = String::new();
        let mut package = ZipArchive::new(Cursor::new(book)).unwrap();
        package.by_name(part).unwrap().read_to_string(&mut text).unwrap();
        let page = roxmltree::Document::parse(&text).unwrap();
        let holding = page.descendants().filter(roxmltree::Node::is_element);
        holding.filter_map(|n| Some((n.tag_name().name().to_owned(), n.text()?.to_owned()))).collect()
    }

    /// Properties of a package: ISO/IEC 29500-2 (core) and 29500-1 (extended).
    #[test]
    fn the_workbook_names_this_program_and_nobody_else() {
        let book = write("Case & \u{201c}top\u{201d}", &[sheet()]).unwrap();
        let pair = |(name, text): (&str, &str)| (name.to_owned(), text.to_owned());
        assert_eq!(
            said(&book, "docProps/app.xml"),
            [
                ("Application", "rodwright"),
                ("DocSecurity", "0"),
                ("ScaleCrop", "false"),
                ("lpstr", "Worksheets"),
                ("i4", "1"),
                ("lpstr", "Named Ranges"),
                ("i4", "1"),
                ("lpstr", "Cutting list"),
                ("lpstr", "'Cutting list'!Print_Titles"),
                ("LinksUpToDate", "false"),
                ("SharedDoc", "false"),
                ("HyperlinksChanged", "false"),
                ("AppVersion", "00.0001"),
            ]
            .map(pair)
        );
        assert_eq!(
            said(&book, "docProps/core.xml"),
            [
                ("title", "Case & \u{201c}top\u{201d}"),
                ("created", "2000-01-01T00:00:00Z"),
                ("modified", "2000-01-01T00:00:00Z"),
            ]
            .map(pair)
        );
        // Every part still opens, its checksum tried by reading to the end.
        let mut package = ZipArchive::new(Cursor::new(&book)).unwrap();
        for index in 0..package.len() {
            let mut bytes = Vec::new();
            package.by_index(index).unwrap().read_to_end(&mut bytes).unwrap();
            assert!(!bytes.is_empty());
        }
    }

    /// What is reckoned stands there as a formula with its result: 3 at 2.5 and 2 at 4
    /// are 7.50 and 8.00, together 15.50.
    #[test]
    fn sums_are_formulas() {
        let rows =
            [["what", "quantity", "price", "cost"], ["Glue", "3", "2.5", "7.50"], ["Oil", "2", "4", "8.00"]];
        let rows = rows.map(|row| row.map(String::from).to_vec()).to_vec();
        let book = write("Case", &[Sheet { name: "Buying list", rows }]).unwrap();
        let mut text = String::new();
        let mut package = ZipArchive::new(Cursor::new(book)).unwrap();
        package.by_name("xl/worksheets/sheet1.xml").unwrap().read_to_string(&mut text).unwrap();
        let page = roxmltree::Document::parse(&text).unwrap();
        let formulas = page.descendants().filter(|node| {
            node.has_tag_name(("http://schemas.openxmlformats.org/spreadsheetml/2006/main", "f"))
        });
        let found: Vec<(&str, &str)> = formulas
            .map(|node| (node.text().unwrap(), node.next_sibling_element().unwrap().text().unwrap()))
            .collect();
        let wanted = [("ROUND(B2*C2,2)", "7.50"), ("ROUND(B3*C3,2)", "8.00"), ("SUM(D2:D3)", "15.5")];
        assert_eq!(found, wanted);
    }

    #[test]
    fn a_part_without_the_element_is_refused() {
        let error = with_content("<Properties/>", "Application", "rodwright").unwrap_err();
        assert_eq!(error.to_string(), "docProps/app.xml has no Application");
    }
}

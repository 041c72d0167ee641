//! The lists as one workbook for a spreadsheet (Office Open XML, ISO/IEC 29500).

use rust_xlsxwriter::{DocProperties, ExcelDateTime, Format, Workbook, XlsxError};

/// A sheet of the workbook: its name and its rows, the first of them the heads.
pub(super) struct Sheet<'a> {
    /// Its name, at most 31 characters.
    pub(super) name: &'a str,
    /// Rows of equal length; figures are written as numbers.
    pub(super) rows: Vec<Vec<String>>,
}

/// Heads of columns that hold marks and words even where they read as numbers.
const WORDS: [&str; 4] = ["number", "name", "what", "remark"];

/// The workbook. Nothing in it tells when it was made, so that the same job
/// gives the same bytes.
pub(super) fn write(title: &str, sheets: &[Sheet<'_>]) -> Result<Vec<u8>, String> {
    workbook(title, sheets).map_err(|error| error.to_string())
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
        let heads = one.rows.first().map(Vec::as_slice).unwrap_or_default();
        for (r, row) in (0_u32..).zip(&one.rows) {
            for (c, text) in (0_u16..).zip(row) {
                let words = heads.get(usize::from(c)).is_some_and(|head| WORDS.contains(&head.as_str()));
                let number = text.parse::<f64>().ok().filter(|n| n.is_finite() && !words && r > 0);
                match (r, number) {
                    (0, _) => page.write_string_with_format(r, c, text, &head)?,
                    (_, Some(number)) => page.write_number(r, c, number)?,
                    (_, None) if text.is_empty() => page,
                    (_, None) => page.write_string(r, c, text)?,
                };
            }
        }
        page.set_freeze_panes(1, 0)?;
        page.autofit();
    }
    book.save_to_buffer()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_lists_give_the_same_bytes() {
        let sheet = || Sheet {
            name: "Cutting list",
            rows: [["number", "name", "length mm"], ["4 L", "=Side", "812.5"], ["12", "Top", ""]]
                .map(|row| row.map(String::from).to_vec())
                .to_vec(),
        };
        let once = write("Case", &[sheet()]).unwrap();
        std::thread::sleep(std::time::Duration::from_millis(1100));
        assert_eq!(write("Case", &[sheet()]).unwrap(), once);
        // A package of parts is a zip file.
        assert_eq!(&once[..4], b"PK\x03\x04");
    }
}

//! Comma-separated values.

/// What programs take for the end of a cell, whatever was meant by it: which of these it
/// is hangs on the country a spreadsheet is set to.
const ENDS_OF_CELLS: [char; 6] = [',', ';', '\t', '|', '\n', '\r'];

/// What a formula can begin with, as spreadsheets read it: full-width signs too.
const SIGNS: [char; 8] = ['=', '+', '-', '@', '＝', '＋', '－', '＠'];

/// Rows as CSV by RFC 4180: commas, CRLF, fields quoted where they must be. What a
/// spreadsheet would run as a formula gets an apostrophe before it, also where it only
/// begins a cell if semicolons, tabs or bars are taken for the ends of cells.
pub(in crate::output) fn write(rows: &[Vec<String>]) -> String {
    let mut out = String::new();
    for row in rows {
        let fields: Vec<String> = row.iter().map(|f| field(f)).collect();
        out.push_str(&fields.join(","));
        out.push_str("\r\n");
    }
    out
}

fn field(text: &str) -> String {
    let safe: String = text.split_inclusive(ENDS_OF_CELLS).map(quiet).collect();
    let quoted = safe.contains(['"', ';', '|', '\t']) || safe.contains([',', '\n', '\r']);
    if quoted { format!("\"{}\"", safe.replace('"', "\"\"")) } else { safe }
}

/// A cell that no spreadsheet runs: an apostrophe stands before its sign unless all of
/// it is a number.
fn quiet(cell: &str) -> String {
    let unseen =
        |c: char| c.is_whitespace() || c.is_control() || matches!(c, '\u{200b}'..='\u{200f}' | '\u{feff}');
    let bare = cell.trim_start_matches(unseen);
    let number = bare.trim_end_matches(ENDS_OF_CELLS).trim_end().parse::<f64>().is_ok();
    if bare.starts_with(SIGNS) && !number {
        let before = &cell[..cell.len() - bare.len()];
        format!("{before}'{bare}")
    } else {
        cell.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 4180, section 2, rules 5 to 7.
    #[test]
    fn fields_are_quoted_where_they_must_be() {
        for (plain, written) in [
            ("Top", "Top"),
            ("a,b", "\"a,b\""),
            ("5\" nail", "\"5\"\" nail\""),
            ("two\nlines", "\"two\nlines\""),
            ("-12.5", "-12.5"),
            ("=1+1", "'=1+1"),
            ("-cmd", "'-cmd"),
            ("", ""),
        ] {
            assert_eq!(field(plain), written);
        }
        assert_eq!(write(&[vec!["a".into(), "b".into()], vec!["c".into(), String::new()]]), "a,b\r\nc,\r\n");
    }

    #[test]
    fn no_cell_is_live_whatever_ends_a_cell() {
        for text in [
            "Side;=1+1;",
            "Side\t=1+1",
            "Side|@x",
            "a,+1+1",
            "two\n=1+1",
            "two\r-cmd",
            "  =1+1",
            "\u{a0}=1+1",
            "\u{feff}=1+1",
            "＝1+1",
            "a; －cmd",
            "＋1",
            "＠x",
            "\t=1+1",
            ";;=1",
            "\u{200b}=1",
        ] {
            let line = write(&[vec!["1".into(), text.into(), "2".into()]]);
            for end in ENDS_OF_CELLS {
                for cell in line.split([end, '\n', '\r', '"']) {
                    let shown = cell
                        .trim_start_matches(|c: char| c.is_whitespace() || "\u{feff}\u{200b}".contains(c));
                    assert!(!shown.starts_with(SIGNS), "{text:?} is live with {end:?}: {line:?}");
                }
            }
        }
        // Numbers and words stay as they are.
        for text in ["-12.5", "+3", "Side - left", "a-b", "1/2"] {
            assert_eq!(field(text), text);
        }
        assert_eq!(field("1; -5; 2"), "\"1; -5; 2\"");
    }
}

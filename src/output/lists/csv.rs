//! Comma-separated values.

/// Rows as CSV by RFC 4180: commas, CRLF, fields quoted where they must be. A
/// field that a spreadsheet would run as a formula gets an apostrophe before it.
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
    let formula = text.starts_with(['=', '+', '@', '\t', '\r'])
        || (text.starts_with('-') && text[1..].parse::<f64>().is_err());
    let safe = if formula { format!("'{text}") } else { text.to_owned() };
    if safe.contains([',', '"', '\n', '\r']) { format!("\"{}\"", safe.replace('"', "\"\"")) } else { safe }
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
}

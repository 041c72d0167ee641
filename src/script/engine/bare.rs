//! Lengths written as on a rule where the language wants numbers: `58 1/2`, `5/8"`,
//! `5' 0 1/2"`, `18mm`. It stops somewhere behind them with words about something else, so
//! the line is looked through for what the maker meant.

use crate::measure::{INCH, Unit, number, read_length};

/// A length that stands without quotes.
#[derive(Debug, PartialEq)]
pub(super) struct Bare<'a> {
    /// Where it begins in the line, bytes.
    pub(super) at: usize,
    /// As it is written.
    pub(super) written: &'a str,
    /// What it means, mm; `None` for a printer's quotation mark alone.
    means: Option<f64>,
}

impl Bare<'_> {
    /// What is wrong.
    pub(super) fn says(&self) -> String {
        match self.means {
            None => format!("`{}` is a printer's quotation mark", self.written),
            Some(_) if self.is_plain() => format!("`{}` is two numbers to the language", self.written),
            Some(_) => format!("`{}` is a length with its sign, and stands without quotes", self.written),
        }
    }

    /// How it is written.
    pub(super) fn help(&self) -> String {
        let Some(mm) = self.means else {
            return "write the plain one of the keyboard, `\"`, before and behind the text".into();
        };
        if self.is_plain() {
            let sum = self.written.replacen(' ', " + ", 1);
            return format!("write `{sum}`, or the length in quotes: `\"{}\"`", self.written);
        }
        let word = |sign| {
            if matches!(sign, '"' | '″' | '”' | '“') { " in".into() } else { String::from(sign) }
        };
        let quoted: String = self.written.replace("''", "\"").chars().map(word).collect();
        let metric = self.written.to_lowercase().ends_with('m');
        let figure = if metric { format!("mm({})", number(mm, 4)) } else { inches(mm / INCH) };
        format!("in quotes it is `\"{quoted}\"`; to work with it, a number: `{figure}`")
    }

    /// Whether it is only a number and a fraction.
    fn is_plain(&self) -> bool {
        self.written.chars().all(|sign| sign.is_ascii_digit() || matches!(sign, ' ' | '/' | '.'))
    }
}

/// Parts of an inch that are written as fractions.
const FINEST: u32 = 64;

/// `inch(60 + 1/2)`, or with decimals where no rule has the fraction.
fn inches(value: f64) -> String {
    let (whole, part) = (value.floor(), value.fract());
    let mut bottom = 2;
    while bottom <= FINEST {
        let top = part * f64::from(bottom);
        if (top - top.round()).abs() < ALIKE && top.round() >= 1.0 {
            let fraction = format!("{}/{bottom}", number(top, 0));
            let whole = if whole > 0.0 { format!("{} + ", number(whole, 0)) } else { String::new() };
            return format!("inch({whole}{fraction})");
        }
        bottom *= 2;
    }
    format!("inch({})", number(value, 4))
}

/// Two numbers of one fraction differ by less.
const ALIKE: f64 = 1e-9;

/// The first length in a line that stands outside quotes and is written as the language
/// does not read it.
pub(super) fn find(line: &str) -> Option<Bare<'_>> {
    let mut at = 0;
    let mut before = ' ';
    while let Some(sign) = line.get(at..)?.chars().next() {
        let rest = line.get(at..)?;
        if rest.starts_with("//") {
            return None;
        }
        if matches!(sign, '"' | '`') {
            at += past_text(rest, sign)?;
            before = sign;
            continue;
        }
        if matches!(sign, '“' | '”' | '„' | '‘' | '’') {
            return rest.get(..sign.len_utf8()).map(|written| Bare { at, written, means: None });
        }
        let begins = sign.is_numeric() && !before.is_alphanumeric() && before != '_' && before != '.';
        if begins && let Some((written, mm)) = longest(rest) {
            if is_foreign(written) {
                return Some(Bare { at, written, means: Some(mm) });
            }
            // The next number begins behind this one.
            let digits = rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(rest.len());
            at += digits.max(sign.len_utf8());
            before = '0';
            continue;
        }
        before = sign;
        at += sign.len_utf8();
    }
    None
}

/// Bytes of a text in quotes with both its quotes; `None` where it does not end.
fn past_text(rest: &str, quote: char) -> Option<usize> {
    let mut escaped = false;
    for (at, sign) in rest.char_indices().skip(1) {
        if !escaped && sign == quote {
            return Some(at + sign.len_utf8());
        }
        escaped = !escaped && sign == '\\';
    }
    None
}

/// The longest beginning of a text that is a length, and what it is, mm.
fn longest(rest: &str) -> Option<(&str, f64)> {
    let end = rest.find([',', ';', ']', ')', '}', '+', '*']).unwrap_or(rest.len());
    let mut cut = rest.get(..end)?.trim_end();
    while !cut.is_empty() {
        // What goes on in a word is not a unit: the `m` of `5 minutes`.
        let after = rest.get(cut.len()..).and_then(|after| after.chars().next());
        let whole = !(cut.ends_with(char::is_alphabetic) && after.is_some_and(char::is_alphanumeric));
        if whole && let Ok(mm) = read_length(cut, Unit::Inch) {
            return Some((cut, mm));
        }
        let (last, _) = cut.char_indices().next_back()?;
        cut = cut.get(..last)?.trim_end();
    }
    None
}

/// Whether the language reads something else in it: it has a sign or word of a unit, a
/// fraction that is one sign, or a number and a fraction beside each other.
fn is_foreign(written: &str) -> bool {
    let sign = |sign: char| !sign.is_ascii_digit() && !matches!(sign, ' ' | '/' | '.' | '-');
    written.contains(sign)
        || (written.contains(' ') && written.contains('/') && !written.contains('-') && beside(written))
}

/// Whether a number and a fraction stand beside each other with nothing but room between.
fn beside(written: &str) -> bool {
    written
        .split_once(' ')
        .is_some_and(|(whole, part)| !whole.contains('/') && !part.trim_start().starts_with('/'))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every cure that is offered, in quotes, means what was written.
    #[test]
    fn what_is_offered_in_quotes_is_the_same_length() {
        for written in
            ["5' 0 1/2\"", "5/8\"", "58½", "3/4in", "18mm", "5’-0 ½”", "1''", "2 ft 6 in", "7 3/8″"]
        {
            let line = format!("let a = [{written}, 4];");
            let found = find(&line).unwrap_or_else(|| panic!("{written}"));
            assert_eq!(found.written, written);
            let help = found.help();
            let quoted = help.split('"').nth(1).unwrap();
            assert_eq!(read_length(quoted, Unit::Inch), read_length(written, Unit::Inch), "{help}");
        }
    }

    #[test]
    fn what_the_language_reads_is_no_length() {
        for line in [
            "let a = 58 + 1/2;",
            "[2 - 1/2, 3 / 4",
            "\"58 1/2\" + x(",
            "a5 in b",
            "for i in 0..5 {",
            "// 5\"",
        ] {
            assert_eq!(find(line), None, "{line}");
        }
    }
}

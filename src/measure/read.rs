//! Reading lengths from text: `600`, `18mm`, `23 5/8`, `1' 6 1/2"`.

use super::{INCH, Unit};

/// Metric units in mm; the longest sign that ends like another comes first.
const METRIC: &[(&str, f64)] = &[("mm", 1.0), ("cm", 10.0), ("m", 1000.0)];
/// Inches in a foot.
const FOOT: f64 = 12.0;
/// No length that people mean is longer, mm.
const KILOMETRE: f64 = 1e6;

/// Why a text is no length.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ReadError {
    /// There is nothing to read.
    Empty,
    /// This word or sign is no number.
    NotANumber(String),
    /// A fraction over nothing.
    ZeroDenominator(String),
    /// A fraction that is one or more beside a whole number: `3 9/8`.
    ImproperFraction(String),
    /// Millimetres with a fraction: `18 1/2 mm`.
    FractionOfMm,
    /// A dash with room beside it, which may be meant as minus: `58 - 1/2`.
    Minus,
    /// Text after the length is complete.
    Extra(String),
    /// The number is too large to mean anything.
    TooLarge,
}

impl std::fmt::Display for ReadError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Empty => write!(f, "nothing is written"),
            Self::NotANumber(t) if t.contains(',') => {
                write!(f, "`{t}` is not a number: decimals are written with a point")
            }
            Self::NotANumber(t) => write!(f, "`{t}` is not a number"),
            Self::ZeroDenominator(t) => write!(f, "the fraction `{t}` divides by zero"),
            Self::ImproperFraction(t) => {
                write!(f, "the fraction `{t}` beside a whole number must be less than one")
            }
            Self::FractionOfMm => write!(f, "millimetres are written as decimals, not fractions"),
            Self::Minus => write!(
                f,
                "a dash with room beside it may mean minus: write \"58 1/2\", or take away outside quotes"
            ),
            Self::Extra(t) => write!(f, "`{t}` is left over"),
            Self::TooLarge => write!(f, "the number is too large"),
        }
    }
}

/// How a text that is no length is written, where it can be told what was meant: `18 1/2 mm`
/// as `18.5 mm`, `1,5` as `1.5`, `1 9/8` as `2 1/8`.
pub fn as_meant(text: &str) -> Option<String> {
    let point = text.replace(',', ".");
    if point != text && read_length(&point, Unit::Mm).is_ok() {
        return Some(point);
    }
    match read_length(text, Unit::Mm) {
        Err(ReadError::Minus) => {
            let close = text.split(['-', '–', '−', '—']).map(str::trim).collect::<Vec<_>>().join(" ");
            read_length(&close, Unit::Mm).ok().map(|_| close)
        }
        Err(ReadError::FractionOfMm) => {
            let (sign, _) = METRIC.iter().find(|(sign, _)| text.trim_end().to_lowercase().ends_with(sign))?;
            let figure = text.trim_end().get(..text.trim_end().len() - sign.len())?;
            mixed(figure.trim()).ok().map(|value| format!("{} {sign}", super::number(value, 4)))
        }
        Err(ReadError::ImproperFraction(fraction)) => {
            let (top, bottom) = fraction.split_once('/')?;
            let (top, bottom): (u32, u32) = (top.parse().ok()?, bottom.parse().ok()?);
            let whole: u32 = text.split_whitespace().next()?.parse().ok()?;
            let (more, left) = (top.checked_div(bottom)?, top.checked_rem(bottom)?);
            let whole = whole.checked_add(more)?;
            Some(if left == 0 { format!("{whole} in") } else { format!("{whole} {left}/{bottom}") })
        }
        _ => None,
    }
}

/// Reads a length into mm. A plain decimal is in `plain`; a fraction or a
/// `"`, `″`, `in`, `'`, `′` or `ft` sign makes it inches and feet; `mm` and `cm` and `m`
/// make it metric whatever `plain` is.
pub fn read_length(text: &str, plain: Unit) -> Result<f64, ReadError> {
    let text = as_typed(text);
    let text = text.trim();
    let (sign, text) = match text.strip_prefix(['-', '−']) {
        Some(rest) => (-1.0, rest.trim_start()),
        None => (1.0, text),
    };
    if text.is_empty() {
        return Err(ReadError::Empty);
    }
    for (suffix, scale) in METRIC {
        if let Some(number) = text.strip_suffix(suffix) {
            if number.contains('/') {
                return Err(ReadError::FractionOfMm);
            }
            return finite(sign * decimal(number.trim())? * scale);
        }
    }
    imperial(text, plain).and_then(|mm| finite(sign * mm))
}

/// Reads `8x40`, two lengths joined by `x` or `×`, into mm.
pub fn read_pair(text: &str, plain: Unit) -> Result<(f64, f64), ReadError> {
    let Some((a, b)) = text.split_once(['x', '×', 'X']) else {
        return Err(ReadError::NotANumber(text.trim().to_owned()));
    };
    Ok((read_length(a, plain)?, read_length(b, plain)?))
}

/// The text in the signs of a plain keyboard: what word processors, telephones and drawings
/// make of foot and inch marks, fractions and dashes is what was meant by them.
fn as_typed(text: &str) -> String {
    let mut typed = String::with_capacity(text.len());
    for sign in text.chars() {
        match sign {
            '’' | '‘' | '′' | '‛' | '´' | '`' => typed.push('\''),
            '”' | '“' | '″' | '‟' | '〃' => typed.push('"'),
            '⁄' | '∕' => typed.push('/'),
            '–' | '‐' | '‑' | '—' => typed.push('-'),
            '−' => typed.push('−'),
            _ if sign.is_whitespace() => typed.push(' '),
            _ => match FRACTIONS.iter().find(|(one, _)| *one == sign) {
                Some((_, written)) => {
                    typed.push(' ');
                    typed.push_str(written);
                }
                None => typed.push(sign),
            },
        }
    }
    let typed = typed.replace("''", "\"").replace(" /", "/").replace("/ ", "/");
    // A stop behind a short word of a unit, as in `5 ft. 6 in.`, says nothing.
    signs_for_words(&typed).replace("ft.", "ft").replace("in.", "in")
}

/// The text with the short sign of each unit that is written out or in capitals.
fn signs_for_words(text: &str) -> String {
    let mut all = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let alike = |sign: char| sign.is_alphabetic() == first.is_alphabetic();
        let (run, after) = rest.split_at(rest.find(|sign| !alike(sign)).unwrap_or(rest.len()));
        let word = run.to_lowercase();
        let sign = UNITS.iter().find(|(names, _)| names.contains(&word.as_str())).map(|(_, sign)| *sign);
        all.push_str(sign.unwrap_or(run));
        rest = after;
    }
    all
}

/// Units as people write them, and their signs.
const UNITS: [(&[&str], &str); 5] = [
    (&["in", "inch", "inches"], "in"),
    (&["ft", "foot", "feet"], "ft"),
    (&["mm"], "mm"),
    (&["cm"], "cm"),
    (&["m"], "m"),
];

/// Fractions that are one sign.
const FRACTIONS: [(char, &str); 9] = [
    ('½', "1/2"),
    ('¼', "1/4"),
    ('¾', "3/4"),
    ('⅛', "1/8"),
    ('⅜', "3/8"),
    ('⅝', "5/8"),
    ('⅞', "7/8"),
    ('⅓', "1/3"),
    ('⅔', "2/3"),
];

/// Feet, inches and fractions, or a plain number; the sign is already off.
fn imperial(text: &str, plain: Unit) -> Result<f64, ReadError> {
    let (feet, rest) = match split_sign(text, &["'", "′", "ft"]) {
        Some((number, rest)) => {
            (Some(mixed(number.trim())?), rest.trim().trim_start_matches('-').trim_start())
        }
        None => (None, text),
    };
    let (inches, signed) = match split_sign(rest, &["\"", "″", "in"]) {
        Some((number, after)) if after.trim().is_empty() => (number.trim(), true),
        Some((_, after)) => return Err(ReadError::Extra(after.trim().to_owned())),
        None => (rest, false),
    };
    if feet.is_none() && !signed && !inches.contains('/') {
        return Ok(decimal(inches)? * plain.in_mm());
    }
    // Read as 58 1/2, a length that was worked out would be wrong by an inch unseen.
    if inches.contains(" -") || inches.contains("- ") {
        return Err(ReadError::Minus);
    }
    let inches = if inches.is_empty() && feet.is_some() { 0.0 } else { mixed(inches)? };
    Ok((feet.unwrap_or(0.0) * FOOT + inches) * INCH)
}

/// Splits at the first of `signs` that occurs.
fn split_sign<'a>(text: &'a str, signs: &[&str]) -> Option<(&'a str, &'a str)> {
    signs.iter().find_map(|sign| text.split_once(sign))
}

/// A whole or decimal number, a fraction, or both: `23`, `5/8`, `23 5/8`, `23-5/8`.
fn mixed(text: &str) -> Result<f64, ReadError> {
    let words: Vec<&str> = text.split([' ', '-', '\u{a0}']).filter(|w| !w.is_empty()).collect();
    match words.as_slice() {
        [] => Err(ReadError::Empty),
        [one] if one.contains('/') => fraction(one),
        [one] => decimal(one),
        [whole, part] if part.contains('/') => {
            let (whole, part_value) = (decimal(whole)?, fraction(part)?);
            if part_value >= 1.0 {
                return Err(ReadError::ImproperFraction((*part).to_owned()));
            }
            Ok(whole + part_value)
        }
        [_, second] => Err(ReadError::Extra((*second).to_owned())),
        [_, _, third, ..] => Err(ReadError::Extra((*third).to_owned())),
    }
}

/// `5/8` as 0.625.
fn fraction(text: &str) -> Result<f64, ReadError> {
    let Some((top, bottom)) = text.split_once('/') else {
        return Err(ReadError::NotANumber(text.to_owned()));
    };
    let (top, bottom) = (decimal(top)?, decimal(bottom)?);
    if bottom == 0.0 {
        return Err(ReadError::ZeroDenominator(text.to_owned()));
    }
    Ok(top / bottom)
}

/// Digits with at most one point: no exponent, no `inf`, no sign, which the
/// standard parser would let through.
fn decimal(text: &str) -> Result<f64, ReadError> {
    if text.is_empty() {
        return Err(ReadError::Empty);
    }
    let plain = text.chars().all(|c| c.is_ascii_digit() || c == '.');
    match text.parse::<f64>() {
        Ok(value) if plain => Ok(value),
        _ => Err(ReadError::NotANumber(text.to_owned())),
    }
}

/// A number people can mean: up to a kilometre.
fn finite(mm: f64) -> Result<f64, ReadError> {
    if mm.abs() <= KILOMETRE { Ok(mm) } else { Err(ReadError::TooLarge) }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every way of writing a length, against the international inch (25.4 mm
    /// exactly, ISO 31-1) and the foot of 12 inches.
    #[test]
    fn lengths_read() {
        let cases = [
            ("600", 600.0),
            ("18mm", 18.0),
            ("18 mm", 18.0),
            ("1.5 m", 1500.0),
            ("2cm", 20.0),
            ("-12.5", -12.5),
            ("23 5/8", 600.075),
            ("23 5/8\"", 600.075),
            ("23-5/8\"", 600.075),
            ("5/8", 15.875),
            ("3/4in", 19.05),
            ("3/4 in", 19.05),
            ("0.75\"", 19.05),
            ("1' 6 1/2\"", 469.9),
            ("1'6\"", 457.2),
            ("1 ft 6 in", 457.2),
            ("2′", 609.6),
            ("2' 3/4", 628.65),
            ("-1/2\"", -12.7),
            // As other keyboards, programs and hands write them.
            ("58 1/2", 1485.9),
            ("58½", 1485.9),
            ("58 ½″", 1485.9),
            ("58-1/2\"", 1485.9),
            ("58–1/2”", 1485.9),
            ("58 1⁄2 in", 1485.9),
            ("58\u{a0}1/2 inches", 1485.9),
            ("58.5 Inch", 1485.9),
            ("5' 0 1/2\"", 1536.7),
            ("5'-0 1/2\"", 1536.7),
            ("5’ 0 ½”", 1536.7),
            ("5' 1/2''", 1536.7),
            ("5 feet 1/2 inch", 1536.7),
            ("5FT 0.5IN", 1536.7),
            ("5'", 1524.0),
            ("5 foot", 1524.0),
            ("1’6“", 457.2),
            ("⅝", 15.875),
            ("⅝\"", 15.875),
            ("1⅞ in", 47.625),
            ("⅓\"", 25.4 / 3.0),
            (" 3/4 ", 19.05),
            ("3 / 4", 19.05),
            ("18 MM", 18.0),
            ("1.2M", 1200.0),
            ("−12.5 mm", -12.5),
            (".5\"", 12.7),
            ("96 in.", 2438.4),
            ("5 ft. 0 1/2 in.", 1536.7),
            ("5' - 0 1/2\"", 1536.7),
            ("1 1/2 ft", 457.2),
        ];
        for (text, mm) in cases {
            let found = read_length(text, Unit::Mm).unwrap_or_else(|e| panic!("{text}: {e}"));
            assert!((found - mm).abs() < 1e-9, "{text}: found {found}, expected {mm}");
        }
    }

    #[test]
    fn a_plain_number_is_in_the_unit_asked_for() {
        assert_eq!(read_length("2", Unit::Inch), Ok(50.8));
        assert_eq!(read_length("2mm", Unit::Inch), Ok(2.0));
    }

    #[test]
    fn what_is_no_length_says_why() {
        let cases = [
            ("", "nothing is written"),
            ("  ", "nothing is written"),
            ("-", "nothing is written"),
            ("wide", "`wide` is not a number"),
            ("1e3", "`1e3` is not a number"),
            ("inf", "`f` is left over"),
            ("NaN", "`NaN` is not a number"),
            ("--3", "`-3` is not a number"),
            ("1,5 mm", "`1,5` is not a number: decimals are written with a point"),
            ("58 1/2 mm", "millimetres are written as decimals, not fractions"),
            ("5' 6' 1\"", "`1` is left over"),
            ("6x5/8", "`6x5` is not a number"),
            ("1/2/3", "`2/3` is not a number"),
            ("5 1/2 3/4", "`3/4` is left over"),
            ("1\" 2\"", "`2\"` is left over"),
            (
                "58 - 1/2",
                "a dash with room beside it may mean minus: write \"58 1/2\", or take away outside quotes",
            ),
            (
                "58 -1/2\"",
                "a dash with room beside it may mean minus: write \"58 1/2\", or take away outside quotes",
            ),
            ("#8", "`#8` is not a number"),
            ("5/0", "the fraction `5/0` divides by zero"),
            ("3 9/8", "the fraction `9/8` beside a whole number must be less than one"),
            ("18 1/2 mm", "millimetres are written as decimals, not fractions"),
            ("3/4 1/2", "`3/4` is not a number"),
            ("3\" 4", "`4` is left over"),
            ("1 2 3/4", "`3/4` is left over"),
            ("9999999999", "the number is too large"),
            ("\"", "nothing is written"),
            ("1.2.3", "`1.2.3` is not a number"),
        ];
        for (text, why) in cases {
            assert_eq!(read_length(text, Unit::Mm).map_err(|e| e.to_string()), Err(why.to_owned()), "{text}");
        }
    }

    #[test]
    fn pairs_read() {
        assert_eq!(read_pair("8x40", Unit::Mm), Ok((8.0, 40.0)));
        let (a, b) = read_pair("3/8 × 1 1/2", Unit::Mm).unwrap();
        assert!((a - 9.525).abs() < 1e-12 && (b - 38.1).abs() < 1e-12);
        assert_eq!(read_pair("840", Unit::Mm), Err(ReadError::NotANumber("840".into())));
    }
}

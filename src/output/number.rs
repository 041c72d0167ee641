//! Numbers as written in files.

use crate::measure::{INCH, Unit};
use crate::wording::Words;

/// Larger numbers are no sizes, and would not go into whole ones.
const TOO_LARGE: f64 = 1e18;

/// A length as lists have it, in the unit of the job: inches to four decimals, but marks of
/// a rule down to the sixty-fourth as they are, such as 0.71875 for 23/32.
pub(super) fn length(words: Words, mm: f64) -> String {
    if words.lengths.unit == Unit::Mm {
        return short(mm);
    }
    let mut text = String::new();
    let inches = mm / INCH;
    let mark = (inches * MARKS).round() / MARKS;
    if (inches - mark).abs() < ON_MARK {
        push(&mut text, mark, MARK_DECIMALS);
    } else {
        push(&mut text, inches, INCH_DECIMALS);
    }
    text
}

/// See `length`.
const INCH_DECIMALS: u32 = 4;
/// Marks in an inch, and the decimals that write each in full.
const MARKS: f64 = 64.0;
/// See `MARKS`.
const MARK_DECIMALS: u32 = 6;
/// A length so near to a mark is it, inches: lists are kept to the thousandth of a
/// millimetre.
const ON_MARK: f64 = 0.000_03;

/// Heads of columns, with the unit of the job in place of `mm`.
pub(super) fn heads(words: Words, heads: &[&str]) -> Vec<String> {
    let unit = words.lengths.unit.name();
    heads
        .iter()
        .map(|head| head.strip_suffix(" mm").map_or((*head).into(), |of| format!("{of} {unit}")))
        .collect()
}

/// Three decimals at most, no trailing zeros, never `-0`. Three decimals of a
/// millimetre are finer than any printer.
pub(super) fn short(value: f64) -> String {
    let mut text = String::new();
    push(&mut text, value, 3);
    text
}

/// Writes a number with at most `decimals` (up to nine) decimals, no trailing
/// zeros, never `-0`. Neither huge nor unreal values may end up in a file as
/// words or powers: they become 0.
pub(super) fn push(text: &mut String, value: f64, decimals: u32) {
    let one = 10_u64.pow(decimals.min(9));
    let scaled = (value * one as f64).round();
    if scaled.is_nan() || scaled.abs() >= TOO_LARGE {
        text.push('0');
        return;
    }
    #[expect(clippy::cast_possible_truncation, reason = "below 10 to the 18, and whole")]
    let n = scaled as i64;
    let (whole, mut rest) = (n.unsigned_abs() / one, n.unsigned_abs() % one);
    if n < 0 {
        text.push('-');
    }
    // Digits from the last to the first; twenty hold any u64.
    let mut digits = [0_u8; 20];
    let (mut left, mut count) = (whole, 0);
    for digit in &mut digits {
        *digit = b'0' + u8::try_from(left % 10).unwrap_or(0);
        left /= 10;
        count += 1;
        if left == 0 {
            break;
        }
    }
    text.extend(digits.iter().take(count).rev().map(|d| char::from(*d)));
    if rest > 0 {
        text.push('.');
        let mut place = one / 10;
        while rest > 0 && place > 0 {
            text.push(char::from(b'0' + u8::try_from(rest / place).unwrap_or(0)));
            rest %= place;
            place /= 10;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{length, short};
    use crate::measure::{INCH, Unit};
    use crate::wording::Words;

    /// 23/32 is 0.71875, which the list keeps as 18.256 mm; what is on no mark has four
    /// decimals.
    #[test]
    fn marks_of_a_rule_are_written_in_full() {
        let words = Words::of(Unit::Inch);
        let marks =
            [(18.256, "0.71875"), (INCH / 64.0, "0.015625"), (13.8125 * INCH, "13.8125"), (888.0, "34.9606")];
        for (mm, text) in marks {
            assert_eq!(length(words, mm), text);
        }
    }

    #[test]
    fn numbers_are_short_and_plain() {
        for (value, text) in [
            (0.0, "0"),
            (-0.0, "0"),
            (-0.0004, "0"),
            (0.0005, "0.001"),
            (12.5, "12.5"),
            (-3.2716, "-3.272"),
            (100.0, "100"),
            (0.05, "0.05"),
            (1e9, "1000000000"),
            (f64::NAN, "0"),
            (f64::INFINITY, "0"),
        ] {
            assert_eq!(short(value), text);
        }
    }
}

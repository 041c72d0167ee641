//! Lengths of the words and the library as a rule in inches shows them.

use crate::measure::{INCH, LengthStyle, NOISE, Unit, inch_step as step};

/// A usual length in a job in `unit`, mm: in inches one of its own, as a rule shows it and
/// within the range, not the one in millimetres converted.
pub fn usual_in(unit: Unit, usual: f64, (from, to): (f64, f64)) -> f64 {
    if unit == Unit::Mm {
        return usual;
    }
    let step = step(usual);
    let near = (usual / step).round() * step;
    // At an end of the range the nearest within it.
    let (low, high) = ((from / step - NOISE).ceil() * step, (to / step + NOISE).floor() * step);
    if low > high { usual } else { near.clamp(low, high) }
}

/// The range of a length as it is told in a job in `unit`, mm: in inches rounded inwards, by
/// an eighth or half inch.
pub fn range_in(unit: Unit, (from, to): (f64, f64)) -> (f64, f64) {
    if unit == Unit::Mm {
        return (from, to);
    }
    let by = |mm: f64| step(mm).min(0.5 * INCH);
    let (low, high) = ((from / by(from) - NOISE).ceil() * by(from), (to / by(to) + NOISE).floor() * by(to));
    if low > high { (from, to) } else { (low, high) }
}

/// What an option is for, as it is told in a job in `unit`: numbers in it from
/// six on are lengths in mm.
pub fn says_in(unit: Unit, says: &str) -> String {
    if unit == Unit::Mm {
        return says.to_owned();
    }
    let mut told = String::new();
    let mut rest = says;
    while let Some(at) = rest.find(|c: char| c.is_ascii_digit()) {
        let (before, from) = rest.split_at(at);
        let (digits, after) = from.split_at(from.find(|c: char| !c.is_ascii_digit()).unwrap_or(from.len()));
        told += before;
        rest = after;
        if let Some(mm) = digits.parse::<f64>().ok().filter(|mm| *mm >= LEAST_TOLD) {
            told += &LengthStyle::INCH.text(usual_in(unit, mm, (0.0, f64::INFINITY)));
            rest = after.strip_prefix(" mm").unwrap_or(after);
        } else {
            told += digits;
        }
    }
    told + rest
}

/// Why a type refuses a size, its lengths by the unit of the script: a type tells them in
/// millimetres, each with its sign, `2440 by 1220 mm` with one for both.
pub(super) fn why_in(unit: Unit, why: &str) -> String {
    if unit == Unit::Mm {
        return why.to_owned();
    }
    let words: Vec<&str> = why.split(' ').collect();
    let is_mm =
        |at: usize| words.get(at).is_some_and(|word| word.trim_end_matches([',', ';', ':', '.']) == "mm");
    let mut told: Vec<String> = Vec::new();
    for (at, word) in words.iter().enumerate() {
        let before_sign = is_mm(at + 1) || (words.get(at + 1) == Some(&"by") && is_mm(at + 3));
        match word.parse::<f64>().ok().filter(|_| before_sign) {
            // What it came to, not a free choice: to the eighth, and what is long to the
            // quarter, so that a sheet of 2440 is one of 96.
            Some(mm) => {
                let by = if mm > LONG { 2.0 * EIGHTH } else { EIGHTH };
                told.push(LengthStyle::INCH.text((mm / by).round() * by));
            }
            None if is_mm(at) => {
                // What ends the clause stays with the figure.
                if let Some(last) = told.last_mut() {
                    last.push_str(word.strip_prefix("mm").unwrap_or_default());
                }
            }
            None => told.push((*word).to_owned()),
        }
    }
    told.join(" ")
}

/// An eighth of an inch, mm.
const EIGHTH: f64 = INCH / 8.0;

/// Longer is told to the quarter, mm.
const LONG: f64 = 24.0 * INCH;

/// Smaller numbers in what an option is for are counts.
const LEAST_TOLD: f64 = 6.0;

#[cfg(test)]
mod tests {
    use super::*;

    /// 120 mm is 4.72 in, 4 3/4 on a shop's rule; loads and degrees are no lengths.
    #[test]
    fn why_a_size_is_refused_is_told_in_the_unit_of_the_script() {
        let why = "120 mm is left, more than 940 mm bends under 50 lb, and a sheet is 2440 by 1220 mm: lean it 8° at most";
        assert_eq!(why_in(Unit::Mm, why), why);
        let told = why_in(Unit::Inch, why);
        assert!(
            told.starts_with(
                "4 3/4″ is left, more than 37″ bends under 50 lb, and a sheet is 96″ by 48″: lean it 8°"
            ),
            "{told}"
        );
    }
}

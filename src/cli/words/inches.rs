//! The reference for a shop that works in inches: ranges rounded inwards as a rule shows
//! them, and what is usual in furniture types by the inch.

use super::entry::{Entry, Part};
use crate::measure::{LengthStyle, Unit, near};
use crate::model::Cutting;
use crate::script::{range_in, says_in, usual_in};

/// The sign behind a length in the reference.
const MM: &str = " mm";

/// All lengths of the reference in inches.
pub(super) fn in_inches(parts: &mut [Part]) {
    for entry in parts.iter_mut().flat_map(|part| &mut part.entries) {
        convert(entry);
    }
}

/// The lengths of one word in inches.
fn convert(entry: &mut Entry) {
    let furniture = entry.name.contains("::");
    for row in entry.arguments.iter_mut().chain(&mut entry.options) {
        let range = row.range.strip_suffix(MM).and_then(|range| {
            let (from, to) = range.split_once(" to ")?;
            Some((from.parse::<f64>().ok()?, to.parse::<f64>().ok()?))
        });
        if furniture {
            row.says = says_in(Unit::Inch, &row.says).into();
            if let (Some(range), Some(Ok(usual))) = (range, row.left_out.strip_suffix(MM).map(str::parse)) {
                row.left_out = LengthStyle::INCH.text(usual_in(Unit::Inch, usual, range)).into();
            }
        } else {
            let left_out = row.left_out.strip_suffix(MM).and_then(|mm| mm.parse::<f64>().ok());
            row.left_out = match left_out.filter(|_| entry.name == "cutting") {
                // Lumber is sold surfaced by the inch: no converted figure.
                Some(_) if row.name == "planing" => {
                    LengthStyle::INCH.text(Cutting::usual(Unit::Inch).planing).into()
                }
                Some(_) if row.name == "width" => {
                    LengthStyle::INCH.text(Cutting::usual(Unit::Inch).width).into()
                }
                Some(mm) => LengthStyle::INCH.text(near(Unit::Inch, mm)).into(),
                None => told(&row.left_out).into(),
            };
        }
        if let Some(range) = range {
            let (low, high) = range_in(Unit::Inch, range);
            let [low, high] = [low, high].map(|mm| LengthStyle::INCH.text(mm));
            row.range = format!("{low} to {high}");
        }
    }
}

/// A text with its lengths in inches, as near as a rule shows them.
fn told(text: &str) -> String {
    let mut words: Vec<String> = Vec::new();
    for word in text.split(' ') {
        let sign = word.trim_end_matches([',', ';', ':', '.']);
        let length = words.last().and_then(|last| last.parse::<f64>().ok()).filter(|_| sign == "mm");
        match length {
            Some(mm) => {
                words.pop();
                words.push(
                    LengthStyle::INCH.text(near(Unit::Inch, mm))
                        + word.strip_prefix("mm").unwrap_or_default(),
                );
            }
            None => words.push(word.to_owned()),
        }
    }
    words.join(" ")
}

#[cfg(test)]
mod tests {
    use super::super::entry::parts;
    use super::*;

    /// 25.4 mm to the inch: a width of 300 to 1800 mm is 11.81 to 70.87 in, rounded inwards.
    #[test]
    fn ranges_are_rounded_inwards_and_what_is_usual_is_a_shops_own() {
        let mut all = parts(crate::words());
        in_inches(&mut all);
        let found = all.iter().flat_map(|p| &p.entries).find(|e| e.name == "bookcase::make").unwrap();
        let row = |name: &str| found.options.iter().find(|row| row.name == name).unwrap();
        assert_eq!((row("width").range.as_str(), &*row("width").left_out), ("12″ to 70 1/2″", "35″"));
        assert_eq!(&*row("lipping").left_out, "1/4″");
        assert_eq!(told("as many as 150 mm, at least 2"), "as many as 6″, at least 2");
        assert!(found.options.iter().all(|row| !row.says.contains("mm")));
    }
}

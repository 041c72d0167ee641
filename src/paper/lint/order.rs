//! Rules for what holds a set together, and for words that leave a count open.

use kurbo::Point;

use super::finding::{Add, Finding};
use super::scene::Scene;
use crate::paper::{Ink, Role, Sheet};

/// The heading of the index of sheets.
const INDEX: &str = "Sheets";
/// Words for "as the others are", which leave open how many those are.
const OPEN: [&str; 3] = ["typ", "typical", "typ."];

/// D23: every sheet of a set says which it is and of how many, and one of them has the
/// index. Sheets that carry no number at all, such as labels, are no set.
pub(super) fn numbered(sheets: &[Sheet], found: &mut Vec<Finding>) {
    let of = sheets.len();
    let says = |sheet: &Sheet, words: &str| texts(sheet).any(|text| text == words);
    let own = |at: usize| format!("{} / {of}", at + 1);
    if of < 2 || !sheets.iter().enumerate().any(|(at, sheet)| says(sheet, &own(at))) {
        return;
    }
    let mut add = |sheet: &Sheet, message: String| {
        let at: Point = sheet.space.center();
        found.push(Finding { rule: "D23", sheet: sheet.number.clone(), at, message });
    };
    for (at, sheet) in sheets.iter().enumerate() {
        if !says(sheet, &own(at)) {
            add(sheet, format!("the sheet does not say that it is {}", own(at)));
        }
    }
    if let Some(first) = sheets.first().filter(|_| !sheets.iter().any(|sheet| says(sheet, INDEX))) {
        add(first, "no sheet has an index of the set".into());
    }
}

/// The texts of a sheet as they are read.
fn texts(sheet: &Sheet) -> impl Iterator<Item = String> + '_ {
    sheet.marks.iter().filter_map(|mark| match &mark.ink {
        Ink::Text(text) => Some(text.reading()),
        Ink::Stroke { .. } | Ink::Fill { .. } => None,
    })
}

/// D24: a note of a size that says "typical" instead of how many.
pub(super) fn open_counts(scene: &Scene<'_>, add: &mut Add<'_>) {
    for words in scene.words.iter().filter(|w| scene.mark(w.mark).role == Role::DimensionText) {
        let reading = words.text.reading().to_lowercase();
        if reading.split([' ', ',', ';']).any(|word| OPEN.contains(&word)) {
            let message = format!("`{}` leaves open how many: a count belongs there", words.text.reading());
            add("D24", words.bounds.center(), message);
        }
    }
}

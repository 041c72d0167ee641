//! Part numbers on views and in lists, over a whole set.

use std::collections::BTreeMap;

use kurbo::Point;

use super::finding::Finding;
use crate::paper::{Ink, Role, Sheet};

/// Where a number stands first.
type Places = BTreeMap<String, (String, Point)>;

/// D21: every part number on a view stands in a list, and every number of a list
/// on a view. A cell of a list knows which part it is of, and reads as its number.
pub(super) fn both_ways(sheets: &[Sheet], found: &mut Vec<Finding>) {
    let (mut shown, mut listed) = (Places::new(), Places::new());
    for sheet in sheets {
        for mark in &sheet.marks {
            let Ink::Text(text) = &mark.ink else { continue };
            let reading = text.reading();
            let list = match mark.role {
                Role::ItemNumber => &mut shown,
                Role::Note if !reading.is_empty() && mark.shows.part == reading => &mut listed,
                _ => continue,
            };
            list.entry(number(&reading)).or_insert_with(|| (sheet.number.clone(), text.at));
        }
    }
    let mut lacking = |from: &Places, in_these: &Places, message: &str| {
        for (item, (sheet, at)) in from.iter().filter(|(item, _)| !in_these.contains_key(*item)) {
            let message = format!("part number `{item}` {message}");
            found.push(Finding { rule: "D21", sheet: sheet.clone(), at: *at, message });
        }
    };
    lacking(&shown, &listed, "stands on a view and in no list");
    lacking(&listed, &shown, "stands in a list and on no view");
}

/// The number of `4 L`, which with its mirror image is one number.
fn number(reading: &str) -> String {
    reading.split([' ', ':']).next().unwrap_or(reading).to_owned()
}

//! Rules for the letters of sections and details, which hold over a whole set.

use std::collections::BTreeMap;

use kurbo::Point;

use super::finding::Finding;
use crate::paper::{Ink, Role, Sheet};

/// Where a section letter stands.
#[derive(Default)]
struct Uses {
    /// At ends of cutting planes: sheet number and place.
    ends: Vec<(String, Point)>,
    /// In titles such as `A-A`.
    titles: Vec<(String, Point)>,
}

/// D19: every section letter on two ends and in one title.
pub(super) fn sections(sheets: &[Sheet], found: &mut Vec<Finding>) {
    for (letter, uses) in uses(sheets) {
        let (ends, titles) = (uses.ends.len(), uses.titles.len());
        if ends == 2 && titles == 1 {
            continue;
        }
        let Some((sheet, at)) = uses.ends.into_iter().chain(uses.titles).next() else { continue };
        let message = format!(
            "section letter `{letter}` stands at {ends} ends of cutting planes and in {titles} titles; \
             it should be two and one"
        );
        found.push(Finding { rule: "D19", sheet, at, message });
    }
}

/// D19: every detail letter beside one circle and in one title; joints that lie close
/// share a circle, `D T`.
pub(super) fn details(sheets: &[Sheet], found: &mut Vec<Finding>) {
    let mut all: BTreeMap<String, Uses> = BTreeMap::new();
    for sheet in sheets {
        for mark in &sheet.marks {
            let Ink::Text(text) = &mark.ink else { continue };
            let words = text.reading();
            let place = (sheet.number.clone(), text.at);
            match mark.role {
                Role::DetailMark => {
                    for letter in words.split(' ') {
                        all.entry(letter.to_owned()).or_default().ends.push(place.clone());
                    }
                }
                Role::Title => {
                    if let Some(letter) = titled(&words) {
                        all.entry(letter.to_owned()).or_default().titles.push(place);
                    }
                }
                _ => {}
            }
        }
    }
    for (letter, uses) in all {
        let (circles, titles) = (uses.ends.len(), uses.titles.len());
        if circles == 1 && titles == 1 {
            continue;
        }
        let Some((sheet, at)) = uses.ends.into_iter().chain(uses.titles).next() else { continue };
        let message = format!(
            "detail letter `{letter}` stands beside {circles} circles and in {titles} titles; \
             it should be one of each"
        );
        found.push(Finding { rule: "D19", sheet, at, message });
    }
}

/// The letters of `B  1:2`: capitals, two spaces, a scale.
fn titled(words: &str) -> Option<&str> {
    let (letters, scale) = words.split_once("  ")?;
    let capitals = !letters.is_empty() && letters.chars().all(|c| c.is_ascii_uppercase());
    (capitals && !scale.trim().is_empty()).then_some(letters)
}

/// Section letters of a set.
fn uses(sheets: &[Sheet]) -> BTreeMap<String, Uses> {
    let mut all: BTreeMap<String, Uses> = BTreeMap::new();
    for sheet in sheets {
        for mark in &sheet.marks {
            let Ink::Text(text) = &mark.ink else { continue };
            let words = text.reading();
            let place = (sheet.number.clone(), text.at);
            if mark.role == Role::SectionMark
                && let Some(letter) = alone(&words)
            {
                all.entry(letter.to_owned()).or_default().ends.push(place);
            } else if mark.role == Role::Title
                && let Some(letter) = doubled(&words)
            {
                all.entry(letter.to_owned()).or_default().titles.push(place);
            }
        }
    }
    all
}

/// The letter of `A`, or of `A2` on the second piece of a job.
fn alone(words: &str) -> Option<&str> {
    let digits = words.strip_prefix(|c: char| c.is_ascii_uppercase())?;
    digits.chars().all(|c| c.is_ascii_digit()).then_some(words)
}

/// The letter of `A-A`, with any dash.
fn doubled(words: &str) -> Option<&str> {
    let (first, last) = words.split_once(['-', '–', '−'])?;
    let letter = alone(first.trim())?;
    (alone(last.trim()) == Some(letter)).then_some(letter)
}

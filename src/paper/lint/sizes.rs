//! Rules for dimensions: their figures, their lines and what they fix.

use std::collections::BTreeMap;

use kurbo::{Point, Rect};

use super::finding::Add;
use super::lines::beside;
use super::scene::Scene;
use crate::geometry::tolerance::HAIR;
use crate::measure::INCH;
use crate::paper::{Fixes, Role};

/// Half of the last figure shown, and a little for the noise: of 0.1 mm, and of 1/4″ at
/// the coarsest rule.
const SLACK_MM: f64 = 0.0501;
const SLACK_INCH: f64 = INCH / 8.0;
/// Inches in a foot.
const FOOT: f64 = 12.0;
/// Lines so near lie on one another; rounding may go this much below a limit, mm.
const TOUCH: f64 = 0.1;
const ROUNDING: f64 = 0.05;

/// Least distance of a dimension line from the outline it measures, mm (10 as
/// office practice has it; one band, so that a row between two views may stand
/// a little nearer to the second).
const FROM_OUTLINE: f64 = 6.0;

/// D03: the same thing fixed by two sizes.
pub(super) fn said_twice(scene: &Scene<'_>, add: &mut Add<'_>) {
    let mut known: BTreeMap<(&str, &Fixes), u32> = BTreeMap::new();
    for words in &scene.words {
        let mark = scene.mark(words.mark);
        let shows = &mark.shows;
        if mark.role != Role::DimensionText || shows.fixes.is_nothing() {
            continue;
        }
        let first = *known.entry((&shows.part, &shows.fixes)).or_insert(shows.dimension);
        if first != shows.dimension {
            let message =
                format!("`{}` fixes what another size of part {} fixes", words.text.reading(), shows.part);
            add("D03", words.text.at, message);
        }
    }
}

/// D20: a figure that is not its model value rounded, or a sum that does not
/// agree with what it is made of.
pub(super) fn figures(scene: &Scene<'_>, add: &mut Add<'_>) {
    // The lines of a note are one text.
    let mut whole: BTreeMap<(&str, u32), String> = BTreeMap::new();
    let texts = || scene.words.iter().filter(|words| scene.mark(words.mark).role == Role::DimensionText);
    for words in texts() {
        let shows = &scene.mark(words.mark).shows;
        let text = whole.entry((&shows.part, shows.dimension)).or_default();
        text.push_str(&words.text.reading());
        text.push(' ');
    }
    for words in texts() {
        let shows = &scene.mark(words.mark).shows;
        let reading = words.text.reading();
        // The depth of what goes through is the part's thickness.
        if let Some(value) = shows.value.filter(|_| !reading.contains("through")) {
            let note = whole
                .get(&(shows.part.as_str(), shows.dimension))
                .filter(|_| shows.dimension > 0)
                .unwrap_or(&reading);
            let slack = if note.contains('″') { SLACK_INCH } else { SLACK_MM };
            if !numbers(note).iter().any(|figure| (figure - value.abs()).abs() <= slack) {
                add("D20", words.text.at, format!("`{reading}` stands for {value:.2}"));
            }
        }
        if let (Some(_), [n, pitch, total]) = (reading.find("(= "), &numbers(&reading)[..])
            && (n * pitch - total).abs() > HAIR
        {
            add("D20", words.text.at, format!("`{reading}` does not add up"));
        }
    }
}

/// The numbers of a text as printed; lengths with an inch sign in mm.
pub(super) fn numbers(reading: &str) -> Vec<f64> {
    let mut found: Vec<f64> = Vec::new();
    // Whether the last number may still get a fraction.
    let mut open = false;
    for word in reading.split([' ', '(', ')', '×']) {
        let start = word.find(|c: char| c.is_ascii_digit());
        let Some(word) = start.and_then(|at| word.get(at..)) else {
            open = false;
            continue;
        };
        // Feet before inches: `3′-3` is 39.
        let (feet, word) = match word.split_once("′-") {
            Some((feet, inches)) => (feet.parse().unwrap_or(0.0), inches),
            None => (0.0, word),
        };
        let end = word.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == '/')).unwrap_or(word.len());
        let (figure, after) = word.split_at(end);
        let value = match figure.split_once('/') {
            Some((n, d)) => n.parse::<f64>().ok().zip(d.parse::<f64>().ok()).map(|(n, d)| n / d),
            None => figure.trim_end_matches('.').parse().ok(),
        };
        let Some(value) = value.map(|v| FOOT * feet + v) else { continue };
        match found.last_mut() {
            Some(last) if open && figure.contains('/') => *last += value,
            _ => found.push(value),
        }
        open = after.is_empty();
        if let (true, Some(last)) = (after.starts_with('″'), found.last_mut()) {
            *last *= INCH;
        }
    }
    found
}

/// D07: a dimension line too near the outline beside it.
pub(super) fn near_outlines(scene: &Scene<'_>, add: &mut Add<'_>) {
    let mut near = Vec::new();
    for line in scene.pieces.iter().filter(|p| scene.mark(p.mark).role == Role::Dimension) {
        let around = Rect::from_points(line.a, line.b).inflate(FROM_OUTLINE, FROM_OUTLINE);
        scene.near(around, &mut near);
        let gap_to = |j: &u32| -> Option<(f64, Point)> {
            let other = scene.pieces.get(*j as usize)?;
            let wood = matches!(scene.mark(other.mark).role, Role::Outline | Role::CutOutline);
            wood.then(|| beside(line, other)).flatten()
        };
        let nearest = near.iter().filter_map(gap_to).min_by(|a, b| a.0.total_cmp(&b.0));
        if let Some((gap, at)) = nearest.filter(|(gap, _)| *gap > TOUCH && *gap < FROM_OUTLINE - ROUNDING) {
            add("D07", at, format!("a dimension line runs {gap:.1} mm from an outline"));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::numbers;
    use crate::measure::INCH;

    #[test]
    fn figures_are_read_as_printed() {
        assert_eq!(numbers("2 × 90 (= 180)"), [2.0, 90.0, 180.0]);
        assert_eq!(numbers("(864)"), [864.0]);
        assert_eq!(numbers("Ø6, 9.2 deep"), [6.0, 9.2]);
        assert_eq!(numbers("1 5/8″"), [1.625 * INCH]);
        assert_eq!(numbers("3X 5 7/8″ (= 17 5/8″)"), [3.0, 5.875 * INCH, 17.625 * INCH]);
        assert_eq!(numbers("3′-3 3/8″"), [39.375 * INCH]);
        assert_eq!(numbers("1′-0″"), [12.0 * INCH]);
        assert_eq!(numbers("45°"), [45.0]);
    }
}

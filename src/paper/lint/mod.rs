//! Judges finished sheets as a checker at the next board would.
//!
//! Only ink is looked at: what is printed, not what was meant. Rules that carry
//! a number stand in the project's table of drawing checks (DEVELOPERS.md).

mod crossings;
mod heads;
mod hidden;
mod items;
mod letters;
mod lines;
mod rows;
mod scene;
mod site;
mod sizes;
#[cfg(test)]
mod tests;
mod texts;
mod tree;

use kurbo::Point;

use super::{Role, Sheet};
use scene::Scene;

/// Something on a sheet that a drafter would mend.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// The rule: `D04`, `height`, ...
    pub rule: &'static str,
    /// The sheet's number.
    pub sheet: String,
    /// Where on it, mm.
    pub at: Point,
    /// What is wrong.
    pub says: String,
}

/// Least height of text on sheets of A4 to A1, mm (ISO 3098 sizes; common
/// office practice for notes on small sheets).
pub const LEAST_TEXT: f64 = 2.5;

/// Least height of the names of fields in a title block, mm: the smallest size
/// of ISO 3098.
pub const LEAST_LABEL: f64 = 1.8;

/// Everything found on one sheet, in the order of the rules.
pub fn judge(sheet: &Sheet) -> Vec<Finding> {
    let scene = Scene::new(sheet);
    let mut found = Vec::new();
    let mut add = |rule, at, says: String| {
        found.push(Finding { rule, sheet: sheet.number.clone(), at, says });
    };
    texts::over_one_another(&scene, &mut add);
    texts::over_lines(&scene, &mut add);
    texts::over_fills(&scene, &mut add);
    texts::direction_and_height(&scene, &mut add);
    texts::one_height(&scene, &mut add);
    texts::shown_as_a_box(&scene, &mut add);
    lines::crossing_dimensions(&scene, &mut add);
    lines::stacked_too_close(&scene, &mut add);
    lines::drawn_twice(&scene, &mut add);
    lines::too_close(&scene, &mut add);
    sizes::said_twice(&scene, &mut add);
    sizes::figures(&scene, &mut add);
    sizes::near_outlines(&scene, &mut add);
    let rows = rows::rows(&scene);
    tree::of_parts(&scene, &mut add);
    tree::closed(&rows, &mut add);
    tree::outermost(&scene, &rows, &mut add);
    crossings::avoidable(&scene, &rows, &mut add);
    crossings::lined_up(&rows, &mut add);
    heads::inside_short(&rows, &mut add);
    heads::leaders(&scene, &mut add);
    hidden::edges(&scene, &rows, &mut add);
    site::wall(&rows, &mut add);
    nowhere(sheet, &mut add);
    outside(sheet, &mut add);
    empty(sheet, &mut add);
    found
}

/// Takes a finding.
type Add<'a> = dyn FnMut(&'static str, Point, String) + 'a;

/// Everything found on the sheets of a set: on each by itself, then between them.
pub fn judge_set(sheets: &[Sheet]) -> Vec<Finding> {
    let mut found: Vec<Finding> = sheets.iter().flat_map(judge).collect();
    letters::sections(sheets, &mut found);
    letters::details(sheets, &mut found);
    items::both_ways(sheets, &mut found);
    found
}

/// Ink with an infinite or undefined place, which no writer can draw.
fn nowhere(sheet: &Sheet, add: &mut Add<'_>) {
    for mark in sheet.marks.iter().filter(|m| !m.is_finite()) {
        add("nowhere", sheet.space.center(), format!("{} has no place on the sheet", scene::describe(mark)));
    }
}

/// D17: ink outside the drawing space.
fn outside(sheet: &Sheet, add: &mut Add<'_>) {
    // Half a wide line may lie on the frame.
    let space = sheet.space.inflate(0.4, 0.4);
    for mark in sheet.marks.iter().filter(|m| m.role != Role::Frame && m.is_finite()) {
        let b = mark.bounds();
        if !(b.x0 >= space.x0 && b.y0 >= space.y0 && b.x1 <= space.x1 && b.y1 <= space.y1) {
            add("D17", b.center(), format!("{} runs out of the drawing space", scene::describe(mark)));
        }
    }
}

/// A sheet with nothing on it but its frame.
fn empty(sheet: &Sheet, add: &mut Add<'_>) {
    if !sheet.marks.iter().any(|m| !matches!(m.role, Role::Frame | Role::Mask)) {
        add("empty", sheet.space.center(), "nothing is drawn on the sheet".into());
    }
}

//! Every rule applied to a sheet or a set, in the order of the rules.

use super::super::{Role, Sheet};
use super::finding::{Add, Finding};
use super::scene::Scene;
use super::{
    crossings, heads, hidden, holes, items, letters, lines, order, rows, scene, site, sizes, texts, tree,
};

/// Half the line of the frame may be drawn on, mm.
const FRAME: f64 = 0.4;

/// Everything found on one sheet, in the order of the rules.
pub fn judge(sheet: &Sheet) -> Vec<Finding> {
    let scene = Scene::new(sheet);
    let mut found = by_itself(sheet, &scene);
    of_parts(&[sheet], &[scene], &mut found);
    found
}

/// What is found of the sizes of parts, whose views may stand on several sheets.
fn of_parts(sheets: &[&Sheet], scenes: &[Scene<'_>], found: &mut Vec<Finding>) {
    tree::of_parts(scenes, &mut |at_sheet: usize, rule, at, message| {
        let sheet = sheets.get(at_sheet).map(|sheet| sheet.number.clone()).unwrap_or_default();
        found.push(Finding { rule, sheet, at, message });
    });
}

/// What is found of all but the sizes of parts.
fn by_itself(sheet: &Sheet, scene: &Scene<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    let mut add = |rule, at, message: String| {
        found.push(Finding { rule, sheet: sheet.number.clone(), at, message });
    };
    texts::over_one_another(scene, &mut add);
    texts::over_lines(scene, &mut add);
    texts::over_fills(scene, &mut add);
    texts::direction_and_height(scene, &mut add);
    texts::one_height(scene, &mut add);
    texts::shown_as_a_box(scene, &mut add);
    order::open_counts(scene, &mut add);
    lines::crossing_dimensions(scene, &mut add);
    lines::stacked_too_close(scene, &mut add);
    lines::drawn_twice(scene, &mut add);
    lines::too_close(scene, &mut add);
    sizes::said_twice(scene, &mut add);
    sizes::figures(scene, &mut add);
    sizes::near_outlines(scene, &mut add);
    let rows = rows::rows(scene);
    tree::closed(&rows, &mut add);
    tree::outermost(scene, &rows, &mut add);
    crossings::avoidable(scene, &rows, &mut add);
    crossings::lined_up(&rows, &mut add);
    heads::inside_short(&rows, &mut add);
    heads::without_a_figure(&rows, &mut add);
    heads::leaders(scene, &mut add);
    hidden::edges(scene, &rows, &mut add);
    holes::in_a_table(scene, &mut add);
    holes::both_ways(scene, &mut add);
    site::wall(&rows, &mut add);
    nowhere(sheet, &mut add);
    outside(sheet, &mut add);
    empty(sheet, &mut add);
    found
}

/// Everything found on the sheets of a set: on each by itself, then between them.
pub fn judge_set(sheets: &[Sheet]) -> Vec<Finding> {
    let scenes: Vec<Scene<'_>> = sheets.iter().map(Scene::new).collect();
    let mut found: Vec<Finding> =
        sheets.iter().zip(&scenes).flat_map(|(sheet, scene)| by_itself(sheet, scene)).collect();
    of_parts(&sheets.iter().collect::<Vec<_>>(), &scenes, &mut found);
    letters::sections(sheets, &mut found);
    letters::details(sheets, &mut found);
    items::both_ways(sheets, &mut found);
    order::numbered(sheets, &mut found);
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
    let space = sheet.space.inflate(FRAME, FRAME);
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

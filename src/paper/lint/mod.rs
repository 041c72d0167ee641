//! Judges finished sheets as a checker at the next board would.
//!
//! Only ink is looked at: what is printed, not what was meant. Rules that carry
//! a number stand in the project's table of drawing checks (DEVELOPERS.md).

mod letters;
mod lines;
mod scene;
mod sizes;
mod texts;

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

#[cfg(test)]
mod tests {
    use kurbo::{Point, Rect};

    use super::*;
    use crate::paper::{Mark, Pen, Shows, Text, dash};

    fn sheet(marks: Vec<Mark>) -> Sheet {
        Sheet {
            number: "1".into(),
            title: String::new(),
            bookmarks: vec![],
            width: 210.0,
            height: 297.0,
            space: Rect::new(20.0, 10.0, 200.0, 287.0),
            paper: "A4",
            marks,
            full_size: false,
        }
    }

    fn text(x: f64, y: f64, words: &str) -> Mark {
        Mark::text(Text::plain(Point::new(x, y), words, 2.5), Role::Note)
    }

    fn line(a: (f64, f64), b: (f64, f64), role: Role) -> Mark {
        Mark::line(a.into(), b.into(), Pen { width: 0.25, dash: dash::SOLID }, role)
    }

    fn dimension(a: (f64, f64), b: (f64, f64), number: u32) -> Mark {
        line(a, b, Role::Dimension).showing(Shows { dimension: number, ..Shows::default() })
    }

    #[track_caller]
    fn rules(marks: Vec<Mark>, expected: &[&str]) {
        let found = judge(&sheet(marks));
        assert_eq!(found.iter().map(|f| f.rule).collect::<Vec<_>>(), expected, "{found:?}");
    }

    #[test]
    fn each_rule_trips_and_holds() {
        rules(vec![], &["empty"]);
        rules(vec![text(50.0, 50.0, "900"), text(50.0, 56.0, "900")], &[]);
        rules(vec![text(50.0, 50.0, "900"), text(52.0, 51.0, "900")], &["D04"]);
        let through = line((40.0, 49.0), (90.0, 49.0), Role::Outline);
        rules(vec![text(50.0, 50.0, "900"), through.clone()], &["D04"]);
        rules(vec![text(50.0, 50.0, "900"), line((40.0, 51.0), (90.0, 51.0), Role::Outline)], &[]);
        // A mask between line and text clears the ground.
        let clear = Mark::mask(Rect::new(49.0, 47.0, 60.0, 51.0));
        rules(vec![through.clone(), clear.clone(), text(50.0, 50.0, "900")], &[]);
        rules(vec![clear, through, text(50.0, 50.0, "900")], &["D04"]);
        let turned = |by: f64| {
            Mark::text(Text::plain(Point::new(60.0, 60.0), "900", 2.5).turned(by), Role::DimensionText)
        };
        rules(vec![turned(90.0)], &[]);
        rules(vec![turned(-90.0)], &["D09"]);
        rules(vec![Mark::text(Text::plain(Point::new(60.0, 60.0), "9", 1.8), Role::Note)], &["height"]);
        let up = dimension((60.0, 30.0), (60.0, 90.0), 1);
        rules(vec![up.clone(), dimension((50.0, 60.0), (90.0, 60.0), 2)], &["D05"]);
        rules(vec![up.clone(), dimension((60.0, 60.0), (90.0, 60.0), 2)], &[]);
        rules(vec![up.clone(), dimension((50.0, 60.0), (90.0, 60.0), 1)], &[]);
        // The names of fields may be smaller than notes.
        let name = |h: f64| Mark::text(Text::plain(Point::new(60.0, 60.0), "Scale", h), Role::Table);
        rules(vec![name(1.8)], &[]);
        rules(vec![name(1.5)], &["height"]);
        let cut = |part: &str| {
            let shows = Shows { part: part.into(), ..Shows::default() };
            line((40.0, 40.0), (90.0, 40.0), Role::CutOutline).showing(shows)
        };
        rules(vec![cut("1"), cut("2")], &[]);
        rules(vec![cut("1"), cut("1")], &["twice"]);
        let wood = line((40.0, 40.0), (90.0, 40.0), Role::Outline);
        rules(vec![wood.clone(), line((50.0, 40.0), (80.0, 40.0), Role::Outline)], &["twice"]);
        rules(vec![wood.clone(), line((90.0, 40.0), (120.0, 40.0), Role::Outline)], &[]);
        rules(vec![wood.clone(), line((50.0, 40.5), (80.0, 40.5), Role::Outline)], &["D18"]);
        rules(vec![wood, line((50.0, 40.8), (80.0, 40.8), Role::Outline)], &[]);
        rules(vec![line((10.0, 40.0), (90.0, 40.0), Role::Outline)], &["D17"]);
        rules(vec![text(50.0, 50.0, "x"), line((10.0, 5.0), (90.0, 5.0), Role::Frame)], &[]);
    }

    fn figure(height: f64, y: f64) -> Mark {
        Mark::text(Text::plain(Point::new(150.0, y), "900", height), Role::DimensionText)
    }

    #[test]
    fn figures_have_one_height_and_their_lines_keep_apart() {
        rules(vec![figure(3.5, 20.0), figure(3.5, 30.0)], &[]);
        rules(vec![figure(3.5, 20.0), figure(2.5, 30.0)], &["D10"]);
        let at = |y: f64, number| dimension((30.0, y), (90.0, y), number);
        // Dimension lines stand twice the text height apart (office practice).
        rules(vec![figure(3.5, 20.0), at(50.0, 1), at(57.0, 2)], &[]);
        rules(vec![figure(3.5, 20.0), at(50.0, 1), at(55.0, 2)], &["D08"]);
        rules(vec![figure(2.5, 20.0), at(50.0, 1), at(55.0, 2)], &[]);
        // A chain lies on one line; two arrows of one dimension are one.
        let next = dimension((90.0, 50.0), (120.0, 50.0), 2);
        rules(vec![figure(3.5, 20.0), at(50.0, 1), next], &[]);
    }

    #[test]
    fn figures_say_what_they_stand_for_once() {
        let size = |words: &str, number: u32, value: f64, fixes: &str| {
            let below = if words.contains("deep") { 5.0 } else { 0.0 };
            let at = Point::new(40.0, 20.0 + 10.0 * f64::from(number) + below);
            let shows = Shows {
                part: "1".into(),
                dimension: number,
                value: Some(value),
                fixes: fixes.into(),
                ..Shows::default()
            };
            Mark::text(Text::plain(at, words, 2.5), Role::DimensionText).showing(shows)
        };
        rules(vec![size("864", 1, 864.04, "x: 0>end"), size("(900)", 2, 900.0, "")], &[]);
        rules(vec![size("864", 1, 865.0, "x: 0>end")], &["D20"]);
        rules(vec![size("2 × 90 (= 180)", 1, 180.0, "y: 0>1>2")], &[]);
        rules(vec![size("2 × 90 (= 181)", 1, 181.0, "y: 0>1>2")], &["D20"]);
        // The second line of a note may hold the figure.
        rules(vec![size("3 mortises 8 × 40,", 1, 15.0, "#1"), size("15 deep", 1, 15.0, "")], &[]);
        rules(vec![size("18", 1, 18.0, "z: 0>end"), size("18", 2, 18.0, "z: 0>end")], &["D03"]);
    }

    #[test]
    fn dimension_lines_keep_off_the_outline() {
        let wood = line((30.0, 40.0), (90.0, 40.0), Role::Outline);
        rules(vec![wood.clone(), dimension((30.0, 50.0), (90.0, 50.0), 1)], &[]);
        rules(vec![wood, dimension((30.0, 44.0), (90.0, 44.0), 1)], &["D07"]);
    }

    #[test]
    fn what_cannot_be_shown_is_named() {
        rules(vec![text(50.0, 50.0, "Kuppel Ø 35 ⌀")], &[]);
        rules(vec![text(50.0, 50.0, "ארון")], &["character"]);
        let lost = line((f64::NAN, 40.0), (90.0, 40.0), Role::Outline);
        rules(vec![text(50.0, 50.0, "x"), lost], &["nowhere"]);
        let lost = Mark::text(Text::plain(Point::new(50.0, f64::INFINITY), "x", 2.5), Role::Note);
        rules(vec![text(50.0, 50.0, "x"), lost], &["nowhere"]);
    }

    #[test]
    fn section_letters_stand_at_two_ends_and_in_one_title() {
        let at = |x: f64, words: &str, role| Mark::text(Text::plain(Point::new(x, 60.0), words, 5.0), role);
        let end = |x: f64| at(x, "A", Role::SectionMark);
        let title = |x: f64| at(x, "A-A", Role::Title);
        let found = |marks: Vec<Mark>| judge_set(&[sheet(marks)]).iter().map(|f| f.rule).collect::<Vec<_>>();
        assert_eq!(found(vec![end(40.0), end(60.0), title(90.0)]), Vec::<&str>::new());
        assert_eq!(found(vec![end(40.0), title(90.0)]), ["D19"]);
        assert_eq!(found(vec![end(40.0), end(60.0)]), ["D19"]);
        assert_eq!(found(vec![end(40.0), end(60.0), title(90.0), title(120.0)]), ["D19"]);
        assert_eq!(found(vec![at(40.0, "General", Role::Title)]), Vec::<&str>::new());
    }

    #[test]
    fn detail_letters_stand_beside_one_circle_and_in_one_title() {
        let at = |x: f64, words: &str, role| Mark::text(Text::plain(Point::new(x, 60.0), words, 5.0), role);
        let circle = |x: f64| at(x, "B", Role::DetailMark);
        let title = |x: f64| at(x, "B  1:2", Role::Title);
        let found = |marks: Vec<Mark>| judge_set(&[sheet(marks)]).iter().map(|f| f.rule).collect::<Vec<_>>();
        assert_eq!(found(vec![circle(40.0), title(90.0)]), Vec::<&str>::new());
        assert_eq!(found(vec![circle(40.0)]), ["D19"]);
        assert_eq!(found(vec![title(90.0)]), ["D19"]);
        assert_eq!(found(vec![circle(40.0), circle(60.0), title(90.0)]), ["D19"]);
        assert_eq!(found(vec![circle(40.0), title(90.0), title(120.0)]), ["D19"]);
        // A title of other words is none of a detail.
        assert_eq!(found(vec![at(40.0, "Cutting list  1", Role::Title)]), Vec::<&str>::new());
    }
}

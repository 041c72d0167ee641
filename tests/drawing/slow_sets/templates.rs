//! Full-size templates: lengths in the ink are true, and tiles put together by
//! their crosses give the whole outline.

use std::sync::LazyLock;

use kurbo::{BezPath, ParamCurve, ParamCurveArclen, PathSeg, Point, Rect, Shape};
use rodwright::drawing::{Look, Paper, Profile};
use rodwright::geometry::trig;
use rodwright::measure::Unit;
use rodwright::paper::lint::judge_set;
use rodwright::paper::{Ink, Role, Sheet};
use rodwright::{draw, examine};

use crate::support::scripts::family;
use crate::support::sets::describe;

/// Scripts with parts that are worth a template, and how many templates each
/// has.
const SCRIPTS: [(&str, usize); 2] = [("wall_shelf", 2), ("stool", 2)];

/// Papers with the unit and practice they are used with.
fn looks() -> Vec<Look> {
    let mm = |paper| Look::new(paper, Unit::Mm, Profile::Iso);
    let inch = |paper| Look::new(paper, Unit::Inch, Profile::Asme);
    vec![
        mm(Paper::A4),
        Look::new(Paper::A3, Unit::Mm, Profile::Uk),
        mm(Paper::A1),
        inch(Paper::Letter),
        inch(Paper::Tabloid),
    ]
}

/// A script of `tests/drawing/families/` drawn.
struct Made {
    script: &'static str,
    look: Look,
    sheets: Vec<Sheet>,
}

/// Every script in every look, drawn once; any problem fails.
static MADE: LazyLock<Vec<Made>> = LazyLock::new(|| {
    let mut all = Vec::new();
    for (script, _) in SCRIPTS {
        let done = examine(&family(script));
        assert!(done.problems.is_empty(), "{script}: {:?}", done.problems);
        let (job, worked) = done.worked.unwrap();
        for look in looks() {
            let drawn = draw(&job, &worked, &look);
            assert!(drawn.problems.is_empty(), "{script}: {:?}", drawn.problems);
            all.push(Made { script, look, sheets: drawn.sheets });
        }
    }
    all
});

#[test]
fn the_lint_finds_nothing_on_sets_with_templates() {
    let mut wrong = Vec::new();
    for made in MADE.iter() {
        let found = judge_set(&made.sheets);
        if !found.is_empty() {
            wrong.push(format!("{} {:?}: {}", made.script, made.look.paper, describe(&found)));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The tiles of each template of a set, by the name of the part.
fn templates(sheets: &[Sheet]) -> Vec<(String, Vec<&Sheet>)> {
    let mut all: Vec<(String, Vec<&Sheet>)> = Vec::new();
    for sheet in sheets.iter().filter(|s| s.title.starts_with("Template of ")) {
        assert!(sheet.full_size);
        let name = sheet.title.split(", tile").next().unwrap().to_owned();
        match all.iter_mut().find(|(known, _)| *known == name) {
            Some((_, tiles)) => tiles.push(sheet),
            None => all.push((name, vec![sheet])),
        }
    }
    all
}

/// Paths of one role.
fn strokes(sheet: &Sheet, role: Role) -> impl Iterator<Item = &BezPath> {
    sheet.marks.iter().filter(move |m| m.role == role).filter_map(|m| match &m.ink {
        Ink::Stroke { path, .. } => Some(path),
        _ => None,
    })
}

/// The cell between the four crosses of a tile: marks of two lines 10 mm long
/// that cross in their middle.
fn cell(sheet: &Sheet) -> Rect {
    let crosses: Vec<Point> = strokes(sheet, Role::Symbol)
        .filter_map(|path| {
            let lines: Vec<PathSeg> = path.segments().collect();
            let [PathSeg::Line(a), PathSeg::Line(b)] = lines.as_slice() else { return None };
            let level = (a.p0.y - a.p1.y).abs() < 1e-9 && (b.p0.x - b.p1.x).abs() < 1e-9;
            let long = [a, b].iter().all(|l| ((l.p1 - l.p0).hypot() - 10.0).abs() < 1e-9);
            (level && long && a.midpoint().distance(b.midpoint()) < 1e-9).then(|| a.midpoint())
        })
        .collect();
    assert_eq!(crosses.len(), 4, "{}", sheet.title);
    let all = crosses.iter().fold(Rect::from_points(crosses[0], crosses[0]), |r, p| r.union_pt(*p));
    for corner in [(all.x0, all.y0), (all.x1, all.y0), (all.x0, all.y1), (all.x1, all.y1)] {
        assert!(crosses.iter().any(|c| c.distance(corner.into()) < 1e-9), "{}", sheet.title);
    }
    all
}

/// Lines are chopped this short, mm.
const CHOP: f64 = 0.2;

/// Outline pieces of a tile inside its cell, finely chopped: middle and length.
fn pieces(sheet: &Sheet, cell: Rect) -> Vec<(Point, f64)> {
    let mut all = Vec::new();
    for segment in strokes(sheet, Role::Outline).flat_map(|path| path.segments().collect::<Vec<_>>()) {
        let n = (segment.arclen(1e-3) / CHOP).ceil().max(1.0);
        for i in 0..n as u32 {
            let (a, b) = (segment.eval(f64::from(i) / n), segment.eval(f64::from(i + 1) / n));
            let inside = share(a, b, cell);
            if inside > 0.0 {
                all.push((a.midpoint(b), a.distance(b) * inside));
            }
        }
    }
    all
}

/// How much of a straight piece lies in `cell`.
fn share(a: Point, b: Point, cell: Rect) -> f64 {
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (start, step, low, high) in [(a.x, b.x - a.x, cell.x0, cell.x1), (a.y, b.y - a.y, cell.y0, cell.y1)] {
        if step.abs() < 1e-12 {
            if start < low || start >= high {
                return 0.0;
            }
            continue;
        }
        let (t, u) = ((low - start) / step, (high - start) / step);
        from = from.max(t.min(u));
        to = to.min(t.max(u));
    }
    (to - from).max(0.0)
}

/// Length of outline in the cells of all tiles of a template: cells tile the
/// plane, so this is the length of the whole outline, each line once.
fn length(tiles: &[&Sheet]) -> f64 {
    tiles.iter().flat_map(|sheet| pieces(sheet, cell(sheet))).map(|(_, l)| l).sum()
}

fn near(a: f64, b: f64, within: f64, what: &str) {
    assert!((a - b).abs() <= within, "{what}: {a}, not {b}");
}

/// Each tile carries a level and an upright bar of 100 mm by tens, or of 4 inches by quarters.
#[test]
fn check_bars_are_true() {
    for made in MADE.iter() {
        // A line, and a stroke at each end and between two stretches.
        let (long, strokes_of_bar) =
            if made.look.unit == Unit::Inch { (101.6, 1 + 17) } else { (100.0, 1 + 11) };
        for tile in templates(&made.sheets).into_iter().flat_map(|(_, tiles)| tiles) {
            let bars: Vec<Rect> = strokes(tile, Role::Symbol)
                .filter(|path| path.segments().count() == strokes_of_bar)
                .map(Shape::bounding_box)
                // A round mark may be drawn of as many; a bar is no wider than its strokes.
                .filter(|mark| {
                    mark.width().min(mark.height()) < 5.0 && mark.width().max(mark.height()) > 50.0
                })
                .collect();
            assert_eq!(bars.len(), 2, "{}", tile.title);
            let level = bars.iter().find(|b| b.width() > b.height()).unwrap();
            let upright = bars.iter().find(|b| b.height() > b.width()).unwrap();
            near(level.width(), long, 1e-9, &tile.title);
            near(upright.height(), long, 1e-9, &tile.title);
        }
    }
}

/// The seat is a circle of 340 mm with four holes of 25: by pi. The bracket is
/// closed form: straight edges, and an arc of which the rise over half the chord is
/// the tangent of a quarter of its angle.
#[test]
fn tiles_together_give_the_whole_outline() {
    let chord = ((280.0_f64 - 60.0).powi(2) + (260.0_f64 - 50.0).powi(2)).sqrt();
    // Angle 4 atan(2 rise / chord), radius chord / (2 sin(angle / 2)); their product.
    let rise = 0.15 * chord;
    let angle = 4.0 * trig::atan2(2.0 * rise, chord);
    let arc = angle * chord / (2.0 * trig::sin_cos(angle / 2.0).0);
    let bracket = 320.0 + 260.0 + 40.0 + arc + 60.0 + 50.0;
    let seat = std::f64::consts::PI * (340.0 + 4.0 * 25.0);
    for made in MADE.iter() {
        for (script, part, expected) in [("stool", "Seat", seat), ("wall_shelf", "Bracket", bracket)] {
            if script != made.script {
                continue;
            }
            let (name, tiles) = templates(&made.sheets).into_iter().find(|(n, _)| n.ends_with(part)).unwrap();
            near(length(&tiles), expected, 0.05, &format!("{name} on {:?}", made.look.paper));
        }
    }
}

/// Neighbouring tiles, laid cross on cross, carry the same lines where they
/// overlap.
#[test]
fn overlaps_show_the_same() {
    let mut joins = 0;
    for made in MADE.iter() {
        for (name, tiles) in templates(&made.sheets) {
            for (i, a) in tiles.iter().enumerate() {
                // The next in the row, and those that may lie below.
                let joined = tiles.iter().skip(i + 1).filter(|b| same_where_they_overlap(a, b)).count();
                joins += joined;
                assert!(
                    joined > 0 || i + 1 == tiles.len() || tiles.len() > 2,
                    "{name} on {:?}",
                    made.look.paper
                );
            }
        }
    }
    assert!(joins > 8, "{joins} joins were found");
}

/// Whether `b`, laid to the right of `a` or below it cross on cross, shows the
/// same lines in the overlap, which must hold some.
fn same_where_they_overlap(a: &Sheet, b: &Sheet) -> bool {
    let (cell_a, cell_b) = (cell(a), cell(b));
    let everywhere = Rect::new(-1e4, -1e4, 1e4, 1e4);
    let right = Point::new(cell_a.x1, cell_a.y0) - cell_b.origin();
    let below = Point::new(cell_a.x0, cell_a.y1) - cell_b.origin();
    [(right, true), (below, false)].into_iter().any(|(by, across)| {
        let strip =
            |p: &Point| if across { (p.x - cell_a.x1).abs() < 7.0 } else { (p.y - cell_a.y1).abs() < 7.0 };
        let mine: Vec<Point> = pieces(a, everywhere).into_iter().map(|(p, _)| p).filter(strip).collect();
        let other: Vec<Point> =
            pieces(b, everywhere).into_iter().map(|(p, _)| p + by).filter(strip).collect();
        let covered = |a: &[Point], b: &[Point]| a.iter().all(|p| b.iter().any(|q| p.distance(*q) < CHOP));
        !mine.is_empty() && covered(&mine, &other) && covered(&other, &mine)
    })
}

/// The turned leg: its greatest diameter and its length measured in the ink.
#[test]
fn a_turned_profile_is_true() {
    let made = MADE.iter().find(|m| m.script == "stool" && m.look.paper == Paper::A1).unwrap();
    let (_, tiles) = templates(&made.sheets).into_iter().find(|(n, _)| n.ends_with("Leg")).unwrap();
    assert_eq!(tiles.len(), 1);
    let all = strokes(tiles[0], Role::Outline).map(Shape::bounding_box).reduce(|a, b| a.union(b)).unwrap();
    near(all.width(), 414.0, 1e-6, "length");
    near(all.height(), 40.0, 1e-6, "greatest diameter");
}

#[test]
fn templates_are_made_where_a_part_is_worth_one() {
    for made in MADE.iter() {
        let found = templates(&made.sheets);
        let count = SCRIPTS.iter().find(|(s, _)| *s == made.script).unwrap().1;
        assert_eq!(found.len(), count, "{} {:?}", made.script, made.look.paper);
        for (name, tiles) in found {
            for (i, tile) in tiles.iter().enumerate() {
                let words: Vec<String> = tile
                    .marks
                    .iter()
                    .filter_map(|m| match &m.ink {
                        Ink::Text(text) => Some(text.reading()),
                        _ => None,
                    })
                    .collect();
                let words = words.join(" ");
                let says = |text: &str| words.contains(text);
                assert!(says("1 : 1, print at 100 %, measure the bars"), "{name}");
                assert!(says(name.trim_start_matches("Template of ")), "{name}");
                if tiles.len() > 1 {
                    assert!(says(&format!("tile {} of {}", i + 1, tiles.len())), "{name}: {words}");
                    assert!(says("tiles overlap"), "{name}: {words}");
                }
            }
        }
    }
    for script in crate::support::sets::scripts() {
        let (job, worked) = crate::support::sets::worked(&script, &[]);
        let drawn = draw(&job, &worked, &Look::new(Paper::A1, Unit::Mm, Profile::Iso));
        // The coat rail has a row of holes for pegs and a row for its fixings; the bench
        // has an arched rail and shaped ends, the cupboard arched doors, the chair
        // back legs, sawn to one outline on the side and to one on the front and so to two
        // templates of two titles, and a crest.
        let worth = match script.as_str() {
            "window_wall" => 1,
            "porch_bench" | "specimen_cupboard" => 2,
            "reading_chair" => 3,
            _ => 0,
        };
        assert_eq!(templates(&drawn.sheets).len(), worth, "{script}");
    }
}

//! A triangle with the letter of the revision at every size that has changed (common
//! practice beside a revision block by ISO 7200, no source).

use kurbo::{BezPath, Point, Rect, Vec2};

use crate::drawing::page::plate::Lettering;
use crate::paper::{Anchor, Ink, Mark, Pen, Role, Sheet, Text, Weight, dash};

/// Side of the triangle, mm: it holds a letter of 1.8 mm.
const SIDE: f64 = 5.2;
/// Its height as a share of its side: half the root of three.
const TALL: f64 = 0.866;
/// The letter, mm high, and how far it stands over the foot of the triangle.
const LETTER: f64 = 1.8;
const OVER_FOOT: f64 = 0.9;
/// White between a figure and its triangle, mm.
const BESIDE: f64 = 0.8;
/// Width of its lines, mm.
const LINE: f64 = 0.25;

/// Marks every size on `new` that no sheet of `old` has in the same view; gives how many.
/// Sheets are held against those of the same title.
pub fn mark_changes(old: &[Sheet], new: &mut [Sheet], letter: &str) -> usize {
    let mut count = 0;
    for sheet in new {
        let mut known: Vec<(u16, String)> =
            old.iter().filter(|one| one.title == sheet.title).flat_map(|one| figures(one).map(key)).collect();
        let mut changed: Vec<Rect> = Vec::new();
        for (view, text) in figures(sheet) {
            let own = key((view, text));
            match known.iter().position(|one| *one == own) {
                Some(at) => {
                    known.swap_remove(at);
                }
                None => changed.push(text.bounds()),
            }
        }
        for figure in changed {
            let at = place(sheet, figure);
            draw(sheet, at, letter);
            count += 1;
        }
    }
    count
}

/// The figures of sizes on a sheet with their views.
fn figures(sheet: &Sheet) -> impl Iterator<Item = (u16, &Text)> {
    sheet.marks.iter().filter_map(|mark| match &mark.ink {
        Ink::Text(text) if mark.role == Role::DimensionText => Some((mark.shows.view, text)),
        _ => None,
    })
}

/// What a figure is known by.
fn key((view, text): (u16, &Text)) -> (u16, String) {
    (view, text.reading())
}

/// Where the triangle of a figure stands: beside it, where least is in the way.
fn place(sheet: &Sheet, figure: Rect) -> Point {
    let half = Vec2::new(SIDE / 2.0, SIDE * TALL / 2.0);
    let middle = figure.center();
    let places = [
        Point::new(figure.x1 + BESIDE + half.x, middle.y),
        Point::new(figure.x0 - BESIDE - half.x, middle.y),
        Point::new(middle.x, figure.y0 - BESIDE - half.y),
        Point::new(middle.x, figure.y1 + BESIDE + half.y),
        Point::new(figure.x1 + BESIDE + half.x, figure.y0 - half.y),
        Point::new(figure.x0 - BESIDE - half.x, figure.y0 - half.y),
    ];
    let taken = |at: &Point| {
        let own = Rect::from_points(*at - half, *at + half);
        let inside = sheet.space.contains(own.origin()) && sheet.space.contains(Point::new(own.x1, own.y1));
        let over = sheet.marks.iter().filter(|mark| meets(mark, own)).count();
        if inside { over } else { usize::MAX }
    };
    places.into_iter().min_by_key(taken).unwrap_or(middle)
}

/// Whether a mark stands in a rectangle: letters weigh as lines do.
fn meets(mark: &Mark, own: Rect) -> bool {
    use kurbo::Shape;
    let over = |bounds: Rect| bounds.inflate(LINE, LINE).intersect(own).area() > 0.0;
    match &mark.ink {
        Ink::Text(text) => over(text.bounds()),
        Ink::Stroke { path, .. } | Ink::Fill { path, .. } => {
            mark.role != Role::Frame && path.segments().any(|part| over(part.bounding_box()))
        }
    }
}

/// Draws a triangle about a point; what it stands on is cleared below it.
fn draw(sheet: &mut Sheet, at: Point, letter: &str) {
    let (half, up) = (SIDE / 2.0, SIDE * TALL / 2.0);
    let mut path = BezPath::new();
    path.move_to((at.x - half, at.y + up));
    path.line_to((at.x + half, at.y + up));
    path.line_to((at.x, at.y - up));
    path.close_path();
    sheet.marks.push(Mark::new(Ink::Fill { path: path.clone(), grey: 1.0 }, Role::Mask));
    sheet
        .marks
        .push(Mark::new(Ink::Stroke { path, pen: Pen { width: LINE, dash: dash::SOLID } }, Role::Symbol));
    let how =
        Lettering { height: LETTER, anchor: Anchor::Middle, weight: Weight::SemiBold, role: Role::Symbol };
    let foot = Point::new(at.x, at.y + up - OVER_FOOT);
    let text = Text::plain(foot, letter, how.height).anchored(how.anchor).bold();
    sheet.marks.push(Mark::new(Ink::Text(text), how.role));
}

//! What a turned part needs besides its views: the table of its diameters, and
//! what is inlaid in it shown by hatching.

use kurbo::{Point, Rect, Vec2};

use super::frame::Frame;
use super::room::blocks::{BESIDE, corner, fewest};
use super::subject::{self, Subject, text_height};
use crate::drawing::kit::dimension::figure::length_runs;
use crate::drawing::kit::hatch::{self, Hatch};
use crate::drawing::kit::table::{Column, Row, Table};
use crate::drawing::kit::words::{length_text, plain};
use crate::drawing::page::look::Look;
use crate::drawing::page::plate::Plate;
use crate::geometry::DVec3;
use crate::geometry::tolerance::HAIR;
use crate::joinery::{Fill, FillShape, WorkedPart};
use crate::paper::{Mark, Pen, Role, Run, dash};
use crate::solid::{Body, Station, Transition, Turning};
use crate::wording::setups::MATCHED;

/// How far the axis runs past the ends, mm.
const PAST: f64 = 2.5;
/// Least width of a ring on paper that is hatched, mm.
pub(super) const HATCHED: f64 = 1.6;

/// The profile of a turned part.
pub(super) fn turning(part: &WorkedPart) -> Option<&Turning> {
    match &part.body {
        Body::Turning(turning) => Some(turning),
        Body::Prism(_) => None,
    }
}

/// Part x of a distance along the lathe axis, mm.
fn part_x(turning: &Turning, along: f64) -> f64 {
    turning.at.point(DVec3::Z * along).x
}

/// The table of diameters of a turned part under `above`, its views; nothing for
/// other parts. Where it would run off the sheet it goes on beside itself.
pub(super) fn table(subject: Subject<'_>, above: Rect) -> Vec<Mark> {
    let Subject { part, look, .. } = subject;
    let Some(turning) = turning(part) else { return Vec::new() };
    let rows = rows(turning, part, look);
    let height = text_height(look);
    let wide = super::pack::room(look).width();
    let blocks = |count: usize| -> Vec<Table> {
        let each = rows.len().div_ceil(count).max(1);
        let title = |i: usize| if i == 0 { "Diameters" } else { "Diameters, continued" };
        rows.chunks(each).enumerate().map(|(i, rows)| block(title(i), rows)).collect()
    };
    // Where even three have no room, two narrow ones whose words wrap.
    let count = fewest(&blocks, above, look).unwrap_or(2);
    let mut plate = Plate::new(look);
    let mut at = corner(above);
    for table in blocks(count) {
        let set = table.set(height, wide / count as f64 - BESIDE);
        set.draw(&mut plate, at, 0, f64::MAX);
        at.x += set.width() + BESIDE;
    }
    plate.marks
}

/// Some rows as a table of their own.
fn block(title: &str, rows: &[Row]) -> Table {
    let columns =
        vec![Column::figures("From left end"), Column::figures("Diameter"), Column::words("From there on")];
    let mut table = Table::new(title, columns);
    table.rows.extend(rows.iter().cloned());
    table
}

/// What turnings of which there are several must keep to.
pub(super) fn matched(subject: Subject<'_>) -> Option<String> {
    turning(subject.part)?;
    let off: u32 = subject::off(subject).iter().map(|(_, n)| n).sum();
    let within = length_text(subject.look, MATCHED);
    (off > 1).then(|| format!("{off} from one profile, diameters alike within {within}"))
}

/// A row of the table before it is set.
struct Place {
    x: f64,
    diameter: f64,
    says: String,
}

/// The rows of the table, from the left end on.
fn rows(turning: &Turning, part: &WorkedPart, look: &Look) -> Vec<Row> {
    let mut places = stations(turning);
    for (k, fill) in part.fills.iter().enumerate() {
        places.extend(edges(turning, fill, k, look));
    }
    // Stable, so that the two stations of a shoulder keep their order.
    places.sort_by(|a, b| a.x.total_cmp(&b.x));
    let row = |place: &Place| {
        let mut diameter = vec![Run::Plain("⌀ ".into())];
        diameter.extend(length_runs(look, place.diameter));
        Row::Cells(vec![length_runs(look, place.x), diameter, plain(place.says.clone())])
    };
    places.iter().map(row).collect()
}

/// The stations of the profile, each with how it runs on to the right.
fn stations(turning: &Turning) -> Vec<Place> {
    let mut all: Vec<&Station> = turning.stations.iter().collect();
    if part_x(turning, 1.0) < part_x(turning, 0.0) {
        all.reverse();
    }
    let last = all.len().saturating_sub(1);
    let message = |i: usize| {
        let (Some(a), Some(b)) = (all.get(i), all.get(i + 1)) else { return "right end" };
        // A band says how it runs from its lower station.
        let then = if a.along <= b.along { a.then } else { b.then };
        match then {
            _ if (a.along - b.along).abs() < HAIR => "shoulder",
            Transition::Cove => "cove",
            Transition::Bead => "bead",
            Transition::Fillet => "fillet",
            Transition::Straight if (a.diameter - b.diameter).abs() < HAIR => "cylinder",
            Transition::Straight => "taper",
        }
    };
    (0..=last)
        .filter_map(|i| {
            let station = all.get(i)?;
            Some(Place {
                x: part_x(turning, station.along),
                diameter: station.diameter,
                says: message(i).to_owned(),
            })
        })
        .collect()
}

/// Both edges of a ring, or a hollow at its end.
fn edges(turning: &Turning, fill: &Fill, k: usize, look: &Look) -> Vec<Place> {
    let place = |along: f64, message: String| {
        let diameter = 2.0 * turning.radius(along).unwrap_or_default();
        Place { x: part_x(turning, along), diameter, says: message }
    };
    let number = k + 1;
    let what = &fill.what;
    match fill.shape {
        FillShape::Ring { from, to, depth } => {
            let (from, to) =
                if part_x(turning, from) <= part_x(turning, to) { (from, to) } else { (to, from) };
            let core =
                turning.radii(from.min(to), from.max(to)).map_or(0.0, |(least, _)| 2.0 * (least - depth));
            let start = format!("inlay {number}: groove to ⌀ {}, {what}", length_text(look, core));
            vec![place(from, start), place(to, format!("inlay {number} ends"))]
        }
        FillShape::Hollow { far, diameter, depth } => {
            let end = turning.stations.last().map_or(0.0, |s| s.along);
            let at = if far { end } else { 0.0 };
            let message = format!(
                "inlay {number}: hollow ⌀ {}, {} deep, {what}",
                length_text(look, diameter),
                length_text(look, depth)
            );
            vec![place(at, message)]
        }
    }
}

/// The lathe axis, a little past both ends.
fn axis(turning: &Turning, part: &WorkedPart, frame: &Frame, look: &Look) -> Mark {
    let end = |x: f64| frame.point(DVec3 { x, ..turning.at.origin });
    let past = Vec2::new(PAST, 0.0);
    let pen = Pen { width: look.narrow(), dash: dash::CENTRE };
    Mark::line(end(0.0) - past, end(part.size.x) + past, pen, Role::Centre)
}

/// The axis of a turned part and what is inlaid, on a view along it: rings hatched or filled, hollows as hidden
/// lines.
pub(super) fn inlays(part: &WorkedPart, frame: &Frame, look: &Look) -> Vec<Mark> {
    let Some(turning) = turning(part).filter(|_| frame.right.0 == 0) else { return Vec::new() };
    let across = frame.down.0;
    let middle = turning.at.origin[across];
    let point = |along: f64, r: f64| {
        let mut p = DVec3::ZERO;
        p.x = part_x(turning, along);
        p[across] = middle + r;
        frame.point(p)
    };
    let mut marks = vec![axis(turning, part, frame, look)];
    for fill in &part.fills {
        match fill.shape {
            FillShape::Ring { from, to, .. } => {
                let (Some(a), Some(b)) = (turning.radius(from), turning.radius(to)) else { continue };
                let ring = vec![point(from, -a), point(to, -b), point(to, b), point(from, a)];
                marks.push(ring_mark(ring, (to - from) * frame.factor, look));
            }
            FillShape::Hollow { far, diameter, depth } => {
                let end = turning.stations.last().map_or(0.0, |s| s.along);
                let (mouth, bottom) = if far { (end, end - depth) } else { (0.0, depth) };
                let r = 0.5 * diameter;
                let corners =
                    [(mouth, -r), (bottom, -r), (bottom, r), (mouth, r)].map(|(at, r)| point(at, r));
                let pen = Pen { width: look.narrow(), dash: dash::HIDDEN };
                marks.extend(corners.windows(2).map(|pair| Mark::line(pair[0], pair[1], pen, Role::Hidden)));
            }
        }
    }
    marks
}

/// Hatching of inlaid rings.
const INLAY: Hatch = Hatch { angle: 45.0, spacing: 1.2 };

/// A ring, `wide` on paper: hatched, or too narrow for that one wide line, as thin
/// sections are.
fn ring_mark(ring: Vec<Point>, wide: f64, look: &Look) -> Mark {
    if wide < HATCHED {
        return Mark::fill(hatch::outline(&[ring]), 0.0, Role::Hatch);
    }
    let pen = Pen { width: look.narrow(), dash: dash::SOLID };
    Mark::stroke(hatch::lines(&[ring], INLAY), pen, Role::Hatch)
}

/// The narrowest ring of a part, mm; far more where it has none.
pub(super) fn finest(part: &WorkedPart) -> f64 {
    let rings = part.fills.iter().filter(|fill| matches!(fill.shape, FillShape::Ring { .. }));
    rings.map(|fill| fill.shape.size().0).fold(f64::MAX, f64::min)
}

/// The box round some marks.
pub(super) fn bounds(marks: &[Mark], around: Rect) -> Rect {
    marks.iter().map(Mark::bounds).fold(around, |all, b| all.union(b))
}

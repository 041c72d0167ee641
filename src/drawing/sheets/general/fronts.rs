//! The front of a long piece in stretches, each with its clear openings, where
//! the front view of the general arrangement is too small to carry them.

use std::fmt::Write as _;

use kurbo::{Point, Rect};

use super::sizes::{crowded, members, openings, overall};
use crate::drawing::kit::dimension::{Beside, Manner, Sizes, place};
use crate::drawing::kit::project::{self, OnSheet, ViewPens, bounds};
use crate::drawing::kit::words::length_text;
use crate::drawing::page::look::Look;
use crate::drawing::page::plate::{Lettering, Plate};
use crate::drawing::page::scale::Scale;
use crate::drawing::page::sheet_body::{SheetBody, SheetKind};
use crate::geometry::tolerance::{HAIR, NOISE};
use crate::geometry::{DVec2, DVec3};
use crate::joinery::WorkedJob;
use crate::model::PieceId;
use crate::paper::Role;
use crate::solid::{Camera, HiddenLines, ViewLine, Viewed, view};

/// Height of the line that says which stretch is shown, mm.
const SAYS: f64 = 3.5;
/// Room for that line and the rows of sizes above a stretch, mm.
const ABOVE: f64 = 2.0 * SAYS + 28.0;
/// White between two stretches, mm.
const GAP: f64 = 4.0;
/// Room at each side of a stretch for figures of narrow end openings, mm.
const BESIDE: f64 = 16.0;

/// The stretches of a front: members each, at one scale.
struct Cut<'m> {
    scale: Scale,
    stretches: Vec<&'m [(f64, f64)]>,
}

/// The sheets of the front of one piece in stretches.
pub(in crate::drawing) fn fronts(
    name: &str,
    worked: &WorkedJob,
    piece: PieceId,
    look: &Look,
) -> Vec<SheetBody> {
    let members = members(worked, piece, 0, 2);
    let Some(whole) = bounds(worked.parts.iter().filter(|p| p.piece == piece)) else { return Vec::new() };
    let area = look.room().above();
    let tall = whole.1.z - whole.0.z;
    let Some(cut) = cut(&members, tall, area, look) else { return Vec::new() };
    let pitch = ABOVE + tall * cut.scale.factor + GAP;
    let rows = (1..=20_u32).take_while(|n| f64::from(*n) * pitch <= area.height() + GAP).count().max(1);
    let of = cut.stretches.len().div_ceil(rows);
    let sheet = |(page, stretches): (usize, &[&[(f64, f64)]])| {
        let mut plate = Plate::new(look);
        let mut number = 0;
        for ((i, stretch), row) in (1..).zip(stretches).zip(0..) {
            let corner = Point::new(area.x0, area.y0 + f64::from(row) * pitch);
            let stretch = Stretch { members: stretch, whole, corner, scale: cut.scale, number: i };
            let (rect, rows) = draw(&mut plate, worked, piece, &stretch, look);
            plate.marks.extend(place(rect, &rows, &Manner::of(look), &mut number).marks);
        }
        let mut title = format!("{name}: front in stretches");
        if of > 1 {
            let _ = write!(title, ", sheet {} of {of}", page + 1);
        }
        SheetBody {
            scale: Some(cut.scale),
            marks: plate.marks,
            ..SheetBody::new(SheetKind::GeneralArrangement, title)
        }
    };
    cut.stretches.chunks(rows).enumerate().map(sheet).collect()
}

/// The fewest stretches, at the largest scale that all fit at, in which the
/// openings read; each begins and ends with a member.
fn cut<'m>(members: &'m [(f64, f64)], tall: f64, area: Rect, look: &Look) -> Option<Cut<'m>> {
    let links = members.len().checked_sub(1)?;
    let mut found = None;
    for count in 2..=links {
        let stretches: Vec<&[(f64, f64)]> =
            (0..count).filter_map(|i| members.get(i * links / count..=(i + 1) * links / count)).collect();
        let wide = stretches.iter().map(|s| length(s)).fold(0.0, f64::max);
        let fits = |scale: Scale| {
            wide * scale.factor <= area.width() - 2.0 * BESIDE && tall * scale.factor + ABOVE <= area.height()
        };
        let Some(scale) = Scale::largest(look, 1.0, fits) else { continue };
        let reads = !stretches.iter().any(|s| crowded(s, length(s) * scale.factor, 1.0, look));
        found = Some(Cut { scale, stretches });
        if reads {
            break;
        }
    }
    found
}

/// From the first member's outer side to the last one's, mm.
fn length(stretch: &[(f64, f64)]) -> f64 {
    ends(stretch).map_or(0.0, |(from, to)| to - from)
}

fn ends(stretch: &[(f64, f64)]) -> Option<(f64, f64)> {
    Some((stretch.first()?.0, stretch.last()?.1))
}

/// One stretch of a front.
struct Stretch<'a> {
    /// Its upright members, each from side to side.
    members: &'a [(f64, f64)],
    /// The piece's least and greatest corner.
    whole: (DVec3, DVec3),
    /// Its top left corner on the sheet.
    corner: Point,
    scale: Scale,
    /// The number of its view.
    number: u16,
}

/// Draws a stretch; gives its outline and the rows of sizes that stand over it.
fn draw(
    plate: &mut Plate,
    worked: &WorkedJob,
    piece: PieceId,
    stretch: &Stretch<'_>,
    look: &Look,
) -> (Rect, Vec<Sizes>) {
    let Stretch { members, whole: (low, high), corner, scale, number } = *stretch;
    let Some((from, to)) = ends(members) else { return (Rect::ZERO, Vec::new()) };
    let message = |x: f64| length_text(look, x - low.x);
    plate.text(
        (corner.x, corner.y + SAYS),
        format!("{} to {} from the left", message(from), message(to)),
        Lettering::title(SAYS),
    );
    let (a, b) = (DVec2::new(from, low.z), DVec2::new(to, high.z));
    let on = OnSheet::at_corner(a, b, corner + kurbo::Vec2::new(BESIDE, ABOVE), scale.factor);
    let near = |index: &usize| {
        let part = worked.parts.get(*index).filter(|part| part.piece == piece);
        bounds(part.into_iter()).is_some_and(|(low, high)| low.x < to - HAIR && high.x > from + HAIR)
    };
    let items: Vec<Viewed<'_>> = (0..worked.parts.len())
        .filter(near)
        .filter_map(|tag| worked.parts.get(tag).map(|part| Viewed { solid: &part.solid, at: part.at, tag }))
        .collect();
    let lines: Vec<ViewLine> = view(&items, Camera::FRONT, HiddenLines::Drop)
        .into_iter()
        .filter_map(|line| within(line, from, to))
        .collect();
    let pens = ViewPens { visible: plate.wide, hidden: plate.narrow, role: Role::Outline, view: number };
    project::put(plate, &lines, worked, on, pens, |_| None);
    let rect = on.rect(a, b);
    let x = |at: f64| on.point(DVec2::new(at, 0.0)).x;
    let mut rows: Vec<Sizes> = Vec::new();
    rows.extend(openings(members, Beside::Above, rect, x, look));
    rows.push(overall(Beside::Above, rect, to - from, look));
    (rect, rows)
}

/// What of a line lies between two upright borders.
fn within(line: ViewLine, from: f64, to: f64) -> Option<ViewLine> {
    let (a, b) = (line.a, line.b);
    let run = b.x - a.x;
    if run.abs() < NOISE {
        return (a.x > from - HAIR && a.x < to + HAIR).then_some(line);
    }
    let (s, e) = ((from - a.x) / run, (to - a.x) / run);
    let (s, e) = (s.min(e).max(0.0), s.max(e).min(1.0));
    (e - s > NOISE).then(|| ViewLine { a: a + (b - a) * s, b: a + (b - a) * e, ..line })
}

//! General arrangement: front, side, plan in projection, and a pictorial.

use kurbo::{BezPath, Point, Rect, Vec2};

use super::fronts::fronts;
use super::layout::{Bulk, Layout, Open, arrange, bands};
use super::sizes::{front, front_crowded, overall};
use super::too_small::too_small;
use super::zones::{MOST_NUMBERS, numbered};
use crate::drawing::kit::dimension::{Beside, Manner, place};
use crate::drawing::kit::opening::{Opens, opens};
use crate::drawing::kit::project::{self, OnSheet, ViewPens, bounds, extent, standing};
use crate::drawing::kit::words::wrap;
use crate::drawing::page::look::Look;
use crate::drawing::page::plate::{Lettering, Plate};
use crate::drawing::page::profile::Projection;
use crate::drawing::page::scale::Scale;
use crate::drawing::page::sheet_body::{SheetBody, SheetKind};
use crate::drawing::sheets::detail::Detail;
use crate::drawing::sheets::detail::circle::{View, circles};
use crate::drawing::sheets::section;
use crate::geometry::{DVec2, DVec3};
use crate::joinery::WorkedJob;
use crate::model::{Job, PieceId};
use crate::paper::{Anchor, Ink, Mark, Pen, Role, Weight, dash, lettering};
use crate::problem::Problem;
use crate::solid::{Camera, HiddenLines, Viewed, view};

/// The sheet of one piece, with further ones for the numbers of its parts where
/// they would crowd it, or the problem that no scale fits the paper.
pub(in crate::drawing) fn general(
    job: &Job,
    worked: &WorkedJob,
    piece: PieceId,
    look: &Look,
    details: &mut [Detail],
) -> Result<Vec<SheetBody>, Problem> {
    let name = job.pieces.get(piece.0).map_or("", |p| p.name.as_str());
    let Some((low, high)) = bounds(worked.parts.iter().filter(|p| p.piece == piece)) else {
        return Err(Problem::warning("nothing-to-draw", format!("`{name}` has no parts to draw")));
    };
    let moving = opens(worked, piece);
    let open = Open::of(&moving, (low, high));
    let bulk = Bulk { low, high, open };
    let arranged = |scale| arrange(look, scale, &bulk, &bands(worked, piece, look, scale));
    let Some(layout) = Scale::largest(look, 1.0, |scale| arranged(scale).is_some()).and_then(arranged) else {
        return Err(too_small(name, look));
    };
    let mut plate = Plate::new(look);
    let items = standing(worked, piece);
    let shown = Shown { worked, piece, look, items: &items, moving: &moving, corners: (low, high) };
    let views = orthographic(&mut plate, &shown, &layout);
    let mut more = Vec::new();
    if front_crowded(worked, piece, layout.front.width(), look) {
        more.extend(fronts(name, worked, piece, look));
    }
    more.extend(pictorial(&mut plate, &shown, &layout, name));
    let notes: Vec<&str> =
        job.notes.iter().filter(|note| note.is_about(piece)).map(|note| note.text.as_str()).collect();
    let mut taken = vec![look.room().block];
    taken.extend(layout.free);
    let free = layout.free.map(|free| below_figures(&plate, free));
    let left = free.and_then(|free| put_notes(&mut plate, &notes, free, look.small()));
    let noted = notes.is_empty() || left.is_some();
    let free = left.or(layout.free);
    circles(&mut plate, details, &|_, _| true, &views, look.room().space, &taken);
    let sheet = SheetBody {
        scale: Some(layout.scale),
        marks: plate.marks,
        free,
        noted,
        ..SheetBody::new(SheetKind::GeneralArrangement, format!("{name}: general arrangement"))
    };
    Ok(std::iter::once(sheet).chain(more).collect())
}

/// What the views show.
struct Shown<'a> {
    worked: &'a WorkedJob,
    piece: PieceId,
    look: &'a Look,
    items: &'a [Viewed<'a>],
    /// What opens.
    moving: &'a [Opens],
    /// Least and greatest corner of the piece.
    corners: (DVec3, DVec3),
}

/// The three views with sizes, the cutting line and titles.
fn orthographic(plate: &mut Plate, shown: &Shown<'_>, layout: &Layout) -> Vec<View> {
    let Shown { worked, piece, look, items, moving, corners: (low, high) } = *shown;
    let first = look.profile.projection() == Projection::First;
    let side_camera = if first { Camera::LEFT } else { Camera::RIGHT };
    let views = [(layout.front, Camera::FRONT), (layout.side, side_camera), (layout.plan, Camera::TOP)];
    let mut number = 1;
    let mut placed = Vec::new();
    let manner = Manner::of(look);
    for (i, (rect, camera)) in (1..).zip(views) {
        let (a, b) = extent(camera, low, high);
        let on = OnSheet::at_corner(a, b, Point::new(rect.x0, rect.y0), layout.scale.factor);
        placed.push(View { camera, on, level: None });
        let lines = view(items, camera, HiddenLines::Drop);
        let pens = ViewPens { visible: plate.wide, hidden: plate.narrow, role: Role::Outline, view: i };
        project::put(plate, &lines, worked, on, pens, |_| None);
        for one in moving {
            one.draw(plate, camera, on);
        }
        let rows = match i {
            1 => front(worked, piece, on, rect, look),
            2 => {
                let above = Open::of(moving, (low, high)).above > 0.0;
                let side = if above { Beside::Below } else { Beside::Above };
                vec![overall(side, rect, high.y - low.y, look)]
            }
            _ => Vec::new(),
        };
        let sizes = place(rect, &rows, &manner, &mut number).marks.into_iter();
        plate.marks.extend(sizes.map(|mut mark| {
            mark.shows.view = i;
            mark
        }));
        if let (1, Some(x)) = (i, section::plane(worked, piece)) {
            cutting_line(plate, rect, on.point(DVec2::new(x, 0.0)).x, &section::letter(piece));
        }
    }
    placed
}

/// The cutting line A-A on the front view: narrow long dashes, wide at the
/// ends, arrows in the direction of view (to the right), letters behind them.
fn cutting_line(plate: &mut Plate, view: Rect, x: f64, letter: &str) {
    let (narrow, wide) = (plate.narrow, plate.wide);
    let mut middle = BezPath::new();
    middle.move_to((x, view.y0 - 2.0));
    middle.line_to((x, view.y1 + 2.0));
    plate.stroke(middle, Pen { width: narrow, dash: dash::CENTRE }, Role::SectionMark);
    // The letters keep below the first band of sizes.
    for (from, to) in [(view.y0 - 2.0, view.y0 - 6.5), (view.y1 + 2.0, view.y1 + 6.5)] {
        plate.line((x, from), (x, to), wide, Role::SectionMark);
        let y = to + (from - to) * 0.25;
        plate.line((x, y), (x + 4.0, y), wide, Role::SectionMark);
        let mut head = BezPath::new();
        head.move_to((x + 7.5, y));
        head.line_to((x + 3.5, y - 1.1));
        head.line_to((x + 3.5, y + 1.1));
        head.close_path();
        plate.fill(head, 0.0, Role::SectionMark);
        let how =
            Lettering { height: 5.0, anchor: Anchor::End, weight: Weight::SemiBold, role: Role::SectionMark };
        let foot = Point::new(x - 1.5, f64::midpoint(from, to) + 2.75);
        // Extension lines are broken behind the letter.
        let wide_of = lettering::width(letter, how.height, how.weight);
        let behind = Rect::new(foot.x - wide_of, foot.y - how.height, foot.x, foot.y);
        plate.marks.push(Mark::mask(behind.inflate(0.4, 0.4)));
        plate.text(foot, letter, how);
    }
}

/// The isometric picture with item numbers; where they are too many for it, gives
/// the sheets that carry them instead.
fn pictorial(plate: &mut Plate, shown: &Shown<'_>, layout: &Layout, name: &str) -> Vec<SheetBody> {
    let Shown { worked, items, look, .. } = *shown;
    let lines = view(items, Camera::isometric(), HiddenLines::Drop);
    let pens = ViewPens { visible: plate.wide * 0.7, hidden: plate.narrow, role: Role::Pictorial, view: 4 };
    project::put(plate, &lines, worked, layout.pictorial, pens, |_| None);
    let tags: Vec<usize> = items.iter().map(|item| item.tag).collect();
    let numbers = project::items(&lines, worked, layout.pictorial, &tags);
    let room = layout.beside.height() - 2.0 * project::ITEM;
    if numbers.len() > MOST_NUMBERS || project::column_height(numbers.len().div_ceil(2)) > room {
        let foot = Point::new(layout.picture.x0, layout.picture.y1 + 4.0);
        plate.text(foot, "Numbers of the parts: next sheets", Lettering::note(look.small()));
        return numbered(name, worked, &tags, look);
    }
    project::number(plate, &numbers, layout.picture, layout.beside, 4);
    Vec::new()
}

/// `free` from under the figures of the view above that reach down into its top:
/// a short upright size has its figure below it.
fn below_figures(plate: &Plate, free: Rect) -> Rect {
    let top = Rect::new(free.x0, free.y0, free.x1, free.y0 + 6.0);
    let figures = plate.marks.iter().filter(|mark| matches!(mark.ink, Ink::Text(_)));
    let reach = figures.map(Mark::bounds).filter(|b| b.overlaps(top)).fold(free.y0, |y, b| y.max(b.y1 + 1.0));
    Rect::new(free.x0, reach, free.x1, free.y1)
}

/// Notes at the top of `free`; gives what is left under them, or nothing where
/// they have no room.
fn put_notes(plate: &mut Plate, notes: &[&str], free: Rect, height: f64) -> Option<Rect> {
    if notes.is_empty() {
        return Some(free);
    }
    let mut y = free.y0 + 3.5;
    let heading = Vec2::new(free.x0, y);
    let mut lines: Vec<String> = Vec::new();
    for note in notes {
        lines.extend(wrap(note, height, Weight::Regular, free.width().min(120.0)));
    }
    if y + height * 1.6 * lines.len() as f64 > free.y1 {
        return None;
    }
    plate.text(heading.to_point(), "Notes", Lettering::title(3.5));
    for line in lines {
        y += height * 1.6;
        plate.text((free.x0, y + 0.8), line, Lettering::note(height));
    }
    Some(Rect::new(free.x0, y + 5.0, free.x1, free.y1))
}

//! General arrangement: front, side, plan in projection, and a pictorial.

use kurbo::{BezPath, Point, Rect, Vec2};

use super::fronts::fronts;
use super::inside::{Uncovered, fronts_told, hidden, top_not_drawn};
use super::layout::{Bulk, Layout, Open, arrange, bands};
use super::sizes::{Measured, front, front_crowded, side};
use super::slopes::{Slope, put_slopes, slopes};
use super::too_small::too_small;
use super::zones::{MOST_NUMBERS, numbered};
use crate::drawing::kit::dimension::white::White;
use crate::drawing::kit::dimension::{Beside, Manner, place};
use crate::drawing::kit::opening::{Opens, opens};
use crate::drawing::kit::project::{self, OnSheet, ViewPens, bounds, extent, standing};
use crate::drawing::kit::words::wrap;
use crate::drawing::page::look::{Look, Room};
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

/// The ends of the cutting line: white to the view, and how far out they reach, mm.
const CUT_END: (f64, f64) = (2.0, 6.5);
/// Where along them the arrow leaves, from outside, as a share.
const CUT_ARROW: f64 = 0.25;
/// The shaft of the arrow, and its head from neck to tip and half its width, mm.
const SHAFT: f64 = 4.0;
const HEAD: (f64, f64) = (3.5, 7.5);
const HEAD_HALF: f64 = 1.1;
/// White between the line and its letter, and round the letter, mm.
const BESIDE_LETTER: f64 = 1.5;
const ROUND_LETTER: f64 = 0.4;
/// From the middle of an end down to the base line of the letter, mm.
const LETTER_DROP: f64 = 2.75;
/// The letters keep below the first band of sizes, mm high.
const LETTER: f64 = Lettering::LARGE;
/// From the picture down to the line that says where its numbers are, mm.
const UNDER_PICTURE: f64 = 4.0;
/// How far the figures of a view reach down at most, and white under them, mm.
const FIGURES: f64 = 6.0;
const UNDER_FIGURES: f64 = 1.0;
/// Height of the heading of the notes, mm, and from it to them.
const HEADING: f64 = Lettering::MIDDLE;
const UNDER_HEADING: f64 = 0.8;
/// Notes wider than this are hard to read line by line, mm.
const WIDEST: f64 = 120.0;
/// Base line to base line of the notes, in cap heights.
const PITCH: f64 = 1.6;

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
    let arranged =
        |scale| arrange(look, scale, &bulk, &bands(Measured { worked, piece, moving: &moving }, look, scale));
    let Some(layout) = Scale::largest(look, 1.0, |scale| arranged(scale).is_some()).and_then(arranged) else {
        return Err(too_small(name, look));
    };
    let mut plate = Plate::new(look);
    let items = standing(worked, piece);
    let shown = Shown { worked, piece, look, items: &items, moving: &moving, corners: (low, high) };
    let Orthographic { views, topless, slopes, mut number } = orthographic(&mut plate, &shown, &layout);
    let mut more = Vec::new();
    if front_crowded(worked, piece, layout.front.width(), look) {
        more.extend(fronts(name, worked, piece, look));
    }
    more.extend(pictorial(&mut plate, &shown, &layout, name));
    let noted = noted(&mut plate, &layout, job, &shown);
    let mut taken = vec![look.room().block];
    taken.extend(layout.free);
    if !slopes.is_empty() {
        // No paper where titles do not begin either, for the centring marks.
        let mut white = White::new(look.room().space.inset(-Room::MARGIN));
        white.ink(&plate.marks);
        for rect in taken.iter().chain([&layout.front, &layout.side, &layout.plan, &layout.picture]) {
            white.fill(*rect);
        }
        white.sum();
        put_slopes(&mut plate, &slopes, &mut white, look, &mut number);
    }
    circles(&mut plate, details, &|_, _| true, &views, look.room().space, &taken);
    // After the circles: a joint at the corner of a plan has no other place for its own.
    if topless {
        top_not_drawn(&mut plate, layout.plan, look);
    }
    let sheet = SheetBody {
        scale: Some(layout.scale),
        marks: plate.marks,
        noted,
        ..SheetBody::new(SheetKind::GeneralArrangement, format!("{name}: general arrangement"))
    };
    Ok(std::iter::once(sheet).chain(more).collect())
}

/// Puts the notes about the piece where there is room; says whether all stand there.
fn noted(plate: &mut Plate, layout: &Layout, job: &Job, shown: &Shown<'_>) -> bool {
    let about = job.notes.iter().filter(|note| note.is_about(shown.piece));
    let notes: Vec<&str> = about.map(|note| note.text.as_str()).collect();
    let free = layout.free.map(|free| below_figures(plate, free));
    notes.is_empty() || free.is_some_and(|free| put_notes(plate, &notes, free, shown.look.small()))
}

/// What the views show.
pub(super) struct Shown<'a> {
    pub(super) worked: &'a WorkedJob,
    pub(super) piece: PieceId,
    pub(super) look: &'a Look,
    pub(super) items: &'a [Viewed<'a>],
    /// What opens.
    pub(super) moving: &'a [Opens],
    /// Least and greatest corner of the piece.
    pub(super) corners: (DVec3, DVec3),
}

/// The three views as drawn.
#[derive(Default)]
struct Orthographic {
    views: Vec<View>,
    /// Whether the plan is drawn without its top.
    topless: bool,
    /// What slopes in them.
    slopes: Vec<Slope>,
    /// The number of the next size.
    number: u32,
}

/// The three views with sizes, the cutting line and titles.
fn orthographic(plate: &mut Plate, shown: &Shown<'_>, layout: &Layout) -> Orthographic {
    let Shown { worked, piece, look, items, moving, corners: (low, high) } = *shown;
    let first = look.profile.projection() == Projection::First;
    let side_camera = if first { Camera::LEFT } else { Camera::RIGHT };
    let views = [(layout.front, Camera::FRONT), (layout.side, side_camera), (layout.plan, Camera::TOP)];
    let mut number = 1;
    let mut drawn = Orthographic::default();
    let manner = Manner::of(look);
    for (i, (rect, camera)) in (1..).zip(views) {
        let (a, b) = extent(camera, low, high);
        let on = OnSheet::at_corner(a, b, Point::new(rect.x0, rect.y0), layout.scale.factor);
        drawn.views.push(View { camera, on, level: None });
        let uncovered = if i == 3 { Uncovered::of(shown) } else { None };
        let seen = uncovered.as_ref().map_or(items, |plan| plan.items.as_slice());
        let lines = view(seen, camera, HiddenLines::Drop);
        let pens = ViewPens { visible: plate.wide, hidden: plate.narrow, role: Role::Outline, view: i };
        project::put(plate, &lines, worked, on, pens, |_| None);
        drawn.slopes.extend(slopes(worked, &lines, (camera, on), (b - a).max_element()));
        if let Some(plan) = uncovered {
            plan.outline(plate, (camera, on), &lines);
            drawn.topless = true;
        }
        for one in moving {
            one.draw(plate, camera, on);
        }
        if i == 2 {
            hidden(plate, shown, (camera, on), &lines);
        }
        let rows = match i {
            1 => front(Measured { worked, piece, moving }, on, rect, look),
            2 => {
                let above = Open::of(moving, (low, high)).above > 0.0;
                let across = if above { Beside::Below } else { Beside::Above };
                side(worked, piece, (camera, on, rect), across, look)
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
        // Their figures break the cutting line.
        if i == 1 {
            fronts_told(plate, shown, (camera, on));
        }
    }
    drawn.number = number;
    drawn
}

/// The cutting line A-A on the front view: narrow long dashes, wide at the
/// ends, arrows in the direction of view (to the right), letters behind them.
fn cutting_line(plate: &mut Plate, view: Rect, x: f64, letter: &str) {
    let (narrow, wide) = (plate.narrow, plate.wide);
    let mut middle = BezPath::new();
    middle.move_to((x, view.y0 - CUT_END.0));
    middle.line_to((x, view.y1 + CUT_END.0));
    plate.stroke(middle, Pen { width: narrow, dash: dash::CENTRE }, Role::SectionMark);
    let (near, far) = CUT_END;
    for (from, to) in [(view.y0 - near, view.y0 - far), (view.y1 + near, view.y1 + far)] {
        plate.line((x, from), (x, to), wide, Role::SectionMark);
        let y = to + (from - to) * CUT_ARROW;
        plate.line((x, y), (x + SHAFT, y), wide, Role::SectionMark);
        let mut head = BezPath::new();
        head.move_to((x + HEAD.1, y));
        head.line_to((x + HEAD.0, y - HEAD_HALF));
        head.line_to((x + HEAD.0, y + HEAD_HALF));
        head.close_path();
        plate.fill(head, 0.0, Role::SectionMark);
        let how = Lettering {
            height: LETTER,
            anchor: Anchor::End,
            weight: Weight::SemiBold,
            role: Role::SectionMark,
        };
        let foot = Point::new(x - BESIDE_LETTER, f64::midpoint(from, to) + LETTER_DROP);
        // Extension lines are broken behind the letter.
        let wide_of = lettering::width(letter, how.height, how.weight);
        let behind = Rect::new(foot.x - wide_of, foot.y - how.height, foot.x, foot.y);
        plate.marks.push(Mark::mask(behind.inflate(ROUND_LETTER, ROUND_LETTER)));
        plate.text(foot, letter, how);
    }
}

/// The isometric picture with item numbers; where they are too many for it, gives
/// the sheets that carry them instead.
fn pictorial(plate: &mut Plate, shown: &Shown<'_>, layout: &Layout, name: &str) -> Vec<SheetBody> {
    let Shown { worked, items, look, .. } = *shown;
    let lines = view(items, Camera::isometric(), HiddenLines::Drop);
    let pens =
        ViewPens { visible: plate.wide * Plate::LIGHT, hidden: plate.narrow, role: Role::Pictorial, view: 4 };
    project::put(plate, &lines, worked, layout.pictorial, pens, |_| None);
    let tags: Vec<usize> = items.iter().map(|item| item.tag).collect();
    let numbers = project::items(&lines, worked, layout.pictorial, &tags);
    let room = layout.beside.height() - 2.0 * project::ITEM;
    if numbers.len() > MOST_NUMBERS || project::column_height(numbers.len().div_ceil(2)) > room {
        let foot = Point::new(layout.picture.x0, layout.picture.y1 + UNDER_PICTURE);
        plate.text(foot, "Numbers of the parts: next sheets", Lettering::note(look.small()));
        return numbered(name, worked, &tags, look);
    }
    project::number(plate, &numbers, layout.picture, layout.beside, 4);
    Vec::new()
}

/// `free` from under the figures of the view above that reach down into its top:
/// a short upright size has its figure below it.
fn below_figures(plate: &Plate, free: Rect) -> Rect {
    let top = Rect::new(free.x0, free.y0, free.x1, free.y0 + FIGURES);
    let figures = plate.marks.iter().filter(|mark| matches!(mark.ink, Ink::Text(_)));
    let reach = figures
        .map(Mark::bounds)
        .filter(|b| b.overlaps(top))
        .fold(free.y0, |y, b| y.max(b.y1 + UNDER_FIGURES));
    Rect::new(free.x0, reach, free.x1, free.y1)
}

/// Notes at the top of `free`; says whether they have room.
fn put_notes(plate: &mut Plate, notes: &[&str], free: Rect, height: f64) -> bool {
    let mut y = free.y0 + HEADING;
    let heading = Vec2::new(free.x0, y);
    let mut lines: Vec<String> = Vec::new();
    for note in notes {
        lines.extend(wrap(note, height, Weight::Regular, free.width().min(WIDEST)));
    }
    if y + height * PITCH * lines.len() as f64 > free.y1 {
        return false;
    }
    plate.text(heading.to_point(), "Notes", Lettering::title(HEADING));
    for line in lines {
        y += height * PITCH;
        plate.text((free.x0, y + UNDER_HEADING), line, Lettering::note(height));
    }
    true
}

//! General arrangement: front, side, plan in projection, and a pictorial.

use kurbo::{BezPath, Point, Rect, Vec2};

use super::fronts::fronts;
use super::sizes::{front, front_crowded, overall};
use super::zones::{MOST_NUMBERS, numbered};
use crate::drawing::kit::dimension::{Beside, Manner, place};
use crate::drawing::kit::opening::{Opens, opens};
use crate::drawing::kit::project::{self, ITEM_COLUMN, OnSheet, ViewPens, bounds, extent, standing};
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

/// White between two views, mm, besides their dimension bands.
const GAP: f64 = 12.0;
/// Least room for dimension bands above and at the left of the front view, mm.
const BANDS: f64 = 24.0;
/// Room for a single band, mm.
const BAND: f64 = 16.0;

/// Where everything goes.
struct Layout {
    scale: Scale,
    front: Rect,
    side: Rect,
    plan: Rect,
    pictorial: OnSheet,
    picture: Rect,
    /// The height that numbers beside the picture may take.
    beside: Rect,
    free: Option<Rect>,
}

/// How much larger than the views a picture alone under them may be.
const LARGER: f64 = 1.5;
/// Room kept under such a picture, mm: two notes of two lines.
const NOTES: f64 = 40.0;

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
    let arranged = |scale| arrange(look, scale, (low, high, open), bands(worked, piece, look, scale));
    let Some(layout) = Scale::largest(look, 1.0, |scale| arranged(scale).is_some()).and_then(arranged) else {
        return Err(too_small(name, look));
    };
    let mut plate = Plate::new(look);
    let items = standing(worked, piece);
    let views = orthographic(&mut plate, worked, piece, look, &items, &layout, (low, high, &moving));
    let mut more = Vec::new();
    if front_crowded(worked, piece, layout.front.width(), look) {
        more.extend(fronts(name, worked, piece, look));
    }
    more.extend(pictorial(&mut plate, worked, &items, &layout, (name, look)));
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

/// How far what opens stands out of the piece, mm.
#[derive(Clone, Copy, Debug)]
struct Open {
    /// In front of it, in the plan.
    out: f64,
    /// In front of it, in the side view: drawers drawn out, flaps let down.
    drawn: f64,
    /// Behind it, in the side view: lids put up.
    behind: f64,
    /// Above it, in the side view.
    above: f64,
    /// To the left and to the right of it, in the plan: doors that open wide.
    beside: (f64, f64),
}

impl Open {
    /// That of a piece between two corners.
    fn of(moving: &[Opens], (low, high): (DVec3, DVec3)) -> Self {
        let most = |seen: &dyn Fn(&Opens) -> bool, past: &dyn Fn((DVec3, DVec3)) -> f64| {
            moving.iter().filter(|one| seen(one)).map(|one| past(one.reach())).fold(0.0, f64::max)
        };
        let aside = |one: &Opens| one.slides() || one.turns_about(DVec3::X);
        Self {
            out: most(&|_| true, &|(l, _)| low.y - l.y),
            drawn: most(&aside, &|(l, _)| low.y - l.y),
            behind: most(&aside, &|(_, h)| h.y - high.y),
            above: most(&aside, &|(_, h)| h.z - high.z),
            beside: (most(&|_| true, &|(l, _)| low.x - l.x), most(&|_| true, &|(_, h)| h.x - high.x)),
        }
    }

    /// On paper.
    fn at(self, factor: f64) -> Self {
        let Self { out, drawn, behind, above, beside } = self;
        Self {
            out: out * factor,
            drawn: drawn * factor,
            behind: behind * factor,
            above: above * factor,
            beside: (beside.0 * factor, beside.1 * factor),
        }
    }
}

/// The problem that a piece is too large for the paper.
pub(in crate::drawing) fn too_small(name: &str, look: &Look) -> Problem {
    Problem::error(
        "does-not-fit-paper",
        format!("`{name}` does not fit {} paper at any scale of the series", look.paper.name()),
    )
    .help("choose a larger paper with `--paper`")
}

/// Room that the sizes of the front view take at its left and above it: upright
/// figures reach further out at the left than figures along their lines. Also the
/// white between it and the side view: figures of a slender piece stand there;
/// and how far the figure of the side view reaches past it.
fn bands(worked: &WorkedJob, piece: PieceId, look: &Look, scale: Scale) -> (Vec2, f64, f64) {
    let least = (Vec2::new(BANDS, BANDS), GAP + 6.0, 0.0);
    let Some((low, high)) = bounds(worked.parts.iter().filter(|p| p.piece == piece)) else { return least };
    let (a, b) = extent(Camera::FRONT, low, high);
    let on = OnSheet::at_corner(a, b, Point::ZERO, scale.factor);
    let rect = on.rect(a, b);
    let placed = place(rect, &front(worked, piece, on, rect, look), &Manner::of(look), &mut 1);
    let taken = placed.marks.iter().map(Mark::bounds).fold(rect, |all, b| all.union(b));
    let bands = Vec2::new(BANDS.max(2.0 - taken.x0), BANDS.max(2.0 - taken.y0));
    // Both views may have arrows outside that point at one another.
    let beside = taken.x1 - rect.x1;
    let deep = Rect::new(0.0, 0.0, (high.y - low.y) * scale.factor, rect.height());
    let above = [overall(Beside::Above, deep, high.y - low.y, look)];
    let reach = place(deep, &above, &Manner::of(look), &mut 1).bounds;
    (bands, if beside > GAP { least.1.max(beside + GAP) } else { least.1 }, reach.x1 - deep.x1)
}

/// Lays the views out at `scale` with `bands` of room for the sizes of the front
/// view, `between` to the next and `past` it; `None` if they do not fit.
///
/// `open` is how far doors, drawers and lids stand out of the piece.
fn arrange(
    look: &Look,
    scale: Scale,
    (low, high, open): (DVec3, DVec3, Open),
    (bands, between, past): (Vec2, f64, f64),
) -> Option<Layout> {
    let room = look.room();
    let area = Rect::new(room.above().x0, room.above().y0, room.above().x1, room.beside().y1);
    let size = (high - low) * scale.factor;
    let first = look.profile.projection() == Projection::First;
    let Open { out, drawn, behind, above, beside } = open.at(scale.factor);
    // What opens wide stands beside the plan.
    let apart = |room: f64, open: f64| if open > 0.5 { room.max(open + 3.0) } else { room };
    let between = apart(between, beside.1);
    // What is put up stands over the side view, whose size is then below it.
    let bands =
        Vec2::new(apart(bands.x, beside.0), if above > 0.0 { bands.y.max(above + 3.0) } else { bands.y });
    // Columns and rows of the three views with their bands.
    let width = bands.x + size.x + between + size.y + drawn + behind + GAP;
    let front_top = if first { area.y0 + bands.y } else { area.y0 + BAND + size.y + out + bands.y };
    let front_left = area.x0 + bands.x;
    let front = Rect::new(front_left, front_top, front_left + size.x, front_top + size.z);
    // The front of the piece looks to the right in a view from the left, and to
    // the left in one from the right.
    let side_left = front.x1 + between + if first { behind } else { drawn };
    let side = Rect::new(side_left, front.y0, side_left + size.y, front.y1);
    let plan_top = if first { front.y1 + between } else { area.y0 + BAND };
    let plan = Rect::new(front.x0, plan_top, front.x1, plan_top + size.y);
    let (left, right) = if first { (behind, drawn) } else { (drawn, behind) };
    let foot = side.y1 + if above > 0.0 { BAND } else { 0.0 };
    let wide = Rect { x0: side.x0 - left, x1: side.x1 + right, y0: side.y0 - above, y1: foot };
    let views = [front, wide, Rect { y1: plan.y1 + out, ..plan }];
    let block = room.block.inflate(5.0, 5.0);
    let fits = views.iter().all(|v| {
        let v = v.inflate(3.0, 3.0);
        area.union(v) == area && v.intersect(block).is_zero_area()
    });
    if !fits || side.x1 + past > area.x1 {
        return None;
    }
    let right = Rect::new(area.x0 + width, area.y0, area.x1, room.above().y1);
    let corner_top = if first { wide.y1 + GAP } else { area.y0 };
    let corner_foot = if first { room.above().y1 } else { (front.y0 - bands.y).min(room.above().y1) };
    let corner = Rect::new(plan.x1 + GAP, corner_top, area.x1, corner_foot);
    let below =
        Rect::new(area.x0, views.iter().map(|v| v.y1).fold(0.0, f64::max) + GAP, area.x1, room.above().y1);
    let (a, b) = extent(Camera::isometric(), low, high);
    let flat = b - a;
    // The pictorial is not to scale: as large as its place, but never larger
    // than the views.
    let picture_in = |rect: Rect| -> Option<f64> {
        let (w, h) = (rect.width() - 2.0 * ITEM_COLUMN - 4.0, rect.height() - 4.0);
        let factor = scale.factor.min(w / flat.x).min(h / flat.y);
        (factor > 0.0).then_some(factor)
    };
    let (rect, mut factor) = [right, corner, below]
        .into_iter()
        .filter(|r| r.width() > 0.0 && r.height() > 0.0)
        .filter_map(|r| picture_in(r).map(|f| (r, f)))
        .max_by(|x, y| x.1.total_cmp(&y.1))?;
    if factor < scale.factor * 0.39 {
        return None;
    }
    // Alone under the views it may be larger than they are, with room for notes kept.
    if rect == below {
        let (w, h) = (rect.width() - 2.0 * ITEM_COLUMN - 4.0, rect.height() - NOTES);
        factor = factor.max((LARGER * scale.factor).min(w / flat.x).min(h / flat.y));
    }
    let (w, h) = (flat.x * factor, flat.y * factor);
    let top = if rect == right {
        rect.y0 + (rect.height() - h).min(60.0) / 3.0
    } else if rect == below {
        // Nearer to the views than to the foot, where the notes go.
        rect.y0 + (rect.height() - h).max(0.0) * 0.4
    } else {
        rect.center().y - h / 2.0
    };
    let corner = Point::new(rect.center().x - w / 2.0, top);
    let picture = Rect::new(corner.x, corner.y, corner.x + w, corner.y + h);
    let free = Rect::new(rect.x0, picture.y1 + 12.0, rect.x1, rect.y1);
    let free_left = Rect::new(
        area.x0,
        (plan.y1 + out).max(front.y1) + GAP,
        (room.block.x0 - 5.0).min(picture.x0 - ITEM_COLUMN - 3.0).max(area.x0),
        area.y1,
    );
    // With their sizes, the front and side views reach further up and left.
    let taken = [
        Rect { x0: front.x0 - bands.x, y0: front.y0 - bands.y, ..front },
        Rect { y0: wide.y0.min(side.y0 - BAND), ..wide },
        Rect { y1: plan.y1 + out, ..plan },
        picture.inflate(ITEM_COLUMN, 3.0),
    ];
    let clear = |f: &Rect| taken.iter().all(|t| t.intersect(*f).is_zero_area());
    let free = [free_left, free]
        .into_iter()
        .filter(|f| f.height() > 15.0 && f.width() > 60.0 && clear(f))
        .max_by(|a, b| a.height().total_cmp(&b.height()));
    let pictorial = OnSheet::at_corner(a, b, corner, factor);
    let beside = Rect { y0: rect.y0, y1: picture.y1, ..picture };
    Some(Layout { scale, front, side, plan, pictorial, picture, beside, free })
}

/// The three views with sizes, the cutting line and titles.
fn orthographic(
    plate: &mut Plate,
    worked: &WorkedJob,
    piece: PieceId,
    look: &Look,
    items: &[Viewed<'_>],
    layout: &Layout,
    (low, high, moving): (DVec3, DVec3, &[Opens]),
) -> Vec<View> {
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
fn pictorial(
    plate: &mut Plate,
    worked: &WorkedJob,
    items: &[Viewed<'_>],
    layout: &Layout,
    (name, look): (&str, &Look),
) -> Vec<SheetBody> {
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

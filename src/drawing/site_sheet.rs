//! The wall: where the pieces stand on it, where to tape them out, and where they
//! are fixed.
//!
//! Sizes of the wall stand above it and at its left, those of the furniture below it
//! and at its right; what is left between furniture and wall is their difference and
//! stands in brackets where the row ends.

use kurbo::{BezPath, Point, Rect, Vec2};

use super::dimension::{Beside, Callout, Figure, Form, Manner, Sizes, Stop, White, callouts, place};
use super::plate::{Plate, ring};
use super::project::{self, OnSheet, ViewPens};
use super::table::{Column, Row, SetTable, Table};
use super::words::{length_text, plain, stacked};
use super::{Look, Scale, SheetBody, SheetKind};
use crate::geometry::DVec2;
use crate::joinery::{Fixing, OnWall, WorkedJob, fixings, on_wall};
use crate::model::{Job, Site};
use crate::paper::{Pen, Role, Run, Shows, dash};
use crate::solid::{Camera, HiddenLines, Viewed, view};

/// What a figure of the wall fixes, for the drawing lint: the first word of it.
const WALL: &str = "wall";
/// The same for one of the furniture.
const PIECE: &str = "furniture";
/// The same for what is left between.
const LEFT_OVER: &str = "left";
/// The axes by the way they run on the sheet.
const AXES: [&str; 2] = ["across", "up"];

/// White between tables and between them and the picture, mm.
const BETWEEN: f64 = 8.0;
/// Shorter than this on paper a size in brackets has no room, mm.
const SHORT: f64 = 12.0;
/// Places nearer than this are one, mm.
const SAME: f64 = 0.05;
/// Half the length of the cross that marks a fixing, mm on paper.
const CROSS: f64 = 1.6;

/// The sheet of the wall; none where the script tells of no wall, or nothing stands
/// on it.
pub(super) fn site_sheet(job: &Job, worked: &WorkedJob, look: &Look) -> Vec<SheetBody> {
    let pieces = on_wall(job, worked);
    let Some(site) = job.site.as_ref().filter(|_| !pieces.is_empty()) else { return Vec::new() };
    let fixed = fixings(worked, &pieces);
    let tables = [tape(job, &pieces, look), fixing_table(job, &fixed, look), before(site)];
    let tables: Vec<Table> = tables.into_iter().filter(|table| !table.rows.is_empty()).collect();
    let wall = Wall::of(job, site, &pieces);
    let title = format!("{}: furniture on the wall", site.name);
    let Some(layout) = Layout::best(&wall, &tables, look) else {
        return super::cutting_list::flow(&tables, SheetKind::Site, &title, look);
    };
    let mut plate = Plate::new(look);
    draw(&mut plate, (job, worked, site), (&pieces, &fixed), look, (&wall, &layout));
    for (set, top) in &layout.tables {
        set.draw(&mut plate, *top, 0, f64::MAX);
    }
    let body =
        SheetBody { scale: Some(layout.scale), marks: plate.marks, ..SheetBody::new(SheetKind::Site, title) };
    let mut bodies = vec![body];
    if layout.tables.is_empty() {
        let title = format!("{}: places and fixings", site.name);
        bodies.extend(super::cutting_list::flow(&tables, SheetKind::Site, &title, look));
    }
    bodies
}

/// The wall with all that stands on it, full size.
struct Wall<'a> {
    job: &'a Job,
    site: &'a Site,
    pieces: &'a [OnWall],
    /// Lower left corner: pieces that reach beyond the wall are shown where they are.
    low: DVec2,
    /// Upper right corner.
    high: DVec2,
}

impl<'a> Wall<'a> {
    /// That of a site.
    fn of(job: &'a Job, site: &'a Site, pieces: &'a [OnWall]) -> Self {
        let low = pieces.iter().fold(DVec2::ZERO, |low, piece| low.min(piece.low));
        let wall = DVec2::new(site.width, site.height);
        Self { job, site, pieces, low, high: pieces.iter().fold(wall, |high, piece| high.max(piece.high)) }
    }

    /// The wall itself on the sheet.
    fn rect(&self, on: OnSheet) -> Rect {
        on.rect(DVec2::ZERO, DVec2::new(self.site.width, self.site.height))
    }

    /// The box round picture and rows of sizes at a scale, its upper left corner at
    /// 0.
    fn reach(&self, scale: Scale, look: &Look) -> Rect {
        let on = OnSheet::at_corner(self.low, self.high, Point::ZERO, scale.factor);
        let rows = rows(self.job, self.site, self.pieces, on, self.rect(on), look);
        let placed = place(self.rect(on), &rows, &Manner::of(look), &mut 0).bounds;
        placed.union(on.rect(self.low, self.high))
    }

    /// The largest scale at which it has room in an area with its rows of sizes.
    fn scale(&self, area: Rect, look: &Look) -> Option<Scale> {
        Scale::largest(look, 0.2, |scale| {
            let reach = self.reach(scale, look);
            reach.width() <= area.width() && reach.height() <= area.height()
        })
    }
}

/// Where the picture and the tables go.
struct Layout<'t> {
    scale: Scale,
    /// The paper of the picture.
    area: Rect,
    /// The tables with their corners; none where they have sheets of their own.
    tables: Vec<(SetTable<'t>, Point)>,
}

impl<'t> Layout<'t> {
    /// The one that shows the wall largest: tables under it, at its right, or on
    /// sheets of their own.
    fn best(wall: &Wall<'_>, tables: &'t [Table], look: &Look) -> Option<Self> {
        let above = look.room().above();
        let columns = [0.28, 0.34, 0.4, 0.46].map(|share| Self::at_right(wall, tables, look, share));
        let alone = wall.scale(above, look).map(|scale| Self { scale, area: above, tables: Vec::new() });
        let all = std::iter::once(Self::under(wall, tables, look)).chain(columns).chain([alone]);
        // Of equal ones the first.
        all.flatten().reduce(|best, next| if next.scale.factor > best.scale.factor { next } else { best })
    }

    /// The tables left of the title block.
    fn under(wall: &Wall<'_>, tables: &'t [Table], look: &Look) -> Option<Self> {
        let (above, beside) = (look.room().above(), look.room().beside());
        let set = stacked_tables(tables, look, beside.width());
        let tall = set.iter().map(|set| set.full_height() + BETWEEN).sum::<f64>();
        let top = beside.y1 - tall;
        let area = Rect { y1: above.y1.min(top), ..above };
        let scale = wall.scale(area, look)?;
        Some(Self { scale, area, tables: placed(set, Point::new(beside.x0, top + BETWEEN)) })
    }

    /// The tables in a column at the right, of a share of the width.
    fn at_right(wall: &Wall<'_>, tables: &'t [Table], look: &Look, share: f64) -> Option<Self> {
        let (above, beside) = (look.room().above(), look.room().beside());
        let wide = share * above.width();
        let set = stacked_tables(tables, look, wide);
        let tall = set.iter().map(|set| set.full_height() + BETWEEN).sum::<f64>();
        let x1 = above.x1 - wide - BETWEEN;
        let y1 = if x1 <= beside.x1 { beside.y1 } else { above.y1 };
        let area = Rect { x1, y1, ..above };
        let scale = wall
            .scale(area, look)
            .filter(|_| tall <= above.height() && !set.iter().any(SetTable::squeezed))?;
        Some(Self { scale, area, tables: placed(set, Point::new(above.x1 - wide, above.y0)) })
    }
}

/// Tables no wider than `width`.
fn stacked_tables<'t>(tables: &'t [Table], look: &Look, width: f64) -> Vec<SetTable<'t>> {
    tables.iter().map(|table| table.set(look.small(), width)).collect()
}

/// Tables under one another from a corner down.
fn placed(set: Vec<SetTable<'_>>, corner: Point) -> Vec<(SetTable<'_>, Point)> {
    let mut top = corner.y;
    let mut list = Vec::new();
    for set in set {
        let next = top + set.full_height() + BETWEEN;
        list.push((set, Point::new(corner.x, top)));
        top = next;
    }
    list
}

/// Where to tape the pieces out: their corners from the left end and the floor.
fn tape(job: &Job, pieces: &[OnWall], look: &Look) -> Table {
    let columns = vec![
        Column::words("Piece"),
        Column::figures("Left side"),
        Column::figures("Right side"),
        Column::figures("Underside"),
        Column::figures("Top"),
    ];
    let mut table = Table::new("To tape out", columns);
    for stands in pieces {
        let name = job.pieces.get(stands.piece.0).map_or("", |piece| piece.name.as_str());
        let places = [stands.low.x, stands.high.x, stands.low.y, stands.high.y];
        let mut cells = vec![plain(name)];
        cells.extend(places.map(|mm| stacked(&length_text(look, mm))));
        table.rows.push(Row::Cells(cells));
    }
    table
}

/// Where the pieces are fixed to the wall: each height once.
fn fixing_table(job: &Job, fixed: &[Fixing], look: &Look) -> Table {
    let columns = vec![
        Column::words("Fixings of"),
        Column::figures("Off"),
        Column::words("What"),
        Column::figures("Over the floor"),
        Column::words("From the left"),
    ];
    let mut table = Table::new("Fixings", columns);
    for fixing in fixed {
        let name = job.pieces.get(fixing.piece.0).map_or("", |piece| piece.name.as_str());
        let mut levels: Vec<(f64, Vec<f64>)> = Vec::new();
        for at in &fixing.at {
            match levels.iter_mut().find(|(level, _)| (*level - at.y).abs() < SAME) {
                Some((_, along)) => along.push(at.x),
                None => levels.push((at.y, vec![at.x])),
            }
        }
        levels.sort_by(|a, b| a.0.total_cmp(&b.0));
        for (level, along) in levels {
            let places: Vec<String> = along.iter().map(|x| length_text(look, *x)).collect();
            table.rows.push(Row::Cells(vec![
                plain(name),
                plain(along.len().to_string()),
                stacked(&fixing.what),
                stacked(&length_text(look, level)),
                stacked(&places.join(", ")),
            ]));
        }
    }
    table
}

/// What to look at before anything is drilled (common practice, no source).
fn before(site: &Site) -> Table {
    let mut table = Table::new("Before drilling", vec![Column::words("See that")]);
    let built = match &site.build {
        Some(build) => {
            format!("The wall is told to be built of {build}: try it, and use fixings made for it.")
        }
        None => "Find out what the wall is built of, and use fixings made for it.".into(),
    };
    let says = [
        "Heights count from the floor, places from the left end of the wall. Mark each height level right along first."
            .into(),
        "Measure the wall anew at the floor, half way up and at the ceiling; the least width counts.".into(),
        built,
        "Look for cables, pipes and studs. Let a competent person judge fixings and load; local codes come first."
            .into(),
    ];
    table.rows.extend(says.into_iter().map(|text: String| Row::Cells(vec![plain(text)])));
    table
}

/// The wall with the furniture on it.
fn draw(
    plate: &mut Plate,
    (job, worked, site): (&Job, &WorkedJob, &Site),
    (pieces, fixed): (&[OnWall], &[Fixing]),
    look: &Look,
    (wall, layout): (&Wall<'_>, &Layout<'_>),
) {
    let reach = wall.reach(layout.scale, look);
    let corner = Point::ZERO + (layout.area.center() - reach.center());
    let on = OnSheet::at_corner(wall.low, wall.high, corner, layout.scale.factor);
    let rect = wall.rect(on);
    outline(plate, rect);
    let items: Vec<Viewed<'_>> = (0..)
        .zip(&worked.parts)
        .filter_map(|(tag, part)| {
            let stands = pieces.iter().find(|stands| stands.piece == part.piece)?;
            Some(Viewed { solid: &part.solid, at: part.at.moved(stands.shift), tag })
        })
        .collect();
    let pens = ViewPens { visible: plate.narrow, hidden: plate.narrow, role: Role::Outline, view: 1 };
    let seen = view(&items, Camera::FRONT, HiddenLines::Drop);
    project::put(plate, &seen, worked, on, pens, |_| None);
    for obstacle in &job.obstacles {
        let around = on.rect(DVec2::new(obstacle.x.0, obstacle.z.0), DVec2::new(obstacle.x.1, obstacle.z.1));
        plate.stroke(ring(around), Pen { width: plate.narrow, dash: dash::PHANTOM }, Role::Phantom);
    }
    for at in fixed.iter().flat_map(|fixing| &fixing.at) {
        cross(plate, on.point(*at));
    }
    let manner = Manner::of(look);
    let mut number = 0;
    let rows = rows(job, site, pieces, on, rect, look);
    let sizes = place(rect, &rows, &manner, &mut number);
    plate.marks.extend(sizes.marks.into_iter().map(|mut mark| {
        mark.shows.view = 1;
        mark
    }));
    names(plate, job, pieces, on, layout.area, &manner, &mut number);
}

/// Floor heavy, ends and ceiling of the wall narrow.
fn outline(plate: &mut Plate, rect: Rect) {
    let (narrow, wide) = (plate.narrow, plate.wide);
    let mut line = |from: (f64, f64), to: (f64, f64), width: f64| {
        let mut path = BezPath::new();
        path.move_to(from);
        path.line_to(to);
        let shows = Shows { view: 1, ..Shows::default() };
        plate.stroke_of(path, Pen { width, dash: dash::SOLID }, Role::CutOutline, shows);
    };
    line((rect.x0, rect.y0), (rect.x1, rect.y0), narrow);
    line((rect.x0, rect.y0), (rect.x0, rect.y1), narrow);
    line((rect.x1, rect.y0), (rect.x1, rect.y1), narrow);
    line((rect.x0, rect.y1), (rect.x1, rect.y1), 1.4 * wide);
}

/// The mark of a fixing.
fn cross(plate: &mut Plate, at: Point) {
    let mut path = BezPath::new();
    for way in [Vec2::new(CROSS, 0.0), Vec2::new(0.0, CROSS)] {
        path.move_to(at - way);
        path.line_to(at + way);
    }
    plate.stroke(path, Pen { width: plate.narrow, dash: dash::SOLID }, Role::Centre);
}

/// The rows of sizes: the wall's above and at the left, the furniture's below and at
/// the right.
fn rows(job: &Job, site: &Site, pieces: &[OnWall], on: OnSheet, rect: Rect, look: &Look) -> Vec<Sizes> {
    let across = |x: f64| on.point(DVec2::new(x, 0.0)).x;
    let up = |z: f64| on.point(DVec2::new(0.0, z)).y;
    let places = |axis: usize| {
        let ends = pieces.iter().flat_map(move |piece| [piece.low[axis], piece.high[axis]]);
        apart(ends.collect())
    };
    let others = |axis: usize| {
        let ends =
            job.obstacles.iter().flat_map(move |o| if axis == 0 { [o.x.0, o.x.1] } else { [o.z.0, o.z.1] });
        apart(ends.collect())
    };
    let fixes = |kind: &str, axis: usize, from: f64, to: f64| {
        format!("{kind} {} {from:.2} to {to:.2}", AXES.get(axis).copied().unwrap_or_default())
    };
    let overall = |side: Beside, to_sheet: &dyn Fn(f64) -> f64, size: f64| {
        let axis = usize::from(!side.across());
        let figure = Figure { fixes: fixes(WALL, axis, 0.0, size), ..Figure::overall(look, size) };
        row(side, rect, to_sheet, &[0.0, size], vec![Some(figure)], true)
    };
    let mut rows = vec![overall(Beside::Above, &across, site.width), overall(Beside::Left, &up, site.height)];
    for (side, to_sheet, axis, size) in
        [(Beside::Above, &across as &dyn Fn(f64) -> f64, 0, site.width), (Beside::Left, &up, 1, site.height)]
    {
        let stops = within(0.0, &others(axis), size);
        if stops.len() > 2 {
            // What is left to the far end follows from the size of the wall.
            let stops = stops.get(..stops.len() - 1).unwrap_or_default();
            let figures = stops
                .windows(2)
                .map(|w| Some(Figure::length(look, w[1] - w[0], fixes(WALL, axis, w[0], w[1]))))
                .collect();
            rows.push(row(side, rect, to_sheet, stops, figures, false));
        }
    }
    for (side, to_sheet, axis, size) in
        [(Beside::Below, &across as &dyn Fn(f64) -> f64, 0, site.width), (Beside::Right, &up, 1, site.height)]
    {
        let stops = within(0.0, &places(axis), size);
        let covered =
            |from: f64, to: f64| pieces.iter().any(|p| p.low[axis] < from + SAME && p.high[axis] > to - SAME);
        let open = |w: &[f64]| !covered(w[0], w[1]);
        // The last of what is left over follows from the rest; where nothing is
        // left, the last piece does.
        let last = stops.windows(2).rposition(open).unwrap_or(stops.len().saturating_sub(2));
        // A short one has no room for brackets between its heads: then the longest.
        let long = |w: &[f64]| (to_sheet(w[1]) - to_sheet(w[0])).abs();
        let short = stops.get(last..).and_then(|w| w.get(..2)).is_some_and(|w| long(w) < SHORT);
        let gaps = stops.windows(2).enumerate().filter(|(_, w)| short && open(w));
        let longest = gaps.max_by(|(_, a), (_, b)| long(a).total_cmp(&long(b)));
        let last = longest.map_or(last, |(i, _)| i);
        // It is the difference of what is shown, so that the row adds up.
        let shown = |mm: f64| look.style().as_shown(mm);
        let others = stops.windows(2).enumerate().filter(|(i, _)| *i != last);
        let rest = shown(size) - others.map(|(_, w)| shown(w[1] - w[0])).sum::<f64>();
        let figure = |(i, w): (usize, &[f64])| {
            let fixes = fixes(if open(w) { LEFT_OVER } else { PIECE }, axis, w[0], w[1]);
            let value = if i == last { rest } else { w[1] - w[0] };
            let figure = Figure::length(look, value, fixes.clone());
            Some(if i == last { Figure { fixes, ..figure.bracketed() } } else { figure })
        };
        let figures = stops.windows(2).enumerate().map(figure).collect();
        rows.push(row(side, rect, to_sheet, &stops, figures, false));
    }
    rows
}

/// Places rising, those that are one taken once.
fn apart(mut places: Vec<f64>) -> Vec<f64> {
    places.sort_by(f64::total_cmp);
    places.dedup_by(|next, last| (*next - *last).abs() < SAME);
    places
}

/// Both ends with the places between them.
fn within(from: f64, places: &[f64], to: f64) -> Vec<f64> {
    let between = places.iter().copied().filter(|at| *at > from + SAME && *at < to - SAME);
    std::iter::once(from).chain(between).chain(std::iter::once(to)).collect()
}

/// A row of sizes beside the wall.
fn row(
    side: Beside,
    rect: Rect,
    to_sheet: &dyn Fn(f64) -> f64,
    stops: &[f64],
    mut figures: Vec<Option<Figure>>,
    outermost: bool,
) -> Sizes {
    let foot = match side {
        Beside::Above => rect.y0,
        Beside::Below => rect.y1,
        Beside::Left => rect.x0,
        Beside::Right => rect.x1,
    };
    let mut stops: Vec<Stop> = stops.iter().map(|at| Stop { at: to_sheet(*at), foot }).collect();
    // Sheet y runs down, so a row up the wall comes out falling.
    if !side.across() {
        stops.reverse();
        figures.reverse();
    }
    Sizes { side, stops, figures, form: Form::Chain, outermost }
}

/// What stands where, on leaders.
fn names(
    plate: &mut Plate,
    job: &Job,
    pieces: &[OnWall],
    on: OnSheet,
    area: Rect,
    manner: &Manner,
    number: &mut u32,
) {
    let mut white = White::new(area);
    white.ink(&plate.marks);
    let says = |text: &str, low: DVec2, high: DVec2| {
        let share = |x: f64, y: f64| on.point(low + (high - low) * DVec2::new(x, y));
        Callout {
            at: vec![share(0.5, 1.0), share(1.0, 0.5), share(0.0, 0.5), share(0.2, 1.0), share(0.8, 1.0)],
            lines: vec![vec![Run::Plain(text.to_owned())]],
            value: None,
            fixes: String::new(),
        }
    };
    let of_pieces = pieces
        .iter()
        .filter_map(|stands| Some(says(&job.pieces.get(stands.piece.0)?.name, stands.low, stands.high)));
    let of_others = job
        .obstacles
        .iter()
        .map(|other| says(&other.name, DVec2::new(other.x.0, other.z.0), DVec2::new(other.x.1, other.z.1)));
    let notes: Vec<Callout> = of_pieces.chain(of_others).collect();
    callouts(&notes, &mut white, area, manner, number, &mut plate.marks);
}

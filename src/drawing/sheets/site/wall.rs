//! The wall: where the pieces stand on it, where to tape them out, and where they
//! are fixed.
//!
//! Sizes of the wall stand above it and at its left, those of the furniture below it
//! and at its right; what is left between furniture and wall is their difference and
//! stands in brackets.

use super::tables::{self, On};
use kurbo::{BezPath, Point, Rect, Vec2};

use crate::drawing::kit::dimension::callout::{Callout, callouts};
use crate::drawing::kit::dimension::figure::Figure;
use crate::drawing::kit::dimension::white::White;
use crate::drawing::kit::dimension::{Beside, Form, Manner, Sizes, Stop, place};
use crate::drawing::kit::project::{self, OnSheet, ViewPens};
use crate::drawing::kit::table::{SetTable, Table};
use crate::drawing::page::look::Look;
use crate::drawing::page::plate::{Plate, ring};
use crate::drawing::page::scale::Scale;
use crate::drawing::page::sheet_body::{SheetBody, SheetKind};
use crate::geometry::DVec2;
use crate::geometry::tolerance::STEPS;
use crate::joinery::on_wall;
use crate::joinery::{Fixing, OnWall, WorkedJob, fixings};
use crate::model::{Job, Site};
use crate::paper::fixes::{Fixes, Measures};
use crate::paper::{Pen, Role, Run, Shows, dash};
use crate::solid::{Camera, HiddenLines, Viewed, view};

/// White between tables and between them and the picture, mm.
const BETWEEN: f64 = 8.0;
/// Shorter than this on paper a size in brackets has no room, mm.
const SHORT: f64 = 12.0;
/// Places nearer than this are one, mm.
const SAME: f64 = 0.05;
/// The largest scale of a wall.
const MOST: f64 = 0.2;
/// Shares of the width that a column of tables takes, the narrowest first.
const COLUMNS: [f64; 4] = [0.28, 0.34, 0.4, 0.46];
/// The line of the floor in wide lines.
const FLOOR: f64 = 1.4;
/// Where beside its middle a leader may touch the top of a piece, as a share of it from
/// either end.
const FROM_END: f64 = 0.2;
/// How far a level line runs on beside its piece, mm on paper.
const BEYOND: f64 = 3.0;
/// Half the length of the cross that marks a fixing, mm on paper.
const CROSS: f64 = 1.6;

/// The sheet of the wall; none where the script tells of no wall, or nothing stands
/// on it.
pub(in crate::drawing) fn site_sheet(job: &Job, worked: &WorkedJob, look: &Look) -> Vec<SheetBody> {
    let pieces = on_wall(job, worked);
    let Some(site) = job.site.as_ref().filter(|_| !pieces.is_empty()) else { return Vec::new() };
    let fixed = fixings(worked, &pieces);
    let tables = tables::tables(&On { job, worked, site, pieces: &pieces, fixed: &fixed, look });
    let tables: Vec<Table> = tables.into_iter().filter(|table| !table.rows.is_empty()).collect();
    let wall = Wall::of(job, site, &pieces);
    let title = format!("{}: furniture on the wall", site.name);
    let Some(layout) = Layout::best(&wall, &tables, look) else {
        return crate::drawing::sheets::lists::cutting_list::flow(&tables, SheetKind::Site, &title, look);
    };
    let mut plate = Plate::new(look);
    draw(&mut plate, &Shown { worked, wall: &wall, fixed: &fixed }, look, &layout);
    for (set, top) in &layout.tables {
        set.draw(&mut plate, *top, 0, f64::MAX);
    }
    let body =
        SheetBody { scale: Some(layout.scale), marks: plate.marks, ..SheetBody::new(SheetKind::Site, title) };
    let mut bodies = vec![body];
    if layout.tables.is_empty() {
        let title = format!("{}: places and fixings", site.name);
        bodies.extend(crate::drawing::sheets::lists::cutting_list::flow(
            &tables,
            SheetKind::Site,
            &title,
            look,
        ));
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
        let placed = place(self.rect(on), &self.rows(on, look), &Manner::of(look), &mut 0).bounds;
        placed.union(on.rect(self.low, self.high))
    }

    /// The largest scale at which it has room in an area with its rows of sizes.
    fn scale(&self, area: Rect, look: &Look) -> Option<Scale> {
        Scale::largest(look, MOST, |scale| {
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
        let columns = COLUMNS.map(|share| Self::at_right(wall, tables, look, share));
        let alone = wall.scale(above, look).map(|scale| Self { scale, area: above, tables: Vec::new() });
        let all = std::iter::once(Self::under(wall, tables, look)).chain(columns).chain([alone]);
        // Of equal ones the first.
        all.flatten().reduce(|best, next| if next.scale.factor > best.scale.factor { next } else { best })
    }

    /// The tables under the wall: left of the title block, or over it on paper that it
    /// takes up from side to side.
    fn under(wall: &Wall<'_>, tables: &'t [Table], look: &Look) -> Option<Self> {
        let (above, beside) = (look.room().above(), look.room().beside());
        let foot = if beside.width() < 0.5 * above.width() { above } else { beside };
        let set = stacked_tables(tables, look, foot.width());
        let tall = set.iter().map(|set| set.full_height() + BETWEEN).sum::<f64>();
        let top = foot.y1 - tall;
        let area = Rect { y1: above.y1.min(top), ..above };
        let scale = wall.scale(area, look).filter(|_| !set.iter().any(SetTable::squeezed))?;
        Some(Self { scale, area, tables: placed(set, Point::new(foot.x0, top + BETWEEN)) })
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

/// What stands on a wall.
struct Shown<'a> {
    worked: &'a WorkedJob,
    wall: &'a Wall<'a>,
    fixed: &'a [Fixing],
}

/// The furniture where it stands.
fn furniture(plate: &mut Plate, shown: &Shown<'_>, on: OnSheet) {
    let Shown { worked, wall, .. } = *shown;
    let items: Vec<Viewed<'_>> = (0..)
        .zip(&worked.parts)
        .filter_map(|(tag, part)| {
            let stands = wall.pieces.iter().find(|stands| stands.piece == part.piece)?;
            Some(Viewed { solid: &part.solid, at: part.at.moved(stands.shift), tag })
        })
        .collect();
    let pens = ViewPens { visible: plate.narrow, hidden: plate.narrow, role: Role::Outline, view: 1 };
    let seen = view(&items, Camera::FRONT, HiddenLines::Drop);
    project::put(plate, &seen, worked, on, pens, |_| None);
}

/// The wall with the furniture on it.
fn draw(plate: &mut Plate, shown: &Shown<'_>, look: &Look, layout: &Layout<'_>) {
    let Shown { wall, fixed, .. } = *shown;
    let reach = wall.reach(layout.scale, look);
    // At the left and not in the middle: what is left in one piece takes a list.
    let corner = Point::new(layout.area.x0 - reach.x0, layout.area.center().y - reach.center().y);
    let on = OnSheet::at_corner(wall.low, wall.high, corner, layout.scale.factor);
    let rect = wall.rect(on);
    outline(plate, rect, wall.site.truth.widths.is_empty());
    as_measured(plate, wall, on);
    furniture(plate, shown, on);
    for obstacle in &wall.job.obstacles {
        let around = on.rect(DVec2::new(obstacle.x.0, obstacle.z.0), DVec2::new(obstacle.x.1, obstacle.z.1));
        plate.stroke(ring(around), Pen { width: plate.narrow, dash: dash::PHANTOM }, Role::Phantom);
    }
    levels(plate, wall, fixed, on);
    for at in fixed.iter().flat_map(|fixing| &fixing.at) {
        cross(plate, on.point(*at));
    }
    let manner = Manner::of(look);
    let mut number = 0;
    let rows = wall.rows(on, look);
    let sizes = place(rect, &rows, &manner, &mut number);
    plate.marks.extend(sizes.marks.into_iter().map(|mut mark| {
        mark.shows.view = 1;
        mark
    }));
    let notes = names(wall, on);
    let mut white = White::new(layout.area);
    white.ink(&plate.marks);
    callouts(&notes, &mut white, layout.area, &manner, &mut number, &mut plate.marks);
}

/// Floor heavy, ends and ceiling of the wall narrow; its right end where it would stand if
/// the wall were as wide above as told, unless it `is_square`.
fn outline(plate: &mut Plate, rect: Rect, is_square: bool) {
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
    if is_square {
        line((rect.x1, rect.y0), (rect.x1, rect.y1), narrow);
    }
    line((rect.x0, rect.y1), (rect.x1, rect.y1), FLOOR * wide);
}

/// The right end of a wall that narrows, the left being taken as plumb, a ceiling that slopes
/// and a skirting, as they were measured.
fn as_measured(plate: &mut Plate, wall: &Wall<'_>, on: OnSheet) {
    let site = wall.site;
    let narrow = plate.narrow;
    let mut line = |from: DVec2, to: DVec2| {
        let mut path = BezPath::new();
        path.move_to(on.point(from));
        path.line_to(on.point(to));
        let shows = Shows { view: 1, ..Shows::default() };
        plate.stroke_of(path, Pen { width: narrow, dash: dash::SOLID }, Role::Outline, shows);
    };
    if !site.truth.widths.is_empty() {
        let [floor, middle, top] =
            [0.0, 0.5, 1.0].map(|share| DVec2::new(site.width_at(share * site.height), share * site.height));
        line(floor, middle);
        line(middle, top);
    }
    if let Some([left, right]) = site.truth.ceiling {
        line(DVec2::new(0.0, left), DVec2::new(site.width, right));
    }
    if let Some([high, _]) = site.truth.skirting {
        // It is seen between what stands before it.
        let mut standing: Vec<&OnWall> = wall.pieces.iter().filter(|one| one.low.y < high).collect();
        standing.sort_by(|a, b| a.low.x.total_cmp(&b.low.x));
        let mut from = 0.0;
        for one in standing {
            if one.low.x > from + SAME {
                line(DVec2::new(from, high), DVec2::new(one.low.x, high));
            }
            from = one.high.x.max(from);
        }
        if site.width > from + SAME {
            line(DVec2::new(from, high), DVec2::new(site.width, high));
        }
    }
}

/// Level lines that fixings stand on, right along the piece and a little beyond: they are
/// marked on the wall first.
fn levels(plate: &mut Plate, wall: &Wall<'_>, fixed: &[Fixing], on: OnSheet) {
    for fixing in fixed {
        let Some(stands) = wall.pieces.iter().find(|stands| stands.piece == fixing.piece) else { continue };
        let mut heights: Vec<f64> = Vec::new();
        for at in &fixing.at {
            if !heights.iter().any(|known| (known - at.y).abs() < SAME) {
                heights.push(at.y);
            }
        }
        for height in heights {
            let mut path = BezPath::new();
            path.move_to(on.point(DVec2::new(stands.low.x, height)) - Vec2::new(BEYOND, 0.0));
            path.line_to(on.point(DVec2::new(stands.high.x, height)) + Vec2::new(BEYOND, 0.0));
            plate.stroke(path, Pen { width: plate.narrow, dash: dash::CENTRE }, Role::Centre);
        }
    }
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

impl Wall<'_> {
    /// The rows of sizes: the wall's above and at the left, the furniture's below and
    /// at the right.
    fn rows(&self, on: OnSheet, look: &Look) -> Vec<Sizes> {
        let across = Axis { index: 0, size: self.site.width, on, rect: self.rect(on) };
        let up = Axis { index: 1, size: self.site.height, ..across };
        let mut rows = vec![across.overall(Beside::Above, look), up.overall(Beside::Left, look)];
        for (axis, side) in [(across, Beside::Above), (up, Beside::Left)] {
            rows.extend(self.others(axis, side, look));
        }
        for (axis, side) in [(across, Beside::Below), (up, Beside::Right)] {
            rows.push(self.furniture(axis, side, look));
        }
        rows
    }

    /// Where the obstacles are, from the datum; none without any. What is left to the
    /// far end follows from the size of the wall.
    fn others(&self, axis: Axis, side: Beside, look: &Look) -> Option<Sizes> {
        let ends = self.job.obstacles.iter().map(|o| if axis.index == 0 { o.x } else { o.z });
        let stops = axis.stops(ends.flat_map(|(from, to)| [from, to]).collect());
        let stops = stops.split_last().map(|(_, stops)| stops).filter(|stops| stops.len() > 1)?;
        let figure = |w: &[f64]| Some(Figure::length(look, w[1] - w[0], axis.fixes(Measures::Wall, w)));
        Some(axis.row(side, stops, stops.windows(2).map(figure).collect(), false))
    }

    /// The pieces and what is left between them, from end to end of the wall.
    fn furniture(&self, axis: Axis, side: Beside, look: &Look) -> Sizes {
        let i = axis.index;
        let stops = axis.stops(self.pieces.iter().flat_map(|piece| [piece.low[i], piece.high[i]]).collect());
        let open = |w: &[f64]| !self.pieces.iter().any(|p| p.low[i] < w[0] + SAME && p.high[i] > w[1] - SAME);
        let closing = axis.closing(&stops, &open);
        // It is the difference of what is shown, so that the row adds up.
        let shown = |mm: f64| look.style().as_shown(mm);
        let others = stops.windows(2).enumerate().filter(|(at, _)| *at != closing);
        let rest = shown(axis.size) - others.map(|(_, w)| shown(w[1] - w[0])).sum::<f64>();
        let figure = |(at, w): (usize, &[f64])| {
            let fixes = axis.fixes(if open(w) { Measures::Left } else { Measures::Furniture }, w);
            if at != closing {
                return Some(Figure::length(look, w[1] - w[0], fixes));
            }
            Some(Figure { fixes, ..Figure::length(look, rest, Fixes::Nothing).bracketed() })
        };
        let figures = stops.windows(2).enumerate().map(figure).collect();
        axis.row(side, &stops, figures, false)
    }
}

/// A way along the wall: 0 across, 1 up.
#[derive(Clone, Copy)]
struct Axis {
    index: usize,
    /// The wall that way, mm.
    size: f64,
    on: OnSheet,
    /// The wall on the sheet.
    rect: Rect,
}

impl Axis {
    /// Where a place falls on the sheet.
    fn on_sheet(&self, at: f64) -> f64 {
        if self.index == 0 {
            self.on.point(DVec2::new(at, 0.0)).x
        } else {
            self.on.point(DVec2::new(0.0, at)).y
        }
    }

    /// What a size fixes, for the drawing lint.
    fn fixes(&self, measures: Measures, stretch: &[f64]) -> Fixes {
        let (from, to) = (hundredths(stretch[0]), hundredths(stretch[1]));
        Fixes::OnWall { measures, up: self.index != 0, from, to }
    }

    /// Both ends of the wall with the places between them.
    fn stops(&self, places: Vec<f64>) -> Vec<f64> {
        let between = apart(places).into_iter().filter(|at| *at > SAME && *at < self.size - SAME);
        std::iter::once(0.0).chain(between).chain(std::iter::once(self.size)).collect()
    }

    /// Which stretch of a row stands in brackets, since it follows from the rest: the
    /// last of what is left over, or where that has no room for brackets between its
    /// heads the longest; where nothing is left, the last piece.
    fn closing(&self, stops: &[f64], open: &dyn Fn(&[f64]) -> bool) -> usize {
        let long = |w: &[f64]| (self.on_sheet(w[1]) - self.on_sheet(w[0])).abs();
        let gaps = || stops.windows(2).enumerate().filter(|(_, w)| open(w));
        match gaps().last() {
            Some((at, w)) if long(w) >= SHORT => at,
            Some((at, _)) => gaps().max_by(|a, b| long(a.1).total_cmp(&long(b.1))).map_or(at, |(at, _)| at),
            None => stops.len().saturating_sub(2),
        }
    }

    /// The size of the wall.
    fn overall(&self, side: Beside, look: &Look) -> Sizes {
        let ends = [0.0, self.size];
        let figure = Figure { fixes: self.fixes(Measures::Wall, &ends), ..Figure::overall(look, self.size) };
        self.row(side, &ends, vec![Some(figure)], true)
    }

    /// A row of sizes beside the wall.
    fn row(&self, side: Beside, stops: &[f64], mut figures: Vec<Option<Figure>>, outermost: bool) -> Sizes {
        let foot = side.border(self.rect);
        let mut stops: Vec<Stop> = stops.iter().map(|at| Stop { at: self.on_sheet(*at), foot }).collect();
        // Sheet y runs down, so a row up the wall comes out falling.
        if !side.across() {
            stops.reverse();
            figures.reverse();
        }
        Sizes { side, stops, figures, form: Form::Chain, outermost }
    }
}

#[expect(clippy::cast_possible_truncation, reason = "sizes of walls are far inside i64")]
fn hundredths(mm: f64) -> i64 {
    (mm * STEPS).round() as i64
}

/// Places rising, those that are one taken once.
fn apart(mut places: Vec<f64>) -> Vec<f64> {
    places.sort_by(f64::total_cmp);
    places.dedup_by(|next, last| (*next - *last).abs() < SAME);
    places
}

/// What stands where, for leaders.
fn names(wall: &Wall<'_>, on: OnSheet) -> Vec<Callout> {
    let message = |text: &str, low: DVec2, high: DVec2| {
        let share = |x: f64, y: f64| on.point(low + (high - low) * DVec2::new(x, y));
        Callout {
            at: vec![
                share(0.5, 1.0),
                share(1.0, 0.5),
                share(0.0, 0.5),
                share(FROM_END, 1.0),
                share(1.0 - FROM_END, 1.0),
            ],
            lines: vec![vec![Run::Plain(text.to_owned())]],
            value: None,
            fixes: Fixes::Nothing,
            spare: false,
        }
    };
    let of_pieces = wall.pieces.iter().filter_map(|stands| {
        Some(message(&wall.job.pieces.get(stands.piece.0)?.name, stands.low, stands.high))
    });
    let of_others = wall.job.obstacles.iter().map(|other| {
        message(&other.name, DVec2::new(other.x.0, other.z.0), DVec2::new(other.x.1, other.z.1))
    });
    of_pieces.chain(of_others).collect()
}

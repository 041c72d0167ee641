//! Pieces as seen: parts collected, lines put on paper, item numbers with
//! their leaders.

use kurbo::{BezPath, Point, Rect};

use super::words::plain;
use crate::drawing::page::plate::{Lettering, Plate};
use crate::geometry::tolerance::HAIR;
use crate::geometry::{DVec2, DVec3};
use crate::joinery::{WorkedJob, WorkedPart};
use crate::model::PieceId;
use crate::paper::{Anchor, Mark, Pen, Role, Shows, Weight, dash};
use crate::solid::{Camera, ViewLine, Viewed};

/// Cap height of item numbers, mm.
pub(in crate::drawing) const ITEM: f64 = 3.5;

/// Distance of item numbers above one another, mm, where there is room.
pub(in crate::drawing) const PITCH: f64 = 2.0 * ITEM;
/// The least of it, for a column that is higher than its picture, mm.
const CLOSE: f64 = 5.5;

/// Least and greatest corner of some parts where they stand.
pub(in crate::drawing) fn bounds<'p>(parts: impl Iterator<Item = &'p WorkedPart>) -> Option<(DVec3, DVec3)> {
    let mut found: Option<(DVec3, DVec3)> = None;
    for part in parts {
        for point in &part.solid.points {
            let at = part.at.point(*point);
            found = Some(found.map_or((at, at), |(low, high)| (low.min(at), high.max(at))));
        }
    }
    found
}

/// Every part of a piece where it stands, tagged by its index.
pub(in crate::drawing) fn standing(worked: &WorkedJob, piece: PieceId) -> Vec<Viewed<'_>> {
    worked
        .parts
        .iter()
        .enumerate()
        .filter(|(_, part)| part.piece == piece)
        .map(|(tag, part)| Viewed { solid: &part.solid, at: part.at, tag })
        .collect()
}

/// The rectangle that a box takes on the drawing of `camera`, full size.
pub(in crate::drawing) fn extent(camera: Camera, low: DVec3, high: DVec3) -> (DVec2, DVec2) {
    let mut least = DVec2::INFINITY;
    let mut most = DVec2::NEG_INFINITY;
    for i in 0..8 {
        let pick = |bit: i32, a: f64, b: f64| if i & bit == 0 { a } else { b };
        let corner = DVec3::new(pick(1, low.x, high.x), pick(2, low.y, high.y), pick(4, low.z, high.z));
        let at = camera.project(corner);
        least = least.min(at);
        most = most.max(at);
    }
    (least, most)
}

/// From drawing coordinates (full size, y up) to the sheet.
#[derive(Clone, Copy, Debug)]
pub(in crate::drawing) struct OnSheet {
    /// Where drawing (0, 0) falls, sheet mm.
    pub(in crate::drawing) origin: Point,
    /// Paper mm per model mm.
    pub(in crate::drawing) factor: f64,
}

impl OnSheet {
    /// The mapping that puts the rectangle `low`..`high` of the drawing with its
    /// top left corner at `corner`.
    pub(in crate::drawing) fn at_corner(low: DVec2, high: DVec2, corner: Point, factor: f64) -> Self {
        Self { origin: Point::new(corner.x - low.x * factor, corner.y + high.y * factor), factor }
    }

    /// A drawing point on the sheet.
    pub(in crate::drawing) fn point(&self, p: DVec2) -> Point {
        Point::new(self.origin.x + p.x * self.factor, self.origin.y - p.y * self.factor)
    }

    /// A drawing rectangle on the sheet.
    pub(in crate::drawing) fn rect(&self, low: DVec2, high: DVec2) -> Rect {
        Rect::from_points(self.point(low), self.point(high))
    }
}

/// Pens of a view's lines.
#[derive(Clone, Copy, Debug)]
pub(in crate::drawing) struct ViewPens {
    /// Visible lines, mm.
    pub(in crate::drawing) visible: f64,
    /// Hidden lines, mm.
    pub(in crate::drawing) hidden: f64,
    /// Role of visible lines.
    pub(in crate::drawing) role: Role,
    /// Number of the view on its sheet.
    pub(in crate::drawing) view: u16,
}

/// Puts lines on the sheet: hidden below visible, one mark for each part and
/// kind. `heavier` gives other widths to some parts.
pub(in crate::drawing) fn put(
    plate: &mut Plate,
    lines: &[ViewLine],
    worked: &WorkedJob,
    on: OnSheet,
    pens: ViewPens,
    heavier: impl Fn(usize) -> Option<f64>,
) {
    for is_hidden in [true, false] {
        let mut tags: Vec<usize> =
            lines.iter().filter(|l| l.kind.is_hidden() == is_hidden).map(|l| l.tag).collect();
        tags.sort_unstable();
        tags.dedup();
        for tag in tags {
            let mut path = BezPath::new();
            for line in lines.iter().filter(|l| l.tag == tag && l.kind.is_hidden() == is_hidden) {
                path.move_to(on.point(line.a));
                path.line_to(on.point(line.b));
            }
            let shows = Shows {
                view: pens.view,
                part: worked.parts.get(tag).map_or_else(String::new, WorkedPart::mark),
                ..Shows::default()
            };
            let (pen, role) = if is_hidden {
                (Pen { width: pens.hidden, dash: dash::HIDDEN }, Role::Hidden)
            } else {
                (Pen { width: heavier(tag).unwrap_or(pens.visible), dash: dash::SOLID }, pens.role)
            };
            plate.stroke_of(path, pen, role, shows);
        }
    }
}

/// An item number waiting for its place.
#[derive(Clone, Debug)]
pub(in crate::drawing) struct Item {
    /// As printed.
    pub(in crate::drawing) mark: String,
    /// The point its leader ends on, sheet mm.
    pub(in crate::drawing) at: Point,
}

/// Items for the parts `tags`, one for each mark: each on the middle of the
/// longest line seen of any part of that mark.
pub(in crate::drawing) fn items(
    lines: &[ViewLine],
    worked: &WorkedJob,
    on: OnSheet,
    tags: &[usize],
) -> Vec<Item> {
    let mut found: Vec<(Item, f64, u32)> = Vec::new();
    for line in lines.iter().filter(|l| !l.kind.is_hidden() && tags.contains(&l.tag)) {
        let Some(part) = worked.parts.get(line.tag) else { continue };
        let length = line.a.distance(line.b);
        let item = Item { mark: part.mark(), at: on.point((line.a + line.b) * 0.5) };
        match found.iter_mut().find(|(known, _, _)| known.mark == item.mark) {
            Some(known) if known.1 + HAIR < length => *known = (item, length, part.number),
            Some(_) => {}
            None => found.push((item, length, part.number)),
        }
    }
    found.sort_by(|a, b| a.2.cmp(&b.2).then_with(|| a.0.mark.cmp(&b.0.mark)));
    found.into_iter().map(|(item, _, _)| item).collect()
}

/// Width a column of item numbers takes beside a picture, mm.
pub(in crate::drawing) const ITEM_COLUMN: f64 = 12.0;

/// From a picture to the numbers beside it, and from a section, whose sizes may stand
/// there, mm.
pub(in crate::drawing) const BESIDE: f64 = 6.0;
const BESIDE_SECTION: f64 = 8.0;

/// Puts item numbers in a column on each side of `picture`, with leaders that
/// do not cross one another (boundary labelling: labels in the order of their
/// points, crossing pairs exchanged). Columns taller than the picture spread
/// over the height of `room`.
pub(in crate::drawing) fn number(plate: &mut Plate, items: &[Item], picture: Rect, room: Rect, view: u16) {
    let mut sorted: Vec<&Item> = items.iter().collect();
    sorted.sort_by(|a, b| a.at.x.total_cmp(&b.at.x).then_with(|| a.mark.cmp(&b.mark)));
    let half = sorted.len().div_ceil(2);
    let (left, right) = sorted.split_at(half);
    columns(plate, (left, right), (picture, room), view);
}

/// The same with the numbers that stand at the left and at the right.
pub(in crate::drawing) fn number_at(
    plate: &mut Plate,
    (left, right): (&[Item], &[Item]),
    place: (Rect, Rect),
    view: u16,
) {
    let [left, right] = [left, right].map(|side| side.iter().collect::<Vec<&Item>>());
    columns(plate, (&left, &right), place, view);
}

/// Columns at the left and at the right of a picture.
fn columns(plate: &mut Plate, (left, right): (&[&Item], &[&Item]), (picture, room): (Rect, Rect), view: u16) {
    let beside = if column_height(left.len().max(right.len())) > picture.height() {
        Rect { y0: room.y0 + ITEM, y1: room.y1 - ITEM, ..picture }
    } else {
        picture
    };
    for (side, x, anchor) in
        [(left, picture.x0 - BESIDE, Anchor::End), (right, picture.x1 + BESIDE, Anchor::Start)]
    {
        Column { picture: beside, x, anchor, view }.draw(plate, side);
    }
}

/// Height of a column of so many item numbers, mm.
pub(in crate::drawing) fn column_height(count: usize) -> f64 {
    (count as f64 - 1.0).max(0.0) * PITCH
}

/// Puts item numbers in one column at the right of `picture`.
pub(in crate::drawing) fn number_right(plate: &mut Plate, items: &[Item], picture: Rect, view: u16) {
    let side: Vec<&Item> = items.iter().collect();
    Column { picture, x: picture.x1 + BESIDE_SECTION, anchor: Anchor::Start, view }.draw(plate, &side);
}

/// A column of item numbers.
struct Column {
    /// What it stands beside.
    picture: Rect,
    /// Where its numbers begin or end.
    x: f64,
    anchor: Anchor,
    /// The view that it belongs to.
    view: u16,
}

impl Column {
    /// Draws it: numbers in the order of their points.
    fn draw(&self, plate: &mut Plate, items: &[&Item]) {
        let mut column: Vec<&Item> = items.to_vec();
        column.sort_by(|a, b| a.at.y.total_cmp(&b.at.y).then_with(|| a.mark.cmp(&b.mark)));
        let mut heights = spread(&column, self.picture);
        uncross(&mut column, &mut heights, self.x);
        for (item, y) in column.iter().zip(heights) {
            label(plate, item, Point::new(self.x, y), self.anchor, self.view);
        }
    }
}

/// Heights of the labels: at their points, pushed apart to a least pitch and
/// kept beside the picture.
fn spread(column: &[&Item], picture: Rect) -> Vec<f64> {
    // Closer together where they would stand out past the picture, on what stands there.
    let between = column.len().saturating_sub(1).max(1) as f64;
    let pitch = (picture.height() / between).clamp(CLOSE, PITCH);
    let mut heights: Vec<f64> = column.iter().map(|item| item.at.y).collect();
    for i in 1..heights.len() {
        // Downwards only: what is pushed too far comes back up below.
        heights[i] = heights[i].max(heights[i - 1] + pitch);
    }
    let over = heights.last().map_or(0.0, |last| (last - picture.y1).max(0.0));
    let room = heights.first().map_or(0.0, |first| (first - picture.y0).max(0.0));
    let shift = over.min(room.max(over));
    // Push back up from the foot, then down from the head where that is too far.
    if shift > 0.0 {
        let mut limit = picture.y1;
        for y in heights.iter_mut().rev() {
            *y = y.min(limit);
            limit = *y - pitch;
        }
        // What is higher than the picture stands out at head and foot alike.
        let out = heights.first().map_or(0.0, |first| (picture.y0 - first).max(0.0));
        for y in &mut heights {
            *y += out / 2.0;
        }
    }
    heights
}

/// Exchanges the labels of crossing leaders until none cross.
fn uncross(column: &mut [&Item], heights: &mut [f64], x: f64) {
    for _ in 0..column.len() {
        let mut changed = false;
        for i in 0..column.len() {
            for j in i + 1..column.len() {
                let a = (Point::new(x, heights[i]), column[i].at);
                let b = (Point::new(x, heights[j]), column[j].at);
                // Exchanged, both leaders are shorter in all, so this comes to an end.
                if cross(a, b) {
                    column.swap(i, j);
                    changed = true;
                }
            }
        }
        if !changed {
            return;
        }
    }
}

fn cross(a: (Point, Point), b: (Point, Point)) -> bool {
    let side = |p: (Point, Point), q: Point| (p.1 - p.0).cross(q - p.0);
    side(a, b.0) * side(a, b.1) < 0.0 && side(b, a.0) * side(b, a.1) < 0.0
}

/// One number with its leader: a short level stroke, then to the point, where a
/// dot of 1 mm ends it.
fn label(plate: &mut Plate, item: &Item, at: Point, anchor: Anchor, view: u16) {
    let shows = Shows { view, part: item.mark.clone(), ..Shows::default() };
    let out = if anchor == Anchor::End { -1.0 } else { 1.0 };
    let knee = Point::new(at.x - out * 1.0, at.y);
    let mut path = BezPath::with_capacity(2);
    path.move_to(knee);
    path.line_to(item.at);
    plate.stroke_of(path, Pen { width: plate.narrow, dash: dash::SOLID }, Role::Leader, shows.clone());
    let dot = kurbo::Circle::new(item.at, 0.5);
    plate.fill(kurbo::Shape::to_path(&dot, Mark::ROUND), 0.0, Role::Arrow);
    let how = Lettering { height: ITEM, anchor, weight: Weight::SemiBold, role: Role::ItemNumber };
    plate.runs_of((at.x, at.y + ITEM / 2.0), plain(item.mark.clone()), how, shows);
}

//! Number, name and grain inside the outline of a template, so that they stay
//! on it when it is cut out.

use kurbo::{Affine, BezPath, Point, Rect, Vec2};

use crate::drawing::kit::dimension::ink::pen;
use crate::drawing::kit::dimension::white::White;
use crate::drawing::kit::words::text_width;
use crate::drawing::page::plate::{Lettering, Plate};
use crate::drawing::sheets::parts::full_size::{on_template, template_camera};
use crate::joinery::WorkedPart;
use crate::model::Face;
use crate::paper::{Anchor, Mark, Role, Weight};

/// A face of the part looks this straight out of the template, as a share of its
/// normal: slanting faces hold no label.
const FACING: f64 = 0.999;
/// The border of a box is looked at this often on each side.
const LOOKS: u8 = 4;
/// Height of number and name, and white round them on both sides together, mm.
const HEIGHT: f64 = Lettering::MIDDLE;
const ROUND: f64 = 3.0;
/// Half lengths of the grain arrow, the best first, mm.
const HALVES: [f64; 3] = [15.0, 10.0, 6.0];
/// What it takes beyond its length, and across, mm.
const ARROW_PAST: f64 = 2.0;
const ARROW_ACROSS: f64 = 5.0;
/// Length of its heads and half their width, mm.
const HEAD: (f64, f64) = (3.0, 1.3);

/// Where wood is, as closed rings on the template, odd inside.
#[derive(Clone, Debug)]
pub(in crate::drawing) struct Label {
    rings: Vec<Vec<Point>>,
}

impl Label {
    /// The wood of a part seen on `face`.
    pub(in crate::drawing) fn new(part: &WorkedPart, face: Face) -> Self {
        let toward = template_camera(part, face).toward();
        let rings = part
            .solid
            .faces
            .iter()
            .filter(|f| f.plane.normal.dot(toward) > FACING)
            .flat_map(|f| &f.loops)
            .map(|ring| {
                let corner = |i: &u32| part.solid.points.get(*i as usize).copied();
                ring.iter().filter_map(corner).map(|p| on_template(part, face, p)).collect()
            })
            .collect();
        Self { rings }
    }

    /// The same on the template turned a quarter.
    pub(in crate::drawing) fn turned(self) -> Self {
        let quarter = Affine::new([0.0, 1.0, -1.0, 0.0, 0.0, 0.0]);
        let turn = |ring: Vec<Point>| ring.into_iter().map(|p| quarter * p).collect();
        Self { rings: self.rings.into_iter().map(turn).collect() }
    }

    /// Whether a point lies on wood.
    fn holds(&self, p: Point) -> bool {
        let crossed = |ring: &Vec<Point>| {
            let next = ring.iter().cycle().skip(1);
            ring.iter()
                .zip(next)
                .filter(|(a, b)| {
                    (a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y)
                })
                .count()
        };
        self.rings.iter().map(crossed).sum::<usize>() % 2 == 1
    }

    /// Whether the whole of a box lies on wood: its border and middle do, and
    /// no ink, which is judged apart, runs through it.
    fn holds_box(&self, area: Rect) -> bool {
        (0..=LOOKS).all(|i| {
            let t = f64::from(i) / f64::from(LOOKS);
            let (x, y) = (area.x0 + area.width() * t, area.y0 + area.height() * t);
            [Point::new(x, area.y0), Point::new(x, area.y1), Point::new(area.x0, y), Point::new(area.x1, y)]
                .into_iter()
                .all(|p| self.holds(p))
        })
    }

    /// Writes `text` and the grain arrow on white wood in `window` of a sheet
    /// that shows the template moved by `by`; nothing where there is no room.
    pub(in crate::drawing) fn draw(
        &self,
        plate: &mut Plate,
        text: &str,
        grain_up: Option<bool>,
        (window, by): (Rect, Vec2),
    ) {
        let height = HEIGHT;
        let wide = text_width(text, height, Weight::SemiBold);
        let mut white = White::new(window);
        white.ink(&plate.marks);
        let size = Vec2::new(wide + ROUND, height + ROUND);
        if let Some(at) = self.place(&white, window, by, size) {
            let how = Lettering { anchor: Anchor::Middle, ..Lettering::title(height) };
            plate.text((at.x, at.y + height / 2.0), text, how);
            white.fill(Rect::from_center_size(at, (size.x, size.y)));
        }
        white.ink(&plate.marks);
        let Some(up) = grain_up else { return };
        for half in HALVES {
            let along = Vec2::new(2.0 * half + ARROW_PAST, ARROW_ACROSS);
            let size = if up { Vec2::new(along.y, along.x) } else { along };
            if let Some(at) = self.place(&white, window, by, size) {
                plate.marks.push(arrow(at, half, up, plate.narrow));
                return;
            }
        }
    }

    /// The middle of a white box on wood, as near the middle of the window as
    /// there is one.
    fn place(&self, white: &White, window: Rect, by: Vec2, size: Vec2) -> Option<Point> {
        let (across, down) = (steps(window.width() - size.x), steps(window.height() - size.y));
        let middle = window.center();
        let mut best: Option<(f64, Point)> = None;
        for row in 0..=down {
            for column in 0..=across {
                let x = window.x0 + size.x / 2.0 + STEP * f64::from(column);
                let y = window.y0 + size.y / 2.0 + STEP * f64::from(row);
                let at = Point::new(x, y);
                let off = at.distance(middle);
                let area = Rect::from_center_size(at, (size.x, size.y));
                if best.is_none_or(|b| off < b.0) && white.free(area) && self.holds_box(area - by) {
                    best = Some((off, at));
                }
            }
        }
        best.map(|b| b.1)
    }
}

/// Places are tried this far apart, mm.
const STEP: f64 = 3.0;

/// How many steps go into a length.
fn steps(length: f64) -> u32 {
    (0..2000).take_while(|n| STEP * f64::from(*n) <= length).last().unwrap_or(0)
}

/// The grain arrow: a double arrow with open heads.
pub(in crate::drawing) fn arrow(middle: Point, half: f64, up: bool, narrow: f64) -> Mark {
    let along = if up { Vec2::new(0.0, 1.0) } else { Vec2::new(1.0, 0.0) };
    let aside = Vec2::new(along.y, along.x);
    let mut path = BezPath::new();
    path.move_to(middle - along * half);
    path.line_to(middle + along * half);
    for way in [-1.0, 1.0] {
        let end = middle + along * (half * way);
        path.move_to(end - along * (HEAD.0 * way) - aside * HEAD.1);
        path.line_to(end);
        path.line_to(end - along * (HEAD.0 * way) + aside * HEAD.1);
    }
    Mark::stroke(path, pen(narrow * Plate::BOLD), Role::Symbol)
}

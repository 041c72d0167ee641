//! Doors and drawers open, in the thin line of long dashes and two dots (ISO
//! 128-2, type 05.1): the leaf where it stands open, and the way it swings.

use kurbo::{BezPath, Point, Rect, Shape, Vec2};

use super::project::{OnSheet, bounds, extent};
use crate::drawing::page::plate::Plate;
use crate::geometry::tolerance::HAIR;
use crate::geometry::{DVec2, DVec3};
use crate::joinery::{Opening, WorkedJob, WorkedPart};
use crate::model::PieceId;
use crate::paper::{Pen, Role, dash};
use crate::solid::Camera;

/// How near the curves of a swing come to its circle, mm: it is as large as the piece.
const ROUND: f64 = 1e-3;

/// A part that opens: its box shut, and how.
#[derive(Clone, Copy, Debug)]
pub(in crate::drawing) struct Opens {
    low: DVec3,
    high: DVec3,
    how: Opening,
}

/// Everything of a piece that opens, with all that is joined to it: a drawer
/// with its front and bottom, a door with its frame and lippings.
pub(in crate::drawing) fn opens(worked: &WorkedJob, piece: PieceId) -> Vec<Opens> {
    let mut found = Vec::new();
    for joint in &worked.joints {
        let Some((how, leaf)) = joint.opens.zip(joint.parts.first().copied()) else { continue };
        if worked.parts.get(leaf).is_none_or(|part| part.piece != piece) {
            continue;
        }
        let parts = worked.moving_with(leaf);
        let box_of = bounds(parts.iter().filter_map(|index| worked.parts.get(*index)));
        let Some((low, high)) = box_of else { continue };
        // The two runners of a drawer move it once.
        if !found.iter().any(|one: &Opens| one.low == low && one.high == high) {
            found.push(Opens { low, high, how });
        }
    }
    found
}

impl Opens {
    /// The corners of its box shut.
    fn shut(&self) -> [DVec3; 8] {
        std::array::from_fn(|i| {
            let pick = |bit: usize, low: f64, high: f64| if i & bit == 0 { low } else { high };
            DVec3::new(
                pick(1, self.low.x, self.high.x),
                pick(2, self.low.y, self.high.y),
                pick(4, self.low.z, self.high.z),
            )
        })
    }

    /// The same open: a leaf turned, a drawer drawn out.
    fn open(&self) -> [DVec3; 8] {
        let pose = self.how.pose(0.5 * (self.low + self.high), 1.0);
        self.shut().map(|p| pose.point(p))
    }

    /// Least and greatest corner of its box shut.
    pub(in crate::drawing) fn shut_between(&self) -> (DVec3, DVec3) {
        (self.low, self.high)
    }

    /// Whether it is drawn out, as a drawer.
    pub(in crate::drawing) fn slides(&self) -> bool {
        matches!(self.how, Opening::Slides { .. })
    }

    /// Whether it turns about this direction, as a lid about the length.
    pub(in crate::drawing) fn turns_about(&self, way: DVec3) -> bool {
        matches!(self.how, Opening::Swings { axis, .. } if axis.dot(way).abs() > 0.5)
    }

    /// The front it shows to `camera`, where it opens toward that: on the sheet, and its width
    /// and height, mm.
    pub(in crate::drawing) fn front(&self, camera: Camera, on: OnSheet) -> Option<(Rect, [f64; 2])> {
        let (low, high) = extent(camera, self.low, self.high);
        self.is_front(camera).then(|| (on.rect(low, high), [high.x - low.x, high.y - low.y]))
    }

    /// Whether it opens toward `camera` and shows it its front.
    pub(in crate::drawing) fn is_front(&self, camera: Camera) -> bool {
        let sight = camera.toward();
        match self.how {
            Opening::Slides { toward, .. } => toward.dot(sight) > 0.5,
            // A lid lies, and is seen from its edge.
            Opening::Swings { axis, .. } => {
                let size = (self.high - self.low).abs();
                axis.dot(sight).abs() < 0.5 && size.dot(sight.abs()) <= size.min_element()
            }
        }
    }

    /// Whether a box is part of it.
    pub(in crate::drawing) fn holds(&self, (low, high): (DVec3, DVec3)) -> bool {
        low.cmpge(self.low - HAIR).all() && high.cmple(self.high + HAIR).all()
    }

    /// Whether a part goes with it.
    pub(in crate::drawing) fn moves(&self, part: &WorkedPart) -> bool {
        bounds(std::iter::once(part)).is_some_and(|box_of| self.holds(box_of))
    }

    /// Whether a part that goes with it stands foremost: the front of a drawer, a door.
    pub(in crate::drawing) fn is_faced_by(&self, part: &WorkedPart) -> bool {
        bounds(std::iter::once(part)).is_some_and(|(low, _)| low.y < self.low.y + HAIR)
    }

    /// Draws which way a leaf swings on its front on the sheet: two lines from the side with
    /// the handle meet at that with the hinges (common practice, no source).
    pub(in crate::drawing) fn way(&self, plate: &mut Plate, camera: Camera, on: OnSheet, front: Rect) {
        let Opening::Swings { about, .. } = self.how else { return };
        let hinge = on.point(camera.project(about));
        let upright = match self.how {
            Opening::Swings { axis, .. } => axis.z.abs() > 0.5,
            Opening::Slides { .. } => return,
        };
        let far = |at: f64, low: f64, high: f64| {
            if (at - low).abs() < (at - high).abs() { (low, high) } else { (high, low) }
        };
        let mut path = BezPath::new();
        if upright {
            let (hung, free) = far(hinge.x, front.x0, front.x1);
            path.move_to((free, front.y0));
            path.line_to((hung, front.center().y));
            path.line_to((free, front.y1));
        } else {
            let (hung, free) = far(hinge.y, front.y0, front.y1);
            path.move_to((front.x0, free));
            path.line_to((front.center().x, hung));
            path.line_to((front.x1, free));
        }
        plate.stroke(path, Pen { width: plate.narrow, dash: dash::PHANTOM }, Role::Phantom);
    }

    /// The box it takes up open.
    pub(in crate::drawing) fn reach(&self) -> (DVec3, DVec3) {
        // A leaf that opens further stands out most on the way.
        let most = match self.how {
            Opening::Swings { by, .. } if by > 90.0 => 90.0 / by,
            _ => 1.0,
        };
        let pose = self.how.pose(0.5 * (self.low + self.high), most);
        let points = self.open().into_iter().chain(self.shut().map(|p| pose.point(p)));
        points.fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(l, h), p| (l.min(p), h.max(p)))
    }

    /// Draws it open where `camera` sees it move: a door from along its axis, a
    /// drawer from its side, and not from above too, which would halve the scale.
    pub(in crate::drawing) fn draw(&self, plate: &mut Plate, camera: Camera, on: OnSheet) {
        let sight = camera.toward();
        let pen = Pen { width: plate.narrow, dash: dash::PHANTOM };
        let flat = |points: [DVec3; 8]| {
            let (low, high) = points
                .iter()
                .map(|p| camera.project(*p))
                .fold((DVec2::INFINITY, DVec2::NEG_INFINITY), |(low, high), p| (low.min(p), high.max(p)));
            on.rect(low, high)
        };
        match self.how {
            Opening::Slides { toward, .. } if toward.dot(sight).abs().max(sight.z.abs()) < 0.5 => {
                plate.stroke(flat(self.open()).to_path(ROUND), pen, Role::Phantom);
            }
            Opening::Swings { about, axis, by, .. } if axis.dot(sight).abs() > 0.5 => {
                let pivot = on.point(camera.project(about));
                let shut = flat(self.shut());
                let half = self.how.pose(0.5 * (self.low + self.high), 0.5);
                let half = on.point(camera.project(half.point(0.5 * (self.low + self.high))));
                let way = (shut.center() - pivot).cross(half - pivot);
                let turn = by.to_radians() * if way > 0.0 { 1.0 } else { -1.0 };
                plate.stroke(turned(pivot, shut, turn), pen, Role::Phantom);
                plate.stroke(swing(pivot, shut, turn), pen, Role::Phantom);
            }
            _ => {}
        }
    }
}

/// A point turned about another by an angle, radians.
fn about(pivot: Point, from: Vec2, angle: f64) -> Point {
    let (sin, cos) = crate::geometry::trig::sin_cos(angle);
    pivot + Vec2::new(from.x * cos - from.y * sin, from.x * sin + from.y * cos)
}

/// A leaf shut, turned.
fn turned(pivot: Point, shut: Rect, turn: f64) -> BezPath {
    let corners = [(shut.x0, shut.y0), (shut.x1, shut.y0), (shut.x1, shut.y1), (shut.x0, shut.y1)];
    let mut path = BezPath::new();
    for (k, corner) in corners.into_iter().enumerate() {
        let p = about(pivot, Point::from(corner) - pivot, turn);
        if k == 0 { path.move_to(p) } else { path.line_to(p) }
    }
    path.close_path();
    path
}

/// The arc that the free corner of a leaf runs along, from shut to open.
fn swing(pivot: Point, shut: Rect, turn: f64) -> BezPath {
    // The free corner shut lies level with the pivot or above it, whichever
    // side of the leaf is longer.
    let from = if shut.width() > shut.height() {
        Vec2::new((if shut.center().x > pivot.x { shut.x1 } else { shut.x0 }) - pivot.x, 0.0)
    } else {
        Vec2::new(0.0, (if shut.center().y > pivot.y { shut.y1 } else { shut.y0 }) - pivot.y)
    };
    let mut path = BezPath::new();
    // Enough short lines for a smooth dashed arc at any size on paper.
    let steps = 48_u32;
    for k in 0..=steps {
        let p = about(pivot, from, turn * f64::from(k) / f64::from(steps));
        if k == 0 { path.move_to(p) } else { path.line_to(p) }
    }
    path
}

//! How a part lies in a view: axes, directions, sides.

use kurbo::{Point, Rect};

use super::stretches::Breaks;
use crate::drawing::kit::dimension::Beside;
use crate::drawing::page::profile::Projection;
use crate::geometry::DVec3;
use crate::model::Face;

/// The part as seen square to one face, placed on the sheet.
///
/// The marked face is seen with part x to the right and part y down, so that
/// the face edge is the upper line. Edge and ends are turned from it as the
/// projection rules ask (ISO 5456-2): every view keeps x to the right, or y
/// down. The back is seen as the maker turns the part over end for end, so that
/// the face edge stays the upper line.
#[derive(Clone, Copy, Debug)]
pub(super) struct Frame {
    /// The face looked at.
    pub(super) face: Face,
    /// Axis to the right, and whether it runs backwards.
    pub(super) right: (usize, bool),
    /// Axis down the sheet, and whether it runs backwards.
    pub(super) down: (usize, bool),
    /// Size of the blank, mm.
    pub(super) size: DVec3,
    /// Paper mm per mm.
    pub(super) factor: f64,
    /// What is left out along the length.
    pub(super) breaks: Breaks,
    /// Upper left corner of the blank on the sheet.
    pub(super) corner: Point,
}

impl Frame {
    /// The view on `face`, its blank's corner at the sheet's origin.
    pub(super) fn new(face: Face, size: DVec3, factor: f64) -> Self {
        let (right, down) = match face {
            Face::Marked => ((0, false), (1, false)),
            Face::Back => ((0, true), (1, false)),
            Face::Edge => ((0, false), (2, true)),
            Face::FarEdge => ((0, false), (2, false)),
            Face::NearEnd => ((2, true), (1, false)),
            Face::FarEnd => ((2, false), (1, false)),
        };
        Self { face, right, down, size, factor, breaks: Breaks::default(), corner: Point::ZERO }
    }

    /// Distance on paper of a place from the start of an axis.
    fn placed(&self, axis: usize, at: f64) -> f64 {
        if axis == 0 { self.breaks.placed(at, self.factor) } else { at * self.factor }
    }

    /// Sheet coordinate of a place on an axis in the plane of the view.
    pub(super) fn along(&self, axis: usize, at: f64) -> f64 {
        let place = |back: bool| {
            let from_start = self.placed(axis, at);
            if back { self.placed(axis, self.size[axis]) - from_start } else { from_start }
        };
        if axis == self.right.0 {
            self.corner.x + place(self.right.1)
        } else {
            self.corner.y + place(self.down.1)
        }
    }

    /// A point of the part on the sheet.
    pub(super) fn point(&self, p: DVec3) -> Point {
        Point::new(self.along(self.right.0, p[self.right.0]), self.along(self.down.0, p[self.down.0]))
    }

    /// The blank on the sheet.
    pub(super) fn rect(&self) -> Rect {
        Rect::from_origin_size(
            self.corner,
            (
                self.placed(self.right.0, self.size[self.right.0]),
                self.placed(self.down.0, self.size[self.down.0]),
            ),
        )
    }

    /// The side of the view that rows along `axis` go to: away from the views
    /// that stand next to it.
    pub(super) fn side(&self, axis: usize, projection: Projection) -> Beside {
        let first = projection == Projection::First;
        if axis == self.right.0 {
            let above = match self.face {
                Face::Marked | Face::FarEdge | Face::NearEnd | Face::FarEnd => first,
                Face::Edge | Face::Back => !first,
            };
            return if above { Beside::Above } else { Beside::Below };
        }
        let left = match self.face {
            Face::Marked | Face::Edge | Face::Back | Face::FarEdge | Face::FarEnd => first,
            Face::NearEnd => !first,
        };
        if left { Beside::Left } else { Beside::Right }
    }
}

/// Where the view on `face` stands: steps right and down from the marked face.
pub(super) fn station(face: Face, projection: Projection) -> (i32, i32) {
    let (right, down) = match face {
        Face::Marked => (0, 0),
        Face::Edge => (0, 1),
        Face::Back => (0, 2),
        Face::FarEdge => (0, -1),
        Face::NearEnd => (1, 0),
        Face::FarEnd => (-1, 0),
    };
    match projection {
        Projection::First => (right, down),
        Projection::Third => (-right, -down),
    }
}

//! The arrow of the grain.

use kurbo::{BezPath, Point, Vec2};

use crate::cutting::sheets::Axis;
use crate::drawing::page::plate::Plate;
use crate::paper::{Pen, Role, dash};

/// Length of the heads and half their width, mm.
const HEAD: (f64, f64) = (2.0, 0.9);

/// A double arrow along the grain with open heads.
pub(in crate::drawing) fn double_arrow(plate: &mut Plate, middle: Point, half: f64, axis: Axis) {
    let along = if axis == Axis::X { Vec2::new(1.0, 0.0) } else { Vec2::new(0.0, 1.0) };
    let aside = Vec2::new(-along.y, along.x);
    let mut path = BezPath::new();
    path.move_to(middle - along * half);
    path.line_to(middle + along * half);
    for way in [-1.0, 1.0] {
        let end = middle + along * (half * way);
        path.move_to(end - along * (HEAD.0 * way) + aside * HEAD.1);
        path.line_to(end);
        path.line_to(end - along * (HEAD.0 * way) - aside * HEAD.1);
    }
    plate.stroke(path, Pen { width: plate.narrow, dash: dash::SOLID }, Role::Symbol);
}

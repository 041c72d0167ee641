//! The ink of dimensions: lines, arrow heads, dots, circles.

use kurbo::{BezPath, Circle, Point, Shape, Vec2};

use super::Manner;
use crate::paper::{Mark, Pen, Role, Shows, dash};

/// Radius of the circle at the origin of running sizes, in arrow lengths.
const ORIGIN: f64 = 0.3;

/// A continuous pen.
pub(in crate::drawing) fn pen(width: f64) -> Pen {
    Pen { width, dash: dash::SOLID }
}

/// A narrow line in `role`.
pub(super) fn line(from: Point, to: Point, manner: &Manner, role: Role, shows: &Shows) -> Mark {
    Mark::line(from, to, pen(manner.narrow), role).showing(shows.clone())
}

/// A closed, filled arrow head with its tip at `tip`, flying along `towards`
/// (unit).
pub(super) fn arrow(tip: Point, towards: Vec2, manner: &Manner, shows: &Shows) -> Mark {
    let back = tip - towards * manner.arrow;
    let aside = Vec2::new(-towards.y, towards.x) * manner.half;
    let mut path = BezPath::with_capacity(4);
    path.move_to(tip);
    path.line_to(back + aside);
    path.line_to(back - aside);
    path.close_path();
    Mark::fill(path, 0.0, Role::Arrow).showing(shows.clone())
}

/// A filled dot: between short sizes of a chain, or where a leader ends in a
/// face (ASME Y14.2 gives 1.5 mm there; we keep to 1).
pub(super) fn dot(at: Point, diameter: f64, shows: &Shows) -> Mark {
    Mark::fill(Circle::new(at, diameter / 2.0).to_path(Mark::ROUND), 0.0, Role::Arrow).showing(shows.clone())
}

/// The small open circle at the origin of running sizes.
pub(super) fn origin(at: Point, manner: &Manner, shows: &Shows) -> Mark {
    let circle = Circle::new(at, manner.arrow * ORIGIN).to_path(Mark::ROUND);
    Mark::stroke(circle, pen(manner.narrow), Role::Arrow).showing(shows.clone())
}

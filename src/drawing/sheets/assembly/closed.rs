//! The glued body closed and seen square, with the diagonals that are measured on it.

use kurbo::{BezPath, Point, Rect};

use super::by_then;
use crate::assembly::{Check, Step};
use crate::drawing::kit::project::{self, OnSheet, ViewPens};
use crate::drawing::page::plate::Plate;
use crate::geometry::{DVec2, DVec3};
use crate::joinery::WorkedJob;
use crate::paper::{Pen, Role, dash};
use crate::solid::{Camera, HiddenLines, Viewed, view};

/// Share of a cell's width that it takes.
pub(super) const SHARE: f64 = 0.34;

/// White round it, mm.
const CLEAR: f64 = 2.0;

/// Draws it as large as `area` takes, with the steps that are done before.
pub(super) fn draw(plate: &mut Plate, worked: &WorkedJob, (before, step): (&[Step], &Step), area: Rect) {
    let Some(check) = step.check else { return };
    let camera = camera(&check);
    let parts: Vec<usize> = step.onto().into_iter().chain(step.adds()).chain(step.set_dry()).collect();
    let so_far = by_then::solids(worked, (before, step), &parts);
    let items: Vec<Viewed<'_>> = parts
        .iter()
        .filter_map(|index| Some((*index, worked.parts.get(*index)?)))
        .map(|(tag, part)| Viewed { solid: so_far.get(&tag).unwrap_or(&part.solid), at: part.at, tag })
        .collect();
    let (mut low, mut high) = (DVec2::INFINITY, DVec2::NEG_INFINITY);
    for item in &items {
        for point in &item.solid.points {
            let at = camera.project(item.at.point(*point));
            low = low.min(at);
            high = high.max(at);
        }
    }
    let size = high - low;
    let room = area.inflate(-CLEAR, -CLEAR);
    if !(size.x > 0.0 && size.y > 0.0 && room.width() > 0.0 && room.height() > 0.0) {
        return;
    }
    let factor = (room.width() / size.x).min(room.height() / size.y);
    let corner = Point::new(room.center().x - 0.5 * size.x * factor, room.center().y - 0.5 * size.y * factor);
    let on = OnSheet::at_corner(low, high, corner, factor);
    let lines = view(&items, camera, HiddenLines::Drop);
    let fine = plate.narrow * Plate::FINE;
    let pens = ViewPens { visible: fine, hidden: fine, role: Role::Pictorial, view: 0 };
    project::put(plate, &lines, worked, on, pens, |_| None);
    let [a, b, c, d] = check.corners.map(|at| on.point(camera.project(at)));
    for (from, to) in [(a, c), (b, d)] {
        let mut path = BezPath::new();
        path.move_to(from);
        path.line_to(to);
        plate.stroke(path, Pen { width: plate.narrow, dash: dash::SOLID }, Role::Centre);
    }
}

/// The camera that sees the corners square.
fn camera(check: &Check) -> Camera {
    if check.toward.dot(DVec3::Z) > 0.5 {
        Camera::TOP
    } else if check.toward.dot(DVec3::NEG_X) > 0.5 {
        Camera::LEFT
    } else {
        Camera::FRONT
    }
}

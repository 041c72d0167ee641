//! The picture of what is offered: the pieces as they stand, on their wall where the
//! job tells of one.

use kurbo::{Rect, Vec2};

use crate::drawing::kit::project::{self, OnSheet, ViewPens, bounds};
use crate::drawing::page::plate::Plate;
use crate::geometry::{DVec2, DVec3, Placement};
use crate::joinery::{WorkedJob, on_wall};
use crate::model::{Job, PieceId};
use crate::paper::Role;
use crate::solid::{Body, Camera, HiddenLines, Prism, Solid, Viewed, carve, view};

/// Thickness that the wall and what is on it are viewed as, mm: hardly more than lines.
const SHEER: f64 = 0.002;
/// How much of the wall is shown round the furniture, as a share of the larger of its
/// width and height.
const AROUND: f64 = 0.3;
/// Between pieces without a wall, as a share of the width of the first.
const APART: f64 = 0.25;
/// Tags of what is no part.
const NO_PART: usize = usize::MAX / 2;

/// Draws a job as large as `area` lets it.
pub(in crate::drawing) fn draw(plate: &mut Plate, job: &Job, worked: &WorkedJob, area: Rect) {
    let camera = Camera::isometric();
    let shifts = shifts(job, worked);
    let shift = |piece: PieceId| shifts.get(piece.0).copied().unwrap_or_default();
    let wall = wall(job, worked, &shifts);
    let parts = worked.parts.iter().enumerate();
    let mut items: Vec<Viewed<'_>> = parts
        .map(|(tag, part)| Viewed { solid: &part.solid, at: part.at.moved(shift(part.piece)), tag })
        .collect();
    items.extend((NO_PART..).zip(&wall).map(|(tag, (solid, at))| Viewed { solid, at: *at, tag }));
    let (mut low, mut high) = (DVec2::INFINITY, DVec2::NEG_INFINITY);
    for item in &items {
        for point in &item.solid.points {
            let p = camera.project(item.at.point(*point));
            (low, high) = (low.min(p), high.max(p));
        }
    }
    let size = high - low;
    let factor = (area.width() / size.x).min(area.height() / size.y);
    if !(factor.is_finite() && factor > 0.0) {
        return;
    }
    let corner = area.center() - Vec2::new(size.x, size.y) * (factor / 2.0);
    let on = OnSheet::at_corner(low, high, corner, factor);
    let (round, own): (Vec<_>, Vec<_>) =
        view(&items, camera, HiddenLines::Drop).into_iter().partition(|line| line.tag >= NO_PART);
    let pens = |visible| ViewPens { visible, hidden: plate.narrow, role: Role::Pictorial, view: 1 };
    let (thin, full) = (pens(plate.narrow * Plate::FINE), pens(plate.wide * Plate::LIGHT));
    project::put(plate, &round, worked, on, thin, |_| None);
    project::put(plate, &own, worked, on, full, |_| None);
}

/// How far each piece is moved: to its place on the wall, else beside the one before.
fn shifts(job: &Job, worked: &WorkedJob) -> Vec<DVec3> {
    let mut shifts = vec![DVec3::ZERO; job.pieces.len()];
    let stands = on_wall(job, worked);
    for one in &stands {
        if let Some(shift) = shifts.get_mut(one.piece.0) {
            *shift = one.shift;
        }
    }
    if !stands.is_empty() {
        return shifts;
    }
    let mut next: Option<f64> = None;
    for (index, shift) in shifts.iter_mut().enumerate() {
        let own = worked.parts.iter().filter(|part| part.piece == PieceId(index));
        let Some((low, high)) = bounds(own) else { continue };
        if let Some(x) = next {
            shift.x = x - low.x;
        }
        next = Some(high.x + shift.x + APART * (high.x - low.x));
    }
    shifts
}

/// What is seen of the wall, and what is on it.
fn wall(job: &Job, worked: &WorkedJob, shifts: &[DVec3]) -> Vec<(Solid, Placement)> {
    let Some(site) = &job.site else { return Vec::new() };
    let corners = worked.parts.iter().flat_map(|part| {
        let shift = shifts.get(part.piece.0).copied().unwrap_or_default();
        part.solid.points.iter().map(move |point| part.at.moved(shift).point(*point))
    });
    let (low, high) = corners.fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(l, h), p| (l.min(p), h.max(p)));
    if !(low.is_finite() && high.is_finite()) {
        return Vec::new();
    }
    let more = AROUND * (high.x - low.x).max(high.z - low.z);
    let from = DVec2::new((low.x - more).max(0.0), (low.z - more).max(0.0));
    let to = DVec2::new((high.x + more).min(site.width), (high.z + more).min(site.height));
    let slab = |from: DVec2, to: DVec2, y: f64| {
        let (a, b) = (DVec3::new(from.x, y, from.y), DVec3::new(to.x, y + SHEER, to.y));
        let solid = carve(&Body::Prism(Prism::cuboid(a, b)), &[]).ok()?;
        Some((solid, Placement::IDENTITY))
    };
    let others = job.obstacles.iter().filter_map(|other| {
        let (a, b) = (DVec2::new(other.x.0, other.z.0).max(from), DVec2::new(other.x.1, other.z.1).min(to));
        if a.x < b.x && a.y < b.y { slab(a, b, -2.0 * SHEER) } else { None }
    });
    slab(from, to, SHEER).into_iter().chain(others).collect()
}

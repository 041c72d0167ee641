//! The picture for the client: the furniture in two-point perspective on its wall, lit
//! from the upper left.

use kurbo::{BezPath, Point, Rect, Vec2};

use super::figure;
use super::scene::{Kind, Scene, Thing};
use super::tones::{Toned, Tones};
use crate::drawing::kit::project::{self, OnSheet, ViewPens};
use crate::drawing::page::plate::Plate;
use crate::geometry::{DVec2, Placement};
use crate::joinery::WorkedJob;
use crate::model::Job;
use crate::paper::{Role, Shows};
use crate::solid::{Camera, HiddenLines, Solid, Viewed, view};

/// Tags of what is no part.
const NO_PART: usize = usize::MAX / 2;

/// A job on its wall, ready to be drawn.
struct Stage<'a> {
    scene: &'a Scene<'a>,
    things: Vec<&'a Thing<'a>>,
    items: Vec<Viewed<'a>>,
    tones: Tones,
}

/// Draws a job as large as `area` lets it.
pub(in crate::drawing) fn draw(plate: &mut Plate, job: &Job, worked: &WorkedJob, area: Rect) {
    let paint = |stage: &Stage<'_>| {
        let Stage { scene, things, items, tones } = stage;
        let Some(on) = fitted(stage, area) else { return };
        for toned in &tones.all {
            fill(plate, toned, on);
        }
        figure::draw(plate, job, tones, (things, &scene.eye), on);
        lines(plate, worked, (things, items), on);
    };
    on_stage((job, worked), paint);
}

/// Height of the picture of a job over its width.
pub(in crate::drawing) fn proportion(job: &Job, worked: &WorkedJob) -> Option<f64> {
    on_stage((job, worked), |stage| {
        let (low, high) = extent(stage);
        Some((high.y - low.y) / (high.x - low.x)).filter(|ratio| ratio.is_finite() && *ratio > 0.0)
    })?
}

/// Sets a job up on its wall, and does with it what is asked.
fn on_stage<T>((job, worked): (&Job, &WorkedJob), then: impl FnOnce(&Stage<'_>) -> T) -> Option<T> {
    let scene = Scene::of(job, worked)?;
    let seen: Vec<(&Thing<'_>, Solid)> = scene
        .things
        .iter()
        .filter_map(|thing| Some((thing, scene.eye.drawn(thing.solid()?, &thing.at)?)))
        .collect();
    let tag = |(at, (thing, _)): (usize, &(&Thing<'_>, Solid))| match thing.kind {
        Kind::Part(index) => index,
        Kind::Wall | Kind::OnWall | Kind::Floor => NO_PART + at,
    };
    let items: Vec<Viewed<'_>> = seen
        .iter()
        .enumerate()
        .map(|one| Viewed { solid: &one.1.1, at: Placement::IDENTITY, tag: tag(one) })
        .collect();
    let things: Vec<&Thing<'_>> = seen.iter().map(|(thing, _)| *thing).collect();
    let tones = Tones::of(&scene, &things, &items);
    Some(then(&Stage { scene: &scene, things, items, tones }))
}

/// Whether the outline of a thing is drawn. Floor and wall run on out of the picture, so
/// their borders are no lines.
fn outlined(thing: &Thing<'_>) -> bool {
    !matches!(thing.kind, Kind::Wall | Kind::Floor)
}

/// Corners of the smallest upright box round all that is outlined and the shadows.
fn extent(stage: &Stage<'_>) -> (DVec2, DVec2) {
    let shown = stage.things.iter().zip(&stage.items).filter(|(thing, _)| outlined(thing));
    let corners = shown.flat_map(|(_, item)| item.solid.points.iter().map(|p| p.truncate()));
    let shadows = stage.tones.all.iter().flat_map(|toned| toned.rings.iter().flatten().copied());
    corners.chain(shadows).fold((DVec2::INFINITY, DVec2::NEG_INFINITY), |(l, h), p| (l.min(p), h.max(p)))
}

/// Where the picture goes: its extent in the middle of `area`.
fn fitted(stage: &Stage<'_>, area: Rect) -> Option<OnSheet> {
    let (low, high) = extent(stage);
    let size = high - low;
    let factor = (area.width() / size.x).min(area.height() / size.y);
    if !(factor.is_finite() && factor > 0.0) {
        return None;
    }
    let corner = area.center() - Vec2::new(size.x, size.y) * (factor / 2.0);
    Some(OnSheet::at_corner(low, high, corner, factor))
}

/// Fills regions of one tone, in one path: side by side in paths of their own they would
/// show a white hair between them.
fn fill(plate: &mut Plate, toned: &Toned, on: OnSheet) {
    let mut path = BezPath::new();
    for ring in &toned.rings {
        let mut points = ring.iter().map(|p| on.point(*p));
        let Some(first) = points.next() else { continue };
        path.move_to(first);
        points.for_each(|p: Point| path.line_to(p));
        path.close_path();
    }
    plate.fill(path, toned.grey, Role::Hatch);
}

/// Outlines: those of the furniture full, what is round it thin.
fn lines(
    plate: &mut Plate,
    worked: &WorkedJob,
    (things, items): (&[&Thing<'_>], &[Viewed<'_>]),
    on: OnSheet,
) {
    let shown: Vec<Viewed<'_>> =
        things.iter().zip(items).filter(|(thing, _)| outlined(thing)).map(|(_, item)| *item).collect();
    let (round, own): (Vec<_>, Vec<_>) =
        view(&shown, Camera::TOP, HiddenLines::Drop).into_iter().partition(|line| line.tag >= NO_PART);
    let pens = |visible| ViewPens { visible, hidden: plate.narrow, role: Role::Pictorial, view: 1 };
    let (thin, full) = (pens(plate.narrow * Plate::FINE), pens(plate.narrow));
    project::put(plate, &round, worked, on, thin, |_| None);
    project::put(plate, &own, worked, on, full, |_| None);
}

/// What a mark of the picture shows.
pub(super) fn shows() -> Shows {
    Shows { view: 1, ..Shows::default() }
}

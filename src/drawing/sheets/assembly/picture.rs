//! The picture of a step: what stands in place, what comes in drawn out of its place.

use std::collections::BTreeMap;

use kurbo::{BezPath, Point, Rect};

use super::apart::{lipped, offsets};
use super::{bench, by_then, wedges};
use crate::assembly::{Step, StepKind, Turned};
use crate::drawing::kit::beside;
use crate::drawing::kit::flow::{self, FLOWS};
use crate::drawing::kit::project::{self, ITEM_COLUMN, OnSheet, ViewPens, extent};
use crate::drawing::page::plate::Plate;
use crate::geometry::{DVec2, DVec3, Placement};
use crate::joinery::{PartSource, WorkedJob, WorkedJoint, WorkedPart};
use crate::paper::{Mark, Pen, Role, dash};
use crate::solid::{Body, Camera, HiddenLines, Solid, ViewLine, Viewed, carve, view};

/// Tags of wedges among the items viewed begin here.
const WEDGES: usize = FLOWS / 2;
/// How far new parts are moved out, as a share of what is seen.
const OUT: f64 = 0.3;
/// Lengths look about this much shorter in the picture than its diagonal does.
const FORESHORTENED: f64 = 0.7;
/// Most standing parts that a picture shows. Of more, only the neighbourhood of
/// what comes in is drawn: the rest would be too small to read.
const MANY: usize = 24;
/// Most parts of a group made up before that are all numbered where it comes in.
const NUMBERED: usize = 6;
/// Letters of a mark that has room beside a picture, and what one like `10 R` needs more,
/// mm.
const SHORT_MARK: usize = 3;
const LONG_MARK: f64 = 3.0;
/// Flow lines shorter than this say nothing, mm.
const SHORT: f64 = 1.0;

/// What is seen of a step: standing parts in place, new parts moved out against
/// their way in.
pub(super) struct Picture {
    /// The lines, full size.
    lines: Vec<ViewLine>,
    /// Flow lines, as far as they are seen.
    flows: Vec<ViewLine>,
    /// Wedges before the mouths they are driven into.
    wedges: Vec<ViewLine>,
    /// Places of fittings, from before them to where they go.
    fitted: Vec<(DVec2, DVec2)>,
    /// The lower left corner of it all.
    low: DVec2,
    /// The upper right corner.
    high: DVec2,
    /// The parts that are numbered.
    numbered: Vec<usize>,
    /// The parts that come in.
    comes: Vec<usize>,
}

impl Picture {
    /// That of a step, with the steps that are done before; none where there is nothing to see.
    pub(super) fn of(worked: &WorkedJob, before: &[Step], step: &Step) -> Option<Self> {
        let reach = reach(worked, step);
        let apart = offsets(worked, step, reach);
        let camera = camera(step.turned);
        let shown = shown(worked, step, &apart);
        let by = |part: usize| apart.get(&part).copied().unwrap_or_default() * reach;
        // What is glued up of boards is no part yet: they lie on the bench.
        let boards = if step.kind == StepKind::GlueUp { bench::boards(worked, step) } else { Vec::new() };
        let on = bodies(worked, &handles(worked, before), &shown);
        let so_far = by_then::solids(worked, (before, step), &shown);
        let driven = wedges::driven(worked, step, reach, &by);
        let mut items: Vec<Viewed<'_>> = shown
            .iter()
            .filter_map(|index| Some((*index, worked.parts.get(*index)?)))
            .map(|(tag, part)| Viewed {
                solid: so_far.get(&tag).unwrap_or(&part.solid),
                at: part.at.moved(by(tag)),
                tag,
            })
            .chain((WEDGES..).zip(&driven).map(|(tag, one)| Viewed { solid: &one.solid, at: one.at, tag }))
            .chain(boards.iter().map(|board| Viewed { solid: &board.solid, at: board.at, tag: board.panel }))
            .chain(on.iter().map(|(tag, at, solid)| Viewed { solid, at: at.moved(by(*tag)), tag: *tag }))
            .collect();
        let (mut low, mut high) = (DVec2::INFINITY, DVec2::NEG_INFINITY);
        for item in &items {
            let corners = item.solid.points.iter().map(|point| camera.project(item.at.point(*point)));
            for at in corners {
                low = low.min(at);
                high = high.max(at);
            }
        }
        let flows: Vec<(DVec3, DVec3)> =
            flows(worked, step, &by).into_iter().chain(driven.iter().map(|one| one.flow)).collect();
        let fitted = fitted(worked, step, size_of(low, high) * BEFORE);
        let fitted: Vec<(DVec2, DVec2)> =
            fitted.into_iter().map(|(from, to)| (camera.project(from), camera.project(to))).collect();
        let of_flows = flows.iter().flat_map(|(from, to)| [camera.project(*from), camera.project(*to)]);
        for end in of_flows.chain(fitted.iter().flat_map(|(from, to)| [*from, *to])) {
            low = low.min(end);
            high = high.max(end);
        }
        let size = high - low;
        let needles: Vec<(Solid, Placement)> =
            flows.iter().filter_map(|(from, to)| flow::needle(*from, *to)).collect();
        items.extend((FLOWS..).zip(&needles).map(|(tag, (solid, at))| Viewed { solid, at: *at, tag }));
        let lines = (size.x > 0.0 && size.y > 0.0).then(|| view(&items, camera, HiddenLines::Drop))?;
        let (flows, lines): (Vec<ViewLine>, Vec<ViewLine>) =
            lines.into_iter().partition(|line| line.tag >= FLOWS);
        let (wedges, lines): (Vec<ViewLine>, Vec<ViewLine>) =
            lines.into_iter().partition(|line| line.tag >= WEDGES);
        let comes = step.adds().chain(step.together()).collect();
        Some(Self { lines, flows, wedges, fitted, low, high, numbered: numbered(worked, step), comes })
    }

    /// Draws it as large as its place: standing parts in narrow lines, new parts
    /// heavier, thin flow lines between.
    pub(super) fn put(&self, plate: &mut Plate, worked: &WorkedJob, step: &Step, area: Rect) {
        let size = self.high - self.low;
        let marks = self.numbered.iter().filter_map(|p| worked.parts.get(*p)).map(WorkedPart::mark);
        let long = marks.map(|mark| mark.chars().count()).max().unwrap_or(0) > SHORT_MARK;
        let column = ITEM_COLUMN + if long { LONG_MARK } else { 0.0 };
        let room = (area.width() - 2.0 * column, area.height());
        let factor = (room.0 / size.x).min(room.1 / size.y);
        if factor <= 0.0 {
            return;
        }
        let (w, h) = (size.x * factor, size.y * factor);
        let corner = Point::new(area.center().x - w / 2.0, area.center().y - h / 2.0);
        let on = OnSheet::at_corner(self.low, self.high, corner, factor);
        flow::put(plate, &self.flows, on);
        let pens = ViewPens {
            visible: plate.narrow * Plate::FINE,
            hidden: plate.narrow,
            role: Role::Pictorial,
            view: 0,
        };
        let heavy = plate.wide;
        let lips = step.kind == StepKind::Lip;
        let comes = |tag: usize| if lips { is_lipping(worked, tag) } else { self.comes.contains(&tag) };
        let new = |tag: usize| comes(tag).then_some(heavy);
        project::put(plate, &self.lines, worked, on, pens, new);
        // A wide line would leave nothing of their shape.
        project::put(plate, &self.wedges, worked, on, pens, |_| None);
        self.put_fittings(plate, on);
        let place = (on.rect(self.low, self.high), area);
        beside::number(plate, (&self.lines, on), worked, &self.numbered, place);
    }

    /// Where fittings go on: a circle over each place, with a fine line to it.
    fn put_fittings(&self, plate: &mut Plate, on: OnSheet) {
        for (from, to) in &self.fitted {
            let (from, to) = (on.point(*from), on.point(*to));
            let mut path = BezPath::new();
            path.move_to(from);
            path.line_to(to);
            plate.stroke(path, Pen { width: plate.narrow * Plate::FINE, dash: dash::CENTRE }, Role::Centre);
            let ring = kurbo::Circle::new(from, RING);
            let pen = Pen { width: plate.wide, dash: dash::SOLID };
            plate.stroke(kurbo::Shape::to_path(&ring, Mark::ROUND), pen, Role::Symbol);
        }
    }
}

/// Radius of the ring that stands for a fitting, mm.
const RING: f64 = 0.9;
/// How far it stands before its place, as a share of the picture.
const BEFORE: f64 = 0.08;
/// Fittings nearer to one another than this are one in the picture, mm.
const ONE_PLACE: f64 = 12.0;

/// Where the fittings of a step go, and points before them, away from their part.
fn fitted(worked: &WorkedJob, step: &Step, reach: f64) -> Vec<(DVec3, DVec3)> {
    if step.kind != StepKind::Fit {
        return Vec::new();
    }
    let mut found: Vec<(DVec3, DVec3)> = Vec::new();
    let joints = step.joints.iter().filter_map(|joint| worked.joints.get(*joint));
    // Where on its part goes what is bought by name is for its maker to say.
    for joint in joints.filter(|joint| !joint.traits.goes_on_last) {
        let Some(middle) = joint
            .parts
            .first()
            .and_then(|part| worked.parts.get(*part))
            .and_then(|part| project::bounds(std::iter::once(part)))
            .map(|(low, high)| (low + high) * 0.5)
        else {
            continue;
        };
        for at in joint.inserts.iter().flat_map(|insert| &insert.at) {
            let out = if at.z.dot(at.origin - middle) < 0.0 { -at.z } else { at.z };
            if !found.iter().any(|(_, to)| to.distance(at.origin) < ONE_PLACE) {
                found.push((at.origin + out * reach, at.origin));
            }
        }
    }
    found
}

/// The handles that some steps have fitted: indices into [`WorkedJob::joints`].
fn handles(worked: &WorkedJob, before: &[Step]) -> Vec<usize> {
    let fits = before.iter().filter(|step| step.kind == StepKind::Fit);
    let joints = fits.flat_map(|step| {
        step.joints.iter().chain(step.again.iter().flat_map(|again| &again.joints)).copied()
    });
    joints.filter(|j| worked.joints.get(*j).is_some_and(|joint| joint.traits.is_handle)).collect()
}

/// Handles on the parts shown, each with its part, place and shape.
fn bodies(worked: &WorkedJob, handles: &[usize], shown: &[usize]) -> Vec<(usize, Placement, Solid)> {
    let mut found = Vec::new();
    for joint in handles.iter().filter_map(|j| worked.joints.get(*j)) {
        let Some(part) = joint.parts.first().copied().filter(|part| shown.contains(part)) else { continue };
        for insert in &joint.inserts {
            let Some(Ok(solid)) = insert.body.clone().map(|body| carve(&Body::Prism(body), &[])) else {
                continue;
            };
            found.extend(insert.at.iter().map(|at| (part, *at, solid.clone())));
        }
    }
    found
}

/// Parts thinner than this are backs, panels and glass, mm (common practice, no source).
const THIN: f64 = 10.0;

/// Whether a part is a back, a panel or a pane.
fn is_thin(worked: &WorkedJob, part: usize) -> bool {
    worked.parts.get(part).is_some_and(|part| part.size.z < THIN)
}

/// The camera that sees the work as it lies.
fn camera(turned: Turned) -> Camera {
    let seen = Camera::isometric();
    let turn = |p: DVec3| match turned {
        Turned::Upright => p,
        // Half a turn about the upright.
        Turned::Back => DVec3::new(-p.x, -p.y, p.z),
        // Half a turn about the line from front to back.
        Turned::FeetUp => DVec3::new(-p.x, p.y, -p.z),
    };
    Camera { right: turn(seen.right), up: turn(seen.up), ..seen }
}

fn is_lipping(worked: &WorkedJob, part: usize) -> bool {
    worked.parts.get(part).is_some_and(|part| matches!(part.source, PartSource::Lipping { .. }))
}

/// The parts that a picture shows.
fn shown(worked: &WorkedJob, step: &Step, apart: &BTreeMap<usize, DVec3>) -> Vec<usize> {
    if step.kind == StepKind::Lip {
        return apart.keys().copied().collect();
    }
    if step.kind == StepKind::GlueUp {
        return Vec::new();
    }
    if step.motions.is_empty() {
        // What is worked on, with its lippings.
        let lipping = |part: &usize| match worked.parts.get(*part).map(|part| part.source) {
            Some(PartSource::Lipping { of, .. }) => step.works.contains(&of),
            _ => false,
        };
        let mut all: Vec<usize> = step.works.clone();
        all.extend((0..worked.parts.len()).filter(lipping));
        all.extend(&step.stands);
        all.sort_unstable();
        all.dedup();
        return all;
    }
    let mut all = standing(worked, step).0;
    all.extend(step.together());
    all.extend(step.adds());
    all.sort_unstable();
    all.dedup();
    all
}

/// The parts of a step that are numbered in its picture.
fn numbered(worked: &WorkedJob, step: &Step) -> Vec<usize> {
    match step.kind {
        StepKind::Lip => {
            let shown = lipped(worked, step);
            let of_shown = |part: &usize| match worked.parts.get(*part).map(|part| part.source) {
                Some(PartSource::Lipping { of, .. }) => shown.contains(&of),
                _ => false,
            };
            (0..worked.parts.len()).filter(of_shown).collect()
        }
        StepKind::GlueUp => bench::shown(worked, step).iter().map(|one| one.part).collect(),
        StepKind::Cut | StepKind::Finish | StepKind::Fit => step.works.clone(),
        StepKind::Join => {
            let joined = |p: &usize| {
                let joints = step.motions.iter().flat_map(|one| &one.joints);
                joints.filter_map(|j| worked.joints.get(*j)).any(|joint| joint.parts.contains(p))
            };
            // A whole piece that is hung is known by what hangs it.
            let together = step.together();
            let few = together.len() <= NUMBERED;
            let moved = together.into_iter().filter(|p| few || joined(p));
            step.adds().chain(moved).filter(|p| !is_lipping(worked, *p)).collect()
        }
    }
}

/// Whether the picture of a step leaves out some of what stands.
pub(super) fn is_crowded(worked: &WorkedJob, step: &Step) -> bool {
    step.kind == StepKind::Join && standing(worked, step).1
}

/// The parts that stay where they are in the picture of a step, and whether
/// others stand that it leaves out: where many stand, only those that the step
/// joins something to and, if that leaves room, what is joined to them.
fn standing(worked: &WorkedJob, step: &Step) -> (Vec<usize>, bool) {
    let together = step.together();
    let onto = step.onto();
    let all = || onto.iter().copied().filter(|p| !together.contains(p));
    if step.kind != StepKind::Join || all().count() <= MANY {
        return (all().collect(), false);
    }
    let mark = |joined: &mut Vec<bool>, joint: &WorkedJoint| {
        for part in &joint.parts {
            if let Some(it) = joined.get_mut(*part) {
                *it = true;
            }
        }
    };
    let mut near = vec![false; worked.parts.len()];
    let joints = step.motions.iter().flat_map(|one| &one.joints);
    joints.filter_map(|j| worked.joints.get(*j)).for_each(|joint| mark(&mut near, joint));
    let is = |marked: &[bool], p: usize| marked.get(p) == Some(&true);
    let mut around = near.clone();
    for joint in worked.joints.iter().filter(|joint| joint.parts.iter().any(|p| is(&near, *p))) {
        mark(&mut around, joint);
    }
    let shown: Vec<usize> = all().filter(|p| is(&around, *p)).collect();
    if shown.len() <= MANY { (shown, true) } else { (all().filter(|p| is(&near, *p)).collect(), true) }
}

/// How far new parts are moved out: a share of what the picture shows, mm.
fn reach(worked: &WorkedJob, step: &Step) -> f64 {
    let still = standing(worked, step).0;
    let moved: Vec<usize> = step.together().into_iter().chain(step.adds()).collect();
    let parts = still.iter().chain(&moved).filter_map(|p| worked.parts.get(*p));
    let Some((low, high)) = project::bounds(parts) else { return 0.0 };
    let (a, b) = extent(Camera::isometric(), low, high);
    (b - a).length() * OUT * FORESHORTENED
}

/// Flow lines from what comes in to what it comes to, from face to face: at the outer two
/// of what is let in, else at the middle of where they meet.
fn flows(worked: &WorkedJob, step: &Step, by: &dyn Fn(usize) -> DVec3) -> Vec<(DVec3, DVec3)> {
    let mut found = Vec::new();
    let comes: Vec<usize> = step.adds().chain(step.together()).collect();
    // A lipping is thin too, but goes straight on.
    let is_pane = |part: usize| step.kind != StepKind::Lip && is_thin(worked, part);
    for joint in step.motions.iter().flat_map(|one| &one.joints).filter_map(|j| worked.joints.get(*j)) {
        let [first, .., last] = joint.parts.as_slice() else { continue };
        let (a, b) = (by(*first), by(*last));
        if [first, last].into_iter().any(|part| comes.contains(part) && is_pane(*part)) {
            continue;
        }
        if !(comes.contains(first) || comes.contains(last)) || a.distance(b) < SHORT {
            continue;
        }
        let points: Vec<DVec3> = joint.inserts.iter().flat_map(|i| &i.at).map(|at| at.origin).collect();
        let points = match points.as_slice() {
            [] => meeting(worked, *first, *last).into_iter().collect(),
            [only] => vec![*only],
            [one, .., other] => vec![*one, *other],
        };
        found.extend(points.into_iter().map(|point| (point + a, point + b)));
    }
    // What nothing joins goes in by its leading face; a pane or back by two corners of it,
    // which come to the rebate, where its middle comes to nothing and lines from its joints
    // would run over its face.
    for one in &step.motions {
        let moved = one.adds.iter().filter_map(|part| Some((*part, worked.parts.get(*part)?)));
        for (index, part) in moved.filter(|(index, _)| one.joints.is_empty() || is_pane(*index)) {
            if by(index).length() > SHORT
                && let Some((low, high)) = project::bounds(std::iter::once(part))
            {
                let way = -by(index).normalize_or_zero();
                let half = (high - low) * 0.5;
                let lead = (low + high) * 0.5 + way * half.dot(way.abs());
                let across = half - way.abs() * half;
                // Corners that are there: a floor may be eight-sided.
                let corner = |to: DVec3| {
                    let corners = part.solid.points.iter().map(|point| part.at.point(*point));
                    corners.min_by(|a, b| a.distance(to).total_cmp(&b.distance(to))).unwrap_or(to)
                };
                let points = if is_pane(index) {
                    vec![corner(lead - across), corner(lead + across)]
                } else {
                    vec![lead]
                };
                found.extend(points.into_iter().map(|point| (point + by(index), point)));
            }
        }
    }
    found
}

/// Length of the diagonal of a picture, full size.
fn size_of(low: DVec2, high: DVec2) -> f64 {
    let size = high - low;
    if size.is_finite() { size.length() } else { 0.0 }
}

/// The middle of what the boxes of two parts share.
fn meeting(worked: &WorkedJob, a: usize, b: usize) -> Option<DVec3> {
    let of = |part: usize| project::bounds(std::iter::once(worked.parts.get(part)?));
    let (x, y) = (of(a)?, of(b)?);
    let (low, high) = (x.0.max(y.0), x.1.min(y.1));
    Some((low.min(high) + low.max(high)) * 0.5)
}

//! Where a joint is cut: across its run, through what is let into it.

use std::collections::BTreeMap;

use crate::drawing::page::look::Look;
use crate::drawing::page::profile::Projection;
use crate::geometry::tolerance::{HAIR, NOISE, ONE_WAY};
use crate::geometry::{DVec2, DVec3, Interval, Placement, ring_within};
use crate::joinery::{CutKind, Insert, PartSource, WorkedJob, WorkedPart};
use crate::model::PieceId;
use crate::solid::{Body, Camera, Prism, Standing};

/// An axis lies in the meeting faces where its share of their normal is below this.
const FLAT: f64 = 0.1;
/// Where a slanting joint is looked at from: the front, the right and above, all of
/// different weight, so that no direction is seen from both sides alike.
const VIEWER: DVec3 = DVec3::new(0.9, -1.0, 0.8);
/// Where along the joint the cut is tried, in shares of it, from the middle out.
const LEVELS: [f64; 7] = [0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74];
/// Cuts of other joints this near to the joint would be seen in its detail, mm.
const NEAR: f64 = 15.0;

/// A joint at one place, with the plane that shows it.
#[derive(Clone, Debug)]
pub(super) struct Place {
    /// The joints made here, in script order.
    pub(super) joints: Vec<usize>,
    /// The parts joined.
    pub(super) parts: Vec<usize>,
    /// How the cut is looked at.
    pub(super) camera: Camera,
    /// The middle of the joint, in the plane of the cut.
    pub(super) point: DVec3,
    /// Least and greatest corner of the joint on the drawing of the camera.
    pub(super) zone: (DVec2, DVec2),
}

impl Place {
    /// How far the cut lies along the line of sight.
    pub(super) fn level(&self) -> f64 {
        self.camera.toward().dot(self.point)
    }

    /// The drawing direction of an axis: 0 across, 1 up.
    pub(super) fn along(&self, axis: usize) -> DVec3 {
        if axis == 0 { self.camera.right } else { self.camera.up }
    }

    /// How far a part reaches along an axis of the drawing, in the cut.
    pub(super) fn span(&self, part: &WorkedPart, axis: usize) -> Option<Interval> {
        plane_span(part, self.along(axis), self.camera.toward(), self.level())
    }

    /// Looks at the same cut as `camera` does, where that looks along it from
    /// either side.
    pub(super) fn turn_to(&mut self, camera: Camera) {
        if self.camera == camera || self.camera.toward().dot(camera.toward()).abs() < ONE_WAY {
            return;
        }
        let space = |p: DVec2| self.camera.right * p.x + self.camera.up * p.y;
        let (a, b) = (camera.project(space(self.zone.0)), camera.project(space(self.zone.1)));
        self.zone = (a.min(b), a.max(b));
        self.camera = camera;
    }
}

/// The places of every joint of a piece, in script order.
pub(super) fn places(worked: &WorkedJob, piece: PieceId, look: &Look) -> Vec<Place> {
    let mut groups: Vec<Vec<usize>> = Vec::new();
    let mut of_parts: BTreeMap<Vec<usize>, usize> = BTreeMap::new();
    for (index, joint) in worked.joints.iter().enumerate() {
        let here = joint.parts.first().and_then(|p| worked.parts.get(*p)).map(|part| part.piece);
        if here != Some(piece) || joint.traits.goes_on_last {
            continue;
        }
        // Joints that relate just the same parts are shown together.
        let mut parts = joint.parts.clone();
        parts.sort_unstable();
        let group = *of_parts.entry(parts).or_insert(groups.len());
        match groups.get_mut(group) {
            Some(group) => group.push(index),
            None => groups.push(vec![index]),
        }
    }
    groups.into_iter().filter_map(|group| place(worked, group, look)).collect()
}

/// The cut through one joint.
fn place(worked: &WorkedJob, joints: Vec<usize>, look: &Look) -> Option<Place> {
    let first = worked.joints.get(*joints.first()?)?;
    let parts: Vec<usize> = first.parts.iter().copied().filter(|p| worked.parts.get(*p).is_some()).collect();
    let made = || joints.iter().filter_map(|j| worked.joints.get(*j));
    let asked = made().find_map(|joint| joint.shown_by);
    let sight = match asked {
        Some(plane) => plane.toward.try_normalize()?,
        None => run(worked, &parts, made().find_map(|joint| joint.ways_in.first().copied()))?,
    };
    let camera = camera(sight, look);
    let toward = camera.toward();
    let level = match asked {
        Some(plane) => toward.dot(plane.point),
        None => level(worked, &joints, &parts, camera)?,
    };
    let mut zone = zone(worked, &joints, &parts, camera, level)?;
    if made().all(|joint| joint.traits.is_layered) {
        shorten(worked, &parts, camera, &mut zone);
    }
    let middle = (zone.0 + zone.1) * 0.5;
    let point = camera.right * middle.x + camera.up * middle.y + toward * level;
    Some(Place { joints, parts, camera, point, zone })
}

/// Layers that lie on one another are alike all over: one end of them tells all,
/// twice as long as they are thick together.
fn shorten(worked: &WorkedJob, parts: &[usize], camera: Camera, zone: &mut (DVec2, DVec2)) {
    let thick: f64 = parts.iter().filter_map(|p| worked.parts.get(*p)).map(|part| part.size.z).sum();
    let Some(through) = parts.first().and_then(|p| worked.parts.get(*p)).map(|part| part.at.z) else {
        return;
    };
    let level = camera.up.dot(through).abs() > camera.right.dot(through).abs();
    if level {
        zone.1.x = zone.1.x.min(zone.0.x + 2.0 * thick);
    } else {
        zone.1.y = zone.1.y.min(zone.0.y + 2.0 * thick);
    }
}

/// The direction a joint runs along: of the directions of its parts that lie in
/// the meeting faces, the one along which the parts meet longest.
fn run(worked: &WorkedJob, parts: &[usize], way: Option<DVec3>) -> Option<DVec3> {
    let normal = way.or_else(|| meeting_normal(worked, parts)).unwrap_or(DVec3::ZERO);
    let mut best: Option<(bool, f64, DVec3)> = None;
    for part in parts.iter().filter_map(|p| worked.parts.get(*p)) {
        for axis in [part.at.x, part.at.y, part.at.z] {
            let long = overlap(worked, parts, axis)?.length();
            let flat = axis.dot(normal).abs() < FLAT;
            let found = (flat, long, axis);
            let better = |b: (bool, f64, DVec3)| (flat, found.1) > (b.0, b.1 + HAIR);
            if best.is_none_or(better) {
                best = Some(found);
            }
        }
    }
    best.map(|b| b.2)
}

/// The direction of the largest faces that the first part shares with another.
fn meeting_normal(worked: &WorkedJob, parts: &[usize]) -> Option<DVec3> {
    let standing = |p: &usize| worked.parts.get(*p).map(|part| Standing::new(&part.solid, &part.at));
    let (first, others) = parts.split_first()?;
    let first = standing(first)?;
    let contacts = others.iter().filter_map(standing).flat_map(|other| first.contacts(&other));
    contacts.max_by(|a, b| a.area.total_cmp(&b.area)).map(|contact| contact.normal)
}

/// A camera along `sight`, turned as the general arrangement looks.
fn camera(sight: DVec3, look: &Look) -> Camera {
    let side = if look.profile.projection() == Projection::First { Camera::LEFT } else { Camera::RIGHT };
    let known = [Camera::FRONT, side, Camera::TOP];
    if let Some(camera) = known.into_iter().find(|c| c.toward().dot(sight).abs() > ONE_WAY) {
        return camera;
    }
    // Slanting: seen from the front, the right or above.
    let sum = sight.dot(VIEWER);
    let toward = if sum < 0.0 { -sight } else { sight };
    let up = (DVec3::Z - toward * toward.z).try_normalize().unwrap_or(DVec3::Y);
    Camera { right: up.cross(toward), up, zoom: 1.0 }
}

/// How far the cut lies along the line of sight: the insert nearest the middle
/// is cut through; without any, the cut keeps clear of other joints' cuts.
fn level(worked: &WorkedJob, joints: &[usize], parts: &[usize], camera: Camera) -> Option<f64> {
    let toward = camera.toward();
    let shared = overlap(worked, parts, toward)?;
    let middle = shared.middle();
    let inserts = joints.iter().filter_map(|j| worked.joints.get(*j)).flat_map(|j| &j.inserts);
    let through = inserts
        .flat_map(|insert| insert.at.iter().map(move |at| (insert, at)))
        .map(|(insert, at)| insert_span(insert, at, toward).middle())
        .min_by(|a, b| (a - middle).abs().total_cmp(&(b - middle).abs()));
    if through.is_some() {
        return through;
    }
    if let Some(axis) = turned_axis(worked, parts, toward) {
        return Some(axis);
    }
    let own = own_cuts(worked, joints, parts, toward)
        .map(|own| own.common(shared))
        .filter(|own| own.to > own.from)
        .unwrap_or(shared);
    // The middle tells most, so of levels that show equally few strangers the first wins.
    let at = LEVELS.map(|share| own.from + own.length() * share);
    at.into_iter().min_by_key(|level| strangers(worked, joints, parts, camera, *level))
}

/// Where along the line of sight the axis of a turned part lies that the cut runs
/// along: beside it a turning looks thinner than it is.
fn turned_axis(worked: &WorkedJob, parts: &[usize], toward: DVec3) -> Option<f64> {
    parts.iter().filter_map(|p| worked.parts.get(*p)).find_map(|part| {
        let Body::Turning(turning) = &part.body else { return None };
        let square = part.at.dir(turning.at.z).dot(toward).abs() < HAIR;
        square.then(|| toward.dot(part.at.point(turning.at.origin)))
    })
}

/// How far the cuts of some joints reach along a direction.
fn own_cuts(worked: &WorkedJob, joints: &[usize], parts: &[usize], along: DVec3) -> Option<Interval> {
    let mut found: Option<Interval> = None;
    for part in parts.iter().filter_map(|p| worked.parts.get(*p)) {
        let blank = blank_span(part, along);
        for cut in part.cuts.iter().filter(|c| c.joint.is_some_and(|j| joints.contains(&j))) {
            let own = prism_span(&cut.shape, &part.at, along).common(blank);
            found = Some(found.map_or(own, |found| found.hull(own)));
        }
    }
    found
}

/// How many cuts of other joints a cut at `level` would show beside the joint.
fn strangers(worked: &WorkedJob, joints: &[usize], parts: &[usize], camera: Camera, level: f64) -> usize {
    let Some((low, high)) = zone(worked, joints, parts, camera, level) else { return 0 };
    let within = |span: Interval, from: f64, to: f64| span.meets(Interval { from, to });
    let mut count = 0;
    for part in parts.iter().filter_map(|p| worked.parts.get(*p)) {
        let others = part.cuts.iter().filter(|c| c.joint.is_none_or(|j| !joints.contains(&j)));
        count += others
            .filter(|cut| {
                let span = |along: DVec3| prism_span(&cut.shape, &part.at, along);
                within(span(camera.toward()), level - 1.0, level + 1.0)
                    && within(span(camera.right), low.x - NEAR, high.x + NEAR)
                    && within(span(camera.up), low.y - NEAR, high.y + NEAR)
            })
            .count();
    }
    count
}

/// The rectangle on the drawing that holds the joint: where its parts meet,
/// what is let in and what is cut for it.
fn zone(
    worked: &WorkedJob,
    joints: &[usize],
    parts: &[usize],
    camera: Camera,
    level: f64,
) -> Option<(DVec2, DVec2)> {
    let (x, y) = match leaning(worked, joints, parts, camera) {
        Some(spans) => spans,
        None => (overlap(worked, parts, camera.right)?, overlap(worked, parts, camera.up)?),
    };
    let whole = (DVec2::new(x.from, y.from), DVec2::new(x.to, y.to));
    // Of a fitting in one part alone only what is cut and let in counts.
    let alone = parts.len() == 1;
    let (mut low, mut high) = if alone { (DVec2::INFINITY, DVec2::NEG_INFINITY) } else { whole };
    let mut add = |x: Interval, y: Interval| {
        low = low.min(DVec2::new(x.from, y.from));
        high = high.max(DVec2::new(x.to, y.to));
    };
    for insert in joints.iter().filter_map(|j| worked.joints.get(*j)).flat_map(|j| &j.inserts) {
        for at in &insert.at {
            if insert_span(insert, at, camera.toward()).holds(level) {
                add(insert_span(insert, at, camera.right), insert_span(insert, at, camera.up));
            }
        }
    }
    for part in parts.iter().filter_map(|p| worked.parts.get(*p)) {
        for cut in part.cuts.iter().filter(|c| c.joint.is_some_and(|j| joints.contains(&j))) {
            if let Some((x, y)) = seen_cut(part, &cut.shape, camera, level) {
                add(x, y);
            }
        }
    }
    let found = low.cmple(high).all();
    Some(if found { (low, high) } else { whole })
}

/// Where a mortise that leans stands in its part: of a part that leans the rest
/// is elsewhere.
fn leaning(
    worked: &WorkedJob,
    joints: &[usize],
    parts: &[usize],
    camera: Camera,
) -> Option<(Interval, Interval)> {
    let tenoned = |j: &usize| worked.joints.get(*j).is_some_and(|joint| joint.traits.is_tenoned);
    parts.iter().filter_map(|p| worked.parts.get(*p)).find_map(|part| {
        let own = part.cuts.iter().filter(|c| c.joint.is_some_and(|j| joints.contains(&j) && tenoned(&j)));
        let mut leant = own.filter(|c| c.kind == CutKind::Mortise).filter(|c| {
            let into = c.shape.at.within(&part.at).z;
            [part.at.x, part.at.y, part.at.z].iter().all(|a| a.dot(into).abs() < 1.0 - HAIR)
        });
        let shape = &leant.next()?.shape;
        let span = |along: DVec3| prism_span(shape, &part.at, along).common(blank_span(part, along));
        Some((span(camera.right), span(camera.up)))
    })
}

/// Less of a cut than this is not seen, mm.
const LEAST: f64 = 0.05;

/// What a cut takes out of the blank of its part in the plane at `level`, as
/// spans along the drawing; `None` where it is not there, or stands at an angle
/// to the drawing.
pub(super) fn seen_cut(
    part: &WorkedPart,
    shape: &Prism,
    camera: Camera,
    level: f64,
) -> Option<(Interval, Interval)> {
    let at = shape.at.within(&part.at);
    let axes = [camera.right, camera.up, camera.toward()];
    let square = |d: DVec3| axes.iter().any(|a| a.dot(d).abs() > 1.0 - NOISE);
    if !square(at.z) || !(square(at.x) || shape.outline.arcs.len() == 1) {
        return None;
    }
    let span = |along: DVec3| taken_span(part, shape, along);
    let (x, y, deep) = (span(camera.right), span(camera.up), span(camera.toward()));
    let there = deep.holds(level) && x.length() > LEAST && y.length() > LEAST;
    there.then_some((x, y))
}

/// How far along a direction of its piece a cut takes wood of the blank. A cutter that
/// slopes reaches further than the wood it meets, so its outline is clipped by the blank.
fn taken_span(part: &WorkedPart, shape: &Prism, along: DVec3) -> Interval {
    let whole = prism_span(shape, &part.at, along).common(blank_span(part, along));
    let way = part.at.local_dir(along);
    let axis_of = |d: DVec3| (0..3).find(|axis| d[*axis].abs() > 1.0 - NOISE);
    let (Some(axis), Some(through)) = (axis_of(way), axis_of(shape.at.z)) else { return whole };
    let [corners] = shape.outline.rings.as_slice() else { return whole };
    if axis == through || !shape.outline.arcs.is_empty() {
        return whole;
    }
    let mut within = [0, 1, 2].map(|axis| Some(Interval { from: 0.0, to: part.size[axis] }));
    within[through] = None;
    let ring = corners.points.iter().map(|p| shape.at.point(p.extend(0.0))).collect();
    let start = along.dot(part.at.origin);
    let met = ring_within(ring, within).into_iter().map(|p| start + way[axis] * p[axis]);
    Interval::of(met).unwrap_or(whole)
}

/// What the first part and any other share along a direction; where they stand
/// apart, the way between them.
fn overlap(worked: &WorkedJob, parts: &[usize], along: DVec3) -> Option<Interval> {
    let (first, others) = parts.split_first()?;
    let first = solid_span(worked.parts.get(*first)?, along)?;
    let mut found: Option<Interval> = None;
    for other in others.iter().filter_map(|p| worked.parts.get(*p)).filter_map(|p| solid_span(p, along)) {
        let shared = first.common(other);
        let shared = Interval::between(shared.from, shared.to);
        found = Some(found.map_or(shared, |found| found.hull(shared)));
    }
    Some(found.unwrap_or(first))
}

/// How far a part reaches along a direction of its piece.
fn solid_span(part: &WorkedPart, along: DVec3) -> Option<Interval> {
    span(part.solid.points.iter().map(|p| part.at.point(*p)), along)
}

/// How far a part reaches along a direction in the plane of a cut at `level`
/// along `toward`; all of it where the plane passes it by.
fn plane_span(part: &WorkedPart, along: DVec3, toward: DVec3, level: f64) -> Option<Interval> {
    let (way, normal) = (part.at.local_dir(along), part.at.local_dir(toward));
    let (start, level) = (along.dot(part.at.origin), level - toward.dot(part.at.origin));
    let points = &part.solid.points;
    let heights: Vec<f64> = points.iter().map(|p| normal.dot(*p) - level).collect();
    let met = part.solid.edges.iter().filter_map(|edge| {
        let (a, b) = (edge.a as usize, edge.b as usize);
        let (from, to) = (*heights.get(a)?, *heights.get(b)?);
        let crossed = (from <= 0.0) != (to <= 0.0);
        crossed.then(|| points.get(a).zip(points.get(b)).map(|(a, b)| a.lerp(*b, from / (from - to))))?
    });
    span(met, way).map(|span| span.moved(start)).or_else(|| solid_span(part, along))
}

/// How far a part's blank reaches along a direction of its piece.
fn blank_span(part: &WorkedPart, along: DVec3) -> Interval {
    box_span(&part.at, DVec3::ZERO, part.size, along)
}

/// How far a prism of some frame reaches along a direction outside it.
pub(super) fn prism_span(shape: &Prism, of: &Placement, along: DVec3) -> Interval {
    let Some((low, high)) = shape.outline.bounds() else { return Interval::default() };
    let at = shape.at.within(of);
    box_span(&at, DVec3::new(low.x, low.y, shape.from), DVec3::new(high.x, high.y, shape.to), along)
}

/// Lippings of the parts that are shown: they are on when the joint is cut, and without them
/// its sizes would be from edges that nobody can measure from.
pub(super) fn lippings<'a>(worked: &'a WorkedJob, shown: &'a Place) -> impl Iterator<Item = usize> + 'a {
    worked.parts.iter().enumerate().filter_map(move |(index, part)| {
        let PartSource::Lipping { of, .. } = part.source else { return None };
        (shown.parts.contains(&of) && !shown.parts.contains(&index)).then_some(index)
    })
}

/// How far one insert reaches along a direction of the piece.
fn insert_span(insert: &Insert, at: &Placement, along: DVec3) -> Interval {
    let here = along.dot(at.origin);
    insert.body.as_ref().map_or(Interval::at(here), |body| prism_span(body, at, along))
}

fn box_span(at: &Placement, low: DVec3, high: DVec3, along: DVec3) -> Interval {
    let corners = (0..8_u8).map(|i| {
        let pick = |bit: u8, a: f64, b: f64| if i & bit == 0 { a } else { b };
        at.point(DVec3::new(pick(1, low.x, high.x), pick(2, low.y, high.y), pick(4, low.z, high.z)))
    });
    span(corners, along).unwrap_or_default()
}

fn span(points: impl Iterator<Item = DVec3>, along: DVec3) -> Option<Interval> {
    Interval::of(points.map(|p| along.dot(p)))
}

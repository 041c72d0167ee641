//! What is to be read off a part: every cut as a pocket, hole, slope or shape.

use super::corner::{self, Flared, SlopedBore};
use super::leaning::{self, Leaning};
use super::through;
use crate::geometry::{DVec3, Outline, trig};
use crate::joinery::{Cut, CutKind, Stage, WorkedPart};
use crate::model::Face;
use crate::solid::Prism;

/// Coordinates nearer than this are one place on a drawing, mm.
pub(in crate::drawing) const SAME: f64 = 0.005;

/// One cut, as a drawing describes it. Part coordinates, mm.
#[derive(Clone, Debug)]
pub(in crate::drawing) struct Feature {
    /// Index into [`WorkedPart::cuts`].
    pub(in crate::drawing) cut: usize,
    /// What it is.
    pub(in crate::drawing) kind: CutKind,
    /// When it is made.
    pub(in crate::drawing) stage: Stage,
    /// Its form.
    pub(in crate::drawing) form: Form,
}

/// The form of a cut where it meets the blank.
#[derive(Clone, Debug)]
pub(in crate::drawing) enum Form {
    /// A box: mortise, channel, step, notch.
    Pocket {
        /// Least corner inside the blank.
        min: DVec3,
        /// Greatest corner inside the blank.
        max: DVec3,
        /// The face it is cut from.
        entry: Face,
        /// Radius of its round ends, 0 if square.
        round: f64,
    },
    /// A round hole square to a face.
    Hole {
        /// Its centre on the face.
        centre: DVec3,
        /// The face it is bored from.
        entry: Face,
        /// Diameter.
        diameter: f64,
        /// Depth; the whole thickness if through.
        depth: f64,
        /// Whether it comes out behind.
        through: bool,
    },
    /// A flat cut askew to the blank in two of its axes.
    Slope {
        /// The axis of the blank it lies along.
        along: usize,
        /// The two places, in the blank's cross-section, where the cut leaves it.
        ends: [DVec3; 2],
        /// A point of what is cut away, to tell its side.
        away: DVec3,
    },
    /// An end sawn at an angle both ways: a compound mitre.
    Compound {
        /// Whether it is the far end.
        far: bool,
        /// The corner of the blank's cross-section where the end stays longest.
        long: DVec3,
        /// Mitre gauge off square, degrees.
        gauge: f64,
        /// Tilt of the blade off upright with the part on its face, degrees.
        blade: f64,
        /// The middle of the cut's trace on the marked face.
        middle: DVec3,
    },
    /// A round hole or a pocket with round ends, sunk askew to the faces: into a
    /// mitre.
    Askew {
        /// The middle of its mouth.
        centre: DVec3,
        /// Unit vector into the material.
        into: DVec3,
        /// Unit vector along its length.
        along: DVec3,
        /// Length; the diameter of a hole.
        length: f64,
        /// Width; the diameter of a hole.
        width: f64,
        /// Depth.
        depth: f64,
        /// From the inner corner of the mitre it is sunk into, along the mitre.
        from_inner: Option<f64>,
    },
    /// A cut of a tenon that leans.
    Leaning(Leaning),
    /// A socket with leaning sides.
    Flared(Flared),
    /// A pocket of a pocket screw, with its bore.
    SlopedBore(SlopedBore),
    /// Anything else, swept square to a face.
    Shape {
        /// The face it is cut from.
        entry: Face,
        /// Depth; the whole thickness if through.
        depth: f64,
        /// Whether it comes out behind.
        through: bool,
        /// Its corners on the face: where straight edges and arcs meet.
        corners: Vec<DVec3>,
        /// Its arcs: a point in the middle of each, and the radius.
        arcs: Vec<(DVec3, f64)>,
    },
}

/// Reads the cuts of a part that reach into its blank.
pub(in crate::drawing) fn read(part: &WorkedPart) -> Vec<Feature> {
    let mut features: Vec<Feature> = part
        .cuts
        .iter()
        .enumerate()
        .filter_map(|(cut, c)| Some(Feature { cut, kind: c.kind, stage: c.stage, form: form(c, part.size)? }))
        .collect();
    corner::join_bores(&mut features, part.size);
    through::run_on(&mut features, part.size);
    leaning::join_ends(&mut features, part.size);
    let inner: Vec<Option<f64>> = features
        .iter()
        .map(|f| match &f.form {
            Form::Askew { centre, into, .. } => from_inner(*centre, *into, &features, part.size),
            _ => None,
        })
        .collect();
    for (feature, inner) in features.iter_mut().zip(inner) {
        if let Form::Askew { from_inner, .. } = &mut feature.form {
            *from_inner = inner;
        }
    }
    features
}

/// The form of one cut; `None` if it misses the blank.
fn form(cut: &Cut, size: DVec3) -> Option<Form> {
    let shape = &cut.shape;
    if cut.kind == CutKind::BiscuitSlot {
        return biscuit(shape, size);
    }
    let leaning = match cut.kind {
        CutKind::Shoulder => leaning::shoulder(shape, size),
        CutKind::Mortise if axis_of(shape.at.z).is_none() => leaning::mortise(shape, size),
        CutKind::Bevel if slope(shape, size).is_none() && compound(shape, size).is_none() => {
            leaning::end(shape, size)
        }
        _ => None,
    };
    if let Some(leaning) = leaning {
        return Some(Form::Leaning(leaning));
    }
    if cut.kind == CutKind::AccessHole && axis_of(shape.at.z).is_none() {
        return corner::slanting_hole(shape, size);
    }
    let Some(axis) = axis_of(shape.at.z) else {
        return slope(shape, size).or_else(|| compound(shape, size)).or_else(|| askew(shape, size));
    };
    if let Some((centre, radius)) = circle(&shape.outline) {
        return hole(shape, size, axis, (centre, radius));
    }
    if matches!(cut.kind, CutKind::PinSocket | CutKind::TailSocket)
        && let Some(socket) = corner::flared(shape, size, axis)
    {
        return Some(Form::Flared(socket));
    }
    let square = axis_of(shape.at.x).is_some();
    let outline_ok = is_rectangle(&shape.outline) || has_round_ends(&shape.outline);
    if square && outline_ok {
        let (min, max) = bounds(shape);
        return pocket((min.max(DVec3::ZERO), max.min(size)), size, axis, round_of(&shape.outline));
    }
    slope(shape, size).or_else(|| outlined(shape, size, axis))
}

/// A biscuit slot: what the round cutter takes is told by its mouth and depth.
fn biscuit(shape: &Prism, size: DVec3) -> Option<Form> {
    let (low, high) = shape.outline.bounds()?;
    let (wide, deep) = (high.x - low.x, high.y - low.y);
    if let (Some(axis), Some(_)) = (axis_of(shape.at.z), axis_of(shape.at.y)) {
        let ends = [low.extend(shape.from), high.extend(shape.to)].map(|p| shape.at.point(p));
        let (min, max) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
        return pocket((min.max(DVec3::ZERO), max.min(size)), size, axis, 0.0);
    }
    Some(Form::Askew {
        centre: shape.at.origin,
        into: shape.at.y,
        along: shape.at.x,
        length: wide,
        width: shape.to - shape.from,
        depth: deep,
        from_inner: None,
    })
}

/// The coordinate axis a unit vector lies along.
pub(super) fn axis_of(v: DVec3) -> Option<usize> {
    (0..3).find(|i| v[*i].abs() > 1.0 - 1e-9)
}

/// Centre and radius if the outline is one whole circle.
pub(super) fn circle(outline: &Outline) -> Option<(crate::geometry::DVec2, f64)> {
    let [ring] = outline.rings.as_slice() else { return None };
    let first = ring.edges.first().copied().flatten()?;
    let arc = outline.arcs.get(usize::from(first))?;
    let round = ring.edges.iter().all(|e| {
        e.and_then(|e| outline.arcs.get(usize::from(e)))
            .is_some_and(|a| (a.centre - arc.centre).length() < SAME && (a.radius - arc.radius).abs() < SAME)
    });
    round.then_some((arc.centre, arc.radius))
}

/// Whether the outline is one rectangle along its axes.
pub(super) fn is_rectangle(outline: &Outline) -> bool {
    let [ring] = outline.rings.as_slice() else { return false };
    let n = ring.points.len();
    n == 4
        && ring.edges.iter().all(Option::is_none)
        && (0..n).all(|i| {
            let d = ring.points[(i + 1) % n] - ring.points[i];
            d.x.abs() < 1e-9 || d.y.abs() < 1e-9
        })
}

/// Whether the outline is a rectangle with half-round ends.
fn has_round_ends(outline: &Outline) -> bool {
    let [ring] = outline.rings.as_slice() else { return false };
    let straight: Vec<usize> = (0..ring.points.len()).filter(|i| ring.edges[*i].is_none()).collect();
    let r = round_of(outline);
    straight.len() == 2
        && r > 0.0
        && straight.iter().all(|i| {
            let d = ring.points[(i + 1) % ring.points.len()] - ring.points[*i];
            d.x.abs() < 1e-9 || d.y.abs() < 1e-9
        })
}

/// Radius of round ends, 0 if there are none.
fn round_of(outline: &Outline) -> f64 {
    outline.arcs.first().map_or(0.0, |a| a.radius)
}

/// The box round a prism in part coordinates, true circles included.
fn bounds(shape: &Prism) -> (DVec3, DVec3) {
    let mut points: Vec<crate::geometry::DVec2> =
        shape.outline.rings.iter().flat_map(|r| r.points.iter().copied()).collect();
    // A single arc is the quarter of a rounded arris, which ends at its corners.
    for arc in shape.outline.arcs.iter().filter(|_| shape.outline.arcs.len() > 1) {
        let r = crate::geometry::DVec2::splat(arc.radius);
        points.extend([arc.centre - r, arc.centre + r]);
    }
    let (mut min, mut max) = (DVec3::INFINITY, DVec3::NEG_INFINITY);
    for p in points {
        for w in [shape.from, shape.to] {
            let q = shape.at.point(DVec3::new(p.x, p.y, w));
            min = min.min(q);
            max = max.max(q);
        }
    }
    (min, max)
}

/// The face of the blank towards -`axis` or +`axis`.
pub(in crate::drawing) fn face_on(axis: usize, far: bool) -> Face {
    match (axis, far) {
        (0, false) => Face::NearEnd,
        (0, true) => Face::FarEnd,
        (1, false) => Face::Edge,
        (1, true) => Face::FarEdge,
        (_, false) => Face::Marked,
        (_, true) => Face::Back,
    }
}

/// Axis and far side of a face.
pub(in crate::drawing) fn axis_side(face: Face) -> (usize, bool) {
    match face {
        Face::NearEnd => (0, false),
        Face::FarEnd => (0, true),
        Face::Edge => (1, false),
        Face::FarEdge => (1, true),
        Face::Marked => (2, false),
        Face::Back => (2, true),
    }
}

/// A box cut, with the face it is cut from: one it opens while the face
/// opposite stays whole, the broad faces before the edges before the ends; if
/// it goes right through, the near face of its sweep.
fn pocket((min, max): (DVec3, DVec3), size: DVec3, axis: usize, round: f64) -> Option<Form> {
    if (max - min).min_element() < SAME {
        return None;
    }
    let opens = |f: Face| {
        let (a, far) = axis_side(f);
        if far { max[a] > size[a] - SAME } else { min[a] < SAME }
    };
    let order = [Face::Marked, Face::Back, Face::Edge, Face::FarEdge, Face::NearEnd, Face::FarEnd];
    let one_sided = order.into_iter().find(|f| {
        let (a, far) = axis_side(*f);
        opens(*f) && !opens(face_on(a, !far))
    });
    let through = opens(face_on(axis, false)) && opens(face_on(axis, true));
    let entry = if through { Some(face_on(axis, false)) } else { one_sided }?;
    Some(Form::Pocket { min, max, entry, round })
}

/// A round hole square to a face.
fn hole(
    shape: &Prism,
    size: DVec3,
    axis: usize,
    (centre, radius): (crate::geometry::DVec2, f64),
) -> Option<Form> {
    let a = shape.at.point(DVec3::new(centre.x, centre.y, shape.from));
    let b = shape.at.point(DVec3::new(centre.x, centre.y, shape.to));
    let (low, high) = (a[axis].min(b[axis]).max(0.0), a[axis].max(b[axis]).min(size[axis]));
    if high - low < SAME {
        return None;
    }
    let (near, far) = (low < SAME, high > size[axis] - SAME);
    let entry = face_on(axis, far && !near);
    let mut centre = a;
    centre[axis] = if far && !near { size[axis] } else { 0.0 };
    Some(Form::Hole { centre, entry, diameter: 2.0 * radius, depth: high - low, through: near && far })
}

/// A shape swept square to a face.
fn outlined(shape: &Prism, size: DVec3, axis: usize) -> Option<Form> {
    let (low, high) = bounds(shape);
    let (low, high) = (low[axis].max(0.0), high[axis].min(size[axis]));
    if high - low < SAME {
        return None;
    }
    let (near, far) = (low < SAME, high > size[axis] - SAME);
    let onto = |p: crate::geometry::DVec2| {
        let mut q = shape.at.point(DVec3::new(p.x, p.y, shape.from));
        q[axis] = if far && !near { size[axis] } else { 0.0 };
        q
    };
    let inside = |q: &DVec3| (0..3).all(|i| q[i] > -SAME && q[i] < size[i] + SAME);
    let (mut corners, mut arcs): (Vec<DVec3>, Vec<(DVec3, f64)>) = (Vec::new(), Vec::new());
    for ring in &shape.outline.rings {
        let n = ring.points.len();
        for i in 0..n {
            let (before, after) = (ring.edges[(i + n - 1) % n], ring.edges[i]);
            if before.is_some() && before == after {
                continue;
            }
            let corner = onto(ring.points[i]);
            if inside(&corner) {
                corners.push(corner);
            }
            // The facets of the arc that starts here.
            let run = (0..n).take_while(|k| ring.edges[(i + k) % n] == after).count();
            if let Some(arc) = after.and_then(|a| shape.outline.arcs.get(usize::from(a))) {
                let middle = onto(ring.points[(i + run / 2) % n]);
                if inside(&middle) {
                    arcs.push((middle, arc.radius));
                }
            }
        }
    }
    let entry = face_on(axis, far && !near);
    Some(Form::Shape { entry, depth: high - low, through: near && far, corners, arcs })
}

/// A hole or round-ended pocket askew to the faces, sunk along its frame.
fn askew(shape: &Prism, size: DVec3) -> Option<Form> {
    let rectangle = is_rectangle(&shape.outline);
    if circle(&shape.outline).is_none() && !has_round_ends(&shape.outline) && !rectangle {
        return None;
    }
    let (mut low, mut high) = (crate::geometry::DVec2::INFINITY, crate::geometry::DVec2::NEG_INFINITY);
    for arc in &shape.outline.arcs {
        low = low.min(arc.centre - arc.radius);
        high = high.max(arc.centre + arc.radius);
    }
    if rectangle {
        (low, high) = shape.outline.bounds()?;
        // A groove that runs out is as long as its part is wide.
        if let Some(axis) = axis_of(shape.at.x) {
            let (from, way) = (shape.at.origin[axis], shape.at.x[axis].signum());
            let ends = [0.0, size[axis]].map(|end| way * (end - from));
            low.x = low.x.max(ends[0].min(ends[1]));
            high.x = high.x.min(ends[0].max(ends[1]));
        }
    }
    let (middle, span) = ((low + high) / 2.0, high - low);
    let lying = span.x >= span.y;
    Some(Form::Askew {
        centre: shape.at.point(DVec3::new(middle.x, middle.y, shape.from)),
        into: shape.at.z,
        along: if lying { shape.at.x } else { shape.at.y },
        length: span.max_element(),
        width: span.min_element(),
        depth: shape.to - shape.from,
        from_inner: None,
    })
}

/// How far a mouth lies from the inner corner of the slope it is sunk into,
/// along the slope and square to its length.
fn from_inner(centre: DVec3, into: DVec3, features: &[Feature], size: DVec3) -> Option<f64> {
    features.iter().find_map(|f| {
        let Form::Slope { along, ends, away } = &f.form else { return None };
        let flat = |p: DVec3| {
            let mut q = p;
            q[*along] = 0.0;
            q
        };
        let (a, b) = (flat(ends[0]), flat(ends[1]));
        let run = (b - a).try_normalize()?;
        let from = flat(centre) - a;
        let on = (from - run * from.dot(run)).length() < 0.01 && into.dot(run).abs() < 1e-6;
        // The inner corner is the short point.
        let far = from.dot(run);
        let short_first = short_end(*ends, *away, size) == 0;
        on.then(|| if short_first { far } else { (b - a).length() - far })
    })
}

/// Which end of a slope is the short point: there the part's corner is obtuse,
/// at the long point acute.
pub(in crate::drawing) fn short_end(ends: [DVec3; 2], away: DVec3, size: DVec3) -> usize {
    let outward = away - (ends[0] + ends[1]) / 2.0;
    // The face of the blank at each end that leans most against the slope.
    let lean = |end: DVec3| {
        (0..3)
            .filter_map(|axis| match end[axis] {
                at if at < 1e-6 => Some(-outward[axis]),
                at if at > size[axis] - 1e-6 => Some(outward[axis]),
                _ => None,
            })
            .filter(|lean| lean.abs() > 1e-9)
            .fold(f64::INFINITY, f64::min)
    };
    usize::from(lean(ends[1]) > lean(ends[0]))
}

/// The one flat side of a cutter that lies askew in the blank, if there is
/// just one and it lies along one of the blank's axes.
fn slope(shape: &Prism, size: DVec3) -> Option<Form> {
    let mut found = None;
    for (point, normal) in flats(shape) {
        if axis_of(normal).is_some() || !cuts_blank(point, normal, size) {
            continue;
        }
        if found.is_some() {
            return None;
        }
        found = Some((point, normal));
    }
    let (point, normal) = found?;
    let along = (0..3).find(|i| normal[*i].abs() < 1e-9)?;
    let ends = section(point, normal, along, size)?;
    // The cutter lies against its outward normal.
    let away = (ends[0] + ends[1]) / 2.0 - normal;
    Some(Form::Slope { along, ends, away })
}

/// The one flat side of a cutter that cuts the blank, if it is askew to all
/// three of its axes.
fn compound(shape: &Prism, size: DVec3) -> Option<Form> {
    let mut askew = flats(shape).into_iter().filter(|(point, normal)| cuts_blank(*point, *normal, size));
    let (point, normal) = askew.next().filter(|(_, n)| n.abs().min_element() > 1e-9 && n.x.abs() > 0.1)?;
    if askew.next().is_some() {
        return None;
    }
    // The cutter lies against its outward normal.
    let far = normal.x < 0.0;
    let at = |y: f64, z: f64| {
        let x = point.x + (normal.y * (point.y - y) + normal.z * (point.z - z)) / normal.x;
        DVec3::new(x, y, z)
    };
    let corners = [at(0.0, 0.0), at(size.y, 0.0), at(0.0, size.z), at(size.y, size.z)];
    let reach = |p: &DVec3| if far { p.x } else { -p.x };
    let long = corners.into_iter().max_by(|p, q| reach(p).total_cmp(&reach(q)))?;
    // Only a cut that begins at the blank's own corner is told by its angles.
    let end = if far { size.x } else { 0.0 };
    ((long.x - end).abs() < 0.01).then(|| {
        let gauge = trig::atan2(normal.y.abs(), normal.x.abs()).to_degrees();
        let blade = trig::atan2(normal.z.abs(), normal.truncate().length()).to_degrees();
        Form::Compound { far, long, gauge, blade, middle: at(size.y / 2.0, 0.0) }
    })
}

/// A point and the outward normal of every flat side of a prism.
pub(super) fn flats(shape: &Prism) -> Vec<(DVec3, DVec3)> {
    let mut flats = vec![
        (shape.at.point(DVec3::new(0.0, 0.0, shape.from)), -shape.at.z),
        (shape.at.point(DVec3::new(0.0, 0.0, shape.to)), shape.at.z),
    ];
    for ring in &shape.outline.rings {
        let n = ring.points.len();
        for i in 0..n {
            let (a, b) = (ring.points[i], ring.points[(i + 1) % n]);
            let out = shape.at.dir(DVec3::new(b.y - a.y, a.x - b.x, 0.0)).normalize_or_zero();
            flats.push((shape.at.point(DVec3::new(a.x, a.y, shape.from)), out));
        }
    }
    flats
}

/// Whether a plane has corners of the blank on both sides.
pub(super) fn cuts_blank(point: DVec3, normal: DVec3, size: DVec3) -> bool {
    let (mut over, mut under) = (false, false);
    for i in 0..8_u8 {
        let corner = DVec3::new(
            if i & 1 == 0 { 0.0 } else { size.x },
            if i & 2 == 0 { 0.0 } else { size.y },
            if i & 4 == 0 { 0.0 } else { size.z },
        );
        let d = normal.dot(corner - point);
        over |= d > SAME;
        under |= d < -SAME;
    }
    over && under
}

/// Where a plane along axis `along` enters and leaves the blank's
/// cross-section, nearer the reference corner first.
fn section(point: DVec3, normal: DVec3, along: usize, size: DVec3) -> Option<[DVec3; 2]> {
    let (i, j) = ((along + 1) % 3, (along + 2) % 3);
    let mut hits: Vec<DVec3> = Vec::new();
    for (a, b) in [(i, j), (j, i)] {
        for at in [0.0, size[a]] {
            let mut hit = DVec3::ZERO;
            hit[a] = at;
            hit[b] = point[b] + normal[a] * (point[a] - at) / normal[b];
            let inside = hit[b] > -SAME && hit[b] < size[b] + SAME;
            if inside && hits.iter().all(|h| (*h - hit).length() > SAME) {
                hits.push(hit);
            }
        }
    }
    let [p, q] = hits.as_slice() else { return None };
    Some(if p[i].min(p[j]) <= q[i].min(q[j]) { [*p, *q] } else { [*q, *p] })
}

impl Form {
    /// The face of the blank a drawing shows it from.
    pub(super) fn seen_on(&self, size: DVec3) -> Face {
        match self {
            Self::Pocket { entry, .. } | Self::Hole { entry, .. } | Self::Shape { entry, .. } => *entry,
            Self::Leaning(leaning) => leaning.seen_on(),
            Self::Flared(socket) => socket.entry,
            Self::SlopedBore(bore) => bore.entry,
            Self::Slope { along: 0, .. } => Face::NearEnd,
            Self::Slope { along: 1, .. } => Face::Edge,
            Self::Compound { .. } | Self::Slope { .. } => Face::Marked,
            Self::Askew { centre, .. } => nearest_face(*centre, size),
        }
    }
}

/// The face of the blank a point lies nearest to.
fn nearest_face(p: DVec3, size: DVec3) -> Face {
    let gap = |f: &Face| {
        let (a, far) = axis_side(*f);
        (if far { size[a] - p[a] } else { p[a] }).abs()
    };
    Face::ALL.into_iter().min_by(|a, b| gap(a).total_cmp(&gap(b))).unwrap_or(Face::Marked)
}

impl Feature {
    /// The finest thing of it that is drawn with two lines, mm.
    pub(super) fn finest(&self) -> f64 {
        match &self.form {
            Form::Pocket { min, max, .. } => (*max - *min).min_element(),
            Form::Hole { diameter, .. } => *diameter,
            Form::Askew { width, .. } => *width,
            Form::Leaning(leaning) => leaning.finest(),
            Form::Flared(socket) => socket.widths.0.min(socket.widths.1),
            Form::SlopedBore(bore) => bore.diameter,
            Form::Slope { .. } | Form::Compound { .. } | Form::Shape { .. } => f64::MAX,
        }
    }
}

/// Angle of a slope off square, degrees: between the cut and the plane square
/// to axis `square_to`, which is how a saw is tilted.
pub(in crate::drawing) fn off_square(ends: [DVec3; 2], along: usize, square_to: usize) -> f64 {
    let other = 3 - along - square_to;
    let d = ends[1] - ends[0];
    trig::atan2(d[square_to].abs(), d[other].abs()).to_degrees()
}

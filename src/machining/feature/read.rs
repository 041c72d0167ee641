//! Reading every cut of a part as a pocket, hole, slope or shape.

use super::faces::{SAME, axis_side, face_on};
use super::flared;
use super::form::{Feature, Form};
use super::joined::{join_bores, join_ends, slanting_hole};
use super::leaning;
use super::outlines::{
    axis_of, bounds, circle, cuts_blank, flats, has_round_ends, is_rectangle, round_of, section,
};
use super::raked::raked;
use super::slopes::short_end;
use super::tenons::{mark_haunches, mark_lines};
use super::through;
use super::tilted::tilted;
use crate::geometry::{DVec3, trig};
use crate::joinery::{Cut, CutKind, WorkedPart};
use crate::machining::tolerance::{ENDS, NO_LEAN, ON, STRAIGHT};
use crate::model::Face;
use crate::solid::Prism;

/// Reads the cuts of a part that reach into its blank.
pub(crate) fn read(part: &WorkedPart) -> Vec<Feature> {
    let mut features: Vec<Feature> = part
        .cuts
        .iter()
        .enumerate()
        .filter_map(|(cut, c)| {
            Some(Feature {
                cut,
                kind: c.kind,
                stage: c.stage,
                form: form(c, part.size)?,
                in_line: false,
                haunch: false,
            })
        })
        .collect();
    join_bores(&mut features, part.size);
    through::run_on(&mut features, part.size);
    join_ends(&mut features, part.size);
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
    mark_lines(&mut features, part.size);
    mark_haunches(&mut features, part.size);
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
        CutKind::Housing | CutKind::Groove => leaning::channel(shape, size, cut.kind.name()),
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
        return slanting_hole(shape, size);
    }
    if cut.kind == CutKind::Notch
        && let Some(form) = tilted(shape, size)
    {
        return Some(form);
    }
    let Some(axis) = axis_of(shape.at.z) else {
        return slope(shape, size)
            .or_else(|| compound(shape, size))
            .or_else(|| raked(shape, size).map(Form::Raked))
            .or_else(|| askew(shape, size));
    };
    if let Some((centre, radius)) = circle(&shape.outline) {
        return hole(shape, size, axis, (centre, radius));
    }
    if matches!(cut.kind, CutKind::PinSocket | CutKind::TailSocket)
        && let Some(socket) = flared::flared(shape, size, axis)
    {
        return Some(Form::Flared(socket));
    }
    if cut.kind == CutKind::Moulding {
        // What it takes is a box that its profile stands in.
        return pocket(corners_box(shape, size), size, axis, 0.0);
    }
    let square = axis_of(shape.at.x).is_some();
    let outline_ok = is_rectangle(&shape.outline) || has_round_ends(&shape.outline);
    if square && outline_ok {
        let (min, max) = bounds(shape);
        let span = (min.max(DVec3::ZERO), max.min(size));
        let read = pocket(span, size, axis, round_of(&shape.outline));
        return if cut.kind == CutKind::Notch { read.map(|form| notch(form, size)) } else { read };
    }
    slope(shape, size).or_else(|| outlined(shape, size, axis))
}

/// The box round the corners of a shape, inside the blank.
fn corners_box(shape: &Prism, size: DVec3) -> (DVec3, DVec3) {
    let points = shape.outline.rings.iter().flat_map(|ring| &ring.points);
    let both = points.flat_map(|p| [shape.from, shape.to].map(|w| shape.at.point(p.extend(w))));
    let (low, high) =
        both.fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(low, high), p| (low.min(p), high.max(p)));
    (low.max(DVec3::ZERO), high.min(size))
}

/// A biscuit slot: its mouth and depth describe what the round cutter takes.
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
    let through = |axis: usize| opens(face_on(axis, false)) && opens(face_on(axis, true));
    // A window is swept as the piece stands, and so perhaps along the face it goes through.
    let window = || [2, 1, 0].into_iter().find(|axis| through(*axis)).map(|axis| face_on(axis, false));
    let entry = if through(axis) { Some(face_on(axis, false)) } else { one_sided.or_else(window) }?;
    Some(Form::Pocket { min, max, entry, round })
}

/// A notch as it is held to be cut: a corner taken out of a board is sawn through its
/// thickness, and one that goes through nowhere, as the bed of a hinge's leaf, is sunk
/// from the face where it is shallowest.
fn notch(form: Form, size: DVec3) -> Form {
    let Form::Pocket { min, max, entry, round } = form else { return form };
    let opens = |axis: usize, far: bool| if far { max[axis] > size[axis] - SAME } else { min[axis] < SAME };
    let through = |axis: usize| opens(axis, false) && opens(axis, true);
    let deep = |face: Face| {
        let axis = axis_side(face).0;
        max[axis] - min[axis]
    };
    let entry = match [0, 1, 2].map(through) {
        [false, false, true] => face_on(2, false),
        [false, false, false] => {
            let faces = [Face::Marked, Face::Back, Face::Edge, Face::FarEdge, Face::NearEnd, Face::FarEnd];
            let open = faces.into_iter().filter(|face| {
                let (axis, far) = axis_side(*face);
                opens(axis, far)
            });
            open.min_by(|a, b| deep(*a).total_cmp(&deep(*b))).unwrap_or(entry)
        }
        _ => entry,
    };
    Form::Pocket { min, max, entry, round }
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
    // One in the floor of a rebate begins inside the blank: the way it is bored tells.
    let from_far = if near || far { far && !near } else { a[axis] > b[axis] };
    let entry = face_on(axis, from_far);
    let mut centre = a;
    centre[axis] = if from_far { size[axis] } else { 0.0 };
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
        if let Form::Raked(raked) = &f.form {
            return raked.inner_distance(centre, into, size);
        }
        let Form::Slope { along, ends, away } = &f.form else { return None };
        let flat = |p: DVec3| {
            let mut q = p;
            q[*along] = 0.0;
            q
        };
        let (a, b) = (flat(ends[0]), flat(ends[1]));
        let run = (b - a).try_normalize()?;
        let from = flat(centre) - a;
        let on = (from - run * from.dot(run)).length() < ON && into.dot(run).abs() < NO_LEAN;
        // The inner corner is the short point.
        let far = from.dot(run);
        let short_first = short_end(*ends, *away, size) == 0;
        on.then(|| if short_first { far } else { (b - a).length() - far })
    })
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
    let along = (0..3).find(|i| normal[*i].abs() < STRAIGHT)?;
    let ends = section(point, normal, along, size)?;
    // The cutter lies against its outward normal.
    let away = (ends[0] + ends[1]) / 2.0 - normal;
    Some(Form::Slope { along, ends, away })
}

/// The one flat side of a cutter that cuts the blank, if it is askew to all
/// three of its axes.
fn compound(shape: &Prism, size: DVec3) -> Option<Form> {
    let mut askew = flats(shape).into_iter().filter(|(point, normal)| cuts_blank(*point, *normal, size));
    let (point, normal) =
        askew.next().filter(|(_, n)| n.abs().min_element() > STRAIGHT && n.x.abs() > ENDS)?;
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
    // Only a cut that begins at the blank's own corner is described by its angles.
    let end = if far { size.x } else { 0.0 };
    ((long.x - end).abs() < ON).then(|| {
        let gauge = trig::atan2(normal.y.abs(), normal.x.abs()).to_degrees();
        let blade = trig::atan2(normal.z.abs(), normal.truncate().length()).to_degrees();
        Form::Compound { far, long, gauge, blade, middle: at(size.y / 2.0, 0.0) }
    })
}

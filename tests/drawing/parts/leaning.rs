//! Tenons that lean, made again from what their drawing prints.

use rodwright::geometry::{DVec3, trig};
use rodwright::joinery::WorkedPart;

use super::rebuild::{Made, Rebuilt};

/// Degrees printed to a hundredth.
const ANGLE: f64 = 0.006;

/// Sine and cosine of degrees.
fn turn(degrees: f64) -> (f64, f64) {
    trig::sin_cos(degrees.to_radians())
}

/// The plane of a shoulder line as told by gauge, blade and long point: its
/// normal and a point in it.
fn line(part: &WorkedPart, made: &Made) -> (DVec3, DVec3) {
    let words = &made.words;
    let (_, size) = part.solid.bounds().expect("a part is not empty");
    let far = words.contains("from the far end");
    let (back, far_edge) = (words.contains("on back"), words.contains("far edge"));
    let (sg, cg) = turn(made.gauge.unwrap_or(0.0));
    let (sb, cb) = turn(made.angle.unwrap_or(0.0));
    let sign = |yes: bool| if yes { 1.0 } else { -1.0 };
    // Out of the wood, and so away from the long point.
    let normal = DVec3::new(sign(far) * cb * cg, -sign(far_edge) * cb * sg, -sign(back) * sb);
    let end = made.from_end.unwrap();
    let corner = DVec3::new(
        if far { size.x - end } else { end },
        if far_edge { size.y } else { 0.0 },
        if back { size.z } else { 0.0 },
    );
    (normal, corner)
}

/// The end of a tenon, parallel to its shoulders.
pub(super) fn end_comes_back(part: &WorkedPart, id: usize, rebuilt: &Rebuilt, slack: f64) {
    let apart = rebuilt.cuts[&id].apart.unwrap();
    let near = rebuilt.cuts.values().filter(|made| made.from_end.is_some());
    let planes: Vec<(DVec3, DVec3)> = near.map(|made| line(part, made)).collect();
    let faces = part.solid.faces.iter().filter(|f| f.from.cutter == Some(id as u32));
    let points: Vec<DVec3> =
        faces.flat_map(|f| f.loops.iter().flatten()).map(|i| part.solid.points[*i as usize]).collect();
    assert!(!points.is_empty(), "{}: cut {id} leaves no end", part.name);
    for p in points {
        let off =
            |(normal, corner): &(DVec3, DVec3)| (normal.dot(p - *corner) - apart * normal.x.abs()).abs();
        assert!(planes.iter().any(|plane| off(plane) <= slack), "{}: {p} is not {apart} off", part.name);
    }
}

/// The planes of a shoulder: its line from gauge, blade and long point, its
/// cheek from its depth.
pub(super) fn shoulder_comes_back(part: &WorkedPart, id: usize, made: &Made, slack: f64) {
    let words = &made.words;
    let (normal, corner) = line(part, made);
    let mut seen = [false; 2];
    for face in part.solid.faces.iter().filter(|f| f.from.cutter == Some(id as u32)) {
        let out = face.plane.normal;
        let axis = (1..3).find(|a| out[*a].abs() > 1.0 - 1e-9);
        for p in face.loops.iter().flatten().map(|i| part.solid.points[*i as usize]) {
            if let Some(axis) = axis {
                let deep = if out[axis] > 0.0 { part.size[axis] - p[axis] } else { p[axis] };
                let said = made.shoulders[axis - 1].unwrap_or(f64::NAN);
                assert!((deep - said).abs() <= slack, "{}: cut {id} is {deep} deep: {words}", part.name);
                seen[0] = true;
            } else {
                let off = normal.dot(p - corner);
                assert!(off.abs() <= slack, "{}: {off} off the shoulder line of {words}", part.name);
                seen[1] = true;
            }
        }
    }
    assert!(seen[1], "{}: cut {id} leaves no shoulder: {words}", part.name);
}

/// The box of a mortise that leans: its middle line, section, depth and turn.
pub(super) fn mortise_comes_back(part: &WorkedPart, id: usize, rebuilt: &Rebuilt, slack: f64) {
    let made = &rebuilt.cuts[&id];
    let words = &made.words;
    let face = made.face.expect("a note names the face its cuts are made from");
    let (axis, far) = (face.axis.index(), face.far);
    let (i, j) = [(1, 2), (0, 2), (0, 1)][axis];
    let mut mouth = DVec3::ZERO;
    mouth[axis] = if far { part.size[axis] } else { 0.0 };
    for way in [i, j] {
        mouth[way] = rebuilt.centre(id, way).unwrap_or_else(|| panic!("{}: no place of {words}", part.name));
    }
    // Each lean with the face it goes to, in the order printed.
    let mut into = DVec3::ZERO;
    into[axis] = if far { -1.0 } else { 1.0 };
    let says = [["near end", "far end"], ["face edge", "far edge"], ["face side", "back side"]];
    for way in [i, j] {
        let Some(lean) = made.leans[way] else { continue };
        let (sin, cos) = turn(lean);
        // Of the two faces on this axis the one that is named.
        let high = words.contains(says[way][1]) && !words.contains(says[way][0]);
        into[way] = sin / cos * if high { 1.0 } else { -1.0 };
    }
    let into = into.normalize();
    let shape = &part.cuts[id].shape;
    let along = shape.at.z;
    let off = trig::acos(along.dot(into).min(1.0)).to_degrees();
    assert!(off < 2.0 * ANGLE + 1e-4, "{}: {off}° off the lean of {words}", part.name);
    let (lo, hi) = shape.outline.bounds().unwrap();
    let middle = (lo + hi) / 2.0;
    let start = shape.at.point(DVec3::new(middle.x, middle.y, shape.from));
    let t = (mouth[axis] - start[axis]) / along[axis];
    let enters = start + along * t;
    assert!((enters - mouth).length() <= 2.0 * slack, "{}: {enters} is not {mouth}: {words}", part.name);
    let span = hi - lo;
    for (said, is) in made.section.iter().zip([span.min_element(), span.max_element()]) {
        assert!((said.unwrap() - is).abs() <= slack, "{}: {is}: {words}", part.name);
    }
    match made.sunk {
        Some(depth) => {
            assert!((depth - (shape.to - shape.from - t)).abs() <= slack, "{}: {words}", part.name);
        }
        None => assert!(words.contains("through"), "{}: {words}", part.name),
    }
    // Sides: those of a square mortise, leant the least way to `into`, turned on.
    let mut straight = DVec3::ZERO;
    straight[axis] = into[axis].signum();
    let mut side = DVec3::ZERO;
    side[i] = 1.0;
    let about = straight.cross(into);
    let side = side * straight.dot(into)
        + about.cross(side)
        + about * (about.dot(side) / (1.0 + straight.dot(into)));
    let angle = trig::acos(side.dot(shape.at.x).abs().min(1.0)).to_degrees();
    let angle = angle.min(90.0 - angle);
    assert!((angle - made.turned.unwrap_or(0.0)).abs() < 0.06, "{}: turned {angle}°: {words}", part.name);
}

/// A channel whose walls lean: bottom, walls and stops from its note and its places.
pub(super) fn channel_comes_back(part: &WorkedPart, id: usize, rebuilt: &Rebuilt, slack: f64) {
    let made = &rebuilt.cuts[&id];
    let words = &made.words;
    let face = made.face.expect("a note names the face its cuts are made from");
    let (deep, far) = (face.axis.index(), face.far);
    let across = (0..3).find(|axis| made.leans[*axis].is_some()).unwrap();
    let run = 3 - deep - across;
    let says = [["near end", "far end"], ["face edge", "far edge"], ["face side", "back side"]][across];
    let high = words.contains(says[1]) && !words.contains(says[0]);
    let (sin, cos) = turn(made.leans[across].unwrap());
    let lean = sin / cos * if high { 1.0 } else { -1.0 };
    let middle = rebuilt.centre(id, across).unwrap_or_else(|| panic!("{}: no place of {words}", part.name));
    let (half, depth) = (0.5 * made.section[0].unwrap(), made.depth.unwrap());
    let along = rebuilt.extent(id, run);
    let mut seen = [false; 3];
    for face in part.solid.faces.iter().filter(|f| f.from.cutter == Some(id as u32)) {
        let out = face.plane.normal;
        for p in face.loops.iter().flatten().map(|i| part.solid.points[*i as usize]) {
            let down = if far { part.size[deep] - p[deep] } else { p[deep] };
            let off = p[across] - middle - lean * down;
            // Twice the slack, since the lean is rounded as well.
            assert!(off.abs() <= half + 2.0 * slack, "{}: {off} off the middle of {words}", part.name);
            assert!(down <= depth + slack, "{}: {down} deep: {words}", part.name);
            let inside = p[run] >= along.0 - slack && p[run] <= along.1 + slack;
            assert!(inside, "{}: {} is not in {along:?}: {words}", part.name, p[run]);
            if out[deep].abs() > 1.0 - 1e-9 {
                assert!((down - depth).abs() <= slack, "{}: {down} deep: {words}", part.name);
                seen[0] = true;
            } else if out[run].abs() < 1e-9 {
                assert!((off.abs() - half).abs() <= 2.0 * slack, "{}: wall at {off}: {words}", part.name);
                seen[if off > 0.0 { 1 } else { 2 }] = true;
            }
        }
    }
    assert!(seen[0] && (seen[1] || seen[2]), "{}: cut {id} leaves no channel: {words}", part.name);
}

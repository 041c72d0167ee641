//! Flat faces as triangles, with no corner that the face has not.
//!
//! Holes are joined to the outline by a bridge each, from the hole that lies farthest along
//! first (D. Eberly, "Triangulation by Ear Clipping", 2002), then ears are cut off until a
//! triangle is left. Corners that lie in a line are kept: the neighbouring face has them
//! too, and without them the mesh would not close.

use crate::geometry::DVec2;
use crate::geometry::tolerance::NOISE;

/// A corner of a face: where it is, and what it is called.
pub(super) type Named = (DVec2, u32);

/// The triangles of a face, counter-clockwise: outer rings run so, holes clockwise.
pub(super) fn triangles(rings: &[Vec<Named>]) -> Vec<[u32; 3]> {
    let (outer, mut holes): (Vec<&Vec<Named>>, Vec<&Vec<Named>>) =
        rings.iter().filter(|ring| ring.len() > 2).partition(|ring| area(ring) > 0.0);
    holes.sort_by(|a, b| farthest(b).total_cmp(&farthest(a)));
    let mut all = Vec::new();
    for (at, ring) in outer.iter().enumerate() {
        let own = |hole: &&&Vec<Named>| {
            hole.first().is_some_and(|corner| {
                // The least outline round it: an island in a hole has holes of its own.
                let round = (0..outer.len()).filter(|i| holds(outer[*i], corner.0));
                round.min_by(|a, b| area(outer[*a]).total_cmp(&area(outer[*b]))) == Some(at)
            })
        };
        let mut corners = (*ring).clone();
        for hole in holes.iter().filter(own) {
            bridge(&mut corners, hole);
        }
        all.extend(ears(&corners));
    }
    all
}

fn area(ring: &[Named]) -> f64 {
    let next = ring.iter().cycle().skip(1);
    ring.iter().zip(next).map(|(a, b)| a.0.perp_dot(b.0)).sum()
}

fn farthest(ring: &[Named]) -> f64 {
    ring.iter().map(|corner| corner.0.x).fold(f64::NEG_INFINITY, f64::max)
}

/// Whether a ring goes round a point.
fn holds(ring: &[Named], p: DVec2) -> bool {
    let next = ring.iter().cycle().skip(1);
    let crossed = ring.iter().zip(next).filter(|((a, _), (b, _))| {
        (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x)
    });
    crossed.count() % 2 == 1
}

/// Twice the area of a triangle, above 0 where it runs counter-clockwise.
fn turn(a: DVec2, b: DVec2, c: DVec2) -> f64 {
    (b - a).perp_dot(c - a)
}

/// Joins a hole to the ring round it, from its farthest corner to one that it sees.
fn bridge(ring: &mut Vec<Named>, hole: &[Named]) {
    let Some(start) = (0..hole.len()).max_by(|a, b| hole[*a].0.x.total_cmp(&hole[*b].0.x)) else { return };
    let Some(at) = seen_from(ring, hole[start].0) else { return };
    let round = (0..=hole.len()).map(|i| hole[(start + i) % hole.len()]);
    let path: Vec<Named> = round.chain([ring[at]]).collect();
    let rest = ring.split_off(at + 1);
    ring.extend(path);
    ring.extend(rest);
}

/// The corner of a ring that is seen from a point inside it, looking along x.
fn seen_from(ring: &[Named], p: DVec2) -> Option<usize> {
    let n = ring.len();
    // The edge that is met first, and the end of it that lies farther along.
    let (mut met, mut best) = (f64::INFINITY, None);
    for i in 0..n {
        let (a, b) = (ring[i].0, ring[(i + 1) % n].0);
        // From within a ring that runs counter-clockwise, an edge to the right goes up.
        if a.y > p.y || b.y < p.y || b.y - a.y < NOISE {
            continue;
        }
        let x = a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x);
        if x >= p.x - NOISE && x < met {
            met = x;
            best = Some(if a.x > b.x { i } else { (i + 1) % n });
        }
    }
    let best = best?;
    let (hit, end) = (DVec2::new(met, p.y), ring[best].0);
    if hit.distance(end) < NOISE {
        return Some(best);
    }
    // Corners in the triangle between hide that end: of them the one least off the line of
    // sight is seen.
    let (b, c) = if end.y < p.y { (end, hit) } else { (hit, end) };
    let hides = |i: &usize| {
        let (before, own, after) = (ring[(i + n - 1) % n].0, ring[*i].0, ring[(i + 1) % n].0);
        *i != best && turn(before, own, after) <= 0.0 && in_triangle(own, [p, b, c])
    };
    let slope = |i: usize| (ring[i].0.y - p.y).abs() / (ring[i].0.x - p.x).max(NOISE);
    let nearer = |a: &usize, b: &usize| {
        let near = |i: usize| ring[i].0.distance_squared(p);
        slope(*a).total_cmp(&slope(*b)).then(near(*a).total_cmp(&near(*b)))
    };
    let hidden = (0..n).filter(hides).chain([best]);
    let chosen = hidden.min_by(nearer)?;
    // Where a bridge ends there already, its corner stands in the ring twice: of these the
    // one is right whose angle the point lies in.
    let same = |i: &usize| ring[*i].1 == ring[chosen].1;
    (0..n).filter(same).find(|i| in_angle(ring, *i, p)).or(Some(chosen))
}

/// Whether a point lies within the angle of a corner.
fn in_angle(ring: &[Named], i: usize, p: DVec2) -> bool {
    let n = ring.len();
    let (before, own, after) = (ring[(i + n - 1) % n].0, ring[i].0, ring[(i + 1) % n].0);
    let (left, right) = (turn(own, after, p) >= 0.0, turn(before, own, p) >= 0.0);
    if turn(before, own, after) >= 0.0 { left && right } else { left || right }
}

/// Whether a triangle that runs counter-clockwise holds a point, its sides included.
fn in_triangle(p: DVec2, [a, b, c]: [DVec2; 3]) -> bool {
    turn(a, b, p) >= 0.0 && turn(b, c, p) >= 0.0 && turn(c, a, p) >= 0.0
}

/// Cuts ears off a ring until nothing is left.
fn ears(corners: &[Named]) -> Vec<[u32; 3]> {
    let mut ring: Vec<Named> = corners.to_vec();
    let mut cut = Vec::with_capacity(ring.len());
    let mut at = 0;
    while ring.len() > 3 {
        let n = ring.len();
        let ear = (0..n).map(|k| (at + k) % n).find(|i| is_ear(&ring, *i));
        // Rounding may leave a ring that doubles back on itself and has no ear: then the
        // flattest corner goes, which takes nothing away.
        let i = ear.unwrap_or_else(|| flattest(&ring));
        cut.push([ring[(i + n - 1) % n].1, ring[i].1, ring[(i + 1) % n].1]);
        ring.remove(i);
        // Not the same corner again: fans of thin triangles would come of it.
        at = (i + 1) % ring.len();
    }
    if let [a, b, c] = ring.as_slice() {
        cut.push([a.1, b.1, c.1]);
    }
    cut
}

fn is_ear(ring: &[Named], i: usize) -> bool {
    let n = ring.len();
    let (before, own, after) = (ring[(i + n - 1) % n].0, ring[i].0, ring[(i + 1) % n].0);
    if turn(before, own, after) <= NOISE {
        return false;
    }
    let corner = |p: DVec2| [before, own, after].iter().any(|q| p.distance_squared(*q) < NOISE);
    ring.iter().all(|(p, _)| corner(*p) || !in_triangle(*p, [before, own, after]))
}

fn flattest(ring: &[Named]) -> usize {
    let n = ring.len();
    let bent = |i: &usize| turn(ring[(i + n - 1) % n].0, ring[*i].0, ring[(i + 1) % n].0).abs();
    (0..n).min_by(|a, b| bent(a).total_cmp(&bent(b))).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn named(points: &[[f64; 2]], from: u32) -> Vec<Named> {
        points.iter().map(|p| DVec2::from(*p)).zip(from..).collect()
    }

    /// What triangles cover, each running counter-clockwise.
    fn covered(rings: &[Vec<Named>]) -> f64 {
        let at = |name: u32| rings.iter().flatten().find(|c| c.1 == name).unwrap().0;
        let size = |t: &[u32; 3]| {
            let area = 0.5 * turn(at(t[0]), at(t[1]), at(t[2]));
            assert!(area > -1e-9, "{t:?} runs the wrong way");
            area
        };
        triangles(rings).iter().map(size).sum()
    }

    #[test]
    fn a_face_with_holes_and_a_corner_in_a_line_is_covered_once() {
        let outer = named(&[[0.0, 0.0], [40.0, 0.0], [100.0, 0.0], [100.0, 60.0], [0.0, 60.0]], 0);
        let hole =
            |x: f64, y: f64, from| named(&[[x, y], [x, y + 10.0], [x + 10.0, y + 10.0], [x + 10.0, y]], from);
        let rings =
            [outer, hole(10.0, 10.0, 10), hole(70.0, 10.0, 20), hole(70.0, 40.0, 30), hole(20.0, 45.0, 40)];
        assert!((covered(&rings) - (6000.0 - 400.0)).abs() < 1e-9);
        // Corners of the outline and four each of the holes, less two and two more a hole.
        assert_eq!(triangles(&rings).len(), 5 + 16 - 2 + 2 * 4);
    }

    #[test]
    fn an_island_in_a_hole_is_a_face_of_its_own() {
        let outer = named(&[[0.0, 0.0], [30.0, 0.0], [30.0, 30.0], [0.0, 30.0]], 0);
        let hole = named(&[[5.0, 5.0], [5.0, 25.0], [25.0, 25.0], [25.0, 5.0]], 10);
        let island = named(&[[10.0, 10.0], [20.0, 10.0], [20.0, 20.0], [10.0, 20.0]], 20);
        assert!((covered(&[outer, hole, island]) - 600.0).abs() < 1e-9);
    }
}

//! Joins loose faces into a closed solid.

use std::collections::{BTreeMap, HashMap};
use std::hash::{BuildHasherDefault, Hasher};

use super::model::LooseFace;
use super::tolerance::SLIVER;
use super::{Edge, Face, Solid, Surface};
use crate::geometry::DVec3;
use crate::geometry::tolerance::{HAIR, NOISE};

/// Side of the look-up cells for near points, mm; far above any tolerance.
const CELL: f64 = 0.5;

/// What loose faces close to.
pub(super) struct Closed {
    /// The solid.
    pub(super) solid: Solid,
    joined: Joined,
}

/// Pairs of loops that bound the same material, by their place in the list of
/// all loops, face by face.
type Joined = Vec<(u32, u32)>;

/// The solid bounded by `faces`, corners within `tau` of one another taken as
/// one; `None` if some edge has no partner.
pub(super) fn close(faces: &[LooseFace], tau: f64) -> Option<Closed> {
    let mut corners = Corners::new(tau);
    let chains: Vec<Vec<Vec<u32>>> =
        faces.iter().map(|f| f.rings.iter().map(|ring| corners.chain(ring)).collect()).collect();
    // All corners first: a long edge is broken at those of every face that ends on it,
    // or it finds no partner.
    let split = Splitter::new(&corners.points, tau);
    let mut kept: Vec<Face> = Vec::new();
    for (loose, rings) in faces.iter().zip(&chains) {
        let steps: Vec<_> = rings.iter().flat_map(|ring| split.steps(ring)).collect();
        // Slivers first: two edges that run back on one another would chain into a loop
        // of no area.
        let loops = chain_up(cancel(&steps));
        if !loops.is_empty() {
            kept.push(loose.face(loops));
        }
    }
    let (edges, joined) = pair(&corners.points, &kept)?;
    let solid = Solid { points: corners.points, faces: kept, edges, ..Solid::default() };
    Some(Closed { solid, joined })
}

/// The loop that stands for all that `i` hangs together with.
fn root(parent: &mut [u32], mut i: u32) -> u32 {
    while parent[i as usize] != i {
        parent[i as usize] = parent[parent[i as usize] as usize];
        i = parent[i as usize];
    }
    i
}

impl Closed {
    /// Number of pieces that hang together through wood, and the solid without the
    /// slivers that hang together with none of them: two pieces that meet only along a
    /// line or at a corner are two. Hollows inside a piece do not count.
    pub(super) fn whole(self) -> (usize, Solid) {
        let roots = self.roots();
        let solid = self.solid;
        let mut sizes: BTreeMap<u32, (f64, f64)> = BTreeMap::new();
        let rings = || solid.faces.iter().flat_map(|f| f.loops.iter().map(move |ring| (f, ring)));
        for (root, (face, ring)) in roots.iter().zip(rings()) {
            let (volume, area) = sizes.entry(*root).or_default();
            *volume += solid.cone(ring, DVec3::ZERO);
            *area += 0.5 * turning(&solid, face, ring);
        }
        // A hollow has no wood of its own: it is neither a piece nor a sliver.
        let thin = |(volume, area): &(f64, f64)| *volume > 0.0 && 2.0 * volume <= SLIVER * area;
        let some = |size: &&(f64, f64)| size.0 > HAIR;
        let pieces = sizes.values().filter(some).filter(|size| !thin(size)).count();
        // What is thin altogether, such as a needle, is not what a saw has left of more.
        if pieces == 0 || !sizes.values().any(thin) {
            return (sizes.values().filter(some).count(), solid);
        }
        let kept: Vec<bool> = roots.iter().map(|root| !sizes.get(root).is_some_and(thin)).collect();
        (pieces, only(&solid, &kept).unwrap_or(solid))
    }

    /// For each loop the one that stands for all that it hangs together with.
    fn roots(&self) -> Vec<u32> {
        let solid = &self.solid;
        let count = solid.faces.iter().map(|f| f.loops.len()).sum();
        let mut parent: Vec<u32> = (0..).take(count).collect();
        let mut join = |a: u32, b: u32| {
            let (a, b) = (root(&mut parent, a), root(&mut parent, b));
            parent[a as usize] = b;
        };
        for &(a, b) in &self.joined {
            join(a, b);
        }
        // A hole belongs to the loop round it though they share no edge.
        let mut first = 0;
        for f in &solid.faces {
            let rings = || (first..).zip(&f.loops);
            for (hole, ring) in rings().filter(|(_, r)| turning(solid, f, r) <= 0.0) {
                let round = rings().find(|(_, r)| turning(solid, f, r) > 0.0 && encloses(solid, f, r, ring));
                if let Some((round, _)) = round {
                    join(hole, round);
                }
            }
            first = rings().last().map_or(first, |(i, _)| i + 1);
        }
        (0..).take(count).map(|i| root(&mut parent, i)).collect()
    }
}

/// A solid with only those of its loops, face by face, that are kept.
fn only(solid: &Solid, kept: &[bool]) -> Option<Solid> {
    let mut place = BTreeMap::new();
    let mut points = Vec::new();
    let mut kept = kept.iter();
    let mut faces = Vec::new();
    for face in &solid.faces {
        let mut loops = Vec::new();
        for ring in face.loops.iter().filter(|_| kept.next() == Some(&true)) {
            let corner = |old: &u32| {
                *place.entry(*old).or_insert_with(|| {
                    points.push(solid.points[*old as usize]);
                    u32::try_from(points.len() - 1).unwrap_or(u32::MAX)
                })
            };
            loops.push(ring.iter().map(corner).collect::<Vec<u32>>());
        }
        if !loops.is_empty() {
            faces.push(Face { loops, ..face.clone() });
        }
    }
    let (edges, _) = pair(&points, &faces)?;
    Some(Solid { points, faces, edges, ..Solid::default() })
}

/// Twice the signed area of a loop seen against the face's normal.
fn turning(solid: &Solid, face: &Face, ring: &[u32]) -> f64 {
    let at = |i: u32| solid.points[i as usize] - solid.points[ring[0] as usize];
    ring.windows(2).map(|w| at(w[0]).cross(at(w[1])).dot(face.plane.normal)).sum()
}

/// Whether `ring` runs round `hole` of the same face, by counting how often a
/// ray from the middle of an edge of the hole crosses it: holes may share
/// corners with the loop round them.
fn encloses(solid: &Solid, face: &Face, ring: &[u32], hole: &[u32]) -> bool {
    let (&[a, b, ..], u) = (hole, face.plane.normal.any_orthonormal_vector()) else { return false };
    let from = 0.5 * (solid.points[a as usize] + solid.points[b as usize]);
    let v = face.plane.normal.cross(u);
    let flat = |i: u32| {
        let p = solid.points[i as usize] - from;
        (p.dot(u), p.dot(v))
    };
    let mut inside = false;
    for (i, &a) in ring.iter().enumerate() {
        let (a, b) = (flat(a), flat(ring[(i + 1) % ring.len()]));
        if (a.1 > 0.0) != (b.1 > 0.0) && a.0 + (b.0 - a.0) * a.1 / (a.1 - b.1) > 0.0 {
            inside = !inside;
        }
    }
    inside
}

/// A quick hasher for cells: the same on every run, never iterated.
#[derive(Default)]
struct Mixer(u64);

type Mixed = BuildHasherDefault<Mixer>;

impl Hasher for Mixer {
    fn write(&mut self, bytes: &[u8]) {
        for chunk in bytes.chunks(8) {
            let word = chunk.iter().rev().fold(0_u64, |w, b| (w << 8) | u64::from(*b));
            // Any odd constant with well spread bits does; this is 2^64 / golden ratio.
            self.0 = (self.0.rotate_left(23) ^ word).wrapping_mul(0x9E37_79B9_7F4A_7C15);
        }
    }
    fn finish(&self) -> u64 {
        self.0 ^ (self.0 >> 32)
    }
}

/// Distinct corners, found again by place.
struct Corners {
    points: Vec<DVec3>,
    cells: HashMap<[i64; 3], Vec<u32>, Mixed>,
    tau: f64,
}

impl Corners {
    fn new(tau: f64) -> Self {
        Self { points: Vec::new(), cells: HashMap::default(), tau }
    }

    /// Corner indices of a ring, neighbours that coincide dropped.
    fn chain(&mut self, ring: &[DVec3]) -> Vec<u32> {
        let mut chain: Vec<u32> = ring.iter().map(|&p| self.index(p)).collect();
        chain.dedup();
        while chain.len() > 1 && chain.first() == chain.last() {
            chain.pop();
        }
        chain
    }

    fn index(&mut self, p: DVec3) -> u32 {
        // A near corner may lie in the next cell, so all cells within reach are looked
        // through: mostly one.
        let (low, high) = (cell(p - DVec3::splat(self.tau)), cell(p + DVec3::splat(self.tau)));
        for x in low[0]..=high[0] {
            for y in low[1]..=high[1] {
                for z in low[2]..=high[2] {
                    for &i in self.cells.get(&[x, y, z]).into_iter().flatten() {
                        if self.points[i as usize].distance_squared(p) <= self.tau * self.tau {
                            return i;
                        }
                    }
                }
            }
        }
        let i = u32::try_from(self.points.len()).unwrap_or(u32::MAX);
        self.points.push(p);
        self.cells.entry(cell(p)).or_default().push(i);
        i
    }
}

#[expect(clippy::cast_possible_truncation, reason = "pieces are a few metres; cells fit any integer")]
fn cell(p: DVec3) -> [i64; 3] {
    let q = (p / CELL).floor();
    [q.x as i64, q.y as i64, q.z as i64]
}

/// Finds corners that lie on an edge.
struct Splitter<'a> {
    points: &'a [DVec3],
    by_x: Vec<(f64, u32)>,
    tau: f64,
}

impl<'a> Splitter<'a> {
    fn new(points: &'a [DVec3], tau: f64) -> Self {
        let mut by_x: Vec<(f64, u32)> = (0..).zip(points).map(|(i, p)| (p.x, i)).collect();
        by_x.sort_by(|a, b| a.0.total_cmp(&b.0));
        Self { points, by_x, tau }
    }

    /// Directed edges of a ring, broken at every corner that lies on them.
    fn steps(&self, ring: &[u32]) -> Vec<(u32, u32)> {
        let mut steps = Vec::new();
        for (&a, &b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
            let mut from = a;
            for between in self.between(a, b) {
                steps.push((from, between));
                from = between;
            }
            if from != b {
                steps.push((from, b));
            }
        }
        steps
    }

    fn between(&self, a: u32, b: u32) -> Vec<u32> {
        let (p, q) = (self.points[a as usize], self.points[b as usize]);
        let along = q - p;
        let length = along.length();
        if length <= self.tau {
            return Vec::new();
        }
        let dir = along / length;
        let (low, high) = (p.min(q) - DVec3::splat(self.tau), p.max(q) + DVec3::splat(self.tau));
        // Along one axis is enough: edges of furniture are square mostly, and then few
        // corners share a stretch.
        let start = self.by_x.partition_point(|c| c.0 < low.x);
        let mut found: Vec<(f64, u32)> = Vec::new();
        for &(x, i) in &self.by_x[start..] {
            if x > high.x {
                break;
            }
            let r = self.points[i as usize];
            if i == a || i == b || r.y < low.y || r.y > high.y || r.z < low.z || r.z > high.z {
                continue;
            }
            let t = (r - p).dot(dir);
            if t > 0.0 && t < length && (r - p - dir * t).length_squared() <= self.tau * self.tau {
                found.push((t, i));
            }
        }
        found.sort_by(|a, b| a.0.total_cmp(&b.0));
        found.into_iter().map(|f| f.1).collect()
    }
}

/// Drops pairs of opposite edges inside one face: slivers and cracks go.
fn cancel(steps: &[(u32, u32)]) -> Vec<(u32, u32)> {
    let way = |&(a, b): &(u32, u32)| if a < b { ((a, b), 1) } else { ((b, a), -1) };
    let mut ways: Vec<((u32, u32), i32)> = steps.iter().map(way).collect();
    ways.sort_unstable_by_key(|way| way.0);
    let mut left = Vec::new();
    for edge in ways.chunk_by(|one, next| one.0 == next.0) {
        let ((a, b), count) = edge.iter().fold(((0, 0), 0), |sum, way| (way.0, sum.1 + way.1));
        for _ in 0..count.abs() {
            left.push(if count > 0 { (a, b) } else { (b, a) });
        }
    }
    left
}

/// Chains directed edges into closed loops.
fn chain_up(mut steps: Vec<(u32, u32)>) -> Vec<Vec<u32>> {
    // The edges from each corner lie together; the last of those not yet gone
    // along is the next to go along.
    steps.sort_by_key(|step| step.0);
    let mut left: Vec<(u32, usize, usize)> = Vec::new();
    for (i, (from, _)) in steps.iter().enumerate() {
        match left.last_mut() {
            Some(last) if last.0 == *from => last.2 = i + 1,
            _ => left.push((*from, i, i + 1)),
        }
    }
    let mut loops = Vec::new();
    let mut first = 0;
    while let Some(&(start, low, high)) = left.get(first) {
        if low == high {
            first += 1;
            continue;
        }
        let mut ring = vec![start];
        let mut at = start;
        while let Ok(place) = left.binary_search_by_key(&at, |corner| corner.0) {
            let (_, low, high) = &mut left[place];
            if low == high {
                break;
            }
            *high -= 1;
            at = steps[*high].1;
            // A corner met again closes a loop of its own.
            if let Some(seen) = ring.iter().position(|&p| p == at) {
                let cut = ring.split_off(seen);
                if cut.len() >= 3 {
                    loops.push(cut);
                }
                if ring.is_empty() {
                    break;
                }
                ring.push(at);
                continue;
            }
            ring.push(at);
        }
    }
    loops
}

/// One use of an edge by a face.
#[derive(Clone, Copy)]
struct Use {
    face: u32,
    /// The loop, by its place in the list of all loops.
    ring: u32,
}

/// Pairs the faces at every edge: the edges worth drawing, and which loops meet
/// in the same material. `None` where a face has no partner.
fn pair(points: &[DVec3], faces: &[Face]) -> Option<(Vec<Edge>, Joined)> {
    // Each use with the corners of its edge, the lesser first, and whether it
    // runs back from the greater.
    let mut uses: Vec<((u32, u32), bool, Use)> = Vec::new();
    let all = (0..).zip(faces).flat_map(|(f, face)| face.loops.iter().map(move |ring| (f, ring)));
    for (r, (f, ring)) in (0..).zip(all) {
        for (&a, &b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
            uses.push(((a.min(b), a.max(b)), a >= b, Use { face: f, ring: r }));
        }
    }
    uses.sort_by_key(|(edge, back, _)| (*edge, *back));
    let (mut edges, mut joined) = (Vec::new(), Vec::new());
    let mut backward: Vec<Use> = Vec::new();
    for edge in uses.chunk_by(|one, next| one.0 == next.0) {
        let (forward, back) = edge.split_at(edge.partition_point(|(_, back, _)| !back));
        backward.clear();
        backward.extend(back.iter().map(|(_, _, back)| *back));
        // An edge without a partner is a hole in the skin: better no solid than one
        // whose volume is wrong.
        if forward.len() != backward.len() {
            return None;
        }
        let Some(&((a, b), _, _)) = edge.first() else { continue };
        let along = points[b as usize] - points[a as usize];
        for &(_, _, f) in forward {
            // Four faces meet where two blocks touch along a line; the wrong pair would
            // join two pieces that do not hang together.
            let mate = through_material(along, f, &backward, faces);
            let g = backward.swap_remove(mate);
            joined.push((f.ring, g.ring));
            let (one, two) = (&faces[f.face as usize], &faces[g.face as usize]);
            if one.plane.normal.dot(two.plane.normal) > 1.0 - NOISE {
                continue;
            }
            let round = matches!(one.from.surface, Surface::Round { .. } | Surface::Band { .. });
            edges.push(Edge { a, b, faces: [f.face, g.face], smooth: round && one.from == two.from });
        }
    }
    Some((edges, joined))
}

/// Which of `others` bounds the same material as `f` at an edge: the
/// first met turning through the material.
fn through_material(along: DVec3, f: Use, others: &[Use], faces: &[Face]) -> usize {
    if others.len() == 1 {
        return 0;
    }
    let n = faces[f.face as usize].plane.normal;
    let into = n.cross(along).normalize_or_zero();
    let angle = |g: Use| {
        let t = -faces[g.face as usize].plane.normal.cross(along).normalize_or_zero();
        // Turn from `into` towards -n, 0 to a full turn.
        let a = crate::geometry::trig::atan2(t.dot(-n), t.dot(into));
        if a <= NOISE { a + std::f64::consts::TAU } else { a }
    };
    (0..others.len()).min_by(|&i, &j| angle(others[i]).total_cmp(&angle(others[j]))).unwrap_or(0)
}

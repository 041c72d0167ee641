//! Where two solids touch, whether one blocks the other's way, and whether
//! they run into one another.

use super::poly::Poly;
use super::region::Region;
use super::tolerance::{ASKEW, CONTACT_GAP, LEAST_WIDTH, MOTION_GAP, PENETRATION};
use super::{Face, Solid};
use crate::geometry::tolerance::HAIR;
use crate::geometry::{DVec2, DVec3, Placement, Plane};

/// A solid where it stands, ready to be compared with others.
#[derive(Clone, Debug)]
pub struct Standing {
    solid: Solid,
    low: DVec3,
    high: DVec3,
    /// The box round each face.
    around: Vec<(DVec3, DVec3)>,
}

/// What some solids cover, seen along a direction, and where along it they
/// stand: a quick test that one cannot be in the way of another.
#[derive(Clone, Copy, Debug)]
pub struct Shadow {
    low: DVec3,
    high: DVec3,
}

/// A place where two solids touch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contact {
    /// Normal out of the first solid.
    pub normal: DVec3,
    /// Where the plane they share lies along that, mm.
    pub offset: f64,
    /// Area that touches, mm2.
    pub area: f64,
}

impl Standing {
    /// `solid` standing at `at`.
    pub fn new(solid: &Solid, at: &Placement) -> Self {
        let mut moved = solid.clone();
        for p in &mut moved.points {
            *p = at.point(*p);
        }
        for face in &mut moved.faces {
            let normal = at.dir(face.plane.normal);
            face.plane = Plane { normal, offset: face.plane.offset + normal.dot(at.origin) };
        }
        let (low, high) = moved.bounds().unwrap_or((DVec3::INFINITY, DVec3::NEG_INFINITY));
        let around = moved.faces.iter().map(|face| around(&moved, face)).collect();
        Self { solid: moved, low, high, around }
    }

    /// Its least and greatest corner.
    pub fn span(&self) -> (DVec3, DVec3) {
        (self.low, self.high)
    }

    /// Its least and greatest corner, mm.
    pub fn around(&self) -> (DVec3, DVec3) {
        (self.low, self.high)
    }

    /// The faces that reach into a box.
    fn faces_in(&self, (low, high): (DVec3, DVec3)) -> impl Iterator<Item = &Face> {
        let here = move |around: &(DVec3, DVec3)| boxes_meet(*around, (low, high));
        self.solid
            .faces
            .iter()
            .zip(&self.around)
            .filter(move |(_, around)| here(around))
            .map(|(face, _)| face)
    }

    /// Where it touches `other`: opposed coplanar faces that share more than
    /// `LEAST_WIDTH` of width.
    pub fn contacts(&self, other: &Self) -> Vec<Contact> {
        let gap = DVec3::splat(CONTACT_GAP);
        let own = (self.low - gap, self.high + gap);
        if !boxes_meet(own, (other.low, other.high)) {
            return Vec::new();
        }
        // By boxes first: of two large parts a face or two come near one another, and to
        // lay outlines over outlines is what takes the time.
        let theirs: Vec<&Face> = other.faces_in(own).collect();
        let mut found = Vec::new();
        for f in self.faces_in((other.low - gap, other.high + gap)) {
            for &g in &theirs {
                // Faces that look the same way lie on one another only where solids cross.
                let opposed = f.plane.normal.dot(g.plane.normal) < -1.0 + HAIR;
                if !opposed || (f.plane.offset + g.plane.offset).abs() > CONTACT_GAP {
                    continue;
                }
                let Some(frame) = Placement::looking(DVec3::ZERO, f.plane.normal, DVec3::X) else { continue };
                let shared = flat(&self.solid, f, &frame).and(&flat(&other.solid, g, &frame));
                if wide(&shared) {
                    found.push(Contact {
                        normal: f.plane.normal,
                        offset: f.plane.offset,
                        area: shared.area(),
                    });
                }
            }
        }
        found
    }

    /// Whether `other` stands in the way of this moving off along `along`
    /// (unit). Sliding along a face is free.
    pub fn is_blocked_by(&self, other: &Self, along: DVec3) -> bool {
        let Some(frame) = Placement::looking(DVec3::ZERO, along, DVec3::X) else { return false };
        // Faces that could run into one another: ours looking ahead, theirs
        // looking back; both seen along the way.
        let back = other.solid.faces.iter().filter(|g| g.plane.normal.dot(along) < -HAIR);
        let back: Vec<_> = back.map(|g| (g, reach(&other.solid, g, &frame))).collect();
        for f in self.solid.faces.iter().filter(|f| f.plane.normal.dot(along) > HAIR) {
            let reach_f = reach(&self.solid, f, &frame);
            let mut region_f = None;
            for (g, reach_g) in &back {
                // What lies wholly behind has been passed already.
                if !boxes_overlap(&reach_f, reach_g) || reach_g.1.z < reach_f.0.z - MOTION_GAP {
                    continue;
                }
                // Flattened only where the boxes leave it open: most faces never come so
                // far.
                let region_f = region_f.get_or_insert_with(|| flat(&self.solid, f, &frame));
                let shared = region_f.and(&flat(&other.solid, g, &frame));
                if wide(&shared) && ahead(&shared, f, g, &frame) {
                    return true;
                }
            }
        }
        false
    }

    /// How far this must move off along `along` (unit) to be clear of `other`, mm: what
    /// of it looks back runs so far past what of `other` looks ahead. Zero where they
    /// are clear of one another already, however far round they reach.
    pub fn way_out(&self, other: &Self, along: DVec3) -> f64 {
        self.way_out_within(other, along, f64::INFINITY).unwrap_or(0.0)
    }

    /// The same, or `None` as soon as it is known to be `limit` or more: who looks for the
    /// shortest way need not measure the others to their ends.
    pub fn way_out_within(&self, other: &Self, along: DVec3, limit: f64) -> Option<f64> {
        let Some(frame) = Placement::looking(DVec3::ZERO, along, DVec3::X) else { return Some(0.0) };
        let back = self.solid.faces.iter().filter(|f| f.plane.normal.dot(along) < -HAIR);
        let back: Vec<_> = back.map(|f| (f, reach(&self.solid, f, &frame))).collect();
        let mut most = 0.0_f64;
        for g in other.solid.faces.iter().filter(|g| g.plane.normal.dot(along) > HAIR) {
            let reach_g = reach(&other.solid, g, &frame);
            for (f, reach_f) in &back {
                // No pair asks for more than their boxes do, so most pairs need no outline.
                if !boxes_overlap(reach_f, &reach_g) || reach_g.1.z - reach_f.0.z <= most {
                    continue;
                }
                let shared = flat(&self.solid, f, &frame).and(&flat(&other.solid, g, &frame));
                if wide(&shared) {
                    let corners = shared.rings();
                    let past = corners.iter().flatten().map(|&p| depth(g, &frame, p) - depth(f, &frame, p));
                    most = past.fold(most, f64::max);
                    if most >= limit {
                        return None;
                    }
                }
            }
        }
        Some(most)
    }

    /// The ways the faces look that come near `other`, each once.
    pub fn ways_beside(&self, other: &Self) -> Vec<DVec3> {
        let mut ways: Vec<DVec3> = Vec::new();
        for face in self.faces_in((other.low, other.high)) {
            let way = face.plane.normal;
            if !ways.iter().any(|known| known.dot(way) > 1.0 - HAIR) {
                ways.push(way);
            }
        }
        ways
    }

    /// How deep this and `other` run into one another, as the area of the
    /// largest patch found `PENETRATION` under a face; `None` if they only
    /// touch or stand apart.
    pub fn interferes(&self, other: &Self) -> Option<f64> {
        if !boxes_meet((self.low, self.high), (other.low, other.high)) {
            return None;
        }
        // Both ways round: a pin wholly inside a block has no face of the block in it.
        let patches = pushed_in(self, other).chain(pushed_in(other, self));
        patches.reduce(f64::max)
    }

    /// Whether they do at all: of two that fill one another the first patch says it.
    pub fn runs_into(&self, other: &Self) -> bool {
        boxes_meet((self.low, self.high), (other.low, other.high))
            && pushed_in(self, other).chain(pushed_in(other, self)).next().is_some()
    }
}

impl Shadow {
    /// The shadow of `solids` along `along` (unit). A direction of no length
    /// gives a shadow that meets nothing, as nothing can be moved along it.
    pub fn of(solids: &[Standing], along: DVec3) -> Self {
        let nothing = (DVec3::INFINITY, DVec3::NEG_INFINITY);
        let frame = Placement::looking(DVec3::ZERO, along, DVec3::X);
        let (low, high) = frame.map_or(nothing, |frame| {
            let points = solids.iter().flat_map(|standing| &standing.solid.points);
            points.map(|p| frame.local_point(*p)).fold(nothing, |(low, high), p| (low.min(p), high.max(p)))
        });
        Self { low, high }
    }

    /// Where along the direction it begins, mm.
    pub fn near(&self) -> f64 {
        self.low.z
    }

    /// Whether `other` may be in the way of this: false only if
    /// [`Standing::is_blocked_by`] is false for all the solids.
    pub fn may_meet(&self, other: &Self) -> bool {
        let (own, theirs) = ((self.low, self.high), (other.low, other.high));
        boxes_overlap(&own, &theirs) && other.high.z >= self.low.z - MOTION_GAP
    }
}

/// The patches of `a`'s faces, pushed in, that lie inside `b`, mm2.
fn pushed_in<'a>(a: &'a Standing, b: &'a Standing) -> impl Iterator<Item = f64> + 'a {
    // Made once, and only if some face comes near: most pairs of a job do not.
    let (mut own, mut body): (Option<Poly>, Option<Poly>) = (None, None);
    let reach_b = (b.low, b.high);
    let near = a.solid.faces.iter().zip(&a.around);
    let near = near.filter(move |(face, around)| may_share(**around, face.plane.normal, reach_b));
    near.filter_map(move |(face, _)| {
        let plane = Plane { offset: face.plane.offset - PENETRATION, ..face.plane };
        let frame = Placement::looking(plane.normal * plane.offset, plane.normal, DVec3::X)?;
        let body = body.get_or_insert_with(|| Poly::of_solid(&b.solid));
        let cut = Region::of_rings(&body.section(&plane, &frame, HAIR));
        if cut.is_empty() {
            return None;
        }
        let shared = flat(&a.solid, face, &frame).and(&cut);
        if !wide(&shared) {
            return None;
        }
        // Beside a sharp edge, such as the mouth of a sloping bore, a face pushed
        // in comes out of the other side: only what is in both counts.
        let own = own.get_or_insert_with(|| Poly::of_solid(&a.solid));
        let shared = shared.and(&Region::of_rings(&own.section(&plane, &frame, HAIR)));
        wide(&shared).then(|| shared.area())
    })
}

/// The box round a face.
fn around(solid: &Solid, face: &Face) -> (DVec3, DVec3) {
    let corners = face.loops.iter().flatten().map(|&i| solid.points[i as usize]);
    corners.fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(lo, hi), p| (lo.min(p), hi.max(p)))
}

/// At [`ASKEW`] of the normal a patch still reaches 0.43 of its width along the axis;
/// a little less, for the roundings before.
const REACHES: f64 = 0.4;

/// Whether a face, pushed in, may have a patch wider than a sliver in a box: a
/// patch of some width reaches that far along each axis that its normal does not
/// follow.
fn may_share((low, high): (DVec3, DVec3), normal: DVec3, (low_b, high_b): (DVec3, DVec3)) -> bool {
    let shared = high.min(high_b) - low.max(low_b);
    (0..3).all(|axis| {
        let least = if normal[axis].abs() < ASKEW { REACHES * LEAST_WIDTH } else { -2.0 * PENETRATION };
        shared[axis] >= least
    })
}

/// A face's rings in the x and y of a frame.
fn flat(solid: &Solid, face: &Face, frame: &Placement) -> Region {
    let mut rings: Vec<Vec<DVec2>> = face
        .loops
        .iter()
        .map(|r| {
            r.iter()
                .map(|&i| {
                    let p = frame.local_point(solid.points[i as usize]);
                    DVec2::new(p.x, p.y)
                })
                .collect()
        })
        .collect();
    if face.plane.normal.dot(frame.z) < 0.0 {
        for ring in &mut rings {
            ring.reverse();
        }
    }
    Region::of_rings(&rings)
}

/// Whether a region is more than a sliver: its area over half its outline.
pub(super) fn wide(region: &Region) -> bool {
    let around: f64 = region
        .rings()
        .iter()
        .map(|r| r.iter().zip(r.iter().cycle().skip(1)).map(|(a, b)| a.distance(*b)).sum::<f64>())
        .sum();
    around > 0.0 && region.area() / (0.5 * around) > LEAST_WIDTH
}

/// Whether somewhere in the shared patch `g` lies further along than `f`, or
/// they touch all over it. Faces that meet in a corner or an edge only, such as
/// the outer arrises of a mitre, do not stand in one another's way.
fn ahead(shared: &Region, f: &Face, g: &Face, frame: &Placement) -> bool {
    let rings = shared.rings();
    let mut further = rings.iter().flatten().map(|&p| depth(g, frame, p) - depth(f, frame, p));
    let mut touching = true;
    further.any(|by| {
        touching &= by > -MOTION_GAP;
        by > MOTION_GAP
    }) || touching
}

/// How far along z of a frame a face lies at a place in its x and y.
fn depth(face: &Face, frame: &Placement, p: DVec2) -> f64 {
    let n = frame.local_dir(face.plane.normal);
    (face.plane.offset - n.x * p.x - n.y * p.y) / n.z
}

/// The box of a face in a frame.
fn reach(solid: &Solid, face: &Face, frame: &Placement) -> (DVec3, DVec3) {
    face.loops
        .iter()
        .flatten()
        .map(|&i| frame.local_point(solid.points[i as usize]))
        .fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(lo, hi), p| (lo.min(p), hi.max(p)))
}

fn boxes_overlap(a: &(DVec3, DVec3), b: &(DVec3, DVec3)) -> bool {
    // Less by the width of a sliver: parts that stand side by side share a border, and
    // would all be looked at.
    let least = LEAST_WIDTH;
    a.0.x < b.1.x - least && b.0.x < a.1.x - least && a.0.y < b.1.y - least && b.0.y < a.1.y - least
}

fn boxes_meet(a: (DVec3, DVec3), b: (DVec3, DVec3)) -> bool {
    a.0.cmple(b.1).all() && b.0.cmple(a.1).all()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solid::{Body, Prism, carve};

    fn standing(min: [f64; 3], max: [f64; 3], cutters: &[Prism]) -> Standing {
        let solid = carve(&Body::Prism(Prism::cuboid(min.into(), max.into())), cutters).unwrap();
        Standing::new(&solid, &Placement::IDENTITY)
    }

    #[test]
    fn a_shelf_in_a_housing_comes_out_forward_only() {
        let channel = Prism::cuboid(DVec3::new(12.0, -1.0, 100.0), DVec3::new(20.0, 200.0, 118.0));
        let side = standing([0.0, 0.0, 0.0], [18.0, 250.0, 400.0], &[channel]);
        let shelf = standing([12.0, 0.0, 100.0], [300.0, 200.0, 118.0], &[]);
        assert_eq!(shelf.interferes(&side), None);
        assert!(!shelf.is_blocked_by(&side, DVec3::NEG_Y));
        assert!(!shelf.is_blocked_by(&side, DVec3::X));
        assert!(shelf.is_blocked_by(&side, DVec3::Y));
        assert!(shelf.is_blocked_by(&side, DVec3::Z));
        assert!(shelf.is_blocked_by(&side, DVec3::NEG_X));
        // End, back end, upper and lower face of the shelf.
        assert_eq!(shelf.contacts(&side).len(), 4);
        // Housed, it need not come out at all, however far the side reaches past its end.
        assert!(shelf.way_out(&side, DVec3::X).abs() < 1e-9);
        let deep = standing([11.0, 0.0, 100.0], [300.0, 200.0, 118.0], &[]);
        assert!((deep.way_out(&side, DVec3::X) - 1.0).abs() < 1e-9);
        assert!((deep.interferes(&side).unwrap() - 200.0 * 18.0).abs() < 1.0);
    }
}

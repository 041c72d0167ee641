//! The boundary of a body minus cutters, plane by plane.
//!
//! For an oriented plane P with normal n out of the material, the faces on it
//! are (body faces looking along n + cutter faces looking against n), inside
//! the body just below P, minus every cutter just below P. Flush cutters,
//! overshoot, duplicates and break-through all follow from that one formula.

use std::collections::BTreeMap;

use super::model::LooseFace;
use super::near::{Near, overlap};
use super::poly::{Poly, bounds};
use super::region::Region;
use super::tolerance::{FAR, LADDER, PARALLEL};
use super::{Body, Prism, Provenance, Solid, stitch};
use crate::geometry::{DVec2, DVec3, Placement, Plane};

/// Why a part could not be made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CarveProblem {
    /// The body itself encloses nothing: a size is zero or negative.
    NoBody,
    /// Body or cutters have a size or place that is no number, or one of more
    /// than 100 m.
    OutOfReach,
    /// The cutters remove everything.
    NothingLeft,
    /// The cutters leave several pieces that do not hang together.
    FallsApart {
        /// How many.
        pieces: usize,
    },
    /// The faces do not close within any tolerance: cuts almost but not quite
    /// meet.
    DoesNotClose,
}

/// A face of body or cutter, waiting to be trimmed.
struct Source {
    owner: Option<u32>,
    from: Provenance,
    /// Normal out of the remaining material.
    normal: DVec3,
    rings: Vec<Vec<DVec3>>,
    /// The box round it.
    reach: (DVec3, DVec3),
}

/// What a source has of a plane, with the box round it: of many holes few are near any one.
struct Shared {
    reach: (DVec2, DVec2),
    region: Region,
}

impl Shared {
    fn meets(&self, (low, high): (DVec2, DVec2)) -> bool {
        self.reach.0.cmple(high).all() && low.cmple(self.reach.1).all()
    }
}

/// Body minus cutters. Cutters may reach outside the body.
pub fn carve(body: &Body, cutters: &[Prism]) -> Result<Solid, CarveProblem> {
    let mut solid = facetted(body, cutters)?;
    super::curves::remember(&mut solid, body, cutters);
    Ok(solid)
}

/// The same with round surfaces as facets alone.
pub(super) fn facetted(body: &Body, cutters: &[Prism]) -> Result<Solid, CarveProblem> {
    let body = Poly::of_body(body);
    let numbers = cutters.iter().all(|c| c.from.is_finite() && c.to.is_finite());
    let cutters: Vec<Poly> = cutters.iter().map(Poly::of_prism).collect();
    if !numbers || !cutters.iter().chain([&body]).all(within_reach) {
        return Err(CarveProblem::OutOfReach);
    }
    // Fewer faces than a tetrahedron has enclose nothing.
    if body.faces.len() < 4 {
        return Err(CarveProblem::NoBody);
    }
    let reach = bounds(&body.points);
    let cutters: Vec<(u32, Poly)> = (0..)
        .zip(cutters)
        // A cutter that does not come near takes nothing, and would only cost time; the
        // others keep their numbers, by which their faces are known.
        .filter(|(_, poly)| !poly.faces.is_empty() && overlap(reach, poly.bounds()))
        .collect();
    // Narrow first: a wide tolerance closes more, but takes small steps for one face.
    for &(tau_plane, tau_merge) in LADDER {
        let faces = trimmed_faces(&body, &cutters, tau_plane);
        // No wider tolerance brings back what is not there.
        if faces.is_empty() {
            return Err(CarveProblem::NothingLeft);
        }
        if let Some(closed) = stitch::close(&faces, tau_merge) {
            return match closed.whole() {
                (0, _) => Err(CarveProblem::NothingLeft),
                (1, solid) => Ok(solid),
                (pieces, _) => Err(CarveProblem::FallsApart { pieces }),
            };
        }
    }
    Err(CarveProblem::DoesNotClose)
}

/// Whether all corners are numbers and none lies absurdly far off.
fn within_reach(poly: &Poly) -> bool {
    poly.points.iter().all(|p| p.abs().cmple(DVec3::splat(FAR)).all())
}

/// All faces of the result, plane by plane in the order planes first appear.
fn trimmed_faces(body: &Poly, cutters: &[(u32, Poly)], tau: f64) -> Vec<LooseFace> {
    let sources = sources(body, cutters);
    let near = Near::new(cutters.iter().map(|(_, poly)| poly.bounds()).collect());
    let mut found = Vec::new();
    let body_reach = body.bounds();
    let mut done = Vec::new();
    for (plane, members) in planes(&sources, tau) {
        let Some(frame) = frame_of(&plane) else { continue };
        // Sections of cutters that stand just below the plane, made when a face first comes
        // near them: most faces are small and near few.
        let mut below: BTreeMap<usize, Region> = BTreeMap::new();
        let mut inside: Option<Region> = None;
        let mut earlier: Vec<Shared> = Vec::new();
        for &s in &members {
            let source = &sources[s];
            // Overshooting ends and the far sides of half spaces bound nothing.
            if source.owner.is_some() && !overlap(body_reach, source.reach) {
                continue;
            }
            let mut region = flatten(source, &frame);
            if source.owner.is_some() {
                let body_below =
                    inside.get_or_insert_with(|| Region::of_rings(&body.section(&plane, &frame, tau)));
                region = region.and(body_below);
            }
            // Taken away all at once: each difference goes over the grid again, and
            // once is quicker and truer than many times.
            let mut clip = Region::default();
            if let Some(reach) = region.bounds() {
                let shared = earlier.iter().filter(|shared| shared.meets(reach));
                clip.0.extend(shared.flat_map(|shared| shared.region.0.iter().cloned()));
            }
            near.find(source.reach, &mut found);
            for &c in found.iter().filter(|c| straddles(near.boxes[**c], &plane, tau)) {
                let gone = below
                    .entry(c)
                    .or_insert_with(|| Region::of_rings(&cutters[c].1.section(&plane, &frame, tau)));
                // A cutter near the face in space may miss it in the plane; an overlay
                // costs more than two boxes.
                if meets(&region, gone) {
                    clip.0.extend(gone.0.iter().cloned());
                }
            }
            if !clip.is_empty() {
                region = region.minus(&clip);
            }
            if region.is_empty() {
                continue;
            }
            let lift = |p: DVec2| frame.point(DVec3::new(p.x, p.y, 0.0));
            let rings = region.rings().iter().map(|r| r.iter().map(|p| lift(*p)).collect()).collect();
            done.push(LooseFace { plane, from: source.from, rings });
            // What two sources share of a plane is one face: the first has it.
            if members.len() > 1 {
                earlier.extend(region.bounds().map(|reach| Shared { reach, region }));
            }
        }
    }
    done
}

/// Every face that may bound the result, body first.
fn sources(body: &Poly, cutters: &[(u32, Poly)]) -> Vec<Source> {
    let mut list = Vec::new();
    let mut add = |owner: Option<u32>, poly: &Poly| {
        for face in &poly.faces {
            let turn = owner.is_some();
            let rings = face.rings.iter().map(|ring| {
                let mut points: Vec<DVec3> = ring.iter().map(|&i| poly.points[i as usize]).collect();
                if turn {
                    points.reverse();
                }
                points
            });
            let rings: Vec<Vec<DVec3>> = rings.collect();
            let reach = rings
                .iter()
                .map(|r| bounds(r))
                .fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |all, r| (all.0.min(r.0), all.1.max(r.1)));
            list.push(Source {
                owner,
                from: Provenance { cutter: owner, surface: face.surface },
                normal: if turn { -face.plane.normal } else { face.plane.normal },
                rings,
                reach,
            });
        }
    };
    add(None, body);
    for (i, poly) in cutters {
        add(Some(*i), poly);
    }
    list
}

/// Groups sources by oriented plane. A face joins a plane when its normal is
/// parallel and all its corners lie within `tau` of it.
fn planes(sources: &[Source], tau: f64) -> Vec<(Plane, Vec<usize>)> {
    let mut groups: Vec<(Plane, Vec<usize>)> = Vec::new();
    let mut known = Directions::default();
    for (i, source) in sources.iter().enumerate() {
        let corners = || source.rings.iter().flatten();
        let Some(&first) = corners().next() else { continue };
        // By its corners, not by its offset: a long face a hair askew would leave the
        // plane at its far end.
        let fits = |plane: &Plane| {
            (plane.normal.dot(source.normal).abs() > 1.0 - PARALLEL)
                && corners().all(|&p| plane.distance(p).abs() <= tau)
        };
        // Both sides of one sheet of space use one set of coordinates.
        let near = known.near(source.normal, first, tau);
        if let Some(at) = near.iter().copied().find(|&at| fits(&groups[at].0)) {
            let plane = groups[at].0;
            if plane.normal.dot(source.normal) > 0.0 {
                groups[at].1.push(i);
            } else {
                let back = plane.flipped();
                if let Some(other) = near.iter().copied().find(|&other| groups[other].0 == back) {
                    groups[other].1.push(i);
                } else {
                    known.add(&back, groups.len());
                    groups.push((back, vec![i]));
                }
            }
        } else if let Some(plane) = Plane::through(first, source.normal) {
            known.add(&plane, groups.len());
            groups.push((plane, vec![i]));
        }
    }
    groups
}

/// Planes by where their normals point and how far off they stand: a part with a thousand
/// holes has tens of thousands of them, and all but a few look or stand elsewhere.
#[derive(Default)]
struct Directions(BTreeMap<[i32; 4], Vec<usize>>);

/// Side of a cell of directions: far above what normals that count as one may differ by,
/// the root of twice [`PARALLEL`].
const CELL: f64 = 0.02;

/// Height of a cell of distances, mm: as far as planes of one direction differ on a large
/// part that count as one.
const APART: f64 = 4.0;

impl Directions {
    /// Notes a plane under its normal and the one against it.
    fn add(&mut self, plane: &Plane, at: usize) {
        for side in [*plane, plane.flipped()] {
            let [x, y, z] = cell(side.normal);
            self.0.entry([x, y, z, height(side.offset)]).or_default().push(at);
        }
    }

    /// Planes that look along a direction or against it and may hold a point of a face that
    /// does, in the order they were added.
    fn near(&self, normal: DVec3, point: DVec3, tau: f64) -> Vec<usize> {
        let spread = (2.0 * PARALLEL).sqrt();
        let [low, high] = [normal - spread, normal + spread].map(cell);
        let off = normal.dot(point);
        let astray = tau + spread * point.length();
        let (lower, upper) = (height(off - astray), height(off + astray));
        let mut found = Vec::new();
        for x in low[0]..=high[0] {
            for y in low[1]..=high[1] {
                for z in low[2]..=high[2] {
                    let here = self.0.range([x, y, z, lower]..=[x, y, z, upper]);
                    found.extend(here.flat_map(|(_, planes)| planes));
                }
            }
        }
        found.sort_unstable();
        found
    }
}

/// The cell of a plane's distance from the origin.
fn height(offset: f64) -> i32 {
    #[expect(clippy::cast_possible_truncation, reason = "nothing reaches beyond 100 m")]
    let cell = (offset / APART).floor() as i32;
    cell
}

/// The cell of a direction.
fn cell(direction: DVec3) -> [i32; 3] {
    #[expect(clippy::cast_possible_truncation, reason = "a unit vector has no part beyond 1")]
    let cell = |part: f64| (part / CELL).floor() as i32;
    direction.to_array().map(cell)
}

/// Coordinates in a plane: z is its normal, the origin on it.
fn frame_of(plane: &Plane) -> Option<Placement> {
    // The hint is the axis least along the normal, so that square parts keep
    // exact coordinates; both sides of a plane take the same hint.
    let n = plane.normal.abs();
    let hint = if n.x <= n.y && n.x <= n.z {
        DVec3::X
    } else if n.y <= n.z {
        DVec3::Y
    } else {
        DVec3::Z
    };
    Placement::looking(plane.normal * plane.offset, plane.normal, hint)
}

fn flatten(source: &Source, frame: &Placement) -> Region {
    let flat: Vec<Vec<DVec2>> = source
        .rings
        .iter()
        .map(|ring| {
            ring.iter()
                .map(|&p| {
                    let q = frame.local_point(p);
                    DVec2::new(q.x, q.y)
                })
                .collect()
        })
        .collect();
    Region::of_rings(&flat)
}

/// Whether a box reaches below the plane and above it (or onto it).
fn straddles(reach: (DVec3, DVec3), plane: &Plane, tau: f64) -> bool {
    let half = 0.5 * (reach.1 - reach.0);
    let middle = plane.distance(0.5 * (reach.0 + reach.1));
    let spread = half.dot(plane.normal.abs());
    middle - spread < -tau && middle + spread > -tau
}

fn meets(a: &Region, b: &Region) -> bool {
    match (a.bounds(), b.bounds()) {
        (Some((alo, ahi)), Some((blo, bhi))) => alo.cmple(bhi).all() && blo.cmple(ahi).all(),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Outline;

    fn cuboid(min: [f64; 3], max: [f64; 3]) -> Prism {
        Prism::cuboid(min.into(), max.into())
    }

    #[track_caller]
    fn volume(cutters: &[Prism], expected: f64) {
        let body = Body::Prism(cuboid([0.0; 3], [100.0, 60.0, 18.0]));
        let solid = carve(&body, cutters).unwrap();
        let found = solid.volume();
        assert!((found - expected).abs() < 1e-6 * expected, "found {found}, expected {expected}");
    }

    const BOARD: f64 = 100.0 * 60.0 * 18.0;

    #[test]
    fn closed_forms() {
        volume(&[], BOARD);
        volume(&[cuboid([10.0, 10.0, -5.0], [30.0, 20.0, 6.0])], BOARD - 20.0 * 10.0 * 6.0);
        // Through, flush with an edge, duplicated, reaching outside.
        volume(&[cuboid([10.0, 0.0, -1.0], [30.0, 20.0, 30.0])], BOARD - 20.0 * 20.0 * 18.0);
        let flush = cuboid([10.0, 0.0, 0.0], [30.0, 20.0, 6.0]);
        volume(&[flush.clone(), flush.clone()], BOARD - 20.0 * 20.0 * 6.0);
        // Two cuts sharing a face plane, and one inside another.
        volume(&[flush.clone(), cuboid([30.0, 0.0, 0.0], [40.0, 20.0, 6.0])], BOARD - 30.0 * 20.0 * 6.0);
        volume(&[flush, cuboid([12.0, 2.0, -9.0], [14.0, 8.0, 3.0])], BOARD - 20.0 * 20.0 * 6.0);
        // A groove from end to end.
        volume(&[cuboid([-1.0, 40.0, 10.0], [101.0, 46.0, 40.0])], BOARD - 100.0 * 6.0 * 8.0);
    }

    /// A hundred and one holes take a hundred and one times what one does, though their
    /// cutters are found by where they stand; a groove through a row of them is not lost.
    #[test]
    fn a_board_full_of_holes_loses_as_much_as_of_each() {
        let board = Body::Prism(cuboid([-300.0, 0.0, 0.0], [700.0, 300.0, 18.0]));
        let hole = |i: u32| {
            let at = DVec3::new(f64::from(i % 21) * 41.0 - 280.0, 20.0 + 30.0 * f64::from(i / 21), 8.0);
            Prism::hole(at, DVec3::Z, 20.0, 4.0).unwrap()
        };
        let volume = |cutters: &[Prism]| carve(&board, cutters).unwrap().volume();
        let whole = volume(&[]);
        let mut all: Vec<Prism> = (0..101).map(hole).collect();
        let (one, full) = (whole - volume(&all[..1]), whole - volume(&all));
        assert!((full - 101.0 * one).abs() < 1e-6 * full, "{full} {one}");
        // 4 deep along the first row, over the holes, which are 10 deep.
        all.push(cuboid([-400.0, 10.0, 14.0], [800.0, 30.0, 20.0]));
        let through = whole - volume(&all);
        let expected = full + 4.0 * (20.0 * 1000.0 - 21.0 * one / 10.0);
        assert!((through - expected).abs() < 1e-6 * full, "{through} {expected}");
    }

    #[test]
    fn a_mitre_takes_half_the_square() {
        // Wedge over the end: 45 degrees through the thickness.
        let wedge = Prism {
            at: Placement::from_axes(DVec3::ZERO, DVec3::X, DVec3::Z).unwrap(),
            outline: Outline::polygon(vec![
                DVec2::new(-9.0, -9.0),
                DVec2::new(40.0, 40.0),
                DVec2::new(-9.0, 40.0),
            ]),
            from: -100.0,
            to: 100.0,
        };
        volume(&[wedge], BOARD - 0.5 * 18.0 * 18.0 * 60.0);
    }

    /// A corner of the cutter's end lies in the end of the board, where its section
    /// begins and ends in one point.
    #[test]
    fn a_hole_that_starts_on_the_face_of_an_end_closes() {
        let body = Body::Prism(cuboid([0.0; 3], [679.0, 64.5, 40.0]));
        let hole = Prism::hole(DVec3::new(0.0, 14.5, -1.0), DVec3::new(0.3, 0.2, 1.0), 24.0, 20.0).unwrap();
        // By manifold3d, as `tests/data/solids/make_reference.py` does.
        let volume = carve(&body, &[hole]).unwrap().volume();
        assert!((volume / 1_746_829.557_709_076 - 1.0).abs() < 1e-8, "{volume}");
    }

    #[test]
    fn what_cannot_be_made_is_said() {
        let body = Body::Prism(cuboid([0.0; 3], [100.0, 60.0, 18.0]));
        assert_eq!(carve(&body, &[cuboid([-1.0; 3], [101.0; 3])]).unwrap_err(), CarveProblem::NothingLeft);
        let through = cuboid([40.0, -1.0, -1.0], [41.0, 61.0, 19.0]);
        assert_eq!(carve(&body, &[through]).unwrap_err(), CarveProblem::FallsApart { pieces: 2 });
        // Two quarters that meet only along a line do not hang together; two
        // cuts that do leave wood on both sides.
        let one = cuboid([-1.0, -1.0, -1.0], [50.0, 30.0, 19.0]);
        let two = cuboid([50.0, 30.0, -1.0], [101.0, 61.0, 19.0]);
        assert_eq!(carve(&body, &[one, two]).unwrap_err(), CarveProblem::FallsApart { pieces: 2 });
        let pockets =
            [cuboid([20.0, 20.0, 9.0], [50.0, 30.0, 19.0]), cuboid([50.0, 30.0, 9.0], [80.0, 40.0, 19.0])];
        volume(&pockets, BOARD - 2.0 * 30.0 * 10.0 * 9.0);
        // A skin that goes with the saw is no piece of wood, and is gone from the solid;
        // a veneer is one.
        for (left, pieces) in [(0.004, 1), (0.5, 2)] {
            let rest = carve(&body, &[cuboid([60.0, -1.0, -1.0], [100.0 - left, 61.0, 19.0])]);
            match rest {
                Ok(solid) => {
                    assert!((solid.volume() - 60.0 * 60.0 * 18.0).abs() < 1e-6, "{}", solid.volume());
                    assert_eq!((pieces, solid.bounds().unwrap().1.x), (1, 60.0));
                }
                Err(why) => assert_eq!((pieces, why), (2, CarveProblem::FallsApart { pieces: 2 })),
            }
        }
        let flat = Body::Prism(cuboid([0.0; 3], [100.0, 60.0, 0.0]));
        assert_eq!(carve(&flat, &[]).unwrap_err(), CarveProblem::NoBody);
        for odd in [f64::NAN, f64::INFINITY, 1e6] {
            let cut = cuboid([40.0, 10.0, 10.0], [50.0, 20.0, odd]);
            assert_eq!(carve(&body, &[cut]).unwrap_err(), CarveProblem::OutOfReach);
        }
    }
}

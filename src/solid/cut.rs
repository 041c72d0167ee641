//! What a plane cuts through, and what is seen beyond it.

use super::region::Region;
use super::tolerance::{FAR, LADDER, ON_PLANE};
use super::view::{Camera, HiddenLines, Viewed, view};
use super::view_line::{CUT, ViewLine};
use super::{Face, Solid, stitch};
use crate::geometry::{DVec2, DVec3, Placement, Plane};

/// A section.
#[derive(Clone, Debug, Default)]
pub struct Section {
    /// What is cut, item by item.
    pub regions: Vec<CutRegion>,
    /// What is seen beyond the plane, hidden lines left out. Outlines of the
    /// cut itself are not among it.
    pub beyond: Vec<ViewLine>,
}

/// The cut through one item.
#[derive(Clone, Debug)]
pub struct CutRegion {
    /// The item's tag.
    pub tag: usize,
    /// Rings in drawing coordinates of the camera, outer counter-clockwise,
    /// holes clockwise.
    pub rings: Vec<Vec<DVec2>>,
}

/// Cuts `items` by the plane through `point` square to the line of sight of
/// `camera`; what stands before the plane is taken away.
pub fn section(items: &[Viewed<'_>], point: DVec3, camera: Camera) -> Section {
    let kept: Vec<Kept> = items.iter().filter_map(|item| keep(item, point, camera)).collect();
    let regions = kept.iter().filter_map(|kept| region(kept, camera)).collect();
    let items: Vec<Viewed<'_>> =
        kept.iter().map(|(solid, at, tag)| Viewed { solid, at: *at, tag: *tag }).collect();
    // Seen with the cut faces still there, since they hide what lies behind them; only
    // their own lines are left out.
    let mut beyond = view(&items, camera, HiddenLines::Drop);
    beyond.retain(|l| !l.faces.contains(&CUT));
    Section { regions, beyond }
}

/// As [`section`], without what is seen beyond the plane.
pub fn cut_regions(items: &[Viewed<'_>], point: DVec3, camera: Camera) -> Vec<CutRegion> {
    let cut = |item: &&Viewed<'_>| {
        let plane = local(item, point, camera);
        let mut heights = item.solid.points.iter().map(|&p| plane.distance(p));
        // What lies under the plane altogether has nothing in it, and need not be
        // copied to find out.
        heights.any(|h| h > TAU)
    };
    items.iter().filter(cut).filter_map(|item| region(&keep(item, point, camera)?, camera)).collect()
}

/// What is left of an item, where it stands, and its tag.
type Kept = (Solid, Placement, usize);

/// The plane of the cut in the coordinates of an item.
fn local(item: &Viewed<'_>, point: DVec3, camera: Camera) -> Plane {
    let toward = camera.toward();
    Plane { normal: item.at.local_dir(toward), offset: toward.dot(point - item.at.origin) }
}

/// What of an item does not stand before the plane.
fn keep(item: &Viewed<'_>, point: DVec3, camera: Camera) -> Option<Kept> {
    Some((below(item.solid, &local(item, point, camera))?, item.at, item.tag))
}

/// What of an item lies in the plane; `None` if nothing does.
fn region((solid, at, tag): &Kept, camera: Camera) -> Option<CutRegion> {
    let cut = solid.faces.iter().filter(|f| f.from == CUT).flat_map(|f| &f.loops);
    let flat = |i: &u32| camera.project(at.point(solid.points[*i as usize]));
    let rings: Vec<Vec<DVec2>> = cut.map(|ring| ring.iter().map(flat).collect()).collect();
    (!rings.is_empty()).then_some(CutRegion { tag: *tag, rings })
}

/// How near to the plane a corner counts as on it, mm.
const TAU: f64 = 1e-5;

/// The part of a solid below a plane, with a face of provenance [`CUT`] where
/// it was cut; `None` if nothing is below.
fn below(solid: &Solid, plane: &Plane) -> Option<Solid> {
    let height: Vec<f64> = solid.points.iter().map(|&p| plane.distance(p)).collect();
    // The whole is returned untouched: closing it again could only lose something.
    if height.iter().all(|h| *h <= TAU) {
        return Some(solid.clone());
    }
    if height.iter().all(|h| *h >= -TAU) {
        return None;
    }
    let mut loose = Vec::new();
    for face in &solid.faces {
        let rings: Vec<Vec<DVec3>> = clip_face(solid, face, plane, &height);
        if !rings.is_empty() {
            loose.push(super::model::LooseFace { plane: face.plane, from: face.from, rings });
        }
    }
    let frame = Placement::looking(plane.normal * plane.offset, plane.normal, DVec3::X)?;
    let rings = super::poly::Poly::of_solid(solid).section(plane, &frame, TAU);
    let region = Region::of_rings(&rings);
    if !region.is_empty() {
        let lift = |p: &DVec2| frame.point(DVec3::new(p.x, p.y, 0.0));
        let rings = region.rings().iter().map(|r| r.iter().map(lift).collect()).collect();
        loose.push(super::model::LooseFace { plane: *plane, from: CUT, rings });
    }
    LADDER.iter().find_map(|&(_, merge)| stitch::close(&loose, merge)).map(|c| c.solid)
}

/// A face's rings below a plane.
fn clip_face(solid: &Solid, face: &Face, plane: &Plane, height: &[f64]) -> Vec<Vec<DVec3>> {
    let indices = || face.loops.iter().flatten().map(|&i| height[i as usize]);
    // Faces that the cut does not come near keep their very corners, or they would not
    // pair with their neighbours.
    if indices().all(|h| h <= ON_PLANE) {
        return face.loops.iter().map(|r| r.iter().map(|&i| solid.points[i as usize]).collect()).collect();
    }
    if indices().all(|h| h >= -ON_PLANE) {
        return Vec::new();
    }
    let Some(frame) = Placement::looking(
        face.plane.normal * face.plane.offset,
        face.plane.normal,
        plane.normal.cross(face.plane.normal),
    ) else {
        return Vec::new();
    };
    let flat = |p: DVec3| {
        let q = frame.local_point(p);
        DVec2::new(q.x, q.y)
    };
    let rings: Vec<Vec<DVec2>> =
        face.loops.iter().map(|r| r.iter().map(|&i| flat(solid.points[i as usize])).collect()).collect();
    // In this frame the cutting line runs along x; find its height and side.
    let rise = plane.normal.dot(frame.y);
    let level = -plane.distance(frame.origin) / rise;
    let (low, high) = if rise > 0.0 { (-FAR, level) } else { (level, FAR) };
    let band =
        vec![DVec2::new(-FAR, low), DVec2::new(FAR, low), DVec2::new(FAR, high), DVec2::new(-FAR, high)];
    let kept = Region::of_rings(&rings).and(&Region::of_rings([&band]));
    kept.rings().iter().map(|r| r.iter().map(|p| frame.point(DVec3::new(p.x, p.y, 0.0))).collect()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solid::region::ring_area;
    use crate::solid::{Body, Prism, carve};

    #[test]
    fn a_cut_through_a_pocket_leaves_it_out() {
        let pocket = Prism::cuboid(DVec3::new(10.0, 10.0, 8.0), DVec3::new(40.0, 25.0, 20.0));
        let step = Prism::cuboid(DVec3::new(10.0, 25.0, 12.0), DVec3::new(40.0, 30.0, 20.0));
        let board = Body::Prism(Prism::cuboid(DVec3::ZERO, DVec3::new(100.0, 60.0, 18.0)));
        let solid = carve(&board, &[pocket, step]);
        let solid = solid.unwrap();
        let item = Viewed { solid: &solid, at: Placement::IDENTITY.moved(DVec3::Z * 5.0), tag: 7 };
        let cut = section(&[item], DVec3::new(0.0, 20.0, 0.0), Camera::FRONT);
        assert_eq!(cut.regions.len(), 1);
        let area: f64 = cut.regions[0].rings.iter().map(|r| ring_area(r)).sum();
        assert!((area - (1800.0 - 300.0)).abs() < 1e-6, "{area}");
        // Beyond the cut the step's two arrises show; all else lies along the cut.
        let seen: f64 = cut.beyond.iter().map(|l| l.a.distance(l.b)).sum();
        assert!((seen - 60.0).abs() < 1e-6, "{seen} {:?}", cut.beyond);
        assert!(section(&[item], DVec3::new(0.0, -5.0, 0.0), Camera::FRONT).regions.is_empty());
        // All of it stands before the plane.
        let behind = section(&[item], DVec3::new(0.0, 70.0, 0.0), Camera::FRONT);
        assert!(behind.regions.is_empty() && behind.beyond.is_empty(), "{:?}", behind.beyond);
    }
}

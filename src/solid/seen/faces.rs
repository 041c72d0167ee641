//! What is seen of faces from one direction: for tones and shadows, where lines are not
//! enough.

use crate::geometry::tolerance::HAIR;
use crate::geometry::{DVec2, DVec3};
use crate::solid::region::Region;
use crate::solid::tolerance::DEPTH;
use crate::solid::view::{Camera, Viewed, slope};

/// What is seen of a face.
#[derive(Clone, Debug)]
pub struct FaceSeen {
    /// Which of the solids looked at, by its place among them.
    pub item: usize,
    /// Which of its faces.
    pub face: usize,
    /// Its visible region on the drawing, mm, y up: outer rings counter-clockwise, holes
    /// clockwise.
    pub rings: Vec<Vec<DVec2>>,
}

/// A face that looks to the viewer.
struct Front {
    item: usize,
    face: usize,
    region: Region,
    low: DVec2,
    high: DVec2,
    /// Depths of its nearest and farthest corner, towards the viewer.
    nearest: f64,
    farthest: f64,
    slope: DVec2,
    at_origin: f64,
}

/// The faces of `items` that `camera` sees, each without what stands before it.
pub fn faces_seen(items: &[Viewed<'_>], camera: Camera) -> Vec<FaceSeen> {
    let mut fronts: Vec<Front> =
        items.iter().enumerate().flat_map(|(i, it)| of_item(i, it, camera)).collect();
    fronts.sort_by(|a, b| b.nearest.total_cmp(&a.nearest).then((a.item, a.face).cmp(&(b.item, b.face))));
    let seen = fronts.iter().enumerate().filter_map(|(own, front)| {
        let region = left_of(own, front, &fronts);
        let rings = region.rings();
        (!rings.is_empty()).then_some(FaceSeen { item: front.item, face: front.face, rings })
    });
    seen.collect()
}

/// The faces of one solid that look to the viewer.
fn of_item(item: usize, it: &Viewed<'_>, camera: Camera) -> Vec<Front> {
    let toward = camera.toward();
    let space: Vec<DVec3> = it.solid.points.iter().map(|p| it.at.point(*p)).collect();
    let front = |(index, face): (usize, &crate::solid::Face)| {
        let normal = it.at.dir(face.plane.normal);
        let facing = normal.dot(toward);
        if facing <= HAIR {
            return None;
        }
        let rings: Vec<Vec<DVec3>> = face
            .loops
            .iter()
            .map(|ring| ring.iter().filter_map(|i| space.get(*i as usize).copied()).collect())
            .collect();
        let flat: Vec<Vec<DVec2>> =
            rings.iter().map(|ring| ring.iter().map(|p| camera.project(*p)).collect()).collect();
        let first = *rings.first()?.first()?;
        let slope = slope(normal, facing, camera);
        let depths = || rings.iter().flatten().map(|p| toward.dot(*p));
        let corners = || flat.iter().flatten();
        Some(Front {
            item,
            face: index,
            low: corners().fold(DVec2::INFINITY, |low, p| low.min(*p)),
            high: corners().fold(DVec2::NEG_INFINITY, |high, p| high.max(*p)),
            region: Region::of_rings(&flat),
            nearest: depths().fold(f64::NEG_INFINITY, f64::max),
            farthest: depths().fold(f64::INFINITY, f64::min),
            slope,
            at_origin: toward.dot(first) - slope.dot(camera.project(first)),
        })
    };
    it.solid.faces.iter().enumerate().filter_map(front).collect()
}

/// What is left of a face behind those that stand before it; `all` nearest first.
fn left_of(own: usize, face: &Front, all: &[Front]) -> Region {
    let mut region = face.region.clone();
    for (index, other) in all.iter().enumerate() {
        if other.nearest <= face.farthest + DEPTH || region.is_empty() {
            break;
        }
        let (low, high) = (face.low.max(other.low), face.high.min(other.high));
        if index == own || low.cmpge(high).any() {
            continue;
        }
        let gap = |p: DVec2| (other.at_origin - face.at_origin) + (other.slope - face.slope).dot(p) - DEPTH;
        let before = before(low, high, gap);
        if before.len() < CORNERS_OF_AREA {
            continue;
        }
        let whole = before.len() == 4 && [low, high].iter().all(|p| gap(*p) > 0.0);
        let hides = if whole { other.region.clone() } else { other.region.and(&Region::of_rings([&before])) };
        region = region.minus(&hides);
    }
    region
}

/// Fewer corners than these bound nothing.
const CORNERS_OF_AREA: usize = 3;

/// The part of a box where a linear function is positive, counter-clockwise.
fn before(low: DVec2, high: DVec2, gap: impl Fn(DVec2) -> f64) -> Vec<DVec2> {
    let corners = [low, DVec2::new(high.x, low.y), high, DVec2::new(low.x, high.y)];
    let mut out = Vec::new();
    for (a, b) in corners.iter().zip(corners.iter().cycle().skip(1)) {
        let (at_a, at_b) = (gap(*a), gap(*b));
        if at_a > 0.0 {
            out.push(*a);
        }
        if (at_a > 0.0) != (at_b > 0.0) {
            out.push(a.lerp(*b, at_a / (at_a - at_b)));
        }
    }
    out
}

/// What two regions share, by their rings.
#[must_use]
pub fn in_both(a: &[Vec<DVec2>], b: &[Vec<DVec2>]) -> Vec<Vec<DVec2>> {
    Region::of_rings(a).and(&Region::of_rings(b)).rings()
}

/// What of region `a` is not in `b`, by their rings.
#[must_use]
pub fn only_in_first(a: &[Vec<DVec2>], b: &[Vec<DVec2>]) -> Vec<Vec<DVec2>> {
    Region::of_rings(a).minus(&Region::of_rings(b)).rings()
}

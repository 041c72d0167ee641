//! Faces toned by light: each region that is seen, lit or in shadow.
//!
//! What the light sees is found as what the eye sees is: faces looked at along the light,
//! each without what stands before it. The rest of a face lies in shadow.

use super::scene::{Kind, Scene, Thing};
use crate::geometry::tolerance::{MOSTLY, NOISE};
use crate::geometry::{DVec2, DVec3, Plane};
use crate::solid::{Camera, Eye, FaceSeen, Viewed, faces_seen, in_both, only_in_first};

/// Towards the light: from the left, the front and above, so that the top is lightest,
/// then the front, and what is seen of the right side lies in its own shadow.
const LIGHT: DVec3 = DVec3::new(-0.42, -0.5, 0.76);
/// Grey of a face that the light grazes, and what is added where it falls square on;
/// 1 is white. Dark tones would hide the figure of the wood in print.
const GRAZED: f64 = 0.77;
const SQUARE: f64 = 0.24;
/// Grey of a face in shadow that looks down, and what is added where it looks up.
const DARK: f64 = 0.62;
const SKY: f64 = 0.1;
/// Grey of shadows on wall and floor.
const SHADOW: f32 = 0.86;
/// Tones in one: nearer ones are one, so that facets of a round go over into one another
/// and flat faces are one path.
const TONES: f64 = 50.0;

/// Regions of one part in one tone.
pub(super) struct Toned {
    /// Which thing.
    pub(super) item: usize,
    /// 0 black to 1 white.
    pub(super) grey: f32,
    /// Picture mm at full size, y up.
    pub(super) rings: Vec<Vec<DVec2>>,
}

/// All that is seen.
pub(super) struct Tones {
    /// By thing and tone.
    pub(super) all: Vec<Toned>,
    /// The faces seen, by thing.
    pub(super) faces: Vec<FaceSeen>,
}

impl Tones {
    /// Those of a scene; `items` are its things as drawn.
    pub(super) fn of(scene: &Scene<'_>, things: &[&Thing<'_>], items: &[Viewed<'_>]) -> Self {
        let faces = faces_seen(items, Camera::TOP);
        let Some(light) = light() else { return Self { all: Vec::new(), faces } };
        let standing: Vec<Viewed<'_>> = things
            .iter()
            .enumerate()
            .filter_map(|(tag, thing)| Some(Viewed { solid: thing.solid()?, at: thing.at, tag }))
            .collect();
        let lit = faces_seen(&standing, light);
        let mut all: Vec<Toned> = Vec::new();
        for seen in &faces {
            let Some((thing, plane)) = face_of(things, seen) else { continue };
            let own = lit.iter().find(|one| (one.item, one.face) == (seen.item, seen.face));
            let lit = own.map(|one| carried(&one.rings, &plane, light, &scene.eye)).unwrap_or_default();
            for (bright, rings) in
                [(true, in_both(&seen.rings, &lit)), (false, only_in_first(&seen.rings, &lit))]
            {
                if let Some(grey) = grey(thing.kind, plane.normal, bright) {
                    add(&mut all, Toned { item: seen.item, grey, rings });
                }
            }
        }
        // What is round the furniture lies under it.
        all.sort_by_key(|toned| matches!(things.get(toned.item).map(|t| t.kind), Some(Kind::Part(_))));
        Self { all, faces }
    }
}

/// The thing a face belongs to, and the plane it stands in.
fn face_of<'s, 'a>(things: &[&'s Thing<'a>], seen: &FaceSeen) -> Option<(&'s Thing<'a>, Plane)> {
    let thing = *things.get(seen.item)?;
    let face = thing.solid()?.faces.get(seen.face)?;
    let normal = thing.at.dir(face.plane.normal);
    Some((thing, Plane { normal, offset: face.plane.offset + normal.dot(thing.at.origin) }))
}

/// The view along the light.
fn light() -> Option<Camera> {
    let toward = LIGHT.try_normalize()?;
    let right = DVec3::Z.cross(toward).try_normalize()?;
    Some(Camera { right, up: toward.cross(right), zoom: 1.0 })
}

/// A region of a plane as the light sees it, carried over to the picture.
fn carried(rings: &[Vec<DVec2>], plane: &Plane, light: Camera, eye: &Eye) -> Vec<Vec<DVec2>> {
    let toward = light.toward();
    let facing = plane.normal.dot(toward);
    if facing < NOISE {
        return Vec::new();
    }
    let carry = |p: &DVec2| {
        let flat = light.right * p.x + light.up * p.y;
        let point = flat - toward * (plane.distance(flat) / facing);
        eye.place(point).map(DVec3::truncate)
    };
    rings.iter().filter_map(|ring| ring.iter().map(carry).collect()).collect()
}

/// The tone of a face; `None` for what stays white.
fn grey(kind: Kind, normal: DVec3, lit: bool) -> Option<f32> {
    // Wall and floor are slabs of which one side is there to be seen.
    let side = match kind {
        Kind::Part(_) => None,
        Kind::Wall => Some(DVec3::NEG_Y),
        Kind::OnWall => return None,
        Kind::Floor => Some(DVec3::Z),
    };
    if let Some(side) = side {
        return (!lit && normal.dot(side) > MOSTLY).then_some(SHADOW);
    }
    let square = normal.dot(LIGHT.normalize_or_zero()).max(0.0);
    let tone = if lit { GRAZED + SQUARE * square } else { DARK + SKY * (1.0 + normal.z) };
    #[allow(clippy::cast_possible_truncation, reason = "a few tones between 0 and 1")]
    Some(((tone * TONES).round() / TONES) as f32)
}

/// A region thinner than this is left of rounding along an edge, mm at full size.
const SLIVER: f64 = 1.0;

/// Whether a ring is but a hair: its area over half its length.
fn is_sliver(ring: &[DVec2]) -> bool {
    let next = || ring.iter().zip(ring.iter().cycle().skip(1));
    let area: f64 = next().map(|(a, b)| a.perp_dot(*b)).sum::<f64>() / 2.0;
    let around: f64 = next().map(|(a, b)| a.distance(*b)).sum();
    area.abs() < SLIVER * around / 2.0
}

/// Puts regions to those of the same thing and tone.
fn add(all: &mut Vec<Toned>, mut toned: Toned) {
    toned.rings.retain(|ring| !is_sliver(ring));
    if toned.rings.is_empty() {
        return;
    }
    #[allow(clippy::float_cmp, reason = "tones are rounded to the same steps")]
    let same = |known: &&mut Toned| known.item == toned.item && known.grey == toned.grey;
    match all.iter_mut().find(same) {
        Some(known) => known.rings.extend(toned.rings),
        None => all.push(toned),
    }
}

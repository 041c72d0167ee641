//! Perspective and what is seen of faces, against closed forms worked here.

use rodwright::geometry::{DVec2, DVec3, Placement, trig};
use rodwright::solid::{Body, Camera, Eye, HiddenLines, Prism, Solid, Viewed, carve, faces_seen, view};

use crate::support::assert_near;

fn cuboid(low: DVec3, high: DVec3) -> Solid {
    carve(&Body::Prism(Prism::cuboid(low, high)), &[]).unwrap()
}

fn eye() -> Eye {
    let (sin, cos) = trig::sin_cos(0.5);
    Eye {
        centre: DVec3::new(300.0, 150.0, 900.0),
        right: DVec3::new(cos, sin, 0.0),
        up: DVec3::Z,
        distance: 2000.0,
    }
}

/// Where the straight line from the eye to a point meets the picture plane.
fn pierced(eye: &Eye, point: DVec3) -> DVec2 {
    let toward = eye.right.cross(eye.up);
    let from = eye.centre + toward * eye.distance;
    let ray = point - from;
    let at = from + ray * ((eye.centre - from).dot(toward) / ray.dot(toward));
    DVec2::new((at - eye.centre).dot(eye.right), (at - eye.centre).dot(eye.up))
}

fn corners(low: DVec3, high: DVec3) -> Vec<DVec3> {
    let pick = |bit: u8, i: u8, a: f64, b: f64| if i & bit == 0 { a } else { b };
    (0..8)
        .map(|i| DVec3::new(pick(1, i, low.x, high.x), pick(2, i, low.y, high.y), pick(4, i, low.z, high.z)))
        .collect()
}

/// The lines of a box in perspective run between its corners as the straight lines from
/// the eye meet the picture plane, and upright edges stay upright.
#[test]
fn a_box_is_drawn_between_its_corners_seen_through_the_picture_plane() {
    let (low, high) = (DVec3::new(0.0, 0.0, 0.0), DVec3::new(600.0, 300.0, 420.0));
    let eye = eye();
    let drawn = eye.drawn(&cuboid(low, high), &Placement::IDENTITY).unwrap();
    let item = Viewed { solid: &drawn, at: Placement::IDENTITY, tag: 0 };
    let lines = view(&[item], Camera::TOP, HiddenLines::Show);
    let wanted: Vec<DVec2> = corners(low, high).iter().map(|p| pierced(&eye, *p)).collect();
    let is_corner = |p: DVec2| wanted.iter().any(|q| q.distance(p) < 1e-6);
    assert_eq!(lines.len(), 12);
    assert!(lines.iter().all(|l| is_corner(l.a) && is_corner(l.b)), "{lines:?} {wanted:?}");
    // Seen from the front, the right and above: three faces, nine of twelve edges.
    assert_eq!(lines.iter().filter(|l| !l.kind.is_hidden()).count(), 9);
    let upright = lines.iter().filter(|l| (l.a.x - l.b.x).abs() < 1e-9).count();
    assert_eq!(upright, 4);
}

/// What is behind the eye is not drawn, and nothing is turned over through it.
#[test]
fn nothing_behind_the_eye_is_drawn() {
    let eye = eye();
    let behind = eye.centre + eye.toward() * (eye.distance + 10.0);
    assert!(eye.place(behind).is_none());
    let (low, high) = (eye.centre.min(behind) - DVec3::ONE, eye.centre.max(behind) + DVec3::ONE);
    assert!(eye.drawn(&cuboid(low, high), &Placement::IDENTITY).is_none());
    // In the picture plane lengths are true; twice as far they are half.
    let beside = eye.centre + eye.right * 100.0;
    assert_near(eye.place(beside).unwrap().x, 100.0, 1e-9);
    assert_near(eye.place(beside - eye.toward() * eye.distance).unwrap().x, 50.0, 1e-9);
}

fn area(rings: &[Vec<DVec2>]) -> f64 {
    let ring = |r: &Vec<DVec2>| {
        r.iter().zip(r.iter().cycle().skip(1)).map(|(a, b)| a.perp_dot(*b)).sum::<f64>() / 2.0
    };
    rings.iter().map(ring).sum()
}

/// A cube on a floor, looked at along the light: the floor is lit but for the foot of the
/// cube and its shadow, which is the foot swept along the light's way over the floor:
/// a^2 + a (|sx| + |sy|) for a cube of edge a and a shadow (sx, sy) long.
#[test]
fn a_cube_throws_the_shadow_of_its_closed_form() {
    let a = 100.0;
    let floor = cuboid(DVec3::new(-500.0, -500.0, -10.0), DVec3::new(500.0, 500.0, 0.0));
    let cube = cuboid(DVec3::ZERO, DVec3::splat(a));
    let toward = DVec3::new(-0.4, -0.5, 0.8).normalize();
    let right = DVec3::Z.cross(toward).normalize();
    let light = Camera { right, up: toward.cross(right), zoom: 1.0 };
    let items = [&floor, &cube].map(|solid| Viewed { solid, at: Placement::IDENTITY, tag: 0 });
    let seen = faces_seen(&items, light);
    let lit: Vec<_> =
        seen.iter().filter(|s| s.item == 0 && floor.faces[s.face].plane.normal.z > 0.5).collect();
    let along = (toward.x / toward.z * a, toward.y / toward.z * a);
    let shadow = a * a + a * (along.0.abs() + along.1.abs());
    assert_eq!(lit.len(), 1);
    // Within the depth that hidden lines leave open, 0.002 mm, along the shadow's border.
    assert_near(area(&lit[0].rings), (1000.0 * 1000.0 - shadow) * toward.z, 1.0);
    // Three faces of the cube look to the light, each whole and shortened by its angle.
    let own: f64 = seen.iter().filter(|s| s.item == 1).map(|s| area(&s.rings)).sum();
    assert_near(own, a * a * (toward.x.abs() + toward.y.abs() + toward.z), 1.0);
}

/// Of a face that another runs through, only what is before it is hidden: a level board
/// that stands out of an upright one by half is seen by half from the front.
#[test]
fn a_face_hides_only_what_is_behind_it() {
    let upright = cuboid(DVec3::new(0.0, 0.0, 0.0), DVec3::new(100.0, 10.0, 100.0));
    let leaning =
        Placement::from_axes(DVec3::new(0.0, 5.0, 20.0), DVec3::X, DVec3::new(0.0, 1.0, 1.0).normalize())
            .unwrap();
    let slab = cuboid(DVec3::new(0.0, -50.0, -1.0), DVec3::new(100.0, 50.0, 0.0));
    let items = [
        Viewed { solid: &upright, at: Placement::IDENTITY, tag: 0 },
        Viewed { solid: &slab, at: leaning, tag: 1 },
    ];
    let seen = faces_seen(&items, Camera::FRONT);
    let all: f64 = seen.iter().map(|s| area(&s.rings)).sum();
    // Nothing is seen twice: together they are the outline of both, 100 wide, from
    // the foot of the leaning slab to the top of the upright board.
    let foot = 20.0 - 51.0 * 0.5_f64.sqrt();
    let slab_foot =
        leaning.point(DVec3::new(0.0, -50.0, -1.0)).z.min(leaning.point(DVec3::new(0.0, -50.0, 0.0)).z);
    assert!(slab_foot >= foot - 1.0 && slab_foot < 0.0);
    assert_near(all, 100.0 * (100.0 - slab_foot), 1.0);
}

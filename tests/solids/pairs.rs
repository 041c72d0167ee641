//! Joints of two parts against an independent library: whether they stand in one
//! another, and on what area they touch.

use rodwright::geometry::{DVec3, Placement, trig};
use rodwright::solid::{Body, Prism, Standing, carve};
use serde_json::Value;

use crate::support::solids::{cutter, numbers};

/// Volumes shared and areas touched by manifold3d (double precision), see
/// `tests/data/solids/make_pairs.py`.
const PAIRS: &str = include_str!("../data/solids/pairs.json");

/// A part of the file where it stands.
fn standing(part: &Value) -> Standing {
    let size = numbers(&part["size"]);
    let cuts: Vec<Prism> = part["cuts"].as_array().unwrap().iter().map(cutter).collect();
    let body = Body::Prism(Prism::cuboid(DVec3::ZERO, DVec3::new(size[0], size[1], size[2])));
    let (turn, shift) = (numbers(&part["turn"]), numbers(&part["shift"]));
    assert_eq!((turn[0], turn[1]), (0.0, 0.0), "turned about z only");
    let (sin, cos) = trig::sin_cos(turn[2].to_radians());
    let at = Placement {
        origin: DVec3::new(shift[0], shift[1], shift[2]),
        x: DVec3::new(cos, sin, 0.0),
        y: DVec3::new(-sin, cos, 0.0),
        z: DVec3::Z,
    };
    Standing::new(&carve(&body, &cuts).unwrap(), &at)
}

#[test]
fn interference_and_contact_agree_with_manifold3d() {
    let pairs: Vec<Value> = serde_json::from_str(PAIRS).unwrap();
    assert!(pairs.len() >= 200);
    let (mut crossing, mut touching) = (0, 0);
    for (i, pair) in pairs.iter().enumerate() {
        let what = format!("pair {i}, {}", pair["kind"]);
        let [a, b] = [&pair["parts"][0], &pair["parts"][1]].map(standing);
        let shared = pair["shared"].as_f64().unwrap();
        let deep = a.interferes(&b);
        assert_eq!(deep.is_some(), shared > 1e-3, "{what}: {deep:?}, {shared} mm3 shared");
        assert_eq!(b.interferes(&a).is_some(), deep.is_some(), "{what}: from the other side");
        if shared > 1e-3 {
            crossing += 1;
            continue;
        }
        // What stands in the way of the second along a direction is the area of each
        // contact times how far it looks against that.
        let contacts = a.contacts(&b);
        for (k, expected) in numbers(&pair["touch"]).iter().enumerate() {
            let way = DVec3::AXES[k / 2] * if k % 2 == 0 { 1.0 } else { -1.0 };
            let found: f64 = contacts.iter().map(|c| c.area * (-c.normal.dot(way)).max(0.0)).sum();
            let slack = 1e-3 * expected.abs() + 0.5;
            assert!((found - expected).abs() <= slack, "{what} along {way}: {found}, not {expected}");
            touching += usize::from(*expected > 1.0);
        }
    }
    assert!(crossing >= 60 && touching >= 150, "{crossing} cross, {touching} touch");
}

//! Boards at any lean, joined by each word, against an independent library: the volume
//! of each, and that they share no wood.

use rodwright::geometry::{DVec2, DVec3, Outline, Placement, Ring};
use rodwright::solid::{Body, Prism, Standing, carve};
use serde_json::Value;

use crate::support::solids::numbers;

/// Parts and volumes by manifold3d (double precision), see
/// `tests/data/solids/make_leaning.py`.
const LEANING: &str = include_str!("../data/solids/leaning.json");

/// A frame of twelve figures.
fn frame(value: &Value) -> Placement {
    let n = numbers(value);
    let v = |i: usize| DVec3::new(n[i], n[i + 1], n[i + 2]);
    Placement { origin: v(0), x: v(3), y: v(6), z: v(9) }
}

/// A cut of the file.
fn prism(value: &Value) -> Prism {
    let rings = value["rings"].as_array().unwrap().iter().map(|ring| {
        let points = ring.as_array().unwrap().iter().map(numbers);
        Ring::straight(points.map(|p| DVec2::new(p[0], p[1])).collect())
    });
    let outline = Outline { rings: rings.collect(), arcs: Vec::new() };
    let height = |key: &str| value[key].as_f64().unwrap();
    Prism { at: frame(&value["at"]), outline, from: height("from"), to: height("to") }
}

#[test]
fn leaning_joints_agree_with_manifold3d() {
    let cases: Vec<Value> = serde_json::from_str(LEANING).unwrap();
    assert!(cases.len() >= 100);
    for (i, case) in cases.iter().enumerate() {
        let what = format!("case {i}, {}", case["work"]);
        let stand = |part: &Value| {
            let size = numbers(&part["size"]);
            let body = Body::Prism(Prism::cuboid(DVec3::ZERO, DVec3::new(size[0], size[1], size[2])));
            let cuts: Vec<Prism> = part["cuts"].as_array().unwrap().iter().map(prism).collect();
            let solid = carve(&body, &cuts).unwrap();
            let (found, expected) = (solid.volume(), part["volume"].as_f64().unwrap());
            assert!((found - expected).abs() < 1e-6 * expected, "{what}: {found}, not {expected}");
            Standing::new(&solid, &frame(&part["at"]))
        };
        let [a, b] = [&case["parts"][0], &case["parts"][1]].map(stand);
        let shared = case["shared"].as_f64().unwrap();
        assert!(shared < 0.01, "{what}: {shared} mm3 shared");
        assert_eq!(a.interferes(&b), None, "{what}");
    }
}

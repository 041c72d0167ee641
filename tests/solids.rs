//! Solids against an independent library.

use rodwright::geometry::DVec3;
use rodwright::solid::{Body, Prism, carve};
use serde_json::Value;

/// Volumes computed by manifold3d (double precision), see
/// `tests/data/solids/make_reference.py`.
const PARTS: &str = include_str!("data/solids/parts.json");

fn numbers(value: &Value) -> Vec<f64> {
    value.as_array().unwrap().iter().filter_map(Value::as_f64).collect()
}

fn cutter(cut: &Value) -> Prism {
    let v = numbers(cut);
    let at = |i: usize| DVec3::new(v[i], v[i + 1], v[i + 2]);
    match cut[0].as_str().unwrap() {
        "box" => Prism::cuboid(at(0), at(3)),
        "half" => Prism::half_space(at(0), at(3)).unwrap(),
        "hole" => Prism::hole(at(0), at(3), v[6], v[7]).unwrap(),
        other => panic!("unknown cut {other}"),
    }
}

#[test]
fn volumes_agree_with_manifold3d() {
    let parts: Vec<Value> = serde_json::from_str(PARTS).unwrap();
    assert!(parts.len() >= 500);
    let mut worst = 0.0_f64;
    for (i, part) in parts.iter().enumerate() {
        let size = numbers(&part["size"]);
        let body = Body::Prism(Prism::cuboid(DVec3::ZERO, DVec3::new(size[0], size[1], size[2])));
        let cuts: Vec<Prism> = part["cuts"].as_array().unwrap().iter().map(cutter).collect();
        let solid = carve(&body, &cuts).unwrap_or_else(|e| panic!("part {i}: {e:?} {part}"));
        let expected = part["volume"].as_f64().unwrap();
        let error = (solid.volume() - expected).abs() / expected;
        assert!(error <= 1e-6, "part {i}: {} against {expected}: {part}", solid.volume());
        worst = worst.max(error);
    }
    println!("{} parts, worst relative error {worst:e}", parts.len());
}

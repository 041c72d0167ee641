//! Parts whose volumes an independent library worked out, and what holds of every
//! solid.

use std::collections::BTreeMap;

use rodwright::geometry::DVec3;
use rodwright::solid::{Body, Prism, Solid};
use serde_json::Value;

/// Whether every side of a face is that of another, run the other way.
pub(crate) fn is_closed(solid: &Solid) -> bool {
    let mut sides: Vec<(u32, u32)> = Vec::new();
    for ring in solid.faces.iter().flat_map(|f| &f.loops) {
        sides.extend(ring.iter().zip(ring.iter().cycle().skip(1)).map(|(a, b)| (*a, *b)));
    }
    let mut turned: Vec<(u32, u32)> = sides.iter().map(|(a, b)| (*b, *a)).collect();
    sides.sort_unstable();
    turned.sort_unstable();
    !sides.is_empty() && sides == turned
}

/// Volumes computed by manifold3d (double precision), see
/// `tests/data/solids/make_reference.py`.
const PARTS: &str = include_str!("../data/solids/parts.json");

/// The numbers of a list.
pub(crate) fn numbers(value: &Value) -> Vec<f64> {
    value.as_array().unwrap().iter().filter_map(Value::as_f64).collect()
}

/// A cutter of the reference data.
pub(crate) fn cutter(cut: &Value) -> Prism {
    let v = numbers(cut);
    let at = |i: usize| DVec3::new(v[i], v[i + 1], v[i + 2]);
    match cut[0].as_str().unwrap() {
        "box" => Prism::cuboid(at(0), at(3)),
        "half" => Prism::half_space(at(0), at(3)).unwrap(),
        "hole" => Prism::hole(at(0), at(3), v[6], v[7]).unwrap(),
        other => panic!("unknown cut {other}"),
    }
}

/// One part of the reference list.
pub(crate) struct Reference {
    pub(crate) body: Body,
    pub(crate) cuts: Vec<Prism>,
    /// By the independent library, mm3.
    pub(crate) volume: f64,
}

/// The parts of the reference list, in its order.
pub(crate) fn reference() -> Vec<Reference> {
    listed(PARTS)
}

/// The parts of a list such as the reference list.
pub(crate) fn listed(list: &str) -> Vec<Reference> {
    let parts: Vec<Value> = serde_json::from_str(list).unwrap();
    let read = |part: &Value| {
        let size = numbers(&part["size"]);
        Reference {
            body: Body::Prism(Prism::cuboid(DVec3::ZERO, DVec3::new(size[0], size[1], size[2]))),
            cuts: part["cuts"].as_array().unwrap().iter().map(cutter).collect(),
            volume: part["volume"].as_f64().unwrap(),
        }
    };
    parts.iter().map(read).collect()
}

/// Fails unless every edge of every face is met by one running the other way.
/// Counted from the faces alone, not from the solid's own list of edges.
#[track_caller]
pub(crate) fn assert_closed(solid: &Solid, what: &str) {
    let mut open: BTreeMap<(u32, u32), i32> = BTreeMap::new();
    for ring in solid.faces.iter().flat_map(|f| &f.loops) {
        for (&a, &b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
            *open.entry((a.min(b), a.max(b))).or_default() += if a < b { 1 } else { -1 };
        }
    }
    open.retain(|_, n| *n != 0);
    assert!(open.is_empty(), "{what}: open at {open:?}");
}

//! Solids against an independent library.

use rodwright::solid::carve;

use crate::support::solids::{assert_closed, reference};

#[test]
fn volumes_agree_with_manifold3d() {
    let parts = reference();
    assert!(parts.len() >= 500);
    let mut worst = 0.0_f64;
    for (i, part) in parts.iter().enumerate() {
        let solid = carve(&part.body, &part.cuts).unwrap_or_else(|e| panic!("part {i}: {e:?}"));
        assert_closed(&solid, &format!("part {i}"));
        let error = (solid.volume() - part.volume).abs() / part.volume;
        assert!(error <= 1e-6, "part {i}: {} against {}", solid.volume(), part.volume);
        worst = worst.max(error);
    }
    println!("{} parts, worst relative error {worst:e}", parts.len());
}

//! Solids against an independent library.

use rodwright::solid::carve;

use crate::support::solids::{assert_closed, listed, reference};

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

/// Any number of parts by other lots, as the head of `make_reference.py` tells.
#[test]
#[ignore = "needs a list made by make_reference.py"]
fn other_lots() {
    let Ok(path) = std::env::var("PARTS") else { panic!("name the list: PARTS=other.json") };
    let parts = listed(&std::fs::read_to_string(path).unwrap());
    let (mut worst, mut wrong) = (0.0_f64, Vec::new());
    for (i, part) in parts.iter().enumerate() {
        match carve(&part.body, &part.cuts) {
            Ok(solid) => {
                assert_closed(&solid, &format!("part {i}"));
                // Of a splinter of some mm3 the grid of 2^-24 mm is more than a part in 10^8.
                let error = (solid.volume() - part.volume).abs() / part.volume.max(300.0);
                worst = worst.max(error);
                if error > 1e-8 {
                    wrong.push(format!("part {i}: off by {error:e}"));
                }
            }
            Err(why) => wrong.push(format!("part {i}: {why:?}")),
        }
    }
    println!("{} parts, worst relative error {worst:e}", parts.len());
    assert!(wrong.is_empty(), "{} of {}: {wrong:#?}", wrong.len(), parts.len());
}

//! Contact, ways out and interference of boxes, where plain arithmetic answers.

use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use rodwright::geometry::{DVec2, DVec3, Outline, Placement, trig};
use rodwright::solid::{Body, Prism, Standing, carve};

use crate::support::assert_near;

/// A box on a grid of 10 mm.
#[derive(Clone, Copy, Debug)]
struct Block {
    low: DVec3,
    high: DVec3,
}

impl Block {
    fn standing(self, at: &Placement) -> Standing {
        Standing::new(&carve(&Body::Prism(Prism::cuboid(self.low, self.high)), &[]).unwrap(), at)
    }

    /// Lengths shared along the axes; negative where a gap lies between.
    fn shared(self, other: Self) -> DVec3 {
        self.high.min(other.high) - self.low.max(other.low)
    }
}

fn blocks() -> impl Strategy<Value = Block> {
    let three = |r: std::ops::Range<i32>| prop::array::uniform3(r);
    (three(-3..4), three(1..5)).prop_map(|(low, size)| {
        let low = DVec3::from(low.map(f64::from)) * 10.0;
        Block { low, high: low + DVec3::from(size.map(f64::from)) * 10.0 }
    })
}

const AXES: [DVec3; 6] = [DVec3::X, DVec3::NEG_X, DVec3::Y, DVec3::NEG_Y, DVec3::Z, DVec3::NEG_Z];

proptest! {
    #![proptest_config(ProptestConfig { cases: 192, failure_persistence: None, rng_seed: RngSeed::Fixed(20_261_125), ..ProptestConfig::default() })]

    #[test]
    fn boxes_touch_block_and_collide_as_arithmetic_says(one in blocks(), two in blocks(), turn in 0.0..6.0) {
        let (s, c) = trig::sin_cos(turn);
        let at = Placement::from_axes(DVec3::new(70.0, -30.0, 5.0), DVec3::new(c, s, 0.0), DVec3::new(-s, c, 0.0)).unwrap();
        let (a, b) = (one.standing(&at), two.standing(&at));
        let shared = one.shared(two);
        prop_assert_eq!(a.interferes(&b).is_some(), shared.min_element() > 0.0);
        prop_assert_eq!(b.interferes(&a).is_some(), shared.min_element() > 0.0);
        prop_assert_eq!([a.runs_into(&b), b.runs_into(&a)], [shared.min_element() > 0.0; 2]);
        for along in AXES {
            let across = DVec3::select(along.abs().cmpgt(DVec3::splat(0.5)), DVec3::INFINITY, shared).min_element() > 0.0;
            let front = if along.element_sum() > 0.0 { along.dot(one.high) } else { along.dot(one.low) };
            let back = if along.element_sum() > 0.0 { along.dot(two.low) } else { along.dot(two.high) };
            if shared.min_element() <= 0.0 {
                prop_assert_eq!(a.is_blocked_by(&b, at.dir(along)), across && back >= front, "{}", along);
            }
        }
        // Touching: opposed faces in one plane that share an area.
        let mut area = 0.0;
        for along in [DVec3::X, DVec3::Y, DVec3::Z] {
            let rest = DVec3::select(along.cmpgt(DVec3::splat(0.5)), DVec3::ONE, shared);
            let meet = |a: f64, b: f64| (a - b).abs() < 1e-9;
            let touching = meet(along.dot(one.high), along.dot(two.low)) || meet(along.dot(one.low), along.dot(two.high));
            if touching && rest.min_element() > 0.0 {
                area += rest.element_product();
            }
        }
        let found: f64 = a.contacts(&b).iter().map(|c| c.area).sum();
        prop_assert!((found - area).abs() < 1e-3, "{found} {area}");
    }
}

#[test]
fn a_sliding_dovetail_moves_along_its_channel_only() {
    // A channel at 30 degrees across a board, wider at its bottom.
    let (s, c) = trig::sin_cos(std::f64::consts::PI / 6.0);
    let along = DVec3::new(c, s, 0.0);
    let at = Placement::from_axes(DVec3::new(100.0, 60.0, 18.0), DVec3::new(-s, c, 0.0), DVec3::Z).unwrap();
    let tail = Outline::polygon(vec![
        DVec2::new(-8.0, -9.0),
        DVec2::new(8.0, -9.0),
        DVec2::new(5.0, 0.0),
        DVec2::new(-5.0, 0.0),
    ]);
    let channel = Prism { at, outline: tail, from: -400.0, to: 400.0 };
    let board = Body::Prism(Prism::cuboid(DVec3::ZERO, DVec3::new(200.0, 120.0, 18.0)));
    let board = Standing::new(&carve(&board, std::slice::from_ref(&channel)).unwrap(), &Placement::IDENTITY);
    let rail = Body::Prism(Prism { from: -60.0, to: 60.0, ..channel });
    let rail = Standing::new(&carve(&rail, &[]).unwrap(), &Placement::IDENTITY);
    assert_eq!(rail.interferes(&board), None);
    for way in [along, -along] {
        assert!(!rail.is_blocked_by(&board, way), "{way}");
    }
    for way in [DVec3::X, DVec3::NEG_X, DVec3::Y, DVec3::NEG_Y, DVec3::Z, DVec3::NEG_Z] {
        assert!(rail.is_blocked_by(&board, way), "{way}");
    }
    // Bottom and two flanks: 120 long, 16 wide and twice sqrt(3^2 + 9^2).
    let area: f64 = rail.contacts(&board).iter().map(|c| c.area).sum();
    assert_near(area, 120.0 * (16.0 + 2.0 * 90.0_f64.sqrt()), 1e-3);
}

//! How far a box reaches along an axis, within bounds across it.

use super::{DVec3, Interval, Placement};

/// Every box corner lies at 0 or 1 of each size.
const FACES: [(usize, f64); 6] = [(0, 0.0), (0, 1.0), (1, 0.0), (1, 1.0), (2, 0.0), (2, 1.0)];

/// From where to where a box of `size` that stands at `at` reaches along axis `axis`
/// (0 x, 1 y, 2 z), looking only at what lies within some intervals of the other two;
/// `None` if nothing of it does.
///
/// ```
/// use rodwright::geometry::{DVec3, Interval, Placement, extent_within};
/// // A board 18 thick that leans by 3 in 4, at 400 up its length of 500.
/// let at = Placement::from_axes(DVec3::ZERO, DVec3::new(-0.6, 0.0, 0.8), DVec3::Y).unwrap();
/// let size = DVec3::new(500.0, 100.0, 18.0);
/// let level = Interval::at(160.0);
/// let found = extent_within(&at, size, 0, [None, None, Some(level)]).unwrap();
/// assert!((found.to + 120.0).abs() < 1e-9, "{found:?}");
/// ```
pub fn extent_within(
    at: &Placement,
    size: DVec3,
    axis: usize,
    within: [Option<Interval>; 3],
) -> Option<Interval> {
    // A corner of what is left lies on a face of the box, cut along by the bounds.
    let cut = FACES.iter().flat_map(|(normal, side)| {
        let face = face(at, size, *normal, *side);
        let mut others = within;
        others[axis] = None;
        ring_within(face, others)
    });
    Interval::of(cut.map(|p| p[axis]))
}

/// What of a flat ring lies within some intervals of the three axes: its corners, in order
/// round it; empty if nothing does.
pub fn ring_within(ring: Vec<DVec3>, within: [Option<Interval>; 3]) -> Vec<DVec3> {
    (0..3).zip(within).fold(ring, |ring, (axis, bounds)| match bounds {
        Some(bounds) => clip(&clip(&ring, axis, bounds.from, 1.0), axis, bounds.to, -1.0),
        None => ring,
    })
}

/// The corners of one face, in order round it.
fn face(at: &Placement, size: DVec3, normal: usize, side: f64) -> Vec<DVec3> {
    let (u, v) = ((normal + 1) % 3, (normal + 2) % 3);
    let corner = |(a, b): (f64, f64)| {
        let mut share = DVec3::ZERO;
        (share[normal], share[u], share[v]) = (side, a, b);
        at.point(share * size)
    };
    [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)].map(corner).to_vec()
}

/// What of a flat ring lies on the side of a bound that `way` points to.
fn clip(ring: &[DVec3], axis: usize, bound: f64, way: f64) -> Vec<DVec3> {
    let inside = |p: &DVec3| way * (p[axis] - bound) >= 0.0;
    let mut kept = Vec::with_capacity(ring.len() + 1);
    for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
        if inside(a) {
            kept.push(*a);
        }
        if inside(a) != inside(b) {
            kept.push(*a + (*b - *a) * ((bound - a[axis]) / (b[axis] - a[axis])));
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_box_reaches_only_as_far_as_what_lies_within_the_bounds() {
        let (at, size) = (Placement::IDENTITY.moved(DVec3::splat(10.0)), DVec3::new(30.0, 20.0, 5.0));
        let whole = extent_within(&at, size, 0, [None; 3]).unwrap();
        assert_eq!(whole, Interval { from: 10.0, to: 40.0 });
        let beside = [None, Some(Interval { from: 31.0, to: 40.0 }), None];
        assert_eq!(extent_within(&at, size, 0, beside), None);
        // Stood on an edge at 45 degrees, its highest line over the middle.
        let half = 0.5_f64.sqrt();
        let (x, y) = (DVec3::new(half, 0.0, half), DVec3::Y);
        let at = Placement::from_axes(DVec3::ZERO, x, y).unwrap();
        let size = DVec3::new(100.0, 10.0, 100.0);
        let up = |from: f64, to: f64| extent_within(&at, size, 2, [Some(Interval { from, to }), None, None]);
        let near = |found: Option<Interval>, from: f64, to: f64| {
            let found = found.unwrap();
            assert!((found.from - from).abs() < 1e-9 && (found.to - to).abs() < 1e-9, "{found:?}");
        };
        let tip = 100.0 * 2.0_f64.sqrt();
        near(up(-10.0, 10.0), 0.0, tip);
        near(up(20.0, 30.0), 20.0, tip - 20.0);
        assert_eq!(up(80.0, 90.0), None);
    }
}

//! Where in a view there is wood: letters and marks are pencilled on it, not in the air beside
//! a mitred end or under an arch.

use kurbo::{Point, Rect};

use super::frame::Frame;
use crate::geometry::tolerance::NOISE;
use crate::joinery::WorkedPart;

/// The faces of a part that look to the viewer.
#[derive(Debug)]
pub(super) struct Ground {
    /// The rings of each on the sheet.
    faces: Vec<Vec<Vec<Point>>>,
}

/// How far inside a box its corners are looked at, mm.
const INSET: f64 = 0.1;
/// How far under the upper border of a view its edge is looked for first, and in what steps
/// on from there, mm.
const HAIR: f64 = 0.05;
const STEP: f64 = 0.25;

impl Ground {
    /// That of `part` as `frame` shows it.
    pub(super) fn of(part: &WorkedPart, frame: &Frame) -> Self {
        let solid = &part.solid;
        let ring = |points: &Vec<u32>| {
            let corners = points.iter().filter_map(|at| solid.points.get(usize::try_from(*at).ok()?));
            corners.map(|corner| frame.point(*corner)).collect()
        };
        let looks = |face: &&crate::solid::Face| face.plane.normal.dot(frame.face.normal()) > NOISE;
        let faces = solid.faces.iter().filter(looks);
        Self { faces: faces.map(|face| face.loops.iter().map(ring).collect()).collect() }
    }

    /// A whole board.
    #[cfg(test)]
    pub(super) fn whole(rect: Rect) -> Self {
        let corners = [(rect.x0, rect.y0), (rect.x1, rect.y0), (rect.x1, rect.y1), (rect.x0, rect.y1)];
        Self { faces: vec![vec![corners.into_iter().map(Point::from).collect()]] }
    }

    /// Whether there is wood at a point of the sheet.
    fn at(&self, p: Point) -> bool {
        self.faces.iter().any(|rings| {
            let crossed: usize = rings.iter().map(|ring| crossings(ring, p)).sum();
            !crossed.is_multiple_of(2)
        })
    }

    /// Whether a box on the sheet lies on wood, by its corners and its middle.
    pub(super) fn under(&self, rect: Rect) -> bool {
        let inner = rect.inset(-INSET);
        let corners = [
            Point::new(inner.x0, inner.y0),
            Point::new(inner.x1, inner.y0),
            Point::new(inner.x0, inner.y1),
            Point::new(inner.x1, inner.y1),
            inner.center(),
        ];
        corners.into_iter().all(|corner| self.at(corner))
    }

    /// Where the upper edge of the wood lies at `x`, within the box of the view; none where
    /// there is no wood.
    pub(super) fn top(&self, x: f64, rect: Rect) -> Option<f64> {
        if self.at(Point::new(x, rect.y0 + HAIR)) {
            return Some(rect.y0);
        }
        let mut y = rect.y0 + STEP;
        while y < rect.y1 {
            if self.at(Point::new(x, y)) {
                return Some(y);
            }
            y += STEP;
        }
        None
    }
}

/// How often a line from `p` to the right crosses a ring.
fn crossings(ring: &[Point], p: Point) -> usize {
    let next = ring.iter().cycle().skip(1);
    let crosses = |(a, b): &(&Point, &Point)| {
        (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x)
    };
    ring.iter().zip(next).filter(crosses).count()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A mitred length, 60 × 20, its ends at 45°: wood is between them alone.
    #[test]
    fn there_is_no_wood_beside_a_mitre() {
        let ring = [(0.0, 0.0), (60.0, 0.0), (40.0, 20.0), (20.0, 20.0)];
        let ground = Ground { faces: vec![vec![ring.iter().map(|p| Point::from(*p)).collect()]] };
        let letter = |x: f64, y: f64| ground.under(Rect::from_center_size((x, y), (2.6, 3.6)));
        assert!(!letter(4.0, 15.0) && !letter(56.0, 15.0), "in the air");
        assert!(letter(22.0, 15.0) && letter(30.0, 10.0) && letter(6.0, 3.0));
        let rect = Rect::new(0.0, 0.0, 60.0, 20.0);
        assert_eq!(ground.top(30.0, rect), Some(0.0));
        assert_eq!(ground.top(70.0, rect), None);
    }

    /// Under an arch the lower edge is where the wood ends, and through a hole there is none.
    #[test]
    fn there_is_no_wood_in_a_hole() {
        let square = |a: f64, b: f64| vec![(a, a), (b, a), (b, b), (a, b)];
        let ring = |points: Vec<(f64, f64)>| points.into_iter().map(Point::from).collect();
        let ground = Ground { faces: vec![vec![ring(square(0.0, 40.0)), ring(square(15.0, 25.0))]] };
        assert!(!ground.under(Rect::from_center_size((20.0, 20.0), (4.0, 4.0))));
        assert!(ground.under(Rect::from_center_size((8.0, 20.0), (4.0, 4.0))));
    }
}

//! Which parts are alike as they lie, before anything is carved: a run of bays
//! has many equal shelves, and one carving does for all.

use std::collections::BTreeMap;

use super::fill::FillShape;
use super::worked::{PartSource, WorkedPart};
use crate::geometry::{DVec2, DVec3, Outline, Placement};
use crate::solid::{Body, Prism, Transition};

/// Steps that no i64 holds: what lies further off is like nothing.
const WILD: f64 = 9e18;

/// Steps in a millimetre: a ten-millionth is far more than sums of sizes stray,
/// and far less than any cut.
const STEPS: f64 = 1e7;

/// For each part the first that has its body and its cuts in their order, itself
/// if none before it has.
pub(in crate::joinery) fn firsts(parts: &[WorkedPart]) -> Vec<usize> {
    let mut known: BTreeMap<Vec<i64>, usize> = BTreeMap::new();
    // A key that cannot be had makes a part its own first: it is carved by itself, which
    // costs time and no truth.
    let first = |(i, part)| Key::of(part).map_or(i, |key| *known.entry(key).or_insert(i));
    parts.iter().enumerate().map(first).collect()
}

/// All numbers of a shape in order, counted in steps.
#[derive(Default)]
struct Key {
    steps: Vec<i64>,
    /// Whether a number was none, or beyond counting.
    wild: bool,
}

impl Key {
    /// That of a part; none for lippings, which are shortened when they are
    /// carved, and where a number is none.
    fn of(part: &WorkedPart) -> Option<Vec<i64>> {
        if matches!(part.source, PartSource::Lipping { .. }) {
            return None;
        }
        let mut key = Self::default();
        match &part.body {
            Body::Prism(prism) => {
                // Says which body follows, so that figures of one kind never read as
                // those of the other.
                key.count(0);
                key.prism(prism);
            }
            Body::Turning(turning) => {
                key.count(1);
                key.placement(&turning.at);
                key.count(turning.stations.len());
                for station in &turning.stations {
                    key.numbers(&[station.along, station.diameter]);
                    key.count(match station.then {
                        Transition::Straight => 0,
                        Transition::Cove => 1,
                        Transition::Bead => 2,
                        Transition::Fillet => 3,
                    });
                }
            }
        }
        key.count(part.cuts.len());
        part.cuts.iter().for_each(|cut| key.prism(&cut.shape));
        key.count(part.fills.len());
        for fill in &part.fills {
            match fill.shape {
                FillShape::Ring { from, to, depth } => key.numbers(&[from, to, depth]),
                FillShape::Hollow { far, diameter, depth } => {
                    key.count(usize::from(far));
                    key.numbers(&[diameter, depth]);
                }
            }
        }
        (!key.wild).then_some(key.steps)
    }

    fn prism(&mut self, prism: &Prism) {
        self.placement(&prism.at);
        self.outline(&prism.outline);
        self.numbers(&[prism.from, prism.to]);
    }

    fn placement(&mut self, at: &Placement) {
        for DVec3 { x, y, z } in [at.origin, at.x, at.y, at.z] {
            self.numbers(&[x, y, z]);
        }
    }

    fn outline(&mut self, outline: &Outline) {
        self.count(outline.rings.len());
        for ring in &outline.rings {
            // Counts before figures: two outlines whose figures only run on alike keep
            // apart.
            self.count(ring.points.len());
            for DVec2 { x, y } in &ring.points {
                self.numbers(&[*x, *y]);
            }
            for edge in &ring.edges {
                self.count(edge.map_or(0, |arc| usize::from(arc) + 1));
            }
        }
        self.count(outline.arcs.len());
        for arc in &outline.arcs {
            self.numbers(&[arc.centre.x, arc.centre.y, arc.radius]);
        }
    }

    fn count(&mut self, count: usize) {
        self.steps.push(i64::try_from(count).unwrap_or(i64::MAX));
    }

    #[expect(clippy::cast_possible_truncation, reason = "whatever does not fit an i64 is wild")]
    fn numbers(&mut self, all: &[f64]) {
        for number in all {
            let steps = number * STEPS;
            self.wild |= steps.is_nan() || steps.abs() >= WILD;
            self.steps.push(steps.round() as i64);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_that_is_none_makes_a_shape_unlike_any() {
        let mut key = Key::default();
        key.numbers(&[12.5, -3.0]);
        assert_eq!((key.steps.as_slice(), key.wild), ([125_000_000, -30_000_000].as_slice(), false));
        for none in [f64::NAN, f64::INFINITY, 1e13] {
            let mut key = Key::default();
            key.numbers(&[none]);
            assert!(key.wild, "{none}");
        }
    }
}

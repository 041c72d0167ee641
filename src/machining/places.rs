//! Which face a distance is measured from, and rows of even distances.

use super::feature::{SAME, face_on};
use super::operation::{Extent, Reach};
use super::set::tidy;
use crate::model::Face;

/// The fewest cuts of one pitch that are given as a row.
const ROW: usize = 3;

/// Distances along a part, mm.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Distances {
    /// Each by itself, rising.
    Each(Vec<f64>),
    /// A row of even pitch.
    Row {
        /// The first.
        first: f64,
        /// The last.
        last: f64,
        /// From one to the next.
        pitch: f64,
    },
}

/// Distances from one face.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct From {
    /// The face.
    pub face: Face,
    /// How far.
    pub distances: Distances,
}

impl Distances {
    /// How many places.
    pub fn count(&self) -> usize {
        match self {
            Self::Each(all) => all.len(),
            Self::Row { first, last, pitch } => {
                let steps = ((last - first) / pitch).round();
                #[allow(
                    clippy::cast_possible_truncation,
                    clippy::cast_sign_loss,
                    reason = "a small whole number, made from that many places"
                )]
                let steps = steps.clamp(0.0, f64::from(u32::MAX)) as usize;
                steps + 1
            }
        }
    }

    /// Distances as they are given: a row where they are even.
    pub(crate) fn of(mut all: Vec<f64>) -> Self {
        for one in &mut all {
            *one = tidy(*one);
        }
        all.sort_by(f64::total_cmp);
        all.dedup_by(|a, b| (*a - *b).abs() < SAME);
        if let (Some(first), Some(last)) = (all.first().copied(), all.last().copied())
            && all.len() >= ROW
        {
            let pitch = (last - first) / (all.len() - 1) as f64;
            let even = |pair: &[f64]| (pair[1] - pair[0] - pitch).abs() < 2.0 * SAME;
            if pitch > SAME && all.windows(2).all(even) {
                return Self::Row { first, last, pitch: tidy(pitch) };
            }
        }
        Self::Each(all)
    }
}

/// Middles along a part: a row of one pitch as a row, all else from the nearer end.
pub(super) fn stops(middles: &[Extent]) -> Vec<From> {
    let Some(first) = middles.first() else { return Vec::new() };
    let from = |far: bool| -> Vec<f64> {
        middles.iter().map(|one| if far { one.turned().middle() } else { one.middle() }).collect()
    };
    // A row is measured from the end it comes nearer to.
    let nearest = |all: &[f64]| all.iter().copied().fold(f64::INFINITY, f64::min);
    let far = nearest(&from(true)) < nearest(&from(false)) - SAME;
    if let row @ Distances::Row { .. } = Distances::of(from(far)) {
        return vec![From { face: face_on(first.axis, far), distances: row }];
    }
    let mut ends: [Vec<f64>; 2] = [Vec::new(), Vec::new()];
    for one in middles {
        let far = one.size - one.middle() < one.middle() - SAME;
        ends[usize::from(far)].push(if far { one.size - one.middle() } else { one.middle() });
    }
    let told = [false, true].into_iter().zip(ends).filter(|(_, all)| !all.is_empty());
    told.map(|(far, all)| From { face: face_on(first.axis, far), distances: Distances::of(all) }).collect()
}

/// Where a channel stops before it runs out, from its ends.
pub(super) fn ends(lies: Extent) -> Vec<From> {
    let gaps = [(false, lies.low), (true, lies.size - lies.high)];
    let open = gaps.into_iter().filter(|(_, gap)| *gap > SAME);
    open.map(|(far, gap)| From { face: face_on(lies.axis, far), distances: Distances::Each(vec![gap]) })
        .collect()
}

/// Distances off the fence.
pub(super) fn off_fence(reaches: &[Reach], far: bool) -> Distances {
    Distances::of(reaches.iter().map(|reach| reach.distance(far)).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A row needs three places of one pitch; all else is told one by one, rising.
    #[test]
    fn places_of_one_pitch_are_a_row() {
        let row = |first, last, pitch| Distances::Row { first, last, pitch };
        assert_eq!(Distances::of(vec![150.0, 30.0, 270.0]), row(30.0, 270.0, 120.0));
        assert_eq!(Distances::of(vec![30.0, 150.0, 271.0]), Distances::Each(vec![30.0, 150.0, 271.0]));
        assert_eq!(Distances::of(vec![150.0, 30.0]), Distances::Each(vec![30.0, 150.0]));
        assert_eq!(Distances::of(vec![30.0, 30.0, 150.0, 30.0]), Distances::Each(vec![30.0, 150.0]));
        assert_eq!([row(30.0, 270.0, 120.0), Distances::Each(vec![5.0])].map(|all| all.count()), [3, 1]);
    }

    /// What a difference of two figures leaves over never reaches a list.
    #[test]
    fn places_bear_no_noise_of_sums() {
        assert_eq!(Distances::of(vec![584.2 - 571.5]), Distances::Each(vec![12.7]));
    }

    /// By hand on 400: a row from the end it comes nearer to, else each from the nearer.
    #[test]
    fn stops_are_from_the_nearer_end() {
        let at = |middles: &[f64]| {
            let lies = |m: &f64| Extent { axis: 0, low: m - 5.0, high: m + 5.0, size: 400.0 };
            let all = stops(&middles.iter().map(lies).collect::<Vec<_>>());
            all.into_iter().map(|from| (from.face, from.distances)).collect::<Vec<_>>()
        };
        let row = |first, last, pitch| Distances::Row { first, last, pitch };
        assert_eq!(at(&[50.0, 150.0, 250.0]), [(Face::NearEnd, row(50.0, 250.0, 100.0))]);
        assert_eq!(at(&[150.0, 250.0, 350.0]), [(Face::FarEnd, row(50.0, 250.0, 100.0))]);
        assert_eq!(at(&[100.0, 200.0, 300.0]), [(Face::NearEnd, row(100.0, 300.0, 100.0))]);
        assert_eq!(
            at(&[50.0, 200.0, 370.0]),
            [
                (Face::NearEnd, Distances::Each(vec![50.0, 200.0])),
                (Face::FarEnd, Distances::Each(vec![30.0]))
            ]
        );
        let gaps = |low: f64, high: f64| {
            let all = ends(Extent { axis: 0, low, high, size: 400.0 });
            all.into_iter().map(|from| (from.face, from.distances)).collect::<Vec<_>>()
        };
        let one = |gap: f64| Distances::Each(vec![gap]);
        assert_eq!(gaps(0.0, 400.0), []);
        assert_eq!(gaps(12.0, 400.0), [(Face::NearEnd, one(12.0))]);
        assert_eq!(gaps(12.0, 370.0), [(Face::NearEnd, one(12.0)), (Face::FarEnd, one(30.0))]);
    }
}

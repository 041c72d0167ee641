//! A part with a tenon on each end: the two lines its shoulders stand in, which it is set
//! out by, and what stands out beyond them.

use super::faces::{SAME, axis_side};
use super::form::{Feature, Form};
use super::joined::shoulder_end;
use crate::geometry::DVec3;

/// The tenons of a part that has one on each end, mm.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Tenons {
    /// The one on the near and the one on the far end.
    pub(crate) ends: [Tenon; 2],
    /// From shoulder to shoulder.
    pub(crate) between: f64,
}

/// One tenon, mm.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Tenon {
    /// Through the thickness of its part.
    pub(crate) thick: f64,
    /// Across it, where it is not cut back for a haunch.
    pub(crate) wide: f64,
    /// From the shoulders to its end.
    pub(crate) long: f64,
}

/// Where the shoulders of both ends stand along the part, if both have some: the inmost
/// of each, since a haunch ends nearer to its end.
fn lines(features: &[Feature], size: DVec3) -> Option<[f64; 2]> {
    let reach = |far: bool| {
        features.iter().filter(move |f| shoulder_end(f, size) == Some(far)).filter_map(move |f| {
            match &f.form {
                Form::Pocket { min, max, .. } => Some(if far { min.x } else { max.x }),
                _ => None,
            }
        })
    };
    let near = reach(false).reduce(f64::max)?;
    let far = reach(true).reduce(f64::min)?;
    (near < far - SAME).then_some([near, far])
}

/// Marks the shoulders that stand in those lines.
pub(crate) fn mark_lines(features: &mut [Feature], size: DVec3) {
    let Some([near, far]) = lines(features, size) else { return };
    for feature in features {
        let Form::Pocket { min, max, .. } = &feature.form else { continue };
        feature.in_line = match shoulder_end(feature, size) {
            Some(false) => (max.x - near).abs() < SAME,
            Some(true) => (min.x - far).abs() < SAME,
            None => false,
        };
    }
}

/// Marks the shoulders of each end that are cut back less far than the farthest of it.
pub(crate) fn mark_haunches(features: &mut [Feature], size: DVec3) {
    for far in [false, true] {
        let long = |f: &Feature| match &f.form {
            Form::Pocket { min, max, .. } if shoulder_end(f, size) == Some(far) => Some(max.x - min.x),
            _ => None,
        };
        let tenon = features.iter().filter_map(long).fold(0.0, f64::max);
        for feature in features.iter_mut() {
            // What is sawn off from the end itself is no side of a tenon.
            let sideways = matches!(&feature.form, Form::Pocket { entry, .. } if axis_side(*entry).0 != 0);
            feature.haunch |= sideways && long(feature).is_some_and(|long| tenon - long > SAME);
        }
    }
}

/// The tenons of a part, if it has one on each end.
pub(crate) fn tenons(features: &[Feature], size: DVec3) -> Option<Tenons> {
    let [near, far] = lines(features, size)?;
    let tenon = |end: bool, long: f64| {
        let (mut low, mut high) = (DVec3::ZERO, size);
        let at = |f: &&Feature| f.in_line && shoulder_end(f, size) == Some(end);
        for feature in features.iter().filter(at) {
            let Form::Pocket { min, max, .. } = &feature.form else { continue };
            // A shoulder takes the whole of one side; one that does not, between two
            // tenons, is no business of a single one.
            let side = (1..3).find(|axis| {
                let other = 3 - axis;
                min[other] < SAME && max[other] > size[other] - SAME
            })?;
            match (min[side] < SAME, max[side] > size[side] - SAME) {
                (true, false) => low[side] = low[side].max(max[side]),
                (false, true) => high[side] = high[side].min(min[side]),
                _ => return None,
            }
        }
        let left = high - low;
        (left.y > SAME && left.z > SAME).then_some(Tenon { thick: left.z, wide: left.y, long })
    };
    Some(Tenons { ends: [tenon(false, near)?, tenon(true, size.x - far)?], between: far - near })
}

impl Tenon {
    /// Whether another is of the same size.
    pub(crate) fn like(&self, other: &Self) -> bool {
        let close = |a: f64, b: f64| (a - b).abs() < SAME;
        close(self.thick, other.thick) && close(self.wide, other.wide) && close(self.long, other.long)
    }
}

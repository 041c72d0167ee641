//! Grooves that may run right through, because what they would cut beyond their
//! ends is cut away anyway: a groove between two tenoned ends.

use super::faces::SAME;
use super::form::{Feature, Form};
use crate::geometry::DVec3;
use crate::joinery::CutKind;

/// A box: least and greatest corner, mm.
type Span = (DVec3, DVec3);

/// Lets grooves and rebates run on to the ends of the blank where there is no
/// wood left for them to cut: they are ploughed through in one pass and need no
/// sizes for their ends.
pub(crate) fn run_on(features: &mut [Feature], size: DVec3) {
    let long = |kind| matches!(kind, CutKind::Groove | CutKind::Rebate);
    // Pieces of one groove end to end are no reason to draw each the whole length.
    let others: Vec<Span> = features
        .iter()
        .filter(|f| !long(f.kind))
        .filter_map(|f| match f.form {
            Form::Pocket { min, max, round: 0.0, .. } => Some((min, max)),
            _ => None,
        })
        .collect();
    for feature in features.iter_mut().filter(|f| long(f.kind)) {
        let Form::Pocket { min, max, round: 0.0, .. } = &mut feature.form else { continue };
        let before = (DVec3::new(0.0, min.y, min.z), DVec3::new(min.x, max.y, max.z));
        let beyond = (DVec3::new(max.x, min.y, min.z), DVec3::new(size.x, max.y, max.z));
        if covered(before, &others) {
            min.x = 0.0;
        }
        if covered(beyond, &others) {
            max.x = size.x;
        }
    }
}

/// Whether boxes leave nothing of a region.
fn covered((low, high): Span, boxes: &[Span]) -> bool {
    if (high - low).min_element() < SAME {
        return true;
    }
    let Some((at, &(a, b))) =
        boxes.iter().enumerate().find(|(_, (a, b))| (high.min(*b) - low.max(*a)).min_element() > SAME)
    else {
        return false;
    };
    let (a, b) = (a.max(low), b.min(high));
    let rest = boxes.get(at + 1..).unwrap_or_default();
    // What is left round the box, slab by slab.
    let (mut low, mut high) = (low, high);
    (0..3).all(|axis| {
        let (mut under, mut over) = (high, low);
        under[axis] = a[axis];
        over[axis] = b[axis];
        let clear = covered((low, under), rest) && covered((over, high), rest);
        low[axis] = a[axis];
        high[axis] = b[axis];
        clear
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::joinery::Stage;
    use crate::model::Face;

    #[test]
    fn a_region_is_covered_by_boxes_side_by_side_and_not_by_ones_that_leave_a_gap() {
        let span = |a: [f64; 3], b: [f64; 3]| (DVec3::from(a), DVec3::from(b));
        let region = span([0.0; 3], [10.0; 3]);
        let lower = span([0.0; 3], [10.0, 10.0, 6.0]);
        let upper = span([-1.0, 0.0, 6.0], [11.0, 10.0, 12.0]);
        assert!(covered(region, &[lower, upper]) && covered(region, &[upper, lower]));
        assert!(!covered(region, &[lower]) && !covered(region, &[]));
        let short = span([0.0, 0.0, 6.0], [10.0, 9.0, 12.0]);
        assert!(!covered(region, &[lower, short]));
        let corner = span([-1.0, 8.0, 5.0], [11.0, 11.0, 11.0]);
        assert!(covered(region, &[lower, short, corner]));
    }

    /// A rail 500 long is tenoned 20 at its ends, of which one is cut away where the
    /// groove comes out: only there it runs on.
    #[test]
    fn a_groove_runs_on_only_where_there_is_no_wood_left() {
        let size = DVec3::new(500.0, 60.0, 20.0);
        let box_of = |cut, kind, min: [f64; 3], max: [f64; 3]| {
            let form = Form::Pocket { min: min.into(), max: max.into(), entry: Face::Edge, round: 0.0 };
            Feature { cut, kind, stage: Stage::Loose, form, in_line: false, haunch: false }
        };
        let groove = || box_of(0, CutKind::Groove, [20.0, 0.0, 7.0], [480.0, 9.0, 13.0]);
        let ends = |haunch: [f64; 3], to: [f64; 3]| {
            let mut features = [groove(), box_of(1, CutKind::Shoulder, haunch, to)];
            run_on(&mut features, size);
            match &features[0].form {
                Form::Pocket { min, max, .. } => (min.x, max.x),
                form => panic!("{form:?}"),
            }
        };
        assert_eq!(ends([0.0, 0.0, 0.0], [20.0, 12.0, 20.0]), (0.0, 480.0));
        assert_eq!(ends([480.0, 0.0, 0.0], [500.0, 12.0, 20.0]), (20.0, 500.0));
    }
}

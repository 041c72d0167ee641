//! Flow lines: thin chain lines from where a part is drawn to where it goes, hidden by what
//! stands before them.

use kurbo::BezPath;

use super::project::OnSheet;
use crate::drawing::page::plate::Plate;
use crate::geometry::{DVec2, DVec3, Placement};
use crate::paper::{Pen, Role, dash};
use crate::solid::{Body, Prism, Solid, ViewLine, carve};

/// Tags of flow lines among the items viewed begin here.
pub(in crate::drawing) const FLOWS: usize = usize::MAX / 2;
/// Stretches of a flow line shorter than this many times its thickness are its ends.
const SPECK: f64 = 10.0;
/// Stretches nearer than this go on from one another, mm of the piece.
const GOES_ON: f64 = 0.1;
/// Stretches shorter than this say nothing, mm of the piece.
const LEAST: f64 = 0.5;
/// Thickness of the needles that flow lines are viewed as, mm.
const NEEDLE: f64 = 0.002;

/// A flow line between two points of the piece as a solid hardly thicker than a line, so that
/// what stands before it hides it.
pub(in crate::drawing) fn needle(from: DVec3, until: DVec3) -> Option<(Solid, Placement)> {
    let run = until - from;
    let at = Placement::looking(from, run, DVec3::Z)?;
    let (a, b) = (DVec3::new(-NEEDLE, -NEEDLE, 0.0), DVec3::new(NEEDLE, NEEDLE, run.length()));
    Some((carve(&Body::Prism(Prism::cuboid(a, b)), &[]).ok()?, at))
}

/// The seen stretches of the flow lines, each as one thin chain line.
pub(in crate::drawing) fn put(plate: &mut Plate, lines: &[ViewLine], on: OnSheet) {
    let mut path = BezPath::new();
    let mut tags: Vec<usize> = lines.iter().map(|line| line.tag).collect();
    tags.sort_unstable();
    tags.dedup();
    for tag in tags {
        let mine: Vec<&ViewLine> =
            lines.iter().filter(|l| l.tag == tag && l.a.distance(l.b) > SPECK * NEEDLE).collect();
        let Some(first) = mine.first() else { continue };
        let dir = (first.b - first.a).normalize_or(DVec2::X);
        let mut spans: Vec<(f64, f64)> = mine
            .iter()
            .map(|l| (dir.dot(l.a - first.a), dir.dot(l.b - first.a)))
            .map(|(s, e)| (s.min(e), s.max(e)))
            .collect();
        spans.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut joined: Vec<(f64, f64)> = Vec::new();
        for (s, e) in spans {
            match joined.last_mut() {
                Some(last) if s <= last.1 + GOES_ON => last.1 = last.1.max(e),
                _ => joined.push((s, e)),
            }
        }
        for (s, e) in joined.into_iter().filter(|(s, e)| e - s > LEAST) {
            path.move_to(on.point(first.a + dir * s));
            path.line_to(on.point(first.a + dir * e));
        }
    }
    plate.stroke(path, Pen { width: plate.narrow * Plate::FINE, dash: dash::CENTRE }, Role::Centre);
}

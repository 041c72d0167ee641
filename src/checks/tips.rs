//! Free-standing pieces that tip with their drawers and doors open: an estimate.

use super::figures::tipping::{BLOCK, CHILD, FILL, HIGH, Moments, PULL, REACH, Weight, moments, tilted};
use super::measuring::TOUCH;
use crate::geometry::DVec3;
use crate::joinery::{Opening, WorkedJob, WorkedPart};
use crate::measure::force;
use crate::model::{Job, PieceId};
use crate::problem::Problem;

/// Density where the stock says none, kg/m3: that of plywood (common practice, no source).
const USUAL: f64 = 600.0;
/// Cubic millimetres to the cubic metre.
const CUBIC_METRE: f64 = 1e9;
/// What of a drawer's box is room inside it, about (common practice, no source).
const INSIDE: f64 = 0.75;

/// Advice on each piece that tips, by the estimate.
pub(super) fn check(job: &Job, worked: &WorkedJob) -> Vec<Problem> {
    (0..job.pieces.len()).filter_map(|piece| tips(job, worked, PieceId(piece))).collect()
}

/// A part's mass, kg, and its centre.
fn weight(job: &Job, part: &WorkedPart) -> Option<(f64, DVec3)> {
    let density = job.stock.get(part.stock.0).and_then(crate::model::Stock::mean_density).unwrap_or(USUAL);
    Some((part.solid.volume() * density / CUBIC_METRE, part.at.point(part.solid.centroid()?)))
}

/// One test of the estimate: what is done, and its moments.
struct Tried {
    what: &'static str,
    moments: Moments,
}

fn tips(job: &Job, worked: &WorkedJob, id: PieceId) -> Option<Problem> {
    let piece = job.pieces.get(id.0)?;
    let own: Vec<usize> = (0..worked.parts.len()).filter(|part| worked.parts[*part].piece == id).collect();
    let here = |part: &usize| worked.parts.get(*part).is_some_and(|part| part.piece == id);
    let joints = || worked.joints.iter().filter(|joint| joint.parts.iter().any(here));
    let fixed = piece.hung == Some(true) || joints().any(|joint| joint.traits.hangs_on_wall);
    let opens: Vec<(usize, Opening)> =
        joints().filter_map(|joint| Some((*joint.parts.first()?, joint.opens?))).collect();
    let points = || {
        own.iter().flat_map(|part| {
            let part = &worked.parts[*part];
            part.solid.points.iter().map(|p| part.at.point(*p))
        })
    };
    let (low, high) =
        points().fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(low, high), p| (low.min(p), high.max(p)));
    if fixed || opens.is_empty() || high.z - low.z < HIGH || piece.floor.is_some_and(|floor| floor > TOUCH) {
        return None;
    }
    let front = points().filter(|p| p.z < low.z + TOUCH).map(|p| p.y).fold(f64::INFINITY, f64::min);
    let stand =
        Stand { job, worked, own: &own, front, high: high.z - low.z, deep: high.y - front, floor: low.z };
    let worst =
        stand.tried(&opens).into_iter().min_by(|a, b| a.moments.factor().total_cmp(&b.moments.factor()))?;
    let factor = worst.moments.factor();
    if factor >= 1.0 {
        return None;
    }
    let message = format!(
        "`{}` tips forward {}: {} keep it, {} tip it (an estimate)",
        piece.name,
        worst.what,
        force::moment(job.unit, worst.moments.resist, 0),
        force::moment(job.unit, worst.moments.tip, 0)
    );
    Some(Problem::advice("tips", message).at(piece.origin).help(
        "fix it to the wall, or make it deeper, lower or heavier at its foot; an estimate after ASTM F2057-23 as told in 16 CFR 1261, no test and no compliance: follow the local code",
    ))
}

/// A piece on its feet.
struct Stand<'s> {
    job: &'s Job,
    worked: &'s WorkedJob,
    own: &'s [usize],
    /// Where its front feet stand, y.
    front: f64,
    high: f64,
    deep: f64,
    floor: f64,
}

impl Stand<'_> {
    /// The conditions of the published tests that bear on it.
    fn tried(&self, opens: &[(usize, Opening)]) -> Vec<Tried> {
        let (weights, nearest) = self.open(opens, 0.0);
        let mut tried = vec![Tried {
            what: "when all stands open and a hand pulls",
            moments: moments(&weights, PULL, self.high.min(REACH)),
        }];
        let (filled, _) = self.open(opens, FILL);
        tried.push(Tried { what: "when all stands open and full", moments: moments(&filled, 0.0, 0.0) });
        if let Some(edge) = nearest {
            let (mut with_child, _) = self.open(opens, 0.0);
            let centre = self.centre_height();
            let back = tilted(centre, self.deep, BLOCK);
            for weight in &mut with_child {
                weight.behind -= back;
            }
            with_child.push(Weight { mass: CHILD, behind: edge - self.front });
            tried.push(Tried {
                what: "when a child stands on an open drawer, on carpet",
                moments: moments(&with_child, 0.0, 0.0),
            });
        }
        tried
    }

    /// Height of the centre over the floor, mm.
    fn centre_height(&self) -> f64 {
        let parts = self.own.iter().filter_map(|part| weight(self.job, &self.worked.parts[*part]));
        let (mass, sum) = parts.fold((0.0, 0.0), |(mass, sum), (one, at)| (mass + one, sum + one * at.z));
        if mass > 0.0 { sum / mass - self.floor } else { 0.0 }
    }

    /// All weights with what opens open, drawers filled to so many kg/m3; and the front
    /// edge of the drawer that comes out farthest.
    fn open(&self, opens: &[(usize, Opening)], fill: f64) -> (Vec<Weight>, Option<f64>) {
        let mut moved: Vec<(usize, DVec3)> = Vec::new();
        let mut edge: Option<f64> = None;
        let mut weights: Vec<Weight> = Vec::new();
        let mut done: Vec<Vec<usize>> = Vec::new();
        for (leaf, opening) in opens {
            let moving = self.worked.moving_with(*leaf);
            if done.contains(&moving) {
                continue;
            }
            let points: Vec<DVec3> = moving
                .iter()
                .filter_map(|part| self.worked.parts.get(*part))
                .flat_map(|part| part.solid.points.iter().map(|p| part.at.point(*p)))
                .collect();
            let (low, high) = points
                .iter()
                .fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(low, high), p| (low.min(*p), high.max(*p)));
            let pose = opening.pose((low + high) * 0.5, 1.0);
            for part in &moving {
                if let Some((_, at)) = self.worked.parts.get(*part).and_then(|part| weight(self.job, part)) {
                    moved.push((*part, pose.point(at)));
                }
            }
            if matches!(opening, Opening::Slides { .. }) {
                let size = high - low;
                let room = size.x * size.y * size.z * INSIDE / CUBIC_METRE;
                let centre = pose.point((low + high) * 0.5);
                weights.push(Weight { mass: room * fill, behind: centre.y - self.front });
                let out = points.iter().map(|p| pose.point(*p).y).fold(f64::INFINITY, f64::min);
                edge = Some(edge.map_or(out, |known: f64| known.min(out)));
            }
            done.push(moving);
        }
        for part in self.own {
            let Some((mass, at)) = weight(self.job, &self.worked.parts[*part]) else { continue };
            let at = moved.iter().find(|(one, _)| one == part).map_or(at, |(_, at)| *at);
            weights.push(Weight { mass, behind: at.y - self.front });
        }
        (weights, edge)
    }
}

//! Pieces on a cleat that have no room over them to be lifted on, and cleats that hardly
//! catch.

use crate::joinery::{WorkedJob, lift, on_wall};
use crate::measure::LengthStyle;
use crate::model::Job;
use crate::problem::Problem;

/// Room over what the bevel takes, mm: a piece is never let down dead true (common
/// practice, no source).
const HAND: f64 = 3.0;
/// Least that a bevel catches, mm (common practice, no source).
const CATCH: f64 = 8.0;

/// Warnings for pieces under a ceiling, or under something on the wall, that the bevel of
/// their cleat does not let up.
pub(super) fn check(job: &Job, worked: &WorkedJob) -> Vec<Problem> {
    let stands = on_wall(job, worked);
    let mut found = Vec::new();
    for (joint, across) in worked.joints.iter().filter_map(|joint| Some((joint, lift(joint)?))) {
        let Some(part) = joint.parts.first().and_then(|part| worked.parts.get(*part)) else { continue };
        let Some(piece) = job.pieces.get(part.piece.0) else { continue };
        let show = |mm: f64| LengthStyle::of(job.unit).text((mm * 10.0).round() / 10.0);
        if across < CATCH {
            let message = format!("the cleat of `{}` catches by {} only", piece.name, show(across));
            let help = format!(
                "make the strips thicker or the bevel steeper: {} at least (common practice, no source)",
                show(CATCH)
            );
            found.push(Problem::advice("cleat-hardly-catches", message).at(joint.origin).help(help));
        }
        let Some((site, place)) = job.site.as_ref().zip(stands.iter().find(|one| one.piece == part.piece))
        else {
            continue;
        };
        let over = job
            .obstacles
            .iter()
            .filter(|one| one.x.0 < place.high.x && one.x.1 > place.low.x && one.z.0 >= place.high.y)
            .map(|one| (one.z.0, one.name.as_str()))
            .chain([(site.height, "the ceiling")])
            .min_by(|a, b| a.0.total_cmp(&b.0));
        let Some((limit, what)) = over else { continue };
        let (room, needs) = (limit - place.high.y, across + HAND);
        if room >= 0.0 && room < needs {
            let message = format!(
                "`{}` cannot be lifted onto its cleat: {} is left under {what}, and the bevel needs {}",
                piece.name,
                show(room),
                show(needs)
            );
            let help = format!(
                "hang it {} lower with `floor` of `piece`, make it lower, or use thinner strips",
                show(needs - room)
            );
            found.push(Problem::warning("no-room-to-lift", message).at(piece.origin).help(help));
        }
    }
    found
}

//! Pieces that stand in a corner whose walls are not square to one another.

use super::wall::SEEN;
use crate::geometry::DVec3;
use crate::joinery::{OnWall, WorkedJob, on_wall};
use crate::measure::LengthStyle;
use crate::model::{Job, Side, Truth};
use crate::problem::Problem;

/// A piece nearer than this to an end of its wall stands in the corner, mm.
const IN_CORNER: f64 = 5.0;

/// What is said of each piece in a corner that closes in or opens out.
pub(super) fn check(job: &Job, worked: &WorkedJob) -> Vec<Problem> {
    let Some((site, [left, right])) = job.site.as_ref().and_then(|site| Some((site, site.truth.corners?)))
    else {
        return Vec::new();
    };
    let mut found = Vec::new();
    for place in on_wall(job, worked) {
        let ends = [(Side::Left, place.low.x, left), (Side::Right, site.width - place.high.x, right)];
        for (side, room, closes) in ends {
            let by = closes * depth(worked, &place) / Truth::TRIED;
            let standing = Corner { side, room, by };
            found.extend(standing.wrong(job, &place));
        }
    }
    found
}

/// How far a piece stands out from the wall, mm.
fn depth(worked: &WorkedJob, place: &OnWall) -> f64 {
    let own = worked.parts.iter().filter(|part| part.piece == place.piece);
    let front = own.flat_map(|part| part.solid.points.iter().map(|p| part.at.point(*p)));
    front.map(|p: DVec3| -(p.y + place.shift.y)).fold(0.0, f64::max)
}

/// A piece at an end of its wall.
struct Corner {
    side: Side,
    /// Left between piece and wall at the back, mm.
    room: f64,
    /// How much of that is gone at its front, mm; less than 0 where more is left.
    by: f64,
}

impl Corner {
    fn wrong(&self, job: &Job, place: &OnWall) -> Option<Problem> {
        let (piece, site) = (job.pieces.get(place.piece.0)?, job.site.as_ref()?);
        let show = |mm: f64| LengthStyle::of(job.unit).text((mm * 10.0).round() / 10.0);
        let side = self.side.name();
        let is_scribed = job.scribes.iter().any(|one| {
            one.side == self.side && job.parts.get(one.part.0).is_some_and(|part| part.piece == place.piece)
        });
        let told = |problem: Problem| problem.at(piece.origin).place(site.origin.user, "said here");
        if self.by > self.room + IN_HAND {
            let short = self.by - self.room;
            let message = format!(
                "`{}` does not go into the corner on the {side}: the wall there closes in by {}, and {} is left",
                piece.name,
                show(self.by),
                show(self.room)
            );
            let help = format!(
                "set it {} from the corner and fill the gap with a strip to scribe, or make it {} narrower",
                show(self.by.ceil()),
                show(short.ceil())
            );
            return Some(told(Problem::warning("corner-closes", message)).help(help));
        }
        let gap = self.room - self.by;
        if self.by < 0.0 && self.room < IN_CORNER && gap > SEEN && !is_scribed {
            let message = format!(
                "`{}` stands {} off the wall on the {side} at its front: the corner opens out",
                piece.name,
                show(gap)
            );
            let help = format!(
                "leave {} on that side with `scribe`, or cover the gap with a strip",
                show(gap.ceil() + SEEN)
            );
            return Some(told(Problem::advice("corner-opens", message)).help(help));
        }
        None
    }
}

/// What goes in by a little force, mm.
const IN_HAND: f64 = 0.02;

//! Pieces that have no room on the wall they go to.

use super::measuring::TOUCH;
use crate::geometry::DVec2;
use crate::joinery::on_wall;
use crate::joinery::{OnWall, WorkedJob};
use crate::measure::LengthStyle;
use crate::model::{Job, Piece, Site};
use crate::problem::Problem;
use crate::source::Origin;

/// Warnings for pieces that reach beyond their wall, cover what else is on it, or
/// want the same place on it.
pub(super) fn check(job: &Job, worked: &WorkedJob) -> Vec<Problem> {
    let Some(site) = &job.site else { return without(job) };
    let pieces: Vec<(&Piece, OnWall)> = on_wall(job, worked)
        .into_iter()
        .filter_map(|stands| Some((job.pieces.get(stands.piece.0)?, stands)))
        .collect();
    let show = |mm: f64| LengthStyle::of(job.unit).text(mm);
    let mut found = Vec::new();
    for (piece, stands) in &pieces {
        found.extend(beyond(site, piece, stands, &show));
        for obstacle in &job.obstacles {
            let (low, high) =
                (DVec2::new(obstacle.x.0, obstacle.z.0), DVec2::new(obstacle.x.1, obstacle.z.1));
            if let Some(by) = shared((stands.low, stands.high), (low, high)) {
                let message =
                    format!("`{}` covers `{}` by {} × {}", piece.name, obstacle.name, show(by.x), show(by.y));
                found.push(told("covers-obstacle", message, piece.origin, obstacle.origin).help(
                    "move it with `left` or `floor` of `piece`, or make it smaller; what must be reached stays free",
                ));
            }
        }
    }
    for (i, (piece, stands)) in pieces.iter().enumerate() {
        for (other, beside) in pieces.iter().skip(i + 1) {
            if let Some(by) = shared((stands.low, stands.high), (beside.low, beside.high)) {
                let message = format!(
                    "`{}` and `{}` want the same place on the wall, {} × {}",
                    piece.name,
                    other.name,
                    show(by.x),
                    show(by.y)
                );
                found.push(
                    told("same-place-on-wall", message, other.origin, piece.origin)
                        .help("say where each stands with `left` and `floor` of `piece`"),
                );
            }
        }
    }
    found
}

/// What is said of a wall that the script does not tell of.
fn without(job: &Job) -> Vec<Problem> {
    let of = |message: String, origin: Origin| {
        Problem::warning("no-wall", message)
            .at(origin)
            .help("tell of the wall with `site(\"North wall\", #{ width: 3200, height: 2500 })`")
    };
    let obstacles = job.obstacles.iter().map(|one| of(format!("`{}` is on no wall", one.name), one.origin));
    let pieces = job.pieces.iter().filter(|piece| piece.left.is_some());
    let pieces =
        pieces.map(|piece| of(format!("`left` of `{}` counts on no wall", piece.name), piece.origin));
    obstacles.chain(pieces).collect()
}

/// A piece that reaches past an end of its wall, or over it.
fn beyond(site: &Site, piece: &Piece, stands: &OnWall, show: &impl Fn(f64) -> String) -> Option<Problem> {
    let past = [
        (-stands.low.x, "the left end"),
        (stands.high.x - site.width, "the right end"),
        (stands.high.y - site.height, "the top"),
        (-stands.low.y, "the floor at the foot"),
    ];
    let (by, end) = past.into_iter().max_by(|a, b| a.0.total_cmp(&b.0)).filter(|(by, _)| *by > TOUCH)?;
    let message = format!("`{}` reaches {} past {end} of `{}`", piece.name, show(by), site.name);
    let help = format!(
        "the wall is {} × {}: move the piece, or make it smaller",
        show(site.width),
        show(site.height)
    );
    Some(told("beyond-wall", message, piece.origin, site.origin).help(help))
}

/// A warning about a piece, with the other place it is about.
fn told(code: &'static str, message: String, at: Origin, other: Origin) -> Problem {
    Problem::warning(code, message).at(at).place(other.user, "said here")
}

/// Width and height that two rectangles share; none where they touch at most.
fn shared(a: (DVec2, DVec2), b: (DVec2, DVec2)) -> Option<DVec2> {
    let by = a.1.min(b.1) - a.0.max(b.0);
    (by.min_element() > TOUCH).then_some(by)
}

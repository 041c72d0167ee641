//! Pieces that have no room on the wall they go to.

use crate::checks::measuring::TOUCH;
use crate::geometry::DVec2;
use crate::joinery::{OnWall, WorkedJob, hangs_unplaced, on_wall};
use crate::measure::{LengthStyle, Unit};
use crate::model::{Job, Piece, Side, Site};
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
        found.extend(out_of_the_recess(worked, site, (piece, stands), &show));
        if hangs_unplaced(job, worked, stands.piece) {
            found.push(on_the_floor(site, piece, job.unit));
        }
        let is_scribed = job.scribes.iter().any(|one| {
            one.side == Side::Back && job.parts.get(one.part.0).is_some_and(|part| part.piece == stands.piece)
        });
        found.extend(out_of_true(site, (piece, is_scribed), stands, &show));
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

/// Underside of what hangs where nobody has said, over a worktop and within reach, mm and
/// inches (common practice, no source): an example to write, never taken.
const HUNG: (f64, f64) = (1400.0, 55.0);

/// A piece that hangs and stands on the floor, as long as nobody says how high.
fn on_the_floor(site: &Site, piece: &Piece, unit: Unit) -> Problem {
    let high = match unit {
        Unit::Mm => HUNG.0,
        Unit::Inch => HUNG.1,
    };
    let message =
        format!("how high `{}` hangs on `{}` is not told: it is drawn on the floor", piece.name, site.name);
    told("hung-on-floor", message, piece.origin, site.origin)
        .help(format!("give the height of its underside: `piece(\"{}\", #{{ floor: {high} }})`", piece.name))
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

/// A piece that is deeper than the recess it goes into, with doors and handles.
fn out_of_the_recess(
    worked: &WorkedJob,
    site: &Site,
    (piece, stands): (&Piece, &OnWall),
    show: &impl Fn(f64) -> String,
) -> Option<Problem> {
    let deep = site.depth?;
    let own = worked.parts.iter().filter(|part| part.piece == stands.piece);
    let front = own
        .flat_map(|part| part.solid.points.iter().map(|p| part.at.point(*p).y + stands.shift.y))
        .fold(0.0, f64::min);
    let out = -front - deep;
    if out <= TOUCH {
        return None;
    }
    let message =
        format!("`{}` stands {} out of `{}`, which is {} deep", piece.name, show(out), site.name, show(deep));
    let help = format!(
        "it is {} deep with all that stands before it: make it {} deep at most if it shall not stand out",
        show(-front),
        show(deep)
    );
    Some(
        Problem::advice("out-of-recess", message)
            .at(piece.origin)
            .place(site.origin.user, "the recess")
            .help(help),
    )
}

/// Off the wall by more than this, a gap is seen and is scribed or covered, mm (common
/// practice, no source).
pub(super) const SEEN: f64 = 3.0;

/// What a wall that is not square, plumb or level leaves no room for, and what would fit.
fn out_of_true(
    site: &Site,
    (piece, is_scribed): (&Piece, bool),
    stands: &OnWall,
    show: &impl Fn(f64) -> String,
) -> Vec<Problem> {
    let tenth = |mm: f64| show((mm * 10.0).round() / 10.0);
    let mut found = Vec::new();
    let (wide, at) = site.narrowest(stands.low.y, stands.high.y);
    let own = stands.high.x - stands.low.x;
    let by = stands.high.x - wide;
    if by > TOUCH && stands.high.x <= site.width + TOUCH {
        let message = format!(
            "`{}` reaches {} too far: `{}` is {} wide at {} over the floor",
            piece.name,
            tenth(by),
            site.name,
            tenth(wide),
            tenth(at)
        );
        // Only where the left of the wall leaves room for it.
        let farther = if stands.low.x + TOUCH < by {
            String::new()
        } else {
            format!(", or {} farther left", tenth(by))
        };
        let help = format!(
            "it fits {} wide{farther}; measure again on site before anything is cut",
            tenth(own - by)
        );
        found.push(told("wall-narrows", message, piece.origin, site.origin).help(help));
    }
    let ceiling = site.ceiling_at(stands.low.x).min(site.ceiling_at(stands.high.x));
    let over = stands.high.y - ceiling;
    if over > TOUCH && stands.high.y <= site.height + TOUCH {
        let message = format!(
            "`{}` is {} too high: the ceiling is {} over the floor there",
            piece.name,
            tenth(over),
            tenth(ceiling)
        );
        let help = format!("it fits {} high", tenth(stands.high.y - stands.low.y - over));
        found.push(told("under-the-slope", message, piece.origin, site.origin).help(help));
    }
    let gap = site.truth.lean.abs() * (stands.high.y - stands.low.y) / site.height;
    if gap > SEEN && !is_scribed {
        let end = if site.truth.lean > 0.0 { "foot" } else { "top" };
        let message = format!(
            "`{}` set plumb stands {} off `{}` at its {end}: the wall leans",
            piece.name,
            tenth(gap),
            site.name
        );
        let help = format!(
            "scribe its back edges with {} left on them, or cover the gap with a strip",
            tenth(gap.ceil() + SEEN)
        );
        let (code, at) = ("wall-leans", piece.origin);
        found.push(Problem::advice(code, message).at(at).place(site.origin.user, "said here").help(help));
    }
    if let Some([high, deep]) = site.truth.skirting
        && stands.low.y < high - TOUCH
    {
        let message = format!(
            "`{}` stands before the skirting, which is {} high: it keeps {} off the wall",
            piece.name,
            tenth(high),
            tenth(deep)
        );
        let help =
            format!("notch its back for {} × {}, or take the skirting away there", tenth(high), tenth(deep));
        let (code, at) = ("before-skirting", piece.origin);
        found.push(Problem::advice(code, message).at(at).place(site.origin.user, "said here").help(help));
    }
    found
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

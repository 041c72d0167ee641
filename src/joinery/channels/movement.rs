//! How far the edge of a panel moves with the seasons, and whether its groove
//! lets it.

use crate::geometry::DVec3;
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::tolerance::{NOISE, STEPPED};
use crate::measure::{Unit, up};
use crate::model::{Site, StockKind, Work};
use crate::problem::Problem;
use crate::timber::Species;

/// Points of moisture content either way of the bench's where the script does
/// not say: rooms heated in winter, 6 to 12 % over the year (common practice,
/// no source).
pub(in crate::joinery) const SEASON: f64 = 3.0;
/// Least of a panel that stays in its groove when it is driest, mm (common
/// practice, no source).
const HELD: f64 = 3.0;
/// Share by which sheets change for each point of moisture, whichever way (from
/// memory, Wood Handbook ch. 12).
const SHEET: f64 = 0.0002;

/// Whether the panel is to move.
pub(in crate::joinery) fn free(work: &Work) -> bool {
    work.options.yes("move") || work.options.number("gap").is_some()
}

/// Points of moisture content the work is to allow for: what it says itself, else what the
/// air of the room makes of it.
pub(in crate::joinery) fn points(bench: &Bench<'_>, work: &Work) -> f64 {
    let room = || bench.job.site.as_ref().and_then(Site::season);
    work.options.number("season").or_else(room).unwrap_or(SEASON)
}

/// How far the edge of `part` that looks along `toward` moves out, or in, for
/// `points` of moisture, mm: half of what the whole width does. `None` where
/// the wood is not known.
pub(in crate::joinery) fn edge_moves(
    bench: &Bench<'_>,
    part: usize,
    toward: DVec3,
    points: f64,
) -> Option<f64> {
    let blank = &bench.placed[part];
    let stock = bench.job.parts.get(part).and_then(|p| bench.job.stock.get(p.stock.0))?;
    let (lo, hi) = blank.reach(toward);
    let width = hi - lo;
    match &stock.kind {
        StockKind::Board { species, .. } | StockKind::Blank { species, .. } => {
            // Along the grain wood hardly moves: 0.1 to 0.2 % from green to
            // ovendry (Wood Handbook, FPL-GTR-190, p. 4-5).
            if blank.axis_along(toward) == Some(0) {
                return Some(0.0);
            }
            let wood = Species::named(species.as_deref()?)?;
            Some(0.5 * wood.moves(width, points))
        }
        StockKind::Sheet { .. } => Some(0.5 * width * SHEET * points),
        StockKind::Glass { .. } | StockKind::Bought => Some(0.0),
    }
}

/// An error: nobody said what wood it is.
pub(in crate::joinery) fn unknown_wood(
    bench: &Bench<'_>,
    work: &Work,
    part: usize,
    instead: &str,
) -> Problem {
    let stock = bench.job.parts.get(part).and_then(|p| bench.job.stock.get(p.stock.0));
    let message = format!(
        "how far `{}` moves cannot be worked out: the species of `{}` is not said or not in the table",
        bench.name(part),
        stock.map_or("its stock", |s| s.name.as_str())
    );
    bench
        .error(work, "unknown-species", message, &[part])
        .help(format!("give `species` to the stock, such as \"white oak\", or {instead}"))
}

/// Room at the bottom of a groove, mm.
pub(in crate::joinery) fn room(
    bench: &Bench<'_>,
    work: &Work,
    panel: usize,
    toward: DVec3,
) -> Result<f64, Problem> {
    let slack = bench.slack(work);
    if let Some(gap) = work.options.number("gap") {
        return Ok(gap);
    }
    if !work.options.yes("move") {
        return Ok(slack);
    }
    let swells = edge_moves(bench, panel, toward, points(bench, work))
        .ok_or_else(|| unknown_wood(bench, work, panel, "write `gap` in place of `move`"))?;
    // A gauge is set to half a millimetre, a rule in inches read to sixteenths.
    Ok(match bench.job.unit {
        Unit::Mm => (2.0 * (swells + slack) - STEPPED).ceil() / 2.0,
        Unit::Inch => up(Unit::Inch, swells + slack),
    })
}

/// A panel in the groove of a member.
#[derive(Clone, Copy, Debug)]
pub(in crate::joinery) struct Held {
    /// The panel.
    pub(in crate::joinery) panel: usize,
    /// What it is held by.
    pub(in crate::joinery) member: usize,
    /// From the panel's middle to the member.
    pub(in crate::joinery) toward: DVec3,
    /// Depth of the groove, mm.
    pub(in crate::joinery) depth: f64,
    /// Room at its bottom, mm.
    pub(in crate::joinery) gap: f64,
}

/// A warning where the panel in its damp or dry season does not suit the groove.
pub(in crate::joinery) fn season(bench: &Bench<'_>, work: &Work, held: &Held) -> Option<Problem> {
    let Held { panel, member, toward, depth, gap } = *held;
    let moves = edge_moves(bench, panel, toward, points(bench, work))?;
    // Too tight is told before too shallow: it breaks the frame, the other only shows a
    // gap.
    if moves > gap + NOISE {
        let message = format!(
            "`{}` swells by {} towards `{}`, but its groove leaves {}",
            bench.name(panel),
            bench.mm(moves),
            bench.name(member),
            bench.mm(gap)
        );
        return Some(
            bench
                .warning(work, "panel-too-tight", message, &[panel, member])
                .help("it would push the frame apart: make `gap` more, or write `move: true` in its place"),
        );
    }
    let held = depth - gap - moves;
    if held > HELD - NOISE {
        return None;
    }
    let message = format!(
        "when `{}` is driest, {} of it stay in the groove of `{}`, which is {} deep; it needs {}",
        bench.name(panel),
        bench.beside(held.max(0.0), HELD),
        bench.name(member),
        bench.mm(depth),
        bench.beside(HELD, held.max(0.0))
    );
    let least = ((HELD + gap + moves) * 2.0 - STEPPED).ceil() / 2.0;
    Some(
        bench
            .warning(work, "groove-too-shallow", message, &[panel, member])
            .help(format!("make `depth` {} or more, or divide the panel", bench.mm(least))),
    )
}

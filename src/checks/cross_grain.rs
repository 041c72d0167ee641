//! Solid wood that is held across its grain by wood that does not move.

use crate::geometry::DVec3;
use crate::joinery::{WorkedJob, WorkedJoint, WorkedPart};
use crate::measure::{LengthStyle, number};
use crate::model::{Job, Site, Stock, StockKind};
use crate::problem::Problem;
use crate::timber::Species;

/// Widest board that may be held across its grain, mm: a rail's tenon up to about six
/// inches is glued all over without harm (common practice, no source).
const HELD: f64 = 150.0;
/// Points of moisture content that wood gains or loses about the bench's through the year
/// in a heated room (common practice, no source).
const SEASON: f64 = 3.0;
/// Coefficient of change of width where the species is not said, for each point: the
/// middle of the table (Wood Handbook, FPL-GTR-190, Table 13-5).
const USUAL: f64 = 0.0027;
/// Cosines over which two directions are one.
const ONE_WAY: f64 = 0.95;

/// Advice on each joint that holds a wide board across its grain.
pub(super) fn check(job: &Job, worked: &WorkedJob) -> Vec<Problem> {
    let mut found: Vec<Problem> = Vec::new();
    for joint in &worked.joints {
        let Some((last, others)) = joint.parts.split_last() else { continue };
        for first in others {
            found.extend(held(job, worked, joint, (*first, *last)));
            found.extend(held(job, worked, joint, (*last, *first)));
        }
    }
    found
}

/// Whether a joint is fixed: glued, or held by screws in round holes and not by what slides.
fn is_fixed(joint: &WorkedJoint) -> bool {
    let screws: usize = joint.inserts.iter().filter(|i| i.item.holds_fast()).map(|i| i.at.len()).sum();
    // The screws of buttons hold them to the top alone: their tongues slide in the rail.
    if joint.inserts.iter().any(|insert| insert.item.slides()) {
        return false;
    }
    let lone = joint.traits.lips || joint.traits.is_layered || joint.traits.frees_panel;
    (joint.glued && !lone) || screws > 1
}

/// A wide solid board `wide` that is held along its width by `stiff`, whose grain runs
/// that way.
fn held(job: &Job, worked: &WorkedJob, joint: &WorkedJoint, pair: (usize, usize)) -> Option<Problem> {
    let (wide, stiff) = (worked.parts.get(pair.0)?, worked.parts.get(pair.1)?);
    let (stock, other) = (job.stock.get(wide.stock.0)?, job.stock.get(stiff.stock.0)?);
    let along = wide.at.y;
    let runs = stiff.at.x.dot(along).abs() > ONE_WAY;
    if !is_fixed(joint) || !is_solid(stock) || !(is_solid(other) && runs || is_sheet(other)) {
        return None;
    }
    let length = shared(wide, stiff, along)?;
    if length <= HELD {
        return None;
    }
    let coefficient = species(stock).map_or(USUAL, |wood| wood.tangential);
    let points = job.site.as_ref().and_then(Site::season).unwrap_or(SEASON);
    let moves = length * coefficient * points;
    let show = |mm: f64| LengthStyle::of(job.unit).text((mm * 10.0).round() / 10.0);
    let message = format!(
        "`{}` is held over {} across its grain by `{}`, and moves about {} either way",
        wide.name,
        show(length),
        stiff.name,
        show(moves)
    );
    let help = format!(
        "fix it in one place and let the rest slide: screws in slots {} longer than they are wide, buttons, or a dry tongue; up to {} is held without harm (width × coefficient × {} points: Wood Handbook ch. 13; limit common practice, no source)",
        show(2.0 * moves),
        show(HELD),
        number(points, 1)
    );
    Some(
        Problem::advice("held-across-grain", message)
            .at(joint.origin)
            .part(wide.name.clone())
            .part(stiff.name.clone())
            .help(help),
    )
}

fn is_solid(stock: &Stock) -> bool {
    matches!(stock.kind, StockKind::Board { .. })
}

fn is_sheet(stock: &Stock) -> bool {
    matches!(stock.kind, StockKind::Sheet { .. })
}

fn species(stock: &Stock) -> Option<&'static Species> {
    match &stock.kind {
        StockKind::Board { species, .. } => Species::named(species.as_deref()?),
        _ => None,
    }
}

/// How much two parts share along a direction, mm.
fn shared(a: &WorkedPart, b: &WorkedPart, along: DVec3) -> Option<f64> {
    let reach = |part: &WorkedPart| {
        let at = part.solid.points.iter().map(|p| along.dot(part.at.point(*p)));
        at.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)))
    };
    let (x, y) = (reach(a), reach(b));
    let length = x.1.min(y.1) - x.0.max(y.0);
    (length > 0.0).then_some(length)
}

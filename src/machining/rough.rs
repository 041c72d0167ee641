//! Rough sizes: what a part is cut to before it is mitred, lipped and trimmed.

use super::ends::slope;
use super::sawn::from_board;
use super::tolerance::SAME;
use crate::geometry::DVec3;
use crate::joinery::{PartSource, WorkedJob, WorkedPart, laminated};
use crate::measure::near;
use crate::model::{Cutting, Job, StockKind};

/// Left on the thickness of a lipping, whose sawn face is planed when it is
/// on, mm (common practice, no source).
const LIPPING_PLANING: f64 = 2.0;

/// Cosine over which two of the six sides of a square part are one.
const SAME_SIDE: f64 = 0.9;

/// Length, width and thickness that part `index` is first cut to, mm: of solid parts
/// with the thickness of the sawn board they are fetched from. `None` for what is not
/// cut in the shop.
pub(crate) fn rough(job: &Job, worked: &WorkedJob, index: usize) -> Option<[f64; 3]> {
    let part = worked.parts.get(index)?;
    let rules = &job.cutting;
    let [long, wide, thick] = part.size.to_array();
    let stock = job.stock.get(part.stock.0)?;
    let is_lipping = matches!(part.source, PartSource::Lipping { .. });
    let sawn = from_board(job, stock, [wide, thick], is_lipping);
    if is_lipping {
        let mut strip =
            [long + rules.lipping_length, wide + rules.width, thick + near(job.unit, LIPPING_PLANING)];
        if let Some(board) = sawn {
            strip[board.axis()] = board.thick;
        }
        return Some(strip);
    }
    let over = 2.0 * layer(job, index).unwrap_or(0.0);
    // What is scribed off on site comes on top of what the shop takes.
    let [scribed_long, scribed_wide] = [DVec3::X, DVec3::Y].map(|axis| scribed(job, part, index, axis));
    let (long, wide) = (long + scribed_long, wide + scribed_wide);
    match &stock.kind {
        StockKind::Sheet { .. } => {
            let sides = lipped_sides(worked, index);
            let more = |axis| left_on(part, rules, &sides, axis);
            Some([long + more(DVec3::X).max(over), wide + more(DVec3::Y).max(over), thick])
        }
        StockKind::Board { .. } => {
            let mitres = mitred(part, rules, DVec3::X);
            // A mitred one too: of a rough board neither end is fit to be cut to before.
            let more = rules.length.max(mitres);
            let thick = sawn.map_or(thick, |board| board.thick);
            Some([long + more.max(over), wide + rules.width.max(over), thick])
        }
        StockKind::Blank { square, .. } => {
            let needs = wide.max(thick) + rules.width;
            let blank = square.iter().copied().find(|t| *t + SAME >= needs).unwrap_or(needs);
            Some([long + rules.chucking, blank, blank])
        }
        StockKind::Glass { .. } | StockKind::Bought => None,
    }
}

/// What is left on the ends or edges of a part along its `axis` to be scribed, mm.
fn scribed(job: &Job, part: &WorkedPart, index: usize, axis: DVec3) -> f64 {
    let own = job.scribes.iter().filter(|scribe| scribe.part.0 == index);
    let along = own.filter(|scribe| part.at.local_dir(scribe.side.normal()).dot(axis).abs() > SAME_SIDE);
    along.map(|scribe| scribe.allow).sum()
}

/// What is left on every edge of part `index` if it is a layer that is glued face
/// to face with others, mm.
pub(crate) fn layer(job: &Job, index: usize) -> Option<f64> {
    laminated(job).into_iter().find(|layers| layers.parts.contains(&index)).map(|layers| layers.oversize)
}

/// What mitres and bevels at both ends of `axis` take, mm.
fn mitred(part: &WorkedPart, rules: &Cutting, axis: DVec3) -> f64 {
    [axis, -axis].into_iter().filter(|way| slope(part, *way).is_some()).map(|_| rules.mitre).sum()
}

/// What is left on a panel along `axis`: for its mitres, and for trimming the
/// edge across from a lipping where that edge has none.
fn left_on(part: &WorkedPart, rules: &Cutting, lipped: &[DVec3], axis: DVec3) -> f64 {
    let lipping = |way: DVec3| lipped.iter().any(|side| side.dot(way) > SAME_SIDE);
    let trimmed = lipping(axis) != lipping(-axis);
    let mitred = mitred(part, rules, axis);
    if trimmed { mitred.max(rules.lipped) } else { mitred }
}

/// The ways the lipped sides of part `of` look, in its own coordinates.
fn lipped_sides(worked: &WorkedJob, of: usize) -> Vec<DVec3> {
    let Some(part) = worked.parts.get(of) else { return Vec::new() };
    let mine = worked.parts.iter().filter_map(|other| match other.source {
        PartSource::Lipping { of: on, side } if on == of => Some(part.at.local_dir(side.normal())),
        _ => None,
    });
    mine.collect()
}

//! Parts as they are before they are joined: shaped, and sawn to their neighbours.

use super::registry;
use crate::joinery::bench::blank::Blank;
use crate::joinery::bench::made::{Growth, Joinery, Sawn};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::tolerance::LOOKS;
use crate::joinery::meeting::real::Real;
use crate::joinery::meeting::sawing;
use crate::joinery::meeting::trim::Trim;
use crate::problem::Problem;
use crate::solid::Prism;

/// Saws ends to their neighbours as one work asks, so that the works after it find the
/// sawn faces; and what the blanks gain by it.
pub(super) fn trimmed(
    bench: &mut Bench<'_>,
    joinery: &dyn Joinery,
    asked: usize,
) -> Result<Vec<Growth>, Problem> {
    let Some(work) = bench.job.works.get(asked) else { return Ok(Vec::new()) };
    let trims = joinery.trims(bench, work)?;
    for trim in &trims {
        let sawn = bench.as_it_is(trim.part).and_then(|r| r.sawn(trim.into, trim.by, trim.shape().as_ref()));
        if let Some(real) = bench.real.get_mut(trim.part) {
            *real = sawn;
        }
        bench.trims.push(Trim { asked, ..*trim });
    }
    Ok(trims.iter().map(sawing::growth).collect())
}

/// Gives parts that are shaped their true faces. What cannot be cut is said later, when
/// it is worked.
pub(super) fn shape(bench: &mut Bench<'_>) {
    let mut shaped: Vec<(usize, Vec<Growth>, Vec<Prism>)> = Vec::new();
    for asked in bench.job.works.iter().filter(|asked| !asked.after_glue_up) {
        let Some(joinery) = registry::find(asked.word).filter(|joinery| joinery.shapes()) else { continue };
        let Ok(list) = joinery.work(bench, asked) else { continue };
        let growths = joinery.grow(bench, asked).unwrap_or_default();
        for Sawn { part, shape, .. } in list.into_iter().flat_map(|made| made.cuts) {
            match shaped.iter_mut().find(|(known, ..)| *known == part) {
                Some((_, _, cuts)) => cuts.push(shape),
                None => shaped.push((part, Vec::new(), vec![shape])),
            }
        }
        for growth in growths {
            if let Some((_, all, _)) = shaped.iter_mut().find(|(known, ..)| *known == growth.part) {
                all.push(growth);
            }
        }
    }
    for (part, growths, cuts) in shaped {
        let Some((placed, of)) = bench.placed.get(part).zip(bench.job.parts.get(part)) else { continue };
        let blank = joined(*placed, &growths.into_iter());
        if let Some(real) = bench.real.get_mut(part) {
            *real = Real::of(of, blank, &cuts);
        }
    }
}

/// A blank with its joints: where several joints lengthen one end, the longest
/// counts.
pub(super) fn joined(placed: Blank, growths: &(impl Iterator<Item = Growth> + Clone)) -> Blank {
    let mut blank = placed;
    for axis in (0..3).map(|i| placed.axis(i)) {
        for way in [axis, -axis] {
            let here = growths.clone().filter(|g| g.lipping.is_none() && g.toward.dot(way) > LOOKS);
            let by = here.fold(0.0_f64, |most, g| if g.by.abs() > most.abs() { g.by } else { most });
            blank = blank.grown(way, by).unwrap_or(blank);
        }
    }
    blank
}

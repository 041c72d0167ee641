//! How heavy and high a door is, and how many hinges it hangs on.

use crate::geometry::DVec3;
use crate::joinery::bench::blank::Blank;
use crate::joinery::bench::seen::Bench;
use crate::model::{PartId, Stock, StockId, Work};

/// Density where the stock says none, kg/m³: that of a heavy board, so that doors get
/// a hinge too many rather than one too few.
const HEAVY: f64 = 700.0;
/// Cubic metres in a cubic millimetre.
const CUBIC_METRES: f64 = 1e-9;
/// Heights, mm, and masses, kg, up to which 2, 3, 4 and 5 hinges do.
const DO: &[(u32, f64, f64)] = &[(2, 1000.0, 6.8), (3, 1500.0, 13.6), (4, 2000.0, 20.4), (5, 2500.0, 27.2)];
/// Hinges of a door beyond the table.
const MOST: u32 = 6;
/// Words by which a door or drawer meets the case without being fixed to it.
const PARTING: [&str; 5] = ["cup_hinges", "butt_hinges", "runners", "stop", "catch_plate"];

/// How many hinges a door so high, mm, and so heavy, kg, needs (trade planning sheets:
/// common practice, no source).
pub fn hinges_for(height: f64, mass: f64) -> u32 {
    // High or heavy, whichever asks for more: the table gives one row for both.
    let found = DO.iter().find(|(_, high, heavy)| height <= *high && mass <= *heavy);
    found.map_or(MOST, |(count, ..)| *count)
}

/// The density a door of a stock is weighed by, kg/m³.
pub fn density_of(stock: Option<&Stock>) -> f64 {
    stock.and_then(Stock::mean_density).unwrap_or(HEAVY)
}

/// How many hinges the door needs to which part `door` belongs: all that is fixed to the
/// part hangs with it, so a stile is weighed with its frame and glass. `run` is the way of
/// the hinges.
pub(in crate::joinery) fn usual_count(bench: &Bench<'_>, door: usize, run: DVec3) -> u32 {
    let leaf = fixed_to(bench, door);
    let weigh = |stock: StockId, blank: &Blank| {
        let size = blank.size;
        size.x * size.y * size.z * CUBIC_METRES * density_of(bench.job.stock.get(stock.0))
    };
    // By their boxes, tenons and tongues with them: never lighter than the door is, so
    // that the check, which weighs it finished, does not ask for another hinge.
    let parts = leaf.iter().filter_map(|i| Some(weigh(bench.job.parts.get(*i)?.stock, bench.grown.get(*i)?)));
    let lips = bench.lips.iter().filter(|lip| leaf.contains(&lip.of));
    let mass: f64 = parts.chain(lips.map(|lip| weigh(lip.stock, &lip.blank))).sum();
    let reaches = leaf.iter().filter_map(|i| Some(bench.placed.get(*i)?.reach(run)));
    let (low, high) =
        reaches.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), (lo, hi)| (low.min(lo), high.max(hi)));
    hinges_for(high - low, mass)
}

/// The parts that move with one of them, by what the script asks for.
fn fixed_to(bench: &Bench<'_>, part: usize) -> Vec<usize> {
    let holds = |work: &&Work| !PARTING.contains(&work.word.name);
    let works: Vec<&Work> = bench.job.works.iter().filter(holds).collect();
    let mut found = Vec::new();
    let mut next = vec![part];
    while let Some(part) = next.pop() {
        if found.contains(&part) {
            continue;
        }
        found.push(part);
        let with_it = works.iter().filter(|work| work.parts.iter().flatten().any(|id| *id == PartId(part)));
        next.extend(with_it.flat_map(|work| work.parts.iter().flatten().map(|id| id.0)));
    }
    found
}

//! What hangs on a wall: what it weighs, and what may lie in and on it.

use crate::geometry::DVec3;
use crate::joinery::bench::blank::Blank;
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::worked::{WorkedJob, WorkedJoint};
use crate::joinery::facts::Facts;
use crate::joinery::facts::doors::DoorFitting;
use crate::joinery::facts::hanging::Hanging;
use crate::joinery::facts::inserts::Inserted;
use crate::model::{Job, Load, PieceId, Stock, StockId};

/// Newtons to the kilogram.
const GRAVITY: f64 = 9.806_65;
/// Density where the stock says none, kg/m3: that of plywood (common practice, no source).
const USUAL: f64 = 600.0;
/// Cubic millimetres to the cubic metre.
const CUBIC_METRE: f64 = 1e9;
/// A board lies flat where its thickness stands within a few degrees of upright: the cosine.
const FLAT: f64 = 0.995;
/// Narrower than this a flat board is a rail, on which nothing lies, mm.
const RAIL: f64 = 100.0;
/// Nothing is laid where less than this is clear, mm.
const CLEAR: f64 = 100.0;
/// Most that lies on one shelf, N: 200 lb (Architectural Woodwork Standards, 2009).
const MOST: f64 = 889.6;

/// What hangs on a wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Burden {
    /// Mass of the piece itself, kg.
    pub mass: f64,
    /// What lies in and on it, N.
    pub load: f64,
    /// How far before the wall the centre of both is, mm.
    pub out: f64,
    /// Its lowest point, where its foot leans on the wall: z of the piece, mm.
    pub foot: f64,
}

impl Burden {
    /// All that hangs, N.
    pub fn weight(&self) -> f64 {
        self.mass * GRAVITY + self.load
    }

    /// The pull off the wall at `high`, a z of the piece, that keeps it from turning about
    /// its foot, N.
    pub fn pull(&self, high: f64) -> f64 {
        let lever = high - self.foot;
        if lever > 1.0 { self.weight() * self.out / lever } else { f64::INFINITY }
    }
}

/// What of a joint bears a load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Bearing {
    /// Screws that hold the strip of a cleat.
    Screws {
        /// How many.
        count: usize,
        /// Diameter and length, mm.
        size: [f64; 2],
        /// How far they go into what they hold in, mm.
        deep: f64,
    },
    /// The bevel of a cleat, degrees.
    Bevel(f64),
    /// Rods out of the wall.
    Rods {
        /// How many.
        count: usize,
        /// Diameter, mm.
        thick: f64,
    },
    /// Cup hinges.
    CupHinges(usize),
    /// Butt hinges.
    ButtHinges(usize),
}

/// What of a joint bears a load; `None` for one that no check reckons.
pub fn bearing(joint: &WorkedJoint) -> Option<Bearing> {
    match &joint.facts {
        Facts::Inserts(Inserted::Screwed(screws)) if joint.traits.hooks_on => Some(Bearing::Screws {
            count: screws.count,
            size: [screws.thick, screws.length],
            deep: screws.pilot.deep,
        }),
        Facts::Hanging(Hanging::Cleat(cleat)) => Some(Bearing::Bevel(cleat.bevel)),
        Facts::Hanging(Hanging::Rods(rods)) => Some(Bearing::Rods { count: rods.count, thick: rods.thick }),
        Facts::Doors(DoorFitting::CupHinges(cups)) => Some(Bearing::CupHinges(cups.count)),
        Facts::Doors(DoorFitting::ButtHinges(butts)) => Some(Bearing::ButtHinges(butts.count)),
        _ => None,
    }
}

/// A board of a piece: its box, and what it is cut from.
struct Lot {
    blank: Blank,
    stock: StockId,
}

impl Lot {
    fn mass(&self, stock: &[Stock]) -> f64 {
        let density = stock.get(self.stock.0).and_then(Stock::mean_density).unwrap_or(USUAL);
        self.blank.size.x * self.blank.size.y * self.blank.size.z * density / CUBIC_METRE
    }

    fn is_flat(&self) -> bool {
        let (x, y) = (self.blank.reach(DVec3::X), self.blank.reach(DVec3::Y));
        self.blank.at.z.z.abs() > FLAT && (x.1 - x.0).min(y.1 - y.0) > RAIL
    }

    fn top(&self) -> f64 {
        self.blank.reach(DVec3::Z).1
    }

    /// Whether another lies so near over it that nothing has room between.
    fn is_covered(&self, other: &Self) -> bool {
        let share = |along: DVec3| {
            let ((a, b), (c, d)) = (self.blank.reach(along), other.blank.reach(along));
            (b.min(d) - a.max(c)) / (b - a)
        };
        let over = other.blank.reach(DVec3::Z).0 - self.top();
        (0.0..CLEAR).contains(&over) && share(DVec3::X) > 0.5 && share(DVec3::Y) > 0.5
    }
}

/// What hangs of a piece on the wall behind it, but for the part `wall` that is fixed there.
pub fn burden(job: &Job, worked: &WorkedJob, piece: PieceId, wall: Option<usize>) -> Burden {
    let own = worked.parts.iter().enumerate().filter(|(i, part)| part.piece == piece && Some(*i) != wall);
    let lots = own.map(|(_, part)| Lot { blank: Blank { at: part.at, size: part.size }, stock: part.stock });
    of(&Lies::of(job), &lots.collect::<Vec<_>>())
}

/// The same of a piece on the bench, before its joints are cut.
pub(in crate::joinery) fn drawn(bench: &Bench<'_>, piece: PieceId, wall: usize) -> Burden {
    let parts = bench.placed.iter().zip(&bench.job.parts).enumerate();
    let own = parts.filter(|(i, (_, part))| part.piece == piece && *i != wall);
    let lots = own.map(|(_, (blank, part))| Lot { blank: *blank, stock: part.stock });
    of(&Lies::of(bench.job), &lots.collect::<Vec<_>>())
}

/// What the boards are cut from, and what lies on them, N/mm2.
struct Lies<'s> {
    stock: &'s [Stock],
    pressure: f64,
}

impl<'s> Lies<'s> {
    fn of(job: &'s Job) -> Self {
        Self { stock: &job.stock, pressure: job.load.unwrap_or(Load::General).pressure() }
    }
}

fn of(lies: &Lies<'_>, lots: &[Lot]) -> Burden {
    let flat: Vec<&Lot> = lots.iter().filter(|lot| lot.is_flat()).collect();
    let highest = lots.iter().map(Lot::top).fold(f64::NEG_INFINITY, f64::max);
    let wall = lots.iter().map(|lot| lot.blank.reach(DVec3::Y).1).fold(f64::NEG_INFINITY, f64::max);
    let foot = lots.iter().map(|lot| lot.blank.reach(DVec3::Z).0).fold(f64::INFINITY, f64::min);
    let (mut mass, mut load, mut turning) = (0.0, 0.0, 0.0);
    for lot in lots {
        let one = lot.mass(lies.stock);
        mass += one;
        turning += one * GRAVITY * (wall - lot.blank.centre().y);
    }
    for lot in &flat {
        // The lid of a case is no shelf, unless there is no other.
        let is_lid = flat.len() > 1 && lot.top() > highest - CLEAR;
        if is_lid || flat.iter().any(|other| lot.is_covered(other)) {
            continue;
        }
        let one = (lot.blank.size.x * lot.blank.size.y * lies.pressure).min(MOST);
        load += one;
        turning += one * (wall - lot.blank.centre().y);
    }
    let weight = mass * GRAVITY + load;
    Burden { mass, load, out: if weight > 0.0 { turning / weight } else { 0.0 }, foot }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Placement;

    fn lot(size: [f64; 3], at: [f64; 3]) -> Lot {
        let at = Placement::IDENTITY.moved(DVec3::from_array(at));
        Lot { blank: Blank { at, size: DVec3::from_array(size) }, stock: StockId(0) }
    }

    /// Statics by hand: 800 × 250 × 20 at 600 kg/m3 is 2.4 kg; 0.2 m2 at 40 lb to the square
    /// foot (1.915 kN/m2) bears 383 N; all in the middle of 250.
    #[test]
    fn a_shelf_bears_what_lies_on_it() {
        let found = of(
            &Lies { stock: &[], pressure: Load::General.pressure() },
            &[lot([800.0, 250.0, 20.0], [0.0; 3])],
        );
        assert!((found.mass - 2.4).abs() < 1e-9 && (found.load - 383.04).abs() < 0.01);
        assert!((found.out - 125.0).abs() < 1e-9);
        assert!((found.pull(100.0) - found.weight() * 1.25).abs() < 1e-9);
    }

    /// Nothing lies on a lid, nor under 50 mm of room.
    #[test]
    fn lids_and_narrow_rooms_bear_nothing() {
        let board = |high: f64| lot([800.0, 250.0, 20.0], [0.0, 0.0, high]);
        let found = of(
            &Lies { stock: &[], pressure: Load::General.pressure() },
            &[board(0.0), board(70.0), board(500.0)],
        );
        assert!((found.load - 383.04).abs() < 0.01, "{found:?}");
    }
}

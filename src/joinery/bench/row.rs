//! A row of inserts along a meeting face: where each one stands.
//!
//! Where the script leaves a place open it is a whole millimetre, or a whole sixteenth in
//! a script in inches: a place that cannot be read off a rule is set out anew by everyone
//! who works to it. Here alone is said how:
//! - neighbours stand a whole number apart, the same all along, and the ends are alike;
//! - where a length does not share out so, the second end, which is not set out from, has
//!   the step left over;
//! - an `inset` that is asked for is kept at both ends, and what is left over goes to the
//!   middle.

use super::seen::Bench;
use super::tolerance::NOISE;
use crate::measure::{INCH, Unit};
use crate::model::{OptionKind, OptionSpec, Usual, Work};
use crate::problem::{Problem, wording};

/// How a row is set out, mm.
#[derive(Clone, Copy, Debug)]
pub(in crate::joinery) struct Row {
    /// Greatest distance between neighbours where no count is asked for.
    pub(in crate::joinery) spacing: f64,
    /// From each end to the first where nothing is asked for; less on short faces.
    pub(in crate::joinery) inset: f64,
    /// Least distance between neighbours.
    pub(in crate::joinery) apart: f64,
    /// Least distance from an end.
    pub(in crate::joinery) edge: f64,
}

/// How many stand in the row.
pub(in crate::joinery) const COUNT: OptionSpec = OptionSpec {
    key: "count",
    kind: OptionKind::Count { min: 1, max: 60 },
    default: &[
        Usual::Words("as many as `spacing` asks for, at least "),
        Usual::Count(2),
        Usual::Words(" where there is room"),
    ],
    says: "how many; one alone stands in the middle",
};

/// What the row is called in messages.
pub(in crate::joinery) struct Named {
    /// One of them: `dowel`.
    pub(in crate::joinery) one: &'static str,
    /// Many: `dowels`.
    pub(in crate::joinery) many: &'static str,
}

/// Places along a face `length` long, from its middle, mm.
pub(in crate::joinery) fn places(
    bench: &Bench<'_>,
    work: &Work,
    row: &Row,
    length: f64,
    named: &Named,
) -> Result<Vec<f64>, Problem> {
    let asked = work.options.number("inset");
    let set = Asked { row, length, named };
    set.fits(bench, work, asked)?;
    // A short face draws the outer ones in, but never nearer to its end than they may
    // stand.
    let inset = asked.unwrap_or_else(|| bench.own(row.inset).min(SHORT * length).max(row.edge));
    let span = (length - 2.0 * inset).max(0.0);
    // A spacing nearer than they may stand would only be refused.
    let spacing = bench.length(work, "spacing", row.spacing).max(row.apart);
    let count = work.options.count("count").unwrap_or_else(|| {
        let gaps = (1..MOST).find(|n| span / f64::from(*n) <= spacing + NOISE).unwrap_or(MOST);
        // Two that have no room for one another are one in the middle.
        if span < row.apart { 1 } else { gaps + 1 }
    });
    if count <= 1 {
        let alone = SetOut { length, count, ends: Ends::Shares, apart: row.apart };
        return Ok(alone.places(bench));
    }
    let gap = span / f64::from(count - 1);
    if gap < row.apart - NOISE {
        return Err(set.collide(bench, work, count, span));
    }
    let ends = asked.map_or(Ends::Chosen(inset), Ends::Asked);
    Ok(SetOut { length, count, ends, apart: row.apart }.places(bench))
}

/// What is known of the ends of a row, mm.
#[derive(Clone, Copy, Debug)]
pub(in crate::joinery) enum Ends {
    /// Each stands in the middle of an equal share of the length.
    Shares,
    /// About so far from each end to the first.
    Chosen(f64),
    /// So far, as the script asks.
    Asked(f64),
}

/// A row to be set out in whole steps, mm.
#[derive(Clone, Copy, Debug)]
pub(in crate::joinery) struct SetOut {
    /// Of the face.
    pub(in crate::joinery) length: f64,
    /// How many stand in the row.
    pub(in crate::joinery) count: u32,
    /// What is known of its ends.
    pub(in crate::joinery) ends: Ends,
    /// Least distance between neighbours.
    pub(in crate::joinery) apart: f64,
}

/// Parts of an inch in a step.
const SIXTEENTHS: f64 = 16.0;
/// Most of a row of an even number whose ends are made alike by a pitch one step off the
/// nearest: with more the outer ones would wander.
const FEW: u32 = 6;
/// Least of the nearest pitch that whole steps may leave between two: on a face of a few
/// millimetres they are too coarse, and the row stands as the sum says.
const COARSE: f64 = 0.85;

/// What a rule is read by in a script: whole millimetres, or sixteenths of an inch.
fn step(bench: &Bench<'_>) -> f64 {
    match bench.job.unit {
        Unit::Mm => 1.0,
        Unit::Inch => INCH / SIXTEENTHS,
    }
}

impl SetOut {
    /// The places from the middle of the face.
    pub(in crate::joinery) fn places(&self, bench: &Bench<'_>) -> Vec<f64> {
        let step = step(bench);
        self.whole(step).into_iter().map(|at| at * step - 0.5 * self.length).collect()
    }

    /// The places from the first end, in steps.
    fn whole(&self, step: f64) -> Vec<f64> {
        let long = self.length / step;
        let Some(gaps) = self.count.checked_sub(1).filter(|gaps| *gaps > 0) else {
            return vec![down(long / 2.0)];
        };
        let steps = f64::from(gaps);
        let even = match self.ends {
            Ends::Shares => long / f64::from(self.count),
            Ends::Chosen(inset) | Ends::Asked(inset) => (long - 2.0 * inset / step) / steps,
        };
        let pitch = match self.ends {
            Ends::Asked(inset) => return self.kept_from_ends(inset / step, even, step),
            Ends::Shares => (even + 0.5 - NOISE).floor(),
            // Never more than what asks for so many.
            Ends::Chosen(_) => down(even),
        };
        let uneven = |pitch: f64| ((long - steps * pitch) / 2.0).fract().abs() > NOISE;
        let few = self.count.is_multiple_of(2) && self.count <= FEW;
        let near = [pitch, pitch - 1.0].into_iter().find(|pitch| few && !uneven(*pitch)).unwrap_or(pitch);
        let pitch = if near * step < self.apart - NOISE { near.max(up(self.apart / step)) } else { near };
        let first = down((long - steps * pitch) / 2.0);
        // Whole steps are given up before they crowd a row or run it off its face.
        let coarse = pitch < COARSE * even || first < NOISE;
        let (first, pitch) = if coarse { ((long - steps * even) / 2.0, even) } else { (first, pitch) };
        (0..self.count).map(|k| first + f64::from(k) * pitch).collect()
    }

    /// The places where the first and the last keep their distance from the ends.
    fn kept_from_ends(&self, inset: f64, even: f64, step: f64) -> Vec<f64> {
        let long = self.length / step;
        let half = self.count / 2;
        let between = |pitch: f64| long - 2.0 * inset - f64::from(self.count.saturating_sub(2)) * pitch;
        // Rounded up the middle is no wider than the rest.
        let fits = |pitch: &f64| {
            let middle = if self.count.is_multiple_of(2) { between(*pitch) } else { even };
            middle > COARSE * pitch && middle * step > self.apart - NOISE && pitch * step > self.apart - NOISE
        };
        let pitch = [up(even), down(even)].into_iter().find(fits).unwrap_or(even);
        let low = (0..half).map(|k| inset + f64::from(k) * pitch);
        let middle = (!self.count.is_multiple_of(2)).then(|| inset + down(long / 2.0 - inset));
        let high = (0..half).rev().map(|k| long - inset - f64::from(k) * pitch);
        low.chain(middle).chain(high).collect()
    }
}

/// Down to a whole step; what is whole but for noise stays.
fn down(steps: f64) -> f64 {
    (steps + NOISE).floor()
}

/// Up to a whole step.
fn up(steps: f64) -> f64 {
    (steps - NOISE).ceil()
}

/// Most gaps that a spacing is divided into.
const MOST: u32 = 200;
/// From the ends of a short face to the first, as a share of its length.
pub(in crate::joinery) const SHORT: f64 = 0.25;

/// A row that is asked for on a face.
struct Asked<'a> {
    row: &'a Row,
    /// Of the face, mm.
    length: f64,
    named: &'a Named,
}

impl Asked<'_> {
    /// Refuses a row whose ends leave it no room, or that splits them.
    fn fits(&self, bench: &Bench<'_>, work: &Work, asked: Option<f64>) -> Result<(), Problem> {
        let (row, length, one) = (self.row, self.length, self.named.one);
        if 2.0 * row.edge > length + NOISE || asked.is_some_and(|inset| 2.0 * inset > length + NOISE) {
            let least = row.edge.max(asked.unwrap_or(0.0));
            let message = format!(
                "a {one} {} from either end needs {}, but the parts meet on {}",
                bench.mm(least),
                bench.mm(2.0 * least),
                bench.mm(length)
            );
            return Err(bench
                .error(work, "does-not-fit", message, &parts(work))
                .help("use smaller ones, or let the parts meet on more"));
        }
        let Some(inset) = asked.filter(|inset| *inset < row.edge - NOISE) else { return Ok(()) };
        let message =
            format!("a {one} {} from the end splits it: it needs {}", bench.mm(inset), bench.mm(row.edge));
        Err(bench
            .error(work, "too-near-the-edge", message, &parts(work))
            .help(format!("make `inset` {} or more", bench.mm(row.edge))))
    }

    /// So many stand nearer to one another than they may; how many would not.
    fn collide(&self, bench: &Bench<'_>, work: &Work, count: u32, span: f64) -> Problem {
        let (apart, Named { one, many }) = (self.row.apart, self.named);
        let gap = span / f64::from(count - 1);
        let message = format!(
            "{} stand {} apart on the {} that the parts meet on; they need {}",
            wording::count(count as usize, one, many),
            bench.mm(gap),
            bench.mm(self.length),
            bench.mm(apart)
        );
        // The help names the most that do fit, so that one try is enough.
        let fit = (1..count).rev().find(|n| span / f64::from(*n) >= apart - NOISE).map_or(1, |n| n + 1);
        bench
            .error(work, "inserts-collide", message, &parts(work))
            .help(format!("{} fit", wording::count(fit as usize, one, many)))
    }
}

/// The parts the row joins.
fn parts(work: &Work) -> Vec<usize> {
    [0, 1].iter().filter_map(|k| work.part(*k)).map(|p| p.0).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Figures worked by hand: 42 + 2 × 84 on 251, not 41.8 and 83.7.
    #[test]
    fn a_row_is_set_out_in_whole_steps() {
        let row =
            |length: f64, count: u32, ends: Ends| SetOut { length, count, ends, apart: 10.0 }.whole(1.0);
        let shares = |length, count| row(length, count, Ends::Shares);
        assert_eq!(shares(251.0, 3), [41.0, 125.0, 209.0], "a step more at the second end");
        assert_eq!(shares(252.0, 3), [42.0, 126.0, 210.0]);
        assert_eq!(shares(251.0, 2), [63.0, 188.0], "ends alike");
        assert_eq!(shares(250.0, 2), [63.0, 187.0], "the lesser pitch for ends alike");
        assert_eq!(shares(251.0, 1), [125.0]);
        assert_eq!(row(400.0, 4, Ends::Chosen(50.0)), [50.0, 150.0, 250.0, 350.0]);
        assert_eq!(row(401.0, 4, Ends::Chosen(50.0)), [52.0, 151.0, 250.0, 349.0]);
        assert_eq!(
            row(401.0, 4, Ends::Asked(50.0)),
            [50.0, 151.0, 250.0, 351.0],
            "what is left in the middle"
        );
        assert_eq!(row(401.0, 3, Ends::Asked(50.5)), [50.5, 200.5, 350.5]);
        assert_eq!(row(30.0, 2, Ends::Asked(8.0)), [8.0, 22.0]);
    }

    /// Each limit of setting out, from both sides; figures worked by hand.
    #[test]
    fn whole_steps_give_way_where_they_do_not_serve() {
        let row = |length: f64, count: u32, ends: Ends, apart: f64| {
            SetOut { length, count, ends, apart }.whole(1.0)
        };
        // 25 would leave 12.5 at either end, so 24; but not nearer than they may stand.
        assert_eq!(row(100.0, 4, Ends::Shares, 24.0), [14.0, 38.0, 62.0, 86.0]);
        assert_eq!(row(100.0, 4, Ends::Shares, 25.0), [12.0, 37.0, 62.0, 87.0]);
        // Six are made alike by a lesser pitch, eight would wander.
        assert_eq!(row(97.0, 6, Ends::Shares, 0.0), [11.0, 26.0, 41.0, 56.0, 71.0, 86.0]);
        assert_eq!(row(97.0, 8, Ends::Shares, 0.0), [6.0, 18.0, 30.0, 42.0, 54.0, 66.0, 78.0, 90.0]);
        // An odd number takes what is left over beside the middle one.
        assert_eq!(row(401.0, 5, Ends::Asked(50.0), 0.0), [50.0, 126.0, 200.0, 275.0, 351.0]);
        // 26 and two thirds: up to 27, down to 26, and as the sum says where neither is far
        // enough apart in the middle or beside it.
        assert_eq!(row(100.0, 4, Ends::Asked(10.0), 26.0), [10.0, 37.0, 63.0, 90.0]);
        let even = row(100.0, 4, Ends::Asked(10.0), 26.5);
        assert!((even[1] - 110.0 / 3.0).abs() < 1e-9 && (even[2] - 190.0 / 3.0).abs() < 1e-9, "{even:?}");
        assert_eq!(row(100.0, 4, Ends::Asked(10.0), 25.0), [10.0, 37.0, 63.0, 90.0]);
        // Of 1.4 a whole step would be too little.
        let shares = row(7.0, 5, Ends::Shares, 0.0);
        assert!((shares[0] - 0.7).abs() < 1e-9 && (shares[4] - 6.3).abs() < 1e-9, "{shares:?}");
        assert_eq!(row(10.0, 3, Ends::Chosen(0.0), 0.0), [0.0, 5.0, 10.0]);
        // In steps of 2 places count in them, lengths and distances in millimetres.
        let twos = |length: f64, count: u32, ends: Ends, apart: f64| {
            SetOut { length, count, ends, apart }.whole(2.0)
        };
        assert_eq!(twos(50.0, 1, Ends::Shares, 0.0), [12.0]);
        assert_eq!(twos(100.0, 3, Ends::Shares, 0.0), [8.0, 25.0, 42.0]);
        assert_eq!(twos(100.0, 2, Ends::Asked(10.0), 0.0), [5.0, 45.0]);
        assert_eq!(twos(100.0, 2, Ends::Chosen(10.0), 0.0), [5.0, 45.0]);
        assert_eq!(twos(100.0, 2, Ends::Chosen(10.0), 90.0), [2.0, 47.0]);
    }
}

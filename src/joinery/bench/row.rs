//! A row of inserts along a meeting face: where each one stands.

use super::seen::Bench;
use super::tolerance::NOISE;
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
    let inset = asked.unwrap_or_else(|| row.inset.min(SHORT * length).max(row.edge));
    let span = (length - 2.0 * inset).max(0.0);
    let spacing = work.options.number("spacing").unwrap_or(row.spacing).max(row.apart);
    let count = work.options.count("count").unwrap_or_else(|| {
        let gaps = (1..MOST).find(|n| span / f64::from(*n) <= spacing + NOISE).unwrap_or(MOST);
        // Two that have no room for one another are one in the middle.
        if span < row.apart { 1 } else { gaps + 1 }
    });
    if count <= 1 {
        return Ok(vec![0.0]);
    }
    let gap = span / f64::from(count - 1);
    if gap < row.apart - NOISE {
        return Err(set.collide(bench, work, count, span));
    }
    Ok((0..count).map(|k| f64::from(k) * gap - 0.5 * span).collect())
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

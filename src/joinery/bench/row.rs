//! A row of inserts along a meeting face: where each one stands.

use super::seen::Bench;
use crate::model::{OptionKind, OptionSpec, Work};
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
    default: "as many as `spacing` asks for, at least 2 where there is room",
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
    let parts: Vec<usize> = [0, 1].iter().filter_map(|k| work.part(*k)).map(|p| p.0).collect();
    let asked = work.options.number("inset");
    if 2.0 * row.edge > length + 1e-6 || asked.is_some_and(|inset| 2.0 * inset > length + 1e-6) {
        let least = row.edge.max(asked.unwrap_or(0.0));
        let says = format!(
            "a {} {} from either end needs {}, but the parts meet on {}",
            named.one,
            bench.mm(least),
            bench.mm(2.0 * least),
            bench.mm(length)
        );
        return Err(bench
            .error(work, "does-not-fit", says, &parts)
            .help("use smaller ones, or let the parts meet on more"));
    }
    if let Some(inset) = asked.filter(|inset| *inset < row.edge - 1e-6) {
        let says = format!(
            "a {} {} from the end splits it: it needs {}",
            named.one,
            bench.mm(inset),
            bench.mm(row.edge)
        );
        return Err(bench
            .error(work, "too-near-the-edge", says, &parts)
            .help(format!("make `inset` {} or more", bench.mm(row.edge))));
    }
    let inset = asked.unwrap_or_else(|| row.inset.min(0.25 * length).max(row.edge));
    let span = (length - 2.0 * inset).max(0.0);
    let spacing = work.options.number("spacing").unwrap_or(row.spacing).max(row.apart);
    let count = work.options.count("count").unwrap_or_else(|| {
        let gaps = (1_u32..200).find(|n| span / f64::from(*n) <= spacing + 1e-6).unwrap_or(200);
        if span < row.apart { 1 } else { gaps + 1 }
    });
    if count <= 1 {
        return Ok(vec![0.0]);
    }
    let gap = span / f64::from(count - 1);
    if gap < row.apart - 1e-6 {
        let says = format!(
            "{} stand {} apart on the {} that the parts meet on; they need {}",
            wording::count(count as usize, named.one, named.many),
            bench.mm(gap),
            bench.mm(length),
            bench.mm(row.apart)
        );
        let fit = (1..count).rev().find(|n| span / f64::from(*n) >= row.apart - 1e-6).map_or(1, |n| n + 1);
        return Err(bench
            .error(work, "inserts-collide", says, &parts)
            .help(format!("{} fit", wording::count(fit as usize, named.one, named.many))));
    }
    Ok((0..count).map(|k| f64::from(k) * gap - 0.5 * span).collect())
}

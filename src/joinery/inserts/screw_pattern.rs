//! Screws in several rows: where each one stands.

use crate::joinery::bench::meet::Rect;
use crate::joinery::bench::pocket::WALL;
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::tolerance::NOISE;
use crate::model::{OptionKind, OptionSpec, Usual, Work};
use crate::problem::Problem;

/// The option `rows`.
pub(in crate::joinery) const ROWS: OptionSpec = OptionSpec {
    key: "rows",
    kind: OptionKind::Count { min: 1, max: 20 },
    default: &[Usual::Count(ONE_ROW), Usual::Words(": along the middle")],
    says: "how many rows, side by side across where the parts meet",
};

/// The option `edge`.
pub(in crate::joinery) const EDGE: OptionSpec = OptionSpec {
    key: "edge",
    kind: OptionKind::Length { min: 1.0, max: 1000.0 },
    default: &[Usual::Length(FROM_EDGE), Usual::Words(", a quarter of a narrow face")],
    says: "from the edges of where the parts meet to the outer rows",
};

/// The option `staggered`.
pub(in crate::joinery) const STAGGERED: OptionSpec = OptionSpec {
    key: "staggered",
    kind: OptionKind::YesNo,
    default: &[Usual::Words("false: one beside the other")],
    says: "sets the screws of every other row between those of its neighbours",
};

/// Rows where nothing is said.
pub(in crate::joinery) const ONE_ROW: u32 = 1;
/// From the edges to the outer rows, mm.
const FROM_EDGE: f64 = 20.0;
/// The same on a narrow face, as a share of it.
const EDGE_SHARE: f64 = 0.25;
/// How many diameters rows stand apart at least, so that they do not split the wood between
/// them (common practice, no source).
const APART: f64 = 4.0;

/// Places of the screws, along and across the middle of `rect`, row by row; `row` are those
/// along one row.
pub(in crate::joinery) fn pattern(
    bench: &Bench<'_>,
    work: &Work,
    rect: &Rect,
    row: &[f64],
    thick: f64,
) -> Result<Vec<[f64; 2]>, Problem> {
    let rows = work.options.count("rows").unwrap_or(ONE_ROW);
    if rows <= ONE_ROW {
        return Ok(row.iter().map(|along| [*along, 0.0]).collect());
    }
    let edge =
        work.options.number("edge").unwrap_or_else(|| bench.own(FROM_EDGE).min(EDGE_SHARE * rect.width));
    let gap = (rect.width - 2.0 * edge) / f64::from(rows - 1);
    fits(bench, work, rect, [edge, gap], thick)?;
    let between: Vec<f64> = row.iter().zip(row.iter().skip(1)).map(|(a, b)| 0.5 * (a + b)).collect();
    let staggered = work.options.yes("staggered");
    if staggered && between.is_empty() {
        let parts: Vec<usize> = [0, 1].iter().filter_map(|k| work.part(*k)).map(|p| p.0).collect();
        let message = "rows of one screw have nothing to stand between".to_owned();
        return Err(bench
            .error(work, "contradiction", message, &parts)
            .help("leave `staggered` out, or let `count` be 2 or more"));
    }
    let mut all = Vec::new();
    for k in 0..rows {
        let across = edge + gap * f64::from(k) - 0.5 * rect.width;
        let places = if staggered && k % 2 == 1 { &between[..] } else { row };
        all.extend(places.iter().map(|along| [*along, across]));
    }
    Ok(all)
}

/// Refuses rows too near an edge or one another.
fn fits(
    bench: &Bench<'_>,
    work: &Work,
    rect: &Rect,
    [edge, gap]: [f64; 2],
    thick: f64,
) -> Result<(), Problem> {
    let parts: Vec<usize> = [0, 1].iter().filter_map(|k| work.part(*k)).map(|p| p.0).collect();
    let least = 0.5 * thick + WALL;
    if edge < least - NOISE {
        let message = format!(
            "rows {} from the edges leave {} of wood beside a screw of {}; it needs {}",
            bench.mm(edge),
            bench.beside((edge - 0.5 * thick).max(0.0), WALL),
            bench.mm(thick),
            bench.beside(WALL, (edge - 0.5 * thick).max(0.0))
        );
        return Err(bench
            .error(work, "too-near-the-edge", message, &parts)
            .help(format!("make `edge` {} or more, or use fewer rows", bench.mm(least))));
    }
    if gap >= APART * thick - NOISE {
        return Ok(());
    }
    let message = format!(
        "rows of screws stand {} apart on the {} that the parts meet on; screws of {} need {}",
        bench.mm(gap.max(0.0)),
        bench.mm(rect.width),
        bench.mm(thick),
        bench.mm(APART * thick)
    );
    Err(bench
        .error(work, "inserts-collide", message, &parts)
        .help("use fewer rows, thinner screws, or less `edge`"))
}

//! Rules for the ends of dimension lines: arrow heads and dots.

use super::Add;
use super::rows::Row;

/// Under this length arrow heads stand outside, mm (ISO teaching).
const SHORT: f64 = 10.0;

/// D11: heads inside a stretch shorter than 10 mm; a head between two such
/// stretches, where a dot belongs; a place without either.
pub(super) fn inside_short(rows: &[Row<'_>], add: &mut Add<'_>) {
    for row in rows.iter().filter(|row| row.origin.is_none()) {
        for pair in row.stops.windows(2) {
            let [a, b] = pair else { continue };
            let figured = row.figures.iter().any(|f| (f.from - a.at).abs() + (f.to - b.at).abs() < 0.06);
            let inside = a.heads.contains(&-1.0) || b.heads.contains(&1.0);
            if figured && inside && b.at - a.at < SHORT - 0.01 {
                let says = format!("arrow heads stand inside {:.1} mm", b.at - a.at);
                add("D11", row.point(a.at), says);
            }
        }
        if row.stops.iter().any(|s| s.heads.is_empty() && !s.dot) {
            add("D11", row.point(row.reach().0), "a row of sizes has a place without a head".into());
        }
        let short = |from: f64, to: f64| {
            to - from < SHORT - 0.01
                && row.figures.iter().any(|f| (f.from - from).abs() + (f.to - to).abs() < 0.06)
        };
        for triple in row.stops.windows(3) {
            let [a, b, c] = triple else { continue };
            if short(a.at, b.at) && short(b.at, c.at) && !b.dot {
                add("D11", row.point(b.at), "a head stands between two short sizes, not a dot".into());
            }
        }
    }
}

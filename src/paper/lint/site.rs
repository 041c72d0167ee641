//! Rules for the sheet of a wall.

use super::finding::Add;
use super::rows::{Figure, Row, SAME_PLACE};
use crate::paper::fixes::{Fixes, Measures};

/// What a figure on the sheet of a wall measures.
fn measures(figure: &Figure<'_>) -> Option<Measures> {
    match figure.fixes {
        Fixes::OnWall { measures, .. } => Some(*measures),
        Fixes::Nothing | Fixes::Chain { .. } | Fixes::Cuts(_) => None,
    }
}

/// D22: sizes of the wall and sizes of the furniture stand in rows of their own, the
/// furniture's from end to end of the wall, and what is left over stands there as the
/// difference: in brackets, since it follows from the rest (AWS: site and cabinet
/// sizes, from memory).
pub(super) fn wall(rows: &[Row<'_>], add: &mut Add<'_>) {
    for upright in [false, true] {
        let rows = || rows.iter().filter(move |row| row.upright == upright);
        let of = |row: &Row<'_>, what: Measures| row.figures.iter().any(|f| measures(f) == Some(what));
        let furniture = |row: &&Row<'_>| of(row, Measures::Furniture) || of(row, Measures::Left);
        let ends = rows()
            .flat_map(|row| &row.figures)
            .filter(|figure| measures(figure) == Some(Measures::Wall))
            .map(|figure| (figure.from, figure.to))
            .reduce(|all, one| (all.0.min(one.0), all.1.max(one.1)));
        let Some(ends) = ends else { continue };
        for row in rows().filter(furniture) {
            let at = row.point(row.reach().0);
            if of(row, Measures::Wall) {
                add("D22", at, "sizes of the wall and of the furniture stand in one row".into());
                continue;
            }
            let (from, to) = row.reach_of_figures();
            if (from - ends.0).abs() > SAME_PLACE || (to - ends.1).abs() > SAME_PLACE {
                add("D22", at, "the row of the furniture does not run from end to end of the wall".into());
            }
            if !row.figures.iter().any(Figure::auxiliary) {
                add("D22", at, "no size in brackets says what is left of the wall".into());
            }
        }
    }
}

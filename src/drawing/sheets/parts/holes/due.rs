//! Which holes of a part go into its table.

use std::collections::BTreeSet;

use crate::drawing::sheets::parts::chosen::{NumberedHole, ViewSizes};
use crate::machining::feature::{Feature, Form};
use crate::paper::fixes::{Fixes, MANY_HOLES, MOST_NUMBERED, is_even_row, places_from_datum};

/// The cuts that are holes to be numbered: all but those of even rows, where the
/// views would place more than eight holes by as many figures. Common practice, no source.
pub(in crate::drawing::sheets::parts) fn due(views: &[ViewSizes], features: &[Feature]) -> BTreeSet<usize> {
    let figures = || views.iter().flat_map(|v| &v.rows).flat_map(|row| row.figures.iter().flatten());
    let in_rows: BTreeSet<usize> = figures().flat_map(|figure| rows_of_holes(&figure.fixes)).collect();
    let hole = |f: &&Feature| matches!(f.form, Form::Hole { .. }) && !in_rows.contains(&f.cut);
    let loose: BTreeSet<usize> = features.iter().filter(hole).map(|f| f.cut).collect();
    let told = figures().filter(|figure| places_from_datum(&figure.fixes, &loose)).count();
    let numbered = loose.len() > MANY_HOLES && loose.len() <= MOST_NUMBERED && told > MANY_HOLES;
    if numbered { loose } else { BTreeSet::new() }
}

/// The cuts that an even row places.
fn rows_of_holes(fixes: &Fixes) -> Vec<usize> {
    if is_even_row(fixes) { fixes.centres() } else { Vec::new() }
}

/// The holes among `features` that are numbered, in the order of the views and along each
/// from the near end, so that the eye finds the next one beside the last.
pub(in crate::drawing::sheets::parts) fn number<'f>(
    views: impl Iterator<Item = Vec<&'f Feature>>,
    due: &BTreeSet<usize>,
) -> Vec<Vec<NumberedHole>> {
    let mut last = 0;
    let mut numbered = Vec::new();
    for features in views {
        let mut holes: Vec<NumberedHole> = features
            .into_iter()
            .filter(|f| due.contains(&f.cut))
            .filter_map(|f| match f.form {
                Form::Hole { centre, .. } => Some(NumberedHole { number: 0, cut: f.cut, at: centre }),
                _ => None,
            })
            .collect();
        holes.sort_by(|a, b| {
            a.at.x.total_cmp(&b.at.x).then(a.at.y.total_cmp(&b.at.y)).then(a.at.z.total_cmp(&b.at.z))
        });
        for hole in &mut holes {
            last += 1;
            hole.number = last;
        }
        numbered.push(holes);
    }
    numbered
}

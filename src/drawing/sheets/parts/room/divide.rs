//! A part's views, or the sizes of one view, divided over two cells.

use crate::drawing::sheets::parts::chosen::{AxisRow, ViewSizes};
use crate::drawing::sheets::parts::subject::{Further, Prepared, Subject};

/// Whether there is anything left to divide.
pub(in crate::drawing::sheets::parts) fn can_be(prepared: &Prepared<'_>) -> bool {
    let sizes = |view: &ViewSizes| view.rows.iter().filter(|row| !row.outermost).count() + view.notes.len();
    prepared.chosen.len() > 1 || prepared.chosen.first().is_some_and(|view| sizes(view) > 1)
}

/// The first view of a part by itself, and the others; of a single view half the sizes
/// each time.
pub(in crate::drawing::sheets::parts) fn divided(first: Prepared<'_>) -> [Prepared<'_>; 2] {
    let Prepared { subject, features, mut chosen, mut lines } = first;
    if chosen.len() > 1 {
        let further = Prepared {
            subject: Subject { further: Further::Views, ..subject },
            features: features.clone(),
            chosen: chosen.split_off(1),
            lines: lines.split_off(1),
        };
        return [Prepared { subject, features, chosen, lines }, further];
    }
    let rest: Vec<ViewSizes> = chosen.iter_mut().map(other_half).collect();
    let further = Prepared {
        subject: Subject { further: Further::Sizes, ..subject },
        features: features.clone(),
        chosen: rest,
        lines: lines.clone(),
    };
    [Prepared { subject, features, chosen, lines }, further]
}

/// Takes half the rows along each axis and half the notes out of a view, for a second one
/// of the same face. Overall sizes and numbers of holes stay with the first.
fn other_half(view: &mut ViewSizes) -> ViewSizes {
    let (mut rows, mut kept) = (Vec::new(), Vec::new());
    let counts = [0, 1, 2].map(|axis| view.rows.iter().filter(|row| goes_along(row, axis)).count());
    let halves = counts.iter().any(|count| *count > 1) || view.notes.len() > 1;
    let mut seen = [0; 3];
    let mut first = None;
    for row in std::mem::take(&mut view.rows) {
        if row.outermost {
            kept.push(row);
            continue;
        }
        let Some((seen, count)) = seen.get_mut(row.axis).zip(counts.get(row.axis)) else { continue };
        // With no two alike left, the sizes along one axis stay and all others go.
        let stays =
            if halves { *seen < count.div_ceil(2) } else { *first.get_or_insert(row.axis) == row.axis };
        *seen += 1;
        if stays { kept.push(row) } else { rows.push(row) }
    }
    view.rows = kept;
    let keep = if halves || first.is_none() { view.notes.len().div_ceil(2) } else { 0 };
    let notes = view.notes.split_off(keep);
    ViewSizes { face: view.face, rows, notes, cuts: view.cuts.clone(), numbered: Vec::new() }
}

/// Whether a row gives places along an axis, not the size of the whole.
fn goes_along(row: &AxisRow, axis: usize) -> bool {
    row.axis == axis && !row.outermost
}

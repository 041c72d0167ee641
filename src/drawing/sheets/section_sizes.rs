//! Which sizes a section carries, and the scale at which it has room for them.

use kurbo::{Point, Rect};

use super::general::heights::{Side, depths_cut, heights_cut, rails_cut, set_back};
use super::general::sizes::{Measured, members, openings, overall};
use crate::drawing::kit::dimension::{Beside, Manner, Sizes, place};
use crate::drawing::kit::opening::Opens;
use crate::drawing::kit::project::{ITEM_COLUMN, OnSheet, extent};
use crate::drawing::page::look::Look;
use crate::drawing::page::scale::Scale;
use crate::geometry::{DVec2, DVec3};
use crate::joinery::WorkedJob;
use crate::model::PieceId;
use crate::paper::Mark;
use crate::solid::Camera;

/// Least room for sizes at the left and above, mm.
const BANDS: f64 = 24.0;
/// White at the left of the bands, mm.
const LEFT: f64 = 4.0;
/// White round the outermost sizes, mm.
const EDGE: f64 = 2.0;
/// Room under the section for its title, and from the section to its base line, mm.
const TITLE_ROOM: f64 = 14.0;
const TITLE_DROP: f64 = 11.0;
/// From sizes under the section down to the base line of its title, mm.
const UNDER_SIZES: f64 = 8.0;

/// How much a section says, fullest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Fullness {
    /// Heights and depths with every thickness, and what stands back at its foot.
    All,
    /// The same without depths, which the side view has as well.
    Heights,
    /// Clear heights and outside sizes.
    Outside,
}

/// The piece that is cut.
pub(super) struct Subject<'a> {
    pub(super) worked: &'a WorkedJob,
    pub(super) piece: PieceId,
    /// Where it is cut, piece mm.
    pub(super) x: f64,
    /// Its least and greatest corner.
    pub(super) corners: (DVec3, DVec3),
    pub(super) look: &'a Look,
    /// What opens in it.
    pub(super) moving: &'a [Opens],
}

/// A section as it goes on its sheet.
pub(super) struct Placed {
    pub(super) scale: Scale,
    pub(super) on: OnSheet,
    /// The box round the cut.
    pub(super) rect: Rect,
    /// The ink of its sizes.
    pub(super) sizes: Vec<Mark>,
    /// The base line of its title.
    pub(super) title: f64,
    /// How far sizes above it and below it reach past its right side.
    pub(super) past: f64,
}

/// A section with sizes at some scale, its cut with a corner at the origin.
struct Tried {
    scale: Scale,
    marks: Vec<Mark>,
    /// Size of the cut, mm of paper.
    size: DVec2,
    /// Room at the left and above, and at the right and below.
    before: DVec2,
    after: DVec2,
    /// From the cut down to the base line of the title.
    title: f64,
    /// How far sizes above it and below it reach past its right side.
    past: f64,
}

impl Subject<'_> {
    /// All sizes at the largest scale that fits, or at the next smaller one rather than
    /// without the thicknesses; depths give way before the scale does. `None` where no scale
    /// is small enough.
    pub(super) fn placed(&self) -> Option<Placed> {
        let at = |scale, full| Some(self.tried(scale, full)).filter(|tried| self.area(tried).is_some());
        let scale = Scale::largest(self.look, 1.0, |scale| at(scale, Fullness::Outside).is_some())?;
        let smaller = scale.smaller(self.look);
        let best = at(scale, Fullness::All)
            .or_else(|| at(scale, Fullness::Heights))
            .or_else(|| smaller.and_then(|smaller| at(smaller, Fullness::All)))
            .or_else(|| at(scale, Fullness::Outside))?;
        let area = self.area(&best)?;
        let corner = Point::new(area.x0 + best.before.x + LEFT, area.y0 + best.before.y);
        let (a, b) = extent(Camera::LEFT, self.corners.0, self.corners.1);
        let on = OnSheet::at_corner(a, b, corner, best.scale.factor);
        let rect = on.rect(a, b);
        let mut sizes = best.marks;
        for mark in &mut sizes {
            mark.shift(corner.to_vec2());
        }
        Some(Placed { scale: best.scale, on, rect, sizes, title: rect.y1 + best.title, past: best.past })
    }

    /// Where on the sheet it has room: a tall narrow one beside the title block, a wide one
    /// above it.
    fn area(&self, tried: &Tried) -> Option<Rect> {
        let whole = tried.before + tried.size + tried.after;
        let room = self.look.room();
        [room.beside(), room.above()]
            .into_iter()
            .find(|area| whole.x <= area.width() && whole.y <= area.height())
    }

    /// The section at `scale`, saying so much.
    fn tried(&self, scale: Scale, full: Fullness) -> Tried {
        let (a, b) = extent(Camera::LEFT, self.corners.0, self.corners.1);
        let on = OnSheet::at_corner(a, b, Point::ZERO, scale.factor);
        let rect = on.rect(a, b);
        let rows = self.rows(on, rect, full);
        let under = rows.iter().any(|row| row.side == Beside::Below);
        let placed = place(rect, &rows, &Manner::of(self.look), &mut 1);
        let taken = placed.bounds;
        // A column of numbers may be higher than the section, and lower than its foot.
        let beyond = |seen: &Rect| seen.y1 < rect.y0 || seen.y0 > rect.y1;
        let past = placed.marks.iter().map(Mark::bounds).filter(beyond);
        let past = past.fold(0.0, |past: f64, seen| past.max(seen.x1 - rect.x1));
        let title = if under { taken.y1 - rect.y1 + UNDER_SIZES } else { TITLE_DROP };
        let before = DVec2::new(BANDS.max(rect.x0 - taken.x0 + EDGE), BANDS.max(rect.y0 - taken.y0 + EDGE));
        let after = DVec2::new(
            (2.0 * ITEM_COLUMN).max(taken.x1 - rect.x1 + EDGE).max(past + ITEM_COLUMN + EDGE),
            TITLE_ROOM.max(title + TITLE_ROOM - TITLE_DROP),
        );
        let size = DVec2::new(rect.width(), rect.height());
        Tried { scale, marks: placed.marks, size, before, after, title, past }
    }

    /// Its rows of sizes.
    fn rows(&self, on: OnSheet, rect: Rect, full: Fullness) -> Vec<Sizes> {
        let Self { worked, piece, x, corners: (low, high), look, moving } = *self;
        let measured = Measured { worked, piece, moving };
        let y = |at: f64| on.point(Camera::LEFT.project(DVec3::new(0.0, at, 0.0))).x;
        let z = |at: f64| on.point(DVec2::new(0.0, at)).y;
        let side = |across| Side { across, y: &y, z: &z };
        let mut rows = Vec::new();
        if full == Fullness::Outside {
            rows.extend(openings(&members(worked, piece, 2, 0), Beside::Left, rect, z, look));
        } else {
            let above = side(Beside::Above);
            rows.extend(heights_cut(measured, (low, high), (rect, &above, look)));
            rows.push(overall(Beside::Left, rect, high.z - low.z, look));
        }
        if full == Fullness::All {
            let (above, below) = (side(Beside::Above), side(Beside::Below));
            rows.extend(depths_cut(measured, (low, high), (rect, &above, look)));
            let ends = ((low, high), x);
            let feet = set_back((worked, piece), ends, (rect, &below, look));
            rows.extend(feet.or_else(|| rails_cut(measured, ends, (rect, &below, look))));
        }
        rows.push(overall(Beside::Above, rect, high.y - low.y, look));
        bracket_closing(&mut rows);
        rows
    }
}

/// Places nearer than this are one, mm of paper.
const SAME: f64 = 0.05;

/// Puts in brackets what follows, under a section, from the sizes over it: a plinth may end
/// just where a back does.
fn bracket_closing(rows: &mut [Sizes]) {
    // Places that sizes hang together, each with the lowest it hangs to.
    let mut hung: Vec<(f64, f64)> = Vec::new();
    if !rows.iter().any(|row| row.side == Beside::Below) {
        return;
    }
    let mut order: Vec<usize> = (0..rows.len()).collect();
    order.retain(|i| rows.get(*i).is_some_and(|row| row.side.across()));
    order.sort_by_key(|i| rows.get(*i).is_some_and(|row| row.side == Beside::Below));
    for i in order {
        let Some(row) = rows.get_mut(i) else { continue };
        let below = row.side == Beside::Below;
        let ends: Vec<(f64, f64)> =
            row.stops.iter().zip(row.stops.iter().skip(1)).map(|(a, b)| (a.at, b.at)).collect();
        for ((from, to), figure) in ends.into_iter().zip(&mut row.figures) {
            let Some(known) = figure.as_mut().filter(|figure| !figure.is_bracketed()) else { continue };
            let root = |hung: &[(f64, f64)], at: f64| {
                hung.iter().find(|(place, _)| (place - at).abs() < SAME).map_or(at, |(_, root)| *root)
            };
            let (a, b) = (root(&hung, from), root(&hung, to));
            if below && (a - b).abs() < SAME {
                *known = known.clone().bracketed();
                continue;
            }
            for (at, own) in [(from, a), (to, b)] {
                if !hung.iter().any(|(place, _)| (place - at).abs() < SAME) {
                    hung.push((at, own));
                }
            }
            for (_, root) in &mut hung {
                if (*root - b).abs() < SAME {
                    *root = a;
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::kit::dimension::figure::Figure;
    use crate::drawing::kit::dimension::{Form, Stop};
    use crate::drawing::page::look::Paper;
    use crate::drawing::page::profile::Profile;
    use crate::measure::Unit;
    use crate::paper::Fixes;

    /// A back 19 thick, 9.5 within its side, over a plinth that ends 28.5 from there: 28.5
    /// follows, 19 of the plinth does not.
    #[test]
    fn a_plinth_that_ends_where_a_back_does_is_in_brackets() {
        let look = Look::new(Paper::Letter, Unit::Mm, Profile::Asme);
        let row = |side, stops: &[f64]| Sizes {
            side,
            stops: stops.iter().map(|at| Stop { at: *at, foot: 0.0 }).collect(),
            figures: stops
                .windows(2)
                .map(|ends| Some(Figure::length(&look, ends[1] - ends[0], Fixes::Nothing)))
                .collect(),
            form: Form::Chain,
            outermost: false,
        };
        let mut rows =
            vec![row(Beside::Above, &[271.5, 290.5, 300.0]), row(Beside::Below, &[252.5, 271.5, 300.0])];
        bracket_closing(&mut rows);
        let bracketed =
            |row: &Sizes| -> Vec<bool> { row.figures.iter().flatten().map(Figure::is_bracketed).collect() };
        assert_eq!(bracketed(&rows[0]), [false, false]);
        assert_eq!(bracketed(&rows[1]), [false, true]);
    }
}

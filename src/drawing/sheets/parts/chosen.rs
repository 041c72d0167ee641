//! What is chosen to stand in the views of a part: rows of sizes and notes.

use crate::drawing::kit::dimension::Form as RowForm;
use crate::drawing::kit::dimension::figure::Figure;
use crate::geometry::DVec3;
use crate::model::Face;
use crate::paper::{Fixes, Run};

/// The sizes shown in one view.
#[derive(Debug)]
pub(super) struct ViewSizes {
    /// The face looked at.
    pub(super) face: Face,
    /// Rows along the axes in its plane.
    pub(super) rows: Vec<AxisRow>,
    /// Notes on leaders.
    pub(super) notes: Vec<PartNote>,
    /// Cuts seen as themselves in this view, for their centre lines.
    pub(super) cuts: Vec<usize>,
    /// Holes sized by number in a table, not in the view.
    pub(super) numbered: Vec<NumberedHole>,
}

/// A hole that goes by its number.
#[derive(Clone, Copy, Debug)]
pub(super) struct NumberedHole {
    /// The number.
    pub(super) number: usize,
    /// The cut that it is.
    pub(super) cut: usize,
    /// Its middle on the face, part coordinates.
    pub(super) at: DVec3,
}

/// A row of sizes along an axis of the part.
#[derive(Debug)]
pub(super) struct AxisRow {
    /// 0 x, 1 y, 2 z.
    pub(super) axis: usize,
    /// Places it reaches to.
    pub(super) stops: Vec<Place>,
    /// As in [`crate::drawing::kit::dimension::Sizes`].
    pub(super) figures: Vec<Option<Figure>>,
    /// Chain or running.
    pub(super) form: RowForm,
    /// An overall size.
    pub(super) outermost: bool,
}

/// A place a row reaches to.
#[derive(Clone, Debug)]
pub(super) struct Place {
    /// Part coordinate along the row's axis.
    pub(super) at: f64,
    /// Stretches, on the other axis of the view, of what lies there.
    pub(super) lies: Vec<(f64, f64)>,
}

/// A note about cuts.
#[derive(Debug)]
pub(super) struct PartNote {
    /// Places it may point at, part coordinates.
    pub(super) at: Vec<DVec3>,
    /// Phrases; a line is broken between them where it must be.
    pub(super) phrases: Vec<Vec<Run>>,
    /// Model value of the last number.
    pub(super) value: Option<f64>,
    /// What the numbers fix.
    pub(super) fixes: Fixes,
    /// The cuts it tells of, where it tells nothing else.
    pub(super) cuts: Vec<usize>,
}

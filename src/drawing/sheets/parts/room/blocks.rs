//! A long table under the views of a part, set beside itself in blocks where one would run
//! off the sheet.

use kurbo::{Point, Rect};

use crate::drawing::kit::table::Table;
use crate::drawing::page::look::Look;
use crate::drawing::sheets::parts::pack;
use crate::drawing::sheets::parts::subject::text_height;

/// Most blocks a table stands in, side by side: in more, places are looked for too far
/// from the views they belong to.
const BLOCKS: usize = 3;
/// White between the views and the table, mm.
const BELOW: f64 = 7.0;
/// White between the blocks of a table, mm.
pub(in crate::drawing::sheets::parts) const BESIDE: f64 = 5.0;
/// What the heading of a part takes above its views, in text heights.
const HEADING: f64 = 12.0;

/// The corner that a table under `above`, the views of a part, is drawn from.
pub(in crate::drawing::sheets::parts) fn corner(above: Rect) -> Point {
    Point::new(above.x0, above.y1 + BELOW)
}

/// The fewest blocks in which a table has room under `above`; `None` if it has none in
/// any. `blocks` divides the rows into so many tables.
pub(in crate::drawing::sheets::parts) fn fewest(
    blocks: &dyn Fn(usize) -> Vec<Table>,
    above: Rect,
    look: &Look,
) -> Option<usize> {
    let height = text_height(look);
    let room = pack::room(look);
    let tall = room.height() - above.height() - HEADING * height;
    (1..=BLOCKS).find(|count| {
        let tables = blocks(*count);
        let sets: Vec<_> = tables.iter().map(|table| table.set(height, f64::MAX)).collect();
        let wide: f64 = sets.iter().map(|set| set.width() + BESIDE).sum();
        sets.iter().all(|set| set.full_height() <= tall) && wide <= room.width()
    })
}

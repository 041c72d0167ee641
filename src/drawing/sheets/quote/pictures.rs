//! The pictures of a quotation: of each offer one, side by side with captions.

use kurbo::{Point, Rect};

use super::offer::Offered;
use crate::drawing::kit::words::{elide, text_width};
use crate::drawing::page::plate::{Lettering, Plate};
use crate::drawing::sheets::client::{draw_picture, picture_proportion};
use crate::paper::Weight;

/// Cap height of a caption, mm.
const TEXT: f64 = 2.5;
/// White beside and below a picture, mm.
const BETWEEN: f64 = 3.6;
/// Height of a caption under one of several pictures, mm.
const CAPTION: f64 = 5.5;
/// Most pictures in a row.
const IN_A_ROW: usize = 3;

/// The pictures, and what is known of them before they are drawn.
#[derive(Debug)]
pub(super) struct Pictures<'a> {
    offers: &'a [Offered<'a>],
    /// Height of the tallest over its width.
    tallest: Option<f64>,
}

/// How pictures stand in an area.
#[derive(Clone, Copy, Debug)]
struct Grid {
    across: usize,
    down: usize,
    /// Width of a cell with the white beside it, mm.
    wide: f64,
    /// Height of a cell with the white below it, mm.
    high: f64,
}

impl<'a> Pictures<'a> {
    pub(super) fn of(offers: &'a [Offered<'a>]) -> Self {
        let tall = |offer: &Offered<'_>| picture_proportion(offer.job, offer.worked);
        Self { offers, tallest: offers.iter().filter_map(tall).reduce(f64::max) }
    }

    fn grid(&self, area: Rect) -> Grid {
        let count = self.offers.len().max(1);
        // Four stand two and two, not three and one.
        let across = if count == IN_A_ROW + 1 { 2 } else { count.min(IN_A_ROW) };
        let down = count.div_ceil(across);
        Grid { across, down, wide: area.width() / across as f64, high: area.height() / down as f64 }
    }

    /// Height of a caption, mm.
    fn caption(&self) -> f64 {
        if self.offers.len() > 1 { CAPTION } else { 0.0 }
    }

    /// How much of the height of an area they take, mm: low ones leave white that the
    /// words can have.
    pub(super) fn height(&self, area: Rect) -> f64 {
        let Grid { down, wide, high, .. } = self.grid(area);
        let Some(tallest) = self.tallest else { return area.height() };
        let cell = tallest * (wide - BETWEEN) + self.caption() + BETWEEN;
        down as f64 * cell.min(high)
    }

    /// Draws them in an area as high as [`height`](Self::height) says.
    pub(super) fn draw(&self, plate: &mut Plate, area: Rect) {
        let Grid { across, wide, high, .. } = self.grid(area);
        for (at, offer) in self.offers.iter().enumerate() {
            let corner =
                Point::new(area.x0 + (at % across) as f64 * wide, area.y0 + (at / across) as f64 * high);
            let mut cell = Rect::from_origin_size(corner, (wide - BETWEEN, high - BETWEEN));
            cell.y1 -= self.caption();
            if self.offers.len() > 1 {
                let words = format!("{}  {}", at + 1, offer.title);
                let words = elide(&words, TEXT, Weight::SemiBold, cell.width());
                let x = cell.center().x - text_width(&words, TEXT, Weight::SemiBold) / 2.0;
                plate.text((x, cell.y1 + CAPTION), words, Lettering::title(TEXT));
            }
            draw_picture(plate, offer.job, offer.worked, cell);
        }
    }
}

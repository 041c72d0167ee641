//! The quotation for the client, and the shop's own estimate.
//!
//! The client's sheets are made from a [`QuoteSheet`], which holds what the client pays
//! and no cost: what is not there cannot be printed by mistake.

mod blocks;
mod inside;
mod offer;
mod page;
mod pictures;

use kurbo::Rect;

use crate::drawing::page::look::Look;
use crate::drawing::page::plate::Plate;
use crate::paper::Sheet;

pub use inside::{Reckoned, inside_sheets};
pub use offer::{Offered, QuoteSheet, Sum};

/// White round a quotation, mm; more at the left, where it is filed.
const MARGIN: f64 = 16.0;
const FILING: f64 = 22.0;

/// Where a quotation may be drawn.
fn space(look: &Look) -> Rect {
    let (wide, high) = look.paper.size();
    Rect::new(FILING, MARGIN, wide - MARGIN, high - MARGIN)
}

/// The sheets of a quotation.
pub fn quote_sheets(quote: &QuoteSheet<'_>, look: &Look) -> Vec<Sheet> {
    let plates = page::pages(quote, look, space(look));
    let (width, height) = look.paper.size();
    let sheet = |(at, plate): (usize, Plate)| Sheet {
        number: (at + 1).to_string(),
        title: if at == 0 { "Quotation".into() } else { format!("Quotation, page {}", at + 1) },
        bookmarks: Vec::new(),
        width,
        height,
        space: space(look),
        paper: look.paper.name(),
        marks: plate.marks,
        full_size: false,
    };
    plates.into_iter().enumerate().map(sheet).collect()
}

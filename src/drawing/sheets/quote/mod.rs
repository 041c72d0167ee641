//! The quotation for the client, and the shop's own estimate.
//!
//! The client's sheets are made from a [`QuoteSheet`], which holds what the client pays
//! and no cost: what is not there cannot be printed by mistake.

mod blocks;
mod inside;
mod page;
mod picture;

use kurbo::Rect;

use crate::drawing::page::look::Look;
use crate::drawing::page::plate::Plate;
use crate::estimate::{Decimal, Rates, StageSum};
use crate::joinery::WorkedJob;
use crate::model::{Job, JobHead};
use crate::paper::Sheet;
use crate::wording::quote::Description;

pub use inside::inside_sheets;

/// What a client is asked to pay.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sum {
    /// The price before tax.
    pub net: Decimal,
    /// Tax.
    pub tax: Decimal,
    /// Both.
    pub total: Decimal,
    /// When it is paid.
    pub stages: Vec<StageSum>,
}

/// One of the things offered.
#[derive(Debug)]
pub struct Offered<'a> {
    /// Its title: `Ash, open`.
    pub title: String,
    /// What sets it apart, empty for the first.
    pub differs: String,
    /// The job.
    pub job: &'a Job,
    /// Its parts.
    pub worked: &'a WorkedJob,
    /// It in words.
    pub described: Description,
    /// What is asked for it.
    pub sum: Sum,
}

/// A quotation.
#[derive(Debug)]
pub struct QuoteSheet<'a> {
    /// Title, client, number, revision.
    pub head: &'a JobHead,
    /// The shop's words: head, what is in, what is not, terms.
    pub rates: &'a Rates,
    /// What is offered, the first as drawn.
    pub offers: Vec<Offered<'a>>,
    /// How many are made of each.
    pub count: u32,
    /// What a second of the same saves, in a sentence.
    pub saving: Option<String>,
    /// What is to be settled before work begins.
    pub open: Vec<String>,
    /// Whether bringing and fixing it is in the price.
    pub installed: bool,
}

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

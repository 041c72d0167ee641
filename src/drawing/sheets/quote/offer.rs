//! What a quotation is made from: what the client pays, and no cost.

use crate::estimate::{Decimal, Rates, StageSum};
use crate::joinery::WorkedJob;
use crate::model::{Job, JobHead};
use crate::wording::quote::Description;

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

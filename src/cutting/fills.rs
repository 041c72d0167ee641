//! What inlays are filled with, to be bought.

use super::buy_line::{Bought, BuyLine, Group, Measure, Note};
use super::needs::pieces;
use super::tolerance::WHOLE;
use super::units::{CUBIC_CENTIMETRES, CUBIC_METRES, PER_CENT, THOUSAND};
use crate::joinery::{Fill, WorkedJob};
use crate::model::Job;

/// Steps of a cubic centimetre that a filling is measured out in.
const TENTHS: f64 = 10.0;

/// What to buy of each filling, for all pieces of the job.
pub(super) fn lines(job: &Job, worked: &WorkedJob) -> Vec<BuyLine> {
    struct Lot<'f> {
        first: &'f Fill,
        count: usize,
        volume: f64,
    }
    let mut lots: Vec<Lot<'_>> = Vec::new();
    for part in &worked.parts {
        let made = pieces(job, part.piece.0);
        for fill in &part.fills {
            let alike = |lot: &&mut Lot<'_>| {
                let other = lot.first;
                other.what == fill.what
                    && other.density.map(f64::to_bits) == fill.density.map(f64::to_bits)
                    && other.waste.to_bits() == fill.waste.to_bits()
            };
            let volume = fill.volume * made as f64;
            match lots.iter_mut().find(alike) {
                Some(lot) => (lot.count, lot.volume) = (lot.count + made, lot.volume + volume),
                None => lots.push(Lot { first: fill, count: made, volume }),
            }
        }
    }
    lots.iter().map(|lot| line(lot.first, lot.count, lot.volume)).collect()
}

/// One filling: how much with its waste, by mass where its density is known.
fn line(fill: &Fill, count: usize, volume: f64) -> BuyLine {
    let whole = volume * (1.0 + fill.waste / PER_CENT);
    let up = |value: f64, steps: f64| (value * steps - WHOLE).ceil() / steps;
    let (quantity, unit) = match fill.density {
        Some(density) => (up(whole * density * CUBIC_METRES, THOUSAND), Measure::Kilograms),
        None => (up(whole * CUBIC_CENTIMETRES, TENTHS), Measure::CubicCentimetres),
    };
    let note = Note::Inlays {
        count,
        volume: volume * CUBIC_CENTIMETRES,
        waste: fill.waste,
        density: fill.density,
        stated: fill.stated,
    };
    BuyLine {
        group: Group::Glue,
        what: Bought::Filling(fill.what.clone()),
        size: Vec::new(),
        quantity,
        unit,
        note: Some(note),
        price: None,
        pack: None,
        code: None,
    }
}

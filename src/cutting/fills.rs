//! What inlays are filled with, to be bought.

use super::buy_line::{BuyLine, Group};
use super::needs::pieces;
use crate::joinery::{Fill, WorkedJob};
use crate::measure;
use crate::model::Job;
use crate::problem::wording;

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
    let whole = volume * (1.0 + fill.waste / 100.0);
    let cubic = |mm3: f64| measure::number(mm3 * 1e-3, 1);
    let mut note = format!(
        "{}, {} cm³; {} % waste in it",
        wording::count(count, "inlay", "inlays"),
        cubic(volume),
        measure::number(fill.waste, 1)
    );
    let up = |value: f64, steps: f64| (value * steps - 1e-9).ceil() / steps;
    let (quantity, unit) = match fill.density {
        Some(density) => {
            let source = if fill.stated { "" } else { " from memory" };
            note = format!("{note}; {} kg/m³{source}", measure::number(density, 0));
            (up(whole * density * 1e-9, 1e3), "kg")
        }
        None => (up(whole * 1e-3, 10.0), "cm³"),
    };
    BuyLine {
        group: Group::Glue,
        what: format!("{}, to inlay", wording::capital(&fill.what)),
        size: Vec::new(),
        quantity,
        unit,
        note,
        price: None,
    }
}

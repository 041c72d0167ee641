//! What is inlaid in turned parts: on their rows of the list, and to be bought.

use super::buying::{BuyLine, Group, Ware};
use super::needs::pieces;
use crate::joinery::{Fill, WorkedJob, WorkedPart};
use crate::measure;
use crate::model::Job;
use crate::problem::wording;

/// Inlays of one size on one part.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Inlaid {
    /// `ring` or `hollow`.
    pub kind: &'static str,
    /// How many on one part.
    pub count: usize,
    /// What they are filled with.
    pub what: String,
    /// Width of the groove or diameter of the hollow, mm.
    pub width: f64,
    /// Depth, mm.
    pub depth: f64,
    /// What one holds, mm3.
    pub volume: f64,
}

impl Inlaid {
    /// `2 rings 6 wide, 3 deep, black resin`; lengths as `length` words them.
    pub fn in_words(&self, length: &impl Fn(f64) -> String) -> String {
        let (width, depth) = (length(self.width), length(self.depth));
        let size = if self.kind == "ring" {
            format!("{width} wide, {depth} deep")
        } else {
            format!("⌀ {width}, {depth} deep")
        };
        let several = format!("{}s", self.kind);
        let many = wording::count(self.count, self.kind, &several);
        format!("{many} {size}, {}", self.what)
    }
}

/// The inlays of a part, those alike together.
pub(super) fn inlaid(part: &WorkedPart) -> Vec<Inlaid> {
    let mut found: Vec<(&Fill, Inlaid)> = Vec::new();
    for fill in &part.fills {
        let alike =
            |(first, _): &&mut (&Fill, Inlaid)| first.alike(fill) && (first.volume - fill.volume).abs() < 0.5;
        if let Some((_, known)) = found.iter_mut().find(alike) {
            known.count += 1;
            continue;
        }
        let (width, depth) = fill.shape.size();
        let volume = (fill.volume * 10.0).round() / 10.0;
        let one = Inlaid { kind: fill.shape.name(), count: 1, what: fill.what.clone(), width, depth, volume };
        found.push((fill, one));
    }
    found.into_iter().map(|(_, one)| one).collect()
}

/// Mass of a part, kg, inlays with the density of what they are filled with;
/// `None` where a density is not known.
pub(super) fn mass(part: &WorkedPart, density: f64) -> Option<f64> {
    let inlaid: f64 = part.fills.iter().map(|fill| fill.volume).sum();
    let fills: Option<f64> = part.fills.iter().map(|fill| Some(fill.volume * fill.density?)).sum();
    Some(((part.solid.volume() - inlaid) * density + fills?) * 1e-9)
}

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
        what: Ware::Named(format!("{}, to inlay", wording::capital(&fill.what))),
        size: Vec::new(),
        quantity,
        unit,
        note,
        about: None,
        price: None,
    }
}

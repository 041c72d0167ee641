//! What is inlaid in turned parts, as the cutting list shows it and as it weighs.

use crate::joinery::{Fill, WorkedPart};
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

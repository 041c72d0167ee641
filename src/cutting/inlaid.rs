//! What is inlaid in turned parts, as the cutting list shows it and as it weighs.

use super::tolerance::SAME_VOLUME;
use super::units::CUBIC_METRES;
use crate::joinery::{Fill, FillShape, WorkedPart};

/// Steps of a cubic millimetre that volumes are kept in.
const KEPT: f64 = 10.0;

/// A form of inlay.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum InlayKind {
    /// A groove round the part.
    Ring,
    /// A hollow in an end.
    Hollow,
}

/// Inlays of one size on one part.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Inlaid {
    /// Ring or hollow.
    pub kind: InlayKind,
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

/// The inlays of a part, those alike together.
pub(super) fn inlaid(part: &WorkedPart) -> Vec<Inlaid> {
    let mut found: Vec<(&Fill, Inlaid)> = Vec::new();
    for fill in &part.fills {
        let alike = |(first, _): &&mut (&Fill, Inlaid)| {
            first.alike(fill) && (first.volume - fill.volume).abs() < SAME_VOLUME
        };
        if let Some((_, known)) = found.iter_mut().find(alike) {
            known.count += 1;
            continue;
        }
        let (width, depth) = fill.shape.size();
        let volume = (fill.volume * KEPT).round() / KEPT;
        let kind = match fill.shape {
            FillShape::Ring { .. } => InlayKind::Ring,
            FillShape::Hollow { .. } => InlayKind::Hollow,
        };
        let one = Inlaid { kind, count: 1, what: fill.what.clone(), width, depth, volume };
        found.push((fill, one));
    }
    found.into_iter().map(|(_, one)| one).collect()
}

/// Mass of a part, kg, inlays with the density of what they are filled with;
/// `None` where a density is not known.
pub(super) fn mass(part: &WorkedPart, density: f64) -> Option<f64> {
    let inlaid: f64 = part.fills.iter().map(|fill| fill.volume).sum();
    let fills: Option<f64> = part.fills.iter().map(|fill| Some(fill.volume * fill.density?)).sum();
    Some(((part.solid.true_volume() - inlaid) * density + fills?) * CUBIC_METRES)
}

//! Which parts of a job are there already, and which cut parts a change touches.

use super::{CutPart, Fate, Pair, Standing};
use crate::joinery::{PartSource, WorkedPart};
use crate::model::Face;

/// What is known of the cut parts after a change.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Kept {
    /// Parts of the new job that need not be laid out, with how many of each: cut as
    /// they are, or to be trimmed from what is cut.
    pub there: Vec<(usize, usize)>,
    /// Places in the pairs of those that are to be trimmed, with how many.
    pub trimmed: Vec<(usize, usize)>,
    /// Places in the pairs of those that are lost, with how many.
    pub lost: Vec<(usize, usize)>,
}

/// Whether a part is a lipping glued to a cut part that is lost, or sawn off with what
/// is taken off that.
fn comes_off(old: Standing<'_>, cut: &[CutPart], part: &WorkedPart, pairs: &[Pair]) -> bool {
    let PartSource::Lipping { of, side } = part.source else { return false };
    let Some(panel) = old.part(of).filter(|panel| cut.iter().any(|one| one.part == panel.name)) else {
        return false;
    };
    let face = Face::facing(panel.at.local_dir(side.normal()));
    match pairs.iter().find(|pair| pair.old == Some(of)).map(|pair| &pair.fate) {
        Some(Fate::Remade(_) | Fate::Dropped) => true,
        Some(Fate::Trimmed(trim)) => trim.off.iter().any(|off| Some(off.face) == face),
        _ => false,
    }
}

/// What becomes of the parts of `old` that are cut.
pub fn keep(old: Standing<'_>, cut: &[CutPart], pairs: &[Pair]) -> Kept {
    let mut kept = Kept::default();
    let cut_names = cut;
    let mut left: Vec<(&str, usize)> = cut.iter().map(|one| (one.part.as_str(), one.count)).collect();
    for (at, pair) in pairs.iter().enumerate() {
        let Some(part) = pair.old.and_then(|index| old.part(index)) else { continue };
        let Some((_, count)) = left.iter_mut().find(|(name, count)| *name == part.name && *count > 0) else {
            continue;
        };
        // Of several parts under one name the first found are taken to be those cut.
        let cut = (*count).min(pair.had);
        *count -= cut;
        // A lipping stays and goes with the part it is glued to.
        let used = if comes_off(old, cut_names, part, pairs) { 0 } else { cut.min(pair.has) };
        if used == 0 {
            kept.lost.push((at, cut));
            continue;
        }
        match (&pair.fate, pair.new) {
            (Fate::Unchanged | Fate::Renamed, Some(new)) => kept.there.push((new, used)),
            (Fate::Trimmed(_), Some(new)) => {
                kept.there.push((new, used));
                kept.trimmed.push((at, used));
            }
            _ => {
                kept.lost.push((at, cut));
                continue;
            }
        }
        if cut > used {
            kept.lost.push((at, cut - used));
        }
    }
    kept
}

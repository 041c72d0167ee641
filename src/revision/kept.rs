//! Which parts of a job are there already, and which cut parts a change touches.

use super::{CutPart, Fate, Pair, Standing};

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

/// What becomes of the parts of `old` that are cut.
pub fn keep(old: Standing<'_>, cut: &[CutPart], pairs: &[Pair]) -> Kept {
    let mut kept = Kept::default();
    let mut left: Vec<(&str, usize)> = cut.iter().map(|one| (one.part.as_str(), one.count)).collect();
    for (at, pair) in pairs.iter().enumerate() {
        let Some(part) = pair.old.and_then(|index| old.part(index)) else { continue };
        let Some((_, count)) = left.iter_mut().find(|(name, count)| *name == part.name && *count > 0) else {
            continue;
        };
        // Of several parts under one name the first found are taken to be those cut.
        let cut = (*count).min(pair.had);
        *count -= cut;
        let used = cut.min(pair.has);
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

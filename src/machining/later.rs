//! What waits for a glue-up: read by the cutting list and the order of assembly, so that
//! neither can come to say another than the operations do.

use crate::joinery::{CutKind, WorkedJob};

/// Kinds of cut of some parts that wait, each once, in the order of the parts and of
/// their cuts.
pub fn later(worked: &WorkedJob, parts: &[usize]) -> Vec<CutKind> {
    let mut kinds: Vec<CutKind> = Vec::new();
    for cut in parts.iter().filter_map(|part| worked.parts.get(*part)).flat_map(|part| &part.cuts) {
        if cut.stage.waits() && !kinds.contains(&cut.kind) {
            kinds.push(cut.kind);
        }
    }
    kinds
}

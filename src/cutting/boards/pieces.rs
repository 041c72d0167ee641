//! From filled boards to layouts with places.

use super::strips::{Filled, Shop, Strip};
use crate::cutting::sheets::{Axis, Piece, SheetJob, SheetLayout, What};

/// The layout of a filled board.
pub(super) fn layout(job: &SheetJob, filled: &Filled) -> SheetLayout {
    let trim = job.sheets[filled.kind].trim;
    let size = Shop::new(job).boards[filled.kind].map(|side| side - job.kerf);
    let at = [trim[0], trim[2]];
    let whole = Piece { at, size, what: What::Offcut };
    let broads: Vec<i64> = filled.strips.iter().map(|strip| strip.broad - job.kerf).collect();
    let usable = divided(job, &whole, filled.way, &broads, |index, piece| {
        strip(job, filled.way.other(), &filled.strips[index], piece)
    });
    SheetLayout { sheet: filled.kind, usable }
}

/// A strip cut into its parts.
fn strip(job: &SheetJob, along: Axis, strip: &Strip, piece: &Piece) -> Piece {
    let longs: Vec<i64> = strip.parts.iter().map(|part| job.parts[*part].size[along.index()]).collect();
    divided(job, piece, along, &longs, |index, piece| {
        let part = strip.parts[index];
        let wide = job.parts[part].size[along.other().index()];
        divided(job, piece, along.other(), &[wide], |_, piece| Piece {
            what: What::Part { part, turned: false, run: None },
            ..piece.clone()
        })
    })
}

/// A piece cut into lengths along an axis, what each becomes, and the rest; the piece
/// itself where one length is all of it.
fn divided(
    job: &SheetJob,
    whole: &Piece,
    axis: Axis,
    lengths: &[i64],
    becomes: impl Fn(usize, &Piece) -> Piece,
) -> Piece {
    let along = axis.index();
    let (mut at, mut left) = (whole.at, whole.size[along]);
    let mut pieces = Vec::new();
    for (index, length) in lengths.iter().enumerate() {
        let mut size = whole.size;
        size[along] = *length;
        pieces.push(becomes(index, &Piece { at, size, what: What::Offcut }));
        at[along] += length + job.kerf;
        left -= length + job.kerf;
    }
    if left > 0 {
        let mut size = whole.size;
        size[along] = left;
        pieces.push(Piece { at, size, what: What::Offcut });
    }
    match pieces.as_slice() {
        [only] if only.size == whole.size => only.clone(),
        _ => Piece { at: whole.at, size: whole.size, what: What::Divided { along: axis, pieces } },
    }
}

/// The largest rest that comes off a board in one piece by its first cuts, trims of the
/// board and all: by so much the board could have been shorter or narrower.
pub(super) fn clear_rest(job: &SheetJob, layout: &SheetLayout) -> i64 {
    let What::Divided { along, pieces } = &layout.usable.what else { return 0 };
    let bare = job.sheets.get(layout.sheet).map_or(0, |board| board.size[along.other().index()]);
    let rests = pieces.iter().filter(|piece| piece.what == What::Offcut);
    rests.map(|piece| piece.size[along.index()] * bare).max().unwrap_or(0)
}

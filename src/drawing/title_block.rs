//! The title block: fields of ISO 7200 in the lower right corner.

use super::{Look, Paper};

/// Height of the block proper, mm: four rows of 9.
const HEIGHT: f64 = 36.0;
/// Height of the strip above it that carries unit and tolerance notes, mm.
const STRIP: f64 = 6.0;

/// Width and height of the block with its strip, mm: 180 wide by ISO 7200,
/// which on A4 is the whole drawing space; on letter narrower (6.25 in, the
/// width of the ASME Y14.1 block for size A, from memory).
pub(super) fn size(look: &Look) -> (f64, f64) {
    let width = match look.paper {
        Paper::A4 | Paper::A3 | Paper::A2 | Paper::Tabloid => 180.0,
        Paper::Letter => 158.75,
    };
    (width, HEIGHT + STRIP)
}

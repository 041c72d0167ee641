//! How much of a sheet the title block takes.

/// Height of the block proper, mm: four rows.
pub(in crate::drawing) const HEIGHT: f64 = 36.0;

/// Height of the strip above it that carries unit and tolerance notes, mm.
pub(in crate::drawing) const STRIP: f64 = 6.0;

/// Width of the block, mm: 180 by ISO 7200, which on A4 is the whole drawing space.
pub(in crate::drawing) const WIDTH: f64 = 180.0;

/// The same on letter, mm: 6.25 in, the width of the ASME Y14.1 block for size A,
/// from memory.
pub(in crate::drawing) const WIDTH_ON_LETTER: f64 = 158.75;

/// Height of a row of the strip that stands for it on the further sheets, mm.
pub(in crate::drawing) const FOOT_ROW: f64 = 10.0;

/// Paper narrower than this has that strip in two rows, mm.
pub(in crate::drawing) const ONE_ROW: f64 = 360.0;

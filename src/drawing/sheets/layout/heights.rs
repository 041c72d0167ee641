//! Heights of text on the sheets of layouts.

use crate::drawing::page::look::Look;
use crate::drawing::page::plate::Lettering;
use crate::measure::Unit;

/// Height of text in tables and notes, mm.
pub(in crate::drawing) const TEXT: f64 = Lettering::SMALL;

/// Height of headings, mm.
pub(in crate::drawing) const HEADING: f64 = Lettering::MIDDLE;

/// Base line to base line in text heights, and where fractions stand in the lines.
const PITCH: f64 = 1.6;
const PITCH_FRACTION: f64 = 2.0;
/// How far a fraction stands out above a heading, mm.
const OVER_FRACTION: f64 = 1.5;

/// From base line to base line of notes, mm: more where fractions stand in
/// them.
pub(in crate::drawing) fn pitch(look: &Look) -> f64 {
    TEXT * if look.unit == Unit::Inch { PITCH_FRACTION } else { PITCH }
}

/// From the top of a sheet to the base line of a heading, mm.
pub(in crate::drawing) fn above(look: &Look) -> f64 {
    HEADING + if look.unit == Unit::Inch { OVER_FRACTION } else { 0.0 }
}

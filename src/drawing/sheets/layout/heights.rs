//! Heights of text on the sheets of layouts.

use crate::drawing::page::look::Look;
use crate::measure::Unit;

/// Height of text in tables and notes, mm.
pub(in crate::drawing) const TEXT: f64 = 2.5;

/// Height of headings, mm.
pub(in crate::drawing) const HEADING: f64 = 3.5;

/// From base line to base line of notes, mm: more where fractions stand in
/// them.
pub(in crate::drawing) fn pitch(look: &Look) -> f64 {
    TEXT * if look.unit == Unit::Inch { 2.0 } else { 1.6 }
}

/// From the top of a sheet to the base line of a heading, mm.
pub(in crate::drawing) fn above(look: &Look) -> f64 {
    HEADING + if look.unit == Unit::Inch { 1.5 } else { 0.0 }
}

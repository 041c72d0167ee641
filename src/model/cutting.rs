//! How the shop cuts: kerf, trims, and what is left on parts for later cuts.

use crate::measure::{INCH, Unit, near};

/// What lumber of 4/4 to 6/4 loses when it is surfaced on two sides, mm: 3/16 of an inch,
/// 13/16 from 4/4, 1 1/16 from 5/4, 1 5/16 from 6/4 (National Hardwood Lumber Association,
/// standard surfaced thicknesses, from memory).
const SURFACED: f64 = 3.0 * INCH / 16.0;

/// Figures of the saw and allowances, mm where nothing else is said.
#[derive(Clone, Debug, PartialEq)]
pub struct Cutting {
    /// Width of the saw cut.
    pub kerf: f64,
    /// Taken off each edge of a bought sheet before anything else.
    pub edge_trim: f64,
    /// Taken off both ends of a bought board.
    pub end_trim: f64,
    /// How often a sheet may be divided before a part is cut out, the cut that
    /// trims it counted.
    pub levels: u8,
    /// Left on each mitred or bevelled end until that cut is made.
    pub mitre: f64,
    /// Left on a lipped panel on the edge across from the lipping, sawn off
    /// when the lipping is on.
    pub lipped: f64,
    /// Left on the length of solid parts.
    pub length: f64,
    /// Left on the length of turned parts, to hold them by and part them off.
    pub chucking: f64,
    /// Left on the width of solid parts.
    pub width: f64,
    /// Taken off the thickness of sawn boards when they are planed.
    pub planing: f64,
    /// Left on the length of lippings.
    pub lipping_length: f64,
    /// An offcut with both sides at least this long is kept.
    pub offcut: f64,
    /// Bought over and above the boards of the layouts, per cent.
    pub waste: f64,
    /// How many times as long layouts are searched as usual. No script says it: it changes
    /// how long one waits and no part.
    pub effort: u32,
}

impl Cutting {
    /// The rules of a shop that says nothing of its own. Length and width of solid
    /// parts: E. Joyce, *The Technique of Furniture Making*. Planing: an eighth of an
    /// inch in I. S. Griffith, *Essentials of Woodworking* and his course books of
    /// 1912, here 3 mm; in inches what lumber by quarters loses on two sides. The rest is
    /// common practice, no source.
    pub const USUAL: Self = Self {
        kerf: 3.2,
        edge_trim: 10.0,
        end_trim: 20.0,
        levels: 4,
        mitre: 1.0,
        lipped: 2.0,
        length: 12.5,
        chucking: 40.0,
        width: 5.0,
        planing: 3.0,
        lipping_length: 20.0,
        offcut: 150.0,
        waste: 15.0,
        effort: 1,
    };

    /// The rules of a shop that works in `unit` and says nothing of its own.
    pub fn usual(unit: Unit) -> Self {
        let near = |mm| near(unit, mm);
        let all = Self::USUAL;
        Self {
            kerf: near(all.kerf),
            edge_trim: near(all.edge_trim),
            end_trim: near(all.end_trim),
            mitre: near(all.mitre),
            lipped: near(all.lipped),
            length: near(all.length),
            chucking: near(all.chucking),
            // No rule is set to 3/16 over for a jointed edge.
            width: if unit == Unit::Inch { 0.25 * INCH } else { all.width },
            planing: if unit == Unit::Inch { SURFACED } else { all.planing },
            lipping_length: near(all.lipping_length),
            offcut: near(all.offcut),
            ..all
        }
    }
}

impl Default for Cutting {
    fn default() -> Self {
        Self::USUAL
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rough and surfaced on two sides, inches: National Hardwood Lumber Association, standard
    /// thicknesses, from memory. Thicker lumber loses 1/4.
    #[test]
    fn lumber_by_quarters_comes_to_its_surfaced_thickness() {
        let planing = Cutting::usual(Unit::Inch).planing;
        for [rough, surfaced] in [[1.0, 0.8125], [1.25, 1.0625], [1.5, 1.3125]] {
            assert!((rough * INCH - planing - surfaced * INCH).abs() < 1e-9);
        }
        for [rough, surfaced] in [[2.0, 1.75], [2.5, 2.25], [3.0, 2.75]] {
            assert!(rough * INCH - planing >= surfaced * INCH);
        }
        assert!((Cutting::usual(Unit::Mm).planing - 3.0).abs() < 1e-9);
    }
}

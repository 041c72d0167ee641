//! Wood screws that are sold by a number, and the drills for them.

use crate::measure::INCH;

/// A wood screw by its number, sizes in inches.
struct Numbered {
    number: u32,
    /// Diameter of the shank.
    shank: f64,
    /// Drills in sixty-fourths: pilot hole in soft wood and in hard, and for the shank.
    drills: [u32; 3],
}

/// Shanks: National Design Specification for Wood Construction, Table L3 (No. 4 by 0.060 +
/// 0.013 for each number, ASME B18.6.1, from memory). Drills: a published trade chart (No. 4
/// from memory), but 13/64 for the shank of No. 10, whose 3/16 there is under its 0.190. Its
/// pilot holes are about 70 % of the root in soft wood and 90 % in hard.
const NUMBERED: [Numbered; 6] = [
    Numbered { number: 4, shank: 0.112, drills: [4, 5, 8] },
    Numbered { number: 6, shank: 0.138, drills: [5, 6, 9] },
    Numbered { number: 8, shank: 0.164, drills: [7, 8, 11] },
    Numbered { number: 10, shank: 0.190, drills: [9, 9, 13] },
    Numbered { number: 12, shank: 0.216, drills: [10, 11, 14] },
    Numbered { number: 14, shank: 0.242, drills: [11, 12, 16] },
];

/// Lengths that screws are sold in by the inch (common practice, no source).
const LENGTHS: [f64; 16] =
    [0.375, 0.5, 0.625, 0.75, 0.875, 1.0, 1.125, 1.25, 1.5, 1.75, 2.0, 2.25, 2.5, 3.0, 3.5, 4.0];
/// A screw sold by the inch may be so much longer than the one in millimetres it stands
/// for, mm: two inches for 50 mm, where it is reckoned to come through nowhere, and an inch
/// and a quarter for 30 mm, where a type tells one that has room.
const LONGER: f64 = 0.85;
/// See `LONGER`.
const WITH_ROOM: f64 = 1.8;
/// Shanks that differ by less are the same, mm: one of 3.5 mm is no #6 of 3.505.
const ALIKE: f64 = 0.001;
/// Sixty-fourths in an inch.
const FINEST: f64 = 64.0;
/// Pilot hole of a screw of any other size as a share of its diameter (common practice, no
/// source).
const PILOT: f64 = 0.7;
/// Specific gravity above which wood is hard to a pilot hole (National Design Specification,
/// 12.1.5: 90 % of the root above 0.60, 70 % from 0.50; the middle of the two).
const HARD: f64 = 0.55;

/// Holes for a screw, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drills {
    /// In what it holds in.
    pub pilot: f64,
    /// In what it goes through.
    pub clear: f64,
}

/// Diameter of the screw of a number, mm; `None` where none is sold by it.
pub fn shank(number: u32) -> Option<f64> {
    NUMBERED.iter().find(|row| row.number == number).map(|row| row.shank * INCH)
}

/// The number of a screw of this diameter, mm; `None` for one sold by its diameter.
pub fn number(wide: f64) -> Option<u32> {
    row(wide).map(|row| row.number)
}

fn row(wide: f64) -> Option<&'static Numbered> {
    NUMBERED.iter().find(|row| (row.shank * INCH - wide).abs() < ALIKE)
}

/// The numbers there are: `4, 6, 8, 10, 12 and 14`.
pub fn numbers() -> impl Iterator<Item = u32> {
    NUMBERED.iter().map(|row| row.number)
}

/// The holes for a screw of a diameter, mm, in wood of a specific gravity.
pub fn drills(wide: f64, gravity: f64) -> Drills {
    let Some(row) = row(wide) else { return Drills { pilot: PILOT * wide, clear: wide } };
    let [soft, hard, clear] = row.drills.map(|parts| f64::from(parts) / FINEST * INCH);
    Drills { pilot: if gravity > HARD { hard } else { soft }, clear }
}

/// The screw sold by number that an inch shop takes for one in millimetres: the nearest
/// number, and the greatest length that is next to no longer, so that it comes through
/// nowhere. Diameter and length, mm.
pub fn instead_of(metric: (f64, f64)) -> (f64, f64) {
    nearest(metric, LONGER)
}

/// The same for a screw that a type of the library tells, which has a little room beyond its
/// end.
pub fn told_instead_of(metric: (f64, f64)) -> (f64, f64) {
    nearest(metric, WITH_ROOM)
}

/// The nearest number, and the greatest length at most `longer` mm more.
fn nearest((wide, long): (f64, f64), longer: f64) -> (f64, f64) {
    let off = |row: &&Numbered| (row.shank * INCH - wide).abs();
    let near = NUMBERED.iter().min_by(|a, b| off(a).total_cmp(&off(b)));
    let fits = |inches: &&f64| **inches * INCH <= long + longer;
    match (near, LENGTHS.iter().rev().find(fits)) {
        (Some(row), Some(inches)) => (row.shank * INCH, inches * INCH),
        _ => (wide, long),
    }
}

/// Gauges of the steel wire that pins and brads are cut from, and its diameter, inches (the
/// steel wire gauge, from memory).
const GAUGES: [(u32, f64); 4] = [(16, 0.0625), (17, 0.054), (18, 0.0475), (20, 0.0348)];

/// The pin sold by its gauge that an inch shop takes for one in millimetres: the nearest
/// gauge, and the greatest length that is next to no longer. Diameter and length, mm.
pub fn gauged_instead_of((wide, long): (f64, f64)) -> (f64, f64) {
    let off = |row: &&(u32, f64)| (row.1 * INCH - wide).abs();
    let near = GAUGES.iter().min_by(|a, b| off(a).total_cmp(&off(b)));
    let fits = |inches: &&f64| **inches * INCH <= long + LONGER;
    match (near, LENGTHS.iter().rev().find(fits)) {
        (Some((_, thick)), Some(inches)) => (thick * INCH, inches * INCH),
        _ => (wide, long),
    }
}

/// The gauge of a pin of this diameter, mm; `None` for one sold by its diameter.
pub fn gauge(wide: f64) -> Option<u32> {
    // Sizes are kept to a thousandth of a millimetre.
    GAUGES.iter().find(|(_, thick)| (thick * INCH - wide).abs() < ALIKE).map(|(gauge, _)| *gauge)
}

/// Diameters that dowels are sold in by the inch, and the steps of their lengths, inches
/// (common practice, no source).
const DOWELS: [f64; 5] = [0.25, 0.3125, 0.375, 0.5, 0.625];
/// See `DOWELS`.
const DOWEL_STEP: f64 = 0.25;

/// The dowel that an inch shop takes for one in millimetres: the nearest sold, 5/16 by 1 1/4
/// for 8 by 30. Diameter and length, mm.
pub fn dowel_instead_of((wide, long): (f64, f64)) -> (f64, f64) {
    let off = |inches: &f64| (inches * INCH - wide).abs();
    let near = DOWELS.into_iter().min_by(|a, b| off(a).total_cmp(&off(b)));
    let steps = (long / INCH / DOWEL_STEP).round().max(1.0);
    near.map_or((wide, long), |inches| (inches * INCH, steps * DOWEL_STEP * INCH))
}

/// Steps that a shop in inches mills loose tenons by: in thickness as its cutters come, and in
/// width and length, inches (common practice, no source).
const TENON_STEPS: (f64, f64) = (0.0625, 0.25);

/// The loose tenon that an inch shop mills for one in millimetres: the nearest thickness, and
/// next to no longer, 5/16 by 1 1/2 for 8 by 40. Thickness and length, mm.
pub fn loose_tenon_instead_of((thick, long): (f64, f64)) -> (f64, f64) {
    let thick = (thick / INCH / TENON_STEPS.0).round().max(1.0) * TENON_STEPS.0 * INCH;
    (thick, milled(long))
}

/// A width or length that loose tenons are milled to by the inch, next to no more than this, mm.
pub fn milled(mm: f64) -> f64 {
    let step = TENON_STEPS.1 * INCH;
    (((mm + LONGER) / step).floor() * step).max(step)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn loose_tenons_are_milled_by_the_inch() {
        for ((thick, long), inches) in [((8.0, 40.0), (0.3125, 1.5)), ((6.0, 30.0), (0.25, 1.0))] {
            let found = loose_tenon_instead_of((thick, long));
            assert!(
                (found.0 / INCH - inches.0).abs() < 1e-9 && (found.1 / INCH - inches.1).abs() < 1e-9,
                "{found:?}"
            );
        }
    }

    /// Roots of the National Design Specification, Table L3, in.
    const ROOTS: [(u32, f64); 5] = [(6, 0.113), (8, 0.131), (10, 0.152), (12, 0.171), (14, 0.196)];

    #[test]
    fn dowels_are_the_nearest_sold_by_the_inch() {
        for ((wide, long), inches) in
            [((8.0, 30.0), (0.3125, 1.25)), ((6.0, 24.0), (0.25, 1.0)), ((10.0, 40.0), (0.375, 1.5))]
        {
            let found = dowel_instead_of((wide, long));
            assert!(
                (found.0 / INCH - inches.0).abs() < 1e-9 && (found.1 / INCH - inches.1).abs() < 1e-9,
                "{found:?}"
            );
        }
    }

    #[test]
    fn pilot_holes_are_under_the_root_and_those_of_the_shank_over_it() {
        for (number, root) in ROOTS {
            let wide = shank(number).unwrap();
            let (soft, hard) = (drills(wide, 0.4), drills(wide, 0.7));
            // 70 % of the root in soft wood, 90 % in hard, each to a drill or two.
            let of_root = |mm: f64| mm / INCH / root;
            assert!((0.65..0.95).contains(&of_root(soft.pilot)), "{number}: {}", of_root(soft.pilot));
            assert!((0.82..1.01).contains(&of_root(hard.pilot)), "{number}: {}", of_root(hard.pilot));
            assert!(soft.clear > wide && soft.clear < wide * 1.08, "{number}");
        }
    }

    /// Number of a screw: 0.060 in and 0.013 in for each (ASME B18.6.1, from memory).
    #[test]
    fn shanks_follow_their_numbers() {
        for number in numbers() {
            let inches = 0.060 + 0.013 * f64::from(number);
            assert!((shank(number).unwrap() / INCH - inches).abs() < 1e-9, "{number}");
        }
        assert_eq!(number(4.0), None);
        assert_eq!(number(4.1656), Some(8));
    }

    #[test]
    fn an_inch_shop_takes_the_nearest_that_comes_through_nowhere() {
        let taken = |wide, long| {
            let (w, l) = instead_of((wide, long));
            (number(w).unwrap(), l / INCH)
        };
        assert_eq!(taken(3.5, 16.0), (6, 0.625));
        assert_eq!(taken(4.0, 30.0), (8, 1.125));
        assert!((told_instead_of((4.0, 30.0)).1 / INCH - 1.25).abs() < 1e-9);
        assert_eq!(taken(4.0, 50.0), (8, 2.0));
        assert_eq!(taken(5.0, 64.0), (10, 2.5));
    }
}

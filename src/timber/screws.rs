//! What screws and nails bear in wood. Lengths mm, forces N; the formulas are the
//! published ones in inches and pounds, so that their tables come out.

use crate::geometry::tolerance::HAIR;

/// Millimetres to the inch, newtons to the pound.
const INCH: f64 = 25.4;
const POUND: f64 = 4.448_222;

/// Allowable withdrawal of a wood screw, N for each mm of thread in side grain: 2850 G^2 D
/// lb/in (National Design Specification for Wood Construction, 2018, Eq. 12.2-2; a safety
/// of 5.5 is in it). `gravity` is on the ovendry basis of its Table 12.3.3A.
pub fn screw_withdrawal(gravity: f64, wide: f64) -> f64 {
    2850.0 * gravity * gravity * (wide / INCH) * POUND / INCH
}

/// The load at which a wood screw pulls out, N for each mm: 15,700 G^2 D lb/in (Wood
/// Handbook, Eq. 8-10b).
pub fn screw_pulls_out(gravity: f64, wide: f64) -> f64 {
    15_700.0 * gravity * gravity * (wide / INCH) * POUND / INCH
}

/// Allowable withdrawal of a nail, N for each mm: 1380 G^2.5 D lb/in (National Design
/// Specification, 2018, Eq. 12.2-3).
pub fn nail_withdrawal(gravity: f64, wide: f64) -> f64 {
    1380.0 * gravity * gravity * gravity.sqrt() * (wide / INCH) * POUND / INCH
}

/// Lateral load of a screw by the older rule K D^2, N (Wood Handbook, ch. 8, Table 8-4);
/// `k` in N/mm2.
pub fn screw_lateral_older(k: f64, wide: f64) -> f64 {
    k * wide * wide
}

/// The `k` of the older rule, N/mm2, for a specific gravity (Wood Handbook, ch. 8, Table
/// 8-4; the row of the densest softwoods from memory).
pub fn older_k(gravity: f64, softwood: bool) -> f64 {
    let rows: &[(f64, f64)] = if softwood {
        &[(0.43, 23.17), (0.48, 29.79), (f64::INFINITY, 36.40)]
    } else {
        &[(0.48, 23.17), (0.57, 31.99), (f64::INFINITY, 44.13)]
    };
    rows.iter().find(|(under, _)| gravity < *under).map_or(0.0, |(_, k)| *k)
}

/// Depth in diameters from which a screw bears all that the older rule gives it (from
/// memory).
pub const FULL_DEPTH: f64 = 7.0;

/// A screw or nail that is loaded across, through a side member into a main one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Across {
    /// Diameter that gives the bearing strength and the yield table: that of the shank.
    pub wide: f64,
    /// Diameter that bends and bears: the root of a screw, the shank of a nail.
    pub root: f64,
    /// Bending yield strength, `MPa`.
    pub yields: f64,
    /// Thickness of the side member.
    pub side: f64,
    /// Specific gravity of the side member, ovendry basis.
    pub side_gravity: f64,
    /// Length in the main member.
    pub main: f64,
    /// Specific gravity of the main member, ovendry basis.
    pub main_gravity: f64,
}

/// Root of a screw of which only the nominal size is known, as a share of it (common
/// practice, no source; wood screws of the National Design Specification have 0.8).
pub const ROOT: f64 = 0.65;

/// One `MPa` in psi.
const PSI: f64 = 145.037_7;
/// Bending yield of the usual screws of furniture, `MPa`: 90,000 psi (National Design
/// Specification, Table I1, No. 7 to 9).
pub const YIELDS: f64 = 90_000.0 / PSI;

/// Bearing strength of wood under a pin thinner than a quarter inch, psi: 16,600 G^1.84
/// to the nearest 50 (National Design Specification, Table 12.3.3).
fn bearing(gravity: f64) -> f64 {
    (16_600.0 * libm::pow(gravity, 1.84) / 50.0).round() * 50.0
}

/// Allowable load across, N: the least of the yield modes of the National Design
/// Specification, 2018, 12.3.1, single shear, with its reductions.
pub fn lateral(pin: &Across) -> f64 {
    let (root, side, main) = (pin.root / INCH, pin.side / INCH, pin.main / INCH);
    let wide = pin.wide / INCH;
    if root < HAIR || side < HAIR || main < HAIR {
        return 0.0;
    }
    let (fem, fes) = (bearing(pin.main_gravity), bearing(pin.side_gravity));
    let fyb = pin.yields * PSI;
    let (re, rt) = (fem / fes, main / side);
    let reduce = if root <= 0.17 { 2.2 } else { 10.0 * root + 0.5 };
    let k1 = ((re + 2.0 * re * re * (1.0 + rt + rt * rt) + rt * rt * re.powi(3)).sqrt() - re * (1.0 + rt))
        / (1.0 + re);
    let k2 = -1.0
        + (2.0 * (1.0 + re) + 2.0 * fyb * (1.0 + 2.0 * re) * root * root / (3.0 * fem * main * main)).sqrt();
    let k3 = -1.0
        + (2.0 * (1.0 + re) / re + 2.0 * fyb * (2.0 + re) * root * root / (3.0 * fem * side * side)).sqrt();
    let modes = [
        root * main * fem / reduce,
        root * side * fes / reduce,
        k1 * root * side * fes / reduce,
        k2 * root * main * fem / ((1.0 + 2.0 * re) * reduce),
        k3 * root * side * fem / ((2.0 + re) * reduce),
        root * root / reduce * (2.0 * fem * fyb / (3.0 * (1.0 + re))).sqrt(),
    ];
    let least = modes.into_iter().fold(f64::INFINITY, f64::min);
    // A screw in less than ten diameters deep bears less.
    let deep = (main / (10.0 * wide)).min(1.0);
    least * deep * POUND
}

/// Specific gravity of sheets, and of wood whose species is not said: that of spruce, pine
/// and fir (National Design Specification, 2018, Table 12.3.3A), so that they are not
/// thought to hold more than they do.
pub const SOFT: f64 = 0.42;

/// A screw in what it holds in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hold {
    /// Diameter, mm.
    pub wide: f64,
    /// How far it goes in, mm.
    pub deep: f64,
    /// Specific gravity of what it goes into.
    pub gravity: f64,
    /// Whether that is of softwood.
    pub softwood: bool,
}

impl Hold {
    /// Allowable load, N, where `pull` draws it out and `across` bears down on it, of which
    /// only their share counts: National Design Specification, 2018, Eq. 12.4-1, of its
    /// withdrawal (Eq. 12.2-2) and the lateral load of the Wood Handbook (ch. 8, K D^2),
    /// less where it goes in less than seven diameters.
    pub fn bears(&self, pull: f64, across: f64) -> f64 {
        let out = screw_withdrawal(self.gravity, self.wide) * self.deep;
        let deep = (self.deep / (FULL_DEPTH * self.wide)).min(1.0);
        let side = screw_lateral_older(older_k(self.gravity, self.softwood), self.wide) * deep;
        let all = pull * pull + across * across;
        if all < HAIR {
            return side;
        }
        let (cos2, sin2) = (across * across / all, pull * pull / all);
        out * side / (out * cos2 + side * sin2)
    }
}

/// What two loads square to one another come to, N.
pub fn together(pull: f64, across: f64) -> f64 {
    (pull * pull + across * across).sqrt()
}

//! Whether a piece tips forward: an estimate of the conditions of published tests from
//! statics, never a test and no compliance.

/// Newtons to the kilogram.
pub const GRAVITY: f64 = 9.806_65;

/// Pull by hand, N: 10 lb (ASTM F2057-23, 9.2.2, by 16 CFR 1261).
pub const PULL: f64 = 44.48;
/// Height of the highest hand hold that it acts at, mm: 56 in (the same).
pub const REACH: f64 = 1422.4;
/// A child on the edge of an open drawer, kg: 60 lb (the same, 9.2.3).
pub const CHILD: f64 = 27.2;
/// What fills drawers where half or more can be pulled out, kg/m3: 8.5 lb to the cubic
/// foot (the same, 9.2.1).
pub const FILL: f64 = 136.2;
/// The block under the back that stands for a carpet, mm: 0.43 in (the same).
pub const BLOCK: f64 = 10.92;
/// From this height a free-standing piece is looked at, mm: 27 in (the same, scope).
pub const HIGH: f64 = 686.0;

/// A mass at a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weight {
    /// Mass, kg.
    pub mass: f64,
    /// How far behind the line of the front feet its centre stands, mm; before it less
    /// than nothing.
    pub behind: f64,
}

/// Moments about the line of the front feet, N m.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Moments {
    /// What keeps it standing.
    pub resist: f64,
    /// What tips it.
    pub tip: f64,
}

/// Moments of weights and of one level pull at a height, N and mm.
pub fn moments(weights: &[Weight], pull: f64, height: f64) -> Moments {
    let mut found = Moments { resist: 0.0, tip: pull * height / 1000.0 };
    for weight in weights {
        let moment = weight.mass * GRAVITY * weight.behind / 1000.0;
        if moment >= 0.0 {
            found.resist += moment;
        } else {
            found.tip -= moment;
        }
    }
    found
}

impl Moments {
    /// How often what keeps it standing is what tips it: under 1 it tips.
    pub fn factor(self) -> f64 {
        if self.tip > 0.0 { self.resist / self.tip } else { f64::INFINITY }
    }
}

/// How far forward a centre at a height moves when the back stands on a block, mm:
/// the piece is as deep as `deep` from its front feet to its back.
pub fn tilted(height: f64, deep: f64, block: f64) -> f64 {
    if deep > 0.0 { height * block / deep } else { 0.0 }
}

//! How far boards bend under what lies on them. Lengths mm, forces N, stiffness `MPa`.

use crate::model::{Load, Stock, StockKind};
use crate::timber::Species;

/// One pound to the square foot, N/mm2.
pub const PSF: f64 = Load::PSF;

/// Load of shelves for books, schools and libraries: 50 lb to the square foot
/// (Architectural Woodwork Standards, 2009, section 10), N/mm2.
pub const BOOKS: f64 = 50.0 * PSF;

/// Load of all other shelves: 40 lb to the square foot (the same), N/mm2.
pub const GENERAL: f64 = 40.0 * PSF;

/// Load of kitchen cabinets: 15 lb to the square foot for seven days (ANSI/KCMA A161.1),
/// N/mm2.
pub const LIGHT: f64 = 15.0 * PSF;

/// A shelf bends at most this share of its span at once (Architectural Woodwork
/// Standards, 2009).
pub const LIMIT: f64 = 1.0 / 144.0;

/// The same for kitchen shelves under [`LIGHT`]: 1/16 in to the foot (ANSI/KCMA A161.1).
pub const LIMIT_LIGHT: f64 = 1.0 / 192.0;

/// And at most so much in all, mm: 1/4 in (the same).
pub const MOST_LIGHT: f64 = 6.35;

/// Most that is reckoned to lie on one shelf, N: 200 lb (Architectural Woodwork Standards,
/// 2009, section 10).
pub const MOST_ON_ONE: f64 = 889.644;

/// How far a board of a span may bend at once, mm.
pub fn most_bent(load: Load, span: f64) -> f64 {
    match load {
        Load::Books | Load::General => span * LIMIT,
        Load::Light => (span * LIMIT_LIGHT).min(MOST_LIGHT),
    }
}

/// What lies on a board of so many square millimetres, N/mm2.
pub fn pressure_on(load: Load, area: f64) -> f64 {
    let most = if area > 0.0 { MOST_ON_ONE / area } else { f64::INFINITY };
    match load {
        Load::Books | Load::General => load.pressure().min(most),
        Load::Light => load.pressure(),
    }
}

/// What bends by more than this share of its span is seen to sag: 0.02 in to the foot
/// (common practice, no source).
pub const SEEN: f64 = 1.0 / 600.0;

/// Bending after years under load, of what it was at first: seasoned timber (National
/// Design Specification for Wood Construction, 3.5.2).
pub const CREEP_SOLID: f64 = 1.5;

/// The same for plywood (Eurocode 5, service class 1, from memory).
pub const CREEP_PLYWOOD: f64 = 1.8;

/// The same for boards of chips and fibres (Eurocode 5, service class 1, from memory).
pub const CREEP_BOARD: f64 = 3.25;

/// Bending in the middle of a board on two supports, `span` apart, that bears `load`
/// N/mm2 all over: 5 w L^4 / 384 E I, with the I of a strip 1 mm wide. Printed shelf spans
/// follow from it without more (Architectural Woodwork Standards, 2009).
pub fn sag(load: f64, span: f64, modulus: f64, thick: f64) -> f64 {
    let inertia = thick.powi(3) / 12.0;
    5.0 * load * span.powi(4) / (384.0 * modulus * inertia)
}

/// The span at which a board bends by `share` of it.
pub fn span_for(load: f64, modulus: f64, thick: f64, share: f64) -> f64 {
    let inertia = thick.powi(3) / 12.0;
    (share * 384.0 * modulus * inertia / (5.0 * load)).cbrt()
}

/// The thickness at which a board of a span bends by `share` of it.
pub fn thick_for(load: f64, span: f64, modulus: f64, share: f64) -> f64 {
    (12.0 * 5.0 * load * span.powi(3) / (share * 384.0 * modulus)).cbrt()
}

/// Bending of the free end of an arm of length `reach` by `force` at `at` from the wall:
/// P a^2 (3 L - a) / 6 E I.
pub fn arm(force: f64, at: f64, reach: f64, stiffness: f64) -> f64 {
    force * at * at * (3.0 * reach - at) / (6.0 * stiffness)
}

/// Stress of a round rod that a moment bends, N mm to `MPa`: 32 M / pi d^3.
pub fn rod_stress(moment: f64, wide: f64) -> f64 {
    32.0 * moment / (std::f64::consts::PI * wide.powi(3))
}

/// How stiff a stock is, and how it creeps.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stiffness {
    /// Modulus of elasticity along it, `MPa`.
    pub modulus: f64,
    /// Bending after years, of what it was at first.
    pub creep: f64,
    /// Whether the stock itself says nothing of it, so that a usual figure stands in.
    pub assumed: bool,
}

/// Modulus of plywood all of softwood veneer, `MPa`: 950,000 psi (Architectural Woodwork
/// Standards, 2009).
const PLYWOOD: f64 = 6550.0;
/// Particleboard of grade M-2, `MPa` (ANSI A208.1-2016).
const CHIPS: f64 = 2000.0;
/// Medium density fibreboard, `MPa` (ANSI A208.2, grade 130, from memory).
const FIBRES: f64 = 2160.0;
/// Solid wood whose species is not said, `MPa`: the least of the usual ones (eastern white
/// pine, Wood Handbook, FPL-GTR-190, Table 5-3a).
const SOLID: f64 = 8500.0;

/// How stiff a stock is; `None` for glass and what is bought.
pub fn stiffness(stock: &Stock) -> Option<Stiffness> {
    match &stock.kind {
        StockKind::Board { species, .. } | StockKind::Blank { species, .. } => {
            let known = species.as_deref().and_then(Species::named).map(Species::stiffness);
            Some(Stiffness { modulus: known.unwrap_or(SOLID), creep: CREEP_SOLID, assumed: known.is_none() })
        }
        StockKind::Sheet { .. } => {
            let name = stock.name.to_lowercase();
            let has = |words: &[&str]| words.iter().any(|word| name.contains(word));
            Some(if has(&["chipboard", "particle", "melamine"]) {
                Stiffness { modulus: CHIPS, creep: CREEP_BOARD, assumed: false }
            } else if has(&["fibre", "fiber", "mdf"]) {
                Stiffness { modulus: FIBRES, creep: CREEP_BOARD, assumed: false }
            } else {
                Stiffness { modulus: PLYWOOD, creep: CREEP_PLYWOOD, assumed: !has(&["ply"]) }
            })
        }
        StockKind::Glass { .. } | StockKind::Bought => None,
    }
}

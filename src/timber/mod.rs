//! Species, panel products and what else is looked up in tables, each row with
//! its published source.

mod fillings;
pub mod moisture;
pub mod numbered;
pub mod screws;
mod species;

pub use fillings::{RESIN, filling};
pub use species::{SHORT, SPECIES, Species, usual_widest};

/// Density of soda-lime float glass, kg/m3 (MIL-HDBK-1013/12, Tables 29-30:
/// 6 mm glass weighs 15.1 kg/m2).
pub const GLASS: f64 = 2500.0;

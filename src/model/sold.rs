//! How things on the buying list are sold: packs and prices, told in the script or in a
//! price list.

use crate::source::Origin;

/// What a price is for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Per {
    /// One, or one of whatever unit the list counts it in.
    #[default]
    One,
    /// A metre.
    Metre,
    /// A square metre.
    SquareMetre,
    /// A cubic metre.
    CubicMetre,
}

/// Where it is told.
#[derive(Clone, Debug, PartialEq)]
pub enum Told {
    /// In the script.
    Script(Origin),
    /// In a price list: its name, and the line.
    List(String, usize),
}

/// One way in which something is sold.
#[derive(Clone, Debug, PartialEq)]
pub struct Sold {
    /// What, as the buying list calls it.
    pub name: String,
    /// How much one pack holds, in the unit of the list; `None` where it is sold by the
    /// unit.
    pub pack: Option<f64>,
    /// Price of a pack, or of what `per` says.
    pub price: Option<f64>,
    /// What the price is for.
    pub per: Per,
    /// What the maker orders it by.
    pub code: Option<String>,
    /// Where it is told.
    pub told: Told,
}

impl Per {
    /// All, by their names.
    pub const NAMES: [&'static str; 4] = ["one", "m", "m2", "m3"];

    /// The one of a name.
    pub fn named(name: &str) -> Option<Self> {
        let all = [Self::One, Self::Metre, Self::SquareMetre, Self::CubicMetre];
        Self::NAMES.iter().position(|known| *known == name).map(|at| all[at])
    }

    /// Its name.
    pub fn name(self) -> &'static str {
        match self {
            Self::One => "one",
            Self::Metre => "m",
            Self::SquareMetre => "m2",
            Self::CubicMetre => "m3",
        }
    }
}

//! Species of timber.

use crate::measure::{INCH, Unit};

/// One species.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Species {
    /// The trade name, as scripts write it.
    pub name: &'static str,
    /// The botanical name.
    pub botanical: &'static str,
    /// Specific gravity: ovendry mass over volume at 12 % moisture.
    pub gravity: f64,
    /// Change of width for one point of moisture content, as a share of the
    /// width, flat-sawn: the dimensional change coefficient `C_T`.
    pub tangential: f64,
    /// Modulus of elasticity along the grain in bending, `MPa`.
    pub modulus: f64,
}

/// Moisture content that masses are given at: usual for furniture indoors.
const MOISTURE: f64 = 0.12;

/// A row: specific gravity, coefficient, modulus of elasticity in `MPa`.
const fn row(name: &'static str, botanical: &'static str, figures: [f64; 3]) -> Species {
    let [gravity, tangential, modulus] = figures;
    Species { name, botanical, gravity, tangential, modulus }
}

/// Specific gravities and moduli of the USDA Wood Handbook (FPL-GTR-190, 2010), Table 5-3a,
/// rows at 12 % moisture content; coefficients of its Table 13-5 (flat-sawn,
/// valid from 6 to 14 % moisture; those of softwoods recalled and checked by
/// their shrinkage). In order of name.
pub const SPECIES: &[Species] = &[
    row("American basswood", "Tilia americana", [0.37, 0.0033, 10100.0]),
    row("American beech", "Fagus grandifolia", [0.64, 0.00431, 11900.0]),
    row("black cherry", "Prunus serotina", [0.5, 0.00248, 10300.0]),
    row("black walnut", "Juglans nigra", [0.55, 0.00274, 11600.0]),
    row("Douglas fir", "Pseudotsuga menziesii", [0.48, 0.00267, 13400.0]),
    row("eastern white pine", "Pinus strobus", [0.35, 0.00212, 8500.0]),
    row("Engelmann spruce", "Picea engelmannii", [0.35, 0.00248, 8900.0]),
    row("hard maple", "Acer saccharum", [0.63, 0.00353, 12600.0]),
    row("loblolly pine", "Pinus taeda", [0.51, 0.00259, 12300.0]),
    row("longleaf pine", "Pinus palustris", [0.59, 0.00263, 13700.0]),
    row("northern red oak", "Quercus rubra", [0.63, 0.00369, 12500.0]),
    row("ponderosa pine", "Pinus ponderosa", [0.4, 0.00216, 8900.0]),
    row("quaking aspen", "Populus tremuloides", [0.38, 0.00234, 8100.0]),
    row("red alder", "Alnus rubra", [0.41, 0.00256, 9500.0]),
    row("red maple", "Acer rubrum", [0.54, 0.00289, 11300.0]),
    row("red spruce", "Picea rubens", [0.4, 0.00274, 11400.0]),
    row("shortleaf pine", "Pinus echinata", [0.51, 0.00271, 12100.0]),
    row("Sitka spruce", "Picea sitchensis", [0.4, 0.00263, 10800.0]),
    row("slash pine", "Pinus elliottii", [0.59, 0.00267, 13700.0]),
    row("western red cedar", "Thuja plicata", [0.32, 0.00234, 7700.0]),
    row("white ash", "Fraxinus americana", [0.6, 0.00274, 12000.0]),
    row("white fir", "Abies concolor", [0.39, 0.00245, 10300.0]),
    row("white oak", "Quercus alba", [0.68, 0.00365, 12300.0]),
    row("yellow birch", "Betula alleghaniensis", [0.62, 0.00338, 13900.0]),
    row("yellow poplar", "Liriodendron tulipifera", [0.42, 0.00289, 10900.0]),
];

/// What a yard calls a timber for short, and the species of the table that is meant: the
/// one most sold by that name (common practice, no source).
pub const SHORT: &[(&str, &str)] = &[
    ("alder", "red alder"),
    ("ash", "white ash"),
    ("aspen", "quaking aspen"),
    ("basswood", "American basswood"),
    ("beech", "American beech"),
    ("birch", "yellow birch"),
    ("cedar", "western red cedar"),
    ("cherry", "black cherry"),
    ("fir", "Douglas fir"),
    ("maple", "hard maple"),
    ("oak", "white oak"),
    ("pine", "eastern white pine"),
    ("poplar", "yellow poplar"),
    ("red oak", "northern red oak"),
    ("spruce", "Sitka spruce"),
    ("tulipwood", "yellow poplar"),
    ("walnut", "black walnut"),
];

/// Density of water, kg/m3, of which a specific gravity is a share.
const WATER: f64 = 1000.0;

impl Species {
    /// The species called `name`, or for short so, whatever the case of its letters.
    pub fn named(name: &str) -> Option<&'static Self> {
        let name = name.trim();
        let short = SHORT.iter().find(|(short, _)| short.eq_ignore_ascii_case(name));
        let name = short.map_or(name, |(_, meant)| meant);
        SPECIES.iter().find(|s| s.name.eq_ignore_ascii_case(name))
    }

    /// Whether it is a softwood: a conifer, told by its genus (the softwoods of
    /// the Wood Handbook, FPL-GTR-190, Table 5-3a).
    pub fn softwood(&self) -> bool {
        let genus = self.botanical.split(' ').next().unwrap_or_default();
        matches!(
            genus,
            "Abies"
                | "Chamaecyparis"
                | "Larix"
                | "Picea"
                | "Pinus"
                | "Pseudotsuga"
                | "Sequoia"
                | "Taxodium"
                | "Thuja"
                | "Tsuga"
        )
    }

    /// Mean density at 12 % moisture, kg/m3: 1000 G (1 + M), Wood Handbook
    /// (FPL-GTR-190) Eq. 4-12. One board may differ by a tenth and more.
    pub fn density(&self) -> f64 {
        WATER * self.gravity * (1.0 + MOISTURE)
    }

    /// Modulus of elasticity along the grain in bending, `MPa`.
    pub fn stiffness(&self) -> f64 {
        self.modulus
    }

    /// How much a flat-sawn width changes, mm, when its moisture content changes
    /// by `points` of a per cent: `D C_T (M2 - M1)`, Wood Handbook (FPL-GTR-190)
    /// ch. 13, for 6 to 14 %. Quarter-sawn boards move about half as much.
    pub fn moves(&self, width: f64, points: f64) -> f64 {
        width * self.tangential * points
    }
}

/// Species whose boards come wider than most, and those whose come narrower (common practice,
/// no source).
const WIDER: [&str; 13] = [
    "American basswood",
    "Douglas fir",
    "eastern white pine",
    "Engelmann spruce",
    "loblolly pine",
    "longleaf pine",
    "ponderosa pine",
    "red spruce",
    "shortleaf pine",
    "Sitka spruce",
    "western red cedar",
    "white fir",
    "yellow poplar",
];
const NARROWER: [&str; 4] = ["black cherry", "black walnut", "quaking aspen", "red alder"];

/// Widest boards as they are sold to shops that work in millimetres and in inches, mm, by
/// how wide the species comes: narrower, usual, wider (common practice, no source).
const WIDEST: [[f64; 2]; 3] = [[200.0, 8.0 * INCH], [250.0, 10.0 * INCH], [300.0, 12.0 * INCH]];

/// The widest board there usually is of a species, mm, where a script does not say: wider
/// parts are glued up.
pub fn usual_widest(species: Option<&str>, unit: Unit) -> f64 {
    // A short name is as wide as the species it means.
    let known = species.and_then(Species::named);
    let among = |names: &[&str]| known.is_some_and(|one| names.contains(&one.name));
    let [narrower, usual, wider] =
        WIDEST.map(|[metric, inches]| if unit == Unit::Inch { inches } else { metric });
    if among(&WIDER) {
        wider
    } else if among(&NARROWER) {
        narrower
    } else {
        usual
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::number;

    /// Wood Handbook (FPL-GTR-190): G 0.55 for black walnut at 12 % in Table
    /// 5-3a; 616 kg/m3 by Eq. 4-12. White ash G 0.60 gives 672.
    #[test]
    fn densities_follow_the_handbook() {
        let density = |name: &str| Species::named(name).unwrap().density();
        assert!((density("Black Walnut") - 616.0).abs() < 0.5);
        assert!((density("white ash") - 672.0).abs() < 0.5);
        assert_eq!(Species::named("walnutt"), None);
    }

    /// A short name is that of one species of the table, and of none in full.
    #[test]
    fn short_names_mean_one_species() {
        for (short, meant) in SHORT {
            assert_eq!(Species::named(short).map(|s| s.name), Some(*meant));
            assert!(SPECIES.iter().all(|s| !s.name.eq_ignore_ascii_case(short)), "{short}");
        }
        assert!(SHORT.windows(2).all(|w| w[0].0 < w[1].0));
        assert_eq!(Species::named(" Oak ").map(|s| s.botanical), Some("Quercus alba"));
        assert_eq!(Species::named("elm"), None);
    }

    /// Wood Handbook (FPL-GTR-190), Table 5-3a: hardwoods first, then softwoods.
    #[test]
    fn conifers_are_softwoods() {
        for (name, soft) in [("white oak", false), ("Douglas fir", true), ("western red cedar", true)] {
            assert_eq!(Species::named(name).unwrap().softwood(), soft, "{name}");
        }
        assert_eq!(SPECIES.iter().filter(|s| s.softwood()).count(), 12);
    }

    /// Wood Handbook (FPL-GTR-190), ch. 13: 232 mm of flat-grain white fir from 8
    /// to 11 % grow by 1.7 mm; 900 mm of walnut from 6 to 10 % by 9.86 mm.
    #[test]
    fn boards_move_as_the_handbook_says() {
        let moved = |name: &str, wide: f64, points: f64| Species::named(name).unwrap().moves(wide, points);
        assert!((moved("white fir", 232.0, 3.0) - 1.7052).abs() < 1e-4);
        assert!((moved("black walnut", 900.0, 4.0) - 9.864).abs() < 1e-3);
    }

    /// Each name told of boards is one of the table.
    #[test]
    fn widths_are_of_species_there_are() {
        assert!(WIDER.iter().chain(&NARROWER).all(|name| Species::named(name).is_some()));
        let widest = |name| {
            let inches = usual_widest(name, Unit::Inch) / INCH;
            format!("{} {}", usual_widest(name, Unit::Mm), number(inches, 3))
        };
        assert_eq!([widest(Some("Black walnut")), widest(Some("walnut"))], ["200 8"; 2]);
        assert_eq!(widest(Some("eastern white pine")), "300 12");
        assert_eq!([widest(Some("white oak")), widest(None)], ["250 10"; 2]);
    }

    #[test]
    fn names_are_in_order_and_each_once() {
        let lower: Vec<String> = SPECIES.iter().map(|s| s.name.to_lowercase()).collect();
        assert!(lower.windows(2).all(|w| w[0] < w[1]));
    }
}

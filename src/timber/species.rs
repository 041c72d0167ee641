//! Species of timber.

/// One species.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Species {
    /// The trade name, as scripts write it.
    pub name: &'static str,
    /// The botanical name.
    pub botanical: &'static str,
    /// Specific gravity: ovendry mass over volume at 12 % moisture.
    pub gravity: f64,
}

/// Moisture content that masses are given at: usual for furniture indoors.
const MOISTURE: f64 = 0.12;

const fn row(name: &'static str, botanical: &'static str, gravity: f64) -> Species {
    Species { name, botanical, gravity }
}

/// Specific gravities of the USDA Wood Handbook (FPL-GTR-190, 2010), Table 5-3a,
/// rows at 12 % moisture content. In order of name.
pub const SPECIES: &[Species] = &[
    row("American basswood", "Tilia americana", 0.37),
    row("American beech", "Fagus grandifolia", 0.64),
    row("black cherry", "Prunus serotina", 0.5),
    row("black walnut", "Juglans nigra", 0.55),
    row("Douglas fir", "Pseudotsuga menziesii", 0.48),
    row("eastern white pine", "Pinus strobus", 0.35),
    row("Engelmann spruce", "Picea engelmannii", 0.35),
    row("hard maple", "Acer saccharum", 0.63),
    row("loblolly pine", "Pinus taeda", 0.51),
    row("longleaf pine", "Pinus palustris", 0.59),
    row("northern red oak", "Quercus rubra", 0.63),
    row("ponderosa pine", "Pinus ponderosa", 0.4),
    row("quaking aspen", "Populus tremuloides", 0.38),
    row("red alder", "Alnus rubra", 0.41),
    row("red maple", "Acer rubrum", 0.54),
    row("red spruce", "Picea rubens", 0.4),
    row("shortleaf pine", "Pinus echinata", 0.51),
    row("Sitka spruce", "Picea sitchensis", 0.4),
    row("slash pine", "Pinus elliottii", 0.59),
    row("western red cedar", "Thuja plicata", 0.32),
    row("white ash", "Fraxinus americana", 0.6),
    row("white fir", "Abies concolor", 0.39),
    row("white oak", "Quercus alba", 0.68),
    row("yellow birch", "Betula alleghaniensis", 0.62),
    row("yellow poplar", "Liriodendron tulipifera", 0.42),
];

impl Species {
    /// The species called `name`, whatever the case of its letters.
    pub fn named(name: &str) -> Option<&'static Self> {
        SPECIES.iter().find(|s| s.name.eq_ignore_ascii_case(name.trim()))
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
        1000.0 * self.gravity * (1.0 + MOISTURE)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Wood Handbook (FPL-GTR-190): G 0.55 for black walnut at 12 % in Table
    /// 5-3a; 616 kg/m3 by Eq. 4-12. White ash G 0.60 gives 672.
    #[test]
    fn densities_follow_the_handbook() {
        let density = |name: &str| Species::named(name).unwrap().density();
        assert!((density("Black Walnut") - 616.0).abs() < 0.5);
        assert!((density("white ash") - 672.0).abs() < 0.5);
        assert_eq!(Species::named("walnutt"), None);
    }

    /// Wood Handbook (FPL-GTR-190), Table 5-3a: hardwoods first, then softwoods.
    #[test]
    fn conifers_are_softwoods() {
        for (name, soft) in [("white oak", false), ("Douglas fir", true), ("western red cedar", true)] {
            assert_eq!(Species::named(name).unwrap().softwood(), soft, "{name}");
        }
        assert_eq!(SPECIES.iter().filter(|s| s.softwood()).count(), 12);
    }

    #[test]
    fn names_are_in_order_and_each_once() {
        let lower: Vec<String> = SPECIES.iter().map(|s| s.name.to_lowercase()).collect();
        assert!(lower.windows(2).all(|w| w[0] < w[1]));
    }
}

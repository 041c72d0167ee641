//! What hollows and rings are filled with.

/// Densities of fillings by their names, kg/m3: casting resin, dyed or clear (from
/// memory).
const FILLINGS: [(&str, f64); 11] = [
    ("resin", RESIN),
    ("casting resin", RESIN),
    ("epoxy resin", RESIN),
    ("clear resin", RESIN),
    ("black resin", RESIN),
    ("white resin", RESIN),
    ("grey resin", RESIN),
    ("brown resin", RESIN),
    ("red resin", RESIN),
    ("green resin", RESIN),
    ("blue resin", RESIN),
];

/// Density of a casting resin, kg/m3 (from memory).
pub const RESIN: f64 = 1100.0;

/// Density of the filling of that very name, kg/m3; `None` if the table has none.
/// Capitals do not count.
pub fn filling(name: &str) -> Option<f64> {
    FILLINGS.iter().find(|(known, _)| known.eq_ignore_ascii_case(name)).map(|(_, density)| *density)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_name_of_the_table_has_a_density() {
        assert_eq!(filling("Black resin"), Some(RESIN));
        // What only has resin in its name weighs what its maker says.
        assert_eq!(filling("resin-bound brass powder"), None);
        assert_eq!(filling("pewter"), None);
    }
}

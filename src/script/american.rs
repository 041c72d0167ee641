//! Words of the American trade, known only to point to ours.

/// American or loose word, and our word for it.
const WORDS: &[(&str, &str)] = &[
    ("banding", "lipping"),
    ("box_joint", "finger_joint"),
    ("bridle_joint", "bridle"),
    ("cabinet", "piece"),
    ("cross_lap", "halving"),
    ("dado", "housing"),
    ("dovetail", "dovetails"),
    ("dowel", "dowels"),
    ("drawer_slides", "runners"),
    ("edge_band", "lipping"),
    ("edge_banding", "lipping"),
    ("edgeband", "lipping"),
    ("edging", "lipping"),
    ("french_cleat", "hanging_cleat"),
    ("half_lap", "halving"),
    ("lap_joint", "halving"),
    ("lumber", "board_stock"),
    ("miter", "mitre"),
    ("mortise_and_tenon", "mortise_tenon"),
    ("plow", "groove"),
    ("plywood", "sheet_stock"),
    ("pocket_holes", "pocket_screws"),
    ("rabbet", "rebate"),
    ("roundover", "round_over"),
    ("shelf_pegs", "shelf_pins"),
    ("slides", "runners"),
    ("spline", "loose_tenons"),
    ("toe_kick", "board"),
];

/// Our word for an American one.
pub(in crate::script) fn ours(word: &str) -> Option<&'static str> {
    let word = word.to_lowercase();
    WORDS.iter().find(|(american, _)| *american == word).map(|(_, ours)| *ours)
}

/// Our word for one of the American trade, where there is one.
pub fn british(word: &str) -> Option<&'static str> {
    ours(word)
}

#[cfg(test)]
mod tests {
    #[test]
    fn american_words_point_to_ours() {
        assert_eq!(super::ours("Rabbet"), Some("rebate"));
        assert_eq!(super::ours("rebate"), None);
        assert!(super::WORDS.is_sorted());
    }
}

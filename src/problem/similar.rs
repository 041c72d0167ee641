//! Did you mean: the nearest of the names there are.

/// How far a name may be from what was typed: one edit for each three letters
/// typed, at most three; of names shorter than that only case may differ.
/// Further than that a guess misleads.
fn threshold(typed: &str) -> usize {
    (typed.chars().count() / 3).min(3)
}

/// The candidate nearest `typed`, if one is near enough to be meant; of
/// equals the first. Case and `-` against `_` do not count.
pub fn nearest<'a>(typed: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let typed = plain(typed);
    candidates
        .into_iter()
        .map(|c| (distance(&typed, &plain(c)), c))
        .filter(|(d, _)| *d <= threshold(&typed))
        .min_by_key(|(d, _)| *d)
        .map(|(_, c)| c)
}

/// Lower case, one kind of joiner.
fn plain(name: &str) -> String {
    name.to_lowercase().replace(['-', ' '], "_")
}

/// Edits (insert, delete, replace, swap of neighbours) from one to the other.
fn distance(a: &str, b: &str) -> usize {
    // More letters than any name has would only cost time.
    let begin = |text: &str| text.chars().take(64).collect::<String>();
    strsim::osa_distance(&begin(a), &begin(b))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_is_understood_and_a_stranger_is_not() {
        let words = ["housing", "rebate", "groove", "loose_tenons"];
        assert_eq!(nearest("housng", words), Some("housing"));
        assert_eq!(nearest("Loose-Tenon", words), Some("loose_tenons"));
        assert_eq!(nearest("gorove", words), Some("groove"));
        assert_eq!(nearest("shelf", words), None);
        assert_eq!(nearest("", words), None);
        assert_eq!(nearest("w", ["x", "y"]), None);
        assert_eq!(nearest("X", ["x", "y"]), Some("x"));
    }

    #[test]
    fn edits_are_counted() {
        assert_eq!(distance("tenon", "tenon"), 0);
        assert_eq!(distance("tennon", "tenon"), 1);
        assert_eq!(distance("mitre", "miter"), 1);
        assert_eq!(distance("", "abc"), 3);
    }
}

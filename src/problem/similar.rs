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

/// Edits (insert, delete, replace, swap of neighbours) from one to the other:
/// the restricted Damerau-Levenshtein distance.
fn distance(a: &str, b: &str) -> usize {
    let a: Vec<char> = a.chars().take(64).collect();
    let b: Vec<char> = b.chars().take(64).collect();
    let mut before: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for i in 1..=a.len() {
        let mut row = vec![i];
        for j in 1..=b.len() {
            let replace = last[j - 1] + usize::from(a[i - 1] != b[j - 1]);
            let mut best = replace.min(last[j] + 1).min(row[j - 1] + 1);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                best = best.min(before[j - 2] + 1);
            }
            row.push(best);
        }
        before = std::mem::replace(&mut last, row);
    }
    last.last().copied().unwrap_or(0)
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

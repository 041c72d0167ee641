//! Counts and lists in sentences.

/// `1 part`, `3 parts`.
pub fn count(n: usize, one: &str, many: &str) -> String {
    if n == 1 { format!("1 {one}") } else { format!("{n} {many}") }
}

/// Text as it begins a line: its first letter a capital.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// `` `a` ``, `` `a` and `b` ``, `` `a`, `b` and `c` ``.
pub fn all_of<'a>(names: impl IntoIterator<Item = &'a str>) -> String {
    listed(names, "and")
}

/// Most names that a message says one by one.
const SAID: usize = 8;

/// As [`all_of`], of parts of a piece, of which a script may make thousands: the first few
/// by name, `` `a`, `b` and 12 more ``.
pub fn some_of(names: &[&str]) -> String {
    match names.split_at_checked(SAID) {
        // One left over takes no more room named than counted.
        Some((said, rest)) if rest.len() > 1 => {
            let named: Vec<String> = said.iter().map(|name| format!("`{name}`")).collect();
            format!("{} and {} more", named.join(", "), rest.len())
        }
        _ => all_of(names.iter().copied()),
    }
}

/// `` `a`, `b` or `c` ``.
pub fn one_of<'a>(names: impl IntoIterator<Item = &'a str>) -> String {
    listed(names, "or")
}

/// `a`, `a and b`, `a, b and c`: as [`all_of`], without backticks.
pub fn and_list(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// Names in backticks with commas and a joining word before the last.
fn listed<'a>(names: impl IntoIterator<Item = &'a str>, join: &str) -> String {
    let names: Vec<String> = names.into_iter().map(|n| format!("`{n}`")).collect();
    match names.split_last() {
        None => String::new(),
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} {join} {last}", rest.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_read_as_sentences() {
        assert_eq!(all_of(["a"]), "`a`");
        assert_eq!(all_of(["a", "b", "c"]), "`a`, `b` and `c`");
        assert_eq!(one_of(["a", "b"]), "`a` or `b`");
        assert_eq!(some_of(&["a", "b", "c"]), "`a`, `b` and `c`");
        let nine: Vec<&str> = "a b c d e f g h i".split(' ').collect();
        assert_eq!(some_of(&nine), "`a`, `b`, `c`, `d`, `e`, `f`, `g`, `h` and `i`");
        let ten: Vec<&str> = "a b c d e f g h i j".split(' ').collect();
        assert_eq!(some_of(&ten), "`a`, `b`, `c`, `d`, `e`, `f`, `g`, `h` and 2 more");
        assert_eq!(count(1, "part", "parts"), "1 part");
        assert_eq!(count(0, "part", "parts"), "0 parts");
    }
}

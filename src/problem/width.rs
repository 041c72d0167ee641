//! Sentences folded to the width of a terminal; excerpts of scripts stay as they are.

/// A terminal narrower than this is folded as if it were so wide: a word to a line reads
/// worse than lines the terminal breaks.
const LEAST: usize = 40;

/// How far the lines after the first of a sentence are set in.
const SET_IN: usize = 4;

/// What begins the cure of a problem.
const CURE: &str = "= help: ";

/// A text with its sentences in lines of at most `width` columns. Lines that begin with a
/// space are not sentences and stay, but for the cure of a problem.
pub fn folded(text: &str, width: usize) -> String {
    let width = width.max(LEAST);
    text.split_inclusive('\n').map(|line| line_folded(line, width)).collect()
}

/// One line, with its end if it has one.
fn line_folded(line: &str, width: usize) -> String {
    let bare = line.trim_end_matches(['\n', '\r']);
    let cure = bare.find(CURE).filter(|at| bare.chars().take(*at).all(|c| c == ' '));
    let before = cure.map_or(0, |at| at + CURE.len());
    let set_in = if cure.is_some() { before } else { SET_IN };
    let plain = cure.is_some() || !bare.starts_with([' ', '\t']) && !is_excerpt(bare);
    if !plain || bare.chars().count() <= width {
        return line.to_owned();
    }
    let (mut folded, mut used) = (String::new(), 0);
    for word in bare.get(before..).unwrap_or_default().split(' ') {
        let long = word.chars().count();
        if used == 0 {
            folded += bare.get(..before).unwrap_or_default();
            used = before;
        } else if used + 1 + long > width {
            folded.push('\n');
            folded += &" ".repeat(set_in);
            used = set_in;
        } else {
            folded.push(' ');
            used += 1;
        }
        folded += word;
        used += long;
    }
    folded + line.get(bare.len()..).unwrap_or_default()
}

/// Whether a line is one of a script, with its number and a bar before it.
fn is_excerpt(line: &str) -> bool {
    let after = line.trim_start_matches(|c: char| c.is_ascii_digit());
    after.len() < line.len() && (after.starts_with(" |") || after.starts_with("| "))
        || line.starts_with("...")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sentences_are_folded_and_excerpts_are_not() {
        let text = "error[a-code]: what is wrong is told in words that run on for long\n\
                    \x20 --> shelf.rhai:2:1\n  |\n\
                    24 | housng(a, b); // and a comment that is longer than the width, by far\n  | ^^^^^^\n\
                    \x20  = help: what to do about it is told in words that run on for long\n\n1 error\n";
        let folded = folded(text, 40);
        assert_eq!(
            folded,
            "error[a-code]: what is wrong is told in\n    words that run on for long\n\
             \x20 --> shelf.rhai:2:1\n  |\n\
             24 | housng(a, b); // and a comment that is longer than the width, by far\n  | ^^^^^^\n\
             \x20  = help: what to do about it is told\n           in words that run on for long\n\n1 error\n"
        );
    }

    #[test]
    fn what_fits_and_what_cannot_be_broken_stays() {
        assert_eq!(folded("short\n\nlines", 80), "short\n\nlines");
        let long = "x".repeat(60);
        assert_eq!(folded(&format!("a {long} b\r\n"), 10), format!("a\n    {long}\n    b\r\n"));
        // So narrow that it is folded as if it had forty columns; letters are counted, not bytes.
        assert_eq!(folded(&"é".repeat(40), 1), "é".repeat(40));
    }
}

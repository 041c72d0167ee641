//! Characters that leave no mark of their own: controls, which can steer a terminal, marks
//! that turn the order of letters round, so that a line reads otherwise than it is
//! written, and spaces without width.

/// Whether a character is one of them; a tab and the ends of lines are not.
pub fn is_unseen(c: char) -> bool {
    let control = c.is_control() && !matches!(c, '\n' | '\r' | '\t');
    control
        || matches!(c,
            '\u{ad}' | '\u{61c}' | '\u{180e}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{e0000}'..='\u{e007f}')
}

/// A text with U+FFFD, which is seen, in place of each of them.
pub fn seen(text: &str) -> String {
    text.chars().map(|c| if is_unseen(c) { char::REPLACEMENT_CHARACTER } else { c }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// UAX #9, table 4, lists the marks of direction; general category Cc is control.
    #[test]
    fn marks_of_direction_and_controls_are_replaced_and_letters_stay() {
        let marks =
            "\u{61c}\u{200e}\u{200f}\u{202a}\u{202b}\u{202c}\u{202d}\u{202e}\u{2066}\u{2067}\u{2068}\u{2069}";
        for mark in marks.chars().chain("\u{0}\u{7}\u{8}\u{1b}\u{7f}\u{9b}\u{200b}\u{feff}\u{ad}".chars()) {
            assert_eq!(seen(&format!("a{mark}b")), "a\u{fffd}b", "{mark:?}");
        }
        for plain in ["Side ½″ – 3", "Полка αβγ 書", "a\tb\r\nc", "ש", "\u{a0}\u{2009}\u{202f}"]
        {
            assert_eq!(seen(plain), plain);
        }
    }
}

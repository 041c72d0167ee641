//! Finding things in script text: the engine gives a line and a column, a
//! problem needs a stretch.

use std::ops::Range;

/// The byte at a line and column, both from 1, columns in characters; the end
/// of the text where it has no such place.
pub(in crate::script) fn offset(text: &str, line: usize, column: usize) -> usize {
    let mut start = 0;
    for _ in 1..line {
        match text.get(start..).and_then(|rest| rest.find('\n')) {
            Some(at) => start += at + 1,
            None => return text.len(),
        }
    }
    let rest = text.get(start..).unwrap_or("");
    start + rest.char_indices().nth(column.saturating_sub(1)).map_or(rest.len(), |(at, _)| at)
}

/// The word, number, text or single sign that begins at `start`.
pub(in crate::script) fn token(text: &str, start: usize) -> Range<usize> {
    let rest = text.get(start..).unwrap_or("");
    let name = rest.find(|c: char| !c.is_alphanumeric() && c != '_').unwrap_or(rest.len());
    if name > 0 {
        return start..start + name;
    }
    if rest.starts_with('"') {
        return start..start + skip(rest).max(1);
    }
    start..start + rest.chars().next().map_or(0, char::len_utf8)
}

/// The call that begins at `start` with its name: up to the closing bracket.
pub(in crate::script) fn call(text: &str, start: usize) -> Range<usize> {
    let name = token(text, start);
    let rest = text.get(name.end..).unwrap_or("");
    let Some(open) = rest.find(|c: char| !c.is_whitespace()).filter(|at| rest[*at..].starts_with('(')) else {
        return name;
    };
    let (mut depth, mut at) = (0_usize, open);
    while at < rest.len() {
        let here = &rest[at..];
        let step = skip(here);
        match here.as_bytes().first() {
            Some(b'(' | b'[' | b'{') => depth += 1,
            Some(b')' | b']' | b'}') => depth -= 1,
            _ => (),
        }
        at += step;
        if depth == 0 {
            return start..name.end + at;
        }
    }
    name
}

/// The key `key` of an option map inside `within`, if it is written there.
pub(in crate::script) fn key(text: &str, within: Range<usize>, key: &str) -> Option<Range<usize>> {
    let mut at = within.start;
    while at < within.end {
        let here = text.get(at..within.end)?;
        let first = here.chars().next()?;
        if first.is_alphanumeric() || first == '_' {
            let name = token(text, at);
            let after = text.get(name.end..within.end)?.trim_start();
            if &text[name.clone()] == key && after.starts_with(':') && !after.starts_with("::") {
                return Some(name);
            }
            at = name.end;
        } else {
            at += skip(here);
        }
    }
    None
}

/// Bytes of the text literal, comment or single character `rest` begins with.
fn skip(rest: &str) -> usize {
    let first = rest.chars().next().map_or(1, char::len_utf8);
    if rest.starts_with("//") {
        return rest.find('\n').unwrap_or(rest.len());
    }
    if rest.starts_with("/*") {
        return rest.find("*/").map_or(rest.len(), |at| at + 2);
    }
    let Some(quote) = rest.chars().next().filter(|c| ['"', '`'].contains(c)) else { return first };
    let mut escaped = false;
    for (at, c) in rest.char_indices().skip(1) {
        match c {
            _ if escaped => escaped = false,
            '\\' if quote == '"' => escaped = true,
            c if c == quote => return at + 1,
            _ => (),
        }
    }
    rest.len()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_found() {
        let text = "let é = 1;\nmitre(a, \"b)\", #{ tenon: /* : */ 3 }) + 2\n";
        let start = offset(text, 2, 1);
        assert_eq!(&text[token(text, start)], "mitre");
        assert_eq!(&text[call(text, start)], "mitre(a, \"b)\", #{ tenon: /* : */ 3 })");
        assert_eq!(key(text, call(text, start), "tenon").map(|r| &text[r]), Some("tenon"));
        assert_eq!(key(text, call(text, start), "a"), None);
        assert_eq!(&text[token(text, offset(text, 1, 5))], "é");
        assert_eq!(offset(text, 90, 4), text.len());
    }

    #[test]
    fn unfinished_text_is_survived() {
        for text in ["mitre(", "mitre(\"", "mitre(/*", "mitre", "", "(", "\"\\"] {
            let found = call(text, 0);
            assert!(text.get(found).is_some(), "{text}");
        }
    }
}

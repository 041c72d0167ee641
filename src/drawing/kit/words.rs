//! Words on a sheet: lengths as runs, wrapping, eliding.

use kurbo::Point;

use crate::drawing::page::look::Look;
use crate::paper::{Run, Text, Weight, lettering};

/// Plain text as one run.
pub(in crate::drawing) fn plain(text: impl Into<String>) -> Vec<Run> {
    vec![Run::Plain(text.into())]
}

/// Words of a message as they stand on a sheet: without the sign for about, as
/// the tolerance note speaks for every figure of the sheet, and with fractions
/// of an inch stacked.
pub(in crate::drawing) fn on_sheet(text: &str) -> Vec<Run> {
    stacked(&unmarked(text))
}

/// Words without the sign for about.
pub(in crate::drawing) fn unmarked(text: &str) -> String {
    text.replace("≈ ", "")
}

/// Text in which fractions of an inch, `n/d″` with a denominator of an inch
/// rule, are set stacked, closed up to the whole number before them.
pub(in crate::drawing) fn stacked(text: &str) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    let mut plain = String::new();
    for (i, word) in text.split(' ').enumerate() {
        let fraction = fraction_in(word);
        if i > 0
            && !(fraction.is_some_and(|found| found.0.is_empty())
                && plain.ends_with(|c: char| c.is_ascii_digit()))
        {
            plain.push(' ');
        }
        let Some((before, num, den, rest)) = fraction else {
            plain.push_str(word);
            continue;
        };
        plain.push_str(before);
        if !plain.is_empty() {
            runs.push(Run::Plain(std::mem::take(&mut plain)));
        }
        runs.push(Run::Fraction { num, den });
        plain.push_str(rest);
    }
    if !plain.is_empty() {
        runs.push(Run::Plain(plain));
    }
    runs
}

/// The fraction a word begins with, after the sign of a diameter, a radius or a
/// bracket; what stands before it, and what follows.
fn fraction_in(word: &str) -> Option<(&str, u32, u32, &str)> {
    let figure = word.trim_start_matches(['Ø', '⌀', 'R', '(']);
    let before = word.strip_suffix(figure)?;
    let (num, after) = figure.split_once('/')?;
    let digits = after.len() - after.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    let (den, rest) = after.split_at(digits);
    let (num, den) = (num.parse().ok()?, den.parse().ok()?);
    let length = [2, 4, 8, 16, 32, 64].contains(&den) && num < den && rest.starts_with('″');
    length.then_some((before, num, den, rest))
}

/// The words of `runs` in reading order, fractions as `n/d`.
pub(in crate::drawing) fn read(runs: &[Run]) -> String {
    let mut text = String::new();
    for run in runs {
        match run {
            Run::Plain(plain) => text.push_str(plain),
            Run::Fraction { num, den } => {
                if text.ends_with(|c: char| c.is_ascii_digit()) {
                    text.push(' ');
                }
                text.push_str(&num.to_string());
                text.push('/');
                text.push_str(&den.to_string());
            }
        }
    }
    text
}

/// Breaks `text` into lines no wider than `width` mm at spaces. A word wider
/// than a line stands on a line of its own and is broken where it must be.
pub(in crate::drawing) fn wrap(text: &str, height: f64, weight: Weight, width: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    // Letters stand side by side without kerning, so widths add up.
    let (mut long, gap) = (0.0, text_width(" ", height, weight));
    for word in tokens(text) {
        let word = word.as_str();
        let own = text_width(word, height, weight);
        if !line.is_empty() && long + gap + own <= width {
            line.push(' ');
            line.push_str(word);
            long += gap + own;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        let mut rest = word;
        while !rest.is_empty() && text_width(rest, height, weight) > width {
            let cut = fitting_prefix(rest, height, weight, width);
            lines.push(rest[..cut].to_owned());
            rest = &rest[cut..];
        }
        rest.clone_into(&mut line);
        long = text_width(rest, height, weight);
    }
    if !line.is_empty() || lines.is_empty() {
        lines.push(line);
    }
    lines
}

/// The words of a text as a line may break between: a whole number and its
/// fraction are one, and so are a figure and its unit or the sign before it, and
/// the numbers of parts that are joined, `2 + 1 R`.
pub(in crate::drawing) fn tokens(text: &str) -> Vec<String> {
    let mut tokens: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match tokens.last_mut() {
            Some(last) if belongs(last, word) => {
                last.push(' ');
                last.push_str(word);
            }
            _ => tokens.push(word.to_owned()),
        }
    }
    tokens
}

/// Whether no line breaks between two words.
fn belongs(last: &str, word: &str) -> bool {
    let counted = last.ends_with(|c: char| c.is_ascii_digit());
    let unit = ["mm", "m", "kg", "g", "ml", "l"].contains(&word.trim_end_matches([',', ';', '.', ':', ')']));
    let figure = word.starts_with(|c: char| c.is_ascii_digit());
    let fraction = fraction_in(word).is_some_and(|found| found.0.is_empty());
    let hand = ["L", "R"].contains(&word.trim_end_matches([',', ')', ';']))
        || word.starts_with('(') && word.contains('×');
    let sign = ["≈", "Ø", "⌀", "±"].contains(&last.rsplit(' ').next().unwrap_or_default());
    let joined = word == "+" || last.ends_with(" +");
    counted && (unit || fraction || hand) || figure && sign || joined
}

/// Bytes of the longest prefix of `text` that fits, at least one character.
fn fitting_prefix(text: &str, height: f64, weight: Weight, width: f64) -> usize {
    let mut best = text.chars().next().map_or(0, char::len_utf8);
    for (i, c) in text.char_indices() {
        let end = i + c.len_utf8();
        if text_width(&text[..end], height, weight) > width {
            break;
        }
        best = best.max(end);
    }
    best
}

/// `text` shortened at its end with an ellipsis until it fits `width` mm.
pub(in crate::drawing) fn elide(text: &str, height: f64, weight: Weight, width: f64) -> String {
    if text_width(text, height, weight) <= width {
        return text.to_owned();
    }
    let room = width - text_width("…", height, weight);
    let end = fitting_prefix(text, height, weight, room.max(0.0));
    format!("{}…", text[..end].trim_end())
}

/// The largest of `heights` (falling) at which `text` wraps into at most
/// `lines` lines of `width` mm; at the least height the last line is elided.
pub(in crate::drawing) fn shrink(
    text: &str,
    weight: Weight,
    heights: &[f64],
    lines: usize,
    width: f64,
) -> (f64, Vec<String>) {
    for &height in heights {
        let set = wrap(text, height, weight, width);
        // A word broken in two is worse than smaller letters.
        let broken = text.split_whitespace().any(|word| text_width(word, height, weight) > width);
        if set.len() <= lines && !broken {
            return (height, set);
        }
    }
    let height = heights.last().copied().unwrap_or(2.5);
    let mut set = wrap(text, height, weight, width);
    if set.len() > lines {
        let rest = set.split_off(lines.saturating_sub(1)).join(" ");
        set.push(elide(&rest, height, weight, width));
    }
    (height, set)
}

/// Width of a line of text, mm.
pub(in crate::drawing) fn text_width(text: &str, height: f64, weight: Weight) -> f64 {
    lettering::width(text, height, weight)
}

/// Width of a line of runs, mm.
pub(in crate::drawing) fn runs_width(runs: &[Run], height: f64, weight: Weight) -> f64 {
    let text = Text::new(Point::ZERO, runs.to_vec(), height);
    Text { weight, ..text }.width()
}

/// A length in words, fractions as `n/d`, without the unit of metric figures.
pub(in crate::drawing) fn length_text(look: &Look, mm: f64) -> String {
    unmarked(&look.style().show(mm).to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fractions_are_stacked_after_the_sign_of_a_diameter() {
        let text = "Ø 7/32″, Ø7/32″, R1/8″, 1 1/2″ = 1′-0″, 7/16 of it";
        let fractions = |runs: &[Run]| runs.iter().filter(|run| matches!(run, Run::Fraction { .. })).count();
        assert_eq!(fractions(&stacked(text)), 4);
        assert_eq!(read(&stacked("front Ø7/32″ deep")), "front Ø7/32″ deep");
    }

    #[test]
    fn joined_parts_stay_on_a_line() {
        let text = "6 places: parts 2 + 1 R, 3 + 1 L (2×), bore Ø 8, 20 deep";
        let kept = ["6", "places:", "parts", "2 + 1 R,", "3 + 1 L", "(2×),", "bore", "Ø 8,", "20", "deep"];
        assert_eq!(tokens(text), kept);
    }
}

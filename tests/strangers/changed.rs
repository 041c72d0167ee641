//! Sound scripts with something changed by lot: a size, a sign, an option, an argument, a
//! line, or the end cut off.

use std::ops::Range;

use rodwright::model::OptionKind;

use super::lot::Lot;

/// A script with some of it changed; what and how much by the lot.
pub(super) fn changed(lot: &mut Lot, text: &str) -> String {
    if !lot.one_in(3) {
        return resized(lot, text);
    }
    let mut text = text.to_owned();
    for _ in 0..=lot.below(3) {
        text = match lot.below(4) {
            0 => with_other_signs(lot, &text),
            1 => with_other_options(lot, &text),
            2 => with_other_arguments(lot, &text),
            _ => with_other_lines(lot, &text),
        };
    }
    text
}

/// The pieces a script is read in: names, numbers, texts, signs, white.
fn pieces(text: &str) -> Vec<String> {
    let kind = |c: char| match c {
        c if c.is_alphanumeric() || c == '_' || c == '.' => 0,
        c if c.is_whitespace() => 1,
        _ => 2,
    };
    let mut all: Vec<String> = Vec::new();
    let mut last = 3;
    for c in text.chars() {
        match all.last_mut() {
            Some(piece) if kind(c) == last && last < 2 => piece.push(c),
            _ => all.push(c.to_string()),
        }
        last = kind(c);
    }
    all
}

/// A size a little larger or smaller, as a maker tries them.
fn resized(lot: &mut Lot, text: &str) -> String {
    let mut all = pieces(text);
    let is_size = |piece: &str| piece.parse::<f64>().is_ok_and(|n| n >= 30.0) && !piece.contains('e');
    let sizes: Vec<usize> = (0..all.len()).filter(|at| is_size(&all[*at])).collect();
    if !sizes.is_empty() {
        let at = *lot.of(&sizes);
        let by = *lot.of(&[-1.0, -0.5, 0.25, 0.5, 1.0, 2.0]);
        all[at] = format!("{}", all[at].parse::<f64>().unwrap() + by);
    }
    all.concat()
}

/// A value an option of some word may have, or all but: its bounds and just past them.
fn option(lot: &mut Lot) -> String {
    let word = lot.of(rodwright::words());
    if word.options.is_empty() {
        return word.name.into();
    }
    let option = lot.of(word.options);
    let value = match option.kind {
        OptionKind::Length { min, max } | OptionKind::Angle { min, max } | OptionKind::Ratio { min, max } => {
            format!("{}", lot.of(&[min, max, min - 0.1, max + 0.1, f64::midpoint(min, max)]))
        }
        OptionKind::Count { min, max } => format!("{}", lot.of(&[min, max, max.saturating_add(1), 2])),
        OptionKind::Choice(among) => format!("{:?}", lot.of(among)),
        OptionKind::YesNo => "true".into(),
        OptionKind::Lengths | OptionKind::Span => "[10, 20]".into(),
        OptionKind::Side | OptionKind::Sides => "\"left\"".into(),
        _ => "\"A text\"".into(),
    };
    format!("{}: {value}", option.key)
}

/// What may stand where another thing should.
const STRAY: [&str; 40] = [
    "(", ")", "[", "]", "{", "}", "#{", "\"", "'", "`", "///", "/*", "//", "-1", "0", "1e9", "()", ".x",
    "; let", "this", "\u{202e}", "=>", "..", "::", "fn", "switch", "case", "import", "export", "private",
    "const", "return", "break", "throw", "try", "\\", "${", "0x", "1.2.3", "@",
];

/// Signs and names left out, exchanged, written twice or put in.
fn with_other_signs(lot: &mut Lot, text: &str) -> String {
    let mut all = pieces(text);
    // The end of a text may have been cut off before its beginning.
    if all.is_empty() {
        return text.into();
    }
    let (at, other) = (lot.below(all.len()), lot.below(all.len()));
    match lot.below(6) {
        0 => all[at].clear(),
        1 => all.swap(at, other),
        2 => all[at] = all[other].as_str().into(),
        3 => all[at] = option(lot),
        4 => all[at] = (*lot.of(&STRAY)).into(),
        _ => all.insert(at, format!("{}, ", lot.of(rodwright::words()).name)),
    }
    all.concat()
}

/// Values of every kind there is, in place of any other.
const VALUES: [&str; 36] = [
    "7",
    "0",
    "-1",
    "2.5",
    "1e300",
    "0.0/0.0",
    "\"sideways\"",
    "\"\"",
    "\"8x40\"",
    "\"8 by\"",
    "\"3/4\"",
    "\"5 ft 3\"",
    "true",
    "()",
    "'c'",
    "[]",
    "[1]",
    "[1, 2]",
    "[2, 1]",
    "[\"much\"]",
    "[[0, 0], [9, 0, 1], [0, 9]]",
    "[[0, 0], #{ rise: 5 }, [0, 9]]",
    "#{}",
    "#{ nothing: 1 }",
    "#{ axis: \"q\", by: 10 }",
    "#{ size: [1, 2] }",
    "0..3",
    "|x| x",
    "Fn(\"piece\")",
    "this",
    "left",
    "nobody",
    "mm(18)",
    "inch(1, 2)",
    "\"left\"",
    "\"x\" * 2",
];

/// The stretches between commas of a bracket that begins at `from`, just after its sign.
fn entries(text: &str, from: usize) -> Vec<Range<usize>> {
    let (mut all, mut deep, mut quoted, mut begins) = (Vec::new(), 0_u32, false, from);
    for (at, c) in text[from..].char_indices().map(|(at, c)| (from + at, c)) {
        let ends = matches!(c, ')' | ']' | '}') && !quoted;
        if (ends || c == ',' && !quoted) && deep == 0 {
            all.push(begins..at);
            begins = at + 1;
        }
        match c {
            '"' => quoted = !quoted,
            '(' | '[' | '{' if !quoted => deep += 1,
            _ if ends && deep == 0 => break,
            _ if ends => deep -= 1,
            _ => {}
        }
    }
    all.retain(|entry| !text[entry.clone()].trim().is_empty());
    all
}

/// One of the brackets that begin with `sign`, as what stands in it.
fn bracket(lot: &mut Lot, text: &str, sign: &str) -> Vec<Range<usize>> {
    let all: Vec<usize> = text.match_indices(sign).map(|(at, sign)| at + sign.len()).collect();
    if all.is_empty() { Vec::new() } else { entries(text, *lot.of(&all)) }
}

/// A text with a stretch of it replaced.
fn with(text: &str, stretch: Range<usize>, by: &str) -> String {
    [&text[..stretch.start], by, &text[stretch.end..]].concat()
}

/// An option left out, doubled, renamed, put in, or with a value of any kind.
fn with_other_options(lot: &mut Lot, text: &str) -> String {
    let options = bracket(lot, text, "#{");
    if options.is_empty() {
        return text.into();
    }
    let at = lot.of(&options).clone();
    let written = text[at.clone()].trim();
    let (key, value) = written.split_once(':').unwrap_or((written, "1"));
    let by = match lot.below(6) {
        0 => String::new(),
        1 => format!(" {written}, {written}"),
        2 => format!(" {}:{value}", option(lot).split(':').next().unwrap_or_default()),
        3 => format!(" {written}, {}", option(lot)),
        _ => format!(" {key}: {}", lot.of(&VALUES)),
    };
    with(text, at, &by)
}

/// An argument of a call, or an entry of a list, left out, doubled or of any kind.
fn with_other_arguments(lot: &mut Lot, text: &str) -> String {
    let sign = if lot.one_in(3) { "[" } else { "(" };
    let arguments = bracket(lot, text, sign);
    if arguments.is_empty() {
        return text.into();
    }
    let at = lot.of(&arguments).clone();
    let written = text[at.clone()].trim();
    let by = match lot.below(4) {
        0 => String::new(),
        1 => format!("{written}, {written}"),
        _ => (*lot.of(&VALUES)).to_owned(),
    };
    with(text, at, &by)
}

/// Lines left out, doubled, moved, put in a loop, a function or a condition; or the end of
/// the text cut off.
fn with_other_lines(lot: &mut Lot, text: &str) -> String {
    let mut all: Vec<String> = text.lines().map(str::to_owned).collect();
    if all.is_empty() {
        return text.into();
    }
    let (at, other) = (lot.below(all.len()), lot.below(all.len()));
    match lot.below(8) {
        0 => all[at].clear(),
        1 => all[at] = [all[at].clone(), all[at].clone()].join("\n"),
        2 => all.swap(at, other),
        3 => all[at] = format!("for again in 0..3 {{ {} }}", all[at]),
        4 => all[at] = format!("fn own() {{ {} }}\nown();", all[at]),
        5 => all[at] = format!("if 1 > 2 {{ {} }} else {{ {} }}", all[at], all[other]),
        6 => all[at] = format!("let got = {}", all[at]),
        _ => {
            let ends = (0..lot.below(text.len())).rev().find(|at| text.is_char_boundary(*at));
            return text[..ends.unwrap_or(0)].into();
        }
    }
    all.join("\n")
}

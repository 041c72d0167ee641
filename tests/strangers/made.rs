//! Whole scripts made by lot, of what the words, the furniture types and the settings of
//! `joints/lot` say of themselves: pieces with parts and joints, types with options within
//! and beyond their ranges, options of the words themselves, written in all ways the
//! language has.

use rodwright::model::{OptionKind, OptionSpec, Word};
use rodwright::script::{Furniture, TakeKind, furniture, own_words};

use super::lot::Lot;
use crate::joints::lot::by_lot::{Family, families, setting};
use crate::support::lot::Lot as Setting;

/// What scripts are made of.
pub(super) struct Making {
    families: Vec<Family>,
    types: Vec<Furniture>,
    words: Vec<&'static Word>,
}

impl Making {
    pub(super) fn new() -> Self {
        let types = furniture().into_iter().filter(|made| !made.takes.is_empty()).collect();
        let words = own_words().into_iter().chain(rodwright::words().iter().copied()).collect();
        Self { families: families(), types, words }
    }

    /// A script of a piece or a few.
    pub(super) fn script(&self, lot: &mut Lot) -> String {
        let unit = if lot.one_in(5) { "in" } else { "mm" };
        let mut text = format!("job(\"Made by lot\", #{{ unit: \"{unit}\" }});\n");
        let pieces = if lot.one_in(4) { 1 + lot.below(3) } else { 1 };
        for at in 0..pieces {
            text.extend([format!("piece(\"Piece {at}\"{});\n", self.options_of("piece", lot))]);
            // A setting is in millimetres, a type in any unit.
            let body = if unit == "mm" && !lot.one_in(5) { self.joined(lot) } else { self.typed(unit, lot) };
            text += &wrapped(lot, &body, at);
        }
        if lot.one_in(6) {
            text += &self.told(lot);
        }
        text
    }

    /// Parts with a joint, as the settings by lot have them, its numbers written in other
    /// ways, and now and then with an option more.
    fn joined(&self, lot: &mut Lot) -> String {
        let family = lot.of(&self.families);
        let (text, _) = setting(family, &mut Setting(lot.next()));
        let body = text.splitn(3, '\n').nth(2).unwrap_or_default();
        let body = written_otherwise(lot, body);
        let call = format!("{}(", family.word);
        let Some(word) = self.words.iter().find(|word| word.name == family.word) else { return body };
        let Some(from) = body.rfind(&call).filter(|_| lot.one_in(6) && !word.options.is_empty()) else {
            return body;
        };
        let spec = lot.of(word.options);
        let option = option(lot, spec);
        match body[from..].find("#{ ") {
            Some(at) => [&body[..from + at + 3], &option, ", ", &body[from + at + 3..]].concat(),
            None => {
                body[..from].to_owned() + &*body[from..].replacen(");", &format!(", #{{ {option} }});"), 1)
            }
        }
    }

    /// A furniture type with some of its options.
    fn typed(&self, unit: &str, lot: &mut Lot) -> String {
        let made = lot.of(&self.types);
        let module = made.module;
        let scale = if unit == "in" { 25.4 } else { 1.0 };
        let mut given = Vec::new();
        for take in &made.takes {
            if !lot.one_in(6) {
                continue;
            }
            let value = match &take.kind {
                TakeKind::Length { usual, from, to } => {
                    // Mostly near what is usual: not every range goes with every other.
                    let near = (usual * (0.9 + 0.02 * lot.below(11) as f64)).clamp(*from, *to);
                    let any = *lot.of(&[*from, *to, to + 1.0, near, near, near, near]);
                    format!("{:?}", (any / scale * 16.0).round() / 16.0)
                }
                TakeKind::Count { usual, from, to } => {
                    format!("{}", lot.of(&[*from, *to, *usual, (*usual + 1).min(*to), (*usual).max(1) - 1]))
                }
                TakeKind::Choice { among, .. } => format!("{:?}", lot.of(among)),
                TakeKind::YesNo { .. } => format!("{}", lot.one_in(2)),
                TakeKind::Stock { among, .. } if !among.is_empty() => format!("{:?}", lot.of(among)),
                _ => continue,
            };
            given.push(format!("{}: {value}", take.name));
        }
        format!("import \"{module}\" as {module};\n{module}::{}(#{{ {} }});\n", made.name, given.join(", "))
    }

    /// A map of a few options of a word, with the comma before it, or nothing.
    fn options_of(&self, name: &str, lot: &mut Lot) -> String {
        let Some(word) = self.words.iter().find(|w| w.name == name && !w.options.is_empty()) else {
            return String::new();
        };
        if !lot.one_in(8) {
            return String::new();
        }
        let spec = lot.of(word.options);
        format!(", #{{ {} }}", option(lot, spec))
    }

    /// The example of a word that stands by itself, or a word with arguments of any kind.
    fn told(&self, lot: &mut Lot) -> String {
        let word = lot.of(&self.words);
        if lot.one_in(2) {
            return format!("{}\n", word.example);
        }
        let args: Vec<String> = word.args.iter().map(|_| value(lot, OptionKind::Text)).collect();
        format!("{}({});\n", word.name, args.join(", "))
    }
}

/// An option with a value, mostly one it takes.
fn option(lot: &mut Lot, spec: &OptionSpec) -> String {
    format!("{}: {}", spec.key, value(lot, spec.kind))
}

/// A value of a kind, one in ten of another.
fn value(lot: &mut Lot, kind: OptionKind) -> String {
    if lot.one_in(10) {
        return (*lot.of(&["7", "\"sideways\"", "[1]", "#{}", "()", "true", "-3.5", "1e12"])).into();
    }
    match kind {
        OptionKind::Length { min, max } | OptionKind::Angle { min, max } | OptionKind::Ratio { min, max } => {
            let within = min + (max - min).min(60.0) * lot.below(101) as f64 / 100.0;
            format!("{:?}", lot.of(&[within, within, min, max]))
        }
        OptionKind::Count { min, max } => format!("{}", (min + lot.below(5) as u32).min(max)),
        OptionKind::Choice(among) => format!("{:?}", lot.of(among)),
        OptionKind::YesNo => format!("{}", lot.one_in(2)),
        OptionKind::Text => "\"By lot\"".into(),
        OptionKind::Texts => "[\"By lot\", \"Drawn\"]".into(),
        OptionKind::Pair => (*lot.of(&["\"8x40\"", "[4, 30]", "\"#8x1 1/4\""])).into(),
        OptionKind::Lengths => "[40, 80]".into(),
        OptionKind::Side | OptionKind::Sides => {
            format!("{:?}", lot.of(&["left", "right", "front", "back", "bottom", "top"]))
        }
        OptionKind::Stock => "sheet_stock(\"Other\", #{ thick: 12 })".into(),
        OptionKind::Places => "[[40, 20], [80, 20]]".into(),
        OptionKind::Points => "[[0, 0], [120, 0], #{ at: [120, 60], rise: 8 }, [0, 60]]".into(),
        OptionKind::Span => "[0, 300]".into(),
        OptionKind::Stations => "[[0, 40], [120, 25]]".into(),
        OptionKind::Sheets => "[1220, 610]".into(),
        OptionKind::Boards => "#{ thick: 34, size: [2100, 240] }".into(),
        OptionKind::Turn => "#{ axis: \"x\", by: 10 }".into(),
        OptionKind::Runs => "#{ from: left, to: right }".into(),
        OptionKind::Revisions => "[#{ rev: \"A\", says: \"first\" }]".into(),
    }
}

/// The same with a few of its numbers written as sums, entries and choices.
fn written_otherwise(lot: &mut Lot, text: &str) -> String {
    let mut all = String::new();
    let mut quoted = false;
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        let number = rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(rest.len());
        let alone = !all.ends_with(|c: char| c.is_alphanumeric() || c == '_');
        let plain = rest[..number].parse::<f64>().is_ok() && !rest[number..].starts_with(['.', 'e', '_']);
        if !quoted && alone && plain && number > 0 && lot.one_in(5) {
            let n = &rest[..number];
            all.extend([match lot.below(7) {
                0 => format!("({n} + 0)"),
                1 => format!("(2 * {n} / 2)"),
                2 => format!("[{n}][0]"),
                3 => format!("(#{{ v: {n} }}).v"),
                4 => format!("(if 1 < 2 {{ {n} }} else {{ 0 }})"),
                5 => format!("(|| {n}).call()"),
                _ => format!("min({n}, {n})"),
            }]);
            rest = &rest[number..];
            continue;
        }
        let taken = if c.is_ascii_digit() { number } else { c.len_utf8() };
        quoted ^= c == '"';
        all += &rest[..taken];
        rest = &rest[taken..];
    }
    all
}

/// Lines as they stand, or in one of the ways the language has to run them once.
fn wrapped(lot: &mut Lot, body: &str, at: usize) -> String {
    // A type is brought in at the top of a script.
    if body.starts_with("import") {
        return body.into();
    }
    match lot.below(10) {
        0 => format!("if true {{\n{body}}}\n"),
        1 => format!("for once in 0..1 {{\n{body}}}\n"),
        2 => format!("fn made_{at}() {{\n{body}}}\nmade_{at}();\n"),
        3 => format!("moved(0, 0, 0, || {{\n{body}}});\n"),
        4 => format!("let make_{at} = || {{\n{body}}};\nmake_{at}.call();\n"),
        5 => format!("switch {at} {{ {at} => {{\n{body}}} _ => () }}\n"),
        6 => format!("let left_{at} = 1; while left_{at} > 0 {{ left_{at} -= 1;\n{body}}}\n"),
        _ => format!("{{\n{body}}}\n"),
    }
}

//! Words of the vocabulary as data, so that the script engine binds them
//! without knowing what they do and joinery works them without knowing rhai.

use std::collections::BTreeMap;

use super::{BoardSize, Runs, SheetSize, Side, StockId, Turn, Usual};
use crate::geometry::Corner;
use crate::solid::Station;

/// A word that relates or shapes parts: a joint, a cut, a fitting.
#[derive(Debug)]
pub struct Word {
    /// The word in scripts.
    pub name: &'static str,
    /// Arguments before the option map, in order.
    pub args: &'static [Arg],
    /// Keys of the option map.
    pub options: &'static [OptionSpec],
    /// One sentence: what it does.
    pub says: &'static str,
    /// The trade rule its defaults come from, with its source.
    pub rule: &'static str,
    /// A script line or lines showing it.
    pub example: &'static str,
}

impl Word {
    /// The word with its arguments as it is written: `mitre(part, to, #{ … })`.
    pub fn written(&self) -> String {
        let mut args: Vec<&str> = self.args.iter().map(|a| a.name).collect();
        if !self.options.is_empty() {
            args.push("#{ … }");
        }
        format!("{}({})", self.name, args.join(", "))
    }
}

/// One positional argument.
#[derive(Debug)]
pub struct Arg {
    /// Its name in messages and reference.
    pub name: &'static str,
    /// What it takes.
    pub takes: Takes,
}

/// What a positional argument takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Takes {
    /// One part.
    Part,
    /// One part or a list of parts.
    Parts,
    /// A value, found in [`Work::options`](super::Work) under the argument's name.
    Value(OptionKind),
}

/// One key of an option map.
#[derive(Debug)]
pub struct OptionSpec {
    /// The key.
    pub key: &'static str,
    /// What it takes, with its range.
    pub kind: OptionKind,
    /// What happens when it is left out; [`REQUIRED`](super::REQUIRED) if it must be given.
    pub default: &'static [Usual],
    /// One sentence.
    pub says: &'static str,
}

impl OptionSpec {
    /// What happens when it is left out, as the reference prints it; empty if it must be
    /// given.
    pub fn left_out(&self) -> String {
        self.default.iter().map(Usual::to_string).collect()
    }
}

/// Kinds of option values. Ranges are in mm or degrees and inclusive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum OptionKind {
    /// A length in the script's unit.
    Length {
        /// Least, mm.
        min: f64,
        /// Greatest, mm.
        max: f64,
    },
    /// A whole number.
    Count {
        /// Least.
        min: u32,
        /// Greatest.
        max: u32,
    },
    /// An angle in degrees.
    Angle {
        /// Least.
        min: f64,
        /// Greatest.
        max: f64,
    },
    /// A plain number (a ratio).
    Ratio {
        /// Least.
        min: f64,
        /// Greatest.
        max: f64,
    },
    /// One of these texts.
    Choice(&'static [&'static str]),
    /// true or false.
    YesNo,
    /// Any text.
    Text,
    /// Two lengths joined by x, such as "8x40".
    Pair,
    /// A list of lengths.
    Lengths,
    /// A side of the piece.
    Side,
    /// A side or a list of sides.
    Sides,
    /// A stock.
    Stock,
    /// A list of corners `[x, y]`, or `#{ at: [x, y], rise: 12 }` or `#{ at: [x, y],
    /// through: [x, y] }` where an arc leaves the corner.
    Points,
    /// Places on a face: one or a list of `[along, across]`. Found as corners.
    Places,
    /// The space a part fills on one axis, `[from, to]` or `between(a, b)`;
    /// the key names the axis. Found as two lengths, rising.
    Span,
    /// A list of texts.
    Texts,
    /// Stations of a turned part: a list of `[along, diameter]` or
    /// `[along, diameter, "cove"]`.
    Stations,
    /// Sheets to be had: one or a list of `#{ size: [2440, 1220], price: 96.0,
    /// count: 2 }`, of which only the size must be given; `[2440, 1220]` is a
    /// size alone.
    Sheets,
    /// Boards in the shop: one or a list of `#{ thick: 34, size: [2100, 240],
    /// count: 2, edge: 15, defects: [[600, 680]] }`, of which thickness and size must be
    /// given.
    Boards,
    /// A turn out of the square, or a list of them in their order: `#{ axis: "x",
    /// by: 10, about: [0, 0, 0] }`.
    Turn,
    /// A line a part runs along: `#{ from: left, to: right, through: [0, 20, 300],
    /// toward: [1, 0, 0], wide: 60 }`.
    Runs,
    /// A list of revisions: `#{ rev: "A", date: "2026-03-31", says: "..." }`.
    Revisions,
}

/// A checked value; lengths in mm, angles in degrees.
#[derive(Clone, Debug, PartialEq)]
pub enum OptionValue {
    /// Length, angle or ratio.
    Number(f64),
    /// Count.
    Count(u32),
    /// Choice or text.
    Text(String),
    /// Yes or no.
    YesNo(bool),
    /// Pair of lengths.
    Pair(f64, f64),
    /// Lengths.
    Lengths(Vec<f64>),
    /// One or more sides.
    Sides(Vec<Side>),
    /// Stock.
    Stock(StockId),
    /// Corners of an outline.
    Points(Vec<Corner>),
    /// Texts.
    Texts(Vec<String>),
    /// Stations, rising along the axis from 0.
    Stations(Vec<Station>),
    /// Turns out of the square, in their order.
    Turns(Vec<Turn>),
    /// A line a part runs along.
    Runs(Runs),
    /// Sheets to be had, not yet said whether to buy or on hand.
    Sheets(Vec<SheetSize>),
    /// Boards in the shop, their clear lengths one by one.
    Boards(Vec<BoardSize>),
    /// Revisions, oldest first.
    Revisions(Vec<Revision>),
}

impl OptionValue {
    /// How much it holds besides itself, about, in bytes.
    pub fn bytes(&self) -> usize {
        let texts = |list: &[String]| list.iter().map(|t| size_of::<String>() + t.len()).sum::<usize>();
        match self {
            Self::Text(text) => text.len(),
            Self::Texts(list) => texts(list),
            Self::Lengths(list) => size_of_val(list.as_slice()),
            Self::Sides(list) => size_of_val(list.as_slice()),
            Self::Points(list) => size_of_val(list.as_slice()),
            Self::Stations(list) => size_of_val(list.as_slice()),
            Self::Turns(list) => size_of_val(list.as_slice()),
            Self::Sheets(list) => size_of_val(list.as_slice()),
            Self::Boards(list) => size_of_val(list.as_slice()),
            Self::Revisions(list) => {
                list.iter().map(|r| size_of::<Revision>() + r.rev.len() + r.says.len()).sum()
            }
            Self::Number(_)
            | Self::Count(_)
            | Self::YesNo(_)
            | Self::Pair(..)
            | Self::Stock(_)
            | Self::Runs(_) => 0,
        }
    }
}

/// One revision of the drawings (ISO 7200, revision index).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Revision {
    /// Its index: one or two characters.
    pub rev: String,
    /// When, `YYYY-MM-DD`, if said.
    pub date: Option<String>,
    /// What was changed.
    pub says: String,
}

/// The options one use of a word was given; what was left out is absent.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Options(pub BTreeMap<&'static str, OptionValue>);

impl Options {
    /// A length (mm), angle (degrees) or ratio.
    pub fn number(&self, key: &str) -> Option<f64> {
        match self.0.get(key)? {
            OptionValue::Number(v) => Some(*v),
            OptionValue::Count(n) => Some(f64::from(*n)),
            _ => None,
        }
    }
    /// A whole number.
    pub fn count(&self, key: &str) -> Option<u32> {
        match self.0.get(key)? {
            OptionValue::Count(n) => Some(*n),
            _ => None,
        }
    }
    /// A choice or text.
    pub fn text(&self, key: &str) -> Option<&str> {
        match self.0.get(key)? {
            OptionValue::Text(t) => Some(t),
            _ => None,
        }
    }
    /// Yes or no; `false` when left out.
    pub fn yes(&self, key: &str) -> bool {
        matches!(self.0.get(key), Some(OptionValue::YesNo(true)))
    }
    /// Yes or no, where one of them is said.
    pub fn said(&self, key: &str) -> Option<bool> {
        match self.0.get(key)? {
            OptionValue::YesNo(yes) => Some(*yes),
            _ => None,
        }
    }
    /// Two lengths.
    pub fn pair(&self, key: &str) -> Option<(f64, f64)> {
        match self.0.get(key)? {
            OptionValue::Pair(a, b) => Some((*a, *b)),
            _ => None,
        }
    }
    /// A list of lengths.
    pub fn lengths(&self, key: &str) -> Option<&[f64]> {
        match self.0.get(key)? {
            OptionValue::Lengths(l) => Some(l),
            _ => None,
        }
    }
    /// Sides of the piece.
    pub fn sides(&self, key: &str) -> Option<&[Side]> {
        match self.0.get(key)? {
            OptionValue::Sides(s) => Some(s),
            _ => None,
        }
    }
    /// Stations of a turned part.
    pub fn stations(&self, key: &str) -> Option<&[Station]> {
        match self.0.get(key)? {
            OptionValue::Stations(s) => Some(s),
            _ => None,
        }
    }
    /// Turns out of the square, in their order; none when left out.
    pub fn turns(&self, key: &str) -> &[Turn] {
        match self.0.get(key) {
            Some(OptionValue::Turns(list)) => list,
            _ => &[],
        }
    }
    /// A line a part runs along.
    pub fn runs(&self, key: &str) -> Option<Runs> {
        match self.0.get(key)? {
            OptionValue::Runs(runs) => Some(*runs),
            _ => None,
        }
    }
    /// Sheets.
    pub fn sheets(&self, key: &str) -> Option<&[SheetSize]> {
        match self.0.get(key)? {
            OptionValue::Sheets(s) => Some(s),
            _ => None,
        }
    }
    /// Boards.
    pub fn boards(&self, key: &str) -> Option<&[BoardSize]> {
        match self.0.get(key)? {
            OptionValue::Boards(b) => Some(b),
            _ => None,
        }
    }
    /// Revisions.
    pub fn revisions(&self, key: &str) -> Option<&[Revision]> {
        match self.0.get(key)? {
            OptionValue::Revisions(r) => Some(r),
            _ => None,
        }
    }
    /// A stock.
    pub fn stock(&self, key: &str) -> Option<StockId> {
        match self.0.get(key)? {
            OptionValue::Stock(s) => Some(*s),
            _ => None,
        }
    }
    /// Corners of an outline.
    pub fn points(&self, key: &str) -> Option<&[Corner]> {
        match self.0.get(key)? {
            OptionValue::Points(p) => Some(p),
            _ => None,
        }
    }
}

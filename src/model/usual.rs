//! What happens when an option is left out: values that the joint reads and the
//! reference prints, and words between them.

use std::fmt;

/// An option that has none of these must be given.
pub const REQUIRED: &[Usual] = &[];

/// One bit of what happens when an option is left out. A figure is a value, never a word,
/// so that the reference cannot say another than the joint works to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Usual {
    /// Words, as they stand.
    Words(&'static str),
    /// A length, mm.
    Length(f64),
    /// Two lengths, mm: `35 mm and 13 mm`.
    Pair(f64, f64),
    /// A length that is sold in millimetres wherever it is used, mm: no shop's own choice.
    Sold(f64),
    /// Two of them, mm.
    SoldPair(f64, f64),
    /// Two lengths, mm: `8 by 15 mm`.
    By(f64, f64),
    /// A screw, diameter and length, mm, as a script names it: `"4x25"`.
    Screw(f64, f64),
    /// One of these lengths, mm: `6, 8 or 10 mm`.
    OneOf(&'static [f64]),
    /// An angle, degrees.
    Angle(f64),
    /// A ratio, or a length after another that has its unit, mm.
    Bare(f64),
    /// A whole number.
    Count(u32),
    /// A choice or text.
    Text(&'static str),
    /// Yes or no.
    YesNo(bool),
}

impl fmt::Display for Usual {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            // No unit where there is nothing: no saw is set to 0 mm.
            Self::Length(0.0) | Self::Angle(0.0) => f.write_str("0"),
            Self::Length(mm) => write!(f, "{mm} mm"),
            Self::Pair(a, b) => write!(f, "{a} mm and {b} mm"),
            // A space that does not break: what reads lengths to convert them leaves these.
            Self::Sold(mm) => write!(f, "{mm}\u{a0}mm"),
            Self::SoldPair(a, b) => write!(f, "{a}\u{a0}mm and {b}\u{a0}mm"),
            Self::By(a, b) => write!(f, "{a} by {b} mm"),
            Self::Screw(thick, long) => write!(f, "\"{thick}x{long}\""),
            Self::OneOf(list) => one_of(list, f),
            Self::Angle(degrees) => write!(f, "{degrees}°"),
            Self::Bare(number) => write!(f, "{number}"),
            Self::Count(count) => write!(f, "{count}"),
            Self::Words(text) | Self::Text(text) => f.write_str(text),
            Self::YesNo(yes) => write!(f, "{yes}"),
        }
    }
}

fn one_of(list: &[f64], f: &mut fmt::Formatter<'_>) -> fmt::Result {
    for (k, mm) in list.iter().enumerate() {
        let before = match list.len() - k {
            _ if k == 0 => "",
            1 => " or ",
            _ => ", ",
        };
        write!(f, "{before}{mm}")?;
    }
    f.write_str(" mm")
}

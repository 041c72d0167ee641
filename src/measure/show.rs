//! Showing lengths, angles, mass and money. No sign is ever shown on zero.

use super::{INCH, LengthStyle, ShownLength, Unit};

/// Millimetres of rounding an inch drawing may hide; more is marked.
const ROUNDED_BY: f64 = 0.001;
/// The finest division of a rule in inches.
const FINER: u32 = 64;
/// What is rounded for print is first rounded to this many steps in one: 0.05 computed
/// as 0.049999999 then rounds as it reads.
pub const MILLIONTHS: f64 = 1e6;
/// Steps in one of numbers with no decimal, one, two and three, and with more.
const SCALES: [f64; 4] = [1.0, 10.0, 100.0, 1000.0];
const FINEST: f64 = 1e4;

impl LengthStyle {
    /// Millimetres, at most one decimal.
    pub const MM: Self = Self { unit: Unit::Mm, finest: 32, decimals: 1, feet: false };
    /// Inches and fractions to 1/32.
    pub const INCH: Self = Self { unit: Unit::Inch, finest: 32, decimals: 1, feet: false };

    /// The usual style of a unit.
    pub fn of(unit: Unit) -> Self {
        match unit {
            Unit::Mm => Self::MM,
            Unit::Inch => Self::INCH,
        }
    }

    /// A length in mm as it is shown. A value that is not finite shows as `?`.
    pub fn show(self, mm: f64) -> ShownLength {
        if !mm.is_finite() {
            return ShownLength { whole: "?".into(), fraction: None, after: "", rounded: false };
        }
        match self.unit {
            Unit::Mm => ShownLength {
                whole: number(mm, usize::from(self.decimals.min(1))),
                fraction: None,
                after: "",
                rounded: false,
            },
            Unit::Inch => self.show_inches(mm),
        }
    }

    /// The length that is shown for `mm`, mm: what a reader would work with. Rounds
    /// just as `show` does.
    pub fn as_shown(self, mm: f64) -> f64 {
        match self.unit {
            Unit::Mm => {
                let scale = if self.decimals == 0 { 1.0 } else { SCALES[1] };
                ((mm * MILLIONTHS).round() / MILLIONTHS * scale).round() / scale
            }
            Unit::Inch => {
                let finest = f64::from(self.finest.clamp(1, 1024));
                (mm / INCH * finest).round() / finest * INCH
            }
        }
    }

    /// A length in mm as one line of plain text with its unit: `600 mm`,
    /// `23 5/8″`, `≈ 23 5/8″` where rounded.
    pub fn text(self, mm: f64) -> String {
        let shown = self.show(mm);
        match self.unit {
            Unit::Mm => format!("{shown} mm"),
            Unit::Inch => shown.to_string(),
        }
    }

    /// A length in mm as text, beside another it is held against: as usual, and finer where
    /// both would read alike though they are not, so that no difference vanishes in
    /// rounding.
    pub fn beside(self, mm: f64, other: f64) -> String {
        let usual = self.text(mm);
        let bare = |text: &str| text.trim_start_matches("≈ ").to_owned();
        if (mm - other).abs() <= ROUNDED_BY || bare(&usual) != bare(&self.text(other)) {
            return usual;
        }
        let decimals = |decimals: usize| match self.unit {
            Unit::Mm => [number(mm, decimals), number(other, decimals)].map(|figure| figure + " mm"),
            Unit::Inch => {
                [number(mm / INCH, decimals), number(other / INCH, decimals)].map(|figure| figure + "″")
            }
        };
        let finer = Self { finest: FINER, ..self };
        let by_rule = (self.unit == Unit::Inch).then(|| [finer.text(mm), finer.text(other)]);
        let tried = by_rule.into_iter().chain([2, 3].map(decimals));
        let [own, _] = tried.into_iter().find(|[own, other]| bare(own) != bare(other)).unwrap_or_default();
        if own.is_empty() { usual } else { own }
    }

    /// Inches on the grid of `finest`.
    fn show_inches(self, mm: f64) -> ShownLength {
        let finest = i64::from(self.finest.clamp(1, 1024));
        let units = (mm / INCH * finest as f64).round();
        let rounded = (units / finest as f64 * INCH - mm).abs() > ROUNDED_BY;
        #[allow(clippy::cast_possible_truncation, reason = "a finite float saturates, and no length is near")]
        let units = units as i64;
        let sign = if units < 0 { "−" } else { "" };
        let (mut inches, part) =
            ((units.unsigned_abs() / finest.unsigned_abs()), units.unsigned_abs() % finest.unsigned_abs());
        let mut whole = sign.to_owned();
        if self.feet && inches >= 12 {
            whole.push_str(&(inches / 12).to_string());
            whole.push_str("′-");
            inches %= 12;
            whole += &inches.to_string();
        } else if inches > 0 || part == 0 {
            whole += &inches.to_string();
        }
        ShownLength { whole, fraction: lowest(part, finest.unsigned_abs()), after: "″", rounded }
    }
}

/// A fraction in lowest terms; `None` for zero.
fn lowest(mut top: u64, mut bottom: u64) -> Option<(u32, u32)> {
    if top == 0 {
        return None;
    }
    let (mut a, mut b) = (top, bottom);
    while b != 0 {
        (a, b) = (b, a % b);
    }
    top /= a;
    bottom /= a;
    Some((u32::try_from(top).ok()?, u32::try_from(bottom).ok()?))
}

impl std::fmt::Display for ShownLength {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if self.rounded {
            f.write_str("≈ ")?;
        }
        f.write_str(&self.whole)?;
        if let Some((top, bottom)) = self.fraction {
            if self.whole.ends_with(|c: char| c.is_ascii_digit()) {
                f.write_str(" ")?;
            }
            write!(f, "{top}/{bottom}")?;
        }
        f.write_str(self.after)
    }
}

/// A number with at most `decimals` decimals, trailing zeros dropped, halves
/// away from zero, never `-0`. Noise below a millionth is not looked at, so
/// that 0.05 computed as 0.049999999 rounds as it reads.
pub fn number(value: f64, decimals: usize) -> String {
    if !value.is_finite() {
        return "?".into();
    }
    let scale = SCALES.get(decimals).copied().unwrap_or(FINEST);
    let snapped = (value * MILLIONTHS).round() / MILLIONTHS;
    let rounded = (snapped * scale).round() / scale;
    let text = format!("{rounded:.decimals$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".into() } else { text.replace('-', "−") }
}

/// A length of so many mm as a script of the unit has it, to be copied: `14`, `3/4`,
/// `2 + 1/2` in inches.
pub fn in_script(unit: Unit, mm: f64) -> String {
    if unit == Unit::Mm {
        return number(mm, 4).replace('−', "-");
    }
    let shown = LengthStyle::INCH.show(mm);
    let Some((top, bottom)) = shown.fraction.filter(|_| !shown.rounded) else {
        return number(mm / unit.in_mm(), 4).replace('−', "-");
    };
    if shown.whole.is_empty() {
        format!("{top}/{bottom}")
    } else {
        format!("{} + {top}/{bottom}", shown.whole)
    }
}

/// Degrees with up to two decimals: `45°`, `7.13°`.
pub fn angle(degrees: f64) -> String {
    format!("{}°", number(degrees, 2))
}

/// Kilograms: one decimal, two under 1 kg.
pub fn mass(kg: f64) -> String {
    format!("{} kg", number(kg, if kg.abs() < 1.0 { 2 } else { 1 }))
}

/// An amount of money with two decimals and thousands apart; the currency is
/// the job's affair.
pub fn money(amount: f64) -> String {
    if !amount.is_finite() {
        return "?".into();
    }
    let cents = format!("{:.2}", (amount.abs() * SCALES[2]).round() / SCALES[2]);
    let (whole, part) = cents.split_once('.').unwrap_or((&cents, "00"));
    let mut grouped = String::new();
    for (i, digit) in whole.chars().enumerate() {
        if i > 0 && (whole.len() - i).is_multiple_of(3) {
            grouped.push('\u{202f}');
        }
        grouped.push(digit);
    }
    let sign = if amount < 0.0 && cents != "0.00" { "−" } else { "" };
    format!("{sign}{grouped}.{part}")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A reader who works with the figures works with these lengths: halves of the
    /// last decimal and sums with noise round as they are printed.
    #[test]
    fn what_is_shown_is_what_is_worked_with() {
        let styles = [LengthStyle::of(Unit::Mm), LengthStyle { decimals: 0, ..LengthStyle::of(Unit::Mm) }];
        for step in 0..4000 {
            let mm = f64::from(step) * 0.05 + 1e-10 * f64::from(step % 3);
            for style in styles {
                assert_eq!(number(style.as_shown(mm), 3), style.show(mm).whole, "{mm}");
            }
            let inches = LengthStyle::of(Unit::Inch);
            let (shown, meant) = (inches.show(inches.as_shown(mm)), inches.show(mm));
            assert_eq!((shown.whole, shown.fraction), (meant.whole, meant.fraction), "{mm}");
            assert!(!shown.rounded, "{mm}");
        }
    }

    /// 25.4 mm to the inch exactly (ISO 31-1); stacked fractions in lowest terms.
    /// 9.525 is 3/8, and 0.126 mm more or less is no sixty-fourth of an inch (0.397).
    #[test]
    fn lengths_held_against_one_another_do_not_read_alike() {
        let [mm, inch] = [LengthStyle::MM, LengthStyle::INCH];
        assert_eq!([inch.beside(9.525, 9.651), inch.beside(9.651, 9.525)], ["0.375″", "0.38″"]);
        assert_eq!([inch.beside(9.525, 9.9), inch.beside(9.9, 9.525)], ["3/8″", "≈ 25/64″"]);
        assert_eq!([inch.beside(9.525, 12.7), inch.beside(9.525, 9.525)], ["3/8″", "3/8″"]);
        assert_eq!(
            [mm.beside(3.0, 2.97), mm.beside(2.97, 3.0), mm.beside(2.9, 3.0)],
            ["3 mm", "2.97 mm", "2.9 mm"]
        );
    }

    #[test]
    fn inches_show_as_fractions() {
        let cases = [
            (600.075, "23 5/8″"),
            (19.05, "3/4″"),
            (25.4, "1″"),
            (0.0, "0″"),
            (-12.7, "−1/2″"),
            (-0.1, "≈ 0″"),
            (18.0, "≈ 23/32″"),
            (25.3, "≈ 1″"),
            (304.8, "12″"),
            (0.79375, "1/32″"),
        ];
        for (mm, text) in cases {
            assert_eq!(LengthStyle::INCH.text(mm), text, "{mm}");
        }
    }

    #[test]
    fn the_grid_can_be_chosen() {
        let to = |finest, mm| LengthStyle { finest, ..LengthStyle::INCH }.text(mm);
        assert_eq!(to(16, 18.0), "≈ 11/16″");
        assert_eq!(to(64, 18.0), "≈ 45/64″");
        assert_eq!(to(64, 0.396_875), "1/64″");
    }

    #[test]
    fn feet_where_asked() {
        let feet = LengthStyle { feet: true, ..LengthStyle::INCH };
        assert_eq!(feet.text(469.9), "1′-6 1/2″");
        assert_eq!(feet.text(304.8), "1′-0″");
        assert_eq!(feet.text(609.6 + 19.05), "2′-0 3/4″");
        assert_eq!(feet.text(279.4), "11″");
        assert_eq!(feet.text(-469.9), "−1′-6 1/2″");
    }

    #[test]
    fn millimetres_show_whole_or_one_decimal() {
        let cases =
            [(600.0, "600 mm"), (19.05, "19.1 mm"), (-0.04, "0 mm"), (0.05, "0.1 mm"), (1e3, "1000 mm")];
        for (mm, text) in cases {
            assert_eq!(LengthStyle::MM.text(mm), text);
        }
        assert_eq!(LengthStyle { decimals: 0, ..LengthStyle::MM }.text(12.5), "13 mm");
        assert_eq!(LengthStyle::MM.text(12.35 - 1e-12), "12.4 mm");
        assert_eq!(LengthStyle::MM.text(f64::NAN), "? mm");
    }

    #[test]
    fn other_measures_show() {
        assert_eq!(angle(45.0), "45°");
        assert_eq!(angle(7.125_016), "7.13°");
        assert_eq!(mass(0.456), "0.46 kg");
        assert_eq!(mass(18.34), "18.3 kg");
        assert_eq!(money(1_234_567.5), "1\u{202f}234\u{202f}567.50");
        assert_eq!(money(96.0), "96.00");
        assert_eq!(money(-0.001), "0.00");
    }
}

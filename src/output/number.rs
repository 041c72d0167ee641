//! Numbers as written in files.

/// Three decimals at most, no trailing zeros, never `-0`. Three decimals of a
/// millimetre are finer than any printer.
pub(super) fn short(value: f64) -> String {
    let thousandths = (value * 1000.0).round();
    // Neither huge nor unreal values may end up in a file as words or powers.
    if thousandths.is_nan() || thousandths.abs() >= 1e15 {
        return "0".into();
    }
    #[expect(clippy::cast_possible_truncation, reason = "below 10 to the 15, and whole")]
    let n = thousandths as i64;
    let (whole, rest) = (n.unsigned_abs() / 1000, n.unsigned_abs() % 1000);
    let sign = if n < 0 { "-" } else { "" };
    if rest == 0 {
        return format!("{sign}{whole}");
    }
    let rest = format!("{rest:03}");
    format!("{sign}{whole}.{}", rest.trim_end_matches('0'))
}

#[cfg(test)]
mod tests {
    use super::short;

    #[test]
    fn numbers_are_short_and_plain() {
        for (value, text) in [
            (0.0, "0"),
            (-0.0, "0"),
            (-0.0004, "0"),
            (0.0005, "0.001"),
            (12.5, "12.5"),
            (-3.2716, "-3.272"),
            (100.0, "100"),
            (0.05, "0.05"),
            (1e9, "1000000000"),
            (f64::NAN, "0"),
            (f64::INFINITY, "0"),
        ] {
            assert_eq!(short(value), text);
        }
    }
}

//! Dates of the calendar, checked. The clock is never asked: a date is on the
//! drawings only when it is given.

/// A date written `YYYY-MM-DD`, if it is one (Gregorian calendar, ISO 8601).
///
/// # Errors
/// What is wrong with it, for a message.
pub fn date(text: &str) -> Result<String, String> {
    let wrong = || format!("`{text}` is no date: write it as `2026-03-31`");
    let parts: Vec<&str> = text.split('-').collect();
    let [year, month, day] = parts.as_slice() else { return Err(wrong()) };
    let digits = |part: &str, n: usize| part.len() == n && part.bytes().all(|b| b.is_ascii_digit());
    if !(digits(year, 4) && digits(month, 2) && digits(day, 2)) {
        return Err(wrong());
    }
    let number = |part: &str| part.parse::<u32>().map_err(|_| wrong());
    let (year, month, day) = (number(year)?, number(month)?, number(day)?);
    if year == 0 || day == 0 || day > days(year, month) {
        return Err(format!("`{text}` is no day of the calendar"));
    }
    Ok(text.to_owned())
}

/// The day that comes `after` days after a date; `None` if that is no date.
pub fn days_after(text: &str, after: u32) -> Option<String> {
    date(text).ok()?;
    let mut parts = text.split('-').filter_map(|part| part.parse::<u32>().ok());
    let (mut year, mut month, day) = (parts.next()?, parts.next()?, parts.next()?);
    let mut day = day.checked_add(after)?;
    while day > days(year, month) {
        day -= days(year, month);
        month += 1;
        if month > MONTHS {
            (year, month) = (year + 1, 1);
        }
    }
    Some(format!("{year:04}-{month:02}-{day:02}"))
}

/// Months of a year.
const MONTHS: u32 = 12;

/// Days of a month; 0 for a month that does not exist.
fn days(year: u32, month: u32) -> u32 {
    let leap = (year.is_multiple_of(4) && !year.is_multiple_of(100)) || year.is_multiple_of(400);
    match month {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        4 | 6 | 9 | 11 => 30,
        2 if leap => 29,
        2 => 28,
        _ => 0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_are_counted_over_months_and_leap_days() {
        assert_eq!(days_after("2026-11-27", 30).as_deref(), Some("2026-12-27"));
        assert_eq!(days_after("2024-02-28", 1).as_deref(), Some("2024-02-29"));
        assert_eq!(days_after("2023-12-31", 366).as_deref(), Some("2024-12-31"));
        assert_eq!(days_after("2026-02-30", 1), None);
    }

    #[test]
    fn days_of_the_calendar() {
        for good in ["2026-03-31", "2024-02-29", "2000-02-29", "0001-12-01"] {
            assert_eq!(date(good), Ok(good.to_owned()));
        }
        for bad in
            ["2026-02-29", "1900-02-29", "2026-13-01", "2026-04-31", "2026-00-10", "2026-01-00", "0000-01-01"]
        {
            assert_eq!(date(bad), Err(format!("`{bad}` is no day of the calendar")));
        }
        for bad in ["", "31.3.2026", "2026-3-31", "2026-03-31T", "２026-03-31", "-026-03-31"] {
            assert_eq!(date(bad), Err(format!("`{bad}` is no date: write it as `2026-03-31`")));
        }
    }
}

//! Calendar days.
use super::fault::{Fault, MeasureError};
use super::length::whole;
use crate::text::clip;
use jiff::civil::Date;

/// Years in which a job is laid out or a paper written; any other is a slip, and would get a list of jobs of
/// its own.
const YEARS: std::ops::RangeInclusive<i16> = 1900..=2199;

/// Reads `2026-11-30`; a day that the calendar does not have is refused.
pub fn read_date(text: &str) -> Result<Date, MeasureError> {
    let day = text.trim();
    let fail = |fault| Err(MeasureError { at: whole(text), fault });
    let Some((year, month, number)) = parts(day) else {
        return fail(Fault::NoDate { found: clip(day) });
    };
    if !YEARS.contains(&year) {
        return fail(Fault::OddYear { found: day.to_owned() });
    }
    Date::new(year, month, number)
        .or_else(|_| fail(Fault::NoSuchDay { found: day.to_owned(), why: why(year, month) }))
}

/// Year, month and day of exactly four, two and two digits.
fn parts(day: &str) -> Option<(i16, i8, i8)> {
    let mut pieces = day.split('-');
    let mut piece = |digits: usize| {
        let text = pieces.next()?;
        (text.len() == digits && text.bytes().all(|b| b.is_ascii_digit())).then_some(text)
    };
    let (year, month, number) = (piece(4)?, piece(2)?, piece(2)?);
    if pieces.next().is_some() {
        return None;
    }
    Some((year.parse().ok()?, month.parse().ok()?, number.parse().ok()?))
}

/// `11/30/2026` as this program writes it, where only one reading is a day: a month stands before a day that is
/// past the twelfth.
pub(super) fn american(text: &str) -> Option<String> {
    let mut pieces = text.split('/').map(str::trim);
    let mut piece = || pieces.next()?.parse::<i16>().ok();
    let (month, day, year) = (piece()?, piece()?, piece()?);
    let date = Date::new(year, i8::try_from(month).ok()?, i8::try_from(day).ok()?).ok()?;
    (pieces.next().is_none() && day > 12 && year > 1000).then(|| date.to_string())
}

/// `2026/11/3` or `2026-11-3` as this program writes it: with the year first there is one reading.
pub(super) fn year_first(text: &str) -> Option<String> {
    let mut pieces = text.split(['/', '-', '.']).map(str::trim);
    let mut piece = |digits: std::ops::RangeInclusive<usize>| {
        let text = pieces.next()?;
        (digits.contains(&text.len()) && text.bytes().all(|b| b.is_ascii_digit())).then_some(text)
    };
    let (year, month, day) = (piece(4..=4)?, piece(1..=2)?, piece(1..=2)?);
    let date = Date::new(year.parse().ok()?, month.parse().ok()?, day.parse().ok()?).ok()?;
    (pieces.next().is_none() && YEARS.contains(&date.year())).then(|| date.to_string())
}

/// What the calendar has instead.
fn why(year: i16, month: i8) -> String {
    match Date::new(year, month, 1) {
        Ok(first) => format!("choose a day of that month, which has {} in {year}", first.days_in_month()),
        Err(_) => "choose a month from 01 to 12".into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_days_and_refuses_impossible_ones() {
        assert_eq!(read_date("2026-11-30").unwrap().to_string(), "2026-11-30");
        assert_eq!(read_date("2024-02-29").unwrap().day(), 29);
        let error = read_date("2026-02-30").unwrap_err();
        assert_eq!(error.to_string(), "`2026-02-30` is not a day of the calendar");
        assert_eq!(error.fault.help().as_deref(), Some("choose a day of that month, which has 28 in 2026"));
        for text in ["2026-13-01", "2026-00-10", "2026-11-00"] {
            assert!(matches!(read_date(text).unwrap_err().fault, Fault::NoSuchDay { .. }), "{text}");
        }
        let help = |text| read_date(text).unwrap_err().fault.help().unwrap();
        for text in ["11/30/2026", "2026/11/30", "2026.11.30", "2026-11-30-"] {
            let wanted = if text.ends_with('-') { "like 2026-11-30" } else { "`2026-11-30`" };
            assert_eq!(help(text), format!("write year-month-day, {wanted}"), "{text}");
        }
        assert_eq!(help("2026-1-5"), "write year-month-day, `2026-01-05`");
        for text in ["0001-01-01", "0206-11-30", "1899-12-31", "2200-01-01", "9999-12-31"] {
            let error = read_date(text).unwrap_err();
            assert_eq!(error.to_string(), format!("`{text}` is not in a year from 1900 to 2199"));
        }
        assert!(read_date("1900-01-01").is_ok() && read_date("2199-12-31").is_ok());
        // The third of April to some, the fourth of March to others; and no thirteenth month.
        for text in ["3/4/2026", "30/11/2026", "11/30/26", "11/31/2026", "11/30"] {
            assert_eq!(help(text), "write year-month-day, like 2026-11-30", "{text}");
        }
        for text in ["30.11.2026", "2026-1-5", "tomorrow", "", "2026-11-30T10:00", "-026-11-30"] {
            assert!(matches!(read_date(text).unwrap_err().fault, Fault::NoDate { .. }), "{text}");
        }
    }
}

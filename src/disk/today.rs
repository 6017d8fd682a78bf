//! The day by the user's clock, for the readings of a printer file and nothing else.

use std::time::{SystemTime, UNIX_EPOCH};

/// Today in UTC, such as 2026-03-14.
#[expect(clippy::disallowed_methods, reason = "a log is dated; no drawing depends on it")]
pub(crate) fn utc() -> String {
    let since = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or_default();
    day(since.as_secs() / 86_400)
}

/// The day that is so many days after 1970-01-01, in the Gregorian calendar.
fn day(days: u64) -> String {
    let is_leap = |year: u64| {
        let is = |n| year.is_multiple_of(n);
        is(4) && !is(100) || is(400)
    };
    let (mut year, mut left) = (1970, days);
    while left >= 365 + u64::from(is_leap(year)) {
        left -= 365 + u64::from(is_leap(year));
        year += 1;
    }
    let february = 28 + u64::from(is_leap(year));
    let mut month = 1;
    for length in [31, february, 31, 30, 31, 30, 31, 31, 30, 31, 30] {
        if left < length {
            break;
        }
        left -= length;
        month += 1;
    }
    format!("{year}-{month:02}-{:02}", left + 1)
}

#[cfg(test)]
mod tests {
    /// By `date -u -d @SECONDS` of GNU coreutils.
    #[test]
    fn days_are_those_of_the_calendar() {
        for (days, date) in [
            (0, "1970-01-01"),
            (11_016, "2000-02-29"),
            (19_723, "2024-01-01"),
            (20_088, "2024-12-31"),
            (20_526, "2026-03-14"),
            (47_540, "2100-02-28"),
            (47_541, "2100-03-01"),
        ] {
            assert_eq!(super::day(days), date);
        }
    }
}

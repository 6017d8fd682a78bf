//! Reads a length as it is written at a bench.

use super::Length;
use super::length::{NM_PER_INCH, NM_PER_MM};
use super::ratio::rounded;
use std::fmt;

/// Longest text of a length, in bytes: thrice what any needs.
const LONGEST: usize = 60;
/// Longest length that is read, 100 km: sums of many stay far inside 64 bits.
const LIMIT_NM: i64 = 100_000_000 * NM_PER_MM;

impl Length {
    /// Reads a length with its unit, in mm, cm, m, in or ft, with an optional sign. Decimals
    /// have a point or a comma. Thirds of a millimetre and the like are rounded to the
    /// nearest nanometre.
    ///
    /// ```
    /// use strapwright::geom::Length;
    /// let half = Length::parse("34 1/2 in")?;
    /// assert_eq!(half, Length::from_um(876_300));
    /// for text in ["34½ in", "34-1/2\"", "2 ft 10 1/2 in", "87.63 cm", "876,3 mm"] {
    ///     assert_eq!(Length::parse(text)?, half);
    /// }
    /// let error = Length::parse("34").unwrap_err();
    /// assert!(error.to_string().starts_with("`34` has no unit; a length is"));
    /// # Ok::<(), strapwright::geom::LengthError>(())
    /// ```
    ///
    /// # Errors
    /// No number, an unknown unit or none, a decimal comma that may be one of thousands, or
    /// more than 100 km.
    pub fn parse(text: &str) -> Result<Self, LengthError> {
        Self::parse_with(text, false)
    }

    /// Reads the thickness of leather: a length, or a number of ounces (1/64 in) or irons
    /// (1/48 in).
    ///
    /// ```
    /// use strapwright::geom::Length;
    /// assert_eq!(Length::parse_thickness("9 oz"), Length::parse("9/64 in"));
    /// ```
    ///
    /// # Errors
    /// Those of [`parse`](Self::parse), and a fraction such as `8/9 oz`, which is a range.
    pub fn parse_thickness(text: &str) -> Result<Self, LengthError> {
        Self::parse_with(text, true)
    }

    fn parse_with(text: &str, is_thickness: bool) -> Result<Self, LengthError> {
        parse(text.trim(), is_thickness).map_err(|what| {
            let shown: String = text.chars().take(40).collect();
            let more = if shown.len() < text.len() { "…" } else { "" };
            let remedy = if what == NO_UNIT {
                LengthError::unit_wanted(&shown)
            } else {
                "give the number and its unit in quotes: \"34 1/2 in\", \"865 mm\"".into()
            };
            LengthError { found: format!("`{shown}{more}` {what}"), remedy }
        })
    }
}

/// Why a text is not a length. Its message says what was found and what would be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LengthError {
    found: String,
    remedy: String,
}

/// What is wrong with a number alone.
const NO_UNIT: &str = "has no unit";

impl LengthError {
    /// What was found, without the words that would be read.
    pub fn found(&self) -> &str {
        &self.found
    }

    /// What would do.
    pub fn remedy(&self) -> &str {
        &self.remedy
    }

    /// What would do in place of a number alone.
    pub fn unit_wanted(number: &str) -> String {
        format!(
            "say which unit is meant, in quotes: \"{number} mm\", \"{number} cm\" or \"{number} in\""
        )
    }
}

impl fmt::Display for LengthError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{}; a length is a number with mm, cm, m or in, such as `865 mm`, `86.5 cm`, \
             `34 in` or `1 1/4 in`",
            self.found
        )
    }
}

impl std::error::Error for LengthError {}

/// The length, or what is wrong with the text.
fn parse(text: &str, is_thickness: bool) -> Result<Length, String> {
    if text.len() > LONGEST {
        return Err("is too long for a length".into());
    }
    if text.is_empty() {
        return Err("is empty".into());
    }
    let (sign, unsigned) = match text.strip_prefix(['-', '−']) {
        Some(rest) => (-1, rest),
        None => (1, text.strip_prefix('+').unwrap_or(text)),
    };
    let starts_unit = |c: char| c.is_alphabetic() || "\"″'′’”%".contains(c);
    let unit_at = unsigned.find(starts_unit).unwrap_or(unsigned.len());
    let (number, unit) = unsigned.split_at(unit_at);
    let (number, unit) = (number.trim(), unit.to_lowercase());
    let (unit, inches) = split_feet(&unit);
    let beside =
        if inches.is_empty() { Length::ZERO } else { inches_beside_feet(inches)? };
    // Of an ounce and an iron, so many make an inch (common practice, no source).
    let (nm_per_unit, parts) = match unit {
        "mm" => (NM_PER_MM, 1),
        "cm" => (10 * NM_PER_MM, 1),
        "m" => (1_000 * NM_PER_MM, 1),
        FOOT => (12 * NM_PER_INCH, 1),
        "in" | "inch" | "inches" | "\"" | "″" | "”" => (NM_PER_INCH, 1),
        "oz" | "ounce" | "ounces" if is_thickness => (NM_PER_INCH, 64),
        "iron" | "irons" if is_thickness => (NM_PER_INCH, 48),
        "oz" | "ounce" | "ounces" | "iron" | "irons" => {
            return Err(format!("is in `{unit}`, a unit of the thickness of leather"));
        }
        "" => return Err(NO_UNIT.into()),
        other => return Err(format!("has an unknown unit `{other}`")),
    };
    if number.is_empty() {
        return Err("has no number before its unit".into());
    }
    // Nobody's ruler has micrometres; an inch and a metre may well have three decimals.
    if nm_per_unit <= 10 * NM_PER_MM && is_thousand(number) {
        let (thousand, decimal) = (number.replace(',', ""), number.replace(',', "."));
        let decimal = decimal.trim_end_matches('0').trim_end_matches('.');
        return Err(format!(
            "may be {thousand} or {decimal}: write the one that is meant"
        ));
    }
    // Leather of `8/9 oz` is of 8 to 9.
    if parts > 1
        && number.split_once('/').is_some_and(|(n, _)| digits(n.trim()).is_some())
    {
        return Err("may be a range: write one number, such as 8.5 oz".into());
    }
    let Some((n, d)) = fraction(number) else {
        return Err(format!("has `{number}`, which is not a number"));
    };
    let nm = rounded(n * i128::from(nm_per_unit), d * parts).saturating_add(beside.nm());
    if nm > LIMIT_NM {
        return Err("is longer than 100 km".into());
    }
    Ok(Length::from_nm(sign * nm))
}

const FOOT: &str = "ft";

/// The unit, with one word for all of a foot, and what stands after the feet.
fn split_feet(unit: &str) -> (&str, &str) {
    let words = ["feet", "foot", "ft.", FOOT, "'", "′", "’"];
    let after = words.iter().find_map(|word| unit.strip_prefix(word));
    // `ftm` is no foot.
    match after.map(str::trim_start).filter(|a| !a.starts_with(char::is_alphabetic)) {
        Some(inches) => (FOOT, inches),
        None => (unit, ""),
    }
}

/// The inches of `6 ft 2 in`, a length of their own.
fn inches_beside_feet(text: &str) -> Result<Length, String> {
    let is_inches = text.ends_with(['"', '″', '”']) || text.contains("in");
    parse(text, false)
        .ok()
        .filter(|l| is_inches && (0..12 * NM_PER_INCH).contains(&l.nm()))
        .ok_or_else(|| "has something beside its feet that is no inches".into())
}

/// Reads `34`, `86.5`, `86,5`, `3/4`, `1 1/4`, `1-1/4`, `34½` or `½` as a numerator, below
/// 10²⁸, and a denominator, at most 10¹². A fraction is exact where a decimal is not.
fn fraction(text: &str) -> Option<(i128, i128)> {
    let last = text.char_indices().next_back();
    if let Some((whole, (n, d))) =
        last.and_then(|(at, c)| Some((&text[..at], vulgar(c)?)))
    {
        let whole = whole.trim_end();
        let whole = whole.strip_suffix('-').unwrap_or(whole);
        let whole = if whole.is_empty() { 0 } else { digits(whole)? };
        return Some((whole * d + n, d));
    }
    if let Some((before, d)) = text.split_once(['/', '⁄']) {
        let d = digits(d.trim()).filter(|d| (1..=1_000_000).contains(d))?;
        let before = before.trim();
        let (whole, n) = before.rsplit_once([' ', '\t', '-']).unwrap_or(("0", before));
        return Some((digits(whole.trim())? * d + digits(n)?, d));
    }
    let (whole, decimals) = text.split_once(['.', ',']).unwrap_or((text, ""));
    let n = if decimals.is_empty() { 0 } else { digits(decimals)? };
    let d =
        10_i128.pow(u32::try_from(decimals.len()).ok().filter(|places| *places <= 12)?);
    Some((digits(whole)? * d + n, d))
}

/// Whether it is like `1,200`, which is a thousand to one person and a decimal to another.
fn is_thousand(text: &str) -> bool {
    text.split_once(',').is_some_and(|(whole, part)| {
        let is_start =
            !whole.starts_with('0') && digits(whole).is_some_and(|n| n < 1_000);
        is_start && part.len() == 3 && digits(part).is_some()
    })
}

/// A whole number of at most 15 digits.
fn digits(text: &str) -> Option<i128> {
    let is_whole = text.len() <= 15 && text.bytes().all(|b| b.is_ascii_digit());
    is_whole.then(|| text.parse().ok())?
}

/// The Unicode fractions that a keyboard or a word processor makes.
fn vulgar(c: char) -> Option<(i128, i128)> {
    Some(match c {
        '½' => (1, 2),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_words_of_a_bench_are_read() {
        // NIST SP 811, App. B: 1 in = 25.4 mm exactly.
        for (text, nm) in [
            ("34 in", 863_600_000),
            ("34in", 863_600_000),
            ("34 1/2\"", 876_300_000),
            ("34 ½ in", 876_300_000),
            ("34½″", 876_300_000),
            ("¾ inch", 19_050_000),
            ("1 1/4 in", 31_750_000),
            ("1 ¼ inches", 31_750_000),
            ("1/64 in", 396_875),
            ("86.5 cm", 865_000_000),
            ("86,5 cm", 865_000_000),
            ("865 mm", 865_000_000),
            ("0,865 m", 865_000_000),
            ("1,125 in", 28_575_000),
            ("1,025 m", 1_025_000_000),
            ("31.750 mm", 31_750_000),
            ("31,75 mm", 31_750_000),
            ("0,125 mm", 125_000),
            ("0.000001 mm", 1),
            ("1.2 m", 1_200_000_000),
            ("-3 mm", -3_000_000),
            ("34-1/2 in", 876_300_000),
            ("34-½\"", 876_300_000),
            ("6 ft", 1_828_800_000),
            ("6'", 1_828_800_000),
            ("2 ft 10 in", 863_600_000),
            ("2’ 10 1/2”", 876_300_000),
            ("4 1/2 feet", 1_371_600_000),
            ("  3.5  MM ", 3_500_000),
        ] {
            assert_eq!(Length::parse(text).map(Length::nm), Ok(nm), "{text}");
        }
    }

    /// An ounce is 1/64 in, an iron 1/48 in (common practice, no source).
    #[test]
    fn ounces_and_irons_are_units_of_thickness_alone() {
        for (text, nm) in [
            ("9 oz", 3_571_875),
            ("8.5oz", 3_373_438),
            ("8 1/2 ounces", 3_373_438),
            ("1 ounce", 396_875),
            ("½ OZ", 198_438),
            ("12 iron", 6_350_000),
            ("9 irons", 4_762_500),
            ("3.5 mm", 3_500_000),
        ] {
            assert_eq!(Length::parse_thickness(text).map(Length::nm), Ok(nm), "{text}");
        }
        for (text, says) in [
            ("8/9 oz", "may be a range: write one number"),
            ("8-9 oz", "which is not a number"),
            ("2 ft 9 oz", "something beside its feet"),
            ("9", "has no unit"),
        ] {
            let message = Length::parse_thickness(text).unwrap_err().to_string();
            assert!(message.contains(says), "{text}: {message}");
        }
        let message = Length::parse("9 oz").unwrap_err().to_string();
        assert!(
            message.contains("`9 oz` is in `oz`, a unit of the thickness"),
            "{message}"
        );
    }

    #[test]
    fn what_is_no_length_says_so() {
        for (text, says) in [
            ("", "is empty"),
            ("34", "has no unit"),
            ("34 stone", "has an unknown unit `stone`"),
            ("in", "has no number before its unit"),
            ("3..4 mm", "which is not a number"),
            ("1/0 in", "which is not a number"),
            ("34-1 in", "which is not a number"),
            ("2 ft 14 in", "something beside its feet"),
            ("2 ft 3 mm", "something beside its feet"),
            ("2 ft -1 in", "something beside its feet"),
            ("2 ft 1 ft", "something beside its feet"),
            ("2 fathoms", "has an unknown unit `fathoms`"),
            ("1 2 mm", "which is not a number"),
            ("1,200 mm", "may be 1200 or 1.2: write"),
            ("1,000 mm", "may be 1000 or 1: write"),
            ("86,500 cm", "may be 86500 or 86.5: write"),
            ("999999999999 m", "longer than 100 km"),
            ("99999999999999999999 mm", "which is not a number"),
        ] {
            let message = Length::parse(text).unwrap_err().to_string();
            assert!(message.contains(says), "{text}: {message}");
            assert!(message.contains("`34 in`"), "{message}");
        }
    }
}

//! The words of a length.

use super::{LIMIT_NM, Length, LengthError, NM_PER_INCH, NM_PER_MM};

/// Longest text of a length, in bytes: thrice what any needs.
const LONGEST: usize = 60;

/// A reading as a fraction, so that thirds of a millimetre and 1/64 in are exact.
struct Amount {
    n: i128,
    d: i128,
}

pub(super) fn parse(text: &str) -> Result<Length, LengthError> {
    let bare = text.trim();
    if bare.len() > LONGEST {
        return Err(error(text, "is too long for a length"));
    }
    if bare.is_empty() {
        return Err(error(text, "is empty"));
    }
    let (sign, rest) = match bare.strip_prefix(['-', '−']) {
        Some(rest) => (-1, rest.trim_start()),
        None => (1, bare.strip_prefix('+').unwrap_or(bare).trim_start()),
    };
    let unit_at = rest
        .char_indices()
        .find(|(_, c)| {
            c.is_alphabetic() || matches!(c, '"' | '″' | '\'' | '′' | '’' | '”' | '%')
        })
        .map_or(rest.len(), |(i, _)| i);
    let (number, unit) = (rest[..unit_at].trim(), rest[unit_at..].trim());
    let unit = unit.to_lowercase();
    let (unit, inches) = feet_and(&unit);
    // `6 ft 2 in`: inches beside feet are a length of their own.
    let beside = match inches {
        "" => Length::ZERO,
        inches => parse(inches).ok().filter(|l| is_beside_feet(inches, *l)).ok_or_else(
            || error(text, "has something beside its feet that is no inches"),
        )?,
    };
    let nm_per_unit = match unit {
        "mm" => NM_PER_MM,
        "cm" => 10 * NM_PER_MM,
        "m" => 1_000 * NM_PER_MM,
        FOOT => 12 * NM_PER_INCH,
        "in" | "inch" | "inches" | "\"" | "″" | "”" => NM_PER_INCH,
        "" => return Err(error(text, "has no unit")),
        other => return Err(error(text, &format!("has an unknown unit `{other}`"))),
    };
    if number.is_empty() {
        return Err(error(text, "has no number before its unit"));
    }
    // Nobody's ruler has micrometres; an inch and a metre may well have three decimals.
    if [NM_PER_MM, 10 * NM_PER_MM].contains(&nm_per_unit) && is_thousand(number) {
        let (thousand, decimal) = (number.replace(',', ""), number.replace(',', "."));
        let decimal = decimal.trim_end_matches('0').trim_end_matches('.');
        let what = format!("may be {thousand} or {decimal}: write the one that is meant");
        return Err(error(text, &what));
    }
    let amount = amount(number)
        .ok_or_else(|| error(text, &format!("has `{number}`, which is not a number")))?;
    let scaled = amount
        .n
        .checked_mul(i128::from(nm_per_unit))
        .map(|n| (n * 2 + amount.d) / (amount.d * 2))
        .map(|n| n + i128::from(beside.nm()))
        .filter(|n| *n <= LIMIT_NM)
        .ok_or_else(|| error(text, "is longer than 100 km"))?;
    let nm = i64::try_from(scaled).map_err(|_| error(text, "is longer than 100 km"))?;
    Ok(Length::from_nm(sign * nm))
}

const FOOT: &str = "ft";

/// The unit, one word for all of a foot, and what stands after that.
fn feet_and(unit: &str) -> (&str, &str) {
    let words = ["feet", "foot", "ft.", FOOT, "'", "′", "’"];
    let after = words.iter().find_map(|word| unit.strip_prefix(word));
    // `ftm` is no foot.
    match after.map(str::trim_start).filter(|a| !a.starts_with(char::is_alphabetic)) {
        Some(inches) => (FOOT, inches),
        None => (unit, ""),
    }
}

fn is_beside_feet(text: &str, length: Length) -> bool {
    let is_inches = text.ends_with(['"', '″', '”']) || text.contains("in");
    is_inches && Length::ZERO <= length && length.nm() < 12 * NM_PER_INCH
}

fn error(text: &str, what: &str) -> LengthError {
    let shown: String = text.chars().take(40).collect();
    let more = if shown.len() < text.len() { "…" } else { "" };
    LengthError(format!("`{shown}{more}` {what}"))
}

/// `34`, `86.5`, `86,5`, `3/4`, `1 1/4`, `1-1/4`, `34½`, `½`.
fn amount(text: &str) -> Option<Amount> {
    if let Some(vulgar) = text.chars().last().and_then(vulgar) {
        let whole = text[..text.len() - text.chars().last()?.len_utf8()].trim_end();
        let whole = whole.strip_suffix('-').unwrap_or(whole);
        let whole = if whole.is_empty() { 0 } else { digits(whole)? };
        return Some(Amount { n: whole * vulgar.1 + vulgar.0, d: vulgar.1 });
    }
    if let Some((before, over)) = text.split_once(['/', '⁄']) {
        let d = digits(over.trim())?;
        let (whole, n) = match before.trim().rsplit_once([' ', '\t', '-']) {
            Some((whole, n)) => (digits(whole.trim())?, digits(n)?),
            None => (0, digits(before.trim())?),
        };
        if d == 0 || d > 1_000_000 || n > 1_000_000_000 || whole > 1_000_000_000 {
            return None;
        }
        return Some(Amount { n: whole * d + n, d });
    }
    let (whole, decimals) = text.split_once(['.', ',']).unwrap_or((text, ""));
    let d = 10_i128.checked_pow(u32::try_from(decimals.len()).ok()?)?;
    let part = if decimals.is_empty() { 0 } else { digits(decimals)? };
    (d <= 1_000_000_000_000).then_some(())?;
    Some(Amount { n: digits(whole)? * d + part, d })
}

/// `1,200`: a thousand to one person and a decimal to another, a thousand times apart.
fn is_thousand(text: &str) -> bool {
    text.split_once(',').is_some_and(|(whole, part)| {
        part.len() == 3
            && matches!(whole.len(), 1..=3)
            && !whole.starts_with('0')
            && digits(whole).is_some()
            && digits(part).is_some()
    })
}

fn digits(text: &str) -> Option<i128> {
    let fine =
        !text.is_empty() && text.len() <= 15 && text.bytes().all(|b| b.is_ascii_digit());
    if fine { text.parse().ok() } else { None }
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
            assert_eq!(parse(text).map(Length::nm), Ok(nm), "{text}");
        }
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
            let message = parse(text).unwrap_err().to_string();
            assert!(message.contains(says), "{text}: {message}");
            assert!(message.contains("`34 in`"), "{message}");
        }
    }
}

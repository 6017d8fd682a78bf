//! The text of one entry of `stock.sizes`: a size, a span of sizes, or the name of a range.

use super::{MOST, SIZE, SIZES};
use crate::diagnostic::Finding;
use crate::geom::Length;
use crate::job::rule;
use crate::stock;

/// Largest size, 1 km. A larger one is a typing mistake.
const LARGEST: Length = Length::from_mm(1_000_000);

pub(super) fn unquoted(found: String) -> Finding {
    Finding::error(rule::BAD_VALUE, "each size stands in quotes, with its unit")
        .expected(found, SIZES)
        .remedy("write each size as a text: [\"32 in\", \"34 in\"]")
}

/// Label and length of each size that a text gives.
pub(super) fn sizes(text: &str) -> Result<Vec<(String, Length)>, Box<Finding>> {
    if text.contains(" to ") {
        return stepped(text);
    }
    if text.starts_with('[') {
        return Err(Box::new(unquoted(format!("`{text}`"))));
    }
    let starts = |c: char| c.is_ascii_digit() || "-−+.,½¼¾⅛⅜⅝⅞⅓⅔".contains(c);
    if !text.starts_with(starts) {
        let names = stock::REGISTER.iter().map(|r| r.name);
        let unknown =
            Finding::unknown_name(rule::UNKNOWN_RANGE, "range of sizes", text, names);
        return Err(Box::new(unknown.expected(format!("`{text}`"), SIZE)));
    }
    let length = length(text)?;
    Ok(vec![(label(length, unit(text)), length)])
}

/// `28 to 46 in by 2 in`: the unit of the end serves where another has none.
fn stepped(text: &str) -> Result<Vec<(String, Length)>, Box<Finding>> {
    let wrong = |what: &str, remedy: &str| {
        let finding = Finding::error(rule::BAD_VALUE, what)
            .expected(format!("`{text}`"), "a span such as \"28 to 46 in by 2 in\"");
        Box::new(finding.remedy(remedy))
    };
    let parts = text.split_once(" to ").and_then(|(first, rest)| {
        let (last, step) = rest.split_once(" by ")?;
        Some((first, last, step))
    });
    let Some((first, last, step)) = parts else {
        return Err(wrong(
            "a span of sizes has a step",
            "write first, last and step: \"28 to 46 in by 2 in\"",
        ));
    };
    let shared = unit(last);
    let with_unit = |text: &str| {
        if unit(text).is_empty() { format!("{text} {shared}") } else { text.to_owned() }
    };
    let (first, last) = (length(&with_unit(first))?, length(last)?);
    let step = length(&with_unit(step))?;
    if last <= first {
        return Err(wrong("a span of sizes ascends", "put the smallest size first"));
    }
    let (whole, left) =
        ((last - first).nm() / step.nm(), (last - first).nm() % step.nm());
    if left != 0 {
        let end = |n: i64| label(first + step * n, shared);
        return Err(wrong(
            "this span is no whole number of steps",
            &format!(
                "end it at {} or {}, or take another step",
                end(whole),
                end(whole + 1)
            ),
        ));
    }
    // Beyond `MOST` only how many there are matters.
    let sizes = (0..=whole).take(10 * MOST).map(|n| first + step * n);
    Ok(sizes.map(|length| (label(length, shared), length)).collect())
}

/// A size's length: more than nothing.
fn length(text: &str) -> Result<Length, Box<Finding>> {
    let bad = |message: &str, found: String, remedy: &str| {
        let finding = Finding::error(rule::BAD_LENGTH, message);
        Box::new(finding.expected(found, SIZE).remedy(remedy))
    };
    let remedy = if text.contains(", ") {
        Some("put each size in quotes of its own: [\"32 in\", \"34 in\"]")
    } else if text.chars().skip(1).any(|c| "-−–".contains(c)) {
        Some("write a span with its step: \"28 to 46 in by 2 in\"")
    } else {
        None
    };
    match Length::parse(text) {
        Ok(length) if length <= Length::ZERO || length > LARGEST => {
            let message = "no strap has such a size";
            Err(bad(message, length.both(), "look at the number and its unit"))
        }
        Ok(length) => Ok(length),
        Err(error) => {
            let remedy = remedy.unwrap_or(error.remedy());
            Err(bad(error.found(), format!("`{text}`"), remedy))
        }
    }
}

/// The letters or signs that a length ends in.
pub(super) fn unit(text: &str) -> &str {
    let is_unit =
        |c: char| c.is_alphabetic() || matches!(c, '"' | '″' | '”' | '\'' | '′');
    text.find(is_unit).map_or("", |at| text[at..].trim())
}

/// A length as it is called in `unit`: an inch in fractions, the metre's parts in decimals.
fn label(length: Length, unit: &str) -> String {
    let tape = length.tape();
    match unit.to_lowercase().as_str() {
        "mm" => length.to_string(),
        // The digits of a tenth, a thousandth, in mm are those of the whole in cm, m.
        "cm" => Length::from_nm(length.nm() / 10).to_string().replace("mm", "cm"),
        "m" => Length::from_nm(length.nm() / 1_000).to_string().replace("mm", "m"),
        _ if tape.rest == Length::ZERO => tape.to_string(),
        _ => length.to_string(),
    }
}

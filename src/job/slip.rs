//! What is wrong with a sum of lengths that cannot be read, in its own words.

use super::sum::{MOST_PARTS, is_key};
use crate::geom::{Length, Ratio};

/// A mistake of a sum.
#[derive(Debug)]
pub(super) struct Slip {
    pub(super) message: String,
    pub(super) required: &'static str,
    pub(super) remedy: String,
}

impl Slip {
    fn new(
        message: impl Into<String>,
        required: &'static str,
        remedy: impl Into<String>,
    ) -> Self {
        Self { message: message.into(), required, remedy: remedy.into() }
    }
}

const SIGNS: &str = "`+`, `-`, `x` or `/` with a space on either side";
const A_TERM: &str = "a length or the dotted name of a key on either side of a sign";

/// The mistake in a term of the sum `whole`; `None` where the term itself looks like a
/// length, of an unknown unit say.
pub(super) fn find(term: &str, whole: &str) -> Option<Slip> {
    let has_term_missing = term.is_empty() && !whole.trim().is_empty();
    brackets(whole)
        .or_else(|| has_term_missing.then(lone_sign))
        .or_else(|| term.char_indices().find_map(|(at, c)| wrong_sign(term, at, c)))
        .or_else(|| no_sign(term))
}

fn lone_sign() -> Slip {
    Slip::new(
        "a sign has nothing beside it",
        A_TERM,
        "add what is missing, or take it out",
    )
}

fn brackets(whole: &str) -> Option<Slip> {
    let count = |bracket| whole.matches(bracket).count();
    let message = match (count('('), count(')')) {
        (0, 0) => return None,
        (opened, closed) if opened == closed => "a sum takes no brackets",
        _ => "an opening or a closing bracket is missing, and a sum takes none",
    };
    let remedy = "give what stands in the brackets a key of its own, and name that key: \
                  part = \"strap.width + 1 mm\", then \"2 x table.part\"";
    Some(Slip::new(message, "terms with + or - between them", remedy))
}

/// What is wrong with the sign `c` at a byte of a term; `None` where it is none, or where a
/// name or a number has it.
fn wrong_sign(term: &str, at: usize, c: char) -> Option<Slip> {
    let (before, after) = (&term[..at], &term[at + c.len_utf8()..]);
    let (left, right) = (before.trim(), after.trim());
    let sign = match c {
        '+' => "+",
        '-' | '−' | '–' | '—' => "-",
        'x' | '×' | '*' | '·' => "x",
        '/' | '÷' => "/",
        _ => return None,
    };
    if right.is_empty() && is_operand(left) {
        return Some(lone_sign());
    }
    if sign == "/" {
        return wrong_division(left, right);
    }
    let remedy = format!("write \"{left} {sign} {right}\"");
    let is_sound = sign.starts_with(c);
    let written = if is_sound {
        let message = format!("`{c}` has no space on either side");
        Slip::new(message, SIGNS, remedy)
    } else {
        Slip::new(format!("`{c}` is no sign of a sum"), SIGNS, remedy)
    };
    if sign != "x" {
        let is_term = is_operand(right) || right.starts_with(|c: char| c.is_numeric());
        return (is_operand(left) && is_term).then_some(written);
    }
    match (Ratio::parse(left), Ratio::parse(right)) {
        (Some(_), _) if is_key(right) => Some(written),
        (Some(factor), _) => {
            let product = factor.times(Length::parse(right).ok()?);
            let message = format!("`{right}` has a factor, and only a key takes one");
            Some(Slip::new(message, SIGNS, format!("write the product: \"{product}\"")))
        }
        (None, Some(_)) if is_key(left) => {
            let message = "a factor stands after its key";
            let required = "the factor before the key";
            Some(Slip::new(message, required, format!("write \"{right} x {left}\"")))
        }
        _ if is_operand(left) && is_operand(right) => {
            let message = "two lengths are multiplied by each other";
            Some(Slip::new(
                message,
                "a number before x",
                "give one of the two as a number",
            ))
        }
        _ => None,
    }
}

/// What is wrong with `left / right`; `None` where it may be the fraction of a length.
fn wrong_division(left: &str, right: &str) -> Option<Slip> {
    let divisor = right.split(' ').next().unwrap_or_default();
    let is_zero = Ratio::parse(divisor) == Some(Ratio::from_millionths(0));
    if is_zero && (is_operand(left) || left.ends_with(|c: char| c.is_ascii_digit())) {
        let required = "a divisor above zero";
        let message = "nothing can be divided by 0";
        return Some(Slip::new(message, required, "look at the number after the /"));
    }
    if !is_operand(left) {
        return None;
    }
    if is_operand(right) {
        let message = "a length is divided by another";
        return Some(Slip::new(message, "a number after /", "give the number of parts"));
    }
    if parts(right).is_some() {
        let remedy = format!("write \"{left} / {right}\"");
        return Some(Slip::new("`/` has no space on either side", SIGNS, remedy));
    }
    Ratio::parse(right)?;
    let message = format!("`{right}` is no number of parts");
    let required = "a whole number from 1 to 1000";
    Some(Slip::new(message, required, "multiply instead: \"0.4 x table.key\""))
}

/// Two terms beside each other.
fn no_sign(term: &str) -> Option<Slip> {
    let mut gaps =
        term.match_indices(' ').map(|(at, _)| (&term[..at], term[at..].trim()));
    gaps.find_map(|(left, right)| {
        let is_factor = |text: &str| text == "pi" || Ratio::parse(text).is_some();
        let remedy = if is_operand(left) && is_operand(right) {
            format!("\"{left} + {right}\" or \"{left} - {right}\"")
        } else if is_key(left) && is_factor(right) {
            format!("\"{right} x {left}\" or \"{left} / {right}\"")
        } else if is_factor(left) && is_key(right) {
            format!("\"{left} x {right}\"")
        } else {
            return fraction_last(left, right);
        };
        let message = format!("a sign is missing between `{left}` and `{right}`");
        Some(Slip::new(message, SIGNS, format!("write {remedy}")))
    })
}

/// A fraction that stands past its unit: `34 in 1/2`.
fn fraction_last(left: &str, right: &str) -> Option<Slip> {
    Length::parse(left).ok()?;
    let (number, unit) = left.trim().rsplit_once(' ')?;
    let whole = format!("{number} {right} {unit}");
    Length::parse(&whole).ok()?;
    let message = format!("`{right}` stands past the unit");
    Some(Slip::new(message, "a fraction before its unit", format!("write \"{whole}\"")))
}

/// A number of parts that a length can be divided into.
pub(super) fn parts(text: &str) -> Option<i64> {
    text.trim().parse().ok().filter(|n| (1..=MOST_PARTS).contains(n))
}

/// Whether a text is a term: a length or a key, with a factor or divided perhaps.
fn is_operand(text: &str) -> bool {
    let is_one = |text: &str| Length::parse(text).is_ok() || is_key(text);
    let divided = text.trim().rsplit_once(" / ").filter(|(_, n)| parts(n).is_some());
    let text = divided.map_or(text, |(all, _)| all).trim();
    let has_factor = text.split_once(" x ").is_some_and(|(first, term)| {
        let term = term.trim();
        (first == "pi" && is_one(term)) || (is_key(term) && Ratio::parse(first).is_some())
    });
    has_factor || is_one(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_slip_has_its_own_words() {
        for (sum, message, remedy) in [
            (
                "buckle.tongue 1 mm",
                "a sign is missing between `buckle.tongue` and `1 mm`",
                "\"buckle.tongue + 1 mm\" or \"buckle.tongue - 1 mm\"",
            ),
            (
                "3 in 1 mm",
                "a sign is missing between `3 in` and `1 mm`",
                "\"3 in + 1 mm\"",
            ),
            (
                "strap.width 2",
                "a sign is missing between `strap.width` and `2`",
                "\"2 x strap.width\" or \"strap.width / 2\"",
            ),
            (
                "2 strap.width",
                "a sign is missing between `2` and `strap.width`",
                "\"2 x strap.width\"",
            ),
            ("34 in 1/2", "`1/2` stands past the unit", "\"34 1/2 in\""),
            ("buckle.tongue+1 mm", "`+` has no space", "\"buckle.tongue + 1 mm\""),
            ("buckle.tongue +1 mm", "`+` has no space", "\"buckle.tongue + 1 mm\""),
            ("turn-back.length-1 mm", "`-` has no space", "\"turn-back.length - 1 mm\""),
            ("3 in -1 mm", "`-` has no space", "\"3 in - 1 mm\""),
            ("3 in- 1 mm", "`-` has no space", "\"3 in - 1 mm\""),
            ("3 in – 1 mm", "`–` is no sign of a sum", "\"3 in - 1 mm\""),
            ("2 * strap.width", "`*` is no sign of a sum", "\"2 x strap.width\""),
            ("2xstrap.width", "`x` has no space", "\"2 x strap.width\""),
            ("strap.width x 2", "a factor stands after its key", "\"2 x strap.width\""),
            ("2 x 3 in", "`3 in` has a factor", "\"152.4 mm\""),
            ("strap.width x buckle.bar", "two lengths are multiplied", "as a number"),
            ("strap.width / buckle.bar", "a length is divided by another", "parts"),
            ("strap.width/2", "`/` has no space", "\"strap.width / 2\""),
            ("strap.width / 0", "nothing can be divided by 0", "after the /"),
            ("3 in/0", "nothing can be divided by 0", "after the /"),
            ("1/0 in", "nothing can be divided by 0", "after the /"),
            ("strap.width / 2.5", "`2.5` is no number of parts", "multiply instead"),
            ("strap.width / 2000", "`2000` is no number of parts", "multiply instead"),
            ("3 in +", "a sign has nothing beside it", "add what is missing"),
            ("(strap.width", "an opening or a closing bracket", "a key of its own"),
            ("2 x (strap.width)", "a sum takes no brackets", "a key of its own"),
        ] {
            let slip = find(sum, sum).unwrap_or_else(|| unreachable!("no slip in {sum}"));
            assert!(slip.message.starts_with(message), "{sum}: {slip:?}");
            assert!(slip.remedy.contains(remedy), "{sum}: {slip:?}");
        }
        assert!(find("", "3 in + ").is_some());
    }

    /// These have a wrong unit, number or name, and no wrong sign.
    #[test]
    fn a_length_of_an_unknown_unit_is_no_slip_of_a_sum() {
        for text in [
            "34 zoll", "34", "34 1/2", "four mm", "3..4 mm", "34-1 in", "1,200 mm",
            "9 oz", "",
        ] {
            assert!(find(text, text).is_none(), "{text}: {:?}", find(text, text));
        }
    }
}

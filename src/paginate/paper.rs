//! The register of papers.

use crate::geom::Length;
use serde::{Deserialize, Serialize};
use std::fmt;

/// The margin on every side: wider than what common printers leave blank.
pub const MARGIN: Length = Length::from_mm(10);
/// The longest page that a PDF reader shows at full scale: 14 400 units of 1/72 in
/// (ISO 32000-1, annex C), which is 5 080 mm exactly.
pub(super) const LONGEST: Length = Length::from_inches(200);
/// The narrowest paper with room for a header and scale bars.
const NARROWEST: Length = Length::from_mm(100);
/// Width of a common plotter roll, 24 in.
const ROLL: Length = Length::from_inches(24);

const fn mm(n: i64) -> Length {
    Length::from_mm(n)
}

const fn half_inches(n: i64) -> Length {
    Length::from_inch_64ths(n * 32)
}

/// The paper of a print.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(into = "String", try_from = "String")]
pub struct Paper {
    name: String,
    form: PaperForm,
}

impl From<Paper> for String {
    fn from(paper: Paper) -> Self {
        paper.name
    }
}

impl TryFrom<String> for Paper {
    type Error = String;

    fn try_from(name: String) -> Result<Self, String> {
        Self::parse(&name)
    }
}

impl fmt::Display for Paper {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.name)
    }
}

impl Default for Paper {
    /// A4.
    fn default() -> Self {
        Self::standard(Self::REGISTER[0])
    }
}

/// Whether a paper comes in sheets or from a roll.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PaperForm {
    /// Sheets of one size, in either orientation.
    Sheet {
        /// The shorter side.
        short: Length,
        /// The longer side.
        long: Length,
    },
    /// A roll, cut as long as the strap needs.
    Roll {
        /// Its width.
        width: Length,
    },
}

impl PaperForm {
    /// Whether the width of a page of `width` and `height` runs along the paper's long
    /// edge; on a roll it runs along the roll, however short the page was cut.
    pub fn has_long_width(self, width: Length, height: Length) -> bool {
        matches!(self, Self::Roll { .. }) || width >= height
    }

    /// Whether it is a square sheet. Then what is said of the long edge is about the width of
    /// the page.
    pub fn is_square(self) -> bool {
        matches!(self, Self::Sheet { short, long } if short == long)
    }

    /// The names of the long and the short edge.
    pub fn edges(self) -> [&'static str; 2] {
        match self {
            Self::Sheet { .. } if self.is_square() => ["width", "height"],
            Self::Sheet { .. } => ["long edge", "short edge"],
            Self::Roll { .. } => ["length", "width"],
        }
    }
}

impl Paper {
    /// The sheets with a name, shorter side first: A4 and A3 of ISO 216, Letter and Tabloid of
    /// ASME Y14.1, Legal (common practice, no source).
    pub const REGISTER: &[(&str, [Length; 2])] = &[
        ("A4", [mm(210), mm(297)]),
        ("A3", [mm(297), mm(420)]),
        ("Letter", [half_inches(17), half_inches(22)]),
        ("Tabloid", [half_inches(22), half_inches(34)]),
        ("Legal", [half_inches(17), half_inches(28)]),
    ];

    fn standard((name, [short, long]): (&str, [Length; 2])) -> Self {
        Self { name: name.to_owned(), form: PaperForm::Sheet { short, long } }
    }

    /// Every name that [`Paper::parse`] knows, in lower case.
    pub fn names() -> Vec<String> {
        let named = Self::REGISTER.iter().map(|(name, _)| name.to_lowercase());
        named.chain(["roll".to_owned()]).collect()
    }

    /// The sheet of about this width and height in mm, in either orientation: one with a
    /// name where there is one; `None` where no paper is of that size.
    pub fn of_size(width: f64, height: f64) -> Option<Self> {
        let near = |side: Length, mm: f64| {
            let um = side.nm() / 1_000;
            i32::try_from(um).is_ok_and(|um| (f64::from(um) / 1e3 - mm).abs() < 1.0)
        };
        let (short, long) = (width.min(height), width.max(height));
        let is_of_size =
            |(_, [a, b]): &&(&str, [Length; 2])| near(*a, short) && near(*b, long);
        match Self::REGISTER.iter().find(is_of_size) {
            Some(sheet) => Some(Self::standard(*sheet)),
            None => Self::parse(&format!("{short:.2} x {long:.2} mm")).ok(),
        }
    }

    /// Its name, as [`Paper::parse`] reads it.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Sheets or roll, with the size.
    pub fn form(&self) -> PaperForm {
        self.form
    }

    /// A roll of `width`, a whole number of millimetres.
    pub(super) fn roll(width: Length) -> Self {
        Self { name: format!("roll-{}mm", width.mm(0)), form: PaperForm::Roll { width } }
    }

    /// Reads a name (`a4`, `letter`, `roll`), a size (`320x450mm`, `12 x 18 in`) or a
    /// roll of some width (`roll-297mm`), in any case.
    ///
    /// # Errors
    /// A message that tells what was found, which papers there are, and the nearest name.
    pub fn parse(text: &str) -> Result<Self, String> {
        let low = text.trim().to_lowercase();
        let is_named = |(name, _): &&(&str, _)| name.to_lowercase() == low;
        if let Some(sheet) = Self::REGISTER.iter().find(is_named) {
            return Ok(Self::standard(*sheet));
        }
        if low == "roll" {
            return Ok(Self { name: low, form: PaperForm::Roll { width: ROLL } });
        }
        if let Some(width) = low.strip_prefix("roll-") {
            let width =
                Length::parse(width).map_err(|e| format!("width of roll: {e}"))?;
            check_side(width, text)?;
            return Ok(Self { name: low, form: PaperForm::Roll { width } });
        }
        // A negative size gets this far too, for a message about its sign.
        if low.starts_with(|c: char| c.is_ascii_digit() || c == '-')
            && let Some((a, b)) = low.split_once(['x', '×'])
        {
            return parse_size(text, a.trim(), b.trim());
        }
        Err(unknown_name(text, &low))
    }
}

/// A size of the user's own. The unit of the second side is that of both, unless the first
/// has its own.
fn parse_size(text: &str, a: &str, b: &str) -> Result<Paper, String> {
    let unit_at = b.find(|c: char| c.is_alphabetic() || c == '"').unwrap_or(b.len());
    let (b_number, unit) = (b[..unit_at].trim(), b[unit_at..].trim());
    let has_unit = a.contains(|c: char| c.is_alphabetic() || c == '"');
    let a = if has_unit { a.to_owned() } else { format!("{a} {unit}") };
    let read =
        |side: &str| Length::parse(side).map_err(|e| format!("size of paper: {e}"));
    let (w, h) = (read(&a)?, read(b)?);
    check_side(w, text)?;
    check_side(h, text)?;
    let shown = a.strip_suffix(unit).filter(|_| !has_unit).unwrap_or(&a).trim();
    Ok(Paper {
        name: format!("{shown} × {b_number} {unit}"),
        form: PaperForm::Sheet { short: w.min(h), long: w.max(h) },
    })
}

fn check_side(side: Length, text: &str) -> Result<(), String> {
    if side < NARROWEST || side > LONGEST {
        return Err(format!(
            "paper `{text}` has a side of {side}; a side may be from {NARROWEST} to \
             {LONGEST}"
        ));
    }
    Ok(())
}

fn unknown_name(text: &str, low: &str) -> String {
    let names = Paper::names();
    let near = names
        .iter()
        .map(|n| (strsim::damerau_levenshtein(n, low), n))
        .min_by_key(|(far, _)| *far)
        .filter(|(far, _)| *far <= 3)
        .map_or(".".to_owned(), |(_, n)| format!("; did you mean `{n}`?"));
    let shown: String = text.chars().take(40).collect();
    format!(
        "unknown paper `{shown}`{near} There are {}, a size such as `320x450mm` or \
         `12 x 18 in`, and a roll of any width such as `roll-297mm`.",
        names.join(", ")
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet(text: &str) -> (i64, i64) {
        match Paper::parse(text).unwrap().form() {
            PaperForm::Sheet { short, long } => (short.nm(), long.nm()),
            PaperForm::Roll { width } => (width.nm(), 0),
        }
    }

    #[test]
    fn papers_have_their_true_size() {
        assert_eq!(sheet("A4"), (210_000_000, 297_000_000));
        assert_eq!(sheet("a3"), (297_000_000, 420_000_000));
        assert_eq!(sheet("letter"), (215_900_000, 279_400_000));
        assert_eq!(sheet("Tabloid"), (279_400_000, 431_800_000));
        assert_eq!(sheet("legal"), (215_900_000, 355_600_000));
        assert_eq!(sheet("320x450mm"), (320_000_000, 450_000_000));
        assert_eq!(sheet("18 x 12 in"), (304_800_000, 457_200_000));
        assert_eq!(sheet("8.5in x 11in"), sheet("letter"));
        assert_eq!(sheet("roll"), (609_600_000, 0));
        assert_eq!(sheet("ROLL-297mm"), (297_000_000, 0));
    }

    #[test]
    fn every_name_reads_back() {
        let own = ["12 x 18 in", "320x450mm", "roll-297mm", "8.5in x 11in"];
        for name in Paper::names().iter().map(String::as_str).chain(own) {
            let paper = Paper::parse(name).unwrap();
            let again = Paper::parse(paper.name()).unwrap();
            assert_eq!(again.form(), paper.form(), "{name} as {}", paper.name());
        }
    }

    #[test]
    fn a_wrong_name_gets_the_nearest_right_one() {
        let message = Paper::parse("leter").unwrap_err();
        assert!(message.contains("did you mean `letter`?"), "{message}");
        assert!(message.contains("tabloid"), "{message}");
        let negative = Paper::parse("-300x400mm").unwrap_err();
        assert!(negative.contains("a side of -300 mm"), "{negative}");
        assert!(Paper::parse("papyrus roll").unwrap_err().contains("`. There are"));
        assert!(Paper::parse("50x50mm").unwrap_err().contains("100 mm to 5080 mm"));
        assert!(Paper::parse("6x8 m").unwrap_err().contains("100 mm to 5080 mm"));
        assert!(Paper::parse("200x300").unwrap_err().contains("has no unit"));
        assert!(Paper::parse("").is_err());
    }
}

//! The printer file: a few lines of TOML.

use super::calibrate::check_factors;
use super::{Printer, Skew};
use crate::diagnostic::{Finding, Severity, Sources, Span, cap_findings, forbids_print};
use crate::geom::{Length, Ratio};
use crate::input::{self, Format, Reader, Rules, Section};
use crate::lettering;
use crate::paginate::{Correction, Factor, MARGIN, Paper};
use crate::printer::rule;

/// Longest name of a printer, in letters: every sheet has it in its header.
const LONGEST_NAME: usize = 60;
/// The smallest and the largest margin that is accepted.
const MARGINS: [Length; 2] = [Length::from_mm(3), Length::from_mm(40)];

/// How a printer file differs from other TOML files.
static FILE: Format = Format {
    name: "printer file",
    rules: Rules {
        syntax: rule::PRINTER_SYNTAX,
        size: rule::PRINTER_SYNTAX,
        unknown_key: rule::PRINTER_KEY,
        missing_key: rule::PRINTER_MISSING,
        bad_value: rule::PRINTER_VALUE,
        bad_length: rule::PRINTER_VALUE,
    },
    known_key: Some("a key of a printer file"),
    syntax_remedy: "calibrate the printer again, or correct the line",
    size_remedy: "give the file that `strapwright calibrate -o FILE` wrote",
    add_to: ", or calibrate the printer: strapwright calibrate -o FILE",
};

/// The text of a printer file, as [`read`] reads it.
pub fn write(printer: &Printer) -> String {
    let Printer { paper, correction, skew } = printer;
    let Correction { printer: name, long, short, margin, fitted } = correction;
    let quoted = |text: &str| toml::Value::from(text).to_string();
    let square = Paper::parse(paper).is_ok_and(|p| p.form().is_square());
    let edges = if square {
        "by its width (`long`)\n# and its height (`short`), as the page is read."
    } else {
        "along the long and the short edge of the sheet."
    };
    let skew = skew.map(|skew| {
        format!(
            "\n# how far the axes are from square; this is not corrected\n[skew]\n\
             degrees = {:.3}\nproven = {:.3}\n",
            skew.degrees, skew.within
        )
    });
    format!(
        "# A printer, as `strapwright calibrate` measured it. Every drawing for it is\n\
         # multiplied by these factors, {edges}\n\
         # `proven` is the uncertainty of a factor (k = 2): 0.001 is 1 mm on 1 m.\n\
         name = {}\npaper = {}\n# what the printer leaves blank along the edges\n\
         margin = {}\n# whether the print must be fitted to the page, as it was then\n\
         fitted = {fitted}\n\n[long]\nby = {}\nproven = {}\n\n[short]\nby = {}\nproven = {}\n{}",
        quoted(name),
        quoted(paper),
        quoted(&margin.to_string()),
        long.by,
        long.proven,
        short.by,
        short.proven,
        skew.unwrap_or_default(),
    )
}

/// A printer file as far as it could be read.
#[derive(Clone, Debug)]
pub struct ParsedPrinter {
    /// The printer; `None` when a finding forbids it.
    pub printer: Option<Printer>,
    /// What was found.
    pub findings: Vec<Finding>,
}

/// Reads the text of a printer file, called `name`, and keeps it in `sources`. Collects
/// all mistakes.
pub fn read(sources: &mut Sources, name: &str, text: &str) -> ParsedPrinter {
    let source = sources.add(name, text);
    let mut findings = Vec::new();
    let root = input::parse(&FILE, sources, source, &mut findings);
    let printer = if findings.is_empty() {
        let reader = Reader::new(&root, &FILE, ());
        let start = Some(Span { source, range: 0..0 });
        let printer = printer(&Section { span: start, ..reader.top() });
        findings = reader.finish();
        printer.filter(|_| !forbids_print(&findings))
    } else {
        None
    };
    cap_findings(rule::PRINTER_SYNTAX, &mut findings);
    ParsedPrinter { printer, findings }
}

fn printer(file: &Section<'_, '_>) -> Option<Printer> {
    let name = "a name of up to 60 Latin, Greek or Cyrillic letters, in quotes";
    let name = file
        .value("name", name, |v| v.text().filter(|t| is_name(t)).map(ToOwned::to_owned));
    let paper = "a paper such as \"A4\", \"Letter\" or \"320x450mm\"";
    let paper = file.value("paper", paper, |v| Paper::parse(v.text()?).ok());
    let [least, most] = MARGINS;
    let required = format!("a length from \"{least}\" to \"{most}\"");
    let margin = file.value_if("margin", &required, |v| margin(v.text()?).ok());
    let fitted = file.truth_or("fitted", false);
    let [long, short] = ["long", "short"].map(|edge| factor(file, edge));
    let skew = file.section("skew").map(|skew| {
        let angle = |key| {
            let required = "an angle in degrees such as 0.3";
            skew.value(key, required, |v| {
                let degrees = v.digits()?.parse().ok()?;
                (0.0..=45.0).contains(&degrees).then_some(degrees)
            })
        };
        let (degrees, within) = (angle("degrees"), angle("proven"));
        Some(Skew { degrees: degrees?.value, within: within?.value })
    });
    let ((long, at_long), (short, at_short)) = (long?, short?);
    // An error here was for the person to confirm who calibrated the printer.
    let findings = &mut file.reader.findings.borrow_mut();
    let factors = [long.by.as_f64(), short.by.as_f64()];
    check_factors(factors, [at_long, at_short], Severity::Warning, findings);
    Some(Printer {
        paper: paper?.value.name().to_owned(),
        correction: Correction {
            printer: name?.value,
            long,
            short,
            margin: margin.map_or(MARGIN, |said| said.value),
            fitted,
        },
        skew: skew.flatten(),
    })
}

/// The factor of one edge, and where it stands.
fn factor(file: &Section<'_, '_>, edge: &str) -> Option<(Factor, Option<Span>)> {
    file.lacks(edge, "a table with `by` and `proven`");
    let table = file.section(edge)?;
    let ratio = |key, required| {
        table.value(key, required, |v| {
            Ratio::parse(v.digits()?).filter(|r| *r <= Ratio::TWO)
        })
    };
    let by = ratio("by", "a factor such as 1.0125, with six decimals at most");
    let proven = ratio("proven", "a part such as 0.001, with six decimals at most");
    let (by, proven) = (by?, proven?);
    Some((Factor { by: by.value, proven: proven.value }, by.span))
}

/// Reads the margin that a printer leaves blank along the edges.
///
/// # Errors
/// Says what was found and what is accepted.
pub fn margin(text: &str) -> Result<Length, String> {
    let [least, most] = MARGINS;
    let margin = Length::parse(text).map_err(|e| e.to_string())?;
    if margin < least || margin > most {
        return Err(format!("`{text}` is not a length from {least} to {most}"));
    }
    Ok(margin)
}

/// Whether `name` can be printed on a sheet.
pub fn is_name(name: &str) -> bool {
    let letters = name.chars().count();
    !name.trim().is_empty()
        && letters <= LONGEST_NAME
        && lettering::missing(name).is_empty()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn printer() -> Printer {
        let factor = |by, proven| Factor {
            by: Ratio::from_millionths(by),
            proven: Ratio::from_millionths(proven),
        };
        Printer {
            paper: "320 × 450 mm".to_owned(),
            correction: Correction {
                printer: "The \"old\" one \\ upstairs".to_owned(),
                long: factor(1_012_500, 1_000),
                short: factor(998_000, 5_710),
                margin: Length::from_um(4_200),
                fitted: true,
            },
            skew: Some(Skew { degrees: 0.125, within: 0.25 }),
        }
    }

    #[test]
    fn a_file_reads_as_it_was_written() {
        let mut plain = printer();
        plain.skew = None;
        plain.correction.fitted = false;
        for printer in [printer(), plain] {
            let text = write(&printer);
            let parsed = read(&mut Sources::default(), "p.toml", &text);
            assert_eq!(parsed.findings, [], "{text}");
            assert_eq!(parsed.printer, Some(printer), "{text}");
        }
    }
}

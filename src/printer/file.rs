//! The file that keeps a printer: a few lines of TOML.

use super::axis::ratio;
use super::calibrate::plausible;
use super::{Printer, Skew};
use crate::diagnostic::{
    Finding, Severity, Sources, Span, cap_findings, forbids_print, too_large,
};
use crate::geom::{Length, Ratio};
use crate::job::nearest;
use crate::lettering;
use crate::paginate::{Correction, Factor, MARGIN, Paper};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Keys of the file.
const TOP: [&str; 7] = ["name", "paper", "margin", "fitted", "long", "short", "skew"];
const EDGE: [&str; 2] = ["by", "proven"];
const SKEW: [&str; 2] = ["degrees", "proven"];
/// Mistakes of TOML after which the rest would only follow from them.
const MOST_ERRORS: usize = 20;
/// Longest name of a printer, in letters: it stands at the head of every sheet.
const LONGEST_NAME: usize = 60;
/// Widest margin that is believed, and least.
const MARGINS: [Length; 2] = [Length::from_mm(3), Length::from_mm(40)];

/// The text of a printer's file, as [`read`] reads it.
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
            "\n# how far the axes are from square; kept, not corrected\n[skew]\n\
             degrees = {:.3}\nproven = {:.3}\n",
            skew.degrees, skew.within
        )
    });
    format!(
        "# A printer, as `strapwright calibrate` measured it. Every drawing for it is\n\
         # multiplied by these factors, {edges}\n\
         # `proven` is how sure a factor is (k = 2): 0.001 leaves 1 mm open on 1 m.\n\
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

/// A printer's file as far as it could be read.
#[derive(Clone, Debug)]
pub struct Known {
    /// The printer; `None` when a finding forbids it.
    pub printer: Option<Printer>,
    /// What was found.
    pub findings: Vec<Finding>,
}

/// Reads the text of a printer's file, called `name`, which is kept in `sources`. Every
/// mistake in it is found, with its place.
pub fn read(sources: &mut Sources, name: &str, text: &str) -> Known {
    let source = sources.add(name, text);
    if let Some(found) = too_large(text) {
        let large =
            Finding::new("printer-syntax", Severity::Error, "this is no printer file")
                .at(Some(Span { source, range: 0..0 }))
                .expected(found, "a few lines of key = value")
                .remedy("give the file that `strapwright calibrate -o FILE` wrote");
        return Known { printer: None, findings: vec![large] };
    }
    let (root, errors) = DeTable::parse_recoverable(text);
    let mut findings: Vec<Finding> = errors
        .iter()
        .take(MOST_ERRORS)
        .map(|error| {
            let range = error.span().unwrap_or(0..0);
            let span = Some(Span { source, range });
            Finding::new("printer-syntax", Severity::Error, "this is not TOML")
                .at(span)
                .expected(error.message().replace('\n', ", "), "key = value, one a line")
                .remedy("calibrate the printer anew, or mend the line")
        })
        .collect();
    let printer = if findings.is_empty() {
        let mut reader = Reader { source, findings: &mut findings };
        reader.printer(root.get_ref())
    } else {
        None
    };
    let printer = printer.filter(|_| !forbids_print(&findings));
    cap_findings("printer-syntax", &mut findings);
    Known { printer, findings }
}

struct Reader<'a> {
    source: usize,
    findings: &'a mut Vec<Finding>,
}

type Value<'i> = Spanned<DeValue<'i>>;

impl Reader<'_> {
    fn printer(&mut self, root: &DeTable<'_>) -> Option<Printer> {
        self.known(root, "", &TOP);
        let name = self.need(root, "", "name");
        let name = name.and_then(|v| self.name(v));
        let paper = self.need(root, "", "paper");
        let paper = paper.and_then(|v| self.paper(v));
        let margin = match root.get("margin") {
            Some(value) => self.margin(value),
            None => Some(MARGIN),
        };
        let fitted = match root.get("fitted") {
            Some(value) => value.get_ref().as_bool().or_else(|| {
                self.wrong(value, "true or false");
                None
            }),
            None => Some(false),
        };
        let long = self.edge(root, "long");
        let short = self.edge(root, "short");
        let skew = match root.get("skew") {
            Some(value) => Some(self.skew(value)?),
            None => None,
        };
        let ((long, at_long), (short, at_short)) = (long?, short?);
        let factors = [ratio(long.by), ratio(short.by)];
        let places = [Some(at_long), Some(at_short)];
        // Who calibrated it was asked.
        plausible(factors, places, Severity::Warning, self.findings);
        Some(Printer {
            paper: paper?,
            correction: Correction {
                printer: name?,
                long,
                short,
                margin: margin?,
                fitted: fitted?,
            },
            skew,
        })
    }

    fn place(&self, value: &Value<'_>) -> Span {
        Span { source: self.source, range: value.span() }
    }

    /// Finds the keys of a table that are not among `keys`.
    fn known(&mut self, table: &DeTable<'_>, path: &str, keys: &[&str]) {
        for key in table.keys().filter(|k| !keys.contains(&k.get_ref().as_ref())) {
            let word = key.get_ref();
            let span = Span { source: self.source, range: key.span() };
            self.findings.push(
                Finding::new(
                    "printer-key",
                    Severity::Error,
                    format!("no key of a printer file is called `{path}{word}`"),
                )
                .at(Some(span))
                .expected(format!("`{word}`"), "a key of a printer file")
                .remedy(nearest(word, keys.iter().copied())),
            );
        }
    }

    fn need<'t, 'i>(
        &mut self,
        table: &'t DeTable<'i>,
        path: &str,
        key: &str,
    ) -> Option<&'t Value<'i>> {
        let value = table.get(key);
        if value.is_none() {
            self.findings.push(
                Finding::new(
                    "printer-missing",
                    Severity::Error,
                    format!("the printer file does not say `{path}{key}`"),
                )
                .at(Some(Span { source: self.source, range: 0..0 }))
                .expected("nothing", format!("the key `{path}{key}`"))
                .remedy("calibrate the printer: strapwright calibrate -o FILE"),
            );
        }
        value
    }

    fn wrong(&mut self, value: &Value<'_>, required: &str) {
        let found = match value.get_ref() {
            DeValue::String(text) => {
                format!("`{}`", text.chars().take(40).collect::<String>())
            }
            DeValue::Integer(n) => format!("the number {}", n.as_str()),
            DeValue::Float(n) => format!("the number {}", n.as_str()),
            other => format!("a TOML {}", other.type_str()),
        };
        let span = self.place(value);
        self.findings.push(
            Finding::new(
                "printer-value",
                Severity::Error,
                format!("this is not {required}"),
            )
            .at(Some(span))
            .expected(found, required)
            .remedy(format!("write {required}")),
        );
    }

    fn name(&mut self, value: &Value<'_>) -> Option<String> {
        let name = value.get_ref().as_str().filter(|t| is_name(t));
        if name.is_none() {
            self.wrong(
                value,
                "a name of up to 60 Latin, Greek or Cyrillic letters, in quotes",
            );
        }
        name.map(ToOwned::to_owned)
    }

    fn paper(&mut self, value: &Value<'_>) -> Option<String> {
        let paper = value.get_ref().as_str().and_then(|t| Paper::parse(t).ok());
        if paper.is_none() {
            self.wrong(value, "a paper such as \"A4\", \"Letter\" or \"320x450mm\"");
        }
        paper.map(|p| p.name().to_owned())
    }

    fn margin(&mut self, value: &Value<'_>) -> Option<Length> {
        let [least, most] = MARGINS;
        let margin = value.get_ref().as_str().and_then(|t| margin(t).ok());
        if margin.is_none() {
            self.wrong(value, &format!("a length from \"{least}\" to \"{most}\""));
        }
        margin
    }

    /// The factor of one edge and where it stands.
    fn edge(&mut self, root: &DeTable<'_>, name: &str) -> Option<(Factor, Span)> {
        let value = self.need(root, "", name)?;
        let path = format!("{name}.");
        let table = self.table(value, &path, &EDGE)?;
        let by = self.need(table, &path, "by");
        let span = by.map(|v| self.place(v));
        let by = by.and_then(|v| self.ratio(v, "a factor such as 1.0125"));
        let proven = self.need(table, &path, "proven");
        let proven = proven.and_then(|v| self.ratio(v, "a part such as 0.001"));
        Some((Factor { by: by?, proven: proven? }, span?))
    }

    fn table<'t, 'i>(
        &mut self,
        value: &'t Value<'i>,
        path: &str,
        keys: &[&str],
    ) -> Option<&'t DeTable<'i>> {
        let table = value.get_ref().as_table();
        match table {
            Some(table) => self.known(table, path, keys),
            None => {
                self.wrong(value, &format!("a table with `{}`", keys.join("` and `")));
            }
        }
        table
    }

    fn ratio(&mut self, value: &Value<'_>, required: &str) -> Option<Ratio> {
        let ratio = digits(value).and_then(Ratio::parse).filter(|r| *r <= Ratio::TWO);
        if ratio.is_none() {
            self.wrong(value, &format!("{required}, with six decimals at most"));
        }
        ratio
    }

    fn skew(&mut self, value: &Value<'_>) -> Option<Skew> {
        let table = self.table(value, "skew.", &SKEW)?;
        let [degrees, within] = SKEW.map(|key| {
            let value = self.need(table, "skew.", key)?;
            let angle = digits(value).and_then(|d| d.parse::<f64>().ok());
            let angle = angle.filter(|a| (0.0..=45.0).contains(a));
            if angle.is_none() {
                self.wrong(value, "an angle in degrees such as 0.3");
            }
            angle
        });
        Some(Skew { degrees: degrees?, within: within? })
    }
}

/// Reads what a printer leaves blank along the edges.
///
/// # Errors
/// Says what was found and what would do.
pub fn margin(text: &str) -> Result<Length, String> {
    let [least, most] = MARGINS;
    let margin = Length::parse(text).map_err(|e| e.to_string())?;
    if margin < least || margin > most {
        return Err(format!("`{text}` is not a length from {least} to {most}"));
    }
    Ok(margin)
}

/// Whether `name` can be written on a sheet.
pub fn is_name(name: &str) -> bool {
    let letters = name.chars().count();
    !name.trim().is_empty()
        && letters <= LONGEST_NAME
        && lettering::missing(name).is_empty()
}

/// A number as it was written: nothing is lost through a float.
fn digits<'t>(value: &'t Value<'_>) -> Option<&'t str> {
    match value.get_ref() {
        DeValue::Integer(n) if n.radix() == 10 => Some(n.as_str()),
        DeValue::Float(n) => Some(n.as_str()),
        _ => None,
    }
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
            let known = read(&mut Sources::default(), "p.toml", &text);
            assert_eq!(known.findings, [], "{text}");
            assert_eq!(known.printer, Some(printer), "{text}");
        }
    }
}

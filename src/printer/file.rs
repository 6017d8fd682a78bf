//! The printer file: a few lines of TOML.

use super::{Dated, Printer};
use crate::diagnostic::{Finding, Sources, Span, cap_findings, forbids_print};
use crate::fit::RulerClass;
use crate::geom::{Length, Ratio};
use crate::input::{self, Format, Reader, Rules, Section, Value, quoted};
use crate::lettering;
use crate::paginate::{Correction, Factor, MARGIN, Paper};
use crate::printer::rule;
use std::fmt::Write as _;

/// Longest name of a printer, in letters: every sheet has it in its header.
const LONGEST_NAME: usize = 60;
/// The smallest and the largest margin that is accepted.
const MARGINS: [Length; 2] = [Length::from_mm(3), Length::from_mm(40)];

/// Limits of factors and of their uncertainties, in millionths: what printers are off by, with
/// some room for the reading; what a fit to the page makes of that; and from what the best
/// ruler leaves open on 1 m to what the worst does on a short bar.
const UNFITTED: [i64; 2] = [960_000, 1_040_000];
const FITTED: [i64; 2] = [910_000, 1_100_000];
const CLASSES: [(&str, RulerClass); 3] =
    [("I", RulerClass::I), ("II", RulerClass::II), ("III", RulerClass::III)];
const PROVEN: [i64; 2] = [100, 50_000];

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
    size_remedy: "choose a file that `strapwright calibrate` or the page wrote",
    add_to: ", or calibrate the printer again",
};

/// The text of a printer file, as [`read`] reads it.
pub fn write(printer: &Printer) -> String {
    let Correction { printer: name, margin, fitted, .. } = &printer.correction;
    let square = printer.paper.form().is_square();
    let edges = if square {
        "`long` is along the\n# width of the page and `short` along its height."
    } else {
        "`long` is along the\n# long edge of the sheet and `short` along the short one."
    };
    let head = format!(
        "# A printer, as `strapwright calibrate` measured it. Every drawing for it is multiplied\n\
         # by the mean of its readings, weighted by how sure they are. {edges}\n\
         # The parts called `proven` are uncertainties (k = 2): 0.001 is 1 mm on 1 m.\n\
         name = {}\npaper = {}\n# what the printer leaves blank along the edges\n\
         margin = {}\n# whether the print must be fitted to the page, as it was then\n\
         fitted = {fitted}\n",
        quoted(name),
        quoted(printer.paper.name()),
        quoted(&margin.to_string()),
    );
    printer.readings.iter().map(write_reading).fold(head, |text, reading| text + &reading)
}

/// The text of one reading, to stand at the end of a printer file.
pub fn write_reading(reading: &Dated) -> String {
    let Dated { date, print, long, short, class, ruler, stock, note, anew } = reading;
    let mut text = format!(
        "\n[[reading]]\ndate = {}\nprint = {}\nlong = {}\nlong-proven = {}\nshort = {}\n\
         short-proven = {}\nruler-class = \"{class:?}\"\n",
        quoted(date),
        quoted(print),
        long.by,
        long.proven,
        short.by,
        short.proven
    );
    for (key, value) in [("ruler", ruler), ("stock", stock), ("note", note)] {
        if !value.is_empty() {
            let _ = writeln!(text, "{key} = {}", quoted(value));
        }
    }
    if *anew {
        text.push_str(
            "# the printer was changed: earlier readings do not count\nanew = true\n",
        );
    }
    text
}

/// A printer file with one reading more.
#[derive(Clone, Debug)]
pub struct Added {
    /// Its text; `None` when a finding forbids it.
    pub text: Option<String>,
    /// What was found in the file and on adding.
    pub findings: Vec<Finding>,
    /// The file, for showing findings.
    pub sources: Sources,
}

/// Adds a reading of a print on `paper` to the text of the printer file called `name`.
/// `drawn_for` is the printer that the print was drawn for, `fitted` whether it undoes a fit.
pub fn add(
    (name, text): (&str, &str),
    paper: &Paper,
    drawn_for: Option<&str>,
    reading: &Dated,
    fitted: bool,
) -> Added {
    let mut sources = Sources::default();
    let ParsedPrinter { printer, mut findings } = read(&mut sources, name, text);
    let is_known = printer.is_some();
    let more = printer.map(|p| p.on_adding(paper, drawn_for, reading, fitted));
    findings.extend(more.into_iter().flatten());
    let is_added = is_known && !forbids_print(&findings);
    let text = is_added.then(|| text.to_owned() + &write_reading(reading));
    Added { text, findings, sources }
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
    let required = "one or more tables [[reading]]";
    let leaf = file.need("reading", required)?;
    let Value::Tables(tables) = &leaf.value else {
        file.reader.find(file.wrong("reading", leaf, required));
        return None;
    };
    let readings = tables.iter().map(|(table, span)| {
        let (reader, span) = (file.reader, Some(span.clone()));
        reading(&Section { reader, name: "reading", table, span }, fitted)
    });
    // All are read, so that all mistakes are found.
    let readings: Vec<Option<Dated>> = readings.collect();
    let readings = readings.into_iter().collect::<Option<Vec<Dated>>>()?;
    let margin = margin.map_or(MARGIN, |said| said.value);
    Some(Printer::new(name?.value, &paper?.value, margin, fitted, readings))
}

fn reading(table: &Section<'_, '_>, fitted: bool) -> Option<Dated> {
    let date = table.value("date", "a day such as \"2026-03-14\"", |v| {
        v.text().filter(|text| is_day(text)).map(ToOwned::to_owned)
    });
    let [long, short] = [("long", "long-proven"), ("short", "short-proven")]
        .map(|(by, proven)| factor(table, by, proven, fitted));
    let class = table.choice_or("ruler-class", &CLASSES, RulerClass::II);
    let [print, ruler, stock, note] =
        ["print", "ruler", "stock", "note"].map(|key| table.text(key).value);
    let anew = table.truth_or("anew", false);
    let (long, short) = (long?, short?);
    Some(Dated { date: date?.value, print, long, short, class, ruler, stock, note, anew })
}

/// Whether a text is a day by ISO 8601.
fn is_day(text: &str) -> bool {
    let shape: String =
        text.chars().map(|c| if c.is_ascii_digit() { '0' } else { c }).collect();
    shape == "0000-00-00"
}

/// The factor of one edge, within the limits of what `calibrate` writes.
fn factor(
    table: &Section<'_, '_>,
    by: &str,
    proven: &str,
    fitted: bool,
) -> Option<Factor> {
    let ratio = |key, required: &str, [least, most]: [i64; 2]| {
        table.value(key, required, |v| {
            let limits = Ratio::from_millionths(least)..=Ratio::from_millionths(most);
            Ratio::parse(v.digits()?).filter(|r| limits.contains(r))
        })
    };
    let (by, proven) = (
        ratio(by, "a factor such as 1.0125, with six decimals at most", [0, 2_000_000]),
        ratio(proven, "a part from 0.0001 to 0.05, with six decimals at most", PROVEN),
    );
    let (by, proven) = (by?, proven?);
    let [least, most] = if fitted { FITTED } else { UNFITTED };
    if !(least..=most).contains(&by.value.millionths()) {
        let [least, most] = [least, most].map(Ratio::from_millionths);
        let message = "no printer needs this much correction";
        let finding = Finding::error(rule::IMPLAUSIBLE_SCALE, message)
            .at(by.span)
            .expected(format!("×{}", by.value), format!("{least} to {most}"))
            .remedy(
                "take this [[reading]] out, and calibrate again with a print that was drawn \
                 without a printer file",
            );
        table.reader.find(finding);
    }
    Some(Factor { by: by.value, proven: proven.value })
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

    fn printer(fitted: bool) -> Printer {
        let factor = |by, proven| Factor {
            by: Ratio::from_millionths(by),
            proven: Ratio::from_millionths(proven),
        };
        let reading = |note: &str, anew| Dated {
            date: "2026-03-14".to_owned(),
            print: "9E91-50C5".to_owned(),
            long: factor(1_012_500, 1_000),
            short: factor(998_000, 5_710),
            class: RulerClass::I,
            ruler: "the \"long\" one".to_owned(),
            stock: String::new(),
            note: note.to_owned(),
            anew,
        };
        let (name, paper) = ("The \"old\" one \\ upstairs", "320 × 450 mm");
        let (name, paper) = (name.to_owned(), Paper::parse(paper).unwrap());
        let readings = vec![reading("", false), reading("new drum", true)];
        Printer::new(name, &paper, Length::from_um(4_200), fitted, readings)
    }

    #[test]
    fn a_file_reads_as_it_was_written() {
        for printer in [printer(true), printer(false)] {
            let text = write(&printer);
            let parsed = read(&mut Sources::default(), "p.toml", &text);
            assert_eq!(parsed.findings, [], "{text}");
            assert_eq!(parsed.printer, Some(printer), "{text}");
        }
    }
}

//! The dated readings of one printer, and what they come to.

use super::axis::Estimate;
use super::rule;
use crate::diagnostic::{Finding, Severity, counted};
use crate::fit::{DAMP, RulerClass};
use crate::geom::{Length, Ratio};
use crate::paginate::{Correction, Factor, Paper};

/// A reading differs from the earlier ones by more than noise beyond three standard
/// uncertainties of the difference: 1.5 expanded ones (k = 2).
const NOISE: f64 = 1.5;

/// A printer as it was measured.
#[derive(Clone, Debug, PartialEq)]
pub struct Printer {
    /// The paper that it was measured with.
    pub paper: Paper,
    /// What corrects its error, by all readings that count.
    pub correction: Correction,
    /// The readings, the oldest first.
    pub readings: Vec<Dated>,
}

/// What one calibration read of a printer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Dated {
    /// The day, such as 2026-03-14.
    pub date: String,
    /// The short name of the print.
    pub print: String,
    /// The factor along the long edge.
    pub long: Factor,
    /// The factor along the short edge.
    pub short: Factor,
    /// The class of the ruler.
    pub class: RulerClass,
    /// Which ruler; readings with one ruler share its error.
    pub ruler: String,
    /// Which paper stock.
    pub stock: String,
    /// A note.
    pub note: String,
    /// Whether the printer was changed, so that earlier readings do not count any more.
    pub anew: bool,
}

impl Printer {
    /// A printer called `name` with its readings, at least one.
    pub fn new(
        name: String,
        paper: &Paper,
        margin: Length,
        fitted: bool,
        readings: Vec<Dated>,
    ) -> Self {
        let [long, short] = [|r: &Dated| r.long, |r: &Dated| r.short]
            .map(|of| combine(&readings, of).on_top_of(None));
        let correction = Correction { printer: name, long, short, margin, fitted };
        Self { paper: paper.clone(), correction, readings }
    }

    /// A finding if `paper` is not the paper that the printer was measured with. It forbids
    /// the print if the factors undo a fit to that page: the viewer scales another page by
    /// another factor.
    pub fn on(&self, paper: &Paper) -> Option<Finding> {
        let own = &self.paper;
        let (was, now, fitted) = (own.name(), paper.name(), self.correction.fitted);
        let (severity, message, remedy) = if fitted {
            let remedy = format!(
                "print on `{was}`, or print a drawing for `{now}` without this file and \
                 calibrate that into a file of its own"
            );
            (Severity::Error, "this printer file undoes a fit to another paper", remedy)
        } else {
            let remedy = format!(
                "print on `{was}`, or calibrate the printer on `{now}`; until then nothing is \
                 claimed by the printer file, so read both scale bars of every sheet"
            );
            (Severity::Warning, "this printer was measured with another paper", remedy)
        };
        let finding = Finding::new(rule::OTHER_PAPER, severity, message)
            .expected(
                format!("a sheet of `{now}`"),
                format!("`{was}`, for which the factors were read"),
            )
            .remedy(remedy);
        (own.form() != paper.form()).then_some(finding)
    }

    /// The same printer where its factors may be right and are not claimed to be.
    #[must_use]
    pub fn unproven(mut self) -> Self {
        for factor in [&mut self.correction.long, &mut self.correction.short] {
            factor.proven = Ratio::ONE;
        }
        self
    }

    /// Findings on adding a reading of a print on `paper` that was drawn for the printer called
    /// `drawn_for`. Errors forbid it.
    pub fn on_adding(
        &self,
        paper: &Paper,
        drawn_for: Option<&str>,
        reading: &Dated,
        fitted: bool,
    ) -> Vec<Finding> {
        let mut findings = Vec::new();
        let own = &self.correction.printer;
        if let Some(other) = drawn_for.filter(|other| other != own) {
            let message = "this print was drawn for another printer";
            findings.push(
                Finding::warning(rule::OTHER_PRINTER, message)
                    .expected(format!("a print for `{other}`"), format!("one for `{own}`"))
                    .remedy(
                        "if it was printed by that one, take the reading out of this file and \
                         give the file of that printer",
                    ),
            );
        }
        let is_same = |r: &Dated| {
            (&r.date, &r.print, r.long, r.short)
                == (&reading.date, &reading.print, reading.long, reading.short)
        };
        if self.readings.iter().any(is_same) {
            let finding =
                Finding::error(rule::SAME_READING, "this reading was added before");
            let found = format!("print {} on {}", reading.print, reading.date);
            findings.push(
                finding
                    .expected(found, "another reading, or another print")
                    .remedy("read the print anew, or print again and read that"),
            );
        }
        if let Some(other) = self.on(paper) {
            findings.push(Finding { severity: Severity::Error, ..other });
        }
        if fitted != self.correction.fitted {
            let how = |fitted| if fitted { "fitted to the page" } else { "at 100 %" };
            let finding = Finding::error(
                rule::OTHER_FIT,
                "this print and the printer file are printed with other settings",
            );
            findings.push(
                finding
                    .expected(
                        format!("a print {}", how(fitted)),
                        format!("one {}", how(self.correction.fitted)),
                    )
                    .remedy("keep the reading in another file, for prints like this one")
                    .flag("--printer FILE"),
            );
        }
        if reading.anew {
            return findings;
        }
        let old = &self.correction;
        let edges = paper.form().edges();
        for (edge, old, new) in
            [(edges[0], old.long, reading.long), (edges[1], old.short, reading.short)]
        {
            let apart = new.by.as_f64() - old.by.as_f64();
            let noise = libm::hypot(new.proven.as_f64(), DAMP.as_f64());
            let noise = libm::hypot(noise, old.proven.as_f64());
            if libm::fabs(apart) > NOISE * noise {
                let message =
                    format!("the printer's {edge} differs from its earlier readings");
                let finding = Finding::error(rule::PRINTER_CHANGED, message)
                    .expected(
                        format!("×{} by this print", new.by),
                        format!(
                            "×{} by {} until {}, within ±{:.2} % for ruler, eye and damp",
                            old.by,
                            counted(counting(&self.readings).len(), "reading"),
                            self.readings.last().map_or("then", |r| &r.date),
                            100.0 * NOISE * noise
                        ),
                    )
                    .remedy(
                        "read again. If it stays so, the printer or the paper stock has \
                         changed: begin a new printer file, or let only readings from this \
                         one on count",
                    )
                    .flag("--anew");
                findings.push(finding);
            }
        }
        findings
    }
}

impl Dated {
    /// What the class of its ruler permits on 1 m, as a part of that (k = 2): no number of
    /// readings with one ruler makes it less.
    fn common(&self) -> f64 {
        let metre = Length::from_mm(1_000);
        2.0 / 3_f64.sqrt() * self.class.permitted(metre).as_mm_f64() / 1_000.0
    }
}

/// The readings from the last change of the printer on.
fn counting(readings: &[Dated]) -> &[Dated] {
    let first = readings.iter().rposition(|r| r.anew).unwrap_or(0);
    &readings[first..]
}

/// The mean factor of the readings that count, weighted by the inverse of their variances.
/// Readings of one day share its damp, and readings with one ruler share its error, so that
/// these parts go with the sum of the weights of a day and of a ruler (GUM 5.2).
fn combine(readings: &[Dated], of: impl Fn(&Dated) -> Factor) -> Estimate {
    let square = |part: f64| part * part;
    let parts: Vec<[f64; 3]> = counting(readings)
        .iter()
        .map(|reading| {
            let proven = of(reading).proven.as_f64();
            let common = reading.common().min(proven);
            let own = square(proven) - square(common);
            [1.0 / (square(proven) + square(DAMP.as_f64())), own, square(common)]
        })
        .collect();
    let whole: f64 = parts.iter().map(|[weight, ..]| weight).sum();
    let (mut by, mut variance) = (0.0, 0.0);
    for (one, [weight, own, common]) in counting(readings).iter().zip(&parts) {
        by += weight * of(one).by.as_f64() / whole;
        variance += square(weight / whole) * own;
        for (other, [other_weight, _, other_common]) in
            counting(readings).iter().zip(&parts)
        {
            let both = weight * other_weight / square(whole);
            if one.date == other.date {
                variance += both * square(DAMP.as_f64());
            }
            if (one.class, &one.ruler) == (other.class, &other.ruler) {
                variance += both * libm::sqrt(common * other_common);
            }
        }
    }
    if parts.is_empty() {
        return Estimate::true_within(1.0);
    }
    Estimate { by, within: libm::sqrt(variance) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn dated(by: i64, day: usize, ruler: &str, anew: bool) -> Dated {
        let factor = |by| Factor {
            by: Ratio::from_millionths(by),
            proven: Ratio::from_millionths(1_000),
        };
        Dated {
            date: format!("2026-03-{day:02}"),
            print: "9E91-50C5".to_owned(),
            long: factor(by),
            short: factor(1_000_000),
            class: RulerClass::II,
            ruler: ruler.to_owned(),
            stock: String::new(),
            note: String::new(),
            anew,
        }
    }

    fn long(readings: Vec<Dated>) -> Factor {
        let paper = Paper::parse("a4").unwrap();
        let margin = Length::from_mm(10);
        Printer::new("desk".to_owned(), &paper, margin, false, readings).correction.long
    }

    /// By hand: class II permits 0.5 mm on 1 m, 0.0577 % with 2/√3. One reading of ±0.1 %:
    /// √(0.1² + 0.081²) = 0.1287 %. Three with one ruler: own part √(0.1² - 0.0577²) = 0.0816;
    /// √(0.0816²/3 + 0.081²/3 + 0.0577²) = 0.0880 %, and on one day
    /// √(0.0816²/3 + 0.081² + 0.0577²) = 0.1101 %. With three rulers 0.1287/√3 = 0.0743 %.
    #[test]
    fn more_readings_prove_more_and_share_what_is_common() {
        let proven = |all: &[(usize, &str)]| {
            let all = all.iter().map(|(day, r)| dated(1_010_000, *day, r, false));
            long(all.collect()).proven.millionths()
        };
        assert_eq!(proven(&[(1, "a")]), 1_290);
        assert_eq!(proven(&[(1, "a"), (2, "a"), (3, "a")]), 880);
        assert_eq!(proven(&[(1, "a"), (1, "a"), (1, "a")]), 1_110);
        assert_eq!(proven(&[(1, "a"), (2, "b"), (3, "c")]), 750);
    }

    #[test]
    fn readings_before_a_change_do_not_count() {
        let all = vec![dated(1_010_000, 1, "", false), dated(1_002_000, 2, "", true)];
        assert_eq!(long(all.clone()), long(all[1..].to_vec()));
        let both = vec![dated(1_010_000, 1, "", false), dated(1_012_000, 2, "", false)];
        assert_eq!(long(both).by.millionths(), 1_011_000);
    }

    /// √(0.1² + 0.081²) on both sides: 0.182 % together, 0.273 % with the factor 1.5.
    #[test]
    fn a_change_is_told_from_noise() {
        let paper = Paper::parse("a4").unwrap();
        let first = vec![dated(1_010_000, 1, "", false)];
        let margin = Length::from_mm(10);
        let printer = Printer::new("desk".to_owned(), &paper, margin, false, first);
        let refused = |by, anew| {
            let found = printer.on_adding(&paper, None, &dated(by, 2, "", anew), false);
            found.iter().map(|f| f.rule).collect::<Vec<_>>()
        };
        assert_eq!(refused(1_012_700, false), []);
        assert_eq!(refused(1_012_800, false), [rule::PRINTER_CHANGED]);
        assert_eq!(refused(1_012_800, true), []);
    }
}

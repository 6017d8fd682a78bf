//! From ruler readings to the printer's correction.

use super::axis::{Axis, Estimate, nanometres};
use super::find::{self, APART, FARTHEST, FileToUse, Measured};
use super::{Printer, Skew};
use crate::diagnostic::{Finding, Severity, Span, Spanned, forbids_print};
use crate::fit::MeasurementUncertainty;
use crate::geom::{Length, QuarterTurn};
use crate::paginate::{Correction, MARGIN, Paper, SheetSet, StripCheck};

/// The scale of a page that a viewer shrank to the printable area, or to another paper: A4
/// with margins of 3 to 6 mm comes to 97.1 to 94.3 %, Letter on A4 without margins to 97.3 %,
/// A4 on Letter to 94.1 % (computed), and with margins a little less.
const SHRUNK: [f64; 2] = [0.93, 0.975];
/// The scale of borderless printing, about 103 % (common practice, no source).
const ENLARGED: [f64; 2] = [1.02, 1.04];
/// Two readings of one axis may differ by this many times their uncertainty (k = 2): k = 3.
const MOST_DIFFERENCE: f64 = 1.5;
/// Largest uncertainty on the strap that the scale may leave, about 1/16 in (common practice,
/// no source).
const MOST_OPEN: Length = Length::from_um(1_600);

/// Ruler readings on a print.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Readings {
    /// Of the scale bar along the width.
    pub wide: Spanned<Length>,
    /// Of the scale bar along the height.
    pub tall: Spanned<Length>,
    /// From cross to cross of the first joined piece.
    pub strip: Option<Spanned<Length>>,
    /// From corner mark to corner mark: lower left to upper right, then upper left to
    /// lower right.
    pub diagonals: Option<[Spanned<Length>; 2]>,
}

/// The input of [`calibrate`].
#[derive(Clone, Copy, Debug)]
pub struct Calibration<'a> {
    /// The print that was measured.
    pub print: &'a SheetSet,
    /// The paper that it is on.
    pub paper: &'a Paper,
    /// The readings on it.
    pub readings: &'a Readings,
    /// How accurate the readings are.
    pub measuring: MeasurementUncertainty,
    /// The printer file that the print was drawn for.
    pub old: Option<&'a Printer>,
    /// The name of the printer.
    pub name: &'a str,
    /// What the printer leaves blank along the edges, if that is known.
    pub margin: Option<Length>,
    /// Whether a fit to the page is to be undone.
    pub must_fit: bool,
    /// Whether the axes may differ more than those of printers do.
    pub must_part: bool,
}

/// The result of [`calibrate`].
#[derive(Clone, Debug)]
pub struct Calibrated {
    /// The printer; `None` when a finding forbids it, or there is nothing to store.
    pub printer: Option<Printer>,
    /// What was found.
    pub findings: Vec<Finding>,
}

/// Computes the correction of a printer. The bar gives each axis. On the axis along which
/// the strap lies, bar and joined strip are combined by their variances. On a print that was
/// drawn for an `old` printer the new factors come on top of the old ones.
///
/// An error smaller than your ruler can measure is not corrected: if neither axis has a
/// larger one, there is no printer, unless there is a margin or a skew to store. If one axis
/// has a larger error, the other is corrected by its reading too, whatever its uncertainty:
/// printers are off by 1 to 2 % as a rule, so the reading is the better estimate.
pub fn calibrate(asked: &Calibration<'_>) -> Calibrated {
    let mut findings = Vec::new();
    let printer = compute_printer(asked, &mut findings);
    let printer = printer.filter(|_| !forbids_print(&findings));
    Calibrated { printer, findings }
}

fn compute_printer(
    asked: &Calibration<'_>,
    findings: &mut Vec<Finding>,
) -> Option<Printer> {
    let &Calibration { print, readings, paper, old, .. } = asked;
    let sheet = print.sheets.first()?;
    let read = read_axes(asked, findings);
    let diagonals = read_diagonals(asked, findings);
    let raw @ [wide, tall] = read?;
    let before = old.map(|p| &p.correction);
    let is_long = paper.form().has_long_width(sheet.width, sheet.height);
    let by_edge = |[wide, tall]: [Axis; 2]| {
        if is_long { [wide, tall] } else { [tall, wide] }
    };
    let [long, short] = by_edge(raw);
    let mut whole = match before {
        Some(c) => [long.on_top_of(c.long), short.on_top_of(c.short)],
        None => [long, short],
    };
    // A print that was not fitted as its file asks does not have the file's factors.
    let without = before.is_some_and(|c| c.fitted) && is_unfitted([long, short], whole);
    let fits = if without { None } else { fit_to_page(wide, tall) };
    if without {
        findings.push(find::unfitted(raw, asked.must_fit));
    }
    if let Some(scale) = fits {
        findings.push(find::fitted(scale, asked.must_fit));
    }
    if forbids_print(findings) {
        return None;
    }
    let skew = diagonals.map(|both| compute_skew(asked, both, raw));
    let proven = skew.filter(|s| s.is_proven());
    let edges = paper.form().edges();
    let judged = if without { whole } else { [long, short] };
    let margin = asked.margin.filter(|m| *m != before.map_or(MARGIN, |c| c.margin));
    let is_accurate = judged.iter().all(|a| a.is_accurate());
    let old_skew = old.and_then(|p| p.skew);
    let is_news = proven.is_some_and(|s| !old_skew.is_some_and(|old| s.agrees(old)));
    let kept = is_news || margin.is_some();
    if let Some(skew) = proven {
        let span = readings.diagonals.as_ref().and_then(span_of_both);
        findings.push(find::skewed(skew, span));
    }
    if is_accurate {
        let file = match (kept, before.filter(|_| !without)) {
            (true, _) => FileToUse::New,
            (false, Some(_)) => FileToUse::Old,
            (false, None) => FileToUse::None,
        };
        let strip = print.checks.first().filter(|_| readings.strip.is_none());
        findings.push(find::nothing_to_correct(edges, judged, file, strip));
    }
    if let Some(check) = print.checks.first() {
        let along = if lies_along_width(print, check) { wide } else { tall };
        let open = along.factor().proven.times(check.length);
        if open > MOST_OPEN {
            let has_strip = readings.strip.is_some();
            findings.push(find::too_little(open, MOST_OPEN, check, has_strip));
        }
    }
    if is_accurate && !kept {
        return None;
    }
    if is_accurate {
        // The noise of a reading is not an error of the printer.
        let axes = judged.map(Axis::uncorrected);
        whole = match before.filter(|_| !without) {
            Some(c) => [axes[0].on_top_of(c.long), axes[1].on_top_of(c.short)],
            None => axes,
        };
    }
    let [long, short] = whole;
    let severity = if asked.must_part { Severity::Warning } else { Severity::Error };
    check_factors([long.by, short.by], [None, None], severity, findings);
    if paper.form().is_square() {
        findings.push(find::square());
    }
    Some(Printer {
        paper: paper.name().to_owned(),
        correction: Correction {
            printer: asked.name.to_owned(),
            long: long.factor(),
            short: short.factor(),
            margin: asked.margin.or(before.map(|c| c.margin)).unwrap_or(MARGIN),
            fitted: fits.is_some() || (before.is_some_and(|c| c.fitted) && !without),
        },
        skew: skew.or(old_skew),
    })
}

/// The estimates for width and height from bars and strip; `None` where a reading is missing
/// or implausible.
fn read_axes(asked: &Calibration<'_>, findings: &mut Vec<Finding>) -> Option<[Axis; 2]> {
    let &Calibration { print, readings, measuring, .. } = asked;
    let sheet = print.sheets.first()?;
    let mut on_bar = |what, i: usize, said: &Spanned<Length>| {
        let nominal = sheet.bars.get(i)?.length();
        let what = Measured { what, from: "its first tick", to: "its last" };
        read(what, nominal, said, measuring.of_length(nominal, 0), findings)
    };
    let wide = on_bar("bar along the width", 0, &readings.wide);
    let tall = on_bar("bar along the height", 1, &readings.tall);
    let strip = readings.strip.as_ref().zip(print.checks.first()).map(|(said, check)| {
        let within = measuring.of_length(check.length, check.joins);
        let [from, to] = check.labels.each_ref().map(|label| format!("cross {label}"));
        let what = Measured { what: "joined strip", from: &from, to: &to };
        (said, check, read(what, check.length, said, within, findings))
    });
    let (mut wide, mut tall) = (wide?, tall?);
    if let Some((said, check, estimate)) = strip {
        let estimate = estimate?;
        let axis = if lies_along_width(print, check) { &mut wide } else { &mut tall };
        if libm::fabs(axis.by - estimate.by)
            > MOST_DIFFERENCE * axis.difference_within(estimate)
        {
            findings.push(find::disagree(*axis, estimate, check, said.span.clone()));
        }
        *axis = axis.combine(estimate);
    }
    Some([wide, tall])
}

/// The readings of both diagonals; `None` where they are missing or implausible.
fn read_diagonals(
    asked: &Calibration<'_>,
    findings: &mut Vec<Finding>,
) -> Option<[Length; 2]> {
    let both = asked.readings.diagonals.as_ref()?;
    let [low, high] = asked.print.corners;
    let nominal = (high - low).norm();
    let names = [
        ("rising diagonal", "the lower left corner mark", "the upper right one"),
        ("falling diagonal", "the upper left corner mark", "the lower right one"),
    ];
    let mut is_plausible = true;
    for (said, (what, from, to)) in both.iter().zip(names) {
        let what = Measured { what, from, to };
        is_plausible &= read(what, nominal, said, Length::ZERO, findings).is_some();
    }
    is_plausible.then(|| both.each_ref().map(|said| said.value))
}

/// The estimate from one reading. An implausible reading is a finding.
fn read(
    what: Measured<'_>,
    nominal: Length,
    said: &Spanned<Length>,
    within: Length,
    findings: &mut Vec<Finding>,
) -> Option<Estimate> {
    let error = nanometres(said.value) / nanometres(nominal) - 1.0;
    if libm::fabs(error) <= FARTHEST {
        return Some(Estimate::from_reading(nominal, said.value, within));
    }
    findings.push(find::implausible(what, nominal, said.value, said.span.clone()));
    None
}

/// Whether the piece of `check` lies along the width of its pages.
fn lies_along_width(print: &SheetSet, check: &StripCheck) -> bool {
    let mut tiles = print.sheets.iter().flat_map(|s| &s.tiles);
    let tile = tiles.find(|t| t.piece == check.piece);
    tile.is_none_or(|t| t.placement.turn() == QuarterTurn::None)
}

/// The scale of a print that a viewer fitted to the page; `None` for another print. Both axes
/// have a scale that viewers use, or their mean has and they differ no more than those of a
/// printer. The uncertainty of the readings does not count: a finer reading is still a fit.
fn fit_to_page(wide: Axis, tall: Axis) -> Option<f64> {
    let scales = [1.0 / wide.by, 1.0 / tall.by];
    let mean = f64::midpoint(scales[0], scales[1]);
    let are_near =
        libm::fabs(wide.by - tall.by) <= APART.max(wide.difference_within(tall));
    let is_usual = |[from, to]: [f64; 2]| {
        let within = |scale: &f64| (from..=to).contains(scale);
        scales.iter().all(within) || (within(&mean) && are_near)
    };
    [SHRUNK, ENLARGED].into_iter().any(is_usual).then_some(mean)
}

/// Whether a print for a file that undoes a fit was printed at 100 %: `whole`, which includes
/// the file's factors, is nearer to 1 than what was read, and as near as printers are.
fn is_unfitted(read: [Axis; 2], whole: [Axis; 2]) -> bool {
    let worst = |axes: [Axis; 2]| axes[0].error().max(axes[1].error());
    worst(whole) <= APART && worst(whole) < worst(read)
}

fn compute_skew(asked: &Calibration<'_>, read: [Length; 2], axes: [Axis; 2]) -> Skew {
    let [low, high] = asked.print.corners;
    let frame = high - low;
    let sides = [nanometres(frame.x) / axes[0].by, nanometres(frame.y) / axes[1].by];
    Skew::from_diagonals(read, asked.measuring.of_length(frame.norm(), 0), sides)
}

/// The span from the first reading to the last.
fn span_of_both([rising, falling]: &[Spanned<Length>; 2]) -> Option<Span> {
    let (first, last) = (rising.span.as_ref()?, falling.span.as_ref()?);
    let range = first.range.start..last.range.end.max(first.range.end);
    Some(Span { source: first.source, range })
}

/// Finds factors, long then short, that no printer needs, and factors that differ too much;
/// the latter have the severity `apart`.
pub(super) fn check_factors(
    [long, short]: [f64; 2],
    spans: [Option<Span>; 2],
    apart: Severity,
    findings: &mut Vec<Finding>,
) {
    let [at_long, at_short] = spans;
    for (by, span) in [(long, &at_long), (short, &at_short)] {
        // A reading 8 % short needs 8.7 % of correction.
        if !(1.0 / (1.0 + FARTHEST)..=1.0 / (1.0 - FARTHEST)).contains(&by) {
            findings.push(find::implausible_factor(by, span.clone()));
        }
    }
    if libm::fabs(long - short) > APART {
        findings.push(find::axes_apart(libm::fabs(long - short), apart, at_short));
    }
}

//! From what the ruler read to what undoes the error.

use super::axis::{Axis, Estimate, parts};
use super::find::{self, APART, FARTHEST, Measured, Then};
use super::{Printer, Skew};
use crate::diagnostic::{Finding, Severity, Span, forbids_print};
use crate::fit::MeasurementUncertainty;
use crate::geom::{Length, QuarterTurn};
use crate::job::Spanned;
use crate::paginate::{Correction, MARGIN, Paper, SheetSet, StripCheck};

/// Viewers that fit a page to what the printer can print, or one paper to the other, shrink
/// it to this much: A4 with margins of 3 to 6 mm comes to 97.1 to 94.3 %, Letter on A4
/// without margins to 97.3 %, A4 on Letter to 94.1 % (computed), and with margins a little
/// less.
const SHRUNK: [f64; 2] = [0.93, 0.975];
/// And borderless printing enlarges it to about 103 % (common practice, no source).
const ENLARGED: [f64; 2] = [1.02, 1.04];
/// Two readings of one axis may be this much farther apart than k = 2 allows: k = 3.
const BEYOND: f64 = 1.5;
/// Most that a scale may leave open on the strap, about 1/16 in (common practice, no
/// source).
const OPEN: Length = Length::from_um(1_600);

/// What the ruler read on a print, each with the place that says so.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Readings {
    /// The scale bar along the width.
    pub wide: Spanned<Length>,
    /// The scale bar along the height.
    pub tall: Spanned<Length>,
    /// From cross to cross of the first joined piece.
    pub strip: Option<Spanned<Length>>,
    /// From corner mark to corner mark: lower left to upper right, then upper left to
    /// lower right.
    pub diagonals: Option<[Spanned<Length>; 2]>,
}

/// What is to be worked out.
#[derive(Clone, Copy, Debug)]
pub struct Calibration<'a> {
    /// The print that was measured.
    pub print: &'a SheetSet,
    /// What it is on.
    pub paper: &'a Paper,
    /// What the ruler read.
    pub readings: &'a Readings,
    /// How well.
    pub measuring: MeasurementUncertainty,
    /// The printer file that the print was drawn for.
    pub old: Option<&'a Printer>,
    /// What to call the printer.
    pub name: &'a str,
    /// What it leaves blank along the edges, if that is known.
    pub margin: Option<Length>,
    /// Whether a fit to the page is to be undone.
    pub must_fit: bool,
    /// Whether the axes may be farther apart than those of printers are.
    pub must_part: bool,
}

/// What came of it.
#[derive(Clone, Debug)]
pub struct Calibrated {
    /// The printer; `None` when a finding forbids it, and when there is nothing to keep.
    pub printer: Option<Printer>,
    /// What was found.
    pub findings: Vec<Finding>,
}

/// Works the printer out. The bar gives each axis; on the axis along which the strap lies,
/// bar and joined strip are combined by their variances. On a print that was drawn for an
/// `old` printer the new factors come on top of the old ones.
///
/// Where neither axis can be told from a true one nothing is corrected, and without a
/// margin or a skew to keep there is no printer. If one axis is proven to be off, the other
/// has what was read on it, however unsure: printers are off by 1 to 2 % as a rule, so the
/// reading is the better guess, and the factor says how little is proven.
pub fn calibrate(asked: &Calibration<'_>) -> Calibrated {
    let mut findings = Vec::new();
    let printer = worked_out(asked, &mut findings);
    let printer = printer.filter(|_| !forbids_print(&findings));
    Calibrated { printer, findings }
}

fn worked_out(asked: &Calibration<'_>, findings: &mut Vec<Finding>) -> Option<Printer> {
    let &Calibration { print, readings, paper, old, .. } = asked;
    let sheet = print.sheets.first()?;
    let read = axes(asked, findings);
    let diagonals = diagonals(asked, findings);
    let raw @ [wide, tall] = read?;
    let before = old.map(|p| &p.correction);
    let is_long = paper.form().has_long_width(sheet.width, sheet.height);
    let by_edge = |[wide, tall]: [Axis; 2]| {
        if is_long { [wide, tall] } else { [tall, wide] }
    };
    let [long, short] = by_edge(raw);
    let mut whole = match before {
        Some(c) => [long.after(c.long), short.after(c.short)],
        None => [long, short],
    };
    // Of a print that was not fitted as its file asks, the file's factors are no part.
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
    let skew = diagonals.map(|both| skew(asked, both, raw));
    let told = skew.filter(|s| s.is_proven());
    let edges = paper.form().edges();
    let judged = if without { whole } else { [long, short] };
    let margin = asked.margin.filter(|m| *m != before.map_or(MARGIN, |c| c.margin));
    let is_true = judged.iter().all(|a| a.is_true());
    let old_skew = old.and_then(|p| p.skew);
    let is_news = told.is_some_and(|s| !old_skew.is_some_and(|old| s.agrees(old)));
    let kept = is_news || margin.is_some();
    if let Some(skew) = told {
        let span = readings.diagonals.as_ref().and_then(both_places);
        findings.push(find::skewed(skew, span));
    }
    if is_true {
        let then = match (kept, before.filter(|_| !without)) {
            (true, _) => Then::KeepTheRest,
            (false, Some(_)) => Then::DrawWithTheOld,
            (false, None) => Then::DrawWithNone,
        };
        let strip = print.checks.first().filter(|_| readings.strip.is_none());
        findings.push(find::nothing(edges, judged, then, strip));
    }
    if let Some(check) = print.checks.first() {
        let along = if lies_along_width(print, check) { wide } else { tall };
        let open = along.factor().proven.times(check.length);
        if open > OPEN {
            let has_strip = readings.strip.is_some();
            findings.push(find::too_little(open, OPEN, check, has_strip));
        }
    }
    if is_true && !kept {
        return None;
    }
    if is_true {
        // Noise of the reading is no error of the printer.
        let left = judged.map(Axis::left);
        whole = match before.filter(|_| !without) {
            Some(c) => [left[0].after(c.long), left[1].after(c.short)],
            None => left,
        };
    }
    let [long, short] = whole;
    let severity = if asked.must_part { Severity::Warning } else { Severity::Error };
    plausible([long.by, short.by], [None, None], severity, findings);
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

/// What bars and strip say of the width and of the height; `None` where a reading is
/// missing or none of a printer.
fn axes(asked: &Calibration<'_>, findings: &mut Vec<Finding>) -> Option<[Axis; 2]> {
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
        if libm::fabs(axis.by - estimate.by) > BEYOND * axis.both(estimate) {
            findings.push(find::disagree(*axis, estimate, check, said.span.clone()));
        }
        *axis = axis.with(estimate);
    }
    Some([wide, tall])
}

/// Both diagonals as they were read, if a printer can have printed them.
fn diagonals(
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
    let mut is_sound = true;
    for (said, (what, from, to)) in both.iter().zip(names) {
        let what = Measured { what, from, to };
        is_sound &= read(what, nominal, said, Length::ZERO, findings).is_some();
    }
    is_sound.then(|| both.each_ref().map(|said| said.value))
}

/// `None`, and a finding, for what no printer does.
fn read(
    what: Measured<'_>,
    nominal: Length,
    said: &Spanned<Length>,
    within: Length,
    findings: &mut Vec<Finding>,
) -> Option<Estimate> {
    let off = parts(said.value) / parts(nominal) - 1.0;
    if libm::fabs(off) <= FARTHEST {
        return Some(Estimate::of(nominal, said.value, within));
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

/// The scale of a print that a viewer fitted to the page: by as much as viewers do, and
/// both axes, if not alike, then no farther apart than those of a printer can be. How
/// surely they were read is no matter: a finer reading makes it no less a fit.
fn fit_to_page(wide: Axis, tall: Axis) -> Option<f64> {
    let scales = [1.0 / wide.by, 1.0 / tall.by];
    let mean = f64::midpoint(scales[0], scales[1]);
    let are_near = libm::fabs(wide.by - tall.by) <= APART.max(wide.both(tall));
    let is_usual = |[from, to]: [f64; 2]| {
        let within = |scale: &f64| (from..=to).contains(scale);
        scales.iter().all(within) || (within(&mean) && are_near)
    };
    [SHRUNK, ENLARGED].into_iter().any(is_usual).then_some(mean)
}

/// Whether a print for a file that undoes a fit was printed at 100 %: `whole`, with the
/// file's factors in it, is nearer to nothing than what was read, and as near as a printer
/// comes.
fn is_unfitted(read: [Axis; 2], whole: [Axis; 2]) -> bool {
    let worst = |axes: [Axis; 2]| axes[0].off().max(axes[1].off());
    worst(whole) <= APART && worst(whole) < worst(read)
}

fn skew(asked: &Calibration<'_>, read: [Length; 2], axes: [Axis; 2]) -> Skew {
    let [low, high] = asked.print.corners;
    let frame = high - low;
    let sides = [parts(frame.x) / axes[0].by, parts(frame.y) / axes[1].by];
    Skew::of(read, asked.measuring.of_length(frame.norm(), 0), sides)
}

/// From the first reading to the last.
fn both_places([rising, falling]: &[Spanned<Length>; 2]) -> Option<Span> {
    let (first, last) = (rising.span.as_ref()?, falling.span.as_ref()?);
    let range = first.range.start..last.range.end.max(first.range.end);
    Some(Span { source: first.source, range })
}

/// Finds factors, long then short, that no printer needs, and with the weight of `apart`
/// those that differ too much.
pub(super) fn plausible(
    [long, short]: [f64; 2],
    places: [Option<Span>; 2],
    apart: Severity,
    findings: &mut Vec<Finding>,
) {
    let [at_long, at_short] = places;
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

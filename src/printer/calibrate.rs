//! From what the ruler read to what undoes the error.

use super::axis::{Axis, Estimate, parts};
use super::find::{self, APART, FARTHEST};
use super::{Printer, Skew};
use crate::diagnostic::{Finding, forbids_print};
use crate::fit::Measuring;
use crate::geom::{Length, QuarterTurn};
use crate::job::Said;
use crate::paginate::{Correction, Factor, MARGIN, Paper, SheetSet, StripCheck};

/// Viewers that fit a page to what the printer can print, or one paper to the other, shrink
/// it to this much: A4 with margins of 3 to 6 mm comes to 97.1 to 94.3 %, Letter on A4
/// without margins to 97.3 %, A4 on Letter to 94.1 % (computed), and with margins a little
/// less.
const SHRUNK: [f64; 2] = [0.93, 0.975];
/// And borderless printing enlarges it to about 103 % (common practice, no source).
const ENLARGED: [f64; 2] = [1.02, 1.04];
/// How much the axes of a printer that is sound differ, as is reported.
const ALIKE: f64 = 0.005;
/// Two readings of one axis may be this much farther apart than k = 2 allows: k = 3.
const BEYOND: f64 = 1.5;
/// Most that a scale may leave open on the strap, about 1/16 in (common practice, no
/// source).
const OPEN: Length = Length::from_um(1_600);

/// What the ruler read on a print, each with the place that says so.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Readings {
    /// The scale bar along the width.
    pub wide: Said<Length>,
    /// The scale bar along the height.
    pub tall: Said<Length>,
    /// From cross to cross of the first joined piece.
    pub strip: Option<Said<Length>>,
    /// From corner mark to corner mark: lower left to upper right, then upper left to
    /// lower right.
    pub diagonals: Option<[Said<Length>; 2]>,
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
    pub measuring: Measuring,
    /// The printer file that the print was drawn for.
    pub old: Option<&'a Printer>,
    /// What to call the printer.
    pub name: &'a str,
    /// What it leaves blank along the edges, if that is known.
    pub margin: Option<Length>,
    /// Whether a fit to the page is to be undone.
    pub must_fit: bool,
}

/// What came of it.
#[derive(Clone, Debug)]
pub struct Calibrated {
    /// The printer; `None` when a finding forbids it.
    pub printer: Option<Printer>,
    /// What was found.
    pub findings: Vec<Finding>,
}

/// Works the printer out. The bar gives each axis; on the axis along which the strap lies,
/// bar and joined strip are combined by their variances. On a print that was drawn for an
/// `old` printer the new factors come on top of the old ones.
pub fn calibrate(asked: &Calibration<'_>) -> Calibrated {
    let mut findings = Vec::new();
    let printer = worked_out(asked, &mut findings);
    let printer = printer.filter(|_| !forbids_print(&findings));
    Calibrated { printer, findings }
}

fn worked_out(asked: &Calibration<'_>, findings: &mut Vec<Finding>) -> Option<Printer> {
    let &Calibration { print, readings, measuring, old, .. } = asked;
    let sheet = print.sheets.first()?;
    let bar = |i: usize| sheet.bars.get(i).map(|b| (b.to - b.from).norm());
    let mut read = |what: &str, nominal: Length, said: &Said<Length>, within: Length| {
        let estimate = estimate(nominal, said.value, within);
        if estimate.is_none() {
            let place = said.place.clone();
            findings.push(find::implausible(what, nominal, said.value, place));
        }
        estimate
    };
    let mut on_bar = |what, i, said: &Said<Length>| {
        let nominal = bar(i)?;
        read(what, nominal, said, measuring.of_length(nominal))
    };
    let wide = on_bar("bar along the width", 0, &readings.wide);
    let tall = on_bar("bar along the height", 1, &readings.tall);
    let strip = readings.strip.as_ref().zip(print.checks.first()).map(|(said, check)| {
        let within = measuring.of_strip(check.length, check.joins);
        (said, check, read("joined strip", check.length, said, within))
    });
    let (mut wide, mut tall) = (wide?, tall?);
    if let Some((said, check, estimate)) = strip {
        let estimate = estimate?;
        let axis = if lies_along_width(print, check) { &mut wide } else { &mut tall };
        if libm::fabs(axis.by - estimate.by) > BEYOND * axis.both(estimate) {
            findings.push(find::disagree(*axis, estimate, check, said.place.clone()));
        }
        *axis = axis.with(estimate);
    }
    let skew = skew(asked, [wide, tall], findings);
    let is_long = asked.paper.form().has_long_width(sheet.width, sheet.height);
    let (long, short) = if is_long { (wide, tall) } else { (tall, wide) };
    let fits = fit_to_page(wide, tall);
    if let Some(scale) = fits {
        findings.push(find::fitted(scale, asked.must_fit));
    }
    if forbids_print(findings) {
        return None;
    }
    let true_enough = |a: Axis| libm::fabs(a.by - 1.0) <= a.within;
    if true_enough(long) && true_enough(short) {
        findings.push(find::nothing(long, short, readings.strip.is_some()));
    }
    if let Some(check) = print.checks.first() {
        let axis = if lies_along_width(print, check) { wide } else { tall };
        let open = axis.factor().proven.of(check.length);
        if open > OPEN {
            let has_strip = readings.strip.is_some();
            findings.push(find::too_little(open, OPEN, check, has_strip));
        }
    }
    let before = old.map(|p| &p.correction);
    let after = |axis: Axis, of: fn(&Correction) -> Factor| match before {
        Some(correction) => axis.after(of(correction)),
        None => axis,
    };
    let (long, short) = (after(long, |c| c.long), after(short, |c| c.short));
    plausible([long.by, short.by], [None, None], findings);
    Some(Printer {
        paper: asked.paper.name().to_owned(),
        correction: Correction {
            printer: asked.name.to_owned(),
            long: long.factor(),
            short: short.factor(),
            margin: asked.margin.or(before.map(|c| c.margin)).unwrap_or(MARGIN),
            fitted: fits.is_some() || before.is_some_and(|c| c.fitted),
        },
        skew: skew.or(old.and_then(|p| p.skew)),
    })
}

/// `None` for what no printer does.
fn estimate(nominal: Length, read: Length, within: Length) -> Option<Estimate> {
    let off = parts(read) / parts(nominal) - 1.0;
    (libm::fabs(off) <= FARTHEST).then(|| Estimate::of(nominal, read, within))
}

/// Whether the piece of `check` lies along the width of its pages.
fn lies_along_width(print: &SheetSet, check: &StripCheck) -> bool {
    let mut tiles = print.sheets.iter().flat_map(|s| &s.tiles);
    let tile = tiles.find(|t| t.piece == check.piece);
    tile.is_none_or(|t| t.placement.turn() == QuarterTurn::None)
}

/// The scale of a print that a viewer fitted to the page: both axes alike, and by as much
/// as viewers do.
fn fit_to_page(wide: Axis, tall: Axis) -> Option<f64> {
    let scale = 2.0 / (wide.by + tall.by);
    let is_alike = libm::fabs(wide.by - tall.by) <= wide.both(tall) + ALIKE;
    let is_usual =
        [SHRUNK, ENLARGED].iter().any(|[from, to]| (*from..=*to).contains(&scale));
    (is_alike && is_usual).then_some(scale)
}

fn skew(
    asked: &Calibration<'_>,
    axes: [Axis; 2],
    findings: &mut Vec<Finding>,
) -> Option<Skew> {
    let [rising, falling] = asked.readings.diagonals.as_ref()?;
    let [low, high] = asked.print.corners;
    let frame = high - low;
    let diagonal = frame.norm();
    for said in [rising, falling] {
        if estimate(diagonal, said.value, Length::ZERO).is_none() {
            let place = said.place.clone();
            findings.push(find::implausible("diagonal", diagonal, said.value, place));
        }
    }
    let sides = [parts(frame.x) / axes[0].by, parts(frame.y) / axes[1].by];
    let within = asked.measuring.of_length(diagonal);
    let skew = Skew::of([rising.value, falling.value], within, sides);
    if skew.is_proven() {
        findings.push(find::skewed(skew, rising.place.clone()));
    }
    Some(skew)
}

/// Finds factors, long then short, that no printer needs.
pub(super) fn plausible(
    [long, short]: [f64; 2],
    places: [Option<crate::diagnostic::Place>; 2],
    findings: &mut Vec<Finding>,
) {
    let [at_long, at_short] = places;
    for (by, place) in [(long, &at_long), (short, &at_short)] {
        // A reading 8 % short needs 8.7 % of correction.
        if !(1.0 / (1.0 + FARTHEST)..=1.0 / (1.0 - FARTHEST)).contains(&by) {
            findings.push(find::implausible_factor(by, place.clone()));
        }
    }
    if libm::fabs(long - short) > APART {
        findings.push(find::axes_apart(libm::fabs(long - short), at_short));
    }
}

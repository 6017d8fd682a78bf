//! From ruler readings on a print to the verdict on it, and to what a printer file keeps.

use super::Skew;
use super::axis::Estimate;
use super::cause::{self, Cause};
use super::reading::{Readings, from_bars, from_strip};
use super::verdict::{Shown, Verdict, refused};
use crate::fit::MeasurementUncertainty;
use crate::geom::Length;
use crate::paginate::{Correction, Factor, Gauge, Paper};
use std::ops::RangeInclusive;

/// The fits to the page that can be undone: what is far from this is no setting to go on with.
const MOST_FIT: RangeInclusive<f64> = 0.92..=1.08;
/// A diagonal that is off by more than this part is a slip: that of A4 by 5° or so.
const MOST_LEAN: f64 = 0.04;

/// The input of [`calibrate`].
#[derive(Clone, Copy, Debug)]
pub struct Calibration<'a> {
    /// What a ruler finds on a true print.
    pub gauge: &'a Gauge,
    /// The paper that it is on.
    pub paper: &'a Paper,
    /// The correction that the print was drawn with.
    pub correction: Option<&'a Correction>,
    /// The readings on it.
    pub readings: &'a Readings,
    /// How accurate the readings are.
    pub measuring: MeasurementUncertainty,
    /// Whether a fit to the page is to be undone.
    pub must_fit: bool,
}

/// The result of [`calibrate`].
#[derive(Clone, Debug)]
pub struct Calibrated {
    /// Whether to punch by this print.
    pub verdict: Verdict,
    /// What corrects the printer, by these readings alone; `None` where they are in doubt.
    pub measured: Option<Measured>,
    /// How far the axes are from square; `None` without sound readings of the diagonals.
    pub skew: Option<Skew>,
}

/// What readings say of a printer: the factors on top of those that the print had.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Measured {
    /// Along the long edge of the sheet.
    pub long: Factor,
    /// Along the short edge.
    pub short: Factor,
    /// Whether they undo a fit to the page.
    pub fitted: bool,
}

/// Judges a print by readings of its bars and its joined strip; `None` unless both bars were
/// read. On the axis along which the strap lies, bars and strip are combined by their
/// variances. On a print that was drawn for a printer the new factors come on top of its own.
pub fn calibrate(asked: &Calibration<'_>) -> Option<Calibrated> {
    let &Calibration { gauge, paper, correction, readings, measuring, must_fit } = asked;
    let all = readings.all(gauge, measuring);
    if readings.wide.is_empty() || readings.tall.is_empty() {
        return None;
    }
    let cause = cause::explain(&all, gauge, paper, correction);
    let is_known = match cause {
        Cause::Printer => true,
        Cause::Fit(scale) => must_fit && MOST_FIT.contains(&scale),
        _ => false,
    };
    if !is_known {
        let verdict = refused(asked, cause, &all, false);
        return Some(Calibrated { verdict, measured: None, skew: None });
    }
    let estimate = |is_wide| {
        let bars = from_bars(&all, is_wide, measuring);
        bars.into_iter().chain(from_strip(&all, is_wide)).reduce(Estimate::combine)
    };
    let axes = [estimate(true)?, estimate(false)?];
    let is_long = paper.form().has_long_width(gauge.page[0], gauge.page[1]);
    let [long, short] = if is_long { [0, 1] } else { [1, 0] };
    let factors = correction.map(|c| {
        let edges = [c.long, c.short];
        [edges[long], edges[short]]
    });
    let is_fitted = cause != Cause::Printer;
    let verdict = if is_fitted {
        refused(asked, cause, &all, true)
    } else {
        Shown { asked, all: &all, axes, factors }.verdict()
    };
    let measured = Measured {
        long: axes[long].on_top_of(correction.map(|c| c.long)),
        short: axes[short].on_top_of(correction.map(|c| c.short)),
        fitted: is_fitted || correction.is_some_and(|c| c.fitted),
    };
    let skew = readings.diagonals.and_then(|both| {
        let sides = [0, 1].map(|i| gauge.frame[i].as_mm_f64() / axes[i].by);
        let diagonal = libm::hypot(sides[0], sides[1]);
        let is_sound =
            |read: &Length| (read.as_mm_f64() / diagonal - 1.0).abs() < MOST_LEAN;
        let within = measuring.of_length(both[0], 0);
        both.iter().all(is_sound).then(|| Skew::from_diagonals(both, within, sides))
    });
    Some(Calibrated { verdict, measured: Some(measured), skew })
}

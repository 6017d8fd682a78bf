//! What a ruler read on a print, beside what was drawn.

use super::axis::Estimate;
use crate::fit::MeasurementUncertainty;
use crate::geom::Length;
use crate::paginate::Gauge;
use std::fmt;

/// Ruler readings on a print.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Readings {
    /// Of the scale bars along the width, one sheet after the other.
    pub wide: Vec<Length>,
    /// Of the scale bars along the height.
    pub tall: Vec<Length>,
    /// From cross to cross of the first joined piece.
    pub strip: Option<Length>,
    /// From corner mark to corner mark: lower left to upper right, then upper left to
    /// lower right.
    pub diagonals: Option<[Length; 2]>,
}

/// One reading: lengths in mm.
#[derive(Clone, Debug)]
pub(super) struct Reading {
    /// What was read.
    what: String,
    /// Whether that is the joined strip.
    pub(super) is_strip: bool,
    /// Whether it lies along the width.
    pub(super) is_wide: bool,
    pub(super) drawn: f64,
    pub(super) read: f64,
    /// Standard uncertainty (k = 1).
    pub(super) sigma: f64,
}

impl fmt::Display for Reading {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}, {:.1} mm where {} mm are drawn", self.what, self.read, self.drawn)
    }
}

impl Readings {
    /// All readings of bars and strip.
    pub(super) fn all(
        &self,
        gauge: &Gauge,
        measuring: MeasurementUncertainty,
    ) -> Vec<Reading> {
        let bar = |axis: usize| {
            let reading = move |read: &Length| Reading {
                what: gauge.names[axis].clone(),
                is_strip: false,
                is_wide: axis == 0,
                drawn: gauge.bars[axis].as_mm_f64(),
                read: read.as_mm_f64(),
                sigma: measuring.of_length(gauge.bars[axis], 0).as_mm_f64() / 2.0,
            };
            [&self.wide, &self.tall][axis].iter().map(reading)
        };
        let strip = self.strip.iter().zip(&gauge.strip).map(|(read, strip)| Reading {
            what: strip.labels.join(" to "),
            is_strip: true,
            is_wide: strip.is_wide,
            drawn: strip.length.as_mm_f64(),
            read: read.as_mm_f64(),
            sigma: measuring.of_length(strip.length, strip.joins).as_mm_f64() / 2.0,
        });
        bar(0).chain(bar(1)).chain(strip).collect()
    }
}

/// The estimate from the bars of one axis; `None` without a reading. All have the same error
/// of the ruler, so that more of them make only the eye's part less.
pub(super) fn from_bars(
    all: &[Reading],
    is_wide: bool,
    measuring: MeasurementUncertainty,
) -> Option<Estimate> {
    let bars = all.iter().filter(|r| !r.is_strip && r.is_wide == is_wide);
    let (mut count, mut sum) = (0.0, 0.0);
    for bar in bars.clone() {
        count += 1.0;
        sum += bar.read;
    }
    let Reading { drawn, sigma, .. } = bars.clone().next()?;
    let eye = 2.0 * libm::pow(measuring.reading.as_mm_f64(), 2.0);
    let square = 4.0 * sigma * sigma - eye * (1.0 - 1.0 / count);
    Some(Estimate { by: drawn * count / sum, within: libm::sqrt(square) / drawn })
}

/// The same from the joined strip, where it lies along this axis.
pub(super) fn from_strip(all: &[Reading], is_wide: bool) -> Option<Estimate> {
    let strip = all.iter().find(|r| r.is_strip && r.is_wide == is_wide)?;
    let Reading { drawn, read, sigma, .. } = strip;
    Some(Estimate { by: drawn / read, within: 2.0 * sigma / drawn })
}

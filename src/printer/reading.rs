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

/// What was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum What {
    Bar,
    /// The joined strip, by the labels of its crosses.
    Strip([String; 2]),
}

/// One reading: lengths in mm.
#[derive(Clone, Debug)]
pub(super) struct Reading {
    pub(super) what: What,
    /// Whether it lies along the width.
    pub(super) is_wide: bool,
    pub(super) drawn: f64,
    pub(super) read: f64,
    /// Standard uncertainty (k = 1).
    pub(super) sigma: f64,
}

impl fmt::Display for Reading {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.what {
            What::Bar if self.is_wide => f.write_str("the bar along the width")?,
            What::Bar => f.write_str("the bar along the height")?,
            What::Strip([from, to]) => write!(f, "cross {from} to cross {to}")?,
        }
        write!(f, " reads {:.1} mm where {} mm are drawn", self.read, self.drawn)
    }
}

impl Readings {
    /// All readings of bars and strip.
    pub(super) fn all(
        &self,
        gauge: &Gauge,
        measuring: MeasurementUncertainty,
    ) -> Vec<Reading> {
        let reading = |what, is_wide, drawn: Length, read: Length, joins| Reading {
            what,
            is_wide,
            drawn: drawn.as_mm_f64(),
            read: read.as_mm_f64(),
            sigma: measuring.of_length(drawn, joins).as_mm_f64() / 2.0,
        };
        let [wide, tall] = gauge.bars;
        let bar = |is_wide, drawn| {
            move |read: &Length| reading(What::Bar, is_wide, drawn, *read, 0)
        };
        let strip = self.strip.iter().zip(&gauge.strip).map(|(read, strip)| {
            let what = What::Strip(strip.labels.clone());
            reading(what, strip.is_wide, strip.length, *read, strip.joins)
        });
        let bars = self.wide.iter().map(bar(true, wide));
        bars.chain(self.tall.iter().map(bar(false, tall))).chain(strip).collect()
    }
}

/// The estimate from the bars of one axis; `None` without a reading. All have the same error
/// of the ruler, so that more of them make only the eye's part less.
pub(super) fn from_bars(
    all: &[Reading],
    is_wide: bool,
    measuring: MeasurementUncertainty,
) -> Option<Estimate> {
    let bars = all.iter().filter(|r| r.what == What::Bar && r.is_wide == is_wide);
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
    let strip = all.iter().find(|r| r.what != What::Bar && r.is_wide == is_wide)?;
    let Reading { drawn, read, sigma, .. } = strip;
    Some(Estimate { by: drawn / read, within: 2.0 * sigma / drawn })
}

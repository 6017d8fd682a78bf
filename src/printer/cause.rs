//! Why a print reads as it does: the printer, a fit to the page, another print, or a slip.
//!
//! Every cause says what true readings would then be. What is left over is held against the
//! uncertainty of the readings and against what printers are off by, as a sum of squares. The
//! cause with the least sum wins. Each has a cost besides, so that a rarer cause must explain
//! clearly more (a likelihood ratio with prior odds; JCGM 106:2012, 6).

use super::reading::Reading;
use crate::geom::Length;
use crate::paginate::{Correction, Gauge, Paper};

/// Standard deviation of what printers are off by along one edge: nearly all are within 2 %
/// (common practice, no source).
const PRINTER: f64 = 0.011;
/// A fit changes the scale by more than printers do and readings can hide. The least that
/// viewers do is that of a margin of 3 mm on A4, 97.1 % (computed).
const LEAST_FIT: f64 = 0.024;
/// The most that no cause explains: five standard deviations.
const MOST: f64 = 25.0;
/// Marks of a ruler from which a person may have started.
const STARTS: [Length; 3] =
    [Length::from_mm(10), Length::from_inches(1), Length::from_mm(100)];
/// What one unit for another makes of a reading: cm for mm, mm for cm, in for mm, mm for in.
const UNITS: [f64; 4] = [10.0, 0.1, 25.4, 1.0 / 25.4];

/// Why a print reads as it does.
#[derive(Clone, Debug, PartialEq)]
pub enum Cause {
    /// The printer, the paper's damp, and the noise of reading.
    Printer,
    /// A viewer that scaled the page to this part of its size.
    Fit(f64),
    /// The file undoes a fit to the page, and the print was not fitted.
    Unfitted(f64),
    /// These are the bars of a print on this paper.
    OtherPaper(String),
    /// The readings of the bars are swapped.
    Swapped,
    /// All readings start at this mark of the ruler.
    Start(Length),
    /// All readings are in another unit.
    Unit,
    /// One reading is wrong, and started at this mark of the ruler if that explains it.
    Slip {
        /// Which one: bars along the width, bars along the height, strip.
        reading: usize,
        /// The mark of the ruler.
        start: Option<Length>,
    },
    /// Nothing of these.
    Unknown,
}

/// What readings would be, for one cause.
struct Model {
    cause: Cause,
    cost: f64,
    scale: f64,
    /// In mm.
    start: f64,
    /// The bars that were drawn, in mm, where they are others.
    bars: Option<[f64; 2]>,
    /// The reading that is left out; the strip's where the print is another.
    left_out: Option<usize>,
}

impl Model {
    fn new(cause: Cause, cost: f64) -> Self {
        Self { cause, cost, scale: 1.0, start: 0.0, bars: None, left_out: None }
    }

    /// What is left over of the readings: the sum of squares at the likeliest scale of the
    /// printer along each edge.
    fn misfit(&self, all: &[Reading]) -> f64 {
        let mut sum = self.cost;
        for is_wide in [true, false] {
            let own = all.iter().enumerate().filter(|(i, reading)| {
                let is_other = self.bars.is_some() && reading.is_strip;
                reading.is_wide == is_wide && self.left_out != Some(*i) && !is_other
            });
            let (mut weights, mut first) = (1.0 / (PRINTER * PRINTER), 0.0);
            for (_, reading) in own {
                let [wide, tall] = self.bars.unwrap_or([reading.drawn; 2]);
                let drawn = if is_wide { wide } else { tall } * self.scale;
                let off = (reading.read - self.start) / drawn - 1.0;
                let weight = libm::pow(drawn / reading.sigma, 2.0);
                weights += weight;
                first += weight * off;
                sum += weight * off * off;
            }
            sum -= first * first / weights;
        }
        sum
    }
}

/// The likeliest cause of readings on a print on `paper` that was drawn for `correction`.
pub(super) fn explain(
    all: &[Reading],
    gauge: &Gauge,
    paper: &Paper,
    correction: Option<&Correction>,
) -> Cause {
    let mut models = vec![Model::new(Cause::Printer, 0.0)];
    let scale = mean_scale(all);
    if libm::fabs(scale - 1.0) > LEAST_FIT {
        models.push(Model { scale, ..Model::new(Cause::Fit(scale), 6.0) });
    }
    if let Some(c) = correction.filter(|c| c.fitted) {
        let scale = f64::midpoint(c.long.by.as_f64(), c.short.by.as_f64());
        models.push(Model { scale, ..Model::new(Cause::Unfitted(scale), 3.0) });
    }
    for start in STARTS {
        let shifted = Model::new(Cause::Start(start), 5.0);
        models.push(Model { start: start.as_mm_f64(), ..shifted });
    }
    for scale in UNITS {
        models.push(Model { scale, ..Model::new(Cause::Unit, 4.0) });
    }
    let [wide, tall] = gauge.bars.map(Length::as_mm_f64);
    models.push(Model { bars: Some([tall, wide]), ..Model::new(Cause::Swapped, 4.0) });
    let own = paper.form();
    let others = Paper::REGISTER.iter().filter_map(|(name, _)| Paper::parse(name).ok());
    for other in others.filter(|other| other.form() != own) {
        for bars in Gauge::bars_on(&other) {
            let cause = Cause::OtherPaper(other.name().to_owned());
            let bars = Some(bars.map(Length::as_mm_f64));
            models.push(Model { bars, ..Model::new(cause, 6.0) });
        }
    }
    for reading in 0..all.len() {
        let cause = Cause::Slip { reading, start: started_at(all, reading) };
        models.push(Model { left_out: Some(reading), ..Model::new(cause, 10.0) });
    }
    let judged = models.into_iter().map(|model| (model.misfit(all), model.cause));
    let best = judged.min_by(|(a, _), (b, _)| a.total_cmp(b));
    best.filter(|(misfit, _)| *misfit <= MOST).map_or(Cause::Unknown, |(_, cause)| cause)
}

/// The mean scale of the two axes, each by its readings, weighted.
fn mean_scale(all: &[Reading]) -> f64 {
    let mean = |is_wide| {
        let (mut weights, mut sum) = (0.0, 0.0);
        for reading in all.iter().filter(|r| r.is_wide == is_wide) {
            let weight = libm::pow(reading.drawn / reading.sigma, 2.0);
            weights += weight;
            sum += weight * reading.read / reading.drawn;
        }
        sum / weights
    };
    f64::midpoint(mean(true), mean(false))
}

/// The mark of the ruler from which a wrong reading started, if that makes it right.
fn started_at(all: &[Reading], wrong: usize) -> Option<Length> {
    let starts = STARTS.into_iter();
    let misfit = |start: Length| {
        let mut moved = all.to_vec();
        moved[wrong].read -= start.as_mm_f64();
        Model::new(Cause::Printer, 0.0).misfit(&moved)
    };
    starts.map(|s| (misfit(s), s)).find(|(misfit, _)| *misfit < 8.0).map(|(_, s)| s)
}

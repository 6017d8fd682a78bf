//! The verdict over all readings of a print: whether to punch by it, and why not.

use super::Calibration;
use super::axis::{Estimate, tenth_up};
use super::cause::Cause;
use super::reading::{Reading, from_bars, from_strip};
use crate::fit::{DAMP, JoinCounts};
use crate::geom::Length;
use crate::paginate::{Factor, GaugeStrip, LastMark};

/// How often a true print passes, over all its readings together.
const CONFIDENCE: f64 = 0.95;
/// The most that the readings may leave open at the last hole, about 1/16 in (common
/// practice, no source).
const MOST_OPEN: f64 = 1.6;

/// The settings that scale a page, in the words of viewers and drivers.
const SETTINGS: &str = "choose Actual size (100 %, Scale: none), switch off Fit, Shrink and \
                        Borderless in the viewer and in the printer's own settings, and print \
                        again";

/// Whether to punch by a print.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict {
    /// Whether the print is true, and the readings prove it.
    pub may_punch: bool,
    /// How far off the last hole may be (k = 2); without a strap, any place on 1 m. `None`
    /// where the readings do not tell.
    pub within: Option<Length>,
    /// Why the print reads as it does.
    pub cause: Cause,
    /// The verdict in words, with what to do.
    pub words: String,
}

/// The print as its readings show it, when they come from a printer and not from a slip.
pub(super) struct Shown<'a> {
    pub(super) asked: &'a Calibration<'a>,
    pub(super) all: &'a [Reading],
    /// The estimates along width and height.
    pub(super) axes: [Estimate; 2],
    /// The factors of the print along width and height.
    pub(super) factors: Option<[Factor; 2]>,
}

impl Shown<'_> {
    pub(super) fn verdict(&self) -> Verdict {
        let (off, open) = self.last_hole();
        let strip = self.asked.gauge.strip.as_ref();
        let is_true = are_true(self.all);
        let within = is_true.then(|| tenth_up(libm::fabs(off) + open));
        let words = match within {
            None => refusal(self.asked, true, &self.untrue()),
            Some(_) if open > MOST_OPEN => {
                let open = tenth_up(open).mm(1);
                let finer = finer(strip.filter(|_| self.asked.readings.strip.is_none()));
                let has_hole = self.asked.gauge.last.is_some();
                let at = if has_hole { "at the last hole" } else { "on 1 m" };
                let text = format!("these readings leave ±{open} mm open {at}. {finer}");
                refusal(self.asked, false, &text)
            }
            Some(within) if self.asked.gauge.last.is_none() => {
                format!("True: within {} mm on 1 m.", within.mm(1))
            }
            Some(within) => format!("Punch. Last hole within {} mm.", within.mm(1)),
        };
        let may_punch = is_true && open <= MOST_OPEN;
        Verdict { may_punch, within, cause: Cause::Printer, words }
    }

    fn untrue(&self) -> String {
        let [wide, tall] = self.axes.map(|axis| {
            format!("{:.2} % (±{:.2})", 100.0 / axis.by, 100.0 * axis.within)
        });
        let damp = match self.factors {
            Some(_) => "The printer or its paper has changed, or is damp",
            None => "That is the printer, or damp in the paper",
        };
        format!(
            "this print is at {wide} along the width and {tall} along the height. \
             {damp}. Read again; if it stays so, add the readings to a printer file (--printer \
             FILE), draw for that file, and print again."
        )
    }

    /// How far off the last hole is, and the expanded uncertainty of that, in mm: by the bars
    /// and the printer file, and by the joined strip, weighted. Without a last hole, of 1 m.
    fn last_hole(&self) -> (f64, f64) {
        let Calibration { gauge, measuring, .. } = self.asked;
        let metre = LastMark {
            way: Length::from_mm(1_000),
            joins: JoinCounts {
                length_only: gauge.strip.as_ref().map_or(0, |strip| strip.joins),
                ..JoinCounts::default()
            },
            is_wide: gauge.strip.as_ref().is_none_or(|strip| strip.is_wide),
        };
        let last = gauge.last.as_ref().unwrap_or(&metre);
        let way = last.way.as_mm_f64();
        let bars = from_bars(self.all, last.is_wide, *measuring);
        let known = self.factors.map(|[wide, tall]| {
            let proven = if last.is_wide { wide } else { tall }.proven;
            Estimate::true_within(libm::hypot(proven.as_f64(), DAMP.as_f64()))
        });
        let on_way = last.joins.both + last.joins.distance_only;
        let bars = bars.into_iter().chain(known).reduce(Estimate::combine);
        let by_bars = bars.map(|scale| Estimate {
            by: way * (1.0 / scale.by - 1.0),
            within: libm::hypot(
                way * scale.within,
                measuring.of_joins(on_way).as_mm_f64(),
            ),
        });
        let strip = from_strip(self.all, last.is_wide).zip(gauge.strip.as_ref());
        let by_strip = strip.map(|(scale, strip)| {
            let within = measuring.of_read(last.way, strip.length, last.joins);
            Estimate { by: way * (1.0 / scale.by - 1.0), within: within.as_mm_f64() }
        });
        let hole = by_bars.into_iter().chain(by_strip).reduce(Estimate::combine);
        hole.map_or((0.0, f64::INFINITY), |hole| (hole.by, hole.within))
    }
}

/// Whether a true print would read so, in 95 of 100 cases over all readings together.
fn are_true(all: &[Reading]) -> bool {
    let most = joint_factor(all.len());
    all.iter().all(|r| libm::fabs(r.read - r.drawn) <= most * r.sigma)
}

/// How many standard uncertainties each of `count` independent readings may be off, so that
/// all are within in 95 of 100 cases (Šidák, JASA 62 (1967), 626-633): 1.96 for one, 2.24 for
/// two, 2.49 for four.
fn joint_factor(count: usize) -> f64 {
    let (mut low, mut high) = (0.0, 10.0);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        let one = libm::erf(middle / std::f64::consts::SQRT_2);
        let all = (0..count).fold(1.0, |all, _| all * one);
        if all < CONFIDENCE { low = middle } else { high = middle }
    }
    high
}

/// What would prove more.
fn finer(strip: Option<&GaugeStrip>) -> String {
    match strip {
        Some(GaugeStrip { labels: [from, to], length, .. }) => format!(
            "Join the strips and read {from} to {to}, {} on a true print: --strip READ.",
            length.both()
        ),
        None => {
            "Read more finely, with a steel ruler of class I, and say so: --resolution \
                 \"0.2 mm\" --ruler-class I."
                .to_owned()
        }
    }
}

/// The words that forbid to punch by a print: for sure, or until it is read again. A print
/// without a strap is not punched by.
fn refusal(asked: &Calibration<'_>, is_sure: bool, text: &str) -> String {
    let begin = match (asked.gauge.last.is_some(), is_sure) {
        (true, true) => "Do not punch",
        (true, false) => "Do not punch yet",
        (false, true) => "Not true",
        (false, false) => "Not yet true",
    };
    format!("{begin}: {text}")
}

/// The verdict on a print that is not a printer's alone. `is_undone` says that a fit goes into
/// a printer file.
pub(super) fn refused(
    asked: &Calibration<'_>,
    cause: Cause,
    all: &[Reading],
    is_undone: bool,
) -> Verdict {
    let text = match &cause {
        Cause::Printer => String::new(),
        Cause::Fit(scale) if is_undone => format!(
            "this print is fitted to the page, at {:.1} %. The printer file undoes that: draw \
             with it, and print every sheet with the same settings as this one; at 100 % it \
             would come out wrong.",
            100.0 * scale
        ),
        Cause::Fit(scale) => format!(
            "the bars read {:.1} %. Your viewer fitted the page: {SETTINGS}. If it cannot be \
             switched off, as on some phones, give --cannot-switch-off.",
            100.0 * scale
        ),
        Cause::Unfitted(scale) => format!(
            "the bars read {:.1} %. The file undoes a fit to the page, and this was printed \
             without the fit. Print it again with the settings of the calibration; or draw it \
             without --printer and print at 100 %.",
            100.0 * scale
        ),
        Cause::OtherPaper(other) => format!(
            "these are the bars of a print on {other}, and this file is a print on {}. Give \
             the file whose print you measured.",
            asked.paper.name()
        ),
        Cause::Swapped => format!(
            "{}. Did you swap the two bars? --wide-bar is the one along the width, --tall-bar \
             the one along the height.",
            listed(all)
        ),
        Cause::Start(start) => format!(
            "every reading is {start} too long: {}. Did you start at the {start} mark of the \
             ruler? Take {start} off each reading, or read again from 0.",
            listed(all)
        ),
        Cause::Unit => format!("{}. Check the unit of the readings.", listed(all)),
        Cause::Slip { reading, start } => {
            let start = start.map_or_else(String::new, |start| {
                format!(" Did you start at the {start} mark of the ruler?")
            });
            format!(
                "one reading does not agree with the others: {}.{start} Read it again, from \
                 end to end; check that the crosses of every join lie on each \
                 other, and that it is the print of this file.",
                all[*reading]
            )
        }
        Cause::Unknown => format!(
            "neither a printer nor a fit to the page makes these readings: {}. Read both bars \
             again, each from end to end, check the unit, and give the file \
             whose print you measured.",
            listed(all)
        ),
    };
    let is_sure = matches!(cause, Cause::Fit(_) | Cause::Unfitted(_));
    let words = refusal(asked, is_sure, &text);
    Verdict { may_punch: false, within: None, cause, words }
}

fn listed(all: &[Reading]) -> String {
    all.iter().map(ToString::to_string).collect::<Vec<_>>().join("; ")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Values of the normal distribution: two-sided 95 % for one; 97.47 %, 98.31 % and
    /// 98.73 % for two, three and four (NIST/SEMATECH e-Handbook, 1.3.6.7.1).
    #[test]
    fn more_readings_have_more_room_each() {
        for (count, factor) in [(1, 1.960), (2, 2.236), (3, 2.388), (4, 2.491)] {
            assert!((joint_factor(count) - factor).abs() < 1e-3, "{count}");
        }
    }
}

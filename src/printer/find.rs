//! The findings of this stage.

use super::axis::{Axis, Estimate};
use super::skew::Skew;
use crate::diagnostic::{Finding, RuleId, Severity, Span};
use crate::geom::Length;
use crate::paginate::StripCheck;
use crate::printer::rule;

/// Largest scale error that is believed. Desktop printers are 1 to 2 % off, and a fit to the
/// page is 3 to 7 %.
pub(super) const FARTHEST: f64 = 0.08;
/// Largest difference between the axes that is believed; 0.5 % is reported.
pub(super) const APART: f64 = 0.02;

/// The settings that scale a page, in the words of viewers and drivers.
const SETTINGS: &str = "look in the print window of the viewer, then in the printer's own \
                        settings, for `Actual size`, `100 %`, `Scale: none`, and switch \
                        off `Fit`, `Shrink to printable area`, `Borderless` and `Enlarge`";

/// What was measured, and from where to where.
#[derive(Clone, Copy)]
pub(super) struct Measured<'a> {
    pub(super) what: &'a str,
    pub(super) from: &'a str,
    pub(super) to: &'a str,
}

fn warning(rule: RuleId, message: impl Into<String>) -> Finding {
    Finding::warning(rule, message)
}

fn note(rule: RuleId, message: impl Into<String>) -> Finding {
    Finding::new(rule, Severity::Note, message)
}

/// A reading that no printer can cause.
pub(super) fn implausible(
    Measured { what, from, to }: Measured<'_>,
    nominal: Length,
    read: Length,
    span: Option<Span>,
) -> Finding {
    let [least, most] = [92, 108].map(|percent| nominal.times(percent, 100).mm(1));
    let message = format!("no printer is this far off in its {what}");
    Finding::error(rule::IMPLAUSIBLE_SCALE, message)
        .at(span)
        .expected(
            format!("{} where {} are drawn", read.both(), nominal.both()),
            format!("{least} to {most} mm: within 8 %"),
        )
        .remedy(format!(
            "read the {what} again from {from} to {to}, check the unit, and give the job, \
             paper and printer file of this print"
        ))
}

/// A factor that is larger or smaller than any printer needs.
pub(super) fn implausible_factor(by: f64, span: Option<Span>) -> Finding {
    Finding::error(rule::IMPLAUSIBLE_SCALE, "no printer needs this much correction")
        .at(span)
        .expected(format!("×{by:.6}"), "0.926 to 1.087: within 8 %")
        .remedy("calibrate again with a print that was drawn without a printer file")
}

/// Axes that differ too much: an error until the person who read the bars confirms it.
pub(super) fn axes_apart(apart: f64, severity: Severity, span: Option<Span>) -> Finding {
    let remedy = match severity {
        Severity::Error => {
            "read both bars again, each from its first tick to its last; if they stay so, \
             give --axes-apart"
        }
        _ => "read both bars of every sheet before you trust it",
    };
    let message = "the two axes differ more than those of printers do";
    Finding::new(rule::AXES_APART, severity, message)
        .at(span)
        .expected(format!("{:.2} % apart", apart * 100.0), "at most 2 %")
        .remedy(remedy)
}

/// A square sheet, which can be put in either way.
pub(super) fn square() -> Finding {
    note(rule::SQUARE_PAPER, "a square sheet has no long edge")
        .expected(
            "sides of one length",
            "factors by the page's width (`long`) and height (`short`), as it is read",
        )
        .remedy("always put the paper in, and turn the page, as for this print")
}

/// A print that the viewer scaled to `scale`.
pub(super) fn fitted(scale: f64, must_stay: bool) -> Finding {
    let way = if scale < 1.0 { "shrunk" } else { "enlarged" };
    let finding = if must_stay {
        warning(
            rule::FITTED_TO_PAGE,
            format!("the print was {way} to fit the page, and that is undone"),
        )
        .remedy(
            "print every sheet drawn for this printer with the same settings: at 100 % it \
             would come out wrong",
        )
    } else {
        Finding::error(
            rule::FITTED_TO_PAGE,
            format!("the print was {way} to fit the page: a setting, not the printer"),
        )
        .remedy(format!(
            "{SETTINGS}; print again at 100 % and calibrate that. If it cannot be switched \
             off, as on some phones, give --cannot-switch-off"
        ))
    };
    let found = format!("both axes at {:.1} %", scale * 100.0);
    finding.expected(found, "100 %, within what printers are off")
}

/// A printer file that undoes a fit, for a print that was not fitted.
pub(super) fn unfitted([wide, tall]: [Axis; 2], must_fit: bool) -> Finding {
    let scale = |axis: Axis| 100.0 / axis.by;
    let message =
        "this was printed without the fit to the page that the printer file undoes";
    let finding = if must_fit {
        Finding::error(rule::PRINTED_UNFITTED, message).remedy(
            "print again with the settings of the first calibration, and calibrate that; \
             or leave out --cannot-switch-off, for a printer file to print with at 100 %",
        )
    } else {
        warning(rule::PRINTED_UNFITTED, message).remedy(
            "print at 100 % from now on, with the file of this calibration; the old file is \
             wrong there. To go on with the fit, print and measure again with the settings \
             of the first calibration",
        )
    };
    let found = format!("width at {:.1} %, height at {:.1} %", scale(wide), scale(tall));
    finding.expected(found, "100 %, which the fit makes of a drawing for this file")
}

/// A bar and a strip that give different scales.
pub(super) fn disagree(
    bar: Estimate,
    strip: Estimate,
    check: &StripCheck,
    span: Option<Span>,
) -> Finding {
    let [from, to] = &check.labels;
    let scale = |e: Estimate| format!("{:.2} % (±{:.2})", 100.0 / e.by, 100.0 * e.within);
    let message = "the bar and the joined strip give different scales";
    Finding::error(rule::READINGS_DISAGREE, message)
        .at(span)
        .expected(
            format!("the bar says {}, {from} to {to} says {}", scale(bar), scale(strip)),
            "two readings that agree within the uncertainty of ruler and joins",
        )
        .remedy(
            "read both again; check that the crosses of every join lie on each other and \
             that the joined strip is flat and straight; or the print is of another job: \
             name the job",
        )
}

/// Readings that leave `open` on the strap.
pub(super) fn too_little(
    open: Length,
    most: Length,
    check: &StripCheck,
    has_strip: bool,
) -> Finding {
    let [from, to] = &check.labels;
    let remedy = if has_strip {
        "read more finely, with a steel ruler of class I, and say so: --resolution \"0.2 mm\" \
         --ruler-class I"
            .to_owned()
    } else {
        format!(
            "join the strips and measure cross {from} to cross {to}, {} on an accurate \
             print: --strip READING",
            check.length.both()
        )
    };
    warning(rule::PROVES_TOO_LITTLE, "the readings are too coarse for this strap")
        .expected(
            format!("the scale leaves ±{} mm open from {from} to {to}", open.mm(1)),
            format!("at most ±{} mm, a sixteenth of an inch", most.mm(1)),
        )
        .remedy(remedy)
}

/// Which printer file to draw with where there is nothing to correct.
#[derive(Clone, Copy)]
pub(super) enum FileToUse {
    /// The one that the print was drawn for.
    Old,
    /// None.
    None,
    /// A new one, for its margin or skew.
    New,
}

/// An error that is smaller than the readings can show. `strip` is the long check that was
/// not read.
pub(super) fn nothing_to_correct(
    edges: [&str; 2],
    [long, short]: [Axis; 2],
    file: FileToUse,
    strip: Option<&StripCheck>,
) -> Finding {
    let remedy = match file {
        FileToUse::Old => "draw with the same --printer as before; no new file is needed",
        FileToUse::None => {
            "draw without --printer and print at 100 %; no printer file is needed"
        }
        FileToUse::New => {
            "the factors stay as they were; the file keeps the new margin or skew"
        }
    };
    let finer = strip.map(|check| {
        let [from, to] = &check.labels;
        format!(
            ". To measure more finely, read the joined strip from cross {from} to cross {to}: \
             --strip"
        )
    });
    note(rule::NOTHING_TO_CORRECT, "the error is smaller than these readings can show")
        .expected(
            format!("{} {long}, {} {short}", edges[0], edges[1]),
            "a factor that differs from 1 by more than its uncertainty",
        )
        .remedy(remedy.to_owned() + &finer.unwrap_or_default())
}

/// Axes that are not square to each other.
pub(super) fn skewed(skew: Skew, span: Option<Span>) -> Finding {
    note(rule::SKEWED, "the printer's axes are not square to each other")
        .at(span)
        .expected(
            format!("{:.2}° off square, ±{:.2}°", skew.degrees, skew.within),
            "0°, within what was read",
        )
        .remedy(format!(
            "the file keeps it, and nothing corrects it: lengths along the strap stay \
             accurate, and what lies 20 mm off the centre line is shifted by {:.2} mm. Mark \
             square ends with a square, not by the print",
            20.0 * libm::tan(skew.degrees.to_radians())
        ))
}

/// A printer that was measured with another paper. A fit belongs to one size of page: the
/// viewer scales another page by another factor.
pub(super) fn other_paper(own: &str, asked: &str, fitted: bool) -> Finding {
    let finding = if fitted {
        let message = "this printer file undoes a fit to another paper";
        Finding::error(rule::OTHER_PAPER, message).remedy(format!(
            "print on `{own}`, or print a drawing for `{asked}` without this file and \
             calibrate that into a file of its own"
        ))
    } else {
        let message = "this printer was measured with another paper";
        warning(rule::OTHER_PAPER, message).remedy(format!(
            "print on `{own}`, or calibrate the printer on `{asked}`; until then read both \
             scale bars of every sheet"
        ))
    };
    finding.expected(
        format!("a sheet of `{asked}`"),
        format!("`{own}`, for which the factors were read"),
    )
}

//! The findings of this stage.

use super::axis::{Axis, Estimate};
use super::skew::Skew;
use crate::diagnostic::{Finding, Severity, Span};
use crate::geom::Length;
use crate::paginate::StripCheck;

/// The rules that this stage can find broken, each with what it means.
pub const RULES: &[(&str, &str)] = &[
    ("printer-syntax", "a printer file is not TOML"),
    ("printer-key", "a printer file has a key that nobody knows"),
    ("printer-missing", "a printer file lacks a key"),
    ("printer-value", "a printer file has a value that its key cannot take"),
    ("implausible-scale", "no printer is this far off: a slip of the reading"),
    ("axes-apart", "the two axes of a printer differ more than printers do"),
    ("fitted-to-page", "not the printer but the viewer scaled the print"),
    ("printed-unfitted", "the print was to be fitted to the page and was not"),
    ("readings-disagree", "bar and strip tell of different printers"),
    ("proves-too-little", "the readings prove too little for this strap"),
    ("nothing-to-correct", "the readings cannot tell the printer from a true one"),
    ("skewed", "the printer's axes are not square to each other"),
    ("square-paper", "a square sheet has no long edge to tell the axes by"),
    ("other-paper", "the printer was measured on another paper"),
];

/// Farthest that a scale is believed to be off. Desktop printers are 1 to 2 % off, and a
/// fit to the page 3 to 7 %.
pub(super) const FARTHEST: f64 = 0.08;
/// Farthest that the two axes are believed to be apart; reported is 0.5 %.
pub(super) const APART: f64 = 0.02;

/// The settings that scale a page, in the words that viewers and drivers use.
const SETTINGS: &str = "look in the print window of the viewer, then in the printer's own \
                        settings, for `Actual size`, `100 %`, `Scale: none`, and switch \
                        off `Fit`, `Shrink to printable area`, `Borderless` and `Enlarge`";

/// What was read, and where it is read from and to.
#[derive(Clone, Copy)]
pub(super) struct Measured<'a> {
    pub(super) what: &'a str,
    pub(super) from: &'a str,
    pub(super) to: &'a str,
}

/// A reading from which no printer can be told.
pub(super) fn implausible(
    Measured { what, from, to }: Measured<'_>,
    nominal: Length,
    read: Length,
    span: Option<Span>,
) -> Finding {
    Finding::new(
        "implausible-scale",
        Severity::Error,
        format!("no printer is this far off in its {what}"),
    )
    .at(span)
    .expected(
        format!("{} where {} are drawn", read.both(), nominal.both()),
        format!(
            "{} to {} mm: within 8 %",
            nominal.times(92, 100).mm(1),
            nominal.times(108, 100).mm(1)
        ),
    )
    .remedy(format!(
        "read the {what} again from {from} to {to}, look at the unit, and give the job, \
         paper and printer file of this very print"
    ))
}

/// Factors that together leave what is believed.
pub(super) fn implausible_factor(by: f64, span: Option<Span>) -> Finding {
    Finding::new(
        "implausible-scale",
        Severity::Error,
        "no printer needs this much correction",
    )
    .at(span)
    .expected(format!("×{by:.6}"), "0.926 to 1.087: within 8 %")
    .remedy("calibrate anew on a print without a printer file")
}

/// An error until the person who read the bars says that it is so.
pub(super) fn axes_apart(apart: f64, severity: Severity, span: Option<Span>) -> Finding {
    let remedy = match severity {
        Severity::Error => {
            "read both bars again, each from its first tick to its last; if they stay so, \
             give --axes-apart"
        }
        _ => "read both bars of every sheet before you trust it",
    };
    Finding::new(
        "axes-apart",
        severity,
        "the two axes differ more than those of printers do",
    )
    .at(span)
    .expected(format!("{:.2} % apart", apart * 100.0), "at most 2 %")
    .remedy(remedy)
}

/// A square sheet lies no way round.
pub(super) fn square() -> Finding {
    Finding::new("square-paper", Severity::Note, "a square sheet has no long edge")
        .expected(
            "sides of one length",
            "factors by the page's width (`long`) and height (`short`), as it is read",
        )
        .remedy("put the paper in and leave the page unturned as for this print, always")
}

/// The viewer's doing, not the printer's.
pub(super) fn fitted(scale: f64, must_stay: bool) -> Finding {
    let way = if scale < 1.0 { "shrunk" } else { "enlarged" };
    let found = format!("both axes at {:.1} %", scale * 100.0);
    let required = "100 %, within what printers are off";
    if must_stay {
        return Finding::new(
            "fitted-to-page",
            Severity::Warning,
            format!("the print was {way} to fit the page, and that is undone"),
        )
        .expected(found, required)
        .remedy(
            "print every sheet drawn for this printer with the very same settings: at \
             100 % it would come out wrong",
        );
    }
    Finding::new(
        "fitted-to-page",
        Severity::Error,
        format!(
            "the print was {way} to fit the page; that is a setting, not the printer"
        ),
    )
    .expected(found, required)
    .remedy(format!(
        "{SETTINGS}; print again at 100 % and calibrate that. If it cannot be switched \
         off, as on some phones, give --cannot-switch-off"
    ))
}

/// The file undoes a fit that the print did not have.
pub(super) fn unfitted([wide, tall]: [Axis; 2], must_fit: bool) -> Finding {
    let scale = |axis: Axis| 100.0 / axis.by;
    let found = format!("width at {:.1} %, height at {:.1} %", scale(wide), scale(tall));
    let finding = |severity| {
        Finding::new(
            "printed-unfitted",
            severity,
            "this was printed without the fit to the page that the printer file undoes",
        )
        .expected(found, "100 %, which the fit makes of a drawing for this file")
    };
    if must_fit {
        return finding(Severity::Error).remedy(
            "print again with the settings of the first calibration, and calibrate that; \
             or leave out --cannot-switch-off, for a printer file to print with at 100 %",
        );
    }
    finding(Severity::Warning).remedy(
        "print at 100 % from now on, by what this calibration says; the old file is wrong \
         there. To go on with the fit, print and measure again with the settings of the \
         first calibration",
    )
}

pub(super) fn disagree(
    bar: Estimate,
    strip: Estimate,
    check: &StripCheck,
    span: Option<Span>,
) -> Finding {
    let [from, to] = &check.labels;
    let told = |e: Estimate| format!("{:.2} % (±{:.2})", 100.0 / e.by, 100.0 * e.within);
    Finding::new(
        "readings-disagree",
        Severity::Error,
        "the bar and the joined strip tell of different printers",
    )
    .at(span)
    .expected(
        format!("the bar says {}, {from} to {to} says {}", told(bar), told(strip)),
        "two readings that agree within what rulers and joins leave open",
    )
    .remedy(
        "read both again; look whether every join has its crosses on each other and the \
         joined strip lies flat and straight",
    )
}

/// What the readings leave open on the strap.
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
            "join the strips and measure cross {from} to cross {to}, {} on a true print: \
             --strip READING",
            check.length.both()
        )
    };
    Finding::new(
        "proves-too-little",
        Severity::Warning,
        "what was read proves too little for this strap",
    )
    .expected(
        format!("the scale leaves ±{} mm open from {from} to {to}", open.mm(1)),
        format!("at most ±{} mm, a sixteenth of an inch", most.mm(1)),
    )
    .remedy(remedy)
}

/// What is to be done where nothing is to be corrected.
#[derive(Clone, Copy)]
pub(super) enum Then {
    /// Go on with the printer file that the print was drawn for.
    DrawWithTheOld,
    /// No printer file is needed.
    DrawWithNone,
    /// A new one keeps the margin or the skew.
    KeepTheRest,
}

/// `strip` is the long check that was not read.
pub(super) fn nothing(
    edges: [&str; 2],
    [long, short]: [Axis; 2],
    then: Then,
    strip: Option<&StripCheck>,
) -> Finding {
    let remedy = match then {
        Then::DrawWithTheOld => {
            "draw with the same --printer as before; no new file is needed"
        }
        Then::DrawWithNone => {
            "draw without --printer and print at 100 %; no printer file is needed"
        }
        Then::KeepTheRest => {
            "the factors are left as they were; the file keeps what else is new"
        }
    };
    let surer = strip.map(|check| {
        let [from, to] = &check.labels;
        format!(
            ". To be surer, measure the joined strip from cross {from} to cross {to}: --strip"
        )
    });
    Finding::new(
        "nothing-to-correct",
        Severity::Note,
        "these readings cannot tell this print from a true one",
    )
    .expected(
        format!("{} {long}, {} {short}", edges[0], edges[1]),
        "a factor that differs from 1 by more than its uncertainty",
    )
    .remedy(remedy.to_owned() + &surer.unwrap_or_default())
}

pub(super) fn skewed(skew: Skew, span: Option<Span>) -> Finding {
    Finding::new(
        "skewed",
        Severity::Note,
        "the printer's axes are not square to each other",
    )
    .at(span)
    .expected(
        format!("{:.2}° off square, ±{:.2}°", skew.degrees, skew.within),
        "0°, within what was read",
    )
    .remedy(format!(
        "it is kept in the file and not corrected: lengths along the strap stay true, and \
         what lies 20 mm off the centre line is shifted by {:.2} mm. Mark square ends with a \
         square, not by the print",
        20.0 * libm::tan(skew.degrees.to_radians())
    ))
}

/// A fit belongs to one size of page: on another the viewer scales by another factor.
pub(super) fn other_paper(own: &str, asked: &str, fitted: bool) -> Finding {
    let (severity, message, remedy) = if fitted {
        (
            Severity::Error,
            "this printer file undoes a fit to another paper",
            format!(
                "print on `{own}`, or print a drawing for `{asked}` without this file and \
                 calibrate that into a file of its own"
            ),
        )
    } else {
        (
            Severity::Warning,
            "this printer was measured on another paper",
            format!(
                "print on `{own}`, or calibrate the printer on `{asked}`; until then read \
                 both scale bars of every sheet"
            ),
        )
    };
    Finding::new("other-paper", severity, message)
        .expected(
            format!("a sheet of `{asked}`"),
            format!("`{own}`, for which the factors were read"),
        )
        .remedy(remedy)
}

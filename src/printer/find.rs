//! The findings of this stage.

use super::axis::{Axis, Estimate};
use super::skew::Skew;
use crate::diagnostic::{Finding, Place, Severity};
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
    ("readings-disagree", "bar and strip tell of different printers"),
    ("proves-too-little", "the readings prove too little for this strap"),
    ("nothing-to-correct", "the readings cannot tell the printer from a true one"),
    ("skewed", "the printer's axes are not square to each other"),
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

/// A reading from which no printer can be told.
pub(super) fn implausible(
    what: &str,
    nominal: Length,
    read: Length,
    place: Option<Place>,
) -> Finding {
    Finding::new(
        "implausible-scale",
        Severity::Error,
        format!("no printer is this far off in its {what}"),
    )
    .at(place)
    .held(
        format!("{} where {} are drawn", read.both(), nominal.both()),
        format!(
            "{} to {} mm: within 8 %",
            nominal.times(92, 100).mm(1),
            nominal.times(108, 100).mm(1)
        ),
    )
    .remedy(
        "read the bar again from its first tick to its last, look at the unit, and give \
         the job, paper and printer file of this very print",
    )
}

/// Factors that together leave what is believed.
pub(super) fn implausible_factor(by: f64, place: Option<Place>) -> Finding {
    Finding::new(
        "implausible-scale",
        Severity::Error,
        "no printer needs this much correction",
    )
    .at(place)
    .held(format!("×{by:.6}"), "0.926 to 1.087: within 8 %")
    .remedy("calibrate anew on a print without a printer file")
}

pub(super) fn axes_apart(apart: f64, place: Option<Place>) -> Finding {
    Finding::new(
        "axes-apart",
        Severity::Warning,
        "the two axes differ more than those of printers do",
    )
    .at(place)
    .held(format!("{:.2} % apart", apart * 100.0), "at most 2 %")
    .remedy(
        "read both bars again, each from its first tick to its last, before you trust it",
    )
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
        .held(found, required)
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
    .held(found, required)
    .remedy(format!(
        "{SETTINGS}; print again at 100 % and calibrate that. If it cannot be switched \
         off, as on some phones, give --cannot-switch-off"
    ))
}

pub(super) fn disagree(
    bar: Estimate,
    strip: Estimate,
    check: &StripCheck,
    place: Option<Place>,
) -> Finding {
    let [from, to] = &check.labels;
    let told = |e: Estimate| format!("{:.2} % (±{:.2})", 100.0 / e.by, 100.0 * e.within);
    Finding::new(
        "readings-disagree",
        Severity::Error,
        "the bar and the joined strip tell of different printers",
    )
    .at(place)
    .held(
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
    .held(
        format!("the scale leaves ±{} mm open from {from} to {to}", open.mm(1)),
        format!("at most ±{} mm, a sixteenth of an inch", most.mm(1)),
    )
    .remedy(remedy)
}

pub(super) fn nothing(long: Axis, short: Axis, has_strip: bool) -> Finding {
    let remedy = if has_strip {
        "draw as before; no new printer file is needed"
    } else {
        "draw as before, or measure the joined strip from A to B as well"
    };
    Finding::new(
        "nothing-to-correct",
        Severity::Note,
        "these readings cannot tell this print from a true one",
    )
    .held(
        format!("long edge {long}, short edge {short}"),
        "a factor that differs from 1 by more than its uncertainty",
    )
    .remedy(remedy)
}

pub(super) fn skewed(skew: Skew, place: Option<Place>) -> Finding {
    Finding::new(
        "skewed",
        Severity::Note,
        "the printer's axes are not square to each other",
    )
    .at(place)
    .held(
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

pub(super) fn other_paper(own: &str, asked: &str) -> Finding {
    Finding::new(
        "other-paper",
        Severity::Warning,
        "this printer was measured on another paper",
    )
    .held(
        format!("a sheet of `{asked}`"),
        format!("`{own}`, for which the factors were read"),
    )
    .remedy(format!(
        "print on `{own}`, or calibrate the printer on `{asked}`; until then read both \
         scale bars of every sheet"
    ))
}

//! The check view: what the ruler reads on a print, and the verdict on it.

use super::print::Setup;
use super::say::{say, say_with};
use super::strap::Strap;
use super::svg::{mm, number};
use super::workshop::NO_PRINTER;
use super::{Workshop, frame};
use crate::diagnostic::{Finding, Severity};
use crate::disk::today;
use crate::fit::MeasurementUncertainty;
use crate::geom::{Extent, Length};
use crate::paginate::{Gauge, MARGIN, SheetSet};
use crate::printer::{
    self, Calibrated, Calibration, Cause, Dated, Measured, Printer, Readings, calibrate,
};
use crate::words::Wording;
use maud::{Markup, html};

/// One reading: its key in the address, what is read, what is drawn, what is accepted.
struct Asked {
    key: &'static str,
    label: String,
    how: String,
    drawn: Length,
    window: Extent,
    /// What was typed, and what that is.
    typed: String,
    read: Option<Length>,
}

/// What a print is judged by: the readings that were asked for and the verdict.
pub(super) struct Judged {
    asked: Vec<Asked>,
    pub(super) calibrated: Option<Calibrated>,
}

fn length(text: &str, unit: &str) -> Option<Length> {
    let read = Length::parse(text).or_else(|_| Length::parse(&format!("{text} {unit}")));
    read.ok().filter(|read| *read > Length::ZERO)
}

fn asked(strap: &Strap<'_>, set: &SheetSet, gauge: &Gauge) -> Vec<Asked> {
    let measuring = MeasurementUncertainty::default();
    let one =
        |key: &'static str, label: String, how: String, drawn: Length, window: Extent| {
            let typed = strap.address.get(key).unwrap_or_default().to_owned();
            let read = length(&typed, strap.unit());
            let size = strap.wording.size(drawn);
            let how = say_with("{ $length } on a true print.", &[("length", &size)])
                + " "
                + &how;
            Asked { key, label, how, drawn, window, typed, read }
        };
    let bars =
        [("wide", say("Bar along the width")), ("tall", say("Bar along the height"))];
    let bars = bars.into_iter().zip(gauge.bars).map(|((key, label), drawn)| {
        let window = measuring.window(drawn, 0);
        one(key, label, say("Over its end lines, on any sheet."), drawn, window)
    });
    let joined = gauge.strip.as_ref().zip(set.checks.first()).map(|(strip, check)| {
        let [from, to] = &strip.labels;
        let label =
            say_with("Joined strip, { $from } to { $to }", &[("from", from), ("to", to)]);
        one("strip", label, say("Join the strips first."), strip.length, check.window)
    });
    bars.chain(joined).collect()
}

/// Judges a print by what stands in the address.
pub(super) fn judge(strap: &Strap<'_>, setup: &Setup, set: &SheetSet) -> Option<Judged> {
    let gauge = set.gauge.as_ref()?;
    let asked = asked(strap, set, gauge);
    let read = |key: &str| asked.iter().find(|a| a.key == key).and_then(|a| a.read);
    let readings = Readings {
        wide: read("wide").into_iter().collect(),
        tall: read("tall").into_iter().collect(),
        strip: read("strip"),
        diagonals: None,
    };
    let calibrated = calibrate(&Calibration {
        gauge,
        paper: &setup.print.paper,
        correction: setup.print.correction(),
        readings: &readings,
        measuring: MeasurementUncertainty::default(),
        must_fit: false,
    });
    Some(Judged { asked, calibrated })
}

pub(super) fn view(workshop: &Workshop, strap: &Strap<'_>, told: Option<&str>) -> Markup {
    let setup = Setup::of(workshop, strap);
    let set = strap.printable().map(|laid| setup.sheets(laid));
    let judged = set.as_ref().and_then(|set| judge(strap, &setup, set.as_ref().ok()?));
    let body = html! {
        (frame::steps(&strap.address, &strap.title(), "check"))
        @match &set {
            Some(Err(findings)) => (frame::findings(findings)),
            _ => (frame::findings(&setup.findings)),
        }
        @if let (Some(Ok(set)), Some(judged)) = (&set, &judged) {
            div .two {
                div .measure {
                    (verdict(strap, judged))
                    @if let Some(told) = told { p role="status" { strong { (told) } } }
                    @if let Some(Calibrated { measured: Some(_), .. }) = &judged.calibrated {
                        (keep_form(workshop, strap))
                    }
                }
                form .strap method="get" action=(strap.address.path.clone() + "/check") {
                    (strap.address.hidden(&["wide", "tall", "strip"]))
                    h2 { (say("Type what your ruler reads")) }
                    p .quiet { (say("Print")) " " (set.fingerprint) ", " (set.paper) ". "
                        (say("A steel ruler, read to half a millimetre.")) }
                    @for asked in &judged.asked { (field(strap, asked)) }
                    p .row { button type="submit" { (say("Judge the print")) } }
                }
            }
        } @else if set.is_some() {
            p { a .button href=(strap.address.link("print")) { (say("To the print, for another printer or paper")) } }
        } @else {
            (frame::no_print(&strap.address))
        }
    };
    frame::page(&say("Is the print true?"), "/", &body)
}

fn field(strap: &Strap<'_>, asked: &Asked) -> Markup {
    let Asked { key, label, how, typed, read, .. } = asked;
    html! {
        div .field {
            div {
                label for=(key) { (label) span .how { (how) } }
                input type="text" id=(key) name=(key) value=(typed) autocomplete="off"
                    aria-describedby={ "about-" (key) };
            }
            div .about id={ "about-" (key) } {
                @match read {
                    Some(read) => {
                        span { "= " (strap.shown(*read))
                            @if Length::parse(typed).is_err() { ", "
                                (say_with("read as { $unit }", &[("unit", &strap.unit())])) } }
                        (gauge(asked, *read, strap.wording))
                    }
                    None if typed.is_empty() => {}
                    None => span { (say("Not read yet. Type a length, such as 259.5 mm or 10 1/4 in.")) }
                }
            }
        }
    }
}

/// The accepted window with the reading as a pointer; an arrow where it is off the scale.
fn gauge(asked: &Asked, read: Length, wording: Wording) -> Markup {
    let window = asked.window;
    let [from, to, shown] = [window.from, window.to, read].map(|l| wording.length(l, 1));
    let half = mm(window.length()) / 2.0;
    let at = 160.0 + (mm(read) - mm(asked.drawn)) / half * 60.0;
    let (at, pointer) = match at {
        at if at < 20.0 => (20.0, "M12 32L28 24V40z".to_owned()),
        at if at > 300.0 => (300.0, "M308 32L292 24V40z".to_owned()),
        at => (at, format!("M{} 36l-8 -14h16z", number(at))),
    };
    html! {
        svg .gauge viewBox="0 0 320 66" role="img"
            aria-label=(say_with("{ $read }; { $from } to { $to } is right",
                &[("read", &shown), ("from", &from), ("to", &to)])) {
            path class="line" d="M10 32H310" {}
            rect class="window" x="100" y="24" width="120" height="16" {}
            path class="tip" d=(pointer) {}
            text x=(number(at.clamp(50.0, 270.0))) y="16" text-anchor="middle" { (shown) }
            text x="100" y="60" text-anchor="middle" { (from) }
            text x="220" y="60" text-anchor="middle" { (to) }
        }
    }
}

/// The verdict in words of the page, with what to do.
fn verdict(strap: &Strap<'_>, judged: &Judged) -> Markup {
    let Some(Calibrated { verdict, .. }) = &judged.calibrated else {
        return html! {
            section .status role="status" {
                h2 { (say("Not read yet")) }
                p { (say("Print, lay a steel ruler on both bars of a sheet, and type what it reads.")) }
            }
        };
    };
    let percent = |scale: &f64| strap.wording.decimal(&format!("{:.1} %", 100.0 * scale));
    let within = verdict.within.map(|l| strap.wording.within(l)).unwrap_or_default();
    let (severity, head, why, steps): (_, _, _, Vec<String>) = match &verdict.cause {
        _ if verdict.may_punch => (
            None,
            say("True. Punch."),
            say_with(
                "The last hole is within { $within }. Paper grows when damp: measure just before \
                 you punch.",
                &[("within", &within)],
            ),
            Vec::new(),
        ),
        Cause::Printer if verdict.within.is_some() => (
            Some(Severity::Warning),
            say("Not proven yet."),
            say("The bars alone leave too much open at the last hole."),
            vec![
                say("Join the strips."),
                say("Read from A to B with a steel ruler or a tape, and type it here."),
            ],
        ),
        Cause::Printer => (
            Some(Severity::Warning),
            say("A little off. Do not punch."),
            say("That is the printer, or damp in the paper; not a setting."),
            vec![
                say("Keep this printer by a name, below."),
                say("Choose it in the print view, and print again."),
            ],
        ),
        Cause::Fit(scale) => (
            Some(Severity::Error),
            say("Not true. Do not punch."),
            say_with(
                "The print was fitted to the page: it is at { $percent }. That is a setting, not \
                 the printer.",
                &[("percent", &percent(scale))],
            ),
            vec![
                say("In the print window choose Actual size, 100 % or Scale: none."),
                say(
                    "Switch off Fit, Shrink, Borderless and Enlarge; look in the printer’s own \
                     settings too.",
                ),
                say("Print again and measure again."),
            ],
        ),
        cause => (
            Some(Severity::Error),
            say("Do not punch. Read again."),
            slip(cause, &judged.asked),
            vec![
                say(
                    "Read both bars again, each over its end lines, from the 0 of the ruler.",
                ),
                say("See that it is the print of this strap, on this paper."),
            ],
        ),
    };
    html! {
        section class={ "verdict " (frame::class(severity)) } role="status" {
            h2 { (frame::sign(severity, 84)) span { (head) } }
            p { (why) }
        }
        @if !steps.is_empty() {
            h2 { (say("Mend it")) }
            ol .steps-list { @for step in steps { li { (step) } } }
        }
        p .row {
            @if verdict.may_punch {
                a .button.black href=(strap.address.link("sizes")) { (say("Other sizes")) }
            } @else {
                a .button.black href=(strap.address.link("print")) { (say("Back to the print")) }
            }
        }
    }
}

/// What a slip of reading looks like.
fn slip(cause: &Cause, asked: &[Asked]) -> String {
    match cause {
        Cause::Unfitted(_) => say(
            "The drawing undoes a fit to the page, and this was printed without the fit.",
        ),
        Cause::OtherPaper(other) => {
            say_with("These are the bars of a print on { $paper }.", &[("paper", &other)])
        }
        Cause::Swapped => say("The two bars seem to be swapped."),
        Cause::Start(start) => say_with(
            "Every reading is { $length } too long: the ruler may have begun at its { $length } \
             mark.",
            &[("length", &start)],
        ),
        Cause::Unit => say("The readings seem to be in another unit."),
        Cause::Slip { reading, .. } => {
            let mut read = asked.iter().filter(|a| a.read.is_some());
            let label = read.nth(*reading).map(|a| a.label.as_str()).unwrap_or_default();
            say_with(
                "One reading does not agree with the others: “{ $reading }”.",
                &[("reading", &label)],
            )
        }
        _ => say("Neither a printer nor a fit to the page makes these readings."),
    }
}

/// Keeps the readings with a printer, by a name.
fn keep_form(workshop: &Workshop, strap: &Strap<'_>) -> Markup {
    let named = strap.address.get("printer").filter(|name| *name != NO_PRINTER);
    let name = named.unwrap_or("desk");
    html! {
        form .field-list method="post" action=(strap.address.link("check")) {
            div .field {
                div {
                    label for="name" { (say("Keep this printer as"))
                        span .how { (say("A name of letters. Readings of a printer that is there are added to it.")) } }
                    input type="text" id="name" name="name" value=(name) list="printers" autocomplete="off";
                    datalist id="printers" {
                        @for name in workshop.printers() { option value=(name) {} }
                    }
                }
            }
            p .row { button type="submit" { (say("Keep this printer")) } }
        }
    }
}

/// Keeps what the readings measured with the printer that the form names, and says so.
pub(super) fn keep(workshop: &Workshop, strap: &Strap<'_>, sent: &str) -> String {
    let mut pairs = form_urlencoded::parse(sent.as_bytes());
    let name =
        pairs.find(|(key, _)| key == "name").map(|(_, name)| name.trim().to_owned());
    let kept = kept(workshop, strap, &name.unwrap_or_default());
    kept.unwrap_or_else(|why| format!("{} {why}", say("Not kept.")))
}

fn kept(workshop: &Workshop, strap: &Strap<'_>, name: &str) -> Result<String, String> {
    let setup = Setup::of(workshop, strap);
    let set = strap.printable().and_then(|laid| setup.sheets(laid).ok());
    let set = set.ok_or_else(|| say("This strap has no print."))?;
    let calibrated = judge(strap, &setup, &set).and_then(|judged| judged.calibrated);
    let measured = calibrated.and_then(|c| c.measured);
    let Measured { long, short, fitted } = measured
        .ok_or_else(|| say("Read both bars first; these readings are in doubt."))?;
    let reading = Dated {
        date: today::utc(),
        print: set.fingerprint.clone(),
        long,
        short,
        class: MeasurementUncertainty::default().ruler,
        ruler: String::new(),
        stock: String::new(),
        note: String::new(),
        anew: false,
    };
    let (paper, drawn_for) =
        (&setup.print.paper, setup.print.correction().map(|c| c.printer.as_str()));
    workshop.keep_printer(name, |old| match old {
        None => {
            let new = Printer::new(name.to_owned(), paper, MARGIN, fitted, vec![reading]);
            Ok(printer::write(&new))
        }
        Some(old) => {
            let added = printer::add((name, &old), paper, drawn_for, &reading, fitted);
            let says = |f: Finding| format!("{}: {}. ", f.message, f.remedy);
            let errors =
                added.findings.into_iter().filter(|f| f.severity == Severity::Error);
            added.text.ok_or_else(|| errors.map(says).collect())
        }
    })?;
    Ok(say_with(
        "{ $printer } is kept. Choose it in the print view, and print again.",
        &[("printer", &name)],
    ))
}

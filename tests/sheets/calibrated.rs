//! Calibrations of prints, and printer files.

use strapwright::diagnostic::{Finding, Sources};
use strapwright::fit::MeasurementUncertainty;
use strapwright::geom::Length;
use strapwright::paginate::{Heading, Paper, Request, SheetSet, paginate};
use strapwright::prepare;
use strapwright::printer::{Calibrated, Calibration, Printer, Readings, calibrate, read};
use strapwright::template::DEMO_JOB;

pub(crate) const SOUND: &str = "name = \"front-desk\"\npaper = \"A4\"\nmargin = \"8 mm\"\n\
    [[reading]]\ndate = \"2026-03-14\"\nlong = 1.0125\nlong-proven = 0.001\n\
    short = 0.998\nshort-proven = 0.0057\n";

/// The print of a job, drawn for a printer.
pub(crate) fn print(
    job: &str,
    sets: &[&str],
    paper: &str,
    printer: Option<&Printer>,
) -> SheetSet {
    let sets: Vec<String> = sets.iter().map(|s| (*s).to_owned()).collect();
    let (job, fit, layout) = prepare("job.toml", job, &sets).laid.unwrap();
    let heading = Heading::new(&job, fit.as_ref(), &layout);
    let paper = Paper::parse(paper).unwrap();
    let correction = printer.map(|p| &p.correction);
    let request = Request { correction, ..Request::new(&layout, &heading, &paper) };
    paginate(&request).unwrap()
}

/// The demo belt on A4: 1100 mm from A to B, bars of 260 and 160 mm, corners 277 by 190 mm.
pub(crate) fn belt(printer: Option<&Printer>) -> SheetSet {
    print(DEMO_JOB, &[], "a4", printer)
}

pub(crate) fn mm(mm: f64) -> Length {
    Length::from_nm((mm * 1e6).round() as i64)
}

/// The bars of one sheet, and the strip.
pub(crate) fn reads([wide, tall]: [f64; 2], strip: Option<f64>) -> Readings {
    let (wide, tall) = (vec![mm(wide)], vec![mm(tall)]);
    Readings { wide, tall, strip: strip.map(mm), diagonals: None }
}

pub(crate) fn calibrated(
    set: &SheetSet,
    readings: &Readings,
    change: impl Fn(&mut Calibration<'_>),
) -> Calibrated {
    let mut asked = Calibration {
        gauge: set.gauge.as_ref().unwrap(),
        paper: &set.paper,
        correction: set.settings.printer.as_ref(),
        readings,
        measuring: MeasurementUncertainty::default(),
        must_fit: false,
    };
    change(&mut asked);
    calibrate(&asked).unwrap()
}

pub(crate) fn known(text: &str) -> (Option<Printer>, Vec<Finding>) {
    let known = read(&mut Sources::default(), "printer.toml", text);
    (known.printer, known.findings)
}

/// A fit to 95 %, undone.
pub(crate) fn fitted() -> Printer {
    let text = SOUND.replace("1.0125", "1.052632").replace("0.998", "1.052632");
    let text = text.replace("\"8 mm\"", "\"10 mm\"\nfitted = true");
    known(&text).0.unwrap()
}

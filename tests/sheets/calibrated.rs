//! Calibrations of the demo belt, and printer files.

use strapwright::diagnostic::{Finding, Sources};
use strapwright::fit::MeasurementUncertainty;
use strapwright::geom::Length;
use strapwright::job::Spanned;
use strapwright::paginate::{Heading, Paper, Request, paginate};
use strapwright::prepare;
use strapwright::printer::{Calibrated, Calibration, Printer, Readings, calibrate, read};
use strapwright::template::DEMO_JOB;

pub(crate) const SOUND: &str = "name = \"front-desk\"\npaper = \"A4\"\nmargin = \"8 mm\"\n\
    [long]\nby = 1.0125\nproven = 0.001\n[short]\nby = 0.998\nproven = 0.0057\n";

/// The belt of 1100 mm from A to B on A4: bars of 260 and 160 mm, corners 277 by 190 mm.
pub(crate) fn calibrated(
    reads: [&str; 3],
    diagonals: Option<[&str; 2]>,
    old: Option<&Printer>,
    change: impl Fn(&mut Calibration<'_>),
) -> Calibrated {
    calibrated_on("a4", reads, diagonals, old, change)
}

pub(crate) fn calibrated_on(
    paper: &str,
    reads: [&str; 3],
    diagonals: Option<[&str; 2]>,
    old: Option<&Printer>,
    change: impl Fn(&mut Calibration<'_>),
) -> Calibrated {
    let (job, fit, layout) = prepare("demo", DEMO_JOB, &[]).laid.unwrap();
    let heading = Heading::new(&job, fit.as_ref(), &layout);
    let paper = Paper::parse(paper).unwrap();
    let correction = old.map(|p| &p.correction);
    let request = Request { correction, ..Request::new(&layout, &heading, &paper) };
    let print = paginate(&request).unwrap();
    let said = |text: &str| Spanned { value: Length::parse(text).unwrap(), span: None };
    let [wide, tall, strip] = reads;
    let readings = Readings {
        wide: said(wide),
        tall: said(tall),
        strip: (!strip.is_empty()).then(|| said(strip)),
        diagonals: diagonals.map(|d| d.map(said)),
    };
    let mut asked = Calibration {
        print: &print,
        paper: &paper,
        readings: &readings,
        measuring: MeasurementUncertainty::default(),
        old,
        name: "front-desk",
        margin: None,
        must_fit: false,
        must_part: false,
    };
    change(&mut asked);
    calibrate(&asked)
}

/// Printed at 100 % of a drawing for [`fitted`].
pub(crate) const UNFITTED: [&str; 3] = ["168.4 mm", "242.1 mm", "1157.9 mm"];

/// A fit to 95 %, undone.
pub(crate) fn fitted() -> Printer {
    let text = SOUND.replace("1.0125", "1.052632").replace("0.998", "1.052632");
    let text = text.replace("\"8 mm\"", "\"10 mm\"\nfitted = true");
    known(&text).0.unwrap()
}

pub(crate) fn plain(reads: [&str; 3]) -> Calibrated {
    calibrated(reads, None, None, |_| {})
}

pub(crate) fn known(text: &str) -> (Option<Printer>, Vec<Finding>) {
    let known = read(&mut Sources::default(), "printer.toml", text);
    (known.printer, known.findings)
}

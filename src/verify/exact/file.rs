//! Whether a file shows the sheet model: every item where it must be, and nothing else.

use super::drawn::{Found, TOLERANCE, ToSheet, Wanted, found, wanted};
use crate::diagnostic::Finding;
use crate::geom::{Length, Ratio};
use crate::paginate::{Item, Sheet, SheetSet, Tone};
use crate::verify::record::{Drawing, Page};
use crate::verify::rule;
use hayro_interpret::kurbo::Point;

/// What a page may differ from its paper, in mm: some tools round to whole points.
const PAPER: f64 = 0.2;
/// What a tone may differ, as a part of the way from black to white.
const LIGHTNESS: f64 = 0.01;

/// How far the worst drawing of the file is off, in mm, and everything that is not as the
/// sheet model has it.
pub(in crate::verify) fn file(pages: Vec<Page>, set: &SheetSet) -> (f64, Vec<Finding>) {
    let sheets: Vec<&Sheet> = set.pages().collect();
    let mut findings = Vec::new();
    if pages.len() != sheets.len() {
        findings.push(
            Finding::error(
                rule::SHEET_MISSING,
                "the file has not the pages of the print",
            )
            .expected(
                format!("{} pages", pages.len()),
                format!("{}: the ticket and the sheets", sheets.len()),
            ),
        );
    }
    let mut worst: f64 = 0.0;
    for ((number, page), sheet) in (1..).zip(pages).zip(sheets) {
        findings.extend(facts(number, &page, sheet));
        let off = Matching::new(number, page, sheet, set).run(sheet, &mut findings);
        worst = worst.max(off);
    }
    (worst, findings)
}

/// What the dictionaries say against a print at full scale.
fn facts(number: usize, page: &Page, sheet: &Sheet) -> Vec<Finding> {
    let mut all = Vec::new();
    let mut wrong = |message: &str, found: String, expected: &str| {
        let message = format!("page {number} {message}");
        all.push(Finding::error(rule::PAGE_SETUP, message).expected(found, expected));
    };
    let facts = &page.facts;
    let sides = [sheet.width, sheet.height].map(Length::as_mm_f64);
    let off = page.size.iter().zip(sides).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
    if off > PAPER {
        let [width, height] = page.size;
        wrong(
            "is not as large as its paper",
            format!("{width:.2} × {height:.2} mm"),
            &format!("{:.2} × {:.2} mm", sides[0], sides[1]),
        );
    }
    if facts.is_turned {
        wrong("is turned when it is shown", "a /Rotate".to_owned(), "none");
    }
    if facts.is_cropped {
        wrong("is shown in part only", "a /CropBox".to_owned(), "none");
    }
    if (facts.user_unit - 1.0).abs() > 1e-9 {
        let unit = format!("a /UserUnit of {}", facts.user_unit);
        wrong("has a unit of its own", unit, "1");
    }
    if facts.annotations > 0 {
        wrong("has notes on it", format!("{} annotations", facts.annotations), "none");
    }
    if facts.hides_layers {
        let found = "a layer that is hidden, or shown and printed by rules".to_owned();
        wrong("may not show all its layers", found, "layers that are all on");
    }
    if facts.print_scaling != "None" {
        let found = format!("/PrintScaling `{}`", facts.print_scaling);
        wrong("leaves it to the reader to scale it", found, "`None`");
    }
    all
}

/// A drawing of the file that no item has claimed yet.
struct Free {
    found: Found,
    layer: String,
    lightness: Option<f64>,
    effect: Option<&'static str>,
    is_taken: bool,
}

/// The drawings of one page, in order.
struct Matching {
    page: usize,
    drawings: Vec<Free>,
    /// The drawing after the last one that an item claimed.
    next: usize,
    worst: f64,
}

impl Matching {
    fn new(number: usize, page: Page, sheet: &Sheet, set: &SheetSet) -> Self {
        let factors = set.correction_on(sheet).map_or([1.0, 1.0], |scaling| {
            [scaling.width.by, scaling.height.by].map(Ratio::as_f64)
        });
        let [width, height] = page.size;
        let to_sheet = ToSheet { middle: Point::new(width / 2.0, height / 2.0), factors };
        let free = |drawing: Drawing| {
            let Drawing { lightness, effect, .. } = drawing;
            let layer = drawing.layer.clone();
            found(drawing, to_sheet).into_iter().map(move |found| Free {
                found,
                layer: layer.clone(),
                lightness,
                effect,
                is_taken: false,
            })
        };
        let drawings = page.drawings.into_iter().flat_map(free).collect();
        Self { page: number, drawings, next: 0, worst: 0.0 }
    }

    /// Claims a drawing for each thing that the sheet draws. How far the worst is off, in mm.
    fn run(mut self, sheet: &Sheet, findings: &mut Vec<Finding>) -> f64 {
        for item in &sheet.items {
            let all = wanted(item);
            // Within an item the order does not matter: all has one tone and one layer.
            let first = self.next;
            for one in &all {
                match self.claim(one, item, first) {
                    Some(index) => self.next = self.next.max(index + 1),
                    None => findings.push(self.missing(one, item)),
                }
            }
        }
        let left: Vec<&Free> = self.drawings.iter().filter(|d| !d.is_taken).collect();
        if let Some(extra) = left.first() {
            findings.push(self.extra(extra, left.len()));
        }
        self.worst
    }

    /// Finds the drawing of `wanted` among those from `first` on, so that what comes later in
    /// the model lies on top in the file too.
    fn claim(&mut self, wanted: &Wanted<'_>, item: &Item, first: usize) -> Option<usize> {
        // Nearly always it is the next one.
        let from = self.next.min(self.drawings.len());
        let order = (from..self.drawings.len()).chain(first..from);
        for index in order {
            let drawing = &self.drawings[index];
            if drawing.is_taken || !is_as(drawing, item) {
                continue;
            }
            let off = wanted.distance(&drawing.found).filter(|off| *off <= TOLERANCE);
            if let Some(off) = off {
                self.worst = self.worst.max(off);
                self.drawings[index].is_taken = true;
                return Some(index);
            }
        }
        None
    }

    fn missing(&self, wanted: &Wanted<'_>, item: &Item) -> Finding {
        let Point { x, y } = wanted.start();
        let what = match wanted {
            Wanted::Line { .. } | Wanted::Stroke { .. } => "a line".to_owned(),
            Wanted::Area { .. } => "an area".to_owned(),
            Wanted::Text { text, .. } => format!("the text `{text}`"),
        };
        let message = format!("page {} does not show all that it should", self.page);
        let layer = item.layer().name();
        Finding::error(rule::INK_MISSING, message).expected(
            "nothing there, or something else",
            format!("{what} of the layer `{layer}` at {x:.3}, {y:.3} mm of the sheet"),
        )
    }

    fn extra(&self, drawing: &Free, count: usize) -> Finding {
        let (what, at) = match &drawing.found {
            Found::Line { ends, .. } => ("a line", ends[0]),
            Found::Stroke { path, .. } => ("a line", start(path)),
            Found::Area { path } => ("an area", start(path)),
            Found::Text { from, .. } => ("a text", *from),
            Found::Image { middle } => ("an image", *middle),
        };
        let effect = drawing.effect.map(|e| format!(" under {e}")).unwrap_or_default();
        let message = format!("page {} shows what it should not", self.page);
        let more =
            if count > 1 { format!(" and {} more", count - 1) } else { String::new() };
        let Point { x, y } = at;
        Finding::error(rule::INK_EXTRA, message).expected(
            format!("{what} at {x:.3}, {y:.3} mm of the sheet{effect}{more}"),
            "only what the sheets draw",
        )
    }
}

fn start(path: &hayro_interpret::kurbo::BezPath) -> Point {
    path.segments().next().map_or(Point::ORIGIN, |s| {
        use hayro_interpret::kurbo::ParamCurve as _;
        s.start()
    })
}

/// Whether a drawing has the layer and the tone of an item, and is seen as it is drawn.
fn is_as(drawing: &Free, item: &Item) -> bool {
    let tone = match item {
        Item::Stroke { pen, .. } | Item::TickRows { pen, .. } => pen.tone(),
        Item::Fill { tone, .. } | Item::Text { tone, .. } => *tone,
    };
    drawing.effect.is_none()
        && drawing.layer == item.layer().name()
        && drawing
            .lightness
            .is_some_and(|found| (found - lightness(tone)).abs() < LIGHTNESS)
}

fn lightness(tone: Tone) -> f64 {
    f64::from(tone.lightness()) / 100.0
}

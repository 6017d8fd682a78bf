//! Whether a file shows the sheet model: every item where it must be, and nothing else.

use super::drawn::{Found, TOLERANCE, Wanted, found, wanted};
use crate::diagnostic::Finding;
use crate::paginate::{Item, Sheet, SheetSet, Tone};
use crate::verify::record::{Drawing, Page};
use crate::verify::rule;
use crate::verify::setup::{page_setup, to_page};
use hayro_interpret::kurbo::Point;
use std::rc::Rc;

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
        findings.extend(facts(&format!("page {number}"), &page, sheet));
        let off = Matching::new(number, page, sheet, set).run(sheet, &mut findings);
        worst = worst.max(off);
    }
    (worst, findings)
}

/// What may show or print a page otherwise than it is written.
fn facts(name: &str, page: &Page, sheet: &Sheet) -> Vec<Finding> {
    let mut all = page_setup(name, page, sheet);
    let facts = &page.facts;
    let mut wrong = |rule, message: &str, found: String| {
        let finding = Finding::error(rule, format!("{name} {message}"));
        all.push(finding.expected(found, "none of it"));
    };
    if facts.is_turned {
        wrong(rule::PAGE_SETUP, "is turned when it is shown", "a /Rotate".to_owned());
    }
    if facts.is_cropped {
        wrong(rule::PAGE_SETUP, "is shown in part only", "a /CropBox".to_owned());
    }
    if (facts.user_unit - 1.0).abs() > 1e-9 {
        let found = format!("a /UserUnit of {}", facts.user_unit);
        wrong(rule::PAGE_SETUP, "has a unit of its own", found);
    }
    if facts.print_scaling != "None" {
        let found = format!("a /PrintScaling of `{}`", facts.print_scaling);
        wrong(rule::PRINT_SCALING, "leaves it to the reader to scale it", found);
    }
    all
}

/// A drawing of the file that no item has claimed yet.
struct Free {
    found: Found,
    layer: Rc<str>,
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
        let to_page = to_page(sheet, set);
        let free = |drawing: Drawing| {
            let Drawing { lightness, effect, .. } = drawing;
            let layer = Rc::clone(&drawing.layer);
            found(drawing, to_page).into_iter().map(move |found| Free {
                found,
                layer: Rc::clone(&layer),
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
            Found::Text { letters, .. } => ("a text", letters[0].1),
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
        && *drawing.layer == *item.layer().name()
        && drawing
            .lightness
            .is_some_and(|found| (found - lightness(tone)).abs() < LIGHTNESS)
}

fn lightness(tone: Tone) -> f64 {
    f64::from(tone.lightness()) / 100.0
}

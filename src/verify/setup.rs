//! What a page is held against before what it draws: its paper, and what may be shown or
//! printed otherwise.

use super::record::Page;
use super::report::ANEW;
use super::rule;
use crate::diagnostic::{Finding, RuleId};
use crate::geom::Length;
use crate::paginate::{Sheet, SheetSet};
use hayro_interpret::kurbo::{Affine, Point, Vec2};

/// What a page may differ from its paper, in mm: some programs round to whole points.
const PAPER: f64 = 0.2;

/// The way from a sheet to its page, in mm: a printer's correction, about the middle.
pub(super) fn to_page(sheet: &Sheet, set: &SheetSet) -> Affine {
    let [x, y] = set
        .correction_on(sheet)
        .map_or([1.0, 1.0], |axes| axes.map(|factor| factor.by.as_f64()));
    let middle = Vec2::new(sheet.width.as_mm_f64(), sheet.height.as_mm_f64()) / 2.0;
    Affine::translate(middle)
        * Affine::scale_non_uniform(x, y)
        * Affine::translate(-middle)
}

/// What a map does to a distance.
pub(super) fn mapped(map: Affine, by: Vec2) -> Vec2 {
    map * by.to_point() - map * Point::ORIGIN
}

/// What is wrong with a page that may not come out as it is drawn. `name` is how messages
/// call it.
pub(super) fn page_setup(name: &str, page: &Page, sheet: &Sheet) -> Vec<Finding> {
    let mut all = Vec::new();
    let mut wrong = |rule: RuleId, message: &str, found: String, expected: &str| {
        let finding = Finding::error(rule, format!("{name} {message}"));
        all.push(finding.expected(found, expected).remedy(ANEW));
    };
    let sides = [sheet.width, sheet.height].map(Length::as_mm_f64);
    let off = page.size.iter().zip(sides).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
    if off > PAPER {
        let size = |[width, height]: [f64; 2]| format!("{width:.2} × {height:.2} mm");
        let message = "is not as large as its paper";
        wrong(rule::PAGE_SIZE, message, size(page.size), &size(sides));
    }
    if page.facts.annotations > 0 {
        let found = format!("{} annotations", page.facts.annotations);
        wrong(rule::PAGE_SETUP, "has notes on it, which may hide lines", found, "none");
    }
    if page.facts.hides_layers {
        let found = "a layer that is hidden, or shown and printed by rules".to_owned();
        let message = "may not print all its layers";
        wrong(rule::PAGE_SETUP, message, found, "layers that are all on");
    }
    all
}

//! Whether a sheet's page is its paper, and whether everything on it can be seen.

use super::read::plane::{Bounds, Spot};
use super::report::{ANEW, error};
use super::sheet::{Form, Frame, Sheet};
use crate::diagnostic::Finding;
use crate::geom::Length;
use crate::verify::rule;

/// What a page may differ from its paper, in mm: files round to whole points.
const PAPER: f64 = 0.5;
/// What a mark may lie beyond the edge of its page, in mm.
const BEYOND: f64 = 0.05;
/// A stroke of a mark may be as wide as this, in mm, and as this part of the mark's longer
/// side: what is left of it must still show where to set a punch. A slit is a mere line.
const MARK_PEN: f64 = 1.0;
const MARK_PART: f64 = 0.4;
/// A stroke of an outline may be as wide as this, in mm.
const OUTLINE_PEN: f64 = 1.5;
/// A4 and A3 by ISO 216; Letter and Tabloid by ASME Y14.1; Legal by common practice, no
/// source. Shorter side, longer side, in mm.
const PAPERS: [(&str, f64, f64); 5] = [
    ("a4", 210.0, 297.0),
    ("a3", 297.0, 420.0),
    ("letter", 215.9, 279.4),
    ("tabloid", 279.4, 431.8),
    ("legal", 215.9, 355.6),
];
/// Width of a roll that does not say its own: 24 in.
const ROLL: f64 = 609.6;

/// What the name of a paper says of a page, in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Paper {
    /// Shorter side, longer side.
    Sheet(f64, f64),
    /// Its width, which is the height of the page: the strap lies along the roll.
    Roll(f64),
}

#[expect(clippy::cast_precision_loss, reason = "exact for anything that fits on a wall")]
fn mm(length: &str) -> Option<f64> {
    Length::parse(length.trim()).ok().map(|l| l.nm() as f64 / 1e6)
}

/// `A4`, `150 × 200 mm`, `8.5in × 11 in`, `roll` or `roll-297mm`.
fn paper(name: &str) -> Option<Paper> {
    let name = name.to_lowercase();
    if let Some((_, short, long)) = PAPERS.iter().find(|(n, ..)| *n == name) {
        return Some(Paper::Sheet(*short, *long));
    }
    if let Some(width) = name.strip_prefix("roll") {
        return match width.strip_prefix('-') {
            Some(width) => mm(width).map(Paper::Roll),
            None => width.is_empty().then_some(Paper::Roll(ROLL)),
        };
    }
    let (one, two) = name.split_once(['×', 'x'])?;
    // The unit of the second side is that of both, unless the first has its own.
    let unit = &two[two.find(|c: char| c.is_alphabetic() || c == '"')?..];
    let (one, two) = (mm(one).or_else(|| mm(&format!("{one} {unit}")))?, mm(two)?);
    Some(Paper::Sheet(one.min(two), one.max(two)))
}

/// What is wrong with the page of one sheet.
pub(super) fn held(sheet: &Sheet) -> Vec<Finding> {
    let mut all: Vec<Finding> = size(sheet).into_iter().collect();
    // Turned back, it may well be on its page.
    if sheet.turned.is_none() {
        all.extend(off_page(sheet));
    }
    all.extend(pens(sheet));
    all
}

/// The page is as large as the paper that the sheet names.
fn size(sheet: &Sheet) -> Option<Finding> {
    let Spot { x, y } = sheet.size;
    let near = |a: f64, b: f64| (a - b).abs() < PAPER;
    let (fits, required) = match paper(&sheet.title.paper)? {
        Paper::Sheet(short, long) => (
            near(x.min(y), short) && near(x.max(y), long),
            format!("{short:.1} × {long:.1} mm"),
        ),
        Paper::Roll(width) => (near(y, width), format!("{width:.1} mm high")),
    };
    let message = format!("the page of sheet {} is not its paper", sheet.title.number);
    (!fits).then(|| {
        error(rule::PAGE_SIZE, message)
            .expected(
                format!("{x:.1} × {y:.1} mm are shown"),
                format!("{required}, {}", sheet.title.paper),
            )
            .remedy("draw the job anew for the paper that it is printed on: --paper NAME")
    })
}

/// Marks and outlines that no print shows whole.
fn off_page(sheet: &Sheet) -> Option<Finding> {
    let Bounds { low, high } = sheet.visible;
    let beyond = |p: Spot| {
        (low.x - p.x).max(p.x - high.x).max(low.y - p.y).max(p.y - high.y).max(0.0)
    };
    let form = |f: &Form| {
        let half = f.size * 0.5;
        beyond(f.centre - half).max(beyond(f.centre + half))
    };
    let frame = |f: &Frame| {
        [0.0, 0.5, 1.0]
            .map(|part| beyond(f.step.at(f.from, part)))
            .into_iter()
            .fold(0.0, f64::max)
    };
    let marks: Vec<f64> =
        sheet.forms.iter().map(form).filter(|off| *off > BEYOND).collect();
    let lines: Vec<f64> =
        sheet.frames.iter().map(frame).filter(|off| *off > BEYOND).collect();
    let what = match (marks.len(), lines.len()) {
        (0, 0) => return None,
        (0, _) => "a part of an outline".to_owned(),
        (1, _) => "a mark".to_owned(),
        (n, _) => format!("{n} marks"),
    };
    let are = if marks.len() > 1 { "lie" } else { "lies" };
    let most = marks.iter().chain(&lines).copied().fold(0.0, f64::max);
    let message =
        format!("{what} of sheet {} {are} outside its page", sheet.title.number);
    let found = format!("up to {most:.1} mm beyond the edge of what is shown");
    Some(
        error(rule::OFF_PAGE, message)
            .expected(found, "everything within the page")
            .remedy(ANEW),
    )
}

/// Strokes that hide what they draw.
fn pens(sheet: &Sheet) -> Vec<Finding> {
    let number = sheet.title.number;
    let most = |form: &Form| MARK_PEN.min(form.size.x.max(form.size.y) * MARK_PART);
    let wide: Vec<&Form> = sheet.forms.iter().filter(|f| f.pen > most(f)).collect();
    let mut all = Vec::new();
    if let Some(worst) = wide.iter().max_by(|a, b| a.pen.total_cmp(&b.pen)) {
        let message = match wide.len() {
            1 => format!("a mark on sheet {number} is hidden by its own stroke"),
            n => format!("{n} marks on sheet {number} are hidden by their own strokes"),
        };
        let Spot { x, y } = worst.centre;
        let found = format!(
            "a line {:.2} mm wide about a form of {:.2} × {:.2} mm, {x:.1} mm from the left, \
             {y:.1} mm from below",
            worst.pen, worst.size.x, worst.size.y
        );
        all.push(
            error(rule::PEN_WIDE, message)
                .expected(found, format!("at most {:.2} mm", most(worst)))
                .remedy(ANEW),
        );
    }
    let wide = sheet.frames.iter().map(|f| f.pen).fold(0.0, f64::max);
    if wide > OUTLINE_PEN {
        let message = format!(
            "an outline on sheet {number} does not show where the knife is to go"
        );
        all.push(
            error(rule::PEN_WIDE, message)
                .expected(
                    format!("a line {wide:.2} mm wide"),
                    format!("at most {OUTLINE_PEN} mm"),
                )
                .remedy(ANEW),
        );
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn papers_are_read_as_the_head_names_them() {
        let is = |name: &str, wanted: (f64, f64)| match paper(name) {
            Some(Paper::Sheet(short, long)) => {
                (short - wanted.0).abs() + (long - wanted.1).abs() < 1e-9
            }
            Some(Paper::Roll(width)) => (width - wanted.0).abs() + wanted.1 < 1e-9,
            None => false,
        };
        assert!(is("A4", (210.0, 297.0)) && is("Letter", (215.9, 279.4)));
        assert!(is("150 × 200 mm", (150.0, 200.0)) && is("320x450mm", (320.0, 450.0)));
        assert!(is("8.5 × 11 in", (215.9, 279.4)) && is("8.5in × 11 in", (215.9, 279.4)));
        assert!(is("45 × 32 cm", (320.0, 450.0)));
        assert!(is("roll", (609.6, 0.0)) && is("roll-297mm", (297.0, 0.0)));
        for name in ["", "for printer P", "rolls", "a × b mm", "12 × 18"] {
            assert_eq!(paper(name), None, "{name}");
        }
    }
}

//! Sheets without their job, held against themselves: whether scale bars are as long as they
//! say, and whether the crosses of a join lie alike on both of its strips.

use super::record::{Ink, Page};
use super::report::{ANEW, Report};
use super::rule;
use crate::diagnostic::Finding;
use hayro_interpret::kurbo::{PathEl, Point};
use std::collections::{BTreeMap, BTreeSet};

/// How far a scale bar may be off, as a part of its length, and a cross, in mm.
const BAR: f64 = 2e-4;
const CROSS: f64 = 0.05;
/// How far a numeral or a label stands from what it names, in mm.
const NEAR: f64 = 8.0;
/// How much farther the next cross is from the label of another, in mm.
const APART: f64 = 2.0;
/// The longest arm of a cross from end to end, in mm.
const ARMS: f64 = 6.0;

/// About the width of a digit, in em.
const DIGIT: f64 = 0.57;

/// The label of a cross and the middle of the cross.
type Label<'a> = (&'a str, Point);

/// One page as far as it is looked at.
struct Shown<'a> {
    name: &'a str,
    /// Texts, where they start, and their em in mm.
    texts: Vec<(&'a str, Point, f64)>,
    lines: Vec<[Point; 2]>,
}

/// What pages, each with its name, say of themselves.
pub(super) fn alone(pages: &[(String, Page)]) -> Report {
    let shown: Vec<Shown<'_>> =
        pages.iter().map(|(name, page)| show(name, page)).collect();
    let mut findings = Vec::new();
    let names: BTreeSet<&str> =
        pages.iter().filter_map(|(_, page)| page.print_name()).collect();
    match names.len() {
        0 => findings.push(
            Finding::error(rule::NO_SHEETS, "no page says which print it is of")
                .expected("no name such as `7F3A-91C2`", "pages with the name of a print")
                .remedy("give a file that `strapwright draw` wrote, and its job with it"),
        ),
        1 => {}
        _ => findings.push(
            Finding::warning(rule::PRINTS_MIXED, "sheets of different prints are mixed")
                .expected(Vec::from_iter(names.clone()).join(", "), "the sheets of one print")
                .remedy("give the files of one print; with its job, sheets that were kept count"),
        ),
    }
    let bars: Vec<Vec<Bar>> = shown.iter().map(Shown::bars).collect();
    let mut sheets = 0;
    for (page, bars) in shown.iter().zip(&bars) {
        if bars.is_empty() {
            continue;
        }
        sheets += 1;
        if let Some(bar) = bars.iter().find(|b| (b.length / b.says - 1.0).abs() > BAR) {
            let message = format!("{} is not at full scale, or is corrected", page.name);
            findings.push(
                Finding::warning(rule::SHEET_SCALED, message)
                    .expected(
                        format!(
                            "a bar of {:.2} mm that says {} mm",
                            bar.length, bar.says
                        ),
                        "the same length",
                    )
                    .remedy("give the job too: a print for a printer is meant to be so"),
            );
        }
    }
    findings.extend(joins(&shown));
    findings.sort_by_key(|f| std::cmp::Reverse(f.severity));
    Report {
        print: Vec::from_iter(names).join(", "),
        sheets,
        other_pages: pages.len() - sheets,
        marks: Vec::new(),
        findings,
    }
}

fn show<'a>(name: &'a str, page: &'a Page) -> Shown<'a> {
    let (mut texts, mut lines) = (Vec::new(), Vec::new());
    for drawing in &page.drawings {
        match &drawing.ink {
            Ink::Text { text, from, em, .. } => {
                let [x, y] = em[0];
                texts.push((text.as_str(), *from, libm::hypot(x, y)));
            }
            Ink::Stroke { path, dashes, .. } if dashes.is_empty() => {
                if let [PathEl::MoveTo(from), PathEl::LineTo(to)] = *path.elements() {
                    lines.push([from, to]);
                }
            }
            _ => {}
        }
    }
    Shown { name, texts, lines }
}

/// A scale bar: its length and what its last numeral says, in mm.
struct Bar {
    length: f64,
    says: f64,
}

impl Shown<'_> {
    /// The lines that end at a numeral in mm which is nearly their length.
    fn bars(&self) -> Vec<Bar> {
        let mut all = Vec::new();
        for (text, at, _) in &self.texts {
            let says = text.strip_suffix(" mm").and_then(|n| n.parse::<u32>().ok());
            let Some(says) = says.map(f64::from).filter(|n| *n >= 50.0) else { continue };
            let found = self.lines.iter().find_map(|[a, b]| {
                let length = a.distance(*b);
                let near = a.distance(*at).min(b.distance(*at)) <= NEAR;
                (near && (length / says - 1.0).abs() < 0.1).then_some(length)
            });
            all.extend(found.map(|length| Bar { length, says }));
        }
        all
    }

    /// Texts that may be labels of crosses, with the start and the end of their base lines.
    fn labels(&self) -> impl Iterator<Item = (&str, Point, Point)> {
        self.texts.iter().filter(|(text, ..)| is_label(text)).map(|(text, at, em)| {
            #[expect(clippy::cast_precision_loss, reason = "a label has few letters")]
            let width = text.len() as f64 * em * DIGIT;
            (*text, *at, Point::new(at.x + width, at.y))
        })
    }

    /// Every labelled cross: its label, such as `1a`, and its middle.
    fn crosses(&self) -> Vec<Label<'_>> {
        let is_arm = |[a, b]: &&[Point; 2]| a.distance(*b) <= ARMS;
        let arms: Vec<&[Point; 2]> = self.lines.iter().filter(is_arm).collect();
        let middle = |[a, b]: &[Point; 2]| a.midpoint(*b);
        let mut all = Vec::new();
        for (text, at, end) in self.labels() {
            // The label stands beside its cross, on either side.
            let off = |p: Point| p.distance(at).min(p.distance(end));
            let is_cross = |one: &&&[Point; 2]| {
                let own = middle(one);
                let level = (one[0].y - one[1].y).abs() < 1e-3;
                level
                    && off(own) <= NEAR
                    && arms.iter().any(|other| {
                        let upright = (other[0].x - other[1].x).abs() < 1e-3;
                        upright && middle(other).distance(own) < 1e-3
                    })
            };
            let mut near: Vec<Point> =
                arms.iter().filter(is_cross).map(|arm| middle(arm)).collect();
            near.sort_by(|a, b| off(*a).total_cmp(&off(*b)));
            match near.as_slice() {
                // Where two crosses are about as near, nothing tells whose label it is.
                [first, second, ..] if off(*second) - off(*first) < APART => {}
                [first, ..] => all.push((text, *first)),
                [] => {}
            }
        }
        all
    }
}

/// `1a`, `12ab`: the number of a join and letters.
fn is_label(text: &str) -> bool {
    let letters = text.trim_start_matches(|c: char| c.is_ascii_digit());
    let digits = text.len() - letters.len();
    digits > 0 && !letters.is_empty() && letters.bytes().all(|b| b.is_ascii_lowercase())
}

/// Joins whose two crosses lie farther apart on one strip than on the other.
fn joins(shown: &[Shown<'_>]) -> Vec<Finding> {
    // The distances of crosses `a` and `b` of a join, each with its page.
    let mut apart: BTreeMap<String, Vec<(f64, &str)>> = BTreeMap::new();
    for page in shown {
        let crosses = page.crosses();
        for (label, at) in &crosses {
            let Some(join) = label.strip_suffix('a') else { continue };
            let other = format!("{join}b");
            let of = |name: &str| {
                let own = crosses.iter().filter(|(l, _)| *l == name);
                own.map(|(_, end)| *end).collect::<Vec<Point>>()
            };
            // Where both strips of a join lie on one page, nothing tells which is whose.
            if let ([_], [end]) = (of(label).as_slice(), of(&other).as_slice()) {
                let distance = end.distance(*at);
                apart.entry(join.to_owned()).or_default().push((distance, page.name));
            }
        }
    }
    let off = |(join, all): (String, Vec<(f64, &str)>)| {
        let [(a, one), (b, two)] = all[..] else { return None };
        ((a - b).abs() > CROSS).then(|| {
            Finding::error(
                rule::JOIN_OFF,
                format!("the crosses of join {join} do not meet"),
            )
            .expected(
                format!("{a:.3} mm apart on {one}, {b:.3} mm on {two}"),
                "the same on both strips",
            )
            .remedy(ANEW)
        })
    };
    apart.into_iter().filter_map(off).collect()
}

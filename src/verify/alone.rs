//! Sheets without their job, held against themselves: whether scale bars are as long as they
//! say, and whether the crosses of a join lie alike on both of its strips.

use super::record::Ink;
use super::report::{ANEW, Report};
use super::{Shown, rule};
use crate::diagnostic::Finding;
use hayro_interpret::kurbo::{PathEl, Point};
use std::collections::{BTreeMap, BTreeSet};

/// How far a scale bar may be off, as a part of its length, and a cross, in mm.
const BAR: f64 = 2e-4;
const CROSS: f64 = 0.05;
/// How far a correction may set a scale bar off, as a part of its length: a printer that is
/// off by more than 8 % cannot be calibrated.
const CORRECTED: f64 = 0.09;
/// How far a numeral or a label stands from what it names, in mm.
const NEAR: f64 = 8.0;
/// How far the numerals of a row may be off their line, in mm.
const IN_ROW: f64 = 0.2;
/// How much farther the next cross is from the label of another, in mm.
const APART: f64 = 2.0;
/// The longest arm of a cross from end to end, in mm.
const ARMS: f64 = 6.0;

/// The label of a cross and the middle of the cross.
type Label<'a> = (&'a str, Point);

/// A text, where it starts and where its last letter does.
struct Text {
    words: String,
    start: Point,
    last: Point,
}

/// One page as far as it is looked at.
struct Seen<'a> {
    name: &'a str,
    texts: Vec<Text>,
    lines: Vec<[Point; 2]>,
}

/// What pages say of themselves.
pub(super) fn alone(pages: &[Shown]) -> Report {
    let looked_at: Vec<Seen<'_>> = pages.iter().map(Seen::new).collect();
    let mut findings = Vec::new();
    let names: BTreeSet<String> =
        pages.iter().filter_map(|shown| shown.page.print_name()).collect();
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
    let (mut sheets, mut ticket_pages) = (0, 0);
    for (page, shown) in looked_at.iter().zip(pages) {
        let bars = page.bars();
        if !bars.is_empty() {
            sheets += 1;
        } else if shown.page.print_name().is_some() {
            ticket_pages += 1;
        }
        findings.extend(bars.iter().find_map(|bar| bar.finding(page.name)));
    }
    findings.extend(joins(&looked_at));
    findings.sort_by_key(|f| std::cmp::Reverse(f.severity));
    Report {
        print: Vec::from_iter(names).join(", "),
        printer: String::new(),
        sheets,
        ticket_pages,
        other_pages: pages.len() - sheets - ticket_pages,
        marks: Vec::new(),
        findings,
    }
}

/// A scale bar: what its last numeral says, and its length, both in mm; none where it is not
/// drawn.
struct Bar {
    says: f64,
    length: Option<f64>,
}

impl Bar {
    fn finding(&self, page: &str) -> Option<Finding> {
        let says = self.says;
        let Some(length) = self.length else {
            let message = format!("{page} lacks a scale bar");
            let found = format!("no line along the numerals from 0 to {says} mm");
            let missing = Finding::error(rule::BAR_MISSING, message);
            return Some(missing.expected(found, "a line of that length").remedy(ANEW));
        };
        let off = (length / says - 1.0).abs();
        let found = format!("a bar of {length:.2} mm that says {says} mm");
        let scaled = |finding: Finding| finding.expected(found, "the same length");
        if off <= BAR {
            None
        } else if off <= CORRECTED {
            let message = format!("{page} is not at full scale, or is corrected");
            let finding = scaled(Finding::warning(rule::SHEET_SCALED, message));
            Some(
                finding
                    .remedy("give the job too: a print for a printer is meant to be so"),
            )
        } else {
            let message = format!("{page} is not at full scale");
            let finding = scaled(Finding::error(rule::SHEET_SCALED, message));
            Some(finding.remedy("print the file that `strapwright draw` wrote, at 100 %"))
        }
    }
}

impl<'a> Seen<'a> {
    fn new(shown: &'a Shown) -> Self {
        let (mut texts, mut lines) = (Vec::new(), Vec::new());
        for drawing in &shown.page.drawings {
            match &drawing.ink {
                Ink::Text { letters, .. } => {
                    let words = letters.iter().map(|(letter, _)| letter).collect();
                    let (start, last) = (letters[0].1, letters[letters.len() - 1].1);
                    texts.push(Text { words, start, last });
                }
                Ink::Stroke { path, dashes, .. } if dashes.is_empty() => {
                    if let [PathEl::MoveTo(from), PathEl::LineTo(to)] = *path.elements() {
                        lines.push([from, to]);
                    }
                }
                _ => {}
            }
        }
        Self { name: &shown.name, texts, lines }
    }

    /// The scale bars. The numerals of one stand in a row, from `0` to such as `180 mm`, and
    /// the bar runs from the one to the other.
    fn bars(&self) -> Vec<Bar> {
        let zeros: Vec<Point> =
            self.texts.iter().filter(|t| t.words == "0").map(|t| t.start).collect();
        let mut all = Vec::new();
        for Text { words, start: at, .. } in &self.texts {
            let says = words.strip_suffix(" mm").and_then(|n| n.parse::<u32>().ok());
            let Some(says) = says.map(f64::from).filter(|n| *n >= 50.0) else { continue };
            let in_row =
                |zero: &&Point| (zero.x - at.x).abs().min((zero.y - at.y).abs()) < IN_ROW;
            let zeros: Vec<&Point> = zeros.iter().filter(in_row).collect();
            if zeros.is_empty() {
                continue;
            }
            let is_along = |a: &Point, b: &Point| {
                zeros.iter().any(|zero| a.distance(**zero) <= NEAR)
                    && b.distance(*at) <= NEAR
            };
            let line = self.lines.iter().find(|[a, b]| is_along(a, b) || is_along(b, a));
            all.push(Bar { says, length: line.map(|[a, b]| a.distance(*b)) });
        }
        all
    }

    /// Every labelled cross: its label, such as `1a`, and its middle.
    fn crosses(&self) -> Vec<Label<'_>> {
        let is_arm = |[a, b]: &&[Point; 2]| a.distance(*b) <= ARMS;
        let arms: Vec<&[Point; 2]> = self.lines.iter().filter(is_arm).collect();
        let middle = |[a, b]: &[Point; 2]| a.midpoint(*b);
        let mut all = Vec::new();
        for Text { words, start, last } in
            self.texts.iter().filter(|t| is_label(&t.words))
        {
            // The label stands beside its cross, on either side.
            let off = |p: Point| p.distance(*start).min(p.distance(*last));
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
                [first, ..] => all.push((words.as_str(), *first)),
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
fn joins(seen: &[Seen<'_>]) -> Vec<Finding> {
    // The distances of crosses `a` and `b` of a join, each with its page.
    let mut apart: BTreeMap<String, Vec<(f64, &str)>> = BTreeMap::new();
    for page in seen {
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

//! Sheets without their job, held against themselves: whether scale bars are as long as they
//! say, and whether the crosses of a join lie alike on both of its strips.

use super::record::Ink;
use super::report::{ANEW, Report};
use super::{Shown, rule};
use crate::diagnostic::Finding;
use hayro_interpret::kurbo::{PathEl, Point};
use std::collections::{BTreeMap, BTreeSet};
use std::ops::RangeInclusive;

/// How far a scale bar may be off, as a part of its length, and a cross, in mm.
const BAR: f64 = 2e-4;
const CROSS: f64 = 0.05;
/// How far a correction may set a scale bar off, as a part of its length: a printer that is
/// off by more than 8 % cannot be calibrated.
const CORRECTED: f64 = 0.09;
/// How far a numeral or a name stands from what it names, in mm.
const NEAR: f64 = 8.0;
/// How far the numerals of a row may be off their line, in mm.
const IN_ROW: f64 = 0.2;
/// How long the arms of a cross are from end to end, in mm: the plus in a hole is smaller.
const ARMS: RangeInclusive<f64> = 3.0..=6.0;

/// A text, where it starts and where its last letter does, and whether it is bold.
struct Text {
    words: String,
    is_bold: bool,
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
                Ink::Text { letters, bold, .. } => {
                    let words = letters.iter().map(|(letter, _)| letter).collect();
                    let (start, last) = (letters[0].1, letters[letters.len() - 1].1);
                    texts.push(Text { words, is_bold: *bold > 0.0, start, last });
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

    /// The scale bars. The numerals of one stand in a row, from `0` to such as `180 mm` or
    /// `7 in`, and the bar runs from the start of the one to the end of the other.
    fn bars(&self) -> Vec<Bar> {
        // Those of bars are bold; a ticket has zeros and lengths too.
        let bold = || self.texts.iter().filter(|t| t.is_bold);
        let zeros: Vec<Point> =
            bold().filter(|t| t.words == "0").map(|t| t.start).collect();
        let mut all = Vec::new();
        for Text { words, last: at, .. } in bold() {
            let (number, unit) = words.rsplit_once(' ').unwrap_or_default();
            let unit = match unit {
                "mm" => 1.0,
                "in" => 25.4,
                _ => continue,
            };
            let says = number.parse::<u32>().ok().map(|n| f64::from(n) * unit);
            let Some(says) = says.filter(|n| *n >= 50.0) else { continue };
            let in_row =
                |zero: &&Point| (zero.x - at.x).abs().min((zero.y - at.y).abs()) < IN_ROW;
            let zeros: Vec<&Point> = zeros.iter().filter(in_row).collect();
            if zeros.is_empty() {
                continue;
            }
            let first = zeros.iter().copied();
            let far = |a: &Point, b: &Point| {
                let to_zero = first.clone().map(|zero| a.distance(*zero));
                let worst = to_zero.fold(f64::INFINITY, f64::min).max(b.distance(*at));
                (worst <= NEAR).then_some(worst)
            };
            // Of several lines in reach the nearest one is the bar.
            let lines = self.lines.iter().filter_map(|line| {
                let [a, b] = line;
                Some((far(a, b).or_else(|| far(b, a))?, line))
            });
            let line = lines.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, line)| line);
            all.push(Bar { says, length: line.map(|[a, b]| a.distance(*b)) });
        }
        all
    }

    /// The middle of every cross: of two lines that halve each other, level and upright.
    fn crosses(&self) -> Vec<Point> {
        let is_arm = |[a, b]: &&[Point; 2]| ARMS.contains(&a.distance(*b));
        let arms = || self.lines.iter().filter(is_arm);
        let middle = |[a, b]: &[Point; 2]| a.midpoint(*b);
        let level = arms().filter(|[a, b]| (a.y - b.y).abs() < 1e-3).map(middle);
        let upright: Vec<Point> =
            arms().filter(|[a, b]| (a.x - b.x).abs() < 1e-3).map(middle).collect();
        let meets = |at: &Point| upright.iter().any(|other| other.distance(*at) < 1e-3);
        level.filter(meets).collect()
    }

    /// Every named join with the distance of its two crosses: the name stands between them,
    /// beside the match line from the one to the other.
    fn joins(&self) -> Vec<(&str, f64)> {
        let crosses = self.crosses();
        let pair = |text: &Text| {
            let is_turned = (text.start.x - text.last.x).abs() < IN_ROW;
            // How far off the line of the text, and how far along it from its start.
            let off = |p: &Point| {
                let by = *p - text.start;
                if is_turned { (by.x.abs(), by.y) } else { (by.y.abs(), by.x) }
            };
            let own = || crosses.iter().filter(|p| off(p).0 <= NEAR);
            let before = own().filter(|p| off(p).1 < 0.0);
            let after = own().filter(|p| off(p).1 > 0.0);
            let before = before.max_by(|a, b| off(a).1.total_cmp(&off(b).1))?;
            let after = after.min_by(|a, b| off(a).1.total_cmp(&off(b).1))?;
            Some(before.distance(*after))
        };
        let named = self.texts.iter().filter_map(|text| Some((name(&text.words)?, text)));
        named.filter_map(|(name, text)| Some((name, pair(text)?))).collect()
    }
}

/// The strips that a join joins, at the end of its name: `1 + 2`.
fn name(words: &str) -> Option<&str> {
    let (before, later) = words.rsplit_once(" + ")?;
    let earlier = before.rsplit_once(' ').map_or(before, |(_, number)| number);
    let is_number = |n: &str| !n.is_empty() && n.bytes().all(|b| b.is_ascii_digit());
    let start = words.len() - earlier.len() - " + ".len() - later.len();
    (is_number(earlier) && is_number(later)).then(|| &words[start..])
}

/// Joins whose two crosses lie farther apart on one strip than on the other.
fn joins(seen: &[Seen<'_>]) -> Vec<Finding> {
    let mut apart: BTreeMap<&str, Vec<(f64, &str)>> = BTreeMap::new();
    for page in seen {
        for (join, distance) in page.joins() {
            apart.entry(join).or_default().push((distance, page.name));
        }
    }
    let off = |(join, all): (&str, Vec<(f64, &str)>)| {
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

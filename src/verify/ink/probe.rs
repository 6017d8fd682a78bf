//! Where ink must be: every line of a sheet as short stretches, to be measured across.

use super::raster::{PIXELS_PER_MM, Raster, pixel};
use crate::geom::{Length, Path, Point as Exact, Segment, Sheet as OnSheet, Step};
use crate::paginate::{Item, Layer, Pen, Sheet, Tone};
use hayro_interpret::kurbo::{Affine, BezPath, Point, Rect, Shape, Vec2};
use std::collections::BTreeMap;

/// From one stretch of a line to the next, in mm.
const STEP: f64 = 0.25;
/// Places to a pixel at which ink is measured across a line.
const PARTS: f64 = 4.0;
/// How far beyond a line its ink is looked for, in mm.
const REACH: f64 = 0.4;
/// Ink that may be anywhere this near to a line, in mm.
const AROUND: f64 = 0.3;
/// The part of a line's darkness that must be there.
const DARK: f64 = 0.55;
/// Where the ink of a line ends, as a part of its darkness.
const EDGE: f64 = 0.12;
/// How near the ink of two lines may be before a page of pixels shows them as one, in mm.
const BLUR: f64 = 0.2;

/// What a line of a sheet is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Subject {
    /// A form of the layer of punches: its path's place among the sheet's items.
    Form { item: usize, path: usize },
    /// A part of an outline.
    Outline,
    /// A fold line.
    Fold,
    /// A tick of a ruler.
    Tick,
    /// A scale bar or one of its ticks.
    Bar,
    /// The ring of a cross.
    Ring,
    /// Any other line.
    Line,
    /// A line of the head and its key plan, which lies on grey.
    Head,
}

/// A line of a sheet.
#[derive(Clone, Debug)]
pub(super) struct Element {
    pub(super) subject: Subject,
    /// Where ticks stand, in mm of the page; empty for other lines.
    pub(super) ticks: Vec<Rect>,
    pub(super) probes: Vec<Probe>,
    /// Whether it has gaps.
    pub(super) is_dashed: bool,
    /// The middle of a form so small that the ink of its sides is one: there the outer edge of
    /// the ink is measured.
    middle: Option<Point>,
    /// Half its width, in mm.
    half: f64,
    /// How dark it is, up to 255.
    dark: f64,
}

/// A place of a line, in mm of the page, and the direction across it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Probe {
    pub(super) at: Point,
    pub(super) across: Vec2,
    /// Whether a black area, or for a form, an outline or a sign another line, lies so near that its ink and
    /// this line's are one: then the line must be there, but nothing tells how far it is off.
    pub(super) is_merged: bool,
}

impl Element {
    /// How far the ink lies off the line at a probe, in mm; `None` where there is none.
    pub(super) fn measure(
        &self,
        probe: Probe,
        raster: &Raster,
        left: f64,
    ) -> Option<f64> {
        let reach = self.half + REACH;
        let at = probe.at.to_vec2() * PIXELS_PER_MM - Vec2::new(left, 0.0);
        let steps = (reach * PIXELS_PER_MM * PARTS).ceil();
        let dark = |n: f64| {
            let p = at + probe.across * (n / PARTS);
            raster.at(p.x, p.y)
        };
        // The ink that is nearest to the line.
        let least = self.dark * DARK;
        if probe.is_merged && self.subject != Subject::Outline {
            return (dark(0.0) >= least).then_some(0.0);
        }
        let mut start = 0.0;
        let found = loop {
            if dark(start) >= least {
                break start;
            }
            if dark(-start) >= least {
                break -start;
            }
            start += 1.0;
            if start > steps {
                return None;
            }
        };
        let to_mm = PARTS * PIXELS_PER_MM;
        if let Some(middle) = self.middle {
            let way = (probe.at - middle).dot(probe.across).signum();
            let (mut n, half) = (found, self.dark / 2.0);
            let mut before = dark(n);
            loop {
                n += way;
                let next = dark(n);
                if next < half {
                    let edge = n - way * (half - next) / (before - next);
                    return Some(edge / to_mm - way * self.half);
                }
                if n.abs() > steps * 2.0 {
                    return None;
                }
                before = next;
            }
        }
        let edge = self.dark * EDGE;
        let (mut sum, mut moment) = (0.0, 0.0);
        for way in [1.0, -1.0] {
            let mut n = if way > 0.0 { found } else { found - 1.0 };
            while n.abs() <= steps * 2.0 {
                let own = dark(n);
                if own < edge {
                    break;
                }
                sum += own;
                moment += own * n;
                n += way;
            }
        }
        Some(moment / sum / to_mm)
    }

    /// How far from its probes ink may be, in mm.
    pub(super) fn around(&self) -> f64 {
        self.half + AROUND
    }
}

/// All lines of a sheet; `to_page` is the way from the sheet to its page.
pub(super) fn elements(sheet: &Sheet, to_page: Affine) -> Vec<Element> {
    let covers = covers(sheet, to_page);
    let black = black(sheet, to_page);
    let mut all = Vec::new();
    for (index, item) in sheet.items.iter().enumerate() {
        let hidden = |p: &Probe| {
            covers.iter().any(|(later, area)| *later > index && area.contains(p.at))
        };
        let element = |subject, pen: Pen, is_dashed, mut probes: Vec<Probe>| {
            probes.retain(|p| !hidden(p));
            let reach = pen.width().as_mm_f64() / 2.0 + REACH;
            for probe in &mut probes {
                let sides = [-reach, reach].map(|by| probe.at + probe.across * by);
                let ends =
                    [probe.at - probe.across * 0.05, probe.at + probe.across * 0.05];
                let is_black = |p: &Point| black.iter().any(|path| path.contains(*p));
                probe.is_merged = sides.iter().chain(&ends).any(is_black);
            }
            let (half, dark) = (pen.width().as_mm_f64() / 2.0, darkness(pen.tone()));
            let middle = match subject {
                Subject::Form { .. } => middle(&probes, half),
                _ => None,
            };
            let (ticks, is_seen) = (Vec::new(), !probes.is_empty());
            is_seen.then_some(Element {
                subject,
                ticks,
                probes,
                is_dashed,
                middle,
                half,
                dark,
            })
        };
        match item {
            Item::Stroke { layer, pen, paths } => {
                let is_dashed = !pen.dashes().is_empty();
                for (path_index, path) in paths.iter().enumerate() {
                    let subject = match (layer, pen) {
                        _ if index < sheet.head => Subject::Head,
                        (Layer::Punch, _) => {
                            Subject::Form { item: index, path: path_index }
                        }
                        (Layer::Outline, _) => Subject::Outline,
                        (_, Pen::Fold) => Subject::Fold,
                        _ if is_bar(sheet, path) => Subject::Bar,
                        _ if is_ring(sheet, path) => Subject::Ring,
                        _ => Subject::Line,
                    };
                    all.extend(element(subject, *pen, is_dashed, along(path, to_page)));
                }
            }
            Item::TickRows { pen, tick_rows, .. } => {
                for row in tick_rows {
                    let ends = (0..row.count).map(|n| {
                        let from = row.base(n);
                        [from, from + row.tick].map(|p| point(p, to_page))
                    });
                    // Near their heads, where no shorter tick has ink.
                    let probe = |[foot, head]: [Point; 2]| Probe {
                        at: foot + (head - foot) * 0.8,
                        across: across(head - foot),
                        is_merged: false,
                    };
                    let area = |[a, b]: [Point; 2]| {
                        Rect::from_points(a, b).inflate(AROUND, AROUND)
                    };
                    let probes = ends.clone().map(probe).collect();
                    let row = element(Subject::Tick, *pen, false, probes);
                    let ticks = ends.map(area).collect();
                    all.extend(row.map(|row| Element { ticks, ..row }));
                }
            }
            Item::Fill { .. } | Item::Text { .. } => {}
        }
    }
    merge(&mut all);
    all
}

/// The middle of a form whose sides lie so near each other that their ink is one.
fn middle(probes: &[Probe], half: f64) -> Option<Point> {
    let first = probes.first()?.at;
    let area =
        probes.iter().fold(Rect::from_points(first, first), |a, p| a.union_pt(p.at));
    let is_small = area.width().min(area.height()) < 4.0 * (half + REACH);
    is_small.then(|| area.center())
}

/// Marks the probes of forms, outlines and signs at which the ink of another line and theirs are
/// one: an arm of a cross, a hole at the end of a slit, or the tip of another size.
fn merge(all: &mut [Element]) {
    const SIDE: f64 = 1.0;
    // Each probe with its element and half the width of its line.
    let mut squares: BTreeMap<_, Vec<(usize, Point, f64)>> = BTreeMap::new();
    let square = |at: f64| pixel(at / SIDE, usize::MAX);
    for (index, element) in all.iter().enumerate() {
        for probe in &element.probes {
            let place = (square(probe.at.x), square(probe.at.y));
            squares.entry(place).or_default().push((index, probe.at, element.half));
        }
    }
    for (index, element) in all.iter_mut().enumerate() {
        use Subject::{Form, Line, Outline};
        if !matches!(element.subject, Form { .. } | Line | Outline) {
            continue;
        }
        for probe in &mut element.probes {
            let [x, y] = [probe.at.x, probe.at.y].map(square);
            let near = squares
                .range((x.saturating_sub(1), 0)..=(x + 1, usize::MAX))
                .filter(|((_, row), _)| row.abs_diff(y) <= 1)
                .flat_map(|(_, others)| others);
            probe.is_merged |=
                near.filter(|(other, ..)| *other != index).any(|(_, at, half)| {
                    let to = *at - probe.at;
                    let along = Vec2::new(probe.across.y, -probe.across.x);
                    to.dot(probe.across).abs() <= element.half + half + BLUR
                        && to.dot(along).abs() <= half + BLUR
                });
        }
    }
}

/// Areas that are painted white, each with the index of its item.
fn covers(sheet: &Sheet, to_page: Affine) -> Vec<(usize, Rect)> {
    let items = sheet.items.iter().enumerate();
    let white = items.filter_map(|(index, item)| match item {
        Item::Fill { tone: Tone::White, paths, .. } => Some((index, paths)),
        _ => None,
    });
    white
        .flat_map(|(index, paths)| paths.iter().map(move |path| (index, path)))
        .map(|(index, path)| (index, bounds(path, to_page).inflate(0.2, 0.2)))
        .collect()
}

/// The rectangle about a path, in mm of the page.
pub(super) fn bounds(path: &Path<OnSheet>, to_page: Affine) -> Rect {
    polygon(path, to_page).bounding_box()
}

/// A path by places on it, arcs in parts of a few degrees.
fn polygon(path: &Path<OnSheet>, to_page: Affine) -> BezPath {
    const PARTS: i64 = 16;
    let mut all = BezPath::new();
    all.move_to(point(path.start, to_page));
    for segment in path.segments() {
        if matches!(segment.step, Step::Arc { .. }) {
            for n in 1..PARTS {
                all.line_to(point(segment.part(n, PARTS), to_page));
            }
        }
        all.line_to(point(segment.step.to(), to_page));
    }
    all.close_path();
    all
}

/// The black areas of a sheet.
fn black(sheet: &Sheet, to_page: Affine) -> Vec<BezPath> {
    let fills = sheet.items.iter().filter_map(|item| match item {
        Item::Fill { tone: Tone::Black, paths, .. } => Some(paths),
        _ => None,
    });
    fills.flatten().map(|path| polygon(path, to_page)).collect()
}

/// Whether a path is the ring of a cross.
fn is_ring(sheet: &Sheet, path: &Path<OnSheet>) -> bool {
    let mut crosses = sheet.tiles.iter().flat_map(|tile| &tile.crosses);
    path.steps.iter().all(|step| matches!(step, Step::Arc { .. }))
        && path.steps.first().is_some_and(|step| {
            crosses.any(|c| matches!(step, Step::Arc { centre, .. } if *centre == c.at))
        })
}

fn is_bar(sheet: &Sheet, path: &Path<OnSheet>) -> bool {
    sheet.bars.iter().any(|bar| path.start == bar.from && path.end() == bar.to)
}

/// How dark a tone is drawn, up to 255.
pub(super) fn darkness(tone: Tone) -> f64 {
    255.0 * (1.0 - f64::from(tone.lightness()) / 100.0)
}

fn point(at: Exact<OnSheet>, to_page: Affine) -> Point {
    to_page * Point::new(at.x.as_mm_f64(), at.y.as_mm_f64())
}

fn across(along: Vec2) -> Vec2 {
    Vec2::new(-along.y, along.x) / along.hypot()
}

/// Probes along a path.
fn along(path: &Path<OnSheet>, to_page: Affine) -> Vec<Probe> {
    let mut all = Vec::new();
    for segment in path.segments() {
        let (from, to) = (segment.from, segment.step.to());
        if from == to {
            continue;
        }
        let count = parts(segment);
        let part = |n: i64| {
            let p = if n == count { to } else { segment.part(n, count) };
            point(p, to_page)
        };
        let mut before = point(from, to_page);
        for n in 1..=count {
            let next = part(n);
            let middle = match segment.step {
                Step::Line { .. } => before.midpoint(next),
                // On the arc, not on its chord.
                Step::Arc { .. } => point(segment.part(n * 2 - 1, count * 2), to_page),
            };
            let across = across(next - before);
            all.push(Probe { at: middle, across, is_merged: false });
            before = next;
        }
    }
    all
}

#[expect(clippy::cast_possible_truncation, reason = "a segment has few parts")]
fn parts(segment: Segment<OnSheet>) -> i64 {
    let chord: Length = (segment.step.to() - segment.from).norm();
    let length = match segment.step {
        Step::Line { .. } => chord.as_mm_f64(),
        // At most half a turn, so at most this much longer.
        Step::Arc { .. } => chord.as_mm_f64() * 1.58,
    };
    (length / STEP).ceil().max(1.0) as i64
}

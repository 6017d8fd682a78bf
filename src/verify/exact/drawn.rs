//! One drawing as both sides give it: the file in floats, the sheet model in exact lengths.

use crate::geom::{Length, Path, Point as Exact, QuarterTurn, Sheet as OnSheet, Step};
use crate::lettering;
use crate::paginate::{Anchor, Item, TickRow, bold_stroke};
use crate::verify::record::{Drawing, Ink, Letter};
use crate::verify::setup::mapped;
use hayro_interpret::kurbo::{Affine, BezPath, ParamCurve, PathEl, PathSeg, Point, Vec2};

/// How far a drawing may be off in mm: files keep 1/10000 point, which is 0.00004 mm.
pub(super) const TOLERANCE: f64 = 0.001;
/// How far a Bézier curve of a quarter turn may be from its arc, to the radius. Four such
/// curves draw a circle with an error of 2.7e-4 (computed from the usual control points).
const CURVE: f64 = 3e-4;

/// From tick to tick at least, in mm.
const SHORTEST: f64 = 0.05;

/// A drawing of the file on its sheet, in mm.
#[derive(Clone, Debug)]
pub(super) enum Found {
    /// A solid straight line, or one tick of a row: its ends and its width.
    Line { ends: [Point; 2], width: f64 },
    /// Another line.
    Stroke { path: BezPath, width: f64, dashes: Vec<f64> },
    /// A filled area.
    Area { path: BezPath },
    /// A line of text: its letters and its em along and across.
    Text { letters: Vec<Letter>, em: [Vec2; 2], bold: f64 },
    /// An image.
    Image { middle: Point },
}

/// The drawings of one ink on the sheet, without the printer's correction: a row of ticks may
/// be drawn as one dashed line.
pub(super) fn found(drawing: Drawing, to_page: Affine) -> Vec<Found> {
    let to_sheet = to_page.inverse();
    match drawing.ink {
        Ink::Stroke { path, width, dashes } => {
            match (straight(&path), dashes.as_slice()) {
                // Dashes that are shorter than they are wide are ticks. Dashes and widths are
                // the page's own.
                (Some(ends), &[dash, gap]) if dash < width && dash + gap > SHORTEST => {
                    ticks(ends, width, [dash, gap], to_sheet)
                }
                (Some(ends), []) => {
                    vec![Found::Line { ends: ends.map(|end| to_sheet * end), width }]
                }
                _ => vec![Found::Stroke { path: to_sheet * path, width, dashes }],
            }
        }
        Ink::Area { path } => vec![Found::Area { path: to_sheet * path }],
        Ink::Text { mut letters, em, bold } => {
            for (_, at) in &mut letters {
                *at = to_sheet * *at;
            }
            let em = em.map(|side| mapped(to_sheet, side));
            vec![Found::Text { letters, em, bold }]
        }
        Ink::Image { area } => vec![Found::Image { middle: to_sheet * area.center() }],
    }
}

/// The ends of a path that is one straight line.
fn straight(path: &BezPath) -> Option<[Point; 2]> {
    match *path.elements() {
        [PathEl::MoveTo(from), PathEl::LineTo(to)] => Some([from, to]),
        _ => None,
    }
}

/// The ticks of a dashed line: each dash is a tick, as long as the line is wide.
fn ticks(
    [from, to]: [Point; 2],
    width: f64,
    [dash, gap]: [f64; 2],
    to_sheet: Affine,
) -> Vec<Found> {
    let length = from.distance(to);
    let along = (to - from) / length;
    let half = Vec2::new(-along.y, along.x) * width / 2.0;
    let mut all = Vec::new();
    let mut at = dash / 2.0;
    while at < length {
        let middle = from + along * at;
        let ends = [middle - half, middle + half].map(|end| to_sheet * end);
        all.push(Found::Line { ends, width: dash });
        at += dash + gap;
    }
    all
}

/// What the sheet model asks for.
#[derive(Clone, Debug)]
pub(in crate::verify) enum Wanted<'a> {
    /// A solid straight line.
    Line { ends: [Exact<OnSheet>; 2], width: Length },
    /// Another line.
    Stroke { path: &'a Path<OnSheet>, width: Length, dashes: &'static [Length] },
    /// A filled area.
    Area { path: &'a Path<OnSheet> },
    /// A line of text with the start of its base line.
    Text {
        text: &'a str,
        from: Exact<OnSheet>,
        turn: QuarterTurn,
        size: Length,
        bold: bool,
    },
}

/// Everything that an item draws.
pub(in crate::verify) fn wanted(item: &Item) -> Vec<Wanted<'_>> {
    match item {
        Item::Stroke { pen, paths, .. } => {
            let (width, dashes) = (pen.width(), pen.dashes());
            let line = |path: &Path<OnSheet>| match path.steps.as_slice() {
                &[Step::Line { to }] if dashes.is_empty() && !path.closed => {
                    Some([path.start, to])
                }
                _ => None,
            };
            let one = |path| match line(path) {
                Some(ends) => Wanted::Line { ends, width },
                None => Wanted::Stroke { path, width, dashes },
            };
            paths.iter().map(one).collect()
        }
        Item::TickRows { pen, tick_rows, .. } => {
            let tick = |row: &TickRow, n| {
                let from = row.base(n);
                Wanted::Line { ends: [from, from + row.tick], width: pen.width() }
            };
            tick_rows
                .iter()
                .flat_map(|row| (0..row.count).map(move |n| tick(row, n)))
                .collect()
        }
        Item::Fill { paths, .. } => {
            paths.iter().map(|path| Wanted::Area { path }).collect()
        }
        Item::Text { text, .. } if text.is_empty() => Vec::new(),
        Item::Text { turn, size, bold, text, .. } => {
            let (turn, size, bold) = (*turn, *size, *bold);
            let ends = base_line(item).into_iter();
            ends.map(|[from, _]| Wanted::Text { text, from, turn, size, bold }).collect()
        }
    }
}

/// Where the base line of a text begins and ends.
pub(super) fn base_line(item: &Item) -> Option<[Exact<OnSheet>; 2]> {
    let Item::Text { at, anchor, turn, size, text, .. } = item else { return None };
    let width = lettering::width(text, *size);
    let from = match anchor {
        Anchor::Start => Length::ZERO,
        Anchor::Middle => -(width / 2),
        Anchor::End => -width,
    };
    Some([from, from + width].map(|along| *at + turn.turned(along, Length::ZERO)))
}

fn point(at: Exact<OnSheet>) -> Point {
    Point::new(at.x.as_mm_f64(), at.y.as_mm_f64())
}

impl Wanted<'_> {
    /// Where it begins, in mm.
    pub(super) fn start(&self) -> Point {
        match self {
            Self::Line { ends, .. } => point(ends[0]),
            Self::Stroke { path, .. } | Self::Area { path } => point(path.start),
            Self::Text { from, .. } => point(*from),
        }
    }

    /// How far `found` is from it at the worst place, in mm; `None` if it is another drawing.
    pub(super) fn distance(&self, found: &Found) -> Option<f64> {
        let off = match (self, found) {
            (Self::Line { ends, width }, Found::Line { ends: [a, b], width: found }) => {
                let [from, to] = ends.map(point);
                let one = from.distance(*a).max(to.distance(*b));
                let other = from.distance(*b).max(to.distance(*a));
                one.min(other).max((width.as_mm_f64() - found).abs())
            }
            (
                Self::Stroke { path, width, dashes },
                Found::Stroke { path: found, width: wide, dashes: dashed },
            ) => {
                let same = dashes.len() == dashed.len();
                let pairs = dashes.iter().zip(dashed);
                let dash =
                    pairs.map(|(d, f)| (d.as_mm_f64() - f).abs()).fold(0.0, f64::max);
                let pen = (width.as_mm_f64() - wide).abs().max(dash);
                path_distance(path, found).filter(|_| same)?.max(pen)
            }
            (Self::Area { path }, Found::Area { path: found }) => {
                path_distance(path, found)?
            }
            (
                Self::Text { text, from, turn, size, bold },
                Found::Text { letters, em: [along, up], bold: drawn },
            ) => {
                let em = size.as_mm_f64();
                let (x, y) = match turn {
                    QuarterTurn::None => (Vec2::new(em, 0.0), Vec2::new(0.0, em)),
                    QuarterTurn::Left => (Vec2::new(0.0, em), Vec2::new(-em, 0.0)),
                };
                let pen = if *bold { bold_stroke(*size).as_mm_f64() } else { 0.0 };
                let mut off = (x - *along).hypot().max((y - *up).hypot());
                off = off.max((pen - drawn).abs());
                off = off.max(point(*from).distance(letters[0].1));
                let (mut found, mut at) = (letters.iter(), point(*from));
                // A file rounds the width of each letter to a thousandth of an em.
                let mut rounded = TOLERANCE;
                for letter in text.chars() {
                    let own = |(drawn, start): &&Letter| {
                        *drawn == letter && start.distance(at) <= rounded
                    };
                    found.next().filter(own)?;
                    at += x * lettering::em_advance(letter);
                    rounded += em / 1_000.0;
                }
                found.next().is_none().then_some(off)?
            }
            _ => return None,
        };
        Some(off)
    }
}

/// How far a drawn path is from an exact one; `None` if it goes another way.
fn path_distance(exact: &Path<OnSheet>, found: &BezPath) -> Option<f64> {
    if let Some(corners) = rectangle(exact) {
        // The interpreter gives rectangles from a corner of its own.
        let drawn = found.segments().map(|s| s.start());
        let drawn: Vec<Point> = drawn.collect();
        let near =
            |at: &Point| drawn.iter().map(|p| p.distance(*at)).fold(f64::MAX, f64::min);
        let is_one = drawn.len() == corners.len() && found.segments().all(is_level);
        return is_one.then(|| corners.iter().map(near).fold(0.0, f64::max));
    }
    let mut segments = found.segments();
    let mut worst: f64 = 0.0;
    let mut at = exact.start;
    for step in &exact.steps {
        match *step {
            Step::Line { to } => {
                // A line without length may be left out.
                if to == at {
                    continue;
                }
                let PathSeg::Line(line) = segments.next()? else { return None };
                worst = worst.max(line.p0.distance(point(at)));
                worst = worst.max(line.p1.distance(point(to)));
            }
            Step::Arc { to, .. } if to == at => {}
            Step::Arc { to, centre, clockwise } => {
                let off =
                    arc_distance(point(at), point(to), point(centre), clockwise, || {
                        segments.next()
                    })?;
                worst = worst.max(off);
            }
        }
        at = step.to();
    }
    let closes = matches!(found.elements().last(), Some(PathEl::ClosePath));
    // What closes a path may be drawn or not where the ends meet.
    let rest: f64 = segments.map(|s| s.start().distance(s.end())).sum();
    let gap = if exact.closed { (exact.start - at).norm().as_mm_f64() } else { 0.0 };
    (closes == exact.closed).then_some(worst.max((rest - gap).abs()))
}

/// The corners of a path that is an upright rectangle.
fn rectangle(path: &Path<OnSheet>) -> Option<[Point; 4]> {
    let corners: Vec<Exact<OnSheet>> = path
        .segments()
        .iter()
        .map(|s| matches!(s.step, Step::Line { .. }).then_some(s.from))
        .collect::<Option<_>>()?;
    let is_upright = path.segments().iter().all(|s| {
        let to = s.step.to();
        to.x == s.from.x || to.y == s.from.y
    });
    let corners: [Exact<OnSheet>; 4] = corners.try_into().ok()?;
    (path.closed && is_upright).then(|| corners.map(point))
}

/// Whether a segment runs along an axis.
fn is_level(segment: PathSeg) -> bool {
    let PathSeg::Line(line) = segment else { return false };
    let by = line.p1 - line.p0;
    by.x.abs().min(by.y.abs()) <= TOLERANCE
}

/// How far curves are from an arc. The curves are taken until one ends where the arc ends.
fn arc_distance(
    from: Point,
    to: Point,
    centre: Point,
    clockwise: bool,
    mut next: impl FnMut() -> Option<PathSeg>,
) -> Option<f64> {
    let radius = from.distance(centre);
    let turn = |a: Point, b: Point| {
        let (a, b) = (a - centre, b - centre);
        let angle = libm::atan2(a.cross(b), a.dot(b));
        if clockwise { -angle } else { angle }
    };
    let mut at = from;
    let mut worst: f64 = 0.0;
    // Four quarters make the longest arc; a writer may take shorter curves.
    for _ in 0..64 {
        let PathSeg::Cubic(curve) = next()? else { return None };
        worst = worst.max(curve.p0.distance(at));
        for part in [0.25, 0.5, 0.75, 1.0] {
            let off = (curve.eval(part).distance(centre) - radius).abs();
            worst = worst.max((off - radius * CURVE).max(0.0));
        }
        // A curve that runs the other way round is another arc.
        let is_forward = turn(at, curve.eval(0.5)) > 0.0;
        at = curve.p3;
        if !is_forward {
            return None;
        }
        if at.distance(to) <= TOLERANCE {
            return Some(worst.max(at.distance(to)));
        }
    }
    None
}

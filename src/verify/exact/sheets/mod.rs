//! Whether the sheets show the strap. Every rule computes from the layout and the placements
//! of the tiles what must be there, in whole nanometres; none asks how it was drawn.
//!
//! `coverage` looks at all sheets together, `marks`, `lines` and `rulers` at what is drawn on
//! one, `claims` at what its texts say.

mod claims;
mod coverage;
mod lines;
mod marks;
mod rulers;

use crate::diagnostic::{Finding, RuleId};
use crate::geom::{Extent, Length, Path, Point, Sheet as OnSheet, Step, Strap};
use crate::layout::{Layout, NestedSize, Piece};
use crate::paginate::{Cross, Item, Layer, Pen, ScaleBar, Sheet, SheetSet, Tile, Tone};
use std::collections::BTreeMap;

/// How far a computed point may be from a path: both are rounded to the nanometre.
const ROUNDING: Length = Length::from_nm(5);
/// The longest arm of a cross.
const LONGEST_ARM: Length = Length::from_mm(5);
/// The length of the line of a long check.
const CHECK_LINE: Length = Length::from_mm(4);
/// What two neighbouring tiles both show on either side of their match line.
const HALF_OVERLAP: Length = Length::from_mm(8);

/// What is wrong with the sheets of `set`; `rows` are the sizes of a nested print.
pub(super) fn sheets(
    set: &SheetSet,
    layout: &Layout,
    rows: &[NestedSize],
) -> Vec<Finding> {
    let mut findings = coverage::coverage(set, layout);
    findings.extend(coverage::checks(set));
    findings.extend(coverage::crosses(set, layout));
    for sheet in &set.sheets {
        let drawn = Drawn::new(sheet);
        let mut judge = Judge { set, sheet, layout, rows, drawn, findings };
        judge.marks();
        judge.lines();
        judge.rulers();
        judge.claims();
        findings = judge.findings;
    }
    findings
}

fn error(
    id: RuleId,
    sheet: usize,
    message: &str,
    found: String,
    wanted: String,
) -> Finding {
    Finding::error(id, format!("sheet {sheet}: {message}")).expected(found, wanted)
}

/// What a sheet draws, for looking up.
struct Drawn<'a> {
    /// The forms of the layer of punches, with their pen.
    punched: BTreeMap<&'a Path<OnSheet>, Pen>,
    /// All strokes with their layer and pen.
    strokes: Vec<(Layer, Pen, &'a Path<OnSheet>)>,
    /// Black areas of the guides.
    areas: Vec<&'a Path<OnSheet>>,
    /// Lines of the guides, by where they begin.
    lines: BTreeMap<Point<OnSheet>, Vec<Point<OnSheet>>>,
}

impl<'a> Drawn<'a> {
    fn new(sheet: &'a Sheet) -> Self {
        let (mut punched, mut strokes) = (BTreeMap::new(), Vec::new());
        let mut areas = Vec::new();
        let mut lines: BTreeMap<_, Vec<_>> = BTreeMap::new();
        for item in &sheet.items[sheet.head.min(sheet.items.len())..] {
            if let Item::Fill { layer: Layer::Guides, tone: Tone::Black, paths } = item {
                areas.extend(paths);
            }
            let Item::Stroke { layer, pen, paths } = item else { continue };
            for path in paths {
                if *layer == Layer::Punch {
                    punched.insert(path, *pen);
                }
                if let (Layer::Guides, [Step::Line { to }]) =
                    (layer, path.steps.as_slice())
                {
                    lines.entry(path.start).or_default().push(*to);
                }
                strokes.push((*layer, *pen, path));
            }
        }
        Self { punched, strokes, areas, lines }
    }

    fn has_line(&self, from: Point<OnSheet>, to: Point<OnSheet>) -> bool {
        let found =
            |a: &Point<OnSheet>, b| self.lines.get(a).is_some_and(|e| e.contains(b));
        found(&from, &to) || found(&to, &from)
    }

    /// Whether the outer edge of an end line of a scale bar lies so far along it.
    fn has_end_line(&self, bar: &ScaleBar, along: Length) -> bool {
        let is_level = bar.from.y == bar.to.y;
        let turned = |p: Point<OnSheet>| {
            let off = p - bar.from;
            if is_level { (off.x, off.y) } else { (off.y, off.x) }
        };
        self.strokes.iter().any(|(layer, pen, path)| {
            let half = pen.width() / 2;
            let inward = if along == Length::ZERO { half } else { -half };
            let [(a, up), (b, down)] = [path.start, path.end()].map(turned);
            let is_near = up.abs().min(down.abs()) <= LONGEST_ARM;
            let is_line = *layer == Layer::Guides && path.steps.len() == 1 && up != down;
            is_line && is_near && a == b && a == along + inward
        })
    }

    /// Whether a line of a long check stands at a place: upright, its middle there.
    fn has_check_line(&self, at: Point<OnSheet>) -> bool {
        let half = CHECK_LINE / 2;
        self.has_line(Point::new(at.x, at.y - half), Point::new(at.x, at.y + half))
    }

    /// Whether an alignment cross stands at a place: two lines of equal arms meet there, and
    /// two opposite quarters of the ring about it are black.
    fn has_cross(&self, at: Point<OnSheet>) -> bool {
        let quarters = self.areas.iter().filter(|path| path.start == at);
        let quarters: Vec<[Point<OnSheet>; 2]> = quarters
            .filter_map(|path| match path.steps.as_slice() {
                [Step::Line { to: a }, Step::Arc { to: b, centre, .. }, ..] => {
                    (*centre == at).then_some([*a, *b])
                }
                _ => None,
            })
            .collect();
        let [first, second] = quarters.as_slice() else { return false };
        let is_opposite = (0..2).all(|n| first[n] - at == at - second[n]);
        let radius = (first[0] - at).norm();
        let is_ring = |path: &Path<OnSheet>| {
            let mut arcs = path.steps.iter();
            path.closed
                && (path.start - at).norm() == radius
                && arcs.all(|s| matches!(s, Step::Arc { centre, .. } if *centre == at))
        };
        if !is_opposite || !self.strokes.iter().any(|(_, _, path)| is_ring(path)) {
            return false;
        }
        let arms = self.lines.iter().filter(|(from, _)| from.y == at.y);
        let mut arms = arms.map(|(from, _)| at.x - from.x);
        arms.any(|arm| {
            let is_arm = Length::ZERO < arm && arm <= LONGEST_ARM;
            let ends =
                |x, y| [Point::new(at.x - x, at.y - y), Point::new(at.x + x, at.y + y)];
            let [left, right] = ends(arm, Length::ZERO);
            let [low, high] = ends(Length::ZERO, arm);
            is_arm && self.has_line(left, right) && self.has_line(low, high)
        })
    }
}

/// One sheet against the layout.
struct Judge<'a> {
    set: &'a SheetSet,
    sheet: &'a Sheet,
    layout: &'a Layout,
    /// The sizes of a nested print.
    rows: &'a [NestedSize],
    drawn: Drawn<'a>,
    findings: Vec<Finding>,
}

impl<'a> Judge<'a> {
    fn find(&mut self, id: RuleId, message: &str, found: String, wanted: &str) {
        let number = self.sheet.number;
        self.findings.push(error(id, number, message, found, wanted.to_owned()));
    }

    /// Where a tile ends at a match line, this line; else where its piece ends.
    fn inner(tile: &Tile, piece: &Piece) -> Extent {
        let lines = || tile.crosses.iter().map(|c| c.on_strap.x);
        let near = |end: Length| lines().find(|x| (*x - end).abs() == HALF_OVERLAP);
        Extent {
            from: near(tile.stretch.from)
                .unwrap_or(tile.stretch.from.max(piece.extent.from)),
            to: near(tile.stretch.to).unwrap_or(tile.stretch.to.min(piece.extent.to)),
        }
    }

    /// The lines of the long check that stand on a tile: A where its piece begins, B where
    /// it ends.
    fn check_ends(&self, tile: &'a Tile) -> impl Iterator<Item = Cross> + use<'a> {
        let shows = |at: Point<Strap>| tile.shows(at);
        let piece = self.layout.pieces.get(tile.piece);
        let whole = piece.map_or(tile.stretch, |piece| piece.extent);
        let begins = tile.stretch.from <= whole.from;
        let ends = tile.stretch.to >= whole.to;
        let own = self.set.checks.iter().filter(|check| check.piece == tile.piece);
        own.flat_map(move |check| {
            let [a, b] = check.labels.clone();
            let both = [(begins, a, check.from), (ends, b, check.to)];
            both.into_iter().filter(move |(is_own, _, at)| *is_own && shows(*at))
        })
        .map(|(_, label, on_strap)| Cross {
            label,
            on_strap,
            at: tile.placement.apply(on_strap),
        })
    }

    fn pieces(&self) -> impl Iterator<Item = (&'a Tile, &'a Piece)> + use<'a> {
        let layout = self.layout;
        self.sheet.tiles.iter().filter_map(|t| Some((t, layout.pieces.get(t.piece)?)))
    }
}

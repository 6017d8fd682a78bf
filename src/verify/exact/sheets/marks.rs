//! Rules over the marks of one sheet: their forms, the crosses to set an awl by, and the lines
//! across the strap.

use super::super::drawn::base_line;
use super::{Judge, ROUNDING};
use crate::geom::clip::intersections_at;
use crate::geom::{Extent, Length, Path, Point, Sheet as OnSheet};
use crate::layout::{Mark, MarkKind, Piece, Shape};
use crate::paginate::{Item, Layer, Pen, Tile};
use crate::verify::rule;
use std::collections::BTreeSet;

/// From a match line to the centre line.
const JOIN: Length = Length::from_mm(6);
/// Lines across the strap stop this far from a mark at most.
const CLEAR: Length = Length::from_mm(2);
/// The farthest that an arm reaches beyond the rim of its mark.
const ARM: Length = Length::from_mm(2);

impl Judge<'_> {
    /// Every mark that a tile holds is drawn in its form at its place, by the pen for what is
    /// punched or for what a blank has, and nothing else is drawn as one.
    pub(super) fn marks(&mut self) {
        let mut expected: BTreeSet<Path<OnSheet>> = BTreeSet::new();
        for (tile, piece) in self.pieces() {
            for mark in piece.marks_between(tile.stretch) {
                let Some(path) = mark.path().filter(|_| tile.holds(mark)) else {
                    continue;
                };
                let path = path.placed(tile.placement);
                let is_target = mark.kind == MarkKind::Target;
                let pen = if is_target { Pen::Target } else { Pen::Punch };
                let is_bare = matches!(mark.kind, MarkKind::Stitch | MarkKind::Slit);
                let found = match self.drawn.punched.get(&path) {
                    None => "nothing",
                    Some(drawn) if *drawn != pen => "a form by another pen",
                    Some(_)
                        if !is_target
                            && !is_bare
                            && !self.has_arms(tile, piece, mark) =>
                    {
                        "a form without its cross"
                    }
                    Some(_) => "",
                };
                if !found.is_empty() {
                    let found = format!("{found} at x {}, y {}", mark.at.x, mark.at.y);
                    let wanted = mark.kind.word();
                    let message = "a mark is not drawn at its place";
                    self.find(rule::MARK_MISSING, message, found, wanted);
                }
                expected.insert(path);
            }
            self.across(tile, piece);
        }
        let mut drawn = self.drawn.punched.keys();
        let extra = drawn.find(|path| !expected.contains(**path)).map(|path| path.start);
        if let Some(at) = extra {
            let found = format!("a form at {}, {} of the page", at.x, at.y);
            let message = "a mark is none of the job's";
            self.find(rule::MARK_EXTRA, message, found, "no such form");
        }
        let bends = self.pieces().flat_map(|(tile, piece)| {
            let own = piece.marks.iter().filter(|m| m.kind == MarkKind::Bend);
            let shown = own.filter(|m| tile.stretch.has(m.at.x));
            shown.map(|m| tile.placement.apply(m.at).x)
        });
        let bends: Vec<Length> = bends.collect();
        let stray = self.drawn.strokes.iter().find(|(layer, pen, path)| {
            let is_fold = *layer == Layer::Guides && *pen == Pen::Fold;
            let is_level = path.start.y == path.end().y;
            is_fold && !is_level && !bends.contains(&path.start.x)
        });
        if let Some(x) = stray.map(|(.., path)| path.start.x) {
            let found = format!("a line at {x} of the page");
            self.find(rule::MARK_EXTRA, "a fold line is at no bend", found, "none there");
        }
    }

    /// Whether the cross of a mark is there: from each side of its rim an arm points at its
    /// middle. Two arms that are opposite may lack where one would run into another mark.
    fn has_arms(&self, tile: &Tile, piece: &Piece, mark: &Mark) -> bool {
        let at: Point<OnSheet> = tile.placement.apply(mark.at);
        let half = [mark.x_extent(), mark.y_extent()].map(|e| e.length() / 2);
        let points = |along: [Length; 2], across: [Length; 2], half: Length| {
            // From the middle, whichever way the line runs.
            let reach = Extent::new(along[0].abs(), along[1].abs());
            let is_one_side = (along[0] > Length::ZERO) == (along[1] > Length::ZERO);
            across == [Length::ZERO; 2]
                && is_one_side
                && reach.from < half
                && half < reach.to
                && reach.to <= half + ARM
        };
        let room = half[0] + ARM;
        let near = self.drawn.lines.range(
            Point::new(at.x - room, Length::ZERO)
                ..=Point::new(at.x + room, at.y + room * 9),
        );
        let near = near.flat_map(|(from, ends)| ends.iter().map(move |to| (*from, *to)));
        let mut sides = BTreeSet::new();
        for (from, to) in near {
            let x = [from.x - at.x, to.x - at.x];
            let y = [from.y - at.y, to.y - at.y];
            if points(x, y, half[0]) {
                sides.insert((true, x[1] > Length::ZERO));
            } else if points(y, x, half[1]) {
                sides.insert((false, y[1] > Length::ZERO));
            }
        }
        let meets = |along: bool| {
            let own = [mark.x_extent(), mark.y_extent()];
            let [x, y] = own.map(|e| Extent::at(e.from + e.length() / 2));
            let arms =
                if along { [own[0].grown(ARM), y] } else { [x, own[1].grown(ARM)] };
            let arms = arms.map(|arm| arm.grown(Pen::Punch.width()));
            piece.marks.iter().any(|m| {
                let is_other = m.path().is_some() && m != mark;
                let reach = [m.x_extent(), m.y_extent()];
                is_other && arms.iter().zip(reach).all(|(arm, own)| arm.overlaps(own))
            })
        };
        let is_whole = |along: bool| {
            let there = [false, true].iter().filter(|up| sides.contains(&(along, **up)));
            let count = there.count();
            count == 2 || (count == 0 && meets(along))
        };
        is_whole(true) && is_whole(false)
    }

    /// Fold lines at all bends and lines at all cuts run from edge to edge, and the centre line
    /// along all of the tile, but for marks and what is drawn on the piece.
    fn across(&mut self, tile: &Tile, piece: &Piece) {
        let forms = || piece.marks.iter().filter(|m| m.path().is_some());
        for mark in &piece.marks {
            let (x, here) = (mark.at.x, Extent::at(mark.at.x));
            let is_inside = piece.extent.from < x && x < piece.extent.to;
            let (pen, message) = match (mark.kind, mark.shape) {
                (MarkKind::Bend, _) => {
                    (Pen::Fold, "a bend has no fold line over all of it")
                }
                (MarkKind::End, Shape::Across) if is_inside => {
                    (Pen::Thin, "a cut has no line over all of it")
                }
                _ => continue,
            };
            let edges = intersections_at(&piece.outline, x).into_iter().map(Extent::at);
            let Some(edges) = edges.reduce(Extent::union) else { continue };
            if !tile.stretch.holds(here) {
                continue;
            }
            let lines = self.lines_by(pen, tile).filter(|(x, _)| *x == here);
            let gaps = forms().filter(|m| m.x_extent().grown(CLEAR).holds(here));
            let gaps = gaps.map(|m| m.y_extent().grown(CLEAR));
            let parts = lines.map(|(_, y)| y).chain(gaps).collect();
            if !is_covered(edges.intersection(tile.across), parts) {
                let found = format!("a part without one at x {x} of `{}`", piece.name);
                self.find(rule::MARK_MISSING, message, found, "a line from edge to edge");
            }
        }
        let centre = Extent::at(Length::ZERO);
        if !tile.across.holds(centre) {
            return;
        }
        let lines = self.lines_by(Pen::Centre, tile).filter(|(_, y)| *y == centre);
        let gaps = forms().filter(|m| m.y_extent().grown(CLEAR).holds(centre));
        let gaps = gaps.map(|m| m.x_extent().grown(CLEAR));
        let drawn = piece.guides.iter().filter(|d| d.y_extent().holds(centre));
        let drawn = drawn.filter_map(|d| Some(d.whole()?.grown(CLEAR)));
        let words = self.words_across(tile.placement.apply(Point::default()).y);
        let words = words.map(|[a, b]| {
            let ends =
                [a, b].map(|x| tile.placement.invert(Point::new(x, Length::ZERO)).x);
            Extent::new(ends[0], ends[1]).grown(CLEAR)
        });
        let parts = lines.map(|(x, _)| x).chain(gaps).chain(drawn).chain(words).collect();
        let inner = Self::inner(tile, piece);
        // At a match line stands the name of the join.
        let whole = Extent {
            from: inner.from
                + if inner.from > piece.extent.from { JOIN } else { Length::ZERO },
            to: inner.to - if inner.to < piece.extent.to { JOIN } else { Length::ZERO },
        };
        if !is_covered(whole, parts) {
            let found = format!("a part of `{}` without one", piece.name);
            let message = "the centre line is not drawn over all of its way";
            self.find(rule::MARK_MISSING, message, found, "a line but for marks");
        }
    }

    /// What words and black forms take along a level line that they stand on.
    fn words_across(&self, y: Length) -> impl Iterator<Item = [Length; 2]> {
        let level = Extent::at(y).grown(CLEAR);
        let words = self.sheet.items.iter().filter_map(move |item| {
            let Item::Text { turn, size, .. } = item else { return None };
            let [from, to] = base_line(item)?;
            let top = to + turn.turned(Length::ZERO, *size);
            let (x, y) = (Extent::new(from.x, top.x), Extent::new(from.y, top.y));
            y.overlaps(level).then_some([x.from, x.to])
        });
        let forms = self.drawn.areas.iter().filter_map(move |path| {
            let ends =
                || std::iter::once(path.start).chain(path.steps.iter().map(|s| s.to()));
            let (low, high) = (ends().map(|p| p.y).min()?, ends().map(|p| p.y).max()?);
            let x = path.x_extent();
            Extent { from: low, to: high }.overlaps(level).then_some([x.from, x.to])
        });
        words.chain(forms)
    }

    /// The lines of the guides on a tile that are drawn with a pen: what each takes along and
    /// across the strap.
    fn lines_by(&self, pen: Pen, tile: &Tile) -> impl Iterator<Item = (Extent, Extent)> {
        let own = self.drawn.strokes.iter();
        let own = own.filter(move |(layer, p, _)| *layer == Layer::Guides && *p == pen);
        let placement = tile.placement;
        own.map(move |(.., path)| {
            let [a, b] = [path.start, path.end()].map(|p| placement.invert(p));
            (Extent::new(a.x, b.x), Extent::new(a.y, b.y))
        })
    }
}

/// Whether stretches cover all of another.
fn is_covered(whole: Extent, mut parts: Vec<Extent>) -> bool {
    parts.sort_unstable();
    let reached = parts.iter().fold(whole.from, |reached, part| {
        if part.from <= reached + ROUNDING { reached.max(part.to) } else { reached }
    });
    reached + ROUNDING >= whole.to
}

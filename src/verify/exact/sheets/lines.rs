//! Rules over the lines of one sheet: tiles, outlines, what is drawn on a piece, scale bars.

use super::{Judge, ROUNDING};
use crate::geom::{
    Extent, Length, Path, Point, QuarterTurn, Segment, Sheet as OnSheet, Step, Strap,
};
use crate::layout::{GuideShape, Piece};
use crate::paginate::{Item, Layer, Pen, Sheet, Tile};
use crate::verify::rule;

impl Judge<'_> {
    /// Holds every line of the sheet against the layout.
    pub(super) fn lines(&mut self) {
        self.tiles();
        self.outlines();
        self.guides();
        self.bars();
    }

    /// Tiles are upright, lie on their page and not on each other.
    fn tiles(&mut self) {
        let Sheet { width, height, .. } = *self.sheet;
        let window = |tile: &Tile| {
            let corner = |x, y| tile.placement.apply(Point::new(x, y));
            let low = corner(tile.stretch.from, tile.across.from);
            let high = corner(tile.stretch.to, tile.across.to);
            (Extent::new(low.x, high.x), Extent::new(low.y, high.y))
        };
        let all: Vec<_> = self.sheet.tiles.iter().map(window).collect();
        let [page_x, page_y] =
            [width, height].map(|to| Extent { from: Length::ZERO, to });
        for (i, (x, y)) in all.iter().enumerate() {
            let is_upright = self.sheet.tiles[i].placement.turn() == QuarterTurn::None;
            if !is_upright || !page_x.holds(*x) || !page_y.holds(*y) {
                self.find(
                    rule::OFF_PAGE,
                    "a tile does not lie on its page",
                    format!("x {} to {}, y {} to {}", x.from, x.to, y.from, y.to),
                    "all of it on the page",
                );
            }
            let meets = |a: &Extent, b: &Extent| a.from < b.to && b.from < a.to;
            if all[..i].iter().any(|(ox, oy)| meets(x, ox) && meets(y, oy)) {
                self.find(
                    rule::OFF_PAGE,
                    "two tiles lie on each other",
                    format!("one at x {} to {}, y {} to {}", x.from, x.to, y.from, y.to),
                    "tiles beside each other",
                );
            }
        }
    }

    /// All of an outline that a tile shows is drawn, and every line of the layer of outlines
    /// is one, or the tip of another size.
    fn outlines(&mut self) {
        let lines =
            self.drawn.strokes.iter().filter(|(layer, ..)| *layer == Layer::Outline);
        let lines: Vec<(Pen, &Path<OnSheet>)> =
            lines.map(|(_, pen, path)| (*pen, *path)).collect();
        for (tile, piece) in self.pieces() {
            let own = piece.outline.segments();
            let x = tile.stretch.intersection(piece.extent);
            let mut drawn: Vec<Segment<Strap>> = Vec::new();
            for (_, path) in lines.iter().filter(|(_, path)| is_on(path, tile)) {
                drawn.extend(on_strap(path, tile));
            }
            let mut wanted = own.iter().flat_map(|s| samples(*s, x));
            let missing = wanted.find(|p| is_within(*p, x, tile) && !lies_on(*p, &drawn));
            let tips: Vec<Segment<Strap>> = self
                .rows
                .iter()
                .filter(|row| row.piece == tile.piece)
                .flat_map(|row| row.tip.iter().flat_map(Path::segments))
                .collect();
            let mut points = drawn.iter().flat_map(|s| samples(*s, x));
            let extra = points.find(|p| !lies_on(*p, &own) && !lies_on(*p, &tips));
            if let Some(p) = missing {
                self.find(
                    rule::OUTLINE_OFF,
                    "an outline is not drawn to its end",
                    format!("nothing at x {}, y {} of `{}`", p.x, p.y, piece.name),
                    "a line along all of the edge",
                );
            }
            if let Some(p) = extra {
                self.find(
                    rule::OUTLINE_OFF,
                    "an outline is not the job's",
                    format!("a line at x {}, y {} of `{}`", p.x, p.y, piece.name),
                    "lines along edges only",
                );
            }
        }
        let is_nowhere = |(_, path): &&(Pen, &Path<OnSheet>)| {
            !self.sheet.tiles.iter().any(|tile| is_on(path, tile))
        };
        let strangers = lines.iter().filter(is_nowhere).count();
        if strangers > 0 {
            let found = format!("{strangers} lines on no tile");
            self.find(
                rule::OUTLINE_OFF,
                "an outline lies beside all tiles",
                found,
                "outlines on tiles only",
            );
        }
    }

    /// Creases, boxes and words stand where the layout has them.
    fn guides(&mut self) {
        for (tile, piece) in self.pieces() {
            for guide in &piece.guides {
                let is_shown = guide.whole().is_none_or(|x| {
                    tile.stretch.holds(x) && tile.across.holds(guide.y_extent())
                });
                let is_there = match &guide.shape {
                    _ if !is_shown => true,
                    GuideShape::Crease(path) => self.has_crease(tile, piece, path),
                    GuideShape::Box { at, length, width, .. } => {
                        let (x, y) = (*length / 2, *width / 2);
                        let corner = |x, y| tile.placement.apply(Point::new(x, y));
                        let (low, high) =
                            (corner(at.x - x, at.y - y), corner(at.x + x, at.y + y));
                        let outline = Path::rectangle(low, high);
                        self.drawn.strokes.iter().any(|(.., path)| **path == outline)
                    }
                    GuideShape::Words { text, .. } if text.is_empty() => true,
                    GuideShape::Words { at, size, text } => {
                        let middle = tile.placement.apply(*at);
                        self.sheet.items.iter().any(|item| {
                            let Item::Text { at, text: words, .. } = item else {
                                return false;
                            };
                            words == text && (*at - middle).norm() <= *size
                        })
                    }
                };
                if !is_there {
                    let found = format!("one of `{}` is not there", piece.name);
                    let message = "a crease, a box or words are not at their place";
                    let wanted = "what the job draws there";
                    self.find(rule::MARK_MISSING, message, found, wanted);
                }
            }
        }
    }

    /// Whether a crease is drawn as far as a tile shows it.
    fn has_crease(&self, tile: &Tile, piece: &Piece, crease: &Path<Strap>) -> bool {
        let thin = self.drawn.strokes.iter().filter(|(layer, pen, path)| {
            *layer == Layer::Guides && *pen == Pen::Thin && is_on(path, tile)
        });
        let drawn: Vec<Segment<Strap>> =
            thin.flat_map(|(.., path)| on_strap(path, tile)).collect();
        let x = tile.stretch.intersection(piece.extent);
        let points = crease.segments().into_iter().flat_map(|s| samples(s, x));
        let mut shown = points.filter(|p| is_within(*p, x, tile));
        shown.all(|p| lies_on(p, &drawn))
    }

    /// Both scale bars are drawn, along the width and along the height, whole on the page.
    fn bars(&mut self) {
        let bars = &self.sheet.bars;
        let directions: Vec<bool> = bars.iter().map(|b| b.from.y == b.to.y).collect();
        if directions != [true, false] {
            self.find(
                rule::BAR_MISSING,
                "a scale bar is missing",
                format!("{} bars", bars.len()),
                "one along the width and one along the height",
            );
        }
        for bar in bars {
            let has_ends = [Length::ZERO, bar.length()]
                .iter()
                .all(|along| self.drawn.has_end_line(bar, *along));
            if !self.drawn.has_line(bar.from, bar.to) || !has_ends {
                self.find(
                    rule::BAR_MISSING,
                    "a scale bar is not drawn",
                    format!("none from {}, {}", bar.from.x, bar.from.y),
                    "a line between two end lines",
                );
            }
        }
    }
}

/// Whether a line lies on a tile. Its ends may lie on the edge between two tiles, the middles
/// of its segments do not.
fn is_on(path: &Path<OnSheet>, tile: &Tile) -> bool {
    path.segments().into_iter().all(|segment| {
        let p = tile.placement.invert(segment.part(1, 2));
        tile.shows(p)
    })
}

/// The segments of a path of the sheet, on the strap.
fn on_strap(path: &Path<OnSheet>, tile: &Tile) -> Vec<Segment<Strap>> {
    path.map(|p| tile.placement.invert(p), false).segments()
}

/// Whether a tile shows a point, within `x`.
fn is_within(p: Point<Strap>, x: Extent, tile: &Tile) -> bool {
    x.has(p.x) && tile.across.has(p.y)
}

/// Points of a segment: its ends, points between them, and those of a line at both ends of
/// `window`.
fn samples(
    segment: Segment<Strap>,
    window: Extent,
) -> impl Iterator<Item = Point<Strap>> + Clone {
    const PARTS: i64 = 4;
    let (from, to) = (segment.from, segment.step.to());
    let is_line = matches!(segment.step, Step::Line { .. });
    let along = to.x - from.x;
    let at = move |x: Length| {
        let is_between = Extent::new(from.x, to.x).has(x);
        (is_line && is_between && along != Length::ZERO).then(|| {
            let up = (to.y - from.y).times((x - from.x).nm(), along.nm());
            Point::new(x, from.y + up)
        })
    };
    let inner = (1..PARTS).map(move |i| segment.part(i, PARTS));
    let ends = [window.from, window.to].into_iter().filter_map(at);
    inner.chain([from, to]).chain(ends)
}

fn lies_on(p: Point<Strap>, segments: &[Segment<Strap>]) -> bool {
    segments.iter().any(|s| s.distance(p) <= ROUNDING)
}

//! The key plan: the whole strap in small, and which stretches of it are on this sheet.
//!
//! It is a picture, so here and nowhere else lengths are scaled.

use super::super::canvas::{Area, Canvas, Words, cap};
use super::super::lanes::{HEADER, Join, Lane};
use super::super::sheet::{Anchor, Layer, Pen, Tone};
use super::Scene;
use crate::geom::{Extent, Length, Path, Point, Sheet as OnSheet};
use crate::layout::Piece;
use crate::lettering;

const WIDEST: Length = Length::from_mm(90);
const INSET: Length = Length::from_mm(4);
const SIZE: Length = Length::from_um(2_200);
const THINNEST: Length = Length::from_um(1_600);
const THICKEST: Length = Length::from_um(4_000);
/// More pieces than this are not shown.
const ROWS: usize = 3;

/// Draws it at the right of the header; gives its left edge.
pub(super) fn draw(canvas: &mut Canvas, scene: &Scene<'_>, index: usize) -> Length {
    let all = canvas.printable();
    let wide = WIDEST.min(all.x.length().times(3, 10));
    let right = all.x.to - INSET;
    let pieces = &scene.layout.pieces;
    let longest = pieces.iter().map(|p| p.extent.length()).max();
    let Some(longest) = longest.filter(|l| *l > Length::ZERO) else { return right };
    let rows = pieces.len().min(ROWS);
    let height = HEADER - Length::from_mm(2);
    let pitch = height / i64::try_from(rows).unwrap_or(1);
    let top = all.y.to - Length::from_mm(1);
    let mut down = Length::ZERO;
    for (row, piece) in pieces.iter().enumerate().take(rows) {
        let picture = Picture {
            piece,
            left: right - wide,
            middle: top - down - pitch / 2,
            wide,
            longest,
            numbered: rows == 1,
            banded: scene.plan.across.iter().any(|(p, _)| *p == row),
            high: pitch - Length::from_um(600),
        };
        for (sheet, lanes) in scene.plan.sheets.iter().enumerate() {
            for lane in lanes.iter().filter(|l| l.part.piece == row) {
                picture.stretch(canvas, lane, sheet + 1, sheet == index);
            }
        }
        down += pitch;
    }
    let band = Extent { from: right - wide, to: right };
    canvas.take(Area::new(band, Extent { from: top - height, to: top }));
    right - wide
}

struct Picture<'a> {
    piece: &'a Piece,
    left: Length,
    middle: Length,
    wide: Length,
    longest: Length,
    numbered: bool,
    /// Whether the piece is cut along its length too.
    banded: bool,
    /// How high the picture of such a piece may be.
    high: Length,
}

impl Picture<'_> {
    fn x(&self, x: Length) -> Length {
        let along = x - self.piece.extent.from;
        self.left + along.times(self.wide.nm(), self.longest.nm())
    }

    /// One tile, from match line to match line, with the number of its sheet.
    fn stretch(&self, canvas: &mut Canvas, lane: &Lane, sheet: usize, here: bool) {
        let ends = self.piece.extent;
        let from = self.x(lane.left.map_or(ends.from, |join| join.line));
        let to = self.x(lane.right.map_or(ends.to, |join| join.line));
        let thick = self.piece.width.times(self.wide.nm(), self.longest.nm());
        let below = self.numbered && !self.banded;
        let thick = if self.banded {
            self.high
        } else {
            thick.clamp(THINNEST, THICKEST).min(self.high)
        };
        let up = if below { SIZE / 2 } else { Length::ZERO };
        let middle = self.middle + up;
        let level = |join: Option<Join>, edge: Length| {
            let y =
                join.map_or(edge, |j| thick.times(j.line.nm(), self.piece.width.nm()));
            middle + y
        };
        let (low, high) = (level(lane.below, -(thick / 2)), level(lane.above, thick / 2));
        let shape =
            || Path::<OnSheet>::rectangle(Point::new(from, low), Point::new(to, high));
        if here {
            canvas.fill(Layer::Guides, Tone::Grey, vec![shape()]);
            canvas.stroke(Layer::Guides, Pen::Thin, vec![shape()]);
        } else {
            canvas.stroke(Layer::Guides, Pen::Faint, vec![shape()]);
        }
        let text = sheet.to_string();
        let fits = below || self.numbered && cap(SIZE) < high - low;
        if fits && lettering::width(&text, SIZE) < to - from {
            let base = if below {
                low - Length::from_um(700) - cap(SIZE)
            } else {
                low + (high - low - cap(SIZE)) / 2
            };
            let at = Point::new(from + (to - from) / 2, base);
            let mut words = Words::new(at, Anchor::Middle, SIZE, &text);
            words.tone = if here { Tone::Black } else { Tone::Grey };
            canvas.write(words);
        }
    }
}

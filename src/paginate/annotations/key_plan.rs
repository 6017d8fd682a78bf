//! The key plan: a small picture of the whole strap, with the tiles of this sheet marked.
//!
//! Here alone lengths are scaled.

use super::super::Print;
use super::super::canvas::{Area, Canvas, TextItem, cap_height};
use super::super::item::{Anchor, Layer, Pen, Tone};
use super::super::page::HEADER;
use super::super::plan::PlacedTile;
use super::super::tiling::Join;
use crate::geom::{Extent, Length, Path, Point};
use crate::lettering;

const WIDEST: Length = Length::from_mm(90);
const INSET: Length = Length::from_mm(4);
const SIZE: Length = Length::from_um(2_200);
const THINNEST: Length = Length::from_um(1_600);
const THICKEST: Length = Length::from_um(4_000);
/// Kept free between the rows of two pieces.
const BETWEEN: Length = Length::from_um(600);
/// From a picture to the number below it.
const TO_NUMBER: Length = Length::from_um(700);
/// More pieces than this are not shown.
const MAX_PIECES: usize = 3;

/// Draws the key plan at the right of the header and returns its left edge.
pub(super) fn draw(canvas: &mut Canvas, print: &Print<'_>, index: usize) -> Length {
    let all = canvas.printable();
    let width = WIDEST.min(all.x.length().times(3, 10));
    let right = all.x.to - INSET;
    let pieces = &print.request.layout.pieces;
    let longest = pieces.iter().map(|p| p.extent.length()).max();
    let Some(longest) = longest.filter(|l| *l > Length::ZERO) else { return right };
    let rows = pieces.len().min(MAX_PIECES);
    let height = HEADER - Length::from_mm(2);
    let pitch = height / i64::try_from(rows).unwrap_or(1);
    let top = all.y.to - Length::from_mm(1);
    let mut middle = top - pitch / 2;
    for (piece, own) in pieces.iter().enumerate().take(rows) {
        let is_wide = print.plan.lengthwise_joins.iter().any(|(p, _)| *p == piece);
        let scaled = own.width.times(width.nm(), longest.nm());
        let high = pitch - BETWEEN;
        let picture = Picture {
            left: right - width,
            middle,
            scale: (width.nm(), longest.nm()),
            thick: if is_wide {
                high
            } else {
                scaled.clamp(THINNEST, THICKEST).min(high)
            },
            is_numbered: rows == 1,
            is_wide,
        };
        for (sheet, tiles) in print.plan.sheets.iter().enumerate() {
            for tile in tiles.iter().filter(|t| t.span.index == piece) {
                picture.draw(canvas, tile, sheet + 1, sheet == index);
            }
        }
        middle -= pitch;
    }
    let band = Extent { from: right - width, to: right };
    canvas.keep_free(Area::new(band, Extent { from: top - height, to: top }));
    right - width
}

/// The picture of one piece.
struct Picture {
    left: Length,
    middle: Length,
    /// Paper and strap: so much of the one is so much of the other.
    scale: (i64, i64),
    thick: Length,
    /// Whether tiles have the numbers of their sheets.
    is_numbered: bool,
    /// Whether the piece is wider than a sheet. Then the numbers stand inside the tiles, else
    /// below them.
    is_wide: bool,
}

impl Picture {
    /// Draws one tile, from match line to match line, with the number of its sheet.
    fn draw(
        &self,
        canvas: &mut Canvas,
        tile: &PlacedTile<'_>,
        sheet: usize,
        is_here: bool,
    ) {
        let piece = tile.span.piece;
        let x = |join: Option<Join>, end: Length| {
            let along = join.map_or(end, |j| j.line) - piece.extent.from;
            self.left + along.times(self.scale.0, self.scale.1)
        };
        let is_below = self.is_numbered && !self.is_wide;
        let middle = self.middle + if is_below { SIZE / 2 } else { Length::ZERO };
        let y = |join: Option<Join>, edge: Length| {
            let scaled = |j: Join| self.thick.times(j.line.nm(), piece.width.nm());
            middle + join.map_or(edge, scaled)
        };
        let (from, to) =
            (x(tile.span.left, piece.extent.from), x(tile.span.right, piece.extent.to));
        let half = self.thick / 2;
        let (low, high) = (y(tile.span.below, -half), y(tile.span.above, half));
        let shape = Path::rectangle(Point::new(from, low), Point::new(to, high));
        if is_here {
            canvas.fill(Layer::Guides, Tone::Grey, vec![shape.clone()]);
        }
        let pen = if is_here { Pen::Thin } else { Pen::Faint };
        canvas.stroke(Layer::Guides, pen, vec![shape]);
        let text = sheet.to_string();
        let is_high_enough =
            is_below || self.is_numbered && cap_height(SIZE) < high - low;
        if is_high_enough && lettering::width(&text, SIZE) < to - from {
            let base = if is_below {
                low - TO_NUMBER - cap_height(SIZE)
            } else {
                low + (high - low - cap_height(SIZE)) / 2
            };
            let at = Point::new(from + (to - from) / 2, base);
            let tone = if is_here { Tone::Black } else { Tone::Grey };
            canvas.write(TextItem {
                tone,
                ..TextItem::new(at, Anchor::Middle, SIZE, &text)
            });
        }
    }
}

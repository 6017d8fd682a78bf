//! Several sizes on one strap. Each size has a row of holes, with a line on a level of its
//! own and a tag at every hole, and a tip with a tag. Neighbouring sizes differ in line type.

use super::super::canvas::{Canvas, TextItem, cap_height};
use super::super::item::{Anchor, Claim, Layer, Pen, Tone};
use super::super::plan::PlacedTile;
use super::stretches_between;
use crate::geom::clip::{clip, clip_across, intersections_at};
use crate::geom::{Extent, Length, Path, Strap};
use crate::layout::{Mark, MarkKind, NestedSize, TAG};
use crate::lettering;
use crate::words::{Word, Wording};

/// The line types of sizes that follow each other.
const PENS: [Pen; 3] = [Pen::Thin, Pen::Fold, Pen::Centre];
/// Kept white before and after a tag.
const CLEAR: Length = Length::from_um(500);
/// Kept white around a tag.
const WHITE: Length = Length::from_um(300);
/// From a tip to its tag.
const TO_TAG: Length = Length::from_mm(1);
/// Longer than any strap.
const FAR: Length = Length::from_mm(1_000_000);

/// Draws what the tile shows of the rows of its piece. The curves of the tips stop short of
/// every tag, since the tag of a hole may stand anywhere on a tip.
pub(super) fn draw(canvas: &mut Canvas, tile: &PlacedTile<'_>, rows: &[NestedSize]) {
    let own = || {
        let pens = PENS.into_iter().cycle();
        rows.iter().zip(pens).filter(|(row, _)| row.piece == tile.span.index)
    };
    let mut written = Vec::new();
    for (row, pen) in own() {
        let tags = hole_tags(tile, row);
        draw_line(canvas, tile, row, pen, &tags);
        let tags = tags.into_iter();
        let tag =
            |(x, tag)| TextItem::new(tile.at(x, row.level), Anchor::Middle, TAG, tag);
        written.extend(tags.map(tag));
    }
    let wording = canvas.wording;
    written.extend(own().filter_map(|(row, _)| tip_tag(wording, tile, row)));
    for (row, pen) in own() {
        let mut shown: Vec<Path<Strap>> =
            row.tip.iter().flat_map(|tip| tile.clip(tip, tile.span.stretch)).collect();
        for text in &written {
            shown = shown.iter().flat_map(|path| clip_around(path, tile, text)).collect();
        }
        canvas.stroke(Layer::Outline, pen, tile.place(&shown));
    }
    for text in written {
        // On white, since a match line may run underneath.
        let [low, high] = text.area().grown(WHITE).corners();
        canvas.fill(Layer::Guides, Tone::White, vec![Path::rectangle(low, high)]);
        canvas.write(text);
    }
}

/// The parts of a path outside the area of a text.
fn clip_around(
    path: &Path<Strap>,
    tile: &PlacedTile<'_>,
    text: &TextItem,
) -> Vec<Path<Strap>> {
    let corners = text.area().grown(WHITE).corners();
    let [a, b] = corners.map(|corner| tile.placement.invert(corner));
    let (x, y) = (Extent::new(a.x, b.x), Extent::new(a.y, b.y));
    let before = |e: Extent| Extent { from: -FAR, to: e.from };
    let after = |e: Extent| Extent { from: e.to, to: FAR };
    let mut parts = clip(path, before(x));
    for beneath in clip(path, x) {
        parts.extend(clip_across(&beneath, before(y)));
        parts.extend(clip_across(&beneath, after(y)));
    }
    parts.extend(clip(path, after(x)));
    parts
}

/// Whether the tag of a row says what a mark is.
pub(super) fn has_tag(mark: &Mark, rows: &[NestedSize]) -> bool {
    let ends_there = |row: &NestedSize| {
        let tips = row.tip.iter().map(|t| t.x_extent().to);
        tips.max() == Some(mark.at.x)
    };
    mark.kind == MarkKind::Tip && rows.iter().any(ends_there)
}

/// The tags of holes on the tile, each moved no further than to be whole on it.
fn hole_tags<'r>(tile: &PlacedTile<'_>, row: &'r NestedSize) -> Vec<(Length, &'r str)> {
    let stretch = tile.span.stretch;
    let whole = |x: Length, tag: &str| {
        let half = lettering::width(tag, TAG) / 2 + CLEAR;
        x.clamp(stretch.from + half, (stretch.to - half).max(x - half * 2))
    };
    let shown = row.holes.iter().filter(|(x, _)| stretch.holds(Extent::at(*x)));
    shown.map(|(x, tag)| (whole(*x, tag), tag.as_str())).collect()
}

/// Draws the line of a row from its first hole to its last. It stops short of every tag.
fn draw_line(
    canvas: &mut Canvas,
    tile: &PlacedTile<'_>,
    row: &NestedSize,
    pen: Pen,
    tags: &[(Length, &str)],
) {
    let places = row.holes.iter().map(|(x, _)| Extent::at(*x));
    let Some(whole) = places.reduce(Extent::union) else { return };
    let gaps = tags
        .iter()
        .map(|(x, tag)| Extent::at(*x).grown(lettering::width(tag, TAG) / 2 + CLEAR));
    let y = row.level + cap_height(TAG) / 2;
    let runs = stretches_between(whole.intersection(tile.span.stretch), gaps);
    let line = |run: &Extent| tile.line((run.from, y), (run.to, y));
    canvas.stroke(Layer::Guides, pen, runs.iter().map(line).collect());
}

/// The tag of a tip, on the uppermost level: past its curve, or before it where the tile
/// ends.
fn tip_tag(
    wording: Wording,
    tile: &PlacedTile<'_>,
    row: &NestedSize,
) -> Option<TextItem> {
    let end = row.tip.iter().map(Path::x_extent).reduce(Extent::union)?;
    // Where the curve comes down to the middle of the tag.
    let middle = row.tip_level + cap_height(TAG) / 2;
    let (mut low, mut high) = (end.from, end.to);
    while high - low > Length::from_um(10) {
        let x = low + (high - low) / 2;
        let ys = row.tip.iter().flat_map(|tip| intersections_at(tip, x));
        if ys.max().is_some_and(|y| y > middle) { low = x } else { high = x }
    }
    let tip = wording.say(Word::Tip);
    let reading = wording.reading(tile.span.piece.from_bend(end.to));
    let text = format!("{tip} {} · {reading}", row.size);
    let width = lettering::width(&text, TAG) + CLEAR * 2;
    let shows = |from, to| tile.span.stretch.holds(Extent { from, to });
    let (after, before) = (high + TO_TAG, high - TO_TAG);
    let (x, anchor) = if shows(high, after + width) {
        (after, Anchor::Start)
    } else if shows(before - width, high) {
        (before, Anchor::End)
    } else {
        return None;
    };
    let claim = Claim::Reading { piece: tile.span.index, x: end.to };
    let item = TextItem::new(tile.at(x, row.tip_level), anchor, TAG, &text);
    Some(item.claiming(claim))
}

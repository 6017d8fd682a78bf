//! The rows and tips of several sizes on one strap: each row on a level of its own with a
//! tag at every hole, each tip with its tag. Neighbouring sizes differ in their lines too.

use super::super::canvas::{Area, Canvas, Words, cap};
use super::super::clip::{clip, heights};
use super::super::lanes::Lane;
use super::super::sheet::{Anchor, Layer, Pen, Tone};
use super::between;
use crate::geom::{Extent, Length, Path, Point};
use crate::layout::{Mark, MarkKind, Piece, Row, TAG};
use crate::lettering;
use crate::words::Word;

/// The line types of sizes that follow each other.
const PENS: [Pen; 3] = [Pen::Thin, Pen::Fold, Pen::Centre];
/// Kept white about a tag.
const CLEAR: Length = Length::from_um(500);

/// Draws what the lane shows of the rows of its piece.
pub(super) fn draw(canvas: &mut Canvas, lane: &Lane, piece: &Piece, rows: &[Row]) {
    let own = || {
        let pens = PENS.into_iter().cycle();
        rows.iter().zip(pens).filter(|(row, _)| row.piece == lane.part.piece)
    };
    for (row, pen) in own() {
        let shown = row.tip.iter().flat_map(|tip| clip(tip, lane.part.stretch));
        let paths = shown.map(|path| path.placed(lane.placement)).collect();
        canvas.stroke(Layer::Outline, pen, paths);
    }
    for (row, pen) in own() {
        let tags = tags(lane, row);
        line(canvas, lane, row, pen, &tags);
        for (x, tag) in tags {
            write(canvas, lane, x, row.level, Anchor::Middle, tag);
        }
    }
    for (row, _) in own() {
        tip(canvas, lane, piece, row);
    }
}

/// Whether a mark's words are those of its row.
pub(super) fn is_told(mark: &Mark, rows: &[Row]) -> bool {
    let shorter = |row: &Row| {
        let tips = row.tip.iter().map(|t| t.x_extent().to);
        tips.max() == Some(mark.at.x)
    };
    mark.kind == MarkKind::Tip && rows.iter().any(shorter)
}

/// The tags that the lane shows, each moved no further than to be whole on it.
fn tags<'a>(lane: &Lane, row: &'a Row) -> Vec<(Length, &'a str)> {
    let whole = |x: Length, tag: &str| {
        let half = lettering::width(tag, TAG) / 2 + CLEAR;
        x.clamp(
            lane.part.stretch.from + half,
            (lane.part.stretch.to - half).max(x - half * 2),
        )
    };
    let here = |x: Length| lane.part.stretch.holds(Extent { from: x, to: x });
    let shown = row.holes.iter().filter(|(x, _)| here(*x));
    shown.map(|(x, tag)| (whole(*x, tag), tag.as_str())).collect()
}

/// The line of a row, from its first hole to its last, which stops short of every tag.
fn line(canvas: &mut Canvas, lane: &Lane, row: &Row, pen: Pen, tags: &[(Length, &str)]) {
    let (Some((first, _)), Some((last, _))) = (row.holes.first(), row.holes.last())
    else {
        return;
    };
    let whole = Extent {
        from: lane.part.stretch.from.max(*first),
        to: lane.part.stretch.to.min(*last),
    };
    let gaps = tags.iter().map(|(x, tag)| {
        Extent { from: *x, to: *x }.grown(lettering::width(tag, TAG) / 2 + CLEAR)
    });
    let y = row.level + cap(TAG) / 2;
    let runs = between(whole, gaps.collect()).into_iter();
    let paths = runs.map(|run| Path::line(lane.at(run.from, y), lane.at(run.to, y)));
    let paths: Vec<_> = paths.collect();
    for path in &paths {
        let along = Extent::new(path.start.x, path.end().x);
        let thin = Extent { from: path.start.y, to: path.start.y };
        canvas.take(Area::new(along, thin.grown(Length::from_um(200))));
    }
    canvas.stroke(Layer::Guides, pen, paths);
}

/// The tag of a tip, on the uppermost level: past its curve, or before it where the lane
/// ends.
fn tip(canvas: &mut Canvas, lane: &Lane, piece: &Piece, row: &Row) {
    let ends = row.tip.iter().map(Path::x_extent);
    let Some(end) =
        ends.reduce(|a, b| Extent { from: a.from.min(b.from), to: a.to.max(b.to) })
    else {
        return;
    };
    // Where the curve comes down to the middle of the tag.
    let middle = row.tip_level + cap(TAG) / 2;
    let (mut low, mut high) = (end.from, end.to);
    while high - low > Length::from_um(10) {
        let x = low + (high - low) / 2;
        let ys = row.tip.iter().flat_map(|tip| heights(tip, x));
        if ys.max().is_some_and(|y| y > middle) { low = x } else { high = x }
    }
    let wording = canvas.wording;
    let tip = wording.say(Word::Tip);
    let tag =
        format!("{tip} {} · {}", row.size, wording.reading(piece.from_bend(end.to)));
    let wide = lettering::width(&tag, TAG) + CLEAR * 2;
    let aside = Length::from_mm(1);
    let (after, before) = (high + aside, high - aside);
    if lane.part.stretch.holds(Extent { from: high, to: after + wide }) {
        write(canvas, lane, after, row.tip_level, Anchor::Start, &tag);
    } else if lane.part.stretch.holds(Extent { from: before - wide, to: high }) {
        write(canvas, lane, before, row.tip_level, Anchor::End, &tag);
    }
}

/// Writes a tag on white, whatever runs beneath it.
fn write(
    canvas: &mut Canvas,
    lane: &Lane,
    x: Length,
    y: Length,
    anchor: Anchor,
    tag: &str,
) {
    let words = Words::new(lane.at(x, y), anchor, TAG, tag);
    let area = words.area().grown(Length::from_um(300));
    let low = Point::new(area.x.from, area.y.from);
    let high = Point::new(area.x.to, area.y.to);
    canvas.fill(Layer::Guides, Tone::White, vec![Path::rectangle(low, high)]);
    canvas.write(words);
}

//! The rows and tips of several sizes on one strap: each row on a level of its own with a
//! tag at every hole, each tip with its tag. Neighbouring sizes differ in their lines too.

use super::super::canvas::{Canvas, Words, cap};
use super::super::clip::{clip, clip_across, intersections_at};
use super::super::lanes::Lane;
use super::super::sheet::{Anchor, Layer, Pen, Tone};
use super::between;
use crate::geom::{Extent, Length, Path, Point, Strap};
use crate::layout::{Mark, MarkKind, NestedSize, Piece, TAG};
use crate::lettering;
use crate::words::{Word, Wording};

/// The line types of sizes that follow each other.
const PENS: [Pen; 3] = [Pen::Thin, Pen::Fold, Pen::Centre];
/// Kept white about a tag, before and after it.
const CLEAR: Length = Length::from_um(500);
/// Kept white about a tag on all sides.
const WHITE: Length = Length::from_um(300);
/// Farther than any strap reaches.
const FAR: Length = Length::from_mm(1_000_000);

/// Draws what the lane shows of the rows of its piece. The curves of the tips stop short of
/// every tag, since the tag of a hole may stand wherever a tip runs.
pub(super) fn draw(canvas: &mut Canvas, lane: &Lane, piece: &Piece, rows: &[NestedSize]) {
    let own = || {
        let pens = PENS.into_iter().cycle();
        rows.iter().zip(pens).filter(|(row, _)| row.piece == lane.part.piece)
    };
    let mut written = Vec::new();
    for (row, pen) in own() {
        let tags = tags(lane, row);
        line(canvas, lane, row, pen, &tags);
        let tags = tags.into_iter();
        written.extend(tags.map(|(x, t)| tag(lane, x, row.level, Anchor::Middle, t)));
    }
    let wording = canvas.wording;
    written.extend(own().filter_map(|(row, _)| tip(wording, lane, piece, row)));
    for (row, pen) in own() {
        let mut shown: Vec<Path<Strap>> =
            row.tip.iter().flat_map(|tip| clip(tip, lane.part.stretch)).collect();
        shown = shown.iter().flat_map(|run| clip_across(run, lane.part.across)).collect();
        for words in &written {
            shown = shown.iter().flat_map(|path| around(path, lane, words)).collect();
        }
        let paths = shown.iter().map(|path| path.placed(lane.placement)).collect();
        canvas.stroke(Layer::Outline, pen, paths);
    }
    for words in written {
        // On white, since a match line may run beneath it.
        let area = words.area().grown(WHITE);
        let low = Point::new(area.x.from, area.y.from);
        let high = Point::new(area.x.to, area.y.to);
        canvas.fill(Layer::Guides, Tone::White, vec![Path::rectangle(low, high)]);
        canvas.write(words);
    }
}

/// What of a path lies about some words and not through them.
fn around(path: &Path<Strap>, lane: &Lane, words: &Words) -> Vec<Path<Strap>> {
    let area = words.area().grown(WHITE);
    let a = lane.placement.invert(Point::new(area.x.from, area.y.from));
    let b = lane.placement.invert(Point::new(area.x.to, area.y.to));
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

/// Whether a mark's words are those of its row.
pub(super) fn is_told(mark: &Mark, rows: &[NestedSize]) -> bool {
    let shorter = |row: &NestedSize| {
        let tips = row.tip.iter().map(|t| t.x_extent().to);
        tips.max() == Some(mark.at.x)
    };
    mark.kind == MarkKind::Tip && rows.iter().any(shorter)
}

/// The tags that the lane shows, each moved no further than to be whole on it.
fn tags<'a>(lane: &Lane, row: &'a NestedSize) -> Vec<(Length, &'a str)> {
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
fn line(
    canvas: &mut Canvas,
    lane: &Lane,
    row: &NestedSize,
    pen: Pen,
    tags: &[(Length, &str)],
) {
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
    canvas.stroke(Layer::Guides, pen, paths.collect());
}

/// The tag of a tip, on the uppermost level: past its curve, or before it where the lane
/// ends.
fn tip(wording: Wording, lane: &Lane, piece: &Piece, row: &NestedSize) -> Option<Words> {
    let ends = row.tip.iter().map(Path::x_extent);
    let end =
        ends.reduce(|a, b| Extent { from: a.from.min(b.from), to: a.to.max(b.to) })?;
    // Where the curve comes down to the middle of the tag.
    let middle = row.tip_level + cap(TAG) / 2;
    let (mut low, mut high) = (end.from, end.to);
    while high - low > Length::from_um(10) {
        let x = low + (high - low) / 2;
        let ys = row.tip.iter().flat_map(|tip| intersections_at(tip, x));
        if ys.max().is_some_and(|y| y > middle) { low = x } else { high = x }
    }
    let tip = wording.say(Word::Tip);
    let text =
        format!("{tip} {} · {}", row.size, wording.reading(piece.from_bend(end.to)));
    let wide = lettering::width(&text, TAG) + CLEAR * 2;
    let aside = Length::from_mm(1);
    let (after, before) = (high + aside, high - aside);
    if lane.part.stretch.holds(Extent { from: high, to: after + wide }) {
        Some(tag(lane, after, row.tip_level, Anchor::Start, &text))
    } else if lane.part.stretch.holds(Extent { from: before - wide, to: high }) {
        Some(tag(lane, before, row.tip_level, Anchor::End, &text))
    } else {
        None
    }
}

fn tag(lane: &Lane, x: Length, y: Length, anchor: Anchor, text: &str) -> Words {
    Words::new(lane.at(x, y), anchor, TAG, text)
}

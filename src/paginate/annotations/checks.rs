//! The crosses of the long check, A near the start of a joined piece and B near its end,
//! and what a tape must read from the one to the other.

use super::super::canvas::{Area, Canvas, Clear, Words, cap};
use super::super::checks::{ARM, StripCheck};
use super::super::lanes::Lane;
use super::super::sheet::{Anchor, Layer, Pen};
use super::crosses::CLEAR;
use super::labels::{edges_over, is_inside};
use super::line;
use crate::geom::{Extent, Length, Path, Point, Sheet, Strap};
use crate::layout::Piece;
use crate::lettering;
use crate::words::Word;

/// Half the diamond about a cross, which tells it from the crosses of the joins.
const DIAMOND: Length = Length::from_um(1_200);
const LABEL: Length = Length::from_um(2_500);
const TO_LABEL: Length = Length::from_mm(3);
/// Sizes of the words, the wanted one first.
const SIZES: [Length; 2] = [Length::from_um(2_200), Length::from_mm(2)];
/// From the strap's edge to the words.
const FROM_EDGE: Length = Length::from_um(1_200);
/// Between the words and other ink.
const AIR: Clear = Clear { ink: Length::from_um(800), words: Length::from_mm(2) };
/// From one place that is tried for the words to the next.
const STEP: Length = Length::from_mm(4);
const LEVEL: Length = Length::from_mm(2);

/// Draws the crosses that stand on this lane.
pub(super) fn draw(canvas: &mut Canvas, lane: &Lane, check: Option<&StripCheck>) {
    let Some(check) = check else { return };
    for (at, ..) in ends(lane, check) {
        let at: Point<Sheet> = lane.placement.apply(at);
        let arms = vec![
            line(at.x - ARM, at.y, at.x + ARM, at.y),
            line(at.x, at.y - ARM, at.x, at.y + ARM),
        ];
        canvas.stroke(Layer::Guides, Pen::Punch, arms);
        let (left, right) =
            (Point::new(at.x - DIAMOND, at.y), Point::new(at.x + DIAMOND, at.y));
        let (low, high) =
            (Point::new(at.x, at.y - DIAMOND), Point::new(at.x, at.y + DIAMOND));
        let diamond = Path::from(left).line_to(high).line_to(right).line_to(low).close();
        canvas.stroke(Layer::Guides, Pen::Thin, vec![diamond]);
    }
}

/// Labels the crosses, each toward the piece's end.
pub(super) fn name(canvas: &mut Canvas, lane: &Lane, check: Option<&StripCheck>) {
    let Some(check) = check else { return };
    for (at, label, is_start) in ends(lane, check) {
        let at: Point<Sheet> = lane.placement.apply(at);
        canvas.take(Area::about(at, ARM).grown(CLEAR));
        let low = at.y - cap(LABEL) / 2;
        let words = if is_start {
            Words::new(Point::new(at.x - TO_LABEL, low), Anchor::End, LABEL, label)
        } else {
            Words::new(Point::new(at.x + TO_LABEL, low), Anchor::Start, LABEL, label)
        };
        canvas.take(words.area().grown(CLEAR));
        canvas.write(words);
    }
}

/// Writes what to read into the piece, as near to the far cross as there is room.
pub(super) fn say(
    canvas: &mut Canvas,
    lane: &Lane,
    piece: &Piece,
    check: Option<&StripCheck>,
) {
    let Some(check) = check else { return };
    let wording = canvas.wording;
    let sentence = check.sentence(wording);
    let mut texts = vec![sentence.clone()];
    if let Some(hole) = check.last_hole {
        let then = wording.fill(Word::LastHoleThen, &[&wording.within(hole.by_check)]);
        texts.insert(0, format!("{sentence}; {then}"));
    }
    // At the far end alone: another size of the strap has the same near end, and its sheet
    // is used again.
    for (at, _, is_start) in ends(lane, check) {
        if !is_start {
            write(canvas, lane, piece, &texts, at);
        }
    }
}

fn write(
    canvas: &mut Canvas,
    lane: &Lane,
    piece: &Piece,
    texts: &[String],
    at: Point<Strap>,
) {
    let reach = lane.part.stretch.length().nm() / STEP.nm();
    for (text, size) in texts.iter().flat_map(|t| SIZES.map(|size| (t, size))) {
        let wide = lettering::width(text, size);
        // Along either edge, or further in where a crease runs along it.
        let levels = (0..3).map(|n| LEVEL * n);
        let places = levels.flat_map(|level| (0..reach).map(move |n| (level, STEP * n)));
        for (level, aside) in places {
            let end = at.x - aside;
            let Some(inside) = edges_over(piece, Extent { from: end - wide, to: end })
            else {
                continue;
            };
            let edges = inside.grown(-FROM_EDGE - level);
            for y in [edges.to - cap(size), edges.from + size / 4] {
                let words = Words::new(lane.at(end, y), Anchor::End, size, text);
                let fits = is_inside(lane, piece, words.area());
                if fits && canvas.try_write(words, AIR) {
                    return;
                }
            }
        }
    }
}

/// The crosses that belong on this lane: where, which, and whether it is the start's.
fn ends<'c>(
    lane: &Lane,
    check: &'c StripCheck,
) -> impl Iterator<Item = (Point<Strap>, &'c str, bool)> {
    let [from, to] = &check.labels;
    let start = lane.left.is_none().then_some((check.from, from.as_str(), true));
    let end = lane.right.is_none().then_some((check.to, to.as_str(), false));
    // A piece that is wider than a sheet has them on its upper band alone.
    let shows = |at: &Point<Strap>| {
        let room = Extent { from: at.y, to: at.y }.grown(DIAMOND);
        lane.part.across.holds(room)
    };
    start.into_iter().chain(end).filter(move |(at, ..)| shows(at))
}

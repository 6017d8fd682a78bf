//! The words beside the marks: which one it is, and what the tape reads there.

use super::super::canvas::{Area, Canvas, Clear, Words, cap};
use super::super::clip::intersections_at;
use super::super::lanes::Lane;
use super::super::sheet::Anchor;
use super::marks::ARM;
use crate::geom::{Extent, Length, Point, Strap};
use crate::layout::{Layout, Mark, MarkKind, Piece};
use crate::words::{Word, Wording};

/// Type sizes, the wanted one first.
const SIZES: [Length; 2] = [Length::from_um(2_400), Length::from_mm(2)];
/// Between words and any other ink.
const CLEAR: Clear = Clear { ink: Length::from_um(500), words: Length::from_um(1_200) };
/// From the strap's edge to words within it.
const FROM_EDGE: Length = Length::from_um(900);

/// Writes what each mark is, as fully as there is room; a label without room is left out.
pub(super) fn draw(
    canvas: &mut Canvas,
    layout: &Layout,
    lane: &Lane,
    piece: &Piece,
    whole: &[&Mark],
) {
    let bare = |m: &&&Mark| matches!(m.kind, MarkKind::Stitch | MarkKind::Slit);
    let formed: Vec<Length> =
        whole.iter().filter(|m| m.path().is_some()).map(|m| m.at.x).collect();
    for mark in whole.iter().filter(|m| !bare(m)) {
        let name = layout.label(mark, canvas.wording);
        let texts = texts(piece, mark, name, canvas.wording);
        let tries = texts.iter().flat_map(|t| SIZES.map(|size| (t, size)));
        'tries: for (text, size) in tries {
            for (x, y, anchor) in places(mark, size) {
                // Past another mark it would be taken for that one's.
                let way = Extent::new(mark.at.x, x);
                if mark.path().is_none()
                    && formed.iter().any(|&m| way.from < m && m < way.to)
                {
                    continue;
                }
                let at = lane.at(x, y);
                let words = Words::new(at, anchor, size, text);
                if is_inside(lane, piece, words.area()) && canvas.try_write(words, CLEAR)
                {
                    break 'tries;
                }
            }
        }
    }
}

/// From the fullest to the shortest.
fn texts(piece: &Piece, mark: &Mark, name: String, wording: Wording) -> Vec<String> {
    let reading = piece.from_bend(mark.at.x);
    let is_end = matches!(mark.kind, MarkKind::End | MarkKind::Tip);
    let here = Extent { from: mark.at.x, to: mark.at.x };
    let target = mark.kind == MarkKind::Target
        || is_end && piece.on_blank.iter().any(|there| there.holds(here));
    let has_name = !name.is_empty();
    let mut parts: Vec<String> = has_name.then_some(name).into_iter().collect();
    if target {
        parts.push(wording.say(Word::OnBlank).to_owned());
    }
    let short = parts.join(" · ");
    let mut all = Vec::new();
    if mark.kind == MarkKind::Bend && piece.bend.is_some() && mark.at.x == Length::ZERO {
        all.push(wording.say(Word::BendReadings).to_owned());
    }
    if reading > Length::ZERO {
        parts.push(wording.reading(reading));
        all.push(parts.join(" · "));
    }
    if !short.is_empty() {
        all.push(short);
    }
    if target && has_name {
        all.push(wording.say(Word::OnBlank).to_owned());
    }
    all
}

/// Where a label may stand, in strap coordinates, the best place first.
fn places(mark: &Mark, size: Length) -> Vec<(Length, Length, Anchor)> {
    let (x, high) = (mark.at.x, cap(size));
    let gap = Length::from_um(700);
    let line = size.times(5, 4);
    let hang = size / 4;
    if mark.path().is_some() {
        let over = mark.y_extent().to + ARM + gap;
        let under = mark.y_extent().from - ARM - gap - high;
        let right = mark.x_extent().to + gap * 2;
        let left = mark.x_extent().from - gap * 2;
        let beside = mark.at.y + gap + hang;
        let below = mark.at.y - gap - high;
        return vec![
            (x, over, Anchor::Middle),
            (x, under, Anchor::Middle),
            (x + gap * 2, over, Anchor::Start),
            (x - gap * 2, over, Anchor::End),
            (x, over + line, Anchor::Middle),
            (x, under - line, Anchor::Middle),
            (right, beside, Anchor::Start),
            (right, below, Anchor::Start),
            (left, beside, Anchor::End),
            (left, below, Anchor::End),
            (x, over + line * 2, Anchor::Middle),
            (x, under - line * 2, Anchor::Middle),
        ];
    }
    // Lines across and the tip: beside, above or below the centre line, ever further in.
    let mut all = Vec::new();
    for steps in 0..24 {
        let aside = gap * 2 + Length::from_mm(2) * steps;
        for level in 0..3 {
            let up = gap + hang + line * level;
            for y in [mark.at.y + up, mark.at.y - up - high] {
                all.push((x + aside, y, Anchor::Start));
                all.push((x - aside, y, Anchor::End));
            }
        }
        if mark.kind == MarkKind::Bend && steps == 3 {
            break;
        }
    }
    all
}

/// Whether words lie on the leather as the lane shows it.
pub(super) fn is_inside(lane: &Lane, piece: &Piece, area: Area) -> bool {
    let on_strap = |x: Length, y: Length| -> Point<Strap> {
        lane.placement.invert(Point::new(x, y))
    };
    let low = on_strap(area.x.from, area.y.from);
    let high = on_strap(area.x.to, area.y.to);
    let across = Extent { from: low.y, to: high.y }.grown(FROM_EDGE);
    let shown = Extent { from: low.x, to: high.x };
    lane.part.stretch.holds(shown)
        && lane.part.across.holds(across)
        && edges_over(piece, shown.grown(FROM_EDGE))
            .is_some_and(|inside| inside.holds(across))
}

/// From edge to edge of the leather, as far as it is there at both ends of `along`.
pub(super) fn edges_over(piece: &Piece, along: Extent) -> Option<Extent> {
    let at = |x: Length| {
        let ys = intersections_at(&piece.outline, x);
        Some((*ys.iter().min()?, *ys.iter().max()?))
    };
    let (a, b) = (at(along.from)?, at(along.to)?);
    let (from, to) = (a.0.max(b.0), a.1.min(b.1));
    (from < to).then_some(Extent { from, to })
}

//! The words beside the marks: which one it is, and what the tape reads there.

use super::super::Print;
use super::super::canvas::{Area, Canvas, Clearance, TextItem, cap_height};
use super::super::item::{Anchor, Claim};
use super::super::plan::PlacedTile;
use super::marks::ARM;
use super::nested;
use crate::geom::clip::intersections_at;
use crate::geom::{Extent, Length};
use crate::layout::{Mark, MarkKind, Piece};
use crate::words::{Word, Wording};

/// Type sizes, best first.
const SIZES: [Length; 2] = [Length::from_um(2_400), Length::from_mm(2)];
/// Between text and any other ink.
const CLEAR: Clearance =
    Clearance { ink: Length::from_um(500), text: Length::from_um(1_200) };
/// From the strap's edge to text inside it.
const FROM_EDGE: Length = Length::from_um(900);

/// Writes what each mark is, as fully as there is room. A label without room is left out.
pub(super) fn draw(canvas: &mut Canvas, print: &Print<'_>, tile: &PlacedTile<'_>) {
    let rows = print.request.rows;
    let marks: Vec<&Mark> =
        tile.marks.iter().copied().filter(|m| !nested::has_tag(m, rows)).collect();
    let is_bare = |m: &&&Mark| matches!(m.kind, MarkKind::Stitch | MarkKind::Slit);
    let formed: Vec<Length> =
        marks.iter().filter(|m| m.path().is_some()).map(|m| m.at.x).collect();
    // There the label of a line across the strap would be taken for another mark's.
    let is_past_another = |mark: &Mark, x: Length| {
        let way = Extent::new(mark.at.x, x);
        mark.path().is_none() && formed.iter().any(|&m| way.from < m && m < way.to)
    };
    for mark in marks.iter().filter(|m| !is_bare(m)) {
        let name = print.request.layout.label(mark, canvas.wording);
        let texts = texts(tile.span.piece, mark, name, canvas.wording);
        let texts = texts.iter().flat_map(|text| SIZES.map(|size| (text, size)));
        let items = texts.flat_map(|((text, has_reading), size)| {
            let places = places(mark, size).into_iter();
            let (piece, x) = (tile.span.index, mark.at.x);
            let claim =
                if *has_reading { Claim::Reading { piece, x } } else { Claim::None };
            let item = move |(x, y, anchor)| {
                TextItem::new(tile.at(x, y), anchor, size, text).claiming(claim)
            };
            places.filter(|(x, ..)| !is_past_another(mark, *x)).map(item)
        });
        canvas.write_first(items.filter(|i| is_on_leather(tile, i.area())), CLEAR);
    }
}

/// The texts of a mark that is called `name`, from the fullest to the shortest, each with
/// whether it ends with the reading of a tape.
fn texts(
    piece: &Piece,
    mark: &Mark,
    name: String,
    wording: Wording,
) -> Vec<(String, bool)> {
    let reading = piece.from_bend(mark.at.x);
    let is_end = matches!(mark.kind, MarkKind::End | MarkKind::Tip);
    let here = Extent::at(mark.at.x);
    let is_target = mark.kind == MarkKind::Target
        || is_end && piece.on_blank.iter().any(|there| there.holds(here));
    let has_name = !name.is_empty();
    let mut parts: Vec<String> = has_name.then_some(name).into_iter().collect();
    if is_target {
        parts.push(wording.say(Word::OnBlank).to_owned());
    }
    let short = parts.join(" · ");
    let mut all = Vec::new();
    if mark.kind == MarkKind::Bend && piece.bend.is_some() && mark.at.x == Length::ZERO {
        all.push((wording.say(Word::BendReadings).to_owned(), false));
    }
    if reading > Length::ZERO {
        parts.push(wording.reading(reading));
        all.push((parts.join(" · "), true));
    }
    if !short.is_empty() {
        all.push((short, false));
    }
    if is_target && has_name {
        all.push((wording.say(Word::OnBlank).to_owned(), false));
    }
    all
}

/// Where a label may stand, in strap coordinates, best first.
fn places(mark: &Mark, size: Length) -> Vec<(Length, Length, Anchor)> {
    let (x, high) = (mark.at.x, cap_height(size));
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
    let steps = if mark.kind == MarkKind::Bend { 4 } else { 24 };
    for step in 0..steps {
        let aside = gap * 2 + Length::from_mm(2) * step;
        for level in 0..3 {
            let up = gap + hang + line * level;
            for y in [mark.at.y + up, mark.at.y - up - high] {
                all.push((x + aside, y, Anchor::Start));
                all.push((x - aside, y, Anchor::End));
            }
        }
    }
    all
}

/// Whether an area of the sheet lies on the leather that the tile shows.
pub(super) fn is_on_leather(tile: &PlacedTile<'_>, area: Area) -> bool {
    let [low, high] = area.corners().map(|corner| tile.placement.invert(corner));
    let across = Extent { from: low.y, to: high.y }.grown(FROM_EDGE);
    let along = Extent { from: low.x, to: high.x };
    tile.span.stretch.holds(along)
        && tile.span.across.holds(across)
        && common_edges(tile.span.piece, along.grown(FROM_EDGE))
            .is_some_and(|edges| edges.holds(across))
}

/// From the lower to the upper edge of the leather, as far as it is there at both ends of
/// `along`.
pub(super) fn common_edges(piece: &Piece, along: Extent) -> Option<Extent> {
    let at = |x| {
        let intersections_at = intersections_at(&piece.outline, x).into_iter();
        intersections_at.map(Extent::at).reduce(Extent::union)
    };
    let edges = at(along.from)?.intersection(at(along.to)?);
    (edges.from < edges.to).then_some(edges)
}

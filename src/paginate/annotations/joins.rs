//! The joins: match lines, what lies above and below at each, and the two alignment crosses
//! that both tiles of a join have.
//!
//! The crosses of a join across the strap stand above and below the strap; where the piece
//! is wider than a sheet, on the leather near the corners of the tile. The crosses of a join
//! along the strap stand on its match line, near both corners.

use super::super::area::Area;
use super::super::canvas::{Canvas, Clearance, TextItem, cap_height, points};
use super::super::item::{Anchor, Claim, Layer, Pen};
use super::super::plan::PlacedTile;
use super::super::sheet::Cross;
use super::super::tiling::Join;
use super::labels::common_edges;
use super::signs;
use crate::geom::{Extent, Length, Point, QuarterTurn, Strap};
use crate::words::{Word, Wording};

/// From the strap's edge to the middle of a cross.
const OUT: Length = signs::ARM;
/// From a corner of the tile, where two match lines meet, to the middle of a cross.
const IN: Length = Length::from_mm(12);
/// Kept free around crosses.
pub(super) const CLEAR: Length = Length::from_mm(1);
/// How far a match line goes beyond the strap's edge.
const BEYOND: Length = Length::from_mm(1);
/// Sizes of the names of joins, and of the words in overlaps.
const NAMES: [Length; 3] = [points(105), points(95), points(90)];
const WORDS: [Length; 2] = [points(90), points(80)];
/// From a match line to the name of its join.
const TO_NAME: Length = Length::from_um(1_600);
/// A strap is narrow below this width, and has no words in its overlaps and no scissors below
/// that.
const NARROW: Length = Length::from_mm(30);
const BARE: Length = Length::from_mm(17);
/// Between words and other ink.
const AIR: Clearance = Clearance { ink: Length::from_um(500), text: CLEAR };
/// From the lower edge of the strap to the scissors.
const TO_SCISSORS: Length = Length::from_mm(5);

/// The crosses of a tile, each with the join that it belongs to.
fn crosses(tile: &PlacedTile<'_>) -> Vec<Cross> {
    let mut all = Vec::new();
    let mut add = |join: Join, ends: [Point<Strap>; 2]| {
        for (on_strap, end) in ends.into_iter().zip(["a", "b"]) {
            let (label, at) = (format!("{join} {end}"), tile.placement.apply(on_strap));
            all.push(Cross { label, on_strap, at });
        }
    };
    for (join, edges) in tile.span.end_joins() {
        let above = tile.span.above.map_or(edges.to + OUT, |j| j.line - IN);
        let below = tile.span.below.map_or(edges.from - OUT, |j| j.line + IN);
        add(join, [above, below].map(|y| Point::new(join.line, y)));
    }
    let line = along(tile);
    for join in tile.span.edge_joins() {
        add(join, [line.from + IN, line.to - IN].map(|x| Point::new(x, join.line)));
    }
    all
}

/// The stretch of the match lines along the strap.
fn along(tile: &PlacedTile<'_>) -> Extent {
    let ends = tile.span.piece.extent.grown(BEYOND);
    Extent {
        from: tile.span.left.map_or(ends.from, |j| j.line),
        to: tile.span.right.map_or(ends.to, |j| j.line),
    }
}

/// The stretch across the strap of a match line at an end, without what is beyond the strap.
fn across(tile: &PlacedTile<'_>, edges: Extent) -> Extent {
    Extent {
        from: tile.span.below.map_or(edges.from, |j| j.line),
        to: tile.span.above.map_or(edges.to, |j| j.line),
    }
}

/// Draws crosses, match lines and overlaps at all edges of a tile. The earlier strip lies
/// above: its overlap is cut off, the other's lies under it.
pub(super) fn draw(canvas: &mut Canvas, tile: &PlacedTile<'_>) -> Vec<Cross> {
    let x = along(tile);
    for (join, edges) in tile.span.end_joins() {
        let is_cut = tile.span.right == Some(join);
        let y = across(tile, edges);
        let grown = |at, whole: bool| if whole { at } else { Length::ZERO };
        let low = y.from - grown(BEYOND, tile.span.below.is_none());
        let high = y.to + grown(BEYOND, tile.span.above.is_none());
        let pen = if is_cut { Pen::Punch } else { Pen::Thin };
        let path = tile.line((join.line, low), (join.line, high));
        canvas.stroke(Layer::Guides, pen, vec![path]);
        let overlap = if is_cut {
            Extent { from: join.line, to: tile.span.stretch.to }
        } else {
            Extent { from: tile.span.stretch.from, to: join.line }
        };
        let leather = common_edges(tile.span.piece, overlap);
        let y = y.intersection(leather.unwrap_or(y));
        draw_overlap(canvas, tile, overlap, y, (join, is_cut, QuarterTurn::Left));
        if is_cut && y.length() >= BARE {
            let at = tile.at(join.line, y.from + TO_SCISSORS);
            signs::scissors(canvas, at);
        }
    }
    for join in tile.span.edge_joins() {
        let is_cut = tile.span.below == Some(join);
        let pen = if is_cut { Pen::Punch } else { Pen::Thin };
        let path = tile.line((x.from, join.line), (x.to, join.line));
        canvas.stroke(Layer::Guides, pen, vec![path]);
        let overlap = if is_cut {
            Extent { from: tile.span.across.from, to: join.line }
        } else {
            Extent { from: join.line, to: tile.span.across.to }
        };
        let x = x.intersection(tile.span.piece.extent);
        draw_overlap(canvas, tile, x, overlap, (join, is_cut, QuarterTurn::None));
    }
    let crosses = crosses(tile);
    for cross in &crosses {
        signs::join_cross(canvas, cross.at);
    }
    crosses
}

/// Draws what becomes of an overlap, in words along its match line.
fn draw_overlap(
    canvas: &mut Canvas,
    tile: &PlacedTile<'_>,
    x: Extent,
    y: Extent,
    (join, is_cut, turn): (Join, bool, QuarterTurn),
) {
    let wording = canvas.wording;
    let area = Area::between(tile.at(x.from, y.from), tile.at(x.to, y.to));
    let words = if is_cut {
        wording.say(Word::CutOff).to_owned()
    } else if tile.span.piece.width < NARROW {
        wording.fill(Word::UnderShort, &[("strip", &join.strips[0])])
    } else {
        wording.fill(Word::UnderStrip, &[("strip", &join.strips[0])])
    };
    let long = if turn == QuarterTurn::Left { area.y } else { area.x };
    let middle = |size: Length| {
        let [x, y] = [area.x, area.y].map(|side| side.from + side.length() / 2);
        Point::new(x, y) + turn.turned(Length::ZERO, -(cap_height(size) / 2))
    };
    let text = |size| {
        let text = TextItem::new(middle(size), Anchor::Middle, size, &words).turned(turn);
        if is_cut { text.bold() } else { text }
    };
    let room = long.length() - Length::from_mm(2);
    let text = WORDS.map(text).into_iter().find(|text| text.width() <= room);
    let text =
        text.filter(|text| tile.span.piece.width >= BARE && canvas.is_free(text, AIR));
    if is_cut {
        let marks = tile.span.piece.marks.iter().filter(|m| m.path().is_some());
        let marks = marks.filter(|m| m.x_extent().overlaps(x)).map(|m| {
            let (x, y) = (m.x_extent(), m.y_extent());
            Area::between(tile.at(x.from, y.from), tile.at(x.to, y.to))
                .grown(Length::from_mm(2))
        });
        let words = text.iter().map(|t| t.area().grown(CLEAR));
        let gaps: Vec<Area> = marks.chain(words).collect();
        signs::hatching(canvas, area, &gaps);
    }
    if let Some(text) = text {
        canvas.write(text);
    }
}

/// Whether a tick at `x`, over the stretch `y`, would touch a cross at an end of a tile, or
/// would stand so near its upright as to be taken for a part of it.
pub(super) fn covers(tile: &PlacedTile<'_>, x: Length, y: Extent) -> bool {
    crosses(tile).iter().any(|cross| {
        let off = (x - cross.on_strap.x).abs();
        off < signs::ARM + CLEAR / 2
            && y.grown(CLEAR / 2).overlaps(Extent::at(cross.on_strap.y).grown(signs::ARM))
    })
}

/// The name of a join on paper: `JOIN 1 + 2`, in short `1 + 2`.
fn names(join: Join, wording: Wording) -> [String; 2] {
    [wording.fill(Word::Join, &[("sheets", &join)]), join.to_string()]
}

/// Names each join beside its match line, on the side of the strip that stays: in the middle,
/// else ever farther from it.
pub(super) fn name(canvas: &mut Canvas, tile: &PlacedTile<'_>) {
    const STEP: Length = Length::from_mm(2);
    let (span, wording) = (&tile.span, canvas.wording);
    let ends = span.end_joins().map(|(join, edges)| {
        (join, QuarterTurn::Left, across(tile, edges), span.left == Some(join))
    });
    let sides = span
        .edge_joins()
        .map(|join| (join, QuarterTurn::None, along(tile), span.below == Some(join)));
    for (join, turn, room, is_before) in ends.chain(sides).collect::<Vec<_>>() {
        let short = usize::from(span.piece.width < NARROW && turn == QuarterTurn::Left);
        let claim = Claim::Join { strips: join.strips };
        let texts = names(join, wording)
            .into_iter()
            .skip(short)
            .flat_map(|name| NAMES.map(|size| (name.clone(), size)));
        let texts = texts.flat_map(|(name, size)| {
            // Letters that are turned to the left stand before their place.
            let is_past = is_before == (turn == QuarterTurn::Left);
            let off = TO_NAME + if is_past { cap_height(size) } else { Length::ZERO };
            let line = join.line + if is_before { off } else { -off };
            let middle = room.from + room.length() / 2;
            let steps = (0..room.length().nm() / STEP.nm()).map(|n| {
                let far = STEP * ((n + 1) / 2);
                if n % 2 == 0 { far } else { -far }
            });
            let text = move |far| {
                let at = match turn {
                    QuarterTurn::Left => tile.at(line, middle + far),
                    QuarterTurn::None => tile.at(middle + far, line),
                };
                TextItem::new(at, Anchor::Middle, size, &name).turned(turn).bold()
            };
            steps.map(text).filter(move |text| {
                let [low, high] = text.area().corners().map(|p| tile.placement.invert(p));
                match turn {
                    QuarterTurn::Left => room.holds(Extent::new(low.y, high.y)),
                    QuarterTurn::None => room.holds(Extent::new(low.x, high.x)),
                }
            })
        });
        let texts: Vec<TextItem> = texts.map(|text| text.claiming(claim)).collect();
        write_name(canvas, &texts);
    }
}

/// Writes the first that is free. The name must be there, so that the sheets can be joined.
fn write_name(canvas: &mut Canvas, texts: &[TextItem]) {
    let free = texts.iter().find(|text| canvas.is_free(text, AIR));
    if let Some(text) = free.or(texts.last()) {
        canvas.write(text.clone());
    }
}

//! What a strip is: its number or letter, where to start, the name of its piece, and what holds
//! for all of the piece.

use super::super::area::Area;
use super::super::canvas::{Canvas, Clearance, TextItem, points};
use super::super::item::Anchor;
use super::super::lane::{RULER, RulerPlace};
use super::super::plan::PlacedTile;
use super::super::tiling::Strip;
use super::labels::is_on_leather;
use super::signs;
use crate::geom::{Extent, Length, Point, Sheet};
use crate::layout::{Mark, MarkKind};
use crate::words::{Units, Word, Wording};

/// Sizes of the name of a piece, and of what else is said.
const NAME: Length = points(110);
const SAID: [Length; 2] = [points(100), points(90)];
/// From an end of a piece, and from a match line, to the number.
const FROM_END: Length = Length::from_um(1_600);
const FROM_JOIN: Length = Length::from_um(7_400);
/// From the lowest line along the edge to the number.
const FROM_EDGE: Length = Length::from_um(1_500);
const BETWEEN: Length = Length::from_um(1_800);
/// From a piece to what stands beside it.
const BESIDE: Length = Length::from_mm(4);
/// From one place that is tried to the next.
const STEP: Length = Length::from_mm(3);
/// A narrower piece has its number in its middle.
const NARROW: Length = Length::from_mm(30);
const AIR: Clearance =
    Clearance { ink: Length::from_um(600), text: Length::from_um(1_500) };

/// The number of a strip with what stands behind it.
#[derive(Clone)]
struct Tag {
    number: String,
    has_start: bool,
    name: TextItem,
}

impl Tag {
    /// How wide it is, with the name or without.
    fn width(&self, with_name: bool) -> Length {
        let mut width = signs::square_width(&self.number);
        if self.has_start {
            width += BETWEEN / 2 + signs::START;
        }
        if with_name { width + BETWEEN + self.name.width() } else { width }
    }

    fn area(&self, low: Point<Sheet>, with_name: bool) -> Area {
        let high = Point::new(low.x + self.width(with_name), low.y + signs::SQUARE);
        Area::between(low, high).grown(AIR.ink)
    }

    fn draw(&self, canvas: &mut Canvas, low: Point<Sheet>, with_name: bool) {
        signs::square(canvas, low, &self.number);
        if self.has_start {
            let x = low.x + signs::square_width(&self.number) + BETWEEN / 2;
            let word = canvas.wording.say(Word::StartHere);
            signs::start(canvas, Point::new(x, low.y), word);
        }
        if with_name {
            let x = low.x + self.width(false) + BETWEEN;
            let at = Point::new(x, low.y + signs::SQUARE / 4);
            canvas.write(TextItem { at, ..self.name.clone() });
        }
    }
}

/// Draws the number of a strip, and what is said of its piece where there is room.
pub(super) fn draw(canvas: &mut Canvas, tile: &PlacedTile<'_>) {
    let (span, piece) = (tile.span, tile.span.piece);
    let is_first = span.left.is_none() && span.above.is_none();
    let name = piece.label(canvas.wording);
    let tag = Tag {
        number: span.strip.to_string(),
        has_start: is_first && matches!(span.strip, Strip::Number(_)),
        name: TextItem::new(Point::default(), Anchor::Start, NAME, &name).bold(),
    };
    let shown = span.on_piece();
    let from = span.left.map_or(shown.from + FROM_END, |j| j.line + FROM_JOIN);
    let to = span.right.map_or(shown.to, |j| j.line);
    let hung = match span.lane.ruler {
        RulerPlace::Inside(foot) => piece.narrowest() / 2 - foot,
        RulerPlace::None | RulerPlace::Outside => Length::ZERO,
    };
    let edges = span.edges();
    let bottom = span.below.map_or(edges.from + hung, |j| j.line) + FROM_EDGE;
    let middle = -signs::SQUARE / 2;
    let above = bottom + RULER;
    let mut levels = vec![bottom, above, middle];
    if piece.width < NARROW {
        levels.rotate_left(2);
    }
    let rows = (edges.length().nm() / (STEP / 2).nm()).max(0);
    levels.extend((1..rows).map(|n| edges.from + STEP / 2 * n));
    let steps = ((to - from).nm() / (STEP / 2).nm()).max(0);
    let places = || {
        let all = levels.iter().flat_map(|y| (0..=steps).map(move |i| (*y, i)));
        all.map(|(y, i)| tile.at(from + STEP / 2 * i, y))
    };
    let bare = Tag { has_start: false, ..tag.clone() };
    let tries = [(&tag, true), (&tag, false), (&bare, false)];
    let found = tries.into_iter().find_map(|(tag, with_name)| {
        let free = |low: &Point<Sheet>| {
            let area = tag.area(*low, with_name);
            is_on_leather(tile, area) && canvas.is_area_free(area)
        };
        places().find(free).map(|low| (tag, low, with_name))
    });
    // Without room on the leather it stands beside it: behind, before or below.
    let found = found.or_else(|| {
        tries.into_iter().find_map(|(tag, with_name)| {
            let before = shown.from - BESIDE - tag.width(with_name);
            let below = edges.from - BESIDE - FROM_EDGE - signs::SQUARE;
            let around =
                [(shown.to + BESIDE, middle), (before, middle), (shown.from, below)];
            let free =
                |low: &Point<Sheet>| canvas.is_area_free(tag.area(*low, with_name));
            let mut spots = around.into_iter().map(|(x, y)| tile.at(x, y));
            spots.find(free).map(|low| (tag, low, with_name))
        })
    });
    // On the smallest papers nothing is free, and the number must be there.
    let (tag, low, with_name) = found.unwrap_or((&bare, tile.at(from, bottom), false));
    tag.draw(canvas, low, with_name);
    if is_first {
        let end = low.x + tag.width(with_name) + BETWEEN;
        say(canvas, tile, Point::new(end, low.y + signs::SQUARE / 4));
    }
}

/// What holds for all of the piece: behind its name, or where else there is room.
fn say(canvas: &mut Canvas, tile: &PlacedTile<'_>, after: Point<Sheet>) {
    let shown = tile.span.on_piece();
    let mut next = after;
    let steps = (shown.length().nm() / STEP.nm()).max(0);
    for words in sentences(tile, canvas.wording) {
        let edges = tile.span.edges();
        let levels = (edges.length().nm() / (STEP / 2).nm()).max(0);
        let on = (1..levels).flat_map(|level| {
            let y = edges.from + STEP / 2 * level;
            (0..=steps).map(move |i| tile.at(shown.from + STEP * i, y))
        });
        let behind = (0..12).map(|i| Point::new(next.x + STEP * i, next.y));
        let on_leather: Vec<TextItem> = SAID
            .into_iter()
            .flat_map(|size| {
                let text = |at| TextItem::new(at, Anchor::Start, size, &words);
                behind.clone().chain(on.clone()).map(text).collect::<Vec<_>>()
            })
            .filter(|text| is_on_leather(tile, text.area()))
            .collect();
        let out = (0..3).map(|level| {
            let right = tile.at(shown.to + BESIDE, -STEP * level);
            TextItem::new(right, Anchor::Start, SAID[0], &words)
        });
        let all = on_leather.into_iter().chain(out);
        if let Some(text) = canvas.write_first_of(all, AIR) {
            next = Point::new(text.at.x + text.width() + BETWEEN, text.at.y);
        }
    }
}

/// Where readings count from, what to cut, and what to prick.
fn sentences(tile: &PlacedTile<'_>, wording: Wording) -> Vec<String> {
    let piece = tile.span.piece;
    let mut all = Vec::new();
    if piece.bend.is_some() {
        let unit =
            if wording.units == Units::Inches { Word::InInches } else { Word::InMm };
        all.push(wording.fill(Word::BendReadings, &[("unit", &wording.say(unit))]));
    }
    if matches!(tile.span.strip, Strip::Letter(_)) {
        let size = wording.near_oblong(piece.extent.length(), piece.width);
        all.push(wording.fill(
            Word::CutSize,
            &[("size", &size), ("thick", &wording.near(piece.thickness))],
        ));
    }
    let stitches = || piece.marks.iter().filter(|m| m.kind == MarkKind::Stitch);
    let sizes: Vec<Length> = stitches().map(|m: &Mark| m.y_extent().length()).collect();
    if let Some(size) = sizes.iter().max() {
        all.push(wording.fill(
            Word::Pricks,
            &[("count", &sizes.len()), ("size", &wording.bare(*size))],
        ));
    }
    all
}

/// The stretch of a tile that its own marks and words may take.
pub(super) fn inner(tile: &PlacedTile<'_>) -> Extent {
    let shown = tile.span.on_piece();
    Extent {
        from: tile.span.left.map_or(shown.from, |j| j.line),
        to: tile.span.right.map_or(shown.to, |j| j.line),
    }
}

//! Several sizes on one strap. Each size has a line on a level of its own, which begins with
//! its name white on black, has the number of each of its holes, the hole of the size itself in
//! a ring, and leads to its own tip, where its name stands again.

use super::super::area::Area;
use super::super::canvas::{Canvas, Clearance, TextItem, cap_height, points};
use super::super::item::{Anchor, Claim, Layer, Pen, Tone};
use super::super::plan::PlacedTile;
use super::stretches_between;
use crate::geom::clip::{clip, clip_across, intersections_at};
use crate::geom::{Extent, Length, Path, Strap};
use crate::layout::{Mark, MarkKind, NestedSize, TAG};
use crate::words::Wording;

/// Kept white around a number, and around a name on black.
const WHITE: Length = Length::from_um(400);
/// Black about a name.
const BLACK: Length = Length::from_um(800);
/// Radius of the ring about the number of the hole of the size itself.
const RING: Length = Length::from_um(1_900);
/// From a name to the first number.
const TO_NUMBER: Length = Length::from_um(3_500);
/// Size of the readings, and from the upper edge to their base line.
const READING: Length = points(90);
const FROM_EDGE: Length = Length::from_um(4_000);
/// What the readings keep free of a ruler.
const GIVES_WAY: Length = Length::from_mm(9);
const AIR: Clearance =
    Clearance { ink: Length::from_um(300), text: Length::from_um(700) };
/// Half of what a curve leaves to the plus in the middle of a hole.
const PLUS: Length = Length::from_um(1_200);
/// A shorter part of a curve is not drawn.
const LEAST_RUN: Length = Length::from_um(100);
/// Longer than any strap.
const FAR: Length = Length::from_mm(1_000_000);

/// Draws what the tile shows of the rows of its piece. The curves of the tips stop short of
/// every number and name.
pub(super) fn draw(canvas: &mut Canvas, tile: &PlacedTile<'_>, rows: &[NestedSize]) {
    let own = || rows.iter().filter(|row| row.piece == tile.span.index);
    let mut numbers: Vec<TextItem> = Vec::new();
    let mut names: Vec<TextItem> = Vec::new();
    let mut all_rings = Vec::new();
    for row in own() {
        let shown = shown(tile, row);
        let middle = row.level + cap_height(TAG) / 2;
        let number = |(x, text): &(Length, &str)| {
            TextItem::new(tile.at(*x, row.level), Anchor::Middle, TAG, text).bold()
        };
        let texts: Vec<TextItem> = shown.iter().map(number).collect();
        let own_name = name(tile, row, &shown);
        let rings = shown.iter().filter(|(x, _)| row.size_hole == Some(*x));
        let rings = rings.map(|(x, _)| Path::circle(tile.at(*x, middle), RING));
        let rings: Vec<Path<_>> = rings.collect();
        let gaps = texts.iter().map(|text| text.area().x.grown(WHITE * 2));
        let name_gap = own_name.iter().map(|text| text.area().x.grown(BLACK));
        let to_strap = tile.at(Length::ZERO, Length::ZERO).x;
        let ring_gaps = rings.iter().map(|ring| ring.x_extent().grown(RING));
        let gaps = gaps.chain(name_gap).chain(ring_gaps);
        let runs = stretches_between(
            line_of(tile, row, own_name.as_ref()),
            gaps.map(|gap| gap.shifted(-to_strap)),
        );
        let line = |run: &Extent| tile.line((run.from, middle), (run.to, middle));
        canvas.stroke(Layer::Guides, Pen::Thin, runs.iter().map(line).collect());
        all_rings.extend(rings);
        numbers.extend(texts);
        names.extend(own_name);
    }
    numbers.extend(reading_texts(canvas.wording, tile, rows));
    let written: Vec<Area> = numbers
        .iter()
        .map(|text| text.area().grown(WHITE))
        .chain(names.iter().map(black_of))
        .collect();
    let mut taken = written.clone();
    for row in own().filter(|row| !row.tip.is_empty()) {
        if let Some(name) = tip_name(canvas, tile, row, &taken) {
            taken.push(black_of(&name));
            names.push(name);
        }
    }
    for row in own() {
        let mut shown: Vec<Path<Strap>> =
            row.tip.iter().flat_map(|tip| tile.clip(tip, tile.span.stretch)).collect();
        // The plus in the middle of a hole stays alone.
        let pluses = tile.marks.iter().filter(|m| m.path().is_some());
        let pluses = pluses.map(|m| Area::around(tile.at(m.at.x, m.at.y), PLUS));
        for area in taken.iter().copied().chain(pluses) {
            let area = &area;
            shown =
                shown.iter().flat_map(|path| clip_around(path, tile, *area)).collect();
        }
        // What is left of a curve between two names may be nothing to see.
        shown.retain(|path| (path.end() - path.start).norm() > LEAST_RUN);
        canvas.stroke(Layer::Outline, Pen::Outline, tile.place(&shown));
    }
    for text in numbers {
        // On white, since a match line may run underneath.
        let [low, high] = text.area().grown(WHITE).corners();
        canvas.fill(Layer::Guides, Tone::White, vec![Path::rectangle(low, high)]);
        canvas.write(text);
    }
    canvas.stroke(Layer::Guides, Pen::Frame, all_rings);
    for name in names {
        let area = black_of(&name);
        let [low, high] = area.corners();
        canvas.fill(Layer::Guides, Tone::Black, vec![Path::rectangle(low, high)]);
        canvas.write(name.white());
        canvas.block(area);
    }
}

/// The black about a name.
fn black_of(name: &TextItem) -> Area {
    name.area().grown(BLACK)
}

/// The holes of a row that the tile shows whole, each with its number.
fn shown<'r>(tile: &PlacedTile<'_>, row: &'r NestedSize) -> Vec<(Length, &'r str)> {
    let is_whole =
        |x: Length| tile.marks.iter().any(|m| m.at.x == x && m.path().is_some());
    let holes = row.holes.iter().filter(|(x, _)| is_whole(*x));
    holes.map(|(x, number)| (*x, number.as_str())).collect()
}

/// The name of a row before its first hole, or between the first two that the tile shows where
/// it goes on from another tile.
fn name(
    tile: &PlacedTile<'_>,
    row: &NestedSize,
    shown: &[(Length, &str)],
) -> Option<TextItem> {
    let (first, _) = shown.first()?;
    let is_start = row.holes.first().is_some_and(|(x, _)| x == first);
    let before = TextItem::new(
        tile.at(*first - TO_NUMBER, row.level),
        Anchor::End,
        TAG,
        &row.size,
    );
    let from = super::strip::inner(tile).from;
    let has_room = *first - TO_NUMBER - before.width() - BLACK * 2 > from;
    let (second, _) = shown.get(1).copied().unwrap_or((*first, ""));
    let between = tile.at(*first + (second - *first) / 2, row.level);
    let between = TextItem::new(between, Anchor::Middle, TAG, &row.size).bold();
    let fits = between.width() + BLACK * 2 + WHITE * 8 < second - *first;
    match (is_start && has_room, fits) {
        (true, _) => Some(before.bold()),
        (false, true) => Some(between),
        (false, false) => None,
    }
}

/// Where the line of a row runs on a tile: from its name or the tile's start to its tip.
fn line_of(tile: &PlacedTile<'_>, row: &NestedSize, name: Option<&TextItem>) -> Extent {
    let places = row.holes.iter().map(|(x, _)| Extent::at(*x));
    let Some(whole) = places.reduce(Extent::union) else {
        return Extent::at(Length::ZERO);
    };
    let start = name.map(|name| name.area().corners()[0]);
    let start = start.map_or(whole.from, |low| tile.placement.invert(low).x);
    let middle = row.level + cap_height(TAG) / 2;
    let end = tip_at(row, middle).map_or(whole.to, |x| x.max(whole.to));
    let from = if start < whole.from { start } else { whole.from };
    Extent { from, to: end }.intersection(super::strip::inner(tile))
}

/// Where the tip of a row comes down, or up, to a level; `None` where it does not.
fn tip_at(row: &NestedSize, level: Length) -> Option<Length> {
    let end = row.tip.iter().map(Path::x_extent).reduce(Extent::union)?;
    let (mut low, mut high) = (end.from, end.to);
    let reaches = |x| {
        let ys = row.tip.iter().flat_map(|tip| intersections_at(tip, x));
        ys.map(Length::abs).max().is_some_and(|y| y > level.abs())
    };
    while high - low > Length::from_um(10) {
        let x = low + (high - low) / 2;
        if reaches(x) { low = x } else { high = x }
    }
    Some(high)
}

/// The name of a row on its tip: on its own level, or where else on the curve there is room.
fn tip_name(
    canvas: &Canvas,
    tile: &PlacedTile<'_>,
    row: &NestedSize,
    taken: &[Area],
) -> Option<TextItem> {
    let half = tile.span.piece.narrowest() / 2 - BLACK * 3 - cap_height(TAG);
    let step = Length::from_mm(2);
    let others = (0..half.nm() / step.nm()).flat_map(|n| [step * n, -step * (n + 1)]);
    let levels = [row.level].into_iter().chain(others);
    let shows = super::strip::inner(tile);
    levels
        .filter_map(|level| {
            let x = tip_at(row, level + cap_height(TAG) / 2)?;
            let name = TextItem::new(tile.at(x, level), Anchor::Middle, TAG, &row.size);
            let name = name.bold();
            let whole = Extent::at(x).grown(name.width() / 2 + BLACK * 2);
            shows.holds(whole).then_some(name)
        })
        .find(|name| {
            let area = black_of(name).grown(WHITE);
            canvas.is_free(name, AIR) && !taken.iter().any(|other| other.overlaps(area))
        })
}

/// What the rows take along a tile for the readings of their holes.
pub(super) fn readings(tile: &PlacedTile<'_>, rows: &[NestedSize]) -> Option<Extent> {
    let own = rows.iter().filter(|row| row.piece == tile.span.index);
    let first = own.flat_map(|row| row.holes.iter().map(|(x, _)| *x)).min()?;
    Some(Extent { from: first - GIVES_WAY, to: tile.span.piece.extent.to })
}

/// The readings of all holes of rows on a tile, along its upper edge.
fn reading_texts(
    wording: Wording,
    tile: &PlacedTile<'_>,
    rows: &[NestedSize],
) -> Vec<TextItem> {
    let piece = tile.span.index;
    let own = rows.iter().filter(|row| row.piece == piece);
    let mut places: Vec<Length> =
        own.flat_map(|row| shown(tile, row)).map(|(x, _)| x).collect();
    places.sort_unstable();
    places.dedup();
    let y = tile.span.piece.narrowest_between(tile.span.on_piece()) / 2 - FROM_EDGE;
    let mut last: Option<Area> = None;
    let mut all = Vec::new();
    for x in places {
        let text = wording.reading(tile.span.piece.from_bend(x));
        let text = TextItem::new(tile.at(x, y), Anchor::Middle, READING, &text);
        let text = text.claiming(Claim::Reading { piece, x });
        let area = text.area().grown(AIR.text / 2);
        if !last.is_some_and(|last| last.overlaps(area)) {
            last = Some(area);
            all.push(text);
        }
    }
    all
}

/// The parts of a path outside an area of the sheet.
fn clip_around(
    path: &Path<Strap>,
    tile: &PlacedTile<'_>,
    area: Area,
) -> Vec<Path<Strap>> {
    let [a, b] = area.corners().map(|corner| tile.placement.invert(corner));
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

/// Whether the name of a row says what a mark is.
pub(super) fn has_tag(mark: &Mark, rows: &[NestedSize]) -> bool {
    let ends_there = |row: &NestedSize| {
        let tips = row.tip.iter().map(|t| t.x_extent().to);
        tips.max() == Some(mark.at.x)
    };
    mark.kind == MarkKind::Tip && rows.iter().any(ends_there)
}

//! The least paper: thousands of made-up jobs, each held against a bound that is reckoned
//! here from lengths and heights alone, and against every clear place for a join. Where more
//! sheets are taken than the bound asks for, the reason is reckoned here too.

mod lines;
mod lower_bound;

use crate::common::random::Random;
use lines::{Fewest, OVERLAP, fewest};
use lower_bound::{GAP, Tiled, could_do};
use std::collections::BTreeMap;
use strapwright::geom::{Extent, Length, Path, Point};
use strapwright::job::{FeatureId, PieceId};
use strapwright::layout::{Layout, Mark, MarkKind, MarkRole, Piece, PieceCopy, Shape};
use strapwright::paginate::{Heading, Paper, Request, Sheet, SheetSet, paginate};
use strapwright::words::Name;

/// Of the drawing, in mm: half a join and what it keeps clear, and what is shown beyond an
/// end.
const JOIN: i64 = 10;
const BEYOND: i64 = 3;
/// What a tile takes beside the strap, in tenths of a mm: 4 mm on either side, and 3.5 mm more
/// for a ruler beside it, where a ruler of 6.5 mm has no room between the edge and the cross of
/// a hole, which reaches 1.3 mm beyond its rim. A whole piece without a mark has no ruler.
fn beside(piece: &Piece, is_whole: bool) -> i64 {
    let reach = piece.marks.iter().map(|m| m.y_extent().to);
    let Some(reach) = reach.max().or((!is_whole).then_some(Length::ZERO)) else {
        return 80;
    };
    let cross =
        if piece.marks.is_empty() { Length::ZERO } else { Length::from_um(1_300) };
    let room = piece.width / 2 - Length::from_um(6_500);
    if room > Length::ZERO && room >= reach + cross { 80 } else { 115 }
}

/// How high the tiles of a piece are, in tenths of a mm.
fn tenths_high(piece: &Piece, room: i64) -> i64 {
    let is_whole = whole_mm(piece.extent.length()) + 2 * BEYOND <= room;
    whole_mm(piece.width) * 10 + beside(piece, is_whole)
}

fn mm(n: i64) -> Length {
    Length::from_mm(n)
}

fn whole_mm(l: Length) -> i64 {
    assert_eq!(l.nm() % 1_000_000, 0, "{l}");
    l.nm() / 1_000_000
}

/// A rectangle with round holes and slots on its centre line, all in whole millimetres.
pub(crate) fn piece(random: &mut Random, length: i64, width: i64, marks: i64) -> Piece {
    let (from, to, half) = (mm(0), mm(length), mm(width) / 2);
    let mut all = Vec::new();
    // Most lie in groups, as the holes of a belt do.
    let mut x = random.between(10, length - 10);
    for _ in 0..marks {
        if random.between(0, 3) == 0 {
            x = random.between(10, length - 10);
        }
        let slot = random.between(0, 5) == 0;
        let shape = if slot {
            Shape::Slot { length: mm(2 * random.between(5, 14)), width: mm(4) }
        } else {
            Shape::Round { diameter: mm(2 * random.between(1, 3)) }
        };
        all.push(Mark {
            feature: FeatureId(0),
            role: MarkRole::Only,
            size: None,
            kind: if slot { MarkKind::Slot } else { MarkKind::Hole },
            shape,
            at: Point::new(mm(x), Length::ZERO),
            span: None,
        });
        x = (x + random.between(8, 40)).min(length - 10);
    }
    all.sort_by_key(|m| m.at.x);
    Piece {
        id: PieceId::STRAP,
        copy: PieceCopy::SINGLE,
        name: Name::given("piece"),
        width: mm(width),
        extent: Extent { from, to },
        outline: Path::rectangle(Point::new(from, -half), Point::new(to, half)),
        marks: all,
        on_blank: Vec::new(),
        bend: None,
        thickness: mm(3),
        folds: Vec::new(),
        width_changes: Vec::new(),
        guides: Vec::new(),
    }
}

fn job(random: &mut Random) -> Layout {
    let mut pieces = Vec::new();
    for _ in 0..random.between(0, 2) {
        let (length, width) = (random.between(300, 1_100), 2 * random.between(6, 40));
        let marks = random.between(0, 25);
        pieces.push(piece(random, length, width, marks));
    }
    for _ in 0..random.between(1, 4) {
        let (length, width) = (random.between(50, 160), 2 * random.between(5, 25));
        let marks = random.between(0, 3);
        pieces.push(piece(random, length, width, marks));
    }
    Layout { pieces, features: vec![Name::given("holes")] }
}

/// A kind of page: whether it is wide, whether its head is at the side, and its room.
#[derive(Clone, Copy)]
struct Kind {
    is_wide: bool,
    has_side_head: bool,
    room: (i64, i64),
}

/// The kinds of pages and the room for tiles on each, from the margins, the head and the scale
/// bar: its width in mm, rounded up, its height in tenths of a mm.
fn kinds((short, long): (i64, i64)) -> Vec<Kind> {
    let mut all = Vec::new();
    for (is_wide, (w, h)) in [(true, (long, short)), (false, (short, long))] {
        let head = |w: i64, h: i64| if w > h { 266 } else { 360 };
        let (wide, high) = (w - 20 - 9, (h - 20) * 10 - head(w, h));
        all.push(Kind { is_wide, has_side_head: false, room: (wide, high) });
        let (wide, high) = (up((w - 20) * 10 - head(h, w), 10), (h - 20 - 9) * 10);
        all.push(Kind { is_wide, has_side_head: true, room: (wide, high) });
    }
    all
}

/// Between which places a match line cuts a mark or comes too near, ends aside.
fn near(mark: &Mark) -> (i64, i64) {
    let e = mark.x_extent();
    (whole_mm(e.from) - JOIN, whole_mm(e.to) + JOIN)
}

/// The fewest tiles of each piece in windows of `width`, clear of marks or wherever.
fn tiles(layout: &Layout, width: i64, clear: bool) -> Option<Vec<Fewest>> {
    let pieces = layout.pieces.iter();
    pieces
        .map(|piece| {
            let length = whole_mm(piece.extent.length()) + 2 * BEYOND;
            let marks: Vec<(i64, i64)> = piece.marks.iter().map(near).collect();
            let is_clear = |x: i64| marks.iter().all(|&(a, b)| x <= a || b <= x);
            fewest(length, width, |x| !clear || is_clear(x - BEYOND))
        })
        .collect()
}

fn up(a: i64, b: i64) -> i64 {
    (a + b - 1) / b
}

/// Fewer sheets cannot do for so many tiles of each piece: by area, and by the heights of
/// those tiles that cannot lie beside another.
fn bound(layout: &Layout, tiles: &[i64], (width, height): (i64, i64)) -> i64 {
    let mut area = 0;
    let mut rows: Vec<i64> = Vec::new();
    let half = (width - GAP) / 2;
    for (piece, &n) in layout.pieces.iter().zip(tiles) {
        let all = whole_mm(piece.extent.length()) + 2 * BEYOND + OVERLAP * (n - 1);
        let high = tenths_high(piece, width);
        area += all * high;
        // Of n tiles of this length in sum so many are longer than half of a row.
        let long = up((all - n * half).max(0), width - half);
        rows.extend((0..long).map(|_| high));
    }
    let mut least = up(area, width * height);
    for per_sheet in 1..20 {
        let high = rows.iter().filter(|&&h| h * (per_sheet + 1) > height).count();
        least = least.max(up(i64::try_from(high).unwrap(), per_sheet));
    }
    for &alpha in rows.iter().filter(|&&h| 2 * h <= height) {
        least = least.max(martello_toth(&rows, alpha, height));
    }
    least
}

/// S. Martello, P. Toth, "Knapsack Problems" (1990), chapter 8: bound L2 of bin packing.
fn martello_toth(rows: &[i64], alpha: i64, height: i64) -> i64 {
    let sum = |of: &dyn Fn(i64) -> bool| -> (i64, i64) {
        let some: Vec<i64> = rows.iter().copied().filter(|&h| of(h)).collect();
        (i64::try_from(some.len()).unwrap(), some.iter().sum())
    };
    let (alone, _) = sum(&|h| h > height - alpha);
    let (over, over_height) = sum(&|h| h <= height - alpha && 2 * h > height);
    let (_, rest) = sum(&|h| 2 * h <= height && h >= alpha);
    alone + over + up((rest - (over * height - over_height)).max(0), height)
}

/// What is on the sheets of each kind has room on them.
fn assert_has_room(layout: &Layout, set: &SheetSet, size: (i64, i64), about: &str) {
    for Kind { is_wide, has_side_head, room } in kinds(size) {
        let is_own = |s: &&Sheet| {
            // The bar along the width stands in the head, or at the foot.
            let at_foot = s.bars[0].from.y < s.height / 2;
            (s.width > s.height) == is_wide && at_foot == has_side_head
        };
        let own: Vec<&Sheet> = set.sheets.iter().filter(is_own).collect();
        let count = |piece: usize| {
            let tiles = own.iter().flat_map(|s| &s.tiles);
            i64::try_from(tiles.filter(|t| t.piece == piece).count()).unwrap()
        };
        let taken: Vec<i64> = (0..layout.pieces.len()).map(count).collect();
        let tiles: Vec<i64> = taken.iter().copied().filter(|n| *n > 0).collect();
        let bound = bound(&part(layout, |piece| taken[piece] > 0), &tiles, room);
        let sheets = i64::try_from(own.len()).unwrap();
        assert!(sheets >= bound, "{about}: too much on them");
    }
}

/// Some of the pieces.
fn part(layout: &Layout, is_in: impl Fn(usize) -> bool) -> Layout {
    let pieces = layout.pieces.iter().enumerate().filter(|(i, _)| is_in(*i));
    let pieces = pieces.map(|(_, piece)| piece.clone()).collect();
    Layout { pieces, features: layout.features.clone() }
}

/// Some pieces, the room of their pages, and their fewest tiles.
struct Part {
    layout: Layout,
    room: (i64, i64),
    fewest: Vec<Fewest>,
}

impl Part {
    fn bound(&self) -> i64 {
        let counts: Vec<i64> = self.fewest.iter().map(|f| f.tiles).collect();
        bound(&self.layout, &counts, self.room)
    }

    fn could_do(&self, sheets: i64) -> bool {
        could_do(&tiled(&self.layout, &self.fewest, self.room), self.room, sheets)
    }
}

/// Every way to lay some pieces on wide pages and the others on tall ones, with no more than
/// `most` joins, clear of marks or wherever.
fn ways(layout: &Layout, size: (i64, i64), clear: bool, most: i64) -> Vec<[Part; 2]> {
    let (wide, tall): (Vec<Kind>, Vec<Kind>) =
        kinds(size).iter().partition(|k| k.is_wide);
    let mut all = Vec::new();
    for (wide, tall) in wide.iter().flat_map(|w| tall.iter().map(move |t| (w, t))) {
        for choice in 0..1_usize << layout.pieces.len() {
            let part = |page: usize, kind: &Kind| {
                let layout = part(layout, |piece| (choice >> piece) & 1 == page);
                let fewest = tiles(&layout, kind.room.0, clear)?;
                Some(Part { layout, room: kind.room, fewest })
            };
            let Some(way) = part(0, wide).zip(part(1, tall)) else { continue };
            let joins =
                |part: &Part| part.fewest.iter().map(|f| f.tiles - 1).sum::<i64>();
            if joins(&way.0) + joins(&way.1) <= most {
                all.push(way.into());
            }
        }
    }
    all
}

fn tiled(layout: &Layout, fewest: &[Fewest], room: (i64, i64)) -> Vec<Tiled> {
    let pieces = layout.pieces.iter().zip(fewest);
    pieces
        .map(|(piece, &Fewest { tiles, shortest })| Tiled {
            tiles,
            shortest,
            sum: whole_mm(piece.extent.length()) + 2 * BEYOND + OVERLAP * (tiles - 1),
            height: tenths_high(piece, room.0),
        })
        .collect()
}

fn marks_in_joins(layout: &Layout, set: &SheetSet) -> usize {
    let in_join = |&(piece, x): &(usize, Length)| {
        let marks = layout.pieces[piece].marks.iter().map(near);
        marks.filter(|&(a, b)| mm(a) < x && x < mm(b)).count()
    };
    set.joins.iter().map(in_join).sum()
}

const FEWEST: &str = "as few as any";
const CLEAR: &str = "as few as any that cuts nothing";
const NO_WAY: &str = "no way to share rows does with fewer";
const NOTHING: &str = "nothing is clear";
const NOT_KNOWN: &str = "not known: several tiles of one piece might share rows";

/// Why a job takes as many sheets as it does. A sheet less is worth one more join.
fn reason(layout: &Layout, size: (i64, i64), set: &SheetSet) -> &'static str {
    let sheets = i64::try_from(set.sheets.len()).unwrap();
    let most = i64::try_from(set.joins.len()).unwrap() + 1;
    let bounds = |clear: bool| -> Vec<([Part; 2], i64)> {
        let ways = ways(layout, size, clear, most).into_iter();
        let with_bound = |way: [Part; 2]| {
            let bound = way.iter().map(Part::bound).sum();
            (way, bound)
        };
        ways.map(with_bound).collect()
    };
    let has_less =
        |ways: &[([Part; 2], i64)]| ways.iter().any(|(_, bound)| *bound < sheets);
    if !has_less(&bounds(false)) {
        return FEWEST;
    }
    let clear = bounds(true);
    if !has_less(&clear) {
        return CLEAR;
    }
    let could = |[wide, tall]: &[Part; 2]| {
        (0..sheets).any(|n| wide.could_do(n) && tall.could_do(sheets - 1 - n))
    };
    let mut less = clear.iter().filter(|(_, bound)| *bound < sheets);
    if less.any(|(way, _)| could(way)) { NOT_KNOWN } else { NO_WAY }
}

#[test]
fn no_job_takes_more_sheets_than_it_must() {
    let papers = [("a4", (210, 297)), ("a3", (297, 420)), ("200x280mm", (200, 280))];
    let heading = Heading::default();
    let mut random = Random::new(20);
    let mut why: BTreeMap<&str, usize> = BTreeMap::new();
    for case in 0..1_000 {
        let layout = job(&mut random);
        let (name, size) = papers[case % papers.len()];
        let paper = Paper::parse(name).unwrap();
        let set = paginate(&Request::new(&layout, &heading, &paper)).unwrap();
        let cut = marks_in_joins(&layout, &set);
        assert_eq!(cut, set.findings.len(), "case {case}: {:?}", set.findings);
        if cut > 0 {
            let is_clear = |piece: usize| {
                let piece = part(&layout, |i| i == piece);
                let clear = |kind: &Kind| tiles(&piece, kind.room.0, true).is_some();
                kinds(size).iter().any(clear)
            };
            let pieces = layout.pieces.len();
            assert!(!(0..pieces).all(is_clear), "case {case}: {:?}", set.joins);
            *why.entry(NOTHING).or_default() += 1;
            continue;
        }
        assert_has_room(&layout, &set, size, &format!("case {case}"));
        *why.entry(reason(&layout, size, &set)).or_default() += 1;
    }
    println!("{why:?}");
    let count = |reason: &str| why.get(reason).copied().unwrap_or(0);
    assert!(count(FEWEST) > 800 && count(NO_WAY) > 100, "{why:?}");
    assert!((1..20).contains(&count(CLEAR)) && (1..20).contains(&count(NOTHING)));
    // One short tile of a piece is tried beside others, not several.
    assert!(count(NOT_KNOWN) <= 10, "{why:?}");
}

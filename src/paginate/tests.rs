//! Laws that hold for every sheet set.

use super::*;
use crate::geom::{Bend, Extent, Length, Path, Point, Ratio, Strap};
use crate::job::{FeatureId, PieceId};
use crate::layout::{Layout, Mark, MarkKind, MarkRole, Piece, PieceCopy, Shape};
use crate::words::Name;
use std::collections::BTreeMap;

pub(super) fn um(n: i64) -> Length {
    Length::from_um(n)
}

fn mark(kind: MarkKind, shape: Shape, x: Length, role: MarkRole) -> Mark {
    let at = Point::new(x, Length::ZERO);
    Mark { feature: FeatureId(0), role, kind, shape, at, size: None, span: None }
}

/// A belt as the demo job makes it, `longer` by some length.
pub(super) fn belt(width: Length, longer: Length) -> Layout {
    let (from, to, half) = (um(-90_000), um(1_020_000) + longer, width / 2);
    let at = |x, y| Point::<Strap>::new(x, y);
    let outline = Path::from(at(from, -half))
        .line_to(at(to - half, -half))
        .arc_to(at(to - half, half), at(to - half, Length::ZERO), false)
        .line_to(at(from, half))
        .close();
    let round = |d| Shape::Round { diameter: um(d) };
    let slot = Shape::Slot { length: um(25_000), width: um(5_000) };
    let mut marks = vec![
        mark(MarkKind::End, Shape::Across, from, MarkRole::End),
        mark(MarkKind::Fastener, round(3_200), um(-72_000), MarkRole::Fastener { n: 2 }),
        mark(MarkKind::Target, round(3_200), um(-50_000), MarkRole::Only),
        mark(MarkKind::Fastener, round(3_200), um(-35_000), MarkRole::Fastener { n: 1 }),
        mark(MarkKind::Slot, slot, Length::ZERO, MarkRole::Slot),
        mark(MarkKind::Bend, Shape::Across, Length::ZERO, MarkRole::Bend),
        mark(MarkKind::Fastener, round(3_200), um(35_000), MarkRole::Fastener { n: 1 }),
        mark(MarkKind::Fastener, round(3_200), um(72_000), MarkRole::Fastener { n: 2 }),
    ];
    for n in 1..=7 {
        let x = um(790_000) + Length::from_inches(i64::from(n) - 1) + longer;
        marks.push(mark(MarkKind::Hole, round(4_500), x, MarkRole::Hole { n }));
    }
    marks.push(mark(MarkKind::Tip, Shape::Point, to, MarkRole::Tip));
    let bend = Bend::new(um(5_000), um(3_500), Ratio::HALF);
    let extent = Extent { from, to };
    Layout {
        pieces: vec![Piece {
            id: PieceId::STRAP,
            copy: PieceCopy::SINGLE,
            name: Name::built_in("strap"),
            width,
            thickness: um(3_500),
            extent,
            outline,
            marks,
            on_blank: Vec::new(),
            bend: Some(bend),
            folds: Vec::new(),
            width_changes: Vec::new(),
            guides: Vec::new(),
        }],
        features: vec![Name::given("f")],
    }
}

pub(super) fn demo() -> Layout {
    belt(um(38_100), Length::ZERO)
}

fn print(layout: &Layout, paper: &str) -> SheetSet {
    let heading = Heading {
        title: "Belt 38 mm".into(),
        wearer: "A. Example".into(),
        ..Heading::default()
    };
    paginate(&Request::new(layout, &heading, &Paper::parse(paper).unwrap())).unwrap()
}

pub(super) const PAPERS: [&str; 9] = [
    "a4",
    "a3",
    "letter",
    "tabloid",
    "legal",
    "roll",
    "roll-297mm",
    "100x150mm",
    "12 x 18 in",
];

#[test]
fn a_belt_takes_two_small_sheets() {
    assert_eq!(print(&demo(), "a4").sheets.len(), 2);
    assert_eq!(print(&demo(), "letter").sheets.len(), 2);
    assert_eq!(print(&demo(), "a3").sheets.len(), 1);
    let roll = print(&demo(), "roll");
    assert_eq!((roll.sheets.len(), roll.joins.len()), (1, 0));
}

#[test]
fn every_mark_is_whole_and_the_strap_is_all_there() {
    for paper in PAPERS {
        for (width, longer) in [(38_100, 0), (20_000, 37_123), (30_000, 900_001)] {
            let layout = belt(um(width), um(longer));
            let set = print(&layout, paper);
            let piece = &layout.pieces[0];
            let tiles: Vec<&Tile> = set.sheets.iter().flat_map(|s| &s.tiles).collect();
            for mark in &piece.marks {
                let holds = |t: &&&Tile| t.stretch.holds(mark.x_extent());
                assert!(tiles.iter().any(|t| holds(&t)), "{paper}: {mark:?}");
            }
            assert!(tiles[0].stretch.from < piece.extent.from, "{paper}");
            assert!(tiles[tiles.len() - 1].stretch.to > piece.extent.to, "{paper}");
            for pair in tiles.windows(2) {
                let shared = pair[0].stretch.to - pair[1].stretch.from;
                assert!(shared >= um(16_000), "{paper}: {shared}");
            }
        }
    }
}

#[test]
fn match_lines_keep_off_marks() {
    for paper in ["a4", "letter", "a3", "legal"] {
        let layout = demo();
        for (_, line) in print(&layout, paper).joins {
            let kept = Extent { from: line, to: line }.grown(um(10_000));
            for mark in &layout.pieces[0].marks {
                assert!(!mark.x_extent().overlaps(kept), "{paper}: {line} {mark:?}");
            }
        }
    }
}

#[test]
fn every_cross_is_on_the_two_ends_that_it_joins() {
    for paper in PAPERS {
        let set = print(&demo(), paper);
        let mut places: BTreeMap<String, Vec<Point<Strap>>> = BTreeMap::new();
        for tile in set.sheets.iter().flat_map(|s| &s.tiles) {
            for cross in &tile.crosses {
                assert_eq!(tile.placement.apply(cross.on_strap), cross.at);
                places.entry(cross.label.clone()).or_default().push(cross.on_strap);
            }
        }
        assert_eq!(places.len(), set.joins.len() * 2, "{paper}");
        for (label, at) in places {
            assert!(at.len() == 2 && at[0] == at[1], "{paper} {label}: {at:?}");
        }
    }
}

#[test]
fn all_ink_is_within_the_margins() {
    for paper in PAPERS {
        for sheet in print(&demo(), paper).sheets {
            ink_keeps_off_the_edges(&sheet, [um(10_000), um(10_000)], paper);
        }
    }
}

/// All ink stays `side` away from the left and the right, and `top` from top and bottom.
pub(super) fn ink_keeps_off_the_edges(
    sheet: &Sheet,
    [side, top]: [Length; 2],
    paper: &str,
) {
    let within = area::Area::new(
        Extent { from: side, to: sheet.width - side },
        Extent { from: top, to: sheet.height - top },
    );
    let on =
        |p: Point<crate::geom::Sheet>| within.holds(area::Area::around(p, Length::ZERO));
    for item in &sheet.items {
        match item {
            Item::Stroke { paths, .. } | Item::Fill { paths, .. } => {
                for path in paths {
                    assert!(on(path.start), "{paper}: {path:?}");
                    assert!(path.steps.iter().all(|s| on(s.to())), "{path:?}");
                }
            }
            Item::TickRows { tick_rows, .. } => {
                for row in tick_rows {
                    assert!(row.corners().into_iter().all(on), "{paper}: {row:?}");
                }
            }
            Item::Text { at, anchor, turn, size, text, .. } => {
                let mut item = canvas::TextItem::new(*at, *anchor, *size, text);
                item.turn = *turn;
                assert!(within.holds(item.area()), "{paper}: {text}");
            }
        }
    }
}

#[test]
fn scale_bars_are_long_and_whole() {
    for paper in ["a4", "letter"] {
        for sheet in print(&demo(), paper).sheets {
            let lengths: Vec<Length> =
                sheet.bars.iter().map(|b| (b.to - b.from).norm()).collect();
            let least = if sheet.width > sheet.height { [200, 150] } else { [150, 200] };
            for (length, least) in lengths.iter().zip(least) {
                assert!(*length >= Length::from_mm(least), "{paper}: {length}");
                assert_eq!(length.nm() % 10_000_000, 0, "{paper}: {length}");
            }
        }
    }
}

#[test]
fn every_ring_has_its_label() {
    let set = print(&demo(), "a4");
    let texts: Vec<&str> = set
        .sheets
        .iter()
        .flat_map(|s| &s.items)
        .filter_map(|i| match i {
            Item::Text { text, .. } => Some(text.as_str()),
            _ => None,
        })
        .collect();
    for name in ["P2", "P1", "f on blank", "slot", "bend", "end", "tip"] {
        assert!(texts.contains(&name), "{name}");
    }
    for n in 1..=7 {
        assert!(texts.contains(&n.to_string().as_str()), "{n}");
    }
}

#[test]
fn the_fingerprint_follows_what_is_drawn() {
    let set = print(&demo(), "a4");
    assert_eq!(set, print(&demo(), "A4"), "two runs, one print");
    assert_eq!(set.fingerprint.len(), 9);
    let mut other = demo();
    other.pieces[0].marks[8].at.x += Length::from_nm(1);
    assert_ne!(set.fingerprint, print(&other, "a4").fingerprint);
    assert_ne!(set.fingerprint, print(&demo(), "letter").fingerprint);
}

/// Whether the two are interchangeable, whatever their headers say.
fn are_interchangeable(a: &Sheet, b: &Sheet) -> bool {
    let below = |s: &Sheet| s.items[s.head..].to_vec();
    (a.width, a.height) == (b.width, b.height)
        && a.tiles == b.tiles
        && a.bars == b.bars
        && below(a) == below(b)
}

#[test]
fn another_size_keeps_its_joins_and_first_sheet() {
    let heading = Heading::default();
    for paper in ["a4", "letter"] {
        let paper = Paper::parse(paper).unwrap();
        let sizes: Vec<Layout> =
            (0..6).map(|i| belt(um(38_100), Length::from_inches(i))).collect();
        for old in &sizes {
            let old = paginate(&Request::new(old, &heading, &paper)).unwrap();
            for new in &sizes {
                let plain = Request::new(new, &heading, &paper);
                let fresh = paginate(&plain).unwrap();
                let kept = paginate(&plain.reusing(&old)).unwrap();
                assert_eq!(kept.sheets.len(), fresh.sheets.len());
                assert!(kept.findings.is_empty());
                // Nothing but the last holes has moved, by 5 in at most.
                let same = old.joins.iter().zip(&kept.joins).take_while(|(a, b)| a == b);
                assert!(same.count() >= 2, "{:?} {:?}", old.joins, kept.joins);
                assert!(are_interchangeable(&old.sheets[0], &kept.sheets[0]));
            }
        }
    }
}

#[test]
fn a_refusal_says_what_would_do() {
    let heading = Heading::default();
    let a4 = Paper::parse("a4").unwrap();
    let says = |layout: &Layout| {
        let Err(error) = paginate(&Request::new(layout, &heading, &a4)) else {
            panic!("it fits");
        };
        error.to_string()
    };
    let long = says(&belt(um(38_100), Length::from_mm(300_000_000)));
    assert!(long.contains("choose a larger paper"), "{long}");
}

//! Laws of pieces that are wider than a sheet, of seams, and of several pieces.

use super::*;
use crate::diagnostic::Severity;
use crate::geom::{Extent, Length, Path, Point};
use crate::job::{FeatureId, PieceId};
use crate::layout::{Layout, Mark, MarkKind, MarkRole, Piece, PieceCopy, Shape};
use crate::paginate::rule;
use crate::words::{Name, Wording};
use std::collections::BTreeMap;

fn mm(n: i64) -> Length {
    Length::from_mm(n)
}

const HOLES: FeatureId = FeatureId(0);
const EDGE_STITCH: FeatureId = FeatureId(1);

fn hole(x: i64, y: i64, um: i64, feature: FeatureId) -> Mark {
    Mark {
        feature,
        role: MarkRole::Hole { n: u32::try_from(x).unwrap() },
        size: None,
        kind: MarkKind::Hole,
        shape: Shape::Round { diameter: Length::from_um(um) },
        at: Point::new(mm(x), mm(y)),
        span: None,
    }
}

fn piece(length: i64, width: i64, mut marks: Vec<Mark>) -> Piece {
    let half = mm(width) / 2;
    marks.sort_by_key(|m| m.at);
    Piece {
        id: PieceId::STRAP,
        copy: PieceCopy::SINGLE,
        name: Name::given("pad"),
        width: mm(width),
        extent: Extent { from: mm(0), to: mm(length) },
        outline: Path::rectangle(Point::new(mm(0), -half), Point::new(mm(length), half)),
        marks,
        on_blank: Vec::new(),
        bend: None,
        thickness: mm(3),
        folds: Vec::new(),
        width_changes: Vec::new(),
        guides: Vec::new(),
    }
}

fn laid(pieces: Vec<Piece>) -> Layout {
    let features = ["holes", "edge-stitch"].map(Name::given).to_vec();
    Layout { pieces, features }
}

fn print(pieces: Vec<Piece>, paper: &str) -> (Layout, SheetSet) {
    let layout = laid(pieces);
    let heading = Heading::default();
    let paper = Paper::parse(paper).unwrap();
    let set = paginate(&Request::new(&layout, &heading, &paper)).unwrap();
    (layout, set)
}

fn tiles(set: &SheetSet) -> impl Iterator<Item = &Tile> {
    set.sheets.iter().flat_map(|s| &s.tiles)
}

/// A 300 mm apron with holes all over, and one that is wide by a hair.
fn wide() -> Vec<(&'static str, Piece)> {
    let holes = |step_x: i64, step_y: i64, to: i64, half: i64| -> Vec<Mark> {
        let rows = (-half..=half).step_by(usize::try_from(step_y).unwrap());
        let at =
            |y| (15..to).step_by(usize::try_from(step_x).unwrap()).map(move |x| (x, y));
        rows.flat_map(at).map(|(x, y)| hole(x, y, 5_000, HOLES)).collect()
    };
    vec![
        ("a4", piece(380, 300, holes(85, 42, 380, 126))),
        ("letter", piece(900, 420, holes(110, 60, 880, 180))),
        ("100x150mm", piece(250, 100, holes(50, 27, 240, 27))),
        ("a4", piece(120, 260, holes(40, 50, 110, 100))),
    ]
}

#[test]
fn a_wide_piece_is_all_there_and_nothing_is_cut() {
    for (paper, piece) in wide() {
        let (layout, set) = print(vec![piece], paper);
        assert!(!set.lengthwise_joins.is_empty(), "{paper}");
        assert!(set.findings.is_empty(), "{paper}: {:?}", set.findings);
        let piece = &layout.pieces[0];
        for mark in &piece.marks {
            assert!(tiles(&set).any(|t| t.holds(mark)), "{paper}: {mark:?}");
        }
        // Every place of the piece, a little beyond its edges too, is on some tile.
        let steps = |from: Length, to: Length| {
            let n = (to - from).nm() / 7_000_000;
            (0..=n).map(move |i| from + mm(7) * i).chain([to])
        };
        for x in steps(piece.extent.from - mm(3), piece.extent.to + mm(3)) {
            for y in steps(-(piece.width / 2 + mm(4)), piece.width / 2 + mm(4)) {
                let at = |e: Extent, c| e.has(c);
                let there = |t: &Tile| at(t.stretch, x) && at(t.across, y);
                assert!(tiles(&set).any(there), "{paper}: {x} {y}");
            }
        }
    }
}

#[test]
fn every_edge_has_two_crosses_which_its_neighbour_has_too() {
    for (paper, piece) in wide() {
        let (layout, set) = print(vec![piece], paper);
        let piece = &layout.pieces[0];
        let mut places: BTreeMap<String, Vec<Point<crate::geom::Strap>>> =
            BTreeMap::new();
        for tile in tiles(&set) {
            for cross in &tile.crosses {
                assert_eq!(tile.placement.apply(cross.on_strap), cross.at);
                places.entry(cross.label.clone()).or_default().push(cross.on_strap);
            }
            let inner = |e: Extent, whole: Extent| {
                usize::from(e.from > whole.from) + usize::from(e.to < whole.to)
            };
            let edges = inner(tile.stretch, piece.extent)
                + inner(tile.across, Extent::new(-(piece.width / 2), piece.width / 2));
            assert_eq!(tile.crosses.len(), 2 * edges, "{paper}: {tile:?}");
        }
        let (columns, bands) = (set.joins.len() + 1, set.lengthwise_joins.len() + 1);
        let joins = set.joins.len() * bands + set.lengthwise_joins.len() * columns;
        assert_eq!(places.len(), 2 * joins, "{paper}");
        for (label, at) in &places {
            assert!(at.len() == 2 && at[0] == at[1], "{paper} {label}: {at:?}");
            let is_on = set.joins.iter().any(|(_, x)| at[0].x == *x)
                || set.lengthwise_joins.iter().any(|(_, y)| at[0].y == *y);
            assert!(is_on, "{paper} {label} is on no match line");
        }
    }
}

#[test]
fn all_ink_of_a_wide_piece_is_within_the_margins() {
    for (paper, piece) in wide() {
        for sheet in print(vec![piece], paper).1.sheets {
            let (x, y) = (sheet.width - mm(10), sheet.height - mm(10));
            let within = |p: Point<crate::geom::Sheet>| {
                mm(10) <= p.x && p.x <= x && mm(10) <= p.y && p.y <= y
            };
            for item in &sheet.items {
                if let Item::TickRows { tick_rows, .. } = item {
                    for row in tick_rows {
                        assert!(row.corners().into_iter().all(within), "{row:?}");
                    }
                }
                if let Item::Stroke { paths, .. } = item {
                    for path in paths {
                        let all = path.segments().iter().all(|s| within(s.step.to()));
                        assert!(all && within(path.start), "{paper}: {path:?}");
                    }
                }
            }
        }
    }
}

#[test]
fn a_seam_is_joined_and_said_but_holes_are_kept_out() {
    let mut marks: Vec<Mark> =
        (0..250).map(|i| hole(5 + 4 * i, 12, 1_000, EDGE_STITCH)).collect();
    marks.extend((0..9).map(|i| hole(100 + 100 * i, 0, 5_000, HOLES)));
    let (_, set) = print(vec![piece(1_010, 40, marks)], "a4");
    assert!(!set.joins.is_empty());
    let [finding] = set.findings.as_slice() else { panic!("{:?}", set.findings) };
    assert_eq!((finding.rule, finding.severity), (rule::MARK_IN_JOIN, Severity::Note));
    assert!(finding.message.contains("`edge-stitch` runs through joins 1 + 2, 2 + 3"));
    // 20 mm of a seam of pitch 4 mm have five holes, and the line goes between two.
    let five = format!("{} holes", 5 * set.joins.len());
    assert!(finding.found.starts_with(&five), "{}", finding.found);
    for (_, x) in &set.joins {
        let away = (x.nm() - 5_000_000).rem_euclid(4_000_000);
        assert!((500_000..=3_500_000).contains(&away), "{x} is under a hole");
    }
}

#[test]
fn a_hole_that_cannot_be_kept_out_is_named() {
    let marks: Vec<Mark> = (0..62).map(|i| hole(10 + 16 * i, 0, 6_000, HOLES)).collect();
    let (layout, set) = print(vec![piece(1_000, 40, marks)], "a4");
    for mark in &layout.pieces[0].marks {
        assert!(tiles(&set).any(|t| t.holds(mark)), "{mark:?}");
    }
    // 20 mm and the 6 mm of a hole, of 16: one hole at least, and the best place has one.
    assert_eq!(set.findings.len(), set.joins.len(), "{:?}", set.findings);
    for (i, finding) in set.findings.iter().enumerate() {
        assert_eq!(finding.severity, Severity::Warning);
        let is_named = layout.pieces[0].marks.iter().any(|mark| {
            let label = layout.label(mark, Wording::default());
            finding.message.starts_with(&format!("`holes` {label} lies"))
        });
        assert!(
            is_named
                && finding.message.ends_with(&format!("in join {} + {}", i + 1, i + 2))
        );
    }
}

#[test]
fn several_pieces_share_their_sheets() {
    let short = |length, width| piece(length, width, vec![hole(10, 0, 3_000, HOLES)]);
    let pieces = vec![short(1_000, 38), short(106, 20), short(90, 16), short(140, 38)];
    let (_, set) = print(pieces, "a4");
    assert_eq!(set.sheets.len(), 2);
    for sheet in &set.sheets {
        for (i, a) in sheet.tiles.iter().enumerate() {
            for b in &sheet.tiles[i + 1..] {
                let on = |t: &Tile| {
                    let low =
                        t.placement.apply(Point::new(t.stretch.from, t.across.from));
                    let high = t.placement.apply(Point::new(t.stretch.to, t.across.to));
                    area::Area::new(
                        Extent { from: low.x, to: high.x },
                        Extent { from: low.y, to: high.y },
                    )
                };
                assert!(!on(a).overlaps(on(b)), "sheet {}: {a:?} {b:?}", sheet.number);
            }
        }
    }
}

#[test]
fn a_strap_of_a_kilometre_is_refused_and_one_of_twenty_metres_is_not() {
    let heading = Heading::default();
    let paper = Paper::parse("a4").unwrap();
    let layout = laid(vec![piece(1_000_000, 38, Vec::new())]);
    let Err(error) = paginate(&Request::new(&layout, &heading, &paper)) else {
        panic!("a kilometre of paper");
    };
    let PaginateError::TooManySheets { sheets, most, .. } = error else {
        panic!("{error}");
    };
    // 1 km of tiles of 46 mm on sheets of 268 by 163.4 mm: more than 1 050.
    assert!(sheets > 1_050 && most < sheets, "{sheets} of {most}");
    let (_, set) = print(vec![piece(20_000, 38, Vec::new())], "a4");
    assert!(set.sheets.len() >= 21, "{}", set.sheets.len());
}

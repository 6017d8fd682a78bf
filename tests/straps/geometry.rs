//! The geometry of every template and of what can be placed on a piece.

use crate::common::straps::{BARE, all, clean, close, of, piece, strap};
use crate::common::{belt, mm, printed, run, spot};
use std::f64::consts::PI;
use strapwright::export::marks_csv;
use strapwright::export::pdf::pdf;
use strapwright::geom::{Length, Path, Point, Segment, Step, Strap};
use strapwright::layout::{GuideShape, Layout, Mark, MarkKind, MarkRole, Piece, Shape};
use strapwright::paginate::{Heading, Paper, Request, paginate};
use strapwright::ticket::{Kind, hardware};

/// From a spot to the nearest place of an outline, in mm.
fn to_outline((x, y): (f64, f64), outline: &[Segment<Strap>]) -> f64 {
    let one = |s: &Segment<Strap>| {
        let ((ax, ay), (bx, by)) = (spot(s.from), spot(s.step.to()));
        let ends = libm::hypot(x - ax, y - ay).min(libm::hypot(x - bx, y - by));
        match s.step {
            Step::Line { .. } => {
                let (dx, dy) = (bx - ax, by - ay);
                let t = ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy);
                let t = t.clamp(0.0, 1.0);
                libm::hypot(x - ax - t * dx, y - ay - t * dy)
            }
            Step::Arc { centre, clockwise, .. } => {
                let (cx, cy) = spot(centre);
                let angle = |px: f64, py: f64| libm::atan2(py - cy, px - cx);
                let sign = if clockwise { -1.0 } else { 1.0 };
                let from = |px, py| {
                    (sign * (angle(px, py) - angle(ax, ay))).rem_euclid(2.0 * PI)
                };
                let radius = libm::hypot(ax - cx, ay - cy);
                let on = from(x, y) <= from(bx, by);
                let off = (libm::hypot(x - cx, y - cy) - radius).abs();
                if on { off.min(ends) } else { ends }
            }
        }
    };
    outline.iter().map(one).fold(f64::INFINITY, f64::min)
}

/// Whether a spot lies within an outline: the outline winds once about it.
fn is_within((x, y): (f64, f64), outline: &Path<Strap>) -> bool {
    let mut turned = 0.0;
    for segment in outline.segments() {
        for i in 0..32 {
            let (a, b) = (spot(segment.part(i, 32)), spot(segment.part(i + 1, 32)));
            let (a, b) = (libm::atan2(a.1 - y, a.0 - x), libm::atan2(b.1 - y, b.0 - x));
            turned += (b - a + PI).rem_euclid(2.0 * PI) - PI;
        }
    }
    turned.abs() > PI
}

#[test]
fn every_outline_is_closed_clockwise_and_of_true_arcs() {
    for (template, run) in all() {
        for piece in &clean(&run).pieces {
            let name = format!("{} {}", template.name, piece.name);
            assert!(piece.outline.closed, "{name}");
            let mut area = 0.0;
            for segment in piece.outline.segments() {
                let ((ax, ay), (bx, by)) = (spot(segment.from), spot(segment.step.to()));
                area += ax * by - bx * ay;
                if let Step::Arc { to, centre, .. } = segment.step {
                    let (a, b) = ((segment.from - centre).norm(), (to - centre).norm());
                    assert!((a - b).abs() <= Length::from_nm(4), "{name}: {a} {b}");
                }
            }
            assert!(area < 0.0, "{name}: the inside lies on the right");
            let widest = piece.outline.segments().iter().map(|s| s.from.y).max().unwrap();
            assert_eq!(widest * 2, piece.width, "{name}");
        }
    }
}

#[test]
fn every_mark_lies_within_its_outline() {
    let mut marks = 0;
    for (template, run) in all() {
        for piece in &clean(&run).pieces {
            let outline = piece.outline.segments();
            for mark in piece.marks.iter().filter(|m| m.path().is_some()) {
                let name = format!("{} {}: {mark:?}", template.name, piece.name);
                assert!(is_within(spot(mark.at), &piece.outline), "{name}");
                let reach = mark.x_extent().length().max(mark.y_extent().length());
                let round = matches!(mark.shape, Shape::Round { .. });
                let clear = to_outline(spot(mark.at), &outline);
                assert!(!round || clear > mm(reach) / 2.0, "{name}: {clear}");
                marks += 1;
            }
        }
    }
    assert!(marks > 400, "{marks}");
}

#[test]
fn stitches_are_even_and_corners_have_one() {
    let job = format!(
        "{BARE}end.shape = \"rounded-corners\"\n[seam]\nkind = \"stitch\"\nalong = \"outline\"\n\
         inset = \"3 mm\"\npitch = \"4 mm\"\ndiameter = \"1 mm\"\n"
    );
    let run = run(&job, &[]);
    let piece = &clean(&run).pieces[0];
    let outline = piece.outline.segments();
    let spots: Vec<(f64, f64)> = piece
        .marks
        .iter()
        .filter(|m| m.kind == MarkKind::Stitch)
        .map(|m| spot(m.at))
        .collect();
    // Along the start 24 mm; along the rest 2 (292.5 - 3) mm, half a turn of 4.5 mm radius
    // and 15 mm: 608.137 mm, 152 stitches.
    assert_eq!(spots.len(), 6 + 152);
    for corner in [(3.0, -12.0), (3.0, 12.0)] {
        let there = |s: &&(f64, f64)| close(s.0, corner.0) && close(s.1, corner.1);
        assert_eq!(spots.iter().filter(there).count(), 1, "{corner:?}");
    }
    let pitch = (2.0 * 289.5 + PI * 4.5 + 15.0) / 152.0;
    for s in &spots {
        let off = to_outline(*s, &outline);
        assert!((off - 3.0).abs() < 1e-5, "{s:?} is {off} from the edge");
        let mut near: Vec<f64> = spots
            .iter()
            .map(|o| libm::hypot(o.0 - s.0, o.1 - s.1))
            .filter(|d| *d > 0.0)
            .collect();
        near.sort_by(f64::total_cmp);
        // On the rounded corners a chord is a little shorter than its arc.
        assert!(
            near[0] > 0.95 * pitch && near[1] < 1.01 * pitch.max(4.0),
            "{s:?}: {near:?}"
        );
    }
    let upper: Vec<f64> =
        spots.iter().filter(|s| close(s.1, 12.0)).map(|s| s.0).collect();
    assert!(upper.len() > 70);
    for pair in upper.windows(2) {
        assert!(close(pair[1] - pair[0], pitch), "{pair:?}, not {pitch} apart");
    }
}

#[test]
fn a_box_of_stitches_goes_through_both_layers() {
    let lead = strap("lead", &[]);
    let layout = clean(&lead);
    let strap = &layout.pieces[0];
    let bend = strap.folds[1].at;
    let stitches = of(layout, strap, "loop-stitch", MarkKind::Stitch);
    let places: Vec<_> = stitches.iter().map(|m| (m.at.x, m.at.y)).collect();
    assert_eq!(places.len() % 2, 0);
    for (x, y) in &places {
        assert!(places.contains(&(bend * 2 - *x, *y)), "{x} has no other");
    }
}

#[test]
fn mirrored_copies_mirror_and_linings_keep_their_distance() {
    let job = format!(
        "{BARE}[side]\nkind = \"piece\"\nlength = \"120 mm\"\nmirrored = true\n\
         [side-hole]\nkind = \"row\"\non = \"side\"\nfrom = \"side.start\"\nby = \"30 mm\"\n\
         count = 2\npitch = \"20 mm\"\ndiameter = \"4 mm\"\nacross = \"5 mm\"\n\
         [side-end]\nkind = \"tip\"\non = \"side\"\nfrom = \"side.end\"\nby = \"0 mm\"\n\
         shape = \"english-point\"\n\
         [lining]\nkind = \"lining\"\nof = \"side\"\ninset = \"2 mm\"\n"
    );
    let run = run(&job, &[]);
    let layout = clean(&run);
    let names: Vec<String> = layout.pieces.iter().map(Piece::key).collect();
    assert_eq!(names, ["strap", "side-1", "side-2-mirrored", "lining"]);
    let (one, other) = (piece(layout, "side-1"), piece(layout, "side-2-mirrored"));
    for (a, b) in of(layout, one, "side-hole", MarkKind::Hole).iter().zip(of(
        layout,
        other,
        "side-hole",
        MarkKind::Hole,
    )) {
        assert_eq!((a.at.x, a.at.y), (b.at.x, -b.at.y));
        assert_eq!(a.at.y, Length::from_mm(5));
    }
    let outline = one.outline.segments();
    let lining = piece(layout, "lining");
    assert_eq!(lining.width, one.width - Length::from_mm(4));
    for segment in lining.outline.segments() {
        for i in 0..=8 {
            let off = to_outline(spot(segment.part(i, 8)), &outline);
            assert!((off - 2.0).abs() < 2e-5, "{off}");
        }
    }
}

#[test]
fn creases_words_and_boxes_are_drawn_and_not_punched() {
    let job = format!(
        "{BARE}[line]\nkind = \"crease\"\nalong = \"edges\"\ninset = \"3 mm\"\n\
         from = \"strap.zero\"\nby = \"40 mm\"\nto = \"end.end\"\nto-by = \"-60 mm\"\n\
         [words]\nkind = \"text\"\ntext = \"this end up\"\nfrom = \"strap.zero\"\nby = \"90 mm\"\n\
         [mark]\nkind = \"stamp\"\ntext = \"LSP\"\nlength = \"20 mm\"\nwidth = \"10 mm\"\n\
         from = \"strap.zero\"\nby = \"150 mm\"\n"
    );
    let run = run(&job, &[]);
    let layout = clean(&run);
    let drawn = &layout.pieces[0].guides;
    let creases: Vec<&Path<Strap>> = drawn
        .iter()
        .filter_map(|d| match &d.shape {
            GuideShape::Crease(path) => Some(path),
            _ => None,
        })
        .collect();
    assert_eq!((drawn.len(), creases.len()), (4, 2), "two edges, a text, a box");
    for crease in creases {
        let (a, b) = (crease.start, crease.end());
        let ends = [a.x.min(b.x), a.x.max(b.x)];
        assert_eq!(ends, [40, 240].map(Length::from_mm));
        assert_eq!(a.y.abs(), Length::from_mm(12));
    }
    let table = marks_csv::marks(layout);
    assert_eq!(table.lines().count(), 3, "a header, the start and the end: {table}");
    let (job, fit, _) = run.laid.as_ref().unwrap();
    let heading = Heading::new(job, fit.as_ref(), layout);
    let a4 = Paper::parse("a4").unwrap();
    let name = |layout: &Layout| {
        paginate(&Request::new(layout, &heading, &a4)).unwrap().fingerprint
    };
    for i in 0..drawn.len() {
        let mut less = layout.clone();
        less.pieces[0].guides.remove(i);
        assert_ne!(name(&less), name(layout), "the fingerprint covers what is drawn");
    }
}

#[test]
fn large_and_small_fittings_take_turns_with_equal_gaps() {
    let run = belt(
        "measure.value = \"44 in\"\nfittings.count = 5\nfittings.pattern = [\"large\", \"small\"]\n\
         fittings.spacing = \"gaps\"\n\
         [large]\ndiameter = \"3 mm\"\nface = \"30 mm\"\nholes-along = 2\nalong-apart = \"20 mm\"\n\
         holes-across = 2\nacross-apart = \"12 mm\"\n\
         [small]\ndiameter = \"3 mm\"\nface = \"12 mm\"\n",
    );
    let layout = clean(&run);
    let strap = &layout.pieces[0];
    let middle = |n: u32| {
        // The two of the pattern take turns, the large one first.
        let role = MarkRole::Fitting { n, of: (n as usize + 1) % 2 };
        let own: Vec<&Mark> = strap.marks.iter().filter(|m| m.role == role).collect();
        let x = |m: &&&Mark| m.at.x;
        let (from, to) =
            (own.iter().map(|m| x(&m)).min(), own.iter().map(|m| x(&m)).max());
        (own.len(), mm(from.unwrap() + to.unwrap()) / 2.0)
    };
    let counts: Vec<usize> = (1..=5).map(|n| middle(n).0).collect();
    assert_eq!(counts, [4, 1, 4, 1, 4]);
    let first = of(layout, strap, "size-holes", MarkKind::Hole)[0].at.x;
    // From the end of the turn-back to the first hole.
    let clear = (mm(first) - 76.2 - 3.0 * 30.0 - 2.0 * 12.0) / 6.0;
    let mut at = 76.2;
    for n in 1..=5 {
        let face = if n % 2 == 1 { 30.0 } else { 12.0 };
        let wanted = at + clear + face / 2.0;
        assert!(close(middle(n).1, wanted), "F{n}: {} not {wanted}", middle(n).1);
        at = wanted + face / 2.0;
    }
}

/// Computed by hand: the slot of the blank lies 78 mm from its cut end, so its holes lie at
/// their readings less 78 mm; the middle between the end of the turn-back (78 mm) and the first
/// hole is half their sum. Six fittings leave seven equal ways; the third and the fourth would
/// lie on a stamp of 120 mm there.
#[test]
fn a_blank_is_drawn_as_it_reads_flat() {
    let run = belt(
        "measure.value = \"34 in\"\nmeasure.taken = \"bend-to-hole\"\nblank.length = \"50 in\"\n\
         blank.punched = [\"turn-back\", \"old-holes\"]\n\
         turn-back.length = \"78 mm\"\n\
         turn-back.holes = [\"21 mm\", \"53.5 mm\", \"102 mm\", \"135 mm\"]\n\
         fittings.count = 6\nfittings.rows = 2\nfittings.rows-apart = \"16 mm\"\n\
         fittings.pattern = [\"large\", \"small\"]\nfittings.skip = \"crest\"\n\
         [large]\ndiameter = \"3.2 mm\"\nface = \"14 mm\"\n\
         [small]\ndiameter = \"3.2 mm\"\nface = \"8 mm\"\n\
         [old-holes]\nkind = \"row\"\nfrom = \"turn-back.end\"\ndiameter = \"5 mm\"\n\
         places = [\"700 mm\", \"1 m\", \"1.2 m\"]\n\
         [crest]\nkind = \"stamp\"\nbetween = [\"turn-back.end-over\", \"size-holes.first\"]\n\
         length = \"120 mm\"\nwidth = \"20 mm\"\ntext = \"\"\n",
    );
    let layout = clean(&run);
    let strap = &layout.pieces[0];
    let targets: Vec<f64> = (strap.marks.iter())
        .filter(|m| m.kind == MarkKind::Target)
        .map(|m| mm(m.at.x))
        .collect();
    // The hole at 1.2 m goes with the leather past the new tip.
    assert_eq!(targets, [-57.0, -24.5, 0.0, 24.0, 57.0, 622.0, 922.0]);
    let first = mm(of(layout, strap, "size-holes", MarkKind::Hole)[0].at.x);
    let crest = layout.pieces[0].guides.iter().find_map(|g| match g.shape {
        GuideShape::Box { at, .. } => Some(mm(at.x)),
        _ => None,
    });
    assert!(close(crest.unwrap(), f64::midpoint(78.0, first)), "{crest:?}");
    let fittings: Vec<&Mark> = of(layout, strap, "fittings", MarkKind::Fitting);
    let places: Vec<(f64, f64, usize)> = fittings
        .iter()
        .map(|m| match m.role {
            MarkRole::Fitting { of, .. } => (mm(m.at.x), mm(m.at.y), of),
            other => panic!("{other:?}"),
        })
        .collect();
    let way = (first - 78.0) / 7.0;
    let wanted = [(1, 0), (2, 1), (5, 0), (6, 1)].into_iter().flat_map(|(i, turn)| {
        let x = 78.0 + f64::from(i) * way;
        [(x, -8.0, turn), (x, 8.0, 1 - turn)]
    });
    for (is, must) in places.iter().zip(wanted) {
        assert!(
            close(is.0, must.0) && close(is.1, must.1) && is.2 == must.2,
            "{is:?} {must:?}"
        );
    }
    assert_eq!(places.len(), 8);
    let hardware = hardware(&run.laid.as_ref().unwrap().0, layout);
    let counts: Vec<usize> = hardware
        .iter()
        .filter(|(kind, _)| kind.kind == Kind::Fitting)
        .map(|(_, count)| *count)
        .collect();
    assert_eq!(counts, [4, 4], "large and small are counted apart");
}

#[test]
fn every_template_prints_with_every_hole_whole() {
    for (template, run) in all() {
        let layout = clean(&run);
        for paper in ["a4", "letter"] {
            let set = printed(run.laid.as_ref().unwrap(), paper);
            assert!(set.sheets.len() <= 5, "{}: {}", template.name, set.sheets.len());
            for (index, piece) in layout.pieces.iter().enumerate() {
                for mark in piece.marks.iter().filter(|m| m.path().is_some()) {
                    let tiles = set.sheets.iter().flat_map(|s| &s.tiles);
                    let whole = |t: &&strapwright::paginate::Tile| {
                        t.piece == index && t.stretch.holds(mark.x_extent())
                    };
                    assert!(
                        tiles.filter(whole).count() > 0,
                        "{}: {mark:?}",
                        template.name
                    );
                }
            }
            assert!(pdf(&set).unwrap().starts_with(b"%PDF-"));
        }
    }
}

#[test]
fn rows_say_what_they_are_for_and_end_where_they_should() {
    for (usage, kind) in [
        ("hole", MarkKind::Hole),
        ("eyelet", MarkKind::Eyelet),
        ("fastener", MarkKind::Fastener),
        ("slot", MarkKind::Slot),
    ] {
        let rows = format!(
            "{BARE}[a]\nkind = \"row\"\nfrom = \"strap.zero\"\nby = \"40 mm\"\ncount = 3\n\
             pitch = \"15 mm\"\nuse = \"{usage}\"\ndiameter = \"3 mm\"\nshape = \"oval\"\n\
             oval-length = \"6 mm\"\n\
             [b]\nkind = \"row\"\nfrom = \"a.last\"\nby = \"30 mm\"\nto = \"end.end\"\n\
             to-by = \"-50 mm\"\ncount = 4\ndiameter = \"3 mm\"\nacross = \"8 mm\"\n\
             [c]\nkind = \"row\"\nfrom = \"end.end\"\nby = \"-50 mm\"\nto = \"a.last\"\n\
             to-by = \"30 mm\"\npitch = \"50 mm\"\ndiameter = \"3 mm\"\nacross = \"-8 mm\"\n"
        );
        let run = run(&rows, &[]);
        let layout = clean(&run);
        let piece = &layout.pieces[0];
        let places = |name, kind| -> Vec<f64> {
            of(layout, piece, name, kind).iter().map(|m| mm(m.at.x)).collect()
        };
        assert_eq!(places("a", kind), [40.0, 55.0, 70.0]);
        assert_eq!(places("b", MarkKind::Hole), [100.0, 150.0, 200.0, 250.0]);
        assert_eq!(places("c", MarkKind::Hole), [100.0, 150.0, 200.0, 250.0]);
        assert!(
            of(layout, piece, "b", MarkKind::Hole)
                .iter()
                .all(|m| m.at.y == Length::from_mm(8))
        );
    }
}

/// A piece of the same form at both ends is the same when it is turned half round.
#[test]
fn both_ends_take_every_form() {
    for shape in
        ["english-point", "round", "spear", "bridle-point", "rounded-corners", "straight"]
    {
        let sets = [format!("start.shape={shape}"), format!("end.shape={shape}")];
        let run = run(BARE, &sets);
        let piece = &clean(&run).pieces[0];
        assert_eq!((mm(piece.extent.from), mm(piece.extent.to)), (0.0, 300.0), "{shape}");
        let turned = |p: Point<Strap>| Point::new(Length::from_mm(300) - p.x, -p.y);
        let corners = |turn: bool| {
            let starts = piece.outline.segments().into_iter().map(|s| s.from);
            let mut all: Vec<_> =
                starts.map(|p| if turn { turned(p) } else { p }).collect();
            all.sort_unstable();
            all
        };
        assert_eq!(corners(false), corners(true), "{shape}");
    }
}

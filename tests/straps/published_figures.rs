//! Layouts held against figures that others published, and against exact geometry. Each
//! check names its source.

use crate::common::{Run, belt};
use float_cmp::approx_eq;
use strapwright::export::marks_csv;
use strapwright::fit::Fit;
use strapwright::geom::{Bend, Length, Ratio};
use strapwright::layout::{Layout, Mark, MarkKind, MarkRole, Piece};

fn laid(run: &Run) -> (&Fit, &Piece, &Layout) {
    assert!(run.laid.is_some(), "{}", run.text());
    let (_, fit, layout) = run.laid.as_ref().expect("looked at above");
    (fit.as_ref().expect("a belt closes"), &layout.pieces[0], layout)
}

fn of(piece: &Piece, kind: MarkKind) -> Vec<&Mark> {
    piece.marks.iter().filter(|m| m.kind == kind).collect()
}

/// Exact geometry reaches the layout within 2 nm: every place is rounded once or twice.
fn close(a: Length, b: Length) -> bool {
    (a - b).abs() <= Length::from_nm(2)
}

fn clean(run: &Run) {
    assert!(run.findings.is_empty(), "{}", run.text());
    assert!(run.laid.is_some(), "nothing was laid out");
}

const SIZE_34: &str = r#"
measure.taken = "bend-to-hole"
measure.value = "34 in"
size-holes.inside = 1
size-holes.outside = 3
size-holes.pitch = "1 1/4 in"
tip.past-last-hole = "3 in"
"#;

/// Common practice, no source: a size is read from the bend to the hole in use.
#[test]
fn a_size_34_has_its_holes_where_a_tape_finds_them() {
    let run = belt(SIZE_34);
    clean(&run);
    let (_, piece, layout) = laid(&run);
    let quarters = [131, 136, 141, 146, 151]; // 32 3/4, 34, 35 1/4, 36 1/2, 37 3/4 in
    let inches = |q: i64| Length::from_inch_64ths(q * 16);
    let holes = of(piece, MarkKind::Hole);
    assert_eq!(holes.len(), quarters.len());
    for (hole, q) in holes.iter().zip(quarters) {
        let read = piece.from_bend(hole.at.x);
        assert!(close(read, inches(q)), "{:?}: {}", hole.role, read.both());
    }
    let tip = of(piece, MarkKind::Tip)[0];
    assert!(close(piece.from_bend(tip.at.x), inches(163)), "40 3/4 in to the point");

    let table = marks_csv::marks(layout);
    let mut read = Vec::new();
    for row in table.lines().skip(1) {
        let cells: Vec<&str> = row.split(',').collect();
        if cells[2] == "hole" || cells[2] == "tip" {
            read.push(cells[5].parse::<f64>().expect("millimetres"));
        }
    }
    let wanted = [831.85, 863.6, 895.35, 927.1, 958.85, 1035.05];
    assert_eq!(read.len(), wanted.len(), "{table}");
    for (mm, wanted) in read.iter().zip(wanted) {
        assert!(approx_eq!(f64, *mm, wanted, epsilon = 2e-6), "{mm} is not {wanted}");
    }
}

/// Common practice, no source: N fittings divide their span by N + 1.
#[test]
fn four_fittings_in_30_inches_stand_at_6_12_18_24() {
    let run = belt(
        "fittings.count = 4\nfittings.to = \"turn-back.end-over\"\nfittings.to-by = \"30 in\"\n\
         measure.value = \"44 in\"",
    );
    clean(&run);
    let (_, piece, _) = laid(&run);
    let start = Length::from_inches(3); // the turned-back end
    let places: Vec<Length> =
        of(piece, MarkKind::Fitting).iter().map(|m| m.at.x - start).collect();
    assert_eq!(places, [6, 12, 18, 24].map(Length::from_inches));
}

/// Computed: s = pi (D/2 + K t) for a half turn. K = 0.33 is the low end for sheet metal
/// (DIN 6935).
#[test]
fn a_bend_takes_what_its_neutral_line_takes() {
    for (bar, t_um, half, third) in [
        (3, 2_000, 7_854, 6_786),
        (4, 3_500, 11_781, 9_912),
        (5, 4_000, 14_137, 12_001),
        (6, 4_800, 16_965, 14_401),
    ] {
        for (k, um) in [(Ratio::HALF, half), (Ratio::from_millionths(330_000), third)] {
            let bend = Bend::new(Length::from_mm(bar), Length::from_um(t_um), k);
            let off = (bend.take_up - Length::from_um(um)).abs();
            assert!(off <= Length::from_um(1), "D {bar}, t {t_um} um, K {k}: {off} off");
        }
    }
}

/// Worked values of the trade in sheet metal, for 90 degrees: half of a half turn round a
/// bar of twice the inner radius.
#[test]
fn a_quarter_turn_is_half_a_bend() {
    for (radius, k, um) in [(3, 330_000, 5_750), (2, 325_000, 4_160)] {
        let k = Ratio::from_millionths(k);
        let bend = Bend::new(Length::from_mm(2 * radius), Length::from_mm(2), k);
        // The published values have two decimals.
        let off = (bend.take_up / 2 - Length::from_um(um)).abs();
        assert!(off <= Length::from_um(5), "R {radius}, K {k}: {}", bend.take_up / 2);
    }
}

/// Computed: one belt, read five ways, has its size hole in one place.
#[test]
fn all_ways_of_measuring_agree() {
    // D 4 mm, t 3.5 mm, reach 30 mm, frame 35 mm. With g the girth, a flat hole lies
    // g + pi t - 30 from the bar's centre (pi t = 10.995574 mm), 3.75 + 1.75 = 5.5 mm more
    // from the bend's outside and 35 mm more from the frame's far edge.
    let ways = [
        ("tape", "900 mm"),
        ("bar-to-hole", "880.995574 mm"),
        ("bend-to-hole", "886.495574 mm"),
        ("frame-to-hole", "915.995574 mm"),
        ("trousers", "835.695574 mm"), // 2 in less than the size (common practice)
    ];
    for (taken, value) in ways {
        let run =
            belt(&format!("measure.taken = \"{taken}\"\nmeasure.value = \"{value}\""));
        let (fit, piece, _) = laid(&run);
        let size = of(piece, MarkKind::Hole)[2];
        assert_eq!(size.role, MarkRole::SizeHole { n: 3, is_size: true });
        assert_eq!(size.at.x, fit.size_hole, "{taken}");
        // 880.995574 + s/2, s = pi 3.75 = 11.780972
        let x = Length::from_nm(880_995_574 + 5_890_486);
        assert!(
            (fit.size_hole - x).abs() <= Length::from_nm(3),
            "{taken}: {}",
            fit.size_hole
        );
        let girth = fit.girth_at(fit.size_hole);
        assert!(
            (girth - Length::from_mm(900)).abs() <= Length::from_nm(3),
            "{taken}: {girth}"
        );
        // One hole further out is one pitch more.
        let wider = fit.girth_at(of(piece, MarkKind::Hole)[3].at.x);
        assert_eq!(wider - girth, Length::from_inches(1), "{taken}");
    }
}

fn sizes_draw_clean(sizes: &[i64]) {
    for size in sizes {
        clean(&belt(&format!(
            "measure.taken = \"bend-to-hole\"\nmeasure.value = \"{size} in\""
        )));
    }
}

/// MIL-B-1462F (1988), 1.2: 28 to 46 in, every inch.
#[test]
fn every_size_of_mil_b_1462f_draws_without_a_finding() {
    let sizes: Vec<i64> = (28..=46).collect();
    assert_eq!(sizes.len(), 19);
    sizes_draw_clean(&sizes);
}

/// MIL-B-83475 (1976), 1.2: 24 to 48 in by 2.
#[test]
fn every_size_of_mil_b_83475_draws_without_a_finding() {
    let sizes: Vec<i64> = (24..=48).step_by(2).collect();
    assert_eq!(sizes.len(), 13);
    sizes_draw_clean(&sizes);
}

/// ANSUR II (US Army, 2012, public data), waist, percentiles 1, 5, 50, 95, 99.
#[test]
fn measured_waists_draw_without_a_finding() {
    let men = [725, 768, 937, 1131, 1214];
    let women = [665, 710, 852, 1040, 1115];
    for mm in men.into_iter().chain(women) {
        clean(&belt(&format!("measure.value = \"{mm} mm\"")));
    }
}

/// EN 13402-3, waist, middle of each letter's range, XS to XXL, men then women.
#[test]
fn letter_sizes_draw_without_a_finding() {
    let men = ["70", "78", "86", "94", "102", "111.5"];
    let women = ["62", "70", "78", "86.5", "97", "109"];
    for cm in men.into_iter().chain(women) {
        clean(&belt(&format!("measure.value = \"{cm} cm\"")));
    }
}

/// NIST SP 811, App. B: 1 in = 25.4 mm exactly.
#[test]
fn an_inch_is_exact() {
    assert_eq!(Length::parse("1 in"), Length::parse("25.4 mm"));
    assert_eq!(Length::parse("1/64 in").map(Length::nm), Ok(396_875));
    assert_eq!(Length::from_inches(34).to_string(), "863.6 mm");
}

/// From the shoulder to the point.
fn tip_length(shape: &str, width: &str) -> f64 {
    let run = belt(&format!(
        "tip.shape = \"{shape}\"\nstrap.width = \"{width}\"\nbuckle.inside = \"{width}\""
    ));
    clean(&run);
    let (_, piece, _) = laid(&run);
    let half = piece.width / 2;
    let edge = piece.outline.segments();
    let shoulder = edge.iter().map(|s| s.from).filter(|p| p.y == half).map(|p| p.x).max();
    let length = piece.extent.to - shoulder.expect("an upper edge");
    length.mm(6).parse().expect("millimetres")
}

/// Computed: two arcs of radius R tangent to the edges meet sqrt(w (R - w/4)) past them.
#[test]
fn tips_are_as_long_as_their_arcs() {
    for (shape, per_width) in [("english-point", 1.25), ("round", 0.5)] {
        for (width, w) in [("30 mm", 30.0), ("1 1/2 in", 38.1), ("45 mm", 45.0)] {
            let wanted = f64::sqrt(w * (per_width * w - w / 4.0));
            let length = tip_length(shape, width);
            assert!(
                approx_eq!(f64, length, wanted, epsilon = 1e-5),
                "{shape}, {width}: {length}, not {wanted}"
            );
        }
    }
}

/// S. Harrison, "Some traditional saddlery rules": a flat nose, 1/16 in in from each edge,
/// and a slope one width long.
#[test]
fn a_bridle_point_has_its_nose() {
    let length = tip_length("bridle-point", "1 1/2 in");
    assert!(approx_eq!(f64, length, 38.1, epsilon = 1e-5), "slope {length}");
    let run = belt("tip.shape = \"bridle-point\"");
    let (_, piece, _) = laid(&run);
    let nose: Vec<Length> = piece
        .outline
        .segments()
        .iter()
        .map(|s| s.from)
        .filter(|p| p.x == piece.extent.to)
        .map(|p| p.y)
        .collect();
    assert_eq!(nose.len(), 2, "a flat nose has two corners");
    let wanted = piece.width - Length::from_inch_64ths(8); // w - 1/8 in
    assert_eq!((nose[0] - nose[1]).abs(), wanted);
}

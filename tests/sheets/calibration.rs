//! What calibrations come to: figures by hand, verdicts in words, fits, slips, square paper.

use super::calibrated::{SOUND, belt, calibrated, fitted, known, mm, print, reads};
use strapwright::geom::{Length, Ratio};
use strapwright::layout::GuideShape;
use strapwright::paginate::Paper;
use strapwright::printer::{Cause, Readings, calibration_print, write};
use strapwright::template::DEMO_JOB;

fn says(words: &str, parts: &[&str]) {
    for part in parts {
        assert!(words.contains(part), "{part}: {words}");
    }
}

#[test]
fn bars_and_strip_are_weighted() {
    let done = calibrated(&belt(None), &reads([257.5, 159.5], Some(1_090.0)), |_| {});
    let measured = done.measured.unwrap();
    // Strip ×1.009174 ±0.1118 %, bar ×1.009709 ±0.3511 %: weights 9.857 : 1, by hand.
    assert!((measured.long.by.millionths() - 1_009_224).abs() <= 2, "{measured:?}");
    // √(1 / (1/0.1118² + 1/0.3511²)) = 0.1066 %, rounded up to the 1e-5.
    assert_eq!(measured.long.proven.to_string(), "0.00107");
    // 160 / 159.5, and 0.9129 / 160 = 0.5705 %.
    assert_eq!(measured.short.by.to_string(), "1.003135");
    assert_eq!(measured.short.proven.to_string(), "0.00571");
    says(&done.verdict.words, &["Do not punch: this print is at 99.09 % (±0.11) along"]);
}

/// Two sheets: the ruler's error is common, 4/3 · 0.25, and the eye's 2 · 0.25 halves:
/// √(0.3333 + 0.25) = 0.7638 of 260 mm is 0.2938 %.
#[test]
fn bars_of_more_sheets_prove_more() {
    let readings =
        Readings { wide: vec![mm(257.0), mm(258.0)], ..reads([0.0, 160.0], None) };
    let measured = calibrated(&belt(None), &readings, |_| {}).measured.unwrap();
    assert_eq!(measured.long.proven.to_string(), "0.00294");
    assert_eq!(measured.long.by.to_string(), "1.009709");
}

/// On top of ×1.0125 along the long edge a strip that still reads 2 in 1000 short: strip
/// ×1.001821, bar ×1.001155, weights 9.857 : 1, so ×1.001760; 1.0125 times that.
#[test]
fn the_factors_of_the_print_are_taken_from_it() {
    let set = belt(known(SOUND).0.as_ref());
    let done = calibrated(&set, &reads([259.7, 159.9], Some(1_098.0)), |_| {});
    let by = done.measured.unwrap().long.by.millionths();
    assert!((by - 1_014_282).abs() < 3, "1.0125 · 1.001760: {by}");
}

/// By hand, the last hole 959.24 mm from the bend of 1100 mm with four joins, read at 1100.5:
/// ruler and eye √(4/3 · 0.49 + 0.5) = 1.0739, of which 0.8720: 0.9365, and the joins
/// √4 · 0.3 · 0.128 = 0.0768: 0.9396, 0.436 off. By the bar, √(0.8333) / 260 · 959.24 = 3.368
/// and √4 · 0.3: 3.421, 0 off. Together ±0.906, 0.405 off: 1.311.
#[test]
fn a_true_print_is_punched_by() {
    let done = calibrated(&belt(None), &reads([260.0, 160.0], Some(1_100.5)), |_| {});
    assert_eq!(done.verdict.words, "Punch. Last hole within 1.4 mm.");
    assert!(done.verdict.may_punch);
    let bars = calibrated(&belt(None), &reads([260.0, 160.0], None), |_| {}).verdict;
    assert!(!bars.may_punch);
    says(&bars.words, &["Do not punch yet", "±3.5 mm", "A to B, 1100 mm"]);
    // A printer file that is sure to 0.1 % makes the bars do.
    let print = belt(known(SOUND).0.as_ref());
    let bars = calibrated(&print, &reads([260.0, 160.0], None), |_| {}).verdict;
    says(&bars.words, &["Punch. Last hole within 1."]);
}

/// A piece of one tile and a roll have no strip, and have a stated error.
#[test]
fn a_piece_of_one_tile_and_a_roll_are_judged_too() {
    for (job, paper) in [("template = \"cuff\"", "a4"), (DEMO_JOB, "roll")] {
        let set = print(job, &[], paper, None);
        assert_eq!(set.checks, []);
        let [wide, tall] = set.gauge.as_ref().unwrap().bars.map(Length::as_mm_f64);
        let done = calibrated(&set, &reads([wide, tall], None), |_| {});
        says(&done.verdict.words, &["Punch. Last hole within "]);
    }
}

#[test]
fn causes_are_said_with_what_would_do() {
    for (bars, strip, parts) in [
        ([249.3, 153.4], None, &["the bars read 95.9 %", "Actual size", "viewer"][..]),
        ([267.8, 164.8], Some(1_133.0), &["the bars read 103.0 %"]),
        ([240.0, 160.0], None, &["bars of a print on Letter", "a print on A4"]),
        ([160.0, 260.0], None, &["swap the two bars?"]),
        ([270.0, 170.0], Some(1_110.0), &["every reading is 10 mm too long", "from 0"]),
        (
            [260.0, 160.0],
            Some(1_110.0),
            &["A to B, 1110.0 mm where 1100 mm", "10 mm mark"],
        ),
        ([26.0, 16.0], None, &["Check the unit"]),
        ([260.0, 160.0], Some(1_040.0), &["1040.0 mm where 1100 mm", "print of this"]),
        ([200.0, 0.0], None, &["neither a printer nor a fit", "0.0 mm where 160 mm"]),
    ] {
        let done = calibrated(&belt(None), &reads(bars, strip), |_| {});
        says(&done.verdict.words, parts);
        assert!(done.verdict.words.starts_with("Do not punch"), "{done:?}");
        assert!(!done.verdict.may_punch && done.measured.is_none(), "{done:?}");
    }
}

/// A fit is undone on demand, and stays one on prints for that file. One that was printed at
/// 100 % is named: bars of 160 and 230 mm, upright, 5.3 % too long.
#[test]
fn a_fit_is_undone_on_demand_alone() {
    let set = belt(None);
    let done = calibrated(&set, &reads([249.3, 153.4], None), |a| a.must_fit = true);
    let measured = done.measured.unwrap();
    assert!(measured.fitted && !done.verdict.may_punch, "{measured:?}");
    // 260 / 249.3.
    assert_eq!(measured.long.by.to_string(), "1.04292");
    // Half the size is no setting to go on with.
    let half = calibrated(&set, &reads([130.0, 80.0], None), |a| a.must_fit = true);
    assert!(half.measured.is_none(), "{half:?}");

    let old = fitted();
    let set = belt(Some(&old));
    let bars = set.gauge.as_ref().unwrap().bars.map(Length::as_mm_f64);
    let read = |by: f64| calibrated(&set, &reads(bars.map(|bar| bar * by), None), |_| {});
    assert!(matches!(read(1.0526).verdict.cause, Cause::Unfitted(_)));
    says(&read(1.0526).verdict.words, &["printed without the fit"]);
    assert!(read(0.99).measured.unwrap().fitted);
}

/// (337² - 334²) / (4 · 277 · 190) = 0.00956 rad = 0.548°; each diagonal sure to 0.9129:
/// 2 · 0.9129 · √(337² + 334²) / (4 · 277 · 190) = 0.00411 rad = 0.236°.
#[test]
fn diagonals_tell_the_skew_unless_they_are_slips() {
    let read = |diagonals: [f64; 2]| {
        let diagonals = Some(diagonals.map(mm));
        let readings = Readings { diagonals, ..reads([260.0, 160.0], None) };
        calibrated(&belt(None), &readings, |_| {}).skew
    };
    let skew = read([337.0, 334.0]).unwrap();
    assert!((skew.degrees - 0.548).abs() < 1e-3, "{skew:?}");
    assert!((skew.within - 0.236).abs() < 1e-3 && skew.is_proven(), "{skew:?}");
    assert_eq!(read([33.0, 334.0]), None);
}

/// On square paper `long` is the width, whichever way the numbers go: 220 / 217.9,
/// 190 / 189.1.
#[test]
fn a_square_sheet_is_kept_by_width_and_height() {
    let set = print(DEMO_JOB, &[], "250x250mm", None);
    let measured =
        calibrated(&set, &reads([217.9, 189.1], None), |_| {}).measured.unwrap();
    let by = [measured.long.by, measured.short.by].map(Ratio::millionths);
    assert_eq!(by, [1_009_637, 1_004_759]);
    let square = known(&SOUND.replace("A4", "250x250mm")).0.unwrap();
    let text = write(&square);
    says(&text, &["along the\n# width of the page"]);
    assert_eq!(known(&text).0, Some(square));
}

/// With exact readings on a grid: whatever goes into a printer file is within 3.6 % along each
/// edge, all within 2 % does, and nothing that is off alike by 2.5 % or more.
#[test]
fn there_are_no_dead_zones() {
    let set = belt(None);
    for wide in -50..=50 {
        for tall in -50..=50 {
            let [by_wide, by_tall] = [wide, tall].map(|n| f64::from(n) / 400.0);
            let bars = [260.0 * (1.0 + by_wide), 160.0 * (1.0 + by_tall)];
            let done = calibrated(&set, &reads(bars, None), |_| {});
            let most = by_wide.abs().max(by_tall.abs());
            let is_alike = wide == tall && most >= 0.025;
            let told = format!("{wide} {tall}: {}", done.verdict.words);
            assert!(done.measured.is_none() || most <= 0.036, "{told}");
            assert!(done.measured.is_some() || most > 0.02, "{told}");
            let is_fit = matches!(done.verdict.cause, Cause::Fit(_));
            assert!(!is_alike || is_fit || done.measured.is_none(), "{told}");
        }
    }
}

/// Of printers within 1 % every end of a line is read to half a tenth by its vernier, and to what
/// the 10 mm of the vernier itself are off.
#[test]
fn a_vernier_is_read_to_a_tenth() {
    let (set, layout) = calibration_print(&Paper::parse("a4").unwrap()).unwrap();
    assert_eq!(set.sheets.len(), 4);
    let gauge = set.gauge.unwrap();
    let strip = gauge.strip.unwrap();
    assert_eq!((strip.length, strip.joins), (Length::from_mm(900), 3));
    let ticks: Vec<f64> = layout.pieces[0]
        .guides
        .iter()
        .filter_map(|guide| match &guide.shape {
            GuideShape::Crease(path) if path.start.y == Length::from_mm(62) => {
                Some(path.start.x.as_mm_f64())
            }
            _ => None,
        })
        .collect();
    for end in [200.0, 900.0] {
        // From the line inward, without the ticks every 20 mm.
        let mut vernier: Vec<f64> =
            ticks.iter().copied().filter(|x| (end - 10.0..=end).contains(x)).collect();
        vernier.sort_by(|a, b| b.total_cmp(a));
        assert_eq!(vernier.len(), 10, "{vernier:?}");
        for step in -100..=100 {
            let scale = 1.0 + f64::from(step) / 10_000.0;
            let off = |x: f64| (x * scale - (x * scale).round()).abs();
            let best =
                (0..10).min_by(|a, b| off(vernier[*a]).total_cmp(&off(vernier[*b])));
            let tenths = f64::from(i32::try_from(best.unwrap()).unwrap()) / 10.0;
            // Whole mm by eye: the reading with these tenths that is nearest to the line.
            let true_ = end * scale;
            let read = (true_ - tenths).round() + tenths;
            assert!((read - true_).abs() < 0.051 + 10.0 * (scale - 1.0).abs(), "{true_}");
        }
    }
}

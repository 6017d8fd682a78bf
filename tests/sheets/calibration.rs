//! What calibrations come to: on top of an older one, without the fit that they should have
//! had, with nothing to correct, with slips, on square paper.

use super::calibrated::{
    SOUND, UNFITTED, calibrated, calibrated_on, fitted, known, plain,
};
use crate::common::rules;
use strapwright::geom::{Length, Ratio};

/// On top of ×1.0125 along the long edge a strip that still reads 2 in 1000 short: strip
/// ×1.001821, bar ×1.001155, weights 9.857 : 1, so ×1.001760.
#[test]
fn a_second_calibration_comes_on_top() {
    let old = known(SOUND).0.unwrap();
    let print = calibrated(["259.7 mm", "159.9 mm", "1098 mm"], None, Some(&old), |_| {});
    // With a margin of 8 mm the bars are as long as with 10 mm and no correction.
    let new = print.printer.unwrap_or_else(|| unreachable!("{:?}", print.findings));
    let by = new.correction.long.by.millionths();
    assert!((by - 1_014_282).abs() < 3, "1.0125 · 1.001760: {by}");
    assert_eq!(new.correction.margin, Length::from_mm(8));
    // Far corrections stay found when they come about step by step.
    let far = known(&SOUND.replace("1.0125", "1.08").replace("0.998", "1.07")).0.unwrap();
    let wide = ["236 mm", "146 mm", ""];
    let done = calibrated(wide, None, Some(&far), |a| a.must_fit = true);
    assert!(done.printer.is_none(), "{done:?}");
}

/// A drawing for a fitted printer, printed at 100 %: what the file held was the fit, and
/// what is left is nothing. With a printer that is 1 % short besides, that is left, and is
/// for prints at 100 %.
#[test]
fn a_fit_that_was_not_made_is_not_carried_on() {
    let old = fitted();
    let done = calibrated(UNFITTED, None, Some(&old), |_| {});
    assert_eq!(rules(&done.findings), ["printed-unfitted", "nothing-to-correct"]);
    assert!(done.printer.is_none(), "{done:?}");
    assert!(done.findings[1].remedy.contains("draw without --printer"), "{done:?}");

    let short = ["166.7 mm", "239.7 mm", "1146.3 mm"];
    let done = calibrated(short, None, Some(&old), |_| {});
    assert_eq!(rules(&done.findings), ["printed-unfitted"]);
    let correction = done.printer.unwrap().correction;
    assert!(!correction.fitted, "{correction:?}");
    let by = correction.long.by.millionths();
    assert!((by - 1_010_100).abs() < 300, "1.052632 · 1100 / 1146.3: {by}");
    // Fitted again as it should be, and 1 % short, it stays a fit.
    let again = ["158.4 mm", "227.7 mm", "1089 mm"];
    let done = calibrated(again, None, Some(&old), |_| {});
    assert_eq!(rules(&done.findings), [""; 0]);
    assert!(done.printer.unwrap().correction.fitted);
}

/// Noise of a reading goes into no file; what else is to be kept does, with factors left.
#[test]
fn nothing_to_correct_is_nothing_to_write() {
    let near = ["259.5 mm", "159.5 mm", "1100.5 mm"];
    let done = plain(near);
    assert_eq!(rules(&done.findings), ["nothing-to-correct"]);
    assert!(done.printer.is_none());
    assert!(done.findings[0].remedy.contains("no printer file is needed"), "{done:?}");
    assert!(!done.findings[0].remedy.contains("--strip"), "{done:?}");
    let bars = plain(["259.5 mm", "159.5 mm", ""]);
    assert!(bars.findings.iter().any(|f| f.remedy.contains("--strip")), "{bars:?}");

    let old = known(SOUND).0.unwrap();
    let on_top = |margin: i64| {
        calibrated(near, None, Some(&old), |a| a.margin = Some(Length::from_mm(margin)))
    };
    let same = on_top(8);
    assert!(same.printer.is_none(), "{same:?}");
    assert!(same.findings[0].remedy.contains("same --printer"), "{same:?}");
    let other = on_top(7).printer.unwrap().correction;
    assert_eq!(other.margin, Length::from_mm(7));
    assert_eq!(
        [other.long.by, other.short.by],
        [old.correction.long.by, old.correction.short.by]
    );

    let kept = calibrated(near, Some(["337 mm", "334 mm"]), None, |_| {});
    let kept = kept.printer.unwrap();
    assert!(kept.skew.is_some_and(|s| s.degrees > 0.5), "{kept:?}");
    let [long, short] = [kept.correction.long, kept.correction.short];
    assert_eq!([long.by, short.by].map(Ratio::millionths), [1_000_000; 2]);
    // 160 / 159.5 is 0.3135 % off, and the reading is sure to 0.5705 %.
    assert_eq!(short.proven.to_string(), "0.00885");
}

/// Both diagonals are looked at, and nothing is made of them if one is a slip.
#[test]
fn a_slip_of_a_diagonal_is_told_by_its_name_alone() {
    let reads = ["258 mm", "158 mm", "1092 mm"];
    let done = calibrated(reads, Some(["33 mm", "3.4 m"]), None, |_| {});
    assert_eq!(rules(&done.findings), ["implausible-scale"; 2]);
    for (finding, [name, from]) in done
        .findings
        .iter()
        .zip([["rising diagonal", "lower left"], ["falling diagonal", "upper left"]])
    {
        assert!(finding.message.contains(name), "{finding:?}");
        assert!(finding.remedy.contains(from), "{finding:?}");
    }
    let strip = plain(["258 mm", "158 mm", "109 mm"]).findings;
    assert!(strip[0].remedy.contains("from cross A to cross B"), "{strip:?}");
}

/// On square paper `long` is the width, whichever way the numbers go.
#[test]
fn a_square_sheet_is_kept_by_width_and_height() {
    let done = calibrated_on("250x250mm", ["208 mm", "199 mm", ""], None, None, |_| {});
    let printer = done.printer.unwrap();
    let [long, short] = [printer.correction.long, printer.correction.short];
    // 210 / 208 and 200 / 199.
    assert_eq!([long.by, short.by].map(Ratio::millionths), [1_009_615, 1_005_025]);
    let text = strapwright::printer::write(&printer);
    assert!(text.contains("by its width (`long`)"), "{text}");
    assert!(!text.contains("edge of the sheet"), "{text}");
    assert_eq!(known(&text).0, Some(printer));
}

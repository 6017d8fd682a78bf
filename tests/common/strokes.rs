//! Places on a page that was read back: where strokes cross and where they end.

use crate::common::pdf::Page;

/// Where the two arms of the cross that is expected `near` a place meet, each by the
/// stroke whose middle is nearest. Panics where there is none within 0.5 mm.
pub(crate) fn cross_at(page: &Page, near: (f64, f64)) -> (f64, f64) {
    let middle =
        |[a, b]: &[(f64, f64); 2]| (f64::midpoint(a.0, b.0), f64::midpoint(a.1, b.1));
    let arm = |is_arm: fn(&&[(f64, f64); 2]) -> bool| {
        let middles = page.lines.iter().filter(is_arm).map(middle);
        nearest(middles, near)
    };
    let upright = arm(|[a, b]| (a.0 - b.0).abs() < 1e-6 && (a.1 - b.1).abs() > 3.0);
    let level = arm(|[a, b]| (a.1 - b.1).abs() < 1e-6 && (a.0 - b.0).abs() > 3.0);
    (upright.0, level.1)
}

/// The middle of the upright stroke that is expected `near` a place. Panics where there is none
/// within 0.5 mm.
pub(crate) fn upright_at(page: &Page, near: (f64, f64)) -> (f64, f64) {
    let is_upright =
        |[a, b]: &&[(f64, f64); 2]| (a.0 - b.0).abs() < 1e-6 && (a.1 - b.1).abs() > 3.0;
    let middle =
        |[a, b]: &[(f64, f64); 2]| (f64::midpoint(a.0, b.0), f64::midpoint(a.1, b.1));
    nearest(page.lines.iter().filter(is_upright).map(middle), near)
}

/// The end of a stroke that is nearest to a place. Panics where there is none within
/// 0.5 mm.
pub(crate) fn end_at(page: &Page, near: (f64, f64)) -> (f64, f64) {
    nearest(page.lines.iter().flatten().copied(), near)
}

fn nearest(all: impl Iterator<Item = (f64, f64)>, to: (f64, f64)) -> (f64, f64) {
    let far = |p: &(f64, f64)| libm::hypot(p.0 - to.0, p.1 - to.1);
    let found = all.min_by(|a, b| far(a).total_cmp(&far(b))).unwrap();
    assert!(far(&found) < 0.5, "nothing at {to:?}: the nearest is at {found:?}");
    found
}

use super::prelude::*;
use crate::check::limits::{measured_girth, possible_girth, usual_girth};

pub(super) const RULE: RuleId = RuleId::new("girth");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let (Some(fit), Some(worn)) = (input.fit, &input.job.worn) else { return };
    let (value, body) = (&worn.measure.value, worn.measure.body);
    let at = input.layout.size_hole().unwrap_or(fit.size_hole);
    // Ease is room, not body: what is held against bodies is the girth within it.
    let girth = fit.girth_at(at);
    let usual = usual_girth(body, worn.measure.child.is_some());
    if usual.has(girth) {
        return;
    }
    let beyond = !possible_girth(body).has(girth);
    let severity = Severity::error_if(beyond);
    let fits = |n: i64, d: i64| {
        let other: Length = girth + value.value.times(n, d) - value.value;
        usual.has(other)
    };
    // A unit is asked after only where the number can have been written in it: whole halves
    // of a millimetre, whole sixty-fourths of an inch.
    let whole = |step: Length| value.value.nm() % step.nm() == 0;
    let (metric, inches) =
        (whole(Length::from_um(500)), whole(Length::from_inch_64ths(1)));
    // Each question with what the number would be then, as n / d of it.
    let (remedy, meant) = if worn.measure.hole.is_some() {
        let look = "look at measure.hole, and measure the sizing strap: \
                    measure.first-hole and measure.hole-pitch";
        (look, None)
    } else if metric && fits(254, 100) {
        ("did you mean inches instead of centimetres?", Some((254, 100)))
    } else if inches && fits(100, 254) {
        ("did you mean centimetres instead of inches?", Some((100, 254)))
    } else if fits(10, 1) {
        (
            "is it ten times as much? look at the unit and at the decimal point",
            Some((10, 1)),
        )
    } else if fits(1, 10) {
        (
            "is it a tenth of that? look at the unit and at the decimal point",
            Some((1, 10)),
        )
    } else if !beyond && girth < usual.from {
        ("measure again; for a child add measure.child = true", None)
    } else {
        ("measure again, and look at the unit, measure.taken and measure.body", None)
    };
    let measured = measured_girth(body);
    let finding = Finding::new(RULE, severity, "this girth is outside what bodies have")
        .at(value.span.clone())
        .expected(format!("a girth of {}", girth.both()), measured.both())
        .remedy(remedy);
    let meant = meant.map(|(n, d)| value.value.times(n, d).to_string());
    findings.push(meant.into_iter().fold(finding, Finding::change));
}

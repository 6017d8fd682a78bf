use super::prelude::*;
use crate::check::limits::{LIGHT_THICKNESS, POSSIBLE_THICKNESS, USUAL_THICKNESS};

pub(super) const RULE: RuleId = RuleId::new("thickness");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let strap = &input.job.strap.thickness;
    let others = input.job.pieces.iter().filter(|o| o.count.value > 0);
    let others = others.map(|o| {
        // Keepers and linings are of lighter leather.
        let light = !matches!(o.form, Form::Strap(_));
        (&o.leather.thickness, if light { LIGHT_THICKNESS } else { USUAL_THICKNESS })
    });
    // Pieces that say nothing have the strap's, which is one mistake, not several.
    let own = others.filter(|(given, _)| given.span != strap.span);
    for (given, usual) in std::iter::once((strap, USUAL_THICKNESS)).chain(own) {
        let t = given.value;
        if usual.has(t) {
            continue;
        }
        let beyond = t < POSSIBLE_THICKNESS.from || t > POSSIBLE_THICKNESS.to;
        let remedy = if usual.from <= t / 10 && t / 10 <= usual.to {
            "is it a tenth of that? look at the unit and at the decimal point"
        } else {
            "measure one layer; an ounce of leather weight is 0.397 mm"
        };
        let severity = Severity::error_if(beyond);
        Finding::new(RULE, severity, "strap leather is not this thick or thin")
            .at(given.span.clone())
            .expected(t.both(), usual.both())
            .remedy(remedy)
            .to(findings);
    }
}

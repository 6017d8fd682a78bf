use super::prelude::*;
use crate::job::Body;

pub(super) const RULE: RuleId = RuleId::new("measure-taken");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let (Some(worn), Some(fit)) = (&input.job.worn, input.fit) else { return };
    let taken = &worn.measure.taken;
    let lacks = match taken.value {
        MeasureMethod::BendToHole
        | MeasureMethod::BarToHole
        | MeasureMethod::BarToTip
            if fit.bend.is_none() =>
        {
            "no bend round a bar"
        }
        MeasureMethod::FrameToHole if worn.buckle.is_none() => "no buckle",
        MeasureMethod::FrameToHole if worn.measure.bar.is_some() => {
            "the strap begins at another bar than the buckle's"
        }
        MeasureMethod::Trousers if worn.measure.body != Body::Waist => "no waist",
        _ => return,
    };
    Finding::error(RULE, "this strap cannot be measured so")
        .at(taken.span.clone())
        .expected(
            format!("measure.taken = \"{}\", and {lacks}", taken.value.word()),
            "a way of measuring that the strap has",
        )
        .remedy("take a tape round the body, and say measure.taken = \"tape\"")
        .to(findings);
}

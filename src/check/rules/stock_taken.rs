use super::prelude::*;

pub(super) const RULE: RuleId = RuleId::new("stock-taken");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let Some(stock) = &input.job.stock else { return };
    let (Some(size), Some(range), Some(taken)) = (stock.size(), stock.range, stock.taken)
    else {
        return;
    };
    let meaning = match taken {
        MeasureMethod::Tape => "a girth of the body, by tape",
        _ => "a belt's length from the outside of its bend to the size hole",
    };
    Finding::new(
        RULE,
        Severity::Note,
        format!("sizes of `{range}` count as measure.taken = \"{}\"", taken.word()),
    )
    .at(size.span.clone())
    .expected(format!("size {}: {}", size.label, size.value.both()), meaning)
    .remedy(
        "to have sizes read as measure.taken says, give them as lengths: \
             \"28 to 46 in by 2 in\"",
    )
    .to(findings);
}

use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, RuleId, Severity};
use crate::job::MeasureMethod;

pub(super) const RULE: Rule = Rule {
    id: RuleId::new("stock-taken"),
    check,
    what: "Says what the sizes of a named range are taken to measure, once one of them \
           is drawn.",
    why: "A size is a number without a tape: read from the bend or round the body, it \
          gives two belts that differ by an inch or more, and the range, not the job, \
          decides which.",
    breaks: r#"stock.sizes = "letters-men"
stock.size = "M""#,
    keeps: r#"stock.sizes = ["34 in"]
stock.size = "34 in""#,
    source: "The ranges: EN 13402-3, MIL-B-1462F, MIL-B-83475. Belt sizes from the bend \
             to the hole: common practice, no source.",
};

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let Some(stock) = &input.job.stock else { return };
    let (Some(size), Some(range), Some(taken)) = (stock.size(), stock.range, stock.taken)
    else {
        return;
    };
    let meaning = match taken {
        MeasureMethod::Tape => "a girth of the body, by tape",
        _ => "a belt's length from the outside of its bend to the size hole",
    };
    findings.push(
        Finding::new(
            RULE.id,
            Severity::Note,
            format!("sizes of `{range}` count as measure.taken = \"{}\"", taken.word()),
        )
        .at(size.span.clone())
        .expected(format!("size {}: {}", size.label, size.value.both()), meaning)
        .remedy(
            "to have sizes read as measure.taken says, give them as lengths: \
             \"28 to 46 in by 2 in\"",
        ),
    );
}

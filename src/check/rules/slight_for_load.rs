use super::prelude::*;
use crate::check::limits::{LOAD_THICKNESS, LOAD_WIDTH};
use crate::job::PieceId;

pub(super) const RULE: RuleId = RuleId::new("slight-for-load");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    if !input.job.bears_load() {
        return;
    }
    for piece in input.one_of_each() {
        let spec = input.job.piece(piece.id);
        if spec.is_some_and(|s| !matches!(s.form, Form::Strap(_))) {
            continue;
        }
        let leather = input.job.leather(piece.id);
        let width = piece.narrowest();
        let narrow = piece.width_changes.iter().find(|s| s.after == width);
        let narrow = narrow.map_or(&leather.width.span, |s| &s.span);
        for (what, value, least, span) in [
            ("wide", width, LOAD_WIDTH, narrow),
            ("thick", piece.thickness, LOAD_THICKNESS, &leather.thickness.span),
        ] {
            if value >= least {
                continue;
            }
            let of = match piece.id {
                PieceId::STRAP => "the strap".to_owned(),
                _ => format!("`{}`", piece.name),
            };
            Finding::warning(RULE, format!("{of} is slight for what it carries"))
                .at(span.clone())
                .expected(
                    format!("{} {what}", value.both()),
                    format!("at least {}, and tested hardware", least.both()),
                )
                .remedy(
                    "use more leather, and load a trial piece well past what it will \
                     carry; local rules come first",
                )
                .to(findings);
        }
    }
}

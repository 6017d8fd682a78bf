use super::prelude::*;
use crate::check::limits::{LONGEST_PIECE, USUAL_LENGTH};

pub(super) const RULE: RuleId = RuleId::new("strap-length");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for piece in input.one_of_each() {
        let length = piece.extent.length();
        if USUAL_LENGTH.has(length) {
            continue;
        }
        let beyond = length > LONGEST_PIECE;
        let severity = Severity::error_if(beyond);
        Finding::new(
            RULE,
            severity,
            format!("no leather makes a `{}` of this length", piece.name),
        )
        .at(input.ends_at(piece))
        .expected(format!("{} from end to end", length.both()), USUAL_LENGTH.both())
        .remedy("look at what its length is reckoned from, and at the units")
        .to(findings);
    }
}

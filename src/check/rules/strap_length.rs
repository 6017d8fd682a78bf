use crate::check::limits::{LONGEST_PIECE, USUAL_LENGTH};
use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, Severity};

pub(super) const RULE: Rule =
    Rule::new("strap-length", check, include_str!("strap_length.md"));

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for piece in input.one_of_each() {
        let length = piece.extent.length();
        if USUAL_LENGTH.from <= length && length <= USUAL_LENGTH.to {
            continue;
        }
        let beyond = length > LONGEST_PIECE;
        let severity = if beyond { Severity::Error } else { Severity::Warning };
        findings.push(
            Finding::new(
                RULE.id,
                severity,
                format!("no leather makes a `{}` of this length", piece.name),
            )
            .at(input.ends_at(piece))
            .expected(
                format!("{} from end to end", length.both()),
                format!("{} to {}", USUAL_LENGTH.from.both(), USUAL_LENGTH.to.both()),
            )
            .remedy("look at what its length is reckoned from, and at the units"),
        );
    }
}

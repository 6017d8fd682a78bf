use crate::check::limits::PUNCH_THROAT;
use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, RuleId, Severity};
use crate::geom::distance::depth;
use crate::layout::{MarkKind, Shape};

pub(super) const RULE: Rule = Rule {
    id: RuleId::new("punch-reach"),
    check,
    what: "Says when a hole lies further from every edge than a hand punch reaches.",
    why: "Punch pliers reach 50 mm or less: a hole in the middle of a broad strap needs a \
          drive punch and a block.",
    breaks: r#"template = "plain-strap"
strap.width = "120 mm"
holes.by = "80 mm""#,
    keeps: r#"template = "plain-strap"
strap.width = "80 mm"
holes.by = "80 mm""#,
    source: "Common practice, no source.",
};

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for piece in input.one_of_each() {
        // A strap that is reached into from both its edges has no such place.
        if piece.width <= PUNCH_THROAT * 2 {
            continue;
        }
        let outline = piece.outline.segments();
        let round = |m: &&crate::layout::Mark| {
            matches!(m.shape, Shape::Round { .. }) && m.kind != MarkKind::Stitch
        };
        let holes = piece.marks.iter().filter(|m| m.is_punched()).filter(round);
        let far = holes
            .map(|m| (depth(&outline, m.at), m))
            .find(|(reach, _)| *reach > PUNCH_THROAT);
        let Some((reach, mark)) = far else { continue };
        findings.push(
            Finding::new(
                RULE.id,
                Severity::Note,
                format!("no hand punch reaches {}", input.named(mark)),
            )
            .at(mark.span.clone())
            .expected(
                format!("{} from the nearest edge", reach.both()),
                format!("at most {}", PUNCH_THROAT.both()),
            )
            .remedy("use a drive punch and a mallet"),
        );
    }
}

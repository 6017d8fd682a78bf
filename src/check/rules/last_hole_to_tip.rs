use crate::check::limits::LAST_HOLE_TO_TIP;
use crate::check::{About, Rule, Subject};
use crate::diagnostic::{Finding, Severity};
use crate::layout::MarkKind;

const ID: &str = "last-hole-to-tip";

pub(super) const RULE: Rule = Rule { id: ID, about: ABOUT, check };

const ABOUT: About = About {
    what: "The point lies neither too near the last hole nor too far past it.",
    why: "When the last hole is used, the end must still reach through buckle and \
          keeper; a long end flaps.",
    breaks: r#"tip.past-last-hole = "1 in""#,
    keeps: r#"tip.past-last-hole = "3 in""#,
    source: "3 to 4 in: common practice, no source. 2.5 widths: S. Harrison, \"Some \
             traditional saddlery rules\".",
};

fn check(subject: &Subject<'_>, findings: &mut Vec<Finding>) {
    let holes = subject.layout.size_holes(subject.job);
    let Some(last) = holes.map(|m| m.at.x).max() else { return };
    for (_, tip) in subject.marks().filter(|(_, m)| m.kind == MarkKind::Tip) {
        let past = tip.at.x - last;
        if past >= LAST_HOLE_TO_TIP.from && past <= LAST_HOLE_TO_TIP.to {
            continue;
        }
        let short = past < LAST_HOLE_TO_TIP.from;
        let severity = if short { Severity::Error } else { Severity::Warning };
        let word = if short { "near" } else { "far from" };
        findings.push(
            Finding::new(ID, severity, format!("the tip is too {word} the last hole"))
                .at(tip.place.clone())
                .held(
                    past.both(),
                    format!(
                        "{} to {}",
                        LAST_HOLE_TO_TIP.from.both(),
                        LAST_HOLE_TO_TIP.to.both()
                    ),
                )
                .remedy(
                    "change tip.past-last-hole, the number of holes outside the size, or the \
                     blank",
                ),
        );
    }
}

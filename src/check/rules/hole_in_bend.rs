use crate::check::{About, Rule, Subject, severity_of};
use crate::diagnostic::Finding;
use crate::geom::Length;

const ID: &str = "hole-in-bend";

pub(super) const RULE: Rule = Rule { id: ID, about: ABOUT, check };

const ABOUT: About = About {
    what: "No hole but the tongue slot lies where the strap bends round the bar.",
    why: "A hole in the bend opens, and nothing set there lies flat.",
    breaks: r#"turn-back.first-fastener = "6 mm""#,
    keeps: r#"turn-back.first-fastener = "24 mm""#,
    source: "Computed: the bend takes π (D/2 + k t) of strap, half of it on either side \
             of the fold.",
};

fn check(subject: &Subject<'_>, findings: &mut Vec<Finding>) {
    let Some(fit) = subject.fit else { return };
    let half = fit.bend.take_up / 2;
    for (_, mark) in subject.marks() {
        let x = mark.x_extent();
        let bent = x.from < half && x.to > -half;
        // What lies on the fold itself is the tongue's slot.
        if !bent || !mark.is_opening() || mark.at.x == Length::ZERO {
            continue;
        }
        findings.push(
            Finding::new(
                ID,
                severity_of(mark),
                format!("{} {} lies in the bend", mark.feature, mark.label),
            )
            .at(mark.place.clone())
            .held(
                format!("its rim {} from the fold", x.from.abs().min(x.to.abs()).both()),
                format!("at least {}, where the bend ends", half.both()),
            )
            .remedy("move it away from the fold"),
        );
    }
}

use crate::check::{About, Rule, Subject};
use crate::diagnostic::{Finding, Severity};
use crate::job::FeatureKind;

const ID: &str = "turn-back-too-short";

pub(super) const RULE: Rule = Rule { id: ID, about: ABOUT, check };

const ABOUT: About = About {
    what: "The turn-back reaches past its last fastener by at least twice the \
           fastener's diameter.",
    why: "A fastener at the very end of the turned-back leather tears out of it.",
    breaks: r#"turn-back.length = "60 mm""#,
    keeps: r#"turn-back.length = "75 mm""#,
    source: "Common practice, no source; Amateur Work, vol. 3 (c. 1904) asks three \
             diameters from the end in machine belts.",
};

fn check(subject: &Subject<'_>, findings: &mut Vec<Finding>) {
    for feature in &subject.job.features {
        let FeatureKind::TurnBack(f) = &feature.kind else { continue };
        let last = f.first_fastener.value.max(f.second_fastener.value);
        let needed = last + f.fastener_diameter.value.times(5, 2);
        if f.length.value < needed {
            findings.push(
                Finding::new(ID, Severity::Error, "the turn-back is too short")
                    .at(f.length.place.clone())
                    .held(
                        format!("{} from the fold", f.length.value.both()),
                        format!(
                            "at least {}, for the fastener at {}",
                            needed.both(),
                            last.both()
                        ),
                    )
                    .remedy("lengthen turn-back.length or move the fasteners inward"),
            );
        }
    }
}

use crate::check::{About, Rule, Subject};
use crate::diagnostic::{Finding, Severity};
use crate::geom::Length;
use crate::job::FeatureKind;

const ID: &str = "slot-too-short";

pub(super) const RULE: Rule = Rule { id: ID, about: ABOUT, check };

const ABOUT: About = About {
    what: "The tongue slot is at least as long as the bend takes up, plus the tongue.",
    why: "The tongue's root turns round the bar inside the slot; in a shorter slot it \
          binds and the buckle does not lie flat.",
    breaks: r#"turn-back.slot-length = "12 mm""#,
    keeps: r#"turn-back.slot-length = "25 mm""#,
    source: "Computed: take-up π (D/2 + k t) from the one side of the bar to the other, \
             and the tongue's own width for its root.",
};

fn check(subject: &Subject<'_>, findings: &mut Vec<Finding>) {
    let Some(buckle) = subject.job.worn.as_ref().and_then(|w| w.buckle.as_ref()) else {
        return;
    };
    let Some(bend) = subject.fit.and_then(|fit| fit.bend) else { return };
    for feature in &subject.job.features {
        let FeatureKind::TurnBack(f) = &feature.kind else { continue };
        if f.slot_length.value <= Length::ZERO {
            continue;
        }
        let tongue = buckle.tongue.value;
        let needed = bend.take_up + tongue;
        if f.slot_length.value < needed {
            findings.push(
                Finding::new(ID, Severity::Error, "the tongue slot is too short")
                    .at(f.slot_length.place.clone())
                    .held(
                        f.slot_length.value.both(),
                        format!("at least {}: the bend and the tongue", needed.both()),
                    )
                    .remedy("lengthen turn-back.slot-length"),
            );
        }
        if f.slot_width.value < tongue {
            findings.push(
                Finding::new(ID, Severity::Error, "the tongue does not pass its slot")
                    .at(f.slot_width.place.clone())
                    .held(
                        f.slot_width.value.both(),
                        format!("at least the tongue, {}", tongue.both()),
                    )
                    .remedy("widen turn-back.slot-width: the tongue + 1 mm is usual"),
            );
        }
    }
}

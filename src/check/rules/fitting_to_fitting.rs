use crate::check::limits::FITTING_GAP;
use crate::check::{About, Rule, Subject};
use crate::diagnostic::{Finding, Severity};
use crate::job::FeatureKind;

const ID: &str = "fitting-to-fitting";

pub(super) const RULE: Rule = Rule { id: ID, about: ABOUT, check };

const ABOUT: About = About {
    what: "The faces of decorative fittings do not touch each other.",
    why: "The holes may be far enough apart and the fittings still collide, once they \
          are bought and the leather is punched.",
    breaks: "fittings.count = 60",
    keeps: "fittings.count = 6",
    source: "Common practice, no source.",
};

fn check(subject: &Subject<'_>, findings: &mut Vec<Finding>) {
    for feature in &subject.job.features {
        let FeatureKind::Spread(spread) = &feature.kind else { continue };
        let places: Vec<_> = subject
            .marks()
            .filter(|(_, m)| m.feature == feature.name)
            .map(|(_, m)| m.at.x)
            .collect();
        let gaps = places.windows(2).map(|w| (w[1] - w[0]).abs() - spread.face.value);
        let Some(least) = gaps.min().filter(|g| *g < FITTING_GAP) else { continue };
        findings.push(
            Finding::new(
                ID,
                Severity::Error,
                format!("the fittings of `{}` touch each other", feature.name),
            )
            .at(spread.count.place.clone())
            .held(
                format!("{} between their faces", least.both()),
                format!("at least {}", FITTING_GAP.both()),
            )
            .remedy("use fewer fittings, smaller ones, or a longer span"),
        );
    }
}

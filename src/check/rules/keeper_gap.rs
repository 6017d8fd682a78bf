use crate::check::limits::KEEPER_PLAY;
use crate::check::{About, Rule, Subject};
use crate::diagnostic::{Finding, Severity};
use crate::geom::Length;
use crate::job::FeatureKind;

const ID: &str = "keeper-gap";

pub(super) const RULE: Rule = Rule { id: ID, about: ABOUT, check };

const ABOUT: About = About {
    what: "Between the rims of the two fasteners there is room for the keeper strip and \
           a little play.",
    why: "The keeper sits between the fasteners; without room it is pinched, or covers \
          them.",
    breaks: r#"turn-back.second-fastener = "40 mm""#,
    keeps: r#"turn-back.second-fastener = "56 mm""#,
    source: "Common practice, no source.",
};

fn check(subject: &Subject<'_>, findings: &mut Vec<Finding>) {
    for feature in &subject.job.features {
        let FeatureKind::TurnBack(f) = &feature.kind else { continue };
        if f.keeper_width.value <= Length::ZERO {
            continue;
        }
        let apart = (f.second_fastener.value - f.first_fastener.value).abs();
        let room = apart - f.fastener_diameter.value;
        let needed = f.keeper_width.value + KEEPER_PLAY;
        if room < needed {
            findings.push(
                Finding::new(ID, Severity::Error, "the keeper has no room")
                    .at(f.second_fastener.place.clone())
                    .held(
                        format!("{} between the fasteners' rims", room.both()),
                        format!("at least {}: the keeper and its play", needed.both()),
                    )
                    .remedy(
                        "move the second fastener outward or make the keeper narrower",
                    ),
            );
        }
    }
}

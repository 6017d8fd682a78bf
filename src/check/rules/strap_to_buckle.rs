use crate::check::limits::BUCKLE_PLAY;
use crate::check::{About, Rule, Subject};
use crate::diagnostic::{Finding, Severity};

const ID: &str = "strap-to-buckle";

pub(super) const RULE: Rule = Rule { id: ID, about: ABOUT, check };

const ABOUT: About = About {
    what: "The strap passes the buckle, and does not wander in it.",
    why: "A strap wider than the buckle's inside does not go through; one much narrower \
          slides from side to side and wears its holes.",
    breaks: r#"strap.width = "41 mm""#,
    keeps: r#"strap.width = "38 mm""#,
    source: "Common practice, no source.",
};

fn check(subject: &Subject<'_>, findings: &mut Vec<Finding>) {
    let Some(buckle) = subject.job.worn.as_ref().and_then(|w| w.buckle.as_ref()) else {
        return;
    };
    let (width, inside) = (&subject.job.strap.width, buckle.inside.value);
    if width.value > inside {
        findings.push(
            Finding::new(ID, Severity::Error, "the strap is wider than the buckle")
                .at(width.place.clone())
                .held(
                    format!("a strap of {}", width.value.both()),
                    format!("at most {}, the buckle's inside", inside.both()),
                )
                .remedy("take a narrower strap or a wider buckle (buckle.inside)"),
        );
    } else if inside - width.value > BUCKLE_PLAY {
        findings.push(
            Finding::new(ID, Severity::Warning, "the strap is loose in the buckle")
                .at(width.place.clone())
                .held(
                    format!("{} of play", (inside - width.value).both()),
                    format!("at most {}", BUCKLE_PLAY.both()),
                )
                .remedy("take a wider strap or a narrower buckle (buckle.inside)"),
        );
    }
}

use crate::check::limits::{POSSIBLE_THICKNESS, USUAL_THICKNESS};
use crate::check::{About, Rule, Subject};
use crate::diagnostic::{Finding, Severity};

const ID: &str = "thickness";

pub(super) const RULE: Rule = Rule { id: ID, about: ABOUT, check };

const ABOUT: About = About {
    what: "The leather is as thick as strap leather is.",
    why: "Thickness moves every hole through the bend and the girth; a slip of a unit \
          is a spoiled fit.",
    breaks: r#"strap.thickness = "8 mm""#,
    keeps: r#"strap.thickness = "4 mm""#,
    source: "Belt leather 3 to 4 mm: common practice, no source. 1 oz = 1/64 in = 0.397 \
             mm.",
};

fn check(subject: &Subject<'_>, findings: &mut Vec<Finding>) {
    let said = &subject.job.strap.thickness;
    let t = said.value;
    if USUAL_THICKNESS.from <= t && t <= USUAL_THICKNESS.to {
        return;
    }
    let beyond = t < POSSIBLE_THICKNESS.from || t > POSSIBLE_THICKNESS.to;
    let severity = if beyond { Severity::Error } else { Severity::Warning };
    findings.push(
        Finding::new(ID, severity, "strap leather is not this thick or thin")
            .at(said.place.clone())
            .held(
                t.both(),
                format!(
                    "{} to {}",
                    USUAL_THICKNESS.from.both(),
                    USUAL_THICKNESS.to.both()
                ),
            )
            .remedy("measure one layer; an ounce of leather weight is 0.397 mm"),
    );
}

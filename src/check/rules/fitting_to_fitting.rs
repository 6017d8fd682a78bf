use crate::check::limits::FITTING_GAP;
use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, RuleId};
use crate::geom::{Extent, Length};
use std::collections::BTreeMap;

pub(super) const RULE: Rule = Rule {
    id: RuleId::new("fitting-to-fitting"),
    check,
    what: "The faces of decorative fittings do not touch each other.",
    why: "The holes may be far enough apart and the fittings still collide, once they \
          are bought and the leather is punched.",
    breaks: "fittings.count = 60",
    keeps: "fittings.count = 6",
    source: "Common practice, no source.",
};

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for feature in &input.job.features {
        let Some(spread) = feature.kind.facts().fittings else { continue };
        // Where a fitting has several holes, its middle is the middle of them.
        let mut ends: BTreeMap<Option<u32>, Extent> = BTreeMap::new();
        let own = input.marks().map(|(_, m)| m).filter(|m| m.feature == feature.id);
        for (number, x) in own.map(|m| (m.role.number(), m.at.x)) {
            let end = ends.entry(number).or_insert(Extent { from: x, to: x });
            *end = Extent { from: end.from.min(x), to: end.to.max(x) };
        }
        let middle = |end: Extent| end.from + end.length() / 2;
        let places: Vec<Length> = ends.into_values().map(middle).collect();
        let faces = spread.pattern.iter().cycle();
        let gaps = places.windows(2).zip(faces.clone().zip(faces.skip(1))).map(
            |(pair, (one, other))| {
                let half = (one.face.value + other.face.value) / 2;
                (pair[1] - pair[0]).abs() - half
            },
        );
        let Some(least) = gaps.min().filter(|g| *g < FITTING_GAP) else { continue };
        findings.push(
            Finding::error(
                RULE.id,
                format!("the fittings of `{}` touch each other", feature.name),
            )
            .at(spread.count.span.clone())
            .expected(
                format!("{} between their faces", least.both()),
                format!("at least {}", FITTING_GAP.both()),
            )
            .remedy("use fewer fittings, smaller ones, or a longer span"),
        );
    }
}

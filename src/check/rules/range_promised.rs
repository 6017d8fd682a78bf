use crate::check::limits::PROMISE_PLAY;
use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, RuleId, Span};
use crate::job::{Feature, Run};

pub(super) const RULE: Rule = Rule {
    id: RuleId::new("range-promised"),
    check,
    what: "The holes of a strap reach from the shortest to the longest that it is to serve.",
    why: "A row that ends too early leaves a strap that does not reach its longest length.",
    breaks: r#"template = "bag-strap"
adjustment.to-by = "800 mm""#,
    keeps: r#"template = "bag-strap"
bag.longest = "1.2 m""#,
    source: "Computed from the layout.",
};

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let Some(serves) = &input.job.serves else { return };
    let Some((least, most)) = input.layout.serves(input.job, input.fit) else { return };
    let feature = input.job.feature(serves.holes.value);
    let what = serves.what.value.trim();
    // Swapped, the row runs backwards, which `range-reversed` tells.
    if let (Some(least), Some(most)) = (&serves.least, &serves.most)
        && least.value > most.value
    {
        return;
    }
    let promises = [
        ("shortest", &serves.least, least, least - PROMISE_PLAY),
        ("longest", &serves.most, most, most + PROMISE_PLAY),
    ];
    for (word, promise, is, bound) in promises {
        let Some(promise) = promise else { continue };
        let falls_short = match word {
            "shortest" => promise.value < bound,
            _ => promise.value > bound,
        };
        if !falls_short {
            continue;
        }
        findings.push(
            Finding::error(
                RULE.id,
                format!("the holes of `{}` do not reach the {word} {what}", feature.name),
            )
            .at(ends_at(feature).or(promise.span.as_ref()).cloned())
            .expected(format!("holes that reach {}", is.both()), promise.value.both())
            .remedy("add holes, or move the row"),
        );
    }
}

/// The line that says where a row ends.
fn ends_at(feature: &Feature) -> Option<&Span> {
    match feature.kind.facts().run? {
        Run::Pitch(given) | Run::AtMost { by: given, .. } | Run::To { by: given } => {
            given.span.as_ref()
        }
        Run::Places(places) => places.last()?.span.as_ref(),
    }
}

use super::prelude::*;
use crate::check::limits::KEEPER_EASE;
use crate::job::{Keeper, PieceId, PieceSpec};

pub(super) const RULE: RuleId = RuleId::new("keeper-size");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for order in &input.job.pieces {
        if let (Form::Keeper(keeper), true) = (&order.form, order.count.value > 0) {
            one(input, order, keeper, findings);
        }
    }
}

fn one(
    input: &CheckInput<'_>,
    order: &PieceSpec,
    keeper: &Keeper,
    findings: &mut Vec<Finding>,
) {
    let name = &order.name;
    let strap = &input.job.strap;
    let mut find = |severity,
                    message: String,
                    at: Option<&Span>,
                    found: String,
                    required: String,
                    remedy: &str| {
        Finding::new(RULE, severity, message)
            .at(at.or(order.span.as_ref()).cloned())
            .expected(found, required)
            .remedy(remedy)
            .to(findings);
    };
    let too_small = |what: &str, given: &Spanned<Length>, least: Length| {
        (
            format!("the keeper `{name}` is too small for its strap"),
            format!("{what} {}", given.value.both()),
            format!("at least {}, the strap's own", least.both()),
        )
    };
    let width = strap.width.value;
    let thickness = input.job.made_up_thickness(PieceId::STRAP);
    if keeper.around.value < width {
        let (message, found, required) = too_small("around", &keeper.around, width);
        let at = keeper.around.span.as_ref();
        let remedy = "leave `around` out: it is the strap's width then";
        find(Severity::Error, message, at, found, required, remedy);
    }
    if let Some(layer) = keeper.layer.as_ref().filter(|l| l.value < thickness) {
        let (message, found, required) = too_small("a layer of", layer, thickness);
        let at = layer.span.as_ref();
        let remedy =
            "leave `layer-thickness` out: it is that of the strap and its lining";
        find(Severity::Error, message, at, found, required, remedy);
    }
    if keeper.layers.value < 2 {
        find(
            Severity::Error,
            format!("the keeper `{name}` is too small for its strap"),
            keeper.layers.span.as_ref(),
            format!("{} layers within", keeper.layers.value),
            "at least 2: the strap and its end".to_owned(),
            "count the layers that pass through: 3 over a turn-back",
        );
    }
    let ease = keeper.ease.value;
    if ease < Length::ZERO || ease > KEEPER_EASE {
        let tight = ease < Length::ZERO;
        let severity = Severity::error_if(tight);
        let word = if tight { "does not let the strap through" } else { "hangs loose" };
        find(
            severity,
            format!("the keeper `{name}` {word}"),
            keeper.ease.span.as_ref(),
            format!("an ease of {}", ease.both()),
            format!("0 mm to {}", KEEPER_EASE.both()),
            "1 to 3 mm of ease is usual",
        );
    }
    let lap = keeper.lap.value;
    if lap < Length::ZERO || lap > width {
        let short = lap < Length::ZERO;
        let severity = Severity::error_if(short);
        let word = if short { "do not meet" } else { "lap too far" };
        find(
            severity,
            format!("the ends of the keeper `{name}` {word}"),
            keeper.lap.span.as_ref(),
            format!("a lap of {}", lap.both()),
            format!("0 mm, where they butt, to {}, the strap's width", width.both()),
            "give lap what one end lies over the other",
        );
    }
    let own = &order.leather.width;
    if own.value > width {
        find(
            Severity::Warning,
            format!("the keeper `{name}` is wider than its strap"),
            own.span.as_ref(),
            format!("a strip of {}", own.value.both()),
            format!("at most {}", width.both()),
            "look at the unit of the keeper's width",
        );
    }
}

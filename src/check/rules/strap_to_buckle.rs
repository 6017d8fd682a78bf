use crate::check::limits::BUCKLE_PLAY;
use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, RuleId, Span};
use crate::geom::Length;
use crate::layout::{Mark, MarkKind, Piece};
use std::collections::BTreeSet;

pub(super) const RULE: Rule = Rule {
    id: RuleId::new("strap-to-buckle"),
    check,
    what: "The strap passes the buckle, and does not wander in it.",
    why: "A strap wider than the buckle's inside does not go through; one much narrower \
          slides from side to side and wears its holes.",
    breaks: r#"strap.width = "41 mm""#,
    keeps: r#"strap.width = "38 mm""#,
    source: "Common practice, no source.",
};

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let Some(buckle) = input.job.worn.as_ref().and_then(|w| w.buckle.as_ref()) else {
        return;
    };
    let inside = buckle.inside.value;
    let strap = &input.job.strap.width;
    let mut widths = vec![(strap.value, strap.span.clone())];
    // Where a piece is not as wide as the strap, what counts is its width in the buckle.
    widths.extend(input.one_of_each().flat_map(|piece| in_buckle(input, piece)));
    let mut said = BTreeSet::new();
    for (width, span) in widths {
        if !said.insert(width) {
            continue;
        }
        if width > inside {
            findings.push(
                Finding::error(RULE.id, "the strap is wider than the buckle")
                    .at(span)
                    .expected(
                        format!("a strap of {}", width.both()),
                        format!("at most {}, the buckle's inside", inside.both()),
                    )
                    .remedy("take a narrower strap or a wider buckle (buckle.inside)"),
            );
        } else if inside - width > BUCKLE_PLAY {
            findings.push(
                Finding::warning(RULE.id, "the strap is loose in the buckle")
                    .at(span)
                    .expected(
                        format!("{} of play", (inside - width).both()),
                        format!("at most {}", BUCKLE_PLAY.both()),
                    )
                    .remedy("take a wider strap or a narrower buckle (buckle.inside)"),
            );
        }
    }
}

/// How wide a piece is where its size holes and the slot for the tongue lie, and the line
/// that says so.
fn in_buckle(input: &CheckInput<'_>, piece: &Piece) -> Vec<(Length, Option<Span>)> {
    let is_there = |m: &&Mark| {
        let facts = input.job.feature(m.feature).kind.facts();
        facts.size_holes.is_some() || facts.fold.is_some() && m.kind == MarkKind::Slot
    };
    let leather = input.job.leather(piece.id);
    let at = |m: &Mark| {
        let width = piece.width_at(m.at.x);
        let change = piece.width_changes.iter().find(|s| s.after == width);
        (width, change.map_or(&leather.width.span, |s| &s.span).clone())
    };
    piece.marks.iter().filter(is_there).map(at).collect()
}

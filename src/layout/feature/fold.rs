//! An end that folds back round a buckle, a ring or a bar, or about itself.

use super::{End, Outcome, PlaceContext, Placed, nth, offsets, tip};
use crate::diagnostic::Span;
use crate::geom::{Bend, Extent, Length, Point};
use crate::job::{ClosesRound, Fasteners, Fold, Side};
use crate::layout::mark::{FoldLine, MarkKind, Shape};
use crate::layout::role::MarkRole;

/// The bend lies at `from` + `by`, or at x = `by` where nothing is said, and the cut end
/// `length` beyond it. Fasteners are punched in both layers, which mirror about the bend, since
/// layers above and below the bar do. Holes that were measured on a blank lie where they were
/// measured, each by itself.
///
/// Datums: `bend`, `end` (the cut end), `end-over` (where the cut end lies once it is folded),
/// `last-fastener`; of all but a turn-back `bar` (half the bend's take-up inward of it:
/// distances along the strap count from here to the ring's or bar's centre).
pub(super) fn place(f: &Fold, context: &PlaceContext<'_>) -> Outcome {
    let middle = match &f.from {
        Some(from) => context.get(from)? + f.by.value,
        None => f.by.value,
    };
    // Outward is away from the strap.
    let out = if f.side == Side::Start { -1 } else { 1 };
    let folded = middle + f.length.value * out;
    let at = |x| Point::new(x, Length::ZERO);
    let mark = |kind, shape, x, role, span| context.mark(kind, shape, at(x), role, span);
    let mut datums = vec![
        ("bend", middle),
        ("end", folded),
        ("end-over", middle - f.length.value * out),
        ("last-fastener", middle - last_fastener(f) * out),
    ];
    let piece = context.piece;
    let span = f.length.span.as_ref();
    let (bend, bend_span) = match &f.round {
        ClosesRound::Buckle => (context.fit.and_then(|fit| fit.bend), None),
        ClosesRound::Bar(bar) => {
            let thickness = context.job.made_up_thickness(piece.id);
            let bend = Bend::new(bar.value, thickness, piece.leather.k.value);
            datums.push(("bar", middle - bend.take_up / 2 * out));
            (Some(bend), span)
        }
    };
    let mut marks = vec![
        mark(MarkKind::Bend, Shape::Across, middle, MarkRole::Bend, bend_span),
        mark(MarkKind::End, Shape::Across, folded, MarkRole::End, span),
    ];
    if f.slot_length.value > Length::ZERO {
        let shape =
            Shape::Slot { length: f.slot_length.value, width: f.slot_width.value };
        let span = f.slot_length.span.as_ref();
        marks.push(mark(MarkKind::Slot, shape, middle, MarkRole::Slot, span));
    }
    let shape = Shape::Round { diameter: f.fastener_diameter.value };
    for (x, i, span) in posts(f) {
        for y in offsets(&f.rows) {
            let role = MarkRole::Fastener { n: nth(i) };
            let at = Point::new(middle + x, y);
            marks.push(context.mark(MarkKind::Fastener, shape, at, role, span));
        }
    }
    // The square end of a turn-back; the long edges are the strip's own.
    let square = Extent { from: folded, to: folded + Length::from_mm(1) };
    let is_there = context.feature.on_blank && f.round == ClosesRound::Buckle;
    let on_blank = is_there.then_some(square);
    let curve = tip::at_side(f.shape, f.side, folded, context.width_at(f.side));
    let made = Some(End { x: folded, curve });
    let (start, end) = if f.side == Side::Start { (made, None) } else { (None, made) };
    let feature = context.feature.id;
    let fold = bend.map(|bend| FoldLine { feature, at: middle, end: folded, bend });
    Ok(Placed { marks, datums, on_blank, start, end, fold, ..Placed::default() })
}

/// Where the posts of the fasteners go through, from the bend, each with the index of its
/// fastener and the line that says so.
fn posts(f: &Fold) -> Vec<(Length, i64, Option<&Span>)> {
    let both = |x: Length, i, span| [(-x, i, span), (x, i, span)];
    match &f.fasteners {
        Fasteners::Line { count, first, pitch } => (0..i64::from(count.value))
            .flat_map(|i| both(first.value + pitch.value * i, i, first.span.as_ref()))
            .collect(),
        Fasteners::Pair { holes: Some(read), .. } => {
            let flat = read.iter().zip(0..);
            flat.map(|(given, i)| (given.value - f.length.value, i, given.span.as_ref()))
                .collect()
        }
        Fasteners::Pair { at, holes: None } => {
            let two = at.iter().zip(0..);
            two.flat_map(|(given, i)| both(given.value, i, given.span.as_ref())).collect()
        }
    }
}

/// The way from the bend to the last fastener; none where there is no fastener.
fn last_fastener(f: &Fold) -> Length {
    match &f.fasteners {
        Fasteners::Line { .. } => f.fasteners().last().map_or(Length::ZERO, |(x, _)| *x),
        Fasteners::Pair { at: [one, other], .. } => one.value.max(other.value),
    }
}

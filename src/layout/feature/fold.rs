//! An end that folds back round a ring or bar, or about itself.

use super::{End, Outcome, PlaceContext, Placed, nth, offsets, tip};
use crate::geom::{Bend, Length, Point};
use crate::job::{Fold, Side};
use crate::layout::mark::{FoldLine, MarkKind, Shape};
use crate::layout::role::MarkRole;

/// The bend lies at `from` + `by`, or at x = `by` where nothing is said, and the cut end
/// `length` beyond it. Fasteners are punched in both layers, which mirror about the bend.
///
/// Datums: `bend`, `bar` (half the bend's take-up inward of it: distances along the strap
/// count from here to the ring's or bar's centre), `end` (the cut end), `end-over` (where
/// the cut end lies once it is folded), `last-fastener`.
pub(super) fn place(f: &Fold, context: &PlaceContext<'_>) -> Outcome {
    let middle = match &f.from {
        Some(from) => context.past(from, &f.by)?,
        None => f.by.value,
    };
    // Outward is away from the strap.
    let out = if f.side == Side::Start { -1 } else { 1 };
    let piece = context.piece;
    let thickness = context.job.made_up_thickness(piece.id);
    let bend = Bend::new(f.bar.value, thickness, piece.leather.k.value);
    let folded = middle + f.length.value * out;
    let at = |x| Point::new(x, Length::ZERO);
    let mark = |kind, shape, x, role, span| context.mark(kind, shape, at(x), role, span);
    let mut marks = vec![mark(
        MarkKind::Bend,
        Shape::Across,
        middle,
        MarkRole::Bend,
        f.length.span.as_ref(),
    )];
    let span = f.length.span.as_ref();
    marks.push(mark(MarkKind::End, Shape::Across, folded, MarkRole::End, span));
    if f.slot_length.value > Length::ZERO {
        let shape =
            Shape::Slot { length: f.slot_length.value, width: f.slot_width.value };
        let span = f.slot_length.span.as_ref();
        marks.push(mark(MarkKind::Slot, shape, middle, MarkRole::Slot, span));
    }
    let shape = Shape::Round { diameter: f.fastener_diameter.value };
    let mut last = Length::ZERO;
    for i in 0..i64::from(f.fasteners.value) {
        last = f.first_fastener.value + f.fastener_pitch.value * i;
        let span = f.first_fastener.span.as_ref();
        for x in [middle - last, middle + last] {
            for y in offsets(&f.rows) {
                let (at, role) = (Point::new(x, y), MarkRole::Fastener { n: nth(i) });
                let kind = MarkKind::Fastener;
                marks.push(context.mark(kind, shape, at, role, span));
            }
        }
    }
    let datums = vec![
        ("bend", middle),
        ("bar", middle - bend.take_up / 2 * out),
        ("end", folded),
        ("end-over", middle - f.length.value * out),
        ("last-fastener", middle - last * out),
    ];
    let curve = tip::at_side(f.shape, f.side, folded, context.width_at(f.side));
    let made = Some(End { x: folded, curve });
    let (start, end) = if f.side == Side::Start { (made, None) } else { (None, made) };
    let fold =
        Some(FoldLine { feature: context.feature.id, at: middle, end: folded, bend });
    Ok(Placed { marks, datums, start, end, fold, ..Placed::default() })
}

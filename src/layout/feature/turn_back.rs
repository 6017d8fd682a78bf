//! The end that folds back round the buckle's bar.

use super::{End, PlaceContext, Placed, tip};
use crate::geom::{Extent, Length, Point};
use crate::job::{Side, TipShape, TurnBack};
use crate::layout::mark::{FoldLine, MarkKind, Shape};
use crate::layout::role::MarkRole;

/// The bend lies at x = 0 and the cut end at -length. What goes through both layers is
/// punched in each, mirrored about the bend, since layers above and below the bar mirror
/// about x = 0. Holes that were measured on a blank lie where they were measured, each by
/// itself.
///
/// Datums: `bend` (0), `end` (the cut end), `end-over` (where the cut end lies on the
/// strap once it is folded), `last-fastener`.
pub(super) fn place(f: &TurnBack, context: &PlaceContext<'_>) -> Placed {
    let at = |x| Point::new(x, Length::ZERO);
    let mark = |kind, shape, x, role, span| context.mark(kind, shape, at(x), role, span);
    let length = f.length.value;
    let mut marks = vec![
        mark(
            MarkKind::End,
            Shape::Across,
            -length,
            MarkRole::End,
            f.length.span.as_ref(),
        ),
        mark(MarkKind::Bend, Shape::Across, Length::ZERO, MarkRole::Bend, None),
    ];
    if f.slot_length.value > Length::ZERO {
        let shape =
            Shape::Slot { length: f.slot_length.value, width: f.slot_width.value };
        let span = f.slot_length.span.as_ref();
        marks.push(mark(MarkKind::Slot, shape, Length::ZERO, MarkRole::Slot, span));
    }
    let shape = Shape::Round { diameter: f.fastener_diameter.value };
    let paired = [(&f.first_fastener, 1), (&f.second_fastener, 2)]
        .map(|(given, n)| [(-given.value, given, n), (given.value, given, n)]);
    let holes: Vec<_> = match &f.holes {
        Some(read) => read
            .iter()
            .zip(1..)
            .map(|(given, n)| (given.value - length, given, n))
            .collect(),
        None => paired.into_iter().flatten().collect(),
    };
    for (x, given, n) in holes {
        let (kind, role) = (MarkKind::Fastener, MarkRole::Fastener { n });
        marks.push(mark(kind, shape, x, role, given.span.as_ref()));
    }
    let datums = vec![
        ("bend", Length::ZERO),
        ("end", -length),
        ("end-over", length),
        ("last-fastener", f.first_fastener.value.max(f.second_fastener.value)),
    ];
    // Its square end; the long edges are the strip's own.
    let square = Extent { from: -length, to: Length::from_mm(1) - length };
    let on_blank = context.feature.on_blank.then_some(square);
    let width = context.width_at(Side::Start);
    let curve = tip::at_side(TipShape::Straight, Side::Start, -length, width);
    let start = Some(End { x: -length, curve });
    let bend = context.fit.and_then(|fit| fit.bend);
    let fold = bend.map(|bend| FoldLine {
        feature: context.feature.id,
        at: Length::ZERO,
        end: -length,
        bend,
    });
    Placed { marks, datums, on_blank, start, fold, ..Placed::default() }
}

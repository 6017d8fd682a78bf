//! Snaps: a cap, and a place for the post for each size.

use super::{Outcome, PlaceContext, Placed, nth, offsets};
use crate::geom::Point;
use crate::job::Snap;
use crate::layout::mark::{MarkKind, Shape};
use crate::layout::role::MarkRole;

/// The cap lies at `from` + `by`, the first post at `to` + `to-by`, the others a pitch
/// apart.
///
/// Datums: `cap`, `first`, `last` (the posts).
pub(super) fn place(f: &Snap, context: &PlaceContext<'_>) -> Outcome {
    let [cap, first] = context.ends(&f.at)?;
    let n = i64::from(f.posts.value);
    let mut marks = Vec::new();
    for y in offsets(&f.rows) {
        let mut add = |x, diameter, role, span| {
            let shape = Shape::Round { diameter };
            let at = Point::new(x, y);
            marks.push(context.mark(MarkKind::Snap, shape, at, role, span));
        };
        let (given, post) = (&f.cap_diameter, &f.post_diameter);
        add(cap, given.value, MarkRole::SnapCap, given.span.as_ref());
        for i in 0..n {
            let role = match n {
                1 => MarkRole::SnapPost,
                _ => MarkRole::NumberedPost { n: nth(i) },
            };
            add(first + f.pitch.value * i, post.value, role, post.span.as_ref());
        }
    }
    let last = first + f.pitch.value * (n - 1).max(0);
    let datums = vec![("cap", cap), ("first", first), ("last", last)];
    Ok(Placed { marks, datums, ..Placed::default() })
}

//! The room that snaps and eyelets take on the leather, beyond their holes.

use super::CheckInput;
use super::limits::{EYELET_FLANGE, SNAP_BACK, SNAP_FACE};
use super::measure::{breadth, web};
use super::near::{Near, room};
use crate::diagnostic::{Finding, RuleId};
use crate::geom::Length;
use crate::layout::{Mark, MarkKind, MarkRole, Piece};
use std::collections::BTreeSet;

/// Two openings whose hardware takes each other's room.
pub(super) struct Crowd<'a> {
    /// The two, one of them of the kind that was asked for.
    pub(super) marks: [&'a Mark; 2],
    /// Clear leather between their rims.
    pub(super) clear: Length,
    /// Clear leather that what covers them needs.
    pub(super) needed: Length,
}

/// The finding about two openings, of which `what` are too large.
pub(super) fn too_near(
    rule: RuleId,
    input: &CheckInput<'_>,
    what: &str,
    crowd: &Crowd<'_>,
) -> Finding {
    let [a, b] = crowd.marks;
    let names = crowd.marks.map(|m| &input.job.feature(m.feature).name);
    let message = if a.feature == b.feature {
        format!("the {what} of `{}` touch each other", names[0])
    } else {
        format!("the {what} of `{}` and `{}` touch each other", names[0], names[1])
    };
    // The line that sets the two apart, or that of the second.
    let facts = input.job.feature(b.feature).kind.facts();
    let apart = if a.at.y == b.at.y {
        facts.spacing
    } else {
        facts.rows.and_then(|rows| rows.apart.span.as_ref())
    };
    let span = apart.filter(|_| a.feature == b.feature).or(b.span.as_ref());
    Finding::error(rule, message)
        .at(span.cloned())
        .expected(
            format!("{} from rim to rim of the holes", crowd.clear.both()),
            format!("at least {}, for what covers them", crowd.needed.both()),
        )
        .remedy("set them further apart or use smaller ones")
}

/// How wide the face of a snap or the flange of an eyelet is, as the job says or as is usual;
/// of another opening its own width.
pub(super) fn face(input: &CheckInput<'_>, mark: &Mark) -> Length {
    let set = input.job.feature(mark.feature).kind.facts().sets;
    let given = set.and_then(|id| input.job.hardware(id).kind.face());
    let times = match mark.kind {
        MarkKind::Snap => SNAP_FACE,
        MarkKind::Eyelet => EYELET_FLANGE,
        _ => return breadth(mark),
    };
    given.unwrap_or_else(|| breadth(mark) * times)
}

/// How wide what lies on the leather round a mark is: the post of a snap has a smaller back than
/// its cap has a face.
fn cover(input: &CheckInput<'_>, mark: &Mark) -> Length {
    let face = face(input, mark);
    let is_post = mark.kind == MarkKind::Snap && mark.role != MarkRole::SnapCap;
    if is_post { face.min(breadth(mark) * SNAP_BACK) } else { face }
}

/// The openings of a piece, one of them of `kind`, whose hardware touches or covers the other: the
/// first two of each two features. Snaps are asked for before eyelets, stitches are not counted.
pub(super) fn crowded<'a>(
    input: &CheckInput<'_>,
    piece: &'a Piece,
    kind: MarkKind,
) -> Vec<Crowd<'a>> {
    let counts = |m: &&Mark| {
        m.is_opening() && !matches!(m.kind, MarkKind::Stitch | MarkKind::Target)
    };
    let all: Vec<&Mark> = piece.marks.iter().filter(counts).collect();
    if !all.iter().any(|m| m.kind == kind) {
        return Vec::new();
    }
    let beyond = |mark: &Mark| (cover(input, mark) - breadth(mark)) / 2;
    let spaces: Vec<_> = all.iter().map(|m| room(m, beyond(m))).collect();
    let near = Near::new(spaces.iter().map(|space| ((), *space)));
    let mut told = BTreeSet::new();
    let mut found = Vec::new();
    for (i, a) in all.iter().enumerate() {
        for n in near.after(i, spaces[i]) {
            let b = all[n];
            let kinds = [a.kind, b.kind];
            let is_others = kind == MarkKind::Eyelet && kinds.contains(&MarkKind::Snap);
            let (clear, needed) = (web(a, b), beyond(a) + beyond(b));
            if kinds.contains(&kind)
                && !is_others
                && clear <= needed
                && told.insert((a.feature.min(b.feature), a.feature.max(b.feature)))
            {
                found.push(Crowd { marks: [a, b], clear, needed });
            }
        }
    }
    found
}

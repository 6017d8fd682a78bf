use crate::check::limits::{SNAP_BACK, SNAP_FACE};
use crate::check::near::{Near, Room};
use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, RuleId, Span};
use crate::geom::distance::depth;
use crate::geom::{Extent, Length};
use crate::job::HardwareKind;
use crate::layout::{Mark, MarkKind, MarkRole};
use crate::words::Wording;

pub(super) const RULE: Rule = Rule {
    id: RuleId::new("snap-room"),
    check,
    what: "Both halves of a snap have room for their faces, three times as wide as their \
           holes unless the snap has a face, to the ends and edges of the leather; and caps \
           and the backs of posts, twice as wide as theirs, to each other.",
    why: "A cap that stands over the edge does not close flat and pulls out. Where both \
          halves keep from their ends, the lap of the closed strap covers the snap.",
    breaks: r#"template = "cuff"
cuff.outer = "6 mm""#,
    keeps: r#"template = "cuff"
cuff.outer = "12 mm""#,
    source: "Common practice, no source: faces of 12.5 mm stand on holes of 4 to 5 mm.",
};

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for piece in input.one_of_each() {
        let outline = piece.outline.segments();
        for feature in &input.job.features {
            let Some(spacing) = feature.kind.facts().snap_spacing else { continue };
            let own: Vec<&Mark> =
                piece.marks_of(feature.id).filter(|m| m.kind == MarkKind::Snap).collect();
            let set = feature.kind.facts().sets.map(|id| &input.job.hardware(id).kind);
            let given = set.and_then(HardwareKind::face);
            let face = |mark: &Mark| given.unwrap_or_else(|| face(mark));
            let edges = own.iter().map(|m| (depth(&outline, m.at), *m));
            let short = |(reach, mark): &(Length, &Mark)| *reach - face(mark) / 2;
            let worst = edges.min_by_key(short);
            if let Some((reach, mark)) = worst.filter(|w| short(w) < Length::ZERO) {
                findings.push(
                    Finding::error(
                        RULE.id,
                        format!(
                            "the {} of `{}` stands over the edge",
                            input.layout.label(mark, Wording::default()),
                            feature.name
                        ),
                    )
                    .at(mark.span.clone())
                    .expected(
                        format!("its middle {} from the edge", reach.both()),
                        format!("at least {}, half its face", (face(mark) / 2).both()),
                    )
                    .remedy("move it inward, use a smaller snap or leave more beyond it"),
                );
            }
            if let Some((_, apart, needed)) = touching(&own, |_, _| true) {
                let [rows, posts] = spacing.map(|given| given.span.as_ref());
                let span = rows.or(posts).or(feature.span.as_ref());
                let message = format!("the snaps of `{}` touch each other", feature.name);
                findings.push(too_near(message, span, apart, needed));
            }
        }
        let all = piece.marks.iter().filter(|m| m.kind == MarkKind::Snap);
        let all: Vec<&Mark> = all.collect();
        let others = |a: &Mark, b: &Mark| a.feature != b.feature;
        if let Some(([a, b], apart, needed)) = touching(&all, others) {
            let message = format!(
                "the snaps of `{}` and `{}` touch each other",
                input.layout.feature(a),
                input.layout.feature(b)
            );
            findings.push(too_near(message, b.span.as_ref(), apart, needed));
        }
    }
}

/// The first two of some snaps whose faces touch, how far their middles are apart and how far
/// they must be, among those that `is_meant` takes.
fn touching<'a>(
    snaps: &[&'a Mark],
    is_meant: impl Fn(&Mark, &Mark) -> bool,
) -> Option<([&'a Mark; 2], Length, Length)> {
    let near = Near::new(snaps.iter().map(|m| ((), disc(m))));
    snaps.iter().enumerate().find_map(|(i, a)| {
        let later = near.after(i, disc(a)).into_iter().map(|n| snaps[n]);
        later
            .filter(|b| is_meant(a, b))
            .map(|b| ([*a, b], (a.at - b.at).norm(), (back(a) + back(b)) / 2))
            .find(|(_, apart, needed)| apart < needed)
    })
}

fn too_near(
    message: String,
    span: Option<&Span>,
    apart: Length,
    needed: Length,
) -> Finding {
    Finding::error(RULE.id, message)
        .at(span.cloned())
        .expected(
            format!("{} from middle to middle", apart.both()),
            format!("at least {}, from rim to rim", needed.both()),
        )
        .remedy("set them further apart or use smaller ones")
}

/// How wide the half is that covers a hole.
fn face(mark: &Mark) -> Length {
    mark.y_extent().length() * SNAP_FACE
}

/// How wide it is at least beside another half.
fn back(mark: &Mark) -> Length {
    let times = if mark.role == MarkRole::SnapCap { SNAP_FACE } else { SNAP_BACK };
    mark.y_extent().length() * times
}

/// The room that a half takes beside others.
fn disc(mark: &Mark) -> Room {
    let half = back(mark) / 2;
    [mark.at.x, mark.at.y].map(|at| Extent { from: at, to: at }.grown(half))
}

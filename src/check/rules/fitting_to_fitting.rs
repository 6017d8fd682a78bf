use super::prelude::*;
use crate::check::limits::FITTING_GAP;
use crate::geom::Strap;
use std::collections::BTreeMap;

pub(super) const RULE: RuleId = RuleId::new("fitting-to-fitting");

/// A fitting where it sits: its middle, and the disc that its face takes.
struct Seat {
    feature: FeatureId,
    at: Point<Strap>,
    face: Length,
}

/// No hole for hardware is wider than twice this.
const LARGEST_RADIUS: Length = Length::from_mm(10);

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for piece in input.one_of_each() {
        let seats = seats(input, piece);
        for feature in &input.job.features {
            let Some(spread) = feature.kind.facts().fittings else { continue };
            let own = seats.iter().enumerate().filter(|(_, s)| s.feature == feature.id);
            let found = |message: String| {
                Finding::error(RULE, message).at(spread.count.span.clone())
            };
            let least =
                own.clone().filter_map(|(i, seat)| least_gap(&seats, i, seat)).min();
            if let Some(least) = least.filter(|least| *least < FITTING_GAP) {
                findings.push(
                    found(format!("the fittings of `{}` touch each other", feature.name))
                        .expected(
                            format!("{} between their faces", least.both()),
                            format!("at least {}", FITTING_GAP.both()),
                        )
                        .remedy("use fewer fittings, smaller ones, or a longer span"),
                );
            }
            let covered = own.filter_map(|(_, seat)| {
                let near = Extent::at(seat.at.x).grown(seat.face / 2 + LARGEST_RADIUS);
                let holes = piece.marks_between(near).iter();
                holes.into_iter().find(|m| {
                    let is_other =
                        m.feature != seat.feature && m.kind != MarkKind::Fitting;
                    is_other
                        && m.is_punched()
                        && m.kind != MarkKind::Stitch
                        && (m.at - seat.at).norm() < (seat.face + breadth(m)) / 2
                })
            });
            if let Some(hole) = covered.into_iter().next() {
                findings.push(
                    found(format!("a fitting of `{}` covers a hole", feature.name))
                        .expected(
                            format!("a face over {}", input.named(hole)),
                            "no hole of another feature under a face",
                        )
                        .remedy("end the fittings before it, or use smaller ones"),
                );
            }
        }
    }
}

/// The fittings of a piece, by x. Where one has several holes, its middle is theirs.
fn seats(input: &CheckInput<'_>, piece: &Piece) -> Vec<Seat> {
    let mut ends: BTreeMap<(FeatureId, u32), (usize, [Extent; 2])> = BTreeMap::new();
    for mark in &piece.marks {
        let MarkRole::Fitting { n, of } = mark.role else { continue };
        let at = [mark.at.x, mark.at.y].map(Extent::at);
        let (_, end) = ends.entry((mark.feature, n)).or_insert((of, at));
        for (end, at) in end.iter_mut().zip(at) {
            *end = Extent { from: end.from.min(at.from), to: end.to.max(at.to) };
        }
    }
    let seats = ends.into_iter().filter_map(|((feature, _), (of, ends))| {
        let spread = input.job.feature(feature).kind.facts().fittings?;
        let [x, y] = ends.map(|end| end.from + end.length() / 2);
        let face = spread.pattern.get(of)?.face.value;
        Some(Seat { feature, at: Point::new(x, y), face })
    });
    let mut seats: Vec<Seat> = seats.collect();
    seats.sort_by_key(|seat| (seat.at.x, seat.at.y));
    seats
}

/// The least gap between the face of a fitting and those that follow it along the strap.
fn least_gap(seats: &[Seat], i: usize, seat: &Seat) -> Option<Length> {
    let widest = seats.iter().map(|s| s.face).max()?;
    let reach = (seat.face + widest) / 2 + FITTING_GAP;
    let later = seats[i + 1..].iter().take_while(|s| s.at.x - seat.at.x < reach);
    later.map(|s| (s.at - seat.at).norm() - (seat.face + s.face) / 2).min()
}
